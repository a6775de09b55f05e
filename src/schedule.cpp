// SPDX-License-Identifier: MIT
#include "curdwright/schedule.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>

#include "curdwright/properties.hpp"
#include "curdwright/safety.hpp"
#include "planner.hpp"

namespace curdwright {
namespace {

// Handling times: judgement, for one person.
constexpr Duration sorting = minutes(10), changing = minutes(5), draining = minutes(5), skinning = minutes(20), filling_a_jar = minutes(2), straining_a_jar = minutes(4),
                   steeping = minutes(5), ladling_a_vessel = minutes(4), keeping_the_gel = minutes(2), straining_the_gel = minutes(10), boiling_cloths = minutes(6), putting_by = minutes(5), skimming = minutes(5), making_up = minutes(5), pouring = minutes(5),
                   free_drain = minutes(10), filling_a_mould = minutes(2), chilling_the_milk = minutes(30), unmoulding_a_block = minutes(2);
/// Above this the milk is stirred all the time.
constexpr Temperature stirred_from = celsius(65);

Duration blending_time(const Job& j) { return (j.blend.time + filling_a_jar) * j.blend.jarfuls; }

/// A washing: the pulp with its water goes through jar or cloth so much at a time.
Duration washing_time(const Job& j, const Plan& plan, std::size_t wash) {
  const Wash& w = j.strain.washes[wash];
  const bool blended = w.blend.si() > 0;
  return (straining_a_jar + (blended ? w.blend + filling_a_jar : seconds(0))) * wash_jarfuls(j, plan, wash) + (blended ? seconds(0) : steeping);
}

Duration straining_time(const Job& j, const Plan& plan) {
  Duration sum = straining_a_jar * j.blend.jarfuls;
  for (std::size_t i = 0; i < j.strain.wash_count; ++i) sum += washing_time(j, plan, i);
  return sum;
}

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

/// Of the heating of the milk, what is done before the gel is strained off. With several pots it cools again meanwhile.
Duration warmed_for_gel(const Batch& b) {
  const StarchSettings& s = b.setup.job.starch;
  return s.strains_gel() ? until(b.plan.cooked.history, s.gel_at) : seconds(0);
}

/// The gel is warmed pot by pot, kept for a while, and strained off.
Duration gel_time(const Batch& b) { return warmed_for_gel(b) * b.setup.job.cook.pots + keeping_the_gel + straining_the_gel; }

Operation waiting(Work what, Duration length, int load = 0) {
  Operation o;
  o.work = what, o.length = length, o.load = load;
  return o;
}
Operation work(Work what, Duration length, int load = 0) {
  Operation o = waiting(what, length, load);
  o.hands = true;
  return o;
}

std::size_t place_soak(Planner& p, const Job& j) {
  std::vector<Operation> chain = {work(Work::sort, sorting)};
  const int stretches = j.soak.changes + 1;
  const Duration each = j.soak.time * (1.0 / stretches), change = std::min(changing, each);
  for (int i = 1; i <= stretches; ++i) {
    chain.push_back(waiting(Work::soak, i < stretches ? each - change : each, j.soak.changes > 0 ? i : 0));
    if (i < stretches) chain.push_back(work(Work::change_water, change, i));
  }
  const std::size_t soaked = p.place(std::move(chain), {});
  return p.place({work(Work::drain, draining + (j.soak.skins_off ? skinning : seconds(0)))}, {soaked});
}

/// Jarful after jarful is blended and strained; then the pulp is washed.
std::size_t place_blending(Planner& p, const Batch& b, std::size_t before) {
  const Job& j = b.setup.job;
  for (int i = 1; i <= j.blend.jarfuls; ++i) {
    Operation blend = work(Work::blend, j.blend.time + filling_a_jar, i);
    blend.blender = true;
    before = p.place({blend}, {before});
    before = p.place({work(Work::strain, straining_a_jar, i)}, {before});
  }
  for (std::size_t i = 1; i <= j.strain.wash_count; ++i) {
    Operation wash = work(Work::wash_pulp, washing_time(j, b.plan, i - 1), static_cast<int>(i));
    wash.blender = j.strain.washes[i - 1].blend.si() > 0;
    before = p.place({wash}, {before});
  }
  return before;
}

std::size_t place_starch(Planner& p, const Batch& b, std::size_t before) {
  const StarchSettings& s = b.setup.job.starch;
  for (int i = 1; s.settles() && i <= s.times; ++i) {
    before = p.place({waiting(Work::settle, s.time, s.times > 1 ? i : 0)}, {before});
    before = p.place({work(Work::ladle, ladling_a_vessel * s.vessels, s.times > 1 ? i : 0)}, {before});
  }
  if (s.strains_gel()) {
    Operation gel = work(Work::strain_gel, gel_time(b));
    gel.hob = true;
    before = p.place({gel}, {before});
  }
  return before;
}

/// One pot from the hob to set curd, without a pause.
std::vector<Operation> cook_and_set(const Batch& b, int load) {
  const Cooked& c = b.plan.cooked;
  const CoagulateSettings& s = b.setup.job.coagulate;
  const Duration done = b.setup.job.cook.pots == 1 ? warmed_for_gel(b) : seconds(0);
  const Duration quiet = std::min(until(c.history, stirred_from), c.heat_up), hold = b.setup.job.cook.hold, skim = std::min(skimming, hold);
  std::vector<Operation> chain = {waiting(Work::heat, quiet - done, load), work(Work::heat_and_stir, c.heat_up - std::max(quiet, done), load)};
  if (boil_of(b.setup.legumes) != Boil::simmer) {
    chain.push_back(work(Work::boil, hold, load));  // whoever turns away cannot know that it boiled all the time
  } else {
    chain.push_back(work(Work::simmer_and_skim, skim, load));
    chain.push_back(waiting(Work::simmer, hold - skim, load));
  }
  for (Operation& o : chain) o.hob = true;
  if (s.kind == CoagulantKind::lactone) {
    chain.push_back(waiting(Work::chill_milk, chilling_the_milk, load));
    chain.push_back(work(Work::fill, making_up, load));
    Operation bath = waiting(Work::warm_and_set, b.plan.set.history.length(), load);
    bath.hob = true;
    chain.push_back(bath);
  } else {
    const Duration cooling = std::max(seconds(0), b.plan.set.history.length() - s.wait), mixing = std::min(making_up, cooling);
    chain.push_back(waiting(Work::cool, cooling - mixing, load));
    chain.push_back(work(Work::stir_coagulant, mixing, load));
    chain.push_back(work(Work::pour, pouring, load));
    chain.push_back(waiting(Work::set, s.wait, load));
  }
  std::erase_if(chain, [](const Operation& o) { return o.length.si() <= 0; });
  return chain;
}

/// The curd of some pots goes into the moulds, as many at a time as there are.
void place_pressing(Planner& p, Timeline& t, const Batch& b, const std::vector<std::size_t>& sets, int blocks) {
  Duration ready = t.operations[sets.front()].end();
  for (std::size_t set : sets) ready = std::min(ready, t.operations[set].end());
  for (int left = blocks; left > 0;) {
    const int now = std::min(left, b.setup.kitchen.moulds);
    std::vector<Operation> chain = {work(Work::mould, free_drain + filling_a_mould * now, t.fillings), waiting(Work::press, b.setup.job.press.time, t.fillings),
                                    work(Work::unmould, unmoulding_a_block * now, t.fillings)};
    for (Operation& o : chain) o.moulds = now;
    // Cloths that have been used are rinsed and boiled first.
    if (t.fillings > 1) {
      chain.insert(chain.begin(), work(Work::boil_cloths, boiling_cloths, t.fillings));
      chain.front().hob = true;
    }
    const std::size_t out = p.place(std::move(chain), sets);
    const Operation& moulding = t.operations[out - 2];
    t.queue = std::max(t.queue, moulding.start - ready);
    t.handling.in_pot = std::max(t.handling.in_pot, moulding.end() - ready + pouring);
    t.handling.unmoulding = std::max(t.handling.unmoulding, t.operations[out].length);
    for (std::size_t set : sets)
      if (const int pot = t.operations[set].pot; pot >= 0) p.keep_pot(pot, t.operations[set].end(), moulding.end());
    left -= now;
    ++t.fillings;
  }
}

/// Pots of the kitchen that take a load with its foam.
int usable_pots(const Batch& b) {
  const double load = volume_at_20(b.plan.destarched.milk.of).si() / b.setup.job.cook.pots;
  const auto n = std::count_if(b.setup.kitchen.pots.begin(), b.setup.kitchen.pots.end(), [load](const Pot& p) { return p.volume.si() * foam_headroom >= load * (1 - 1e-6); });
  return std::clamp(static_cast<int>(n), 1, std::max(1, b.setup.job.cook.pots));
}

/// With so many loads nobody follows a list, and placing each would take long.
constexpr int too_many_loads = 300;

Timeline coarse_timeline(const Batch& b) {
  const Job& j = b.setup.job;
  Timeline t;
  Planner p(t, b.setup.kitchen);
  std::size_t last = place_soak(p, j);
  last = p.place({work(Work::blend, blending_time(j))}, {last});
  last = p.place({work(Work::strain, straining_time(j, b.plan))}, {last});
  last = place_starch(p, b, last);
  Duration one_pot;
  for (const Operation& o : cook_and_set(b, 0)) one_pot += o.length;
  last = p.place({work(Work::pots_in_turn, one_pot * j.cook.pots)}, {last});
  // All fillings but the last in one piece, so that the last stands for what comes out at the end.
  const int moulds = std::min(b.blocks_to_press, b.setup.kitchen.moulds);
  const Duration moulding = free_drain + filling_a_mould * moulds, unmoulding = unmoulding_a_block * moulds;
  const Duration before = (boiling_cloths + moulding + j.press.time + unmoulding) * (b.press_rounds - 1);
  p.place({work(Work::fillings_in_turn, before), work(Work::mould, moulding, b.press_rounds),
           waiting(Work::press, j.press.time, b.press_rounds), work(Work::unmould, unmoulding, b.press_rounds)},
          {last});
  t.fillings = b.press_rounds;
  t.queue = before;
  t.handling = {before + moulding + pouring, unmoulding};
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
  milk = place_blending(p, b, milk);
  milk = place_starch(p, b, milk);
  const int pots = j.cook.pots;
  if (pots > 1) p.place({work(Work::put_by, putting_by)}, {milk});
  int given = 0;
  std::vector<std::size_t> waiting_sets;
  for (int load = 1; load <= pots; ++load) {
    std::vector<Operation> chain = cook_and_set(b, pots > 1 ? load : 0);
    const int pot = p.pot_for(chain, t.operations[milk].end());
    for (Operation& o : chain) o.pot = pot;
    waiting_sets.push_back(p.place(std::move(chain), {milk}));
    // Blocks are shared out so that the pots together fill as many moulds as the whole; curd short of a block waits for more.
    const int through = b.blocks_to_press * load / pots;
    if (through == given) continue;
    place_pressing(p, t, b, waiting_sets, through - given);
    waiting_sets.clear();
    given = through;
  }
  --t.fillings;
  return t;
}

int wash_jarfuls(const Job& j, const Plan& plan, std::size_t wash) {
  const double litres_of_it = in_kilograms(plan.strained.pulp.mass()) + j.strain.washes[wash].water_to_dry * in_kilograms(plan.dry);
  return static_cast<int>(std::clamp(std::ceil(litres_of_it / (in_litres(j.blend.jar) * j.blend.fill)), 1.0, 1e6));
}

Step step_of(Work work) {
  constexpr std::array last_of_step = {Work::change_water, Work::drain, Work::blend, Work::wash_pulp, Work::strain_gel, Work::pots_in_turn, Work::set, Work::fillings_in_turn, Work::chill};
  static_assert(last_of_step.size() == word_list<Step>.size());
  return static_cast<Step>(std::lower_bound(last_of_step.begin(), last_of_step.end(), work) - last_of_step.begin());
}

Duration Timeline::end() const {
  Duration last;
  for (const Operation& o : operations) last = std::max(last, o.end());
  return last;
}

int moulds_at_once(const Batch& b, const Timeline& t) {
  int most = 0;
  for (const Operation& at : t.operations) {
    int now = 0;
    for (const Operation& o : t.operations)
      if (o.start <= at.start && at.start < o.end()) now += o.moulds;
    most = std::max(most, now);
  }
  return most > 0 ? most : std::min(b.setup.kitchen.moulds, b.blocks_to_press);  // very many loads are told in one piece
}

void add_chill(Timeline& t, const Cooling& c) {
  const std::size_t placed = t.operations.size();
  Duration cold;
  for (std::size_t i = 0; i < placed; ++i) {
    const Operation out = t.operations[i];
    if (out.step() != Step::chill || !c.under_second) continue;
    // The clock of a block runs from the press, which it was laid into before it was pressed.
    const Duration laid = t.operations[i - 1].start, until_cold = std::max(out.end(), laid + *c.under_second);
    cold = std::max(cold, until_cold);
    Operation chill = waiting(Work::chill, until_cold - out.end(), out.load);
    chill.start = out.end();
    chill.after = {i};
    if (chill.length.si() > 0) t.operations.push_back(std::move(chill));
  }
  if (c.under_second) t.cold = cold;
}

std::vector<Task> tasks(const Timeline& t) {
  std::vector<Task> all;
  for (int s = 0; s <= static_cast<int>(Step::chill); ++s) {
    Task task{static_cast<Step>(s), {}, {}, {}};
    bool any = false;
    Duration end;
    for (const Operation& o : t.operations) {
      if (o.step() != task.step) continue;
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

namespace {

Duration ladling_time(const StarchSettings& s) { return s.settles() ? ladling_a_vessel * (s.vessels * s.times) : seconds(0); }

}  // namespace

Duration raw_milk_standing(const Job& j, const Plan& plan) {
  const StarchSettings& s = j.starch;
  const bool warm = s.settles() && s.surroundings > celsius(5);
  return blending_time(j) + straining_time(j, plan) + ladling_time(s) + (warm ? s.time * s.times : seconds(0)) + until(plan.cooked.history, celsius(60));
}

Duration raw_milk_standing(const Batch& b) { return raw_milk_standing(b.setup.job, b.plan); }

double growth_before_boil(const Batch& b) {
  const Plan& p = b.plan;
  const Duration at_hand = blending_time(b.setup.job) + straining_time(b.setup.job, p) + ladling_time(b.setup.job.starch);
  const double in_hand = growth_rate_log10_per_h(p.strained.milk.at) * in_hours(at_hand);
  return growth_log10_after_lag(growth_log10_without_lag(p.soaking) + in_hand + growth_log10_without_lag(p.destarched.history) +
                                growth_log10_without_lag(p.cooked.history));
}

}  // namespace curdwright
