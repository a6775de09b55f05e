// SPDX-License-Identifier: MIT
#include "sheets/tables.hpp"

#include <fmt/format.h>

#include "sheets/amounts.hpp"
#include "sheets/said.hpp"

namespace curdwright::sheets {
namespace {

std::string with_percent(const std::string& amount, const std::optional<int>& percent) { return percent ? fmt::format("{} ({} %)", amount, *percent) : amount; }

std::string likely_words(const NutritionLine& l) {
  if (!l.likely) return "";
  const int digits = l.key.ends_with("_mg") ? 0 : 1;
  return fmt::format("{} to {}", fixed(l.likely->low, digits), fixed(l.likely->high, digits));
}

void join(std::string& list, std::string_view word) { list += (list.empty() ? "" : ", ") + std::string(word); }

/// To the digits that the currency is counted to, and more where that would leave nothing of something.
std::string money(double v, int digits) {
  std::string words = fixed(v, digits);
  for (int more = 1; more <= 3 && v != 0 && words.find_first_of("123456789") == std::string::npos; ++more) words = fixed(v, digits + more);
  return words;
}

}  // namespace

SheetTable nutrition_table(const NutritionLabel& label, const std::string& block) {
  const bool eu = label.rules == LabelRules::eu;
  SheetTable t;
  t.heading = fmt::format("Nutrition (estimate, {} rules)", eu ? "EU" : "US");
  t.columns = {"in 100 g", fmt::format("in a block of {}", block), ""};
  std::string too_little, unknown;
  for (const NutritionLine& l : label.lines) {
    if (!l.declare) join(too_little, l.plain);
    if (l.likely) t.columns[2] = "likely in 100 g";
    t.rows.push_back({std::string(l.plain), {with_percent(l.text_100g, l.percent_100g), with_percent(l.text_block, l.percent_block), likely_words(l)}});
  }
  for (std::string_view n : label.not_estimated) join(unknown, n);
  t.note = fmt::format("% of the {}. Carbohydrate {} fibre. Sugars are an upper estimate. Not estimated: {}.", eu ? "reference value for a day" : "Daily Value", eu ? "is without" : "includes", unknown);
  if (!too_little.empty()) t.note += fmt::format(" Too little for a label to name: {}.", too_little);
  return t;
}

SheetTable cost_table(const Cost& c, const Amounts& say) {
  const int digits = minor_digits(c.currency);
  SheetTable t;
  t.heading = "Cost (estimate)";
  t.columns = {"", "", std::string(said_currency(c.currency))};
  // What is bought stands as it is weighed out, but water as the sum of many; what is sold is what comes off.
  const auto amount = [&](const CostLine& l) {
    if (l.energy_j > 0) return fixed(l.energy_j / joules_per_kwh, 2) + " kWh";
    return l.money < 0 || l.id == "water" ? say.about(l.mass) : l.mass <= grams(60) ? say.grams_fine(l.mass) : say.weigh(l.mass);
  };
  for (const CostLine& l : c.lines) t.rows.push_back({l.what, {amount(l), l.price, money(l.money, digits)}});
  if (c.sums) {
    t.rows.push_back({c.missing.empty() ? "the batch" : "sum of these", {"", "", money(c.sums->total, digits)}});
    t.rows.push_back({"a block", {"", "", money(c.sums->per_block, digits)}});
    t.rows.push_back({"100 g of curd", {"", "", money(c.sums->per_100g, digits + 1)}});
    t.rows.push_back({"10 g of its protein", {"", "", money(c.sums->per_10g_protein, digits + 1)}});
  }
  if (c.currency == no_currency) t.note = "The kitchen names no currency. ";
  if (c.poisonous_pulp) t.note += "Pulp and starch of these beans are poisonous raw, and are not counted as sold. ";
  std::string missing;
  for (const std::string& id : c.missing) join(missing, id);
  if (!missing.empty()) t.note += fmt::format("No price is told for {}: {}.", missing, c.sums ? "the sums leave that out" : "without the seed there is no sum");
  return t;
}

}  // namespace curdwright::sheets
