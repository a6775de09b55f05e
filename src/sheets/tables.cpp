// SPDX-License-Identifier: MIT
#include "sheets/tables.hpp"

#include <fmt/format.h>

#include "sheets/amounts.hpp"

namespace curdwright::sheets {
namespace {

std::string with_percent(const std::string& amount, const std::optional<int>& percent) { return percent ? fmt::format("{} ({} %)", amount, *percent) : amount; }

std::string likely_words(const NutritionLine& l) {
  if (!l.likely) return "";
  const int digits = l.key.ends_with("_mg") ? 0 : 1;
  return fmt::format("{} to {}", fixed(l.likely->low, digits), fixed(l.likely->high, digits));
}

void join(std::string& list, std::string_view word) { list += (list.empty() ? "" : ", ") + std::string(word); }

}  // namespace

SheetTable nutrition_table(const NutritionLabel& label, const std::string& block) {
  const bool eu = label.rules == LabelRules::eu;
  SheetTable t;
  t.heading = fmt::format("NUTRITION (estimate, {} rules)", eu ? "EU" : "US");
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

}  // namespace curdwright::sheets
