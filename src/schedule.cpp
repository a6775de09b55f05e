// SPDX-License-Identifier: MIT
#include "curdwright/schedule.hpp"

#include <algorithm>
#include <array>
#include <initializer_list>

#include "curdwright/safety.hpp"

namespace curdwright {
namespace {

// Handling times: judgement, for one person.
constexpr Duration sorting = minutes(10), changing = minutes(5), draining = minutes(5), skinning = minutes(20), filling_a_jar = minutes(2), straining_a_jar = minutes(4),
                   washing = minutes(6), ladling_a_vessel = minutes(4), warming_the_gel = minutes(20), skimming = minutes(5), making_up = minutes(5), pouring = minutes(5),
                   free_drain = minutes(10), filling_a_mould = minutes(2), chilling_the_milk = minutes(30), unmoulding_a_block = minutes(2);
/// Above this the milk is stirred all the time.
constexpr Temperature stirred_from = celsius(65);

Duration blending_time(const Job& j) { return (j.blend.time + filling_a_jar) * j.blend.jarfuls; }
Duration straining_time(const Job& j) { return straining_a_jar * j.blend.jarfuls + washing * static_cast<double>(j.strain.wash_count); }

/// Of the heating of one pot, the part below a level.
Duration until(const TemperatureHistory& h, Temperature level) {
  Duration sum;
  for (const HistoryPiece& p : h.pieces()) {
    if (p.start >= level) break;
    const Duration passes = p.passes(level);
    if (passes.si() >= 0) return sum + passes;
    sum += p.length;
  }
  return sum;
}

/// Times at which so much of something is taken.
class Bookings {
 public:
  explicit Bookings(int capacity) : capacity_(capacity) {}
  void take(Duration from, Duration to, int amount) { taken_.push_back({from.si(), to.si(), amount}); }
  /// Earliest end of what stands in the way of `amount` more from `from` to `to`; nothing when it is free.
  [[nodiscard]] std::optional<double> blocked_until(double from, double to, int amount) const {
    // What is taken only grows where something begins, so those moments are enough.
    if (const auto end = full_at(from, amount)) return end;
    for (const Taken& t : taken_)
      if (t.from > from && t.from < to - hair)
        if (const auto end = full_at(t.from, amount)) return end;
    return std::nullopt;
  }

 private:
  [[nodiscard]] std::optional<double> full_at(double moment, int amount) const {
    int sum = amount;
    double first_end = 1e300;
    for (const Taken& t : taken_)
      if (t.from <= moment + hair && t.to > moment + hair) sum += t.amount, first_end = std::min(first_end, t.to);
    return sum > capacity_ ? std::optional(first_end) : std::nullopt;
  }
  struct Taken {
    double from, to;
    int amount;
  };
  static constexpr double hair = 1e-6;  // what ends and what begins at the same second do not meet
  int capacity_;
  std::vector<Taken> taken_;
};

/// Places chains of operations that follow each other without a pause.
class Planner {
 public:
  Planner(Timeline& out, const Kitchen& k) : out_(out), hands_(1), blender_(1), hob_(1), moulds_(k.moulds), pots_(static_cast<std::size_t>(out.pots_at_once), Bookings(1)) {}

  /// \returns index of the last operation placed
  std::size_t place(std::vector<Operation> chain, std::vector<std::size_t> after) {
    Duration ready;
    for (std::size_t i : after) ready = std::max(ready, out_.operations[i].end());
    Duration start = ready;
    while (const auto later = conflict(chain, start)) start = seconds(*later);
    for (Operation& o : chain) {
      o.start = start;
      o.after = after;
      start += o.length;
      take(o);
      out_.operations.push_back(std::move(o));
      after = {out_.operations.size() - 1};
    }
    return out_.operations.size() - 1;
  }
  /// The pot that is free the soonest.
  [[nodiscard]] int pot_for(const std::vector<Operation>& chain, Duration ready) const {
    int best = 0;
    double soonest = 1e300;
    for (int p = 0; p < out_.pots_at_once; ++p) {
      std::vector<Operation> in_it = chain;
      for (Operation& o : in_it) o.pot = p;
      Duration start = ready;
      while (const auto later = conflict(in_it, start)) start = seconds(*later);
      if (start.si() < soonest - 1e-6) soonest = start.si(), best = p;
    }
    return best;
  }
  /// A pot that still holds curd is not free.
  void keep_pot(int pot, Duration from, Duration to) { pots_[static_cast<std::size_t>(pot)].take(from, to, 1); }

