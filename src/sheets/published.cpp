// SPDX-License-Identifier: MIT
#include "sheets/published.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/cost.hpp"
#include "curdwright/price.hpp"
#include "sheets/amounts.hpp"

namespace curdwright::sheets {
namespace {

double whole_minutes(Duration d) { return std::round(in_minutes(d)); }

/// The milk on the fire parts preparing from cooking; what sets, is pressed and cools after it counts as cooking, so that the two make up the whole.
void write_times(Published& p, const Sheet& s) {
  const auto cook = std::find_if(s.steps.begin(), s.steps.end(), [](const SheetStep& t) { return t.of == Step::cook; });
  const double total = whole_minutes(s.total_time), prepare = cook == s.steps.end() ? 0 : std::clamp(whole_minutes(cook->start), 0.0, total);
  p.prepare = minutes(prepare), p.cook = minutes(total - prepare), p.total = minutes(total);
}

void write_yield(Published& p, const Batch& b, const Amounts& say) {
  const double whole = value(b.plan, Figure::whole_blocks);
  if (whole < 1) {
    p.yield = say.about(b.plan.pressed.curd.mass()) + " of curd";
    return;
  }
  p.blocks = fixed(whole, 0);
  p.yield = fmt::format("{} {} of {}", p.blocks, whole == 1 ? "block" : "blocks", say.weigh(b.plan.block));
}

std::string_view property_of(std::string_view key) {
  if (key == "energy_kcal") return "calories";
  if (key == "fat_g") return "fatContent";
  if (key == "carbohydrate_g") return "carbohydrateContent";
  if (key == "fibre_g") return "fiberContent";
  if (key == "sugars_g") return "sugarContent";
  if (key == "protein_g") return "proteinContent";
  return key == "sodium_mg" ? "sodiumContent" : "";
}

/// What the vocabulary has no word for stays away: salt, calcium, magnesium.
void write_nutrition(Published& p, const NutritionLabel& label) {
  for (const NutritionLine& n : label.lines) {
    const std::string_view property = property_of(n.key);
    if (property.empty()) continue;
    const std::string_view unit = n.key.substr(n.key.rfind('_') + 1);
    p.nutrition.emplace_back(property, fmt::format("{} {}", fixed(n.per_block, unit == "g" ? 1 : 0), unit));
  }
}

template <class Amount>
std::string joined(const std::vector<Amount>& list) {
  std::string all;
  for (const SheetAmount& a : list) all += fmt::format("{}{} {}{}", all.empty() ? "" : "; ", a.amount, a.what, a.note.empty() ? "" : fmt::format(" ({})", a.note));
  return all;
}

PublishedSection section_of(const SheetStep& s) {
  PublishedSection out{s.verb, {}};
  for (const Caution& c : s.before) out.lines.push_back(fmt::format("{}: {}", c.severity == Severity::note ? "Note" : "Take care", c.text));
  if (!s.amounts.empty()) out.lines.push_back(fmt::format("Amounts: {}.", joined(s.amounts)));
  out.lines.insert(out.lines.end(), s.actions.begin(), s.actions.end());
  if (!s.ready.empty()) out.lines.push_back("Ready when: " + s.ready);
  if (!s.if_not.empty()) out.lines.push_back("If not: " + s.if_not);
  for (const std::string& t : s.told) out.lines.push_back(fmt::format("Measured: {}.", t));
  if (s.told.empty() && !s.expected.empty()) out.lines.push_back(fmt::format("To weigh: {}.", joined(s.expected)));
  return out;
}

void write_words(Published& p, const Batch& b, const Sheet& s) {
  p.name = s.title;
  p.description = s.summary + ".";
  for (const std::string* words : {&s.batches, &s.allergens})
    if (!words->empty()) p.description += " " + *words;
  for (const std::string& words : s.standing) p.description += " " + words;
  p.keywords = "legume curd";
  for (const Legume& l : b.setup.legumes) p.keywords += ", " + l.kitchen_name;
  p.keywords += ", " + b.setup.coagulant.kitchen_name;
  for (const SheetAmount& a : s.weigh_out) p.ingredients.push_back(joined(std::vector<SheetAmount>{a}));
  p.tools = s.vessels;
  if (!s.ticks.empty()) p.sections.push_back({"Make sure of", s.ticks});
}

}  // namespace

Published published(const Facts& facts, const Sheet& s, Units units) {
  const Batch& b = facts.batch;
  const Amounts say(units, b.setup.kitchen, true);
  Published p;
  write_words(p, b, s);
  write_yield(p, b, say);
  write_times(p, s);
  for (const SheetStep& step : s.steps) p.sections.push_back(section_of(step));
  p.serving = fmt::format("1 block ({})", say.weigh(b.plan.block));
  write_nutrition(p, s.label);
  if (s.cost && s.cost->sums && s.cost->missing.empty() && s.cost->currency != no_currency) p.cost = std::pair(s.cost->currency, fixed(s.cost->sums->total, minor_digits(s.cost->currency)));
  return p;
}

}  // namespace curdwright::sheets
