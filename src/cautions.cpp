// SPDX-License-Identifier: MIT
#include "curdwright/cautions.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/safety.hpp"
#include "rules/rules.hpp"

namespace curdwright {

std::span<const Rule> all_rules() {
  static const std::vector<Rule> all = [] {
    std::vector<Rule> both(rules::food_rules().begin(), rules::food_rules().end());
    both.insert(both.end(), rules::gear_rules().begin(), rules::gear_rules().end());
    std::stable_sort(both.begin(), both.end(), [](const Rule& a, const Rule& b) { return a.stage < b.stage; });
    return both;
  }();
  return all;
}

Facts facts_of(const Batch& b) {
  Timeline t = timeline(b);
  const Cooling cooling = cool(b, t.handling);
  add_chill(t, cooling);
  Facts f{b, std::move(t), cooling, 0, 0, 0, 0, 1, 0};
  f.soak_growth_flat = growth_log10_without_lag(b.plan.soaking);
  f.soak_growth = growth_log10_after_lag(f.soak_growth_flat);
  f.milk_growth = growth_before_boil(b);
  f.standing_h = in_hours(raw_milk_standing(b));
  f.trypsin_left = trypsin_inhibitor_left(b.plan.cooked.history, b.theta);
  f.uncontrolled_h = in_hours(out_of_control(b, f.timeline.handling));
  return f;
}

std::vector<Caution> cautions(const Facts& facts) {
  std::vector<Caution> all;
  for (const Rule& r : all_rules())
    if (auto fired = r.fires(facts)) all.push_back({r.id, fired->severity.value_or(r.severity), r.stage, r.standing && !fired->severity, std::move(fired->text), r.said});
  return all;
}

bool stops(std::span<const Caution> list) {
  return std::any_of(list.begin(), list.end(), [](const Caution& c) { return c.severity == Severity::stop; });
}

std::vector<Caution> new_warnings(std::span<const Caution> now, std::span<const Caution> before) {
  std::vector<Caution> all;
  for (const Caution& n : now) {
    const bool stood = std::any_of(before.begin(), before.end(), [&](const Caution& b) { return b.rule == n.rule && b.severity == n.severity; });
    if (n.severity != Severity::note && !n.standing && !stood) all.push_back(n);
  }
  return all;
}

std::vector<std::string> ticks(const Batch& b) {
  std::vector<std::string> lines = {"seed sold as food, not for sowing", b.setup.coagulant.e_number == "none" ? fmt::format("{} sold as food", b.setup.coagulant.kitchen_name) : fmt::format("{} of food grade", b.setup.coagulant.kitchen_name), "drinking water throughout"};
  for (const ChosenExtra& e : b.setup.extras) {
    std::string line = fmt::format("{} of food grade", e.extra.kitchen_name);
    if (e.extra.grade.starts_with("food grade") && std::find(lines.begin(), lines.end(), line) == lines.end()) lines.push_back(std::move(line));
  }
  for (const Legume& l : b.setup.legumes) {
    if (l.has(Hazard::lupin_alkaloids)) lines.emplace_back("lupin sold as sweet");
    if (l.has(Hazard::lima_cyanide)) lines.emplace_back("lima beans white, from a shop; soak water poured away");
    if (l.has(Hazard::aflatoxin)) lines.emplace_back("kernels sound, none mouldy");
  }
  return lines;
}

int last_day(const Batch& b) {
  const Where where = b.setup.recipe.store.where.value_or(Where::fridge);
  if (where == Where::room || where == Where::hot) return 1;
  const double t = in_celsius(b.setup.recipe.store.at.value_or(b.setup.kitchen.fridge));
  if (t <= 5) return 7;
  return t <= 7 ? 4 : 1;
}

}  // namespace curdwright