 private:
  [[nodiscard]] std::optional<double> conflict(const std::vector<Operation>& chain, Duration start) const {
    double from = start.si();
    for (const Operation& o : chain) {
      const double to = from + o.length.si();
      const auto blocked = [&](bool used, const Bookings& c, int amount) { return used ? c.blocked_until(from, to, amount) : std::nullopt; };
      for (const auto& b : {blocked(o.hands, hands_, 1), blocked(o.blender, blender_, 1), blocked(o.hob, hob_, 1), blocked(o.moulds > 0, moulds_, o.moulds),
                            o.pot >= 0 ? pots_[static_cast<std::size_t>(o.pot)].blocked_until(from, to, 1) : std::nullopt})
        if (b) return start.si() + (*b - from);
      from = to;
    }
    return std::nullopt;
  }
  void take(const Operation& o) {
    if (o.hands) hands_.take(o.start, o.end(), 1);
    if (o.blender) blender_.take(o.start, o.end(), 1);
    if (o.hob) hob_.take(o.start, o.end(), 1);
    if (o.moulds > 0) moulds_.take(o.start, o.end(), o.moulds);
    if (o.pot >= 0) pots_[static_cast<std::size_t>(o.pot)].take(o.start, o.end(), 1);
  }

  Timeline& out_;
  Bookings hands_, blender_, hob_, moulds_;
  std::vector<Bookings> pots_;
};

Operation work(Step step, std::string_view what, Duration length, int load = 0) {
  Operation o;
  o.step = step, o.what = what, o.length = length, o.load = load, o.hands = true;
  return o;
}
Operation waiting(Step step, std::string_view what, Duration length, int load = 0) {
  Operation o = work(step, what, length, load);
  o.hands = false;
  return o;
}

std::size_t place_soak(Planner& p, const Job& j) {
  std::vector<Operation> chain = {work(Step::sort_and_soak, "sort and rinse", sorting)};
  const int stretches = j.soak.changes + 1;
  const Duration each = std::max(seconds(0), j.soak.time * (1.0 / stretches) - changing * (j.soak.changes > 0));
  for (int i = 0; i < stretches; ++i) {
    if (i > 0) chain.push_back(work(Step::sort_and_soak, "change the water", changing));
    chain.push_back(waiting(Step::sort_and_soak, "soak", i + 1 < stretches || j.soak.changes == 0 ? each : each + changing));
  }
  const std::size_t soaked = p.place(std::move(chain), {});
  return p.place({work(Step::drain, "drain", draining + (j.soak.skins_off ? skinning : seconds(0)))}, {soaked});
}

/// Jarful after jarful is blended and strained; then the pulp is washed.
std::size_t place_blending(Planner& p, const Job& j, std::size_t before) {
  std::vector<std::size_t> strained;
  for (int i = 1; i <= j.blend.jarfuls; ++i) {
    Operation blend = work(Step::blend, "blend", j.blend.time + filling_a_jar, i);
    blend.blender = true;
    before = p.place({blend}, {before});
    before = p.place({work(Step::strain, "strain", straining_a_jar, i)}, {before});
  }
  for (std::size_t i = 1; i <= j.strain.wash_count; ++i) {
    Operation wash = work(Step::strain, "wash the pulp", washing + j.strain.washes[i - 1].blend, static_cast<int>(i));
    wash.blender = j.strain.washes[i - 1].blend.si() > 0;
    before = p.place({wash}, {before});
  }
  return before;
}

std::size_t place_starch(Planner& p, const StarchSettings& s, std::size_t before) {
  for (int i = 1; s.settles() && i <= s.times; ++i) {
    before = p.place({waiting(Step::settle, "settle", s.time, s.times > 1 ? i : 0)}, {before});
    before = p.place({work(Step::settle, "ladle off", ladling_a_vessel * s.vessels, s.times > 1 ? i : 0)}, {before});
  }
  if (s.strains_gel()) before = p.place({work(Step::settle, "warm and strain the gel", warming_the_gel)}, {before});
  return before;
}

/// One pot from the hob to set curd, without a pause.
std::vector<Operation> cook_and_set(const Batch& b, int load) {
  const Cooked& c = b.plan.cooked;
  const CoagulateSettings& s = b.setup.job.coagulate;
  const Duration quiet = std::min(until(c.history, stirred_from), c.heat_up), hold = b.setup.job.cook.hold, skim = std::min(skimming, hold);
  std::vector<Operation> chain = {waiting(Step::cook, "heat", quiet, load), work(Step::cook, "heat and stir", c.heat_up - quiet, load), work(Step::cook, "simmer and skim", skim, load),
                                  waiting(Step::cook, "simmer", hold - skim, load)};
  for (Operation& o : chain) o.hob = true;
  if (s.kind == CoagulantKind::lactone) {
    chain.push_back(waiting(Step::set, "chill the milk", chilling_the_milk, load));
    chain.push_back(work(Step::set, "stir in the coagulant, fill", making_up, load));
    Operation bath = waiting(Step::set, "warm and set", b.plan.set.history.length(), load);
    bath.hob = true;
    chain.push_back(bath);
  } else {
    const Duration cooling = std::max(seconds(0), b.plan.set.history.length() - s.wait), mixing = std::min(making_up, cooling);
    chain.push_back(waiting(Step::set, "cool to the pour", cooling - mixing, load));
    chain.push_back(work(Step::set, "stir up the coagulant", mixing, load));
    chain.push_back(work(Step::set, "pour", std::min(pouring, s.wait), load));
    chain.push_back(waiting(Step::set, "set", std::max(seconds(0), s.wait - pouring), load));
  }
  std::erase_if(chain, [](const Operation& o) { return o.length.si() <= 0; });
  return chain;
}

/// The curd of one pot goes into the moulds, as many at a time as there are.
void place_pressing(Planner& p, Timeline& t, const Batch& b, std::size_t set, int blocks) {
  const Duration ready = t.operations[set].end();
  for (int left = blocks; left > 0;) {
    const int now = std::min(left, b.setup.kitchen.moulds);
    std::vector<Operation> chain = {work(Step::press, "drain and mould", free_drain + filling_a_mould * now, t.fillings), waiting(Step::press, "press", b.setup.job.press.time, t.fillings),
                                    work(Step::chill, "unmould", unmoulding_a_block * now, t.fillings)};
    for (Operation& o : chain) o.moulds = now;
    const std::size_t out = p.place(std::move(chain), {set});
    const Operation& moulding = t.operations[out - 2];
    t.curd_waits = std::max(t.curd_waits, moulding.start - ready);
    t.pressed = std::max(t.pressed, t.operations[out].end());
    if (const int pot = t.operations[set].pot; pot >= 0) p.keep_pot(pot, ready, moulding.end());
    left -= now;
    ++t.fillings;
  }
}

/// Pots of the kitchen that take a load with its foam, as the planned one does.
int usable_pots(const Batch& b) {
  const double load = b.setup.pot.volume.si();
  const auto n = std::count_if(b.setup.kitchen.pots.begin(), b.setup.kitchen.pots.end(), [load](const Pot& p) { return p.volume.si() >= load - 1e-12; });
  return std::clamp(static_cast<int>(n), 1, std::max(1, b.setup.job.cook.pots));
}

/// With so many loads nobody follows a list, and placing each would take long.
constexpr int too_many_loads = 60;

Timeline coarse_timeline(const Batch& b) {
  const Job& j = b.setup.job;
  Timeline t;
  Planner p(t, b.setup.kitchen);
  std::size_t last = place_soak(p, j);
  last = p.place({work(Step::blend, "blend", blending_time(j))}, {last});
  last = p.place({work(Step::strain, "strain", straining_time(j))}, {last});
  last = place_starch(p, j.starch, last);
  Duration one_pot, setting;
  for (const Operation& o : cook_and_set(b, 0)) (o.step == Step::cook ? one_pot : setting) += o.length;
  last = p.place({work(Step::cook, "cook", one_pot * j.cook.pots), waiting(Step::set, "set", setting)}, {last});
  t.fillings = b.press_rounds;
  t.curd_waits = j.press.time * (b.press_rounds - 1);
  last = p.place({work(Step::press, "drain and mould", free_drain + filling_a_mould * b.blocks_to_press), waiting(Step::press, "press", j.press.time * b.press_rounds),
                  work(Step::chill, "unmould", unmoulding_a_block * b.blocks_to_press)},
                 {last});
  t.pressed = t.operations[last].end();
  return t;
}

}  // namespace

Timeline timeline(const Batch& b) {
  const Job& j = b.setup.job;
  if (std::max({j.blend.jarfuls, j.cook.pots, b.press_rounds}) > too_many_loads) return coarse_timeline(b);
  Timeline t;
  t.pots_at_once = usable_pots(b);
  Planner p(t, b.setup.kitchen);
  std::size_t milk = place_soak(p, j);
  milk = place_blending(p, j, milk);
  milk = place_starch(p, j.starch, milk);
  const int pots = j.cook.pots;
  int given = 0;
  for (int load = 1; load <= pots; ++load) {
    std::vector<Operation> chain = cook_and_set(b, pots > 1 ? load : 0);
    const int pot = p.pot_for(chain, t.operations[milk].end());
    for (Operation& o : chain) o.pot = pot;
    const std::size_t set = p.place(std::move(chain), {milk});
    // Blocks are shared out so that the pots together fill as many moulds as the whole.
    const int through = (b.blocks_to_press * load + pots - 1) / pots;
    place_pressing(p, t, b, set, std::max(1, through - given));
    given = through;
  }
  --t.fillings;
  return t;
}

std::string_view key(Step step) {
  constexpr std::array<std::string_view, 9> keys = {"soak", "drain", "blend", "strain", "settle", "cook", "set", "press", "chill"};
  return keys[static_cast<std::size_t>(step)];
}

Duration Timeline::end() const {
  Duration last;
  for (const Operation& o : operations) last = std::max(last, o.end());
  return last;
}

void add_chill(Timeline& t, const Batch& b, const Cooling& c) {
  const Duration in_press = b.setup.job.press.time;
  const std::size_t placed = t.operations.size();
  for (std::size_t i = 0; i < placed; ++i) {
    const Operation& out = t.operations[i];
    if (out.step != Step::chill) continue;
    const Duration cold = c.under_second ? *c.under_second - in_press : seconds(0);
    Operation chill = waiting(Step::chill, "chill", std::max(seconds(0), cold - out.length), out.load);
    chill.start = out.end();
    chill.after = {i};
    if (chill.length.si() > 0) t.operations.push_back(std::move(chill));
  }
}

std::vector<Task> tasks(const Timeline& t) {
  std::vector<Task> all;
  for (int s = 0; s <= static_cast<int>(Step::chill); ++s) {
    Task task{static_cast<Step>(s), {}, {}, {}};
    bool any = false;
    Duration end;
    for (const Operation& o : t.operations) {
      if (o.step != task.step) continue;
      task.start = any ? std::min(task.start, o.start) : o.start;
      end = std::max(end, o.end());
      if (o.hands) task.hands_on += o.length;
      any = true;
    }
    task.length = end - task.start;
    if (any) all.push_back(task);
  }
  return all;
}

Duration raw_milk_standing(const Batch& b) {
  const Job& j = b.setup.job;
  const StarchSettings& s = j.starch;
  Duration standing;
  if (s.settles()) standing += (ladling_a_vessel * s.vessels + (s.surroundings <= celsius(5) ? seconds(0) : s.time)) * s.times;
  if (s.strains_gel()) standing += warming_the_gel;
  return blending_time(j) + straining_time(j) + standing + until(b.plan.cooked.history, celsius(60));
}

double growth_before_boil(const Batch& b) {
  const Plan& p = b.plan;
  const Duration at_hand = blending_time(b.setup.job) + straining_time(b.setup.job);
  const double in_hand = growth_rate_log10_per_h(p.strained.milk.at) * in_hours(at_hand);
  return growth_log10_after_lag(growth_log10_without_lag(p.soaking) + in_hand + growth_log10_without_lag(p.destarched.history) +
                                growth_log10_without_lag(p.cooked.history));
}

}  // namespace curdwright
