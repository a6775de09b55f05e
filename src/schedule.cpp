// SPDX-License-Identifier: MIT
#include "curdwright/schedule.hpp"

#include <algorithm>

#include "curdwright/safety.hpp"

namespace curdwright {
namespace {

// Handling times: judgement, for one person.
constexpr Duration sorting = minutes(10), draining = minutes(5), filling_a_jar = minutes(2), straining_a_jar = minutes(4), washing = minutes(6),
                   ladling_a_vessel = minutes(4), warming_the_gel = minutes(20), skimming = minutes(5), making_up = minutes(5), free_drain = minutes(10),
                   filling_a_mould = minutes(2), chilling_the_milk = minutes(30), unmoulding = minutes(10), skinning = minutes(20);

Duration settle_length(const Batch& b, Duration& hands) {
  const StarchSettings& s = b.setup.job.starch;
  Duration length;
  if (s.settles()) {
    hands += ladling_a_vessel * (s.vessels * s.times);
    length += (s.time + ladling_a_vessel * s.vessels) * s.times;
  }
  if (s.strains_gel()) {
    hands += warming_the_gel;
    length += warming_the_gel;
  }
  return length;
}

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

}  // namespace

Duration raw_milk_standing(const Batch& b) {
  const Job& j = b.setup.job;
  Duration hands;
  Duration standing = settle_length(b, hands);
  const bool in_fridge = j.starch.surroundings <= celsius(5);
  if (in_fridge) standing = std::max(seconds(0), standing - j.starch.time * j.starch.times);
  return blending_time(j) + straining_time(j) + standing + until(b.plan.cooked.history, celsius(60));
}

double growth_before_boil(const Batch& b) {
  const Plan& p = b.plan;
  const Duration at_hand = blending_time(b.setup.job) + straining_time(b.setup.job);
  const double in_hand = growth_rate_log10_per_h(p.strained.milk.at) * in_hours(at_hand);
  return growth_log10_after_lag(growth_log10_without_lag(p.soaking) + in_hand + growth_log10_without_lag(p.destarched.history) +
                                growth_log10_without_lag(p.cooked.history));
}

std::vector<Task> day(const Batch& b, const Cooling& c) {
  const Job& j = b.setup.job;
  const Plan& p = b.plan;
  std::vector<Task> tasks;
  Duration now;
  const auto add = [&](Step step, Duration length, Duration hands_on) {
    tasks.push_back({step, now, length, std::min(hands_on, length)});
    now += length;
  };
  add(Step::sort_and_soak, sorting + j.soak.time, sorting + draining * j.soak.changes);
  const Duration skins = j.soak.skins_off ? skinning : seconds(0);
  add(Step::drain, draining + skins, draining + skins);
  const Duration blending = blending_time(j);
  add(Step::blend, blending, blending);
  const Duration straining = straining_time(j);
  add(Step::strain, straining, straining);
  Duration hands;
  if (const Duration settling = settle_length(b, hands); settling.si() > 0) add(Step::settle, settling, hands);
  const Duration one_pot = p.cooked.heat_up + j.cook.hold;
  add(Step::cook, one_pot * j.cook.pots, (skimming + p.cooked.heat_up * 0.5) * j.cook.pots);
  // The history after the boil holds the cooling to the pour and the wait.
  // Milk for GDL is chilled first, which that history passes over.
  const bool chilled = j.coagulate.kind == CoagulantKind::lactone;
  const Duration setting = p.set.history.length() + making_up + (chilled ? chilling_the_milk : seconds(0));
  // Earlier pots cool and set while the later ones cook, so only the last one adds to the day.
  add(Step::set, setting, making_up * (1 + j.coagulate.pots));
  const Duration moulding = free_drain + filling_a_mould * std::max(1.0, value(p, Figure::blocks));
  add(Step::press, moulding + j.press.time * b.press_rounds, moulding);
  const Duration in_press = j.press.time;
  const Duration chilling = c.under_second && *c.under_second > in_press ? *c.under_second - in_press : hours(0);
  add(Step::chill, unmoulding + chilling, unmoulding);
  return tasks;
}

}  // namespace curdwright
