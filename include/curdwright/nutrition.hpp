// SPDX-License-Identifier: MIT
/// \file nutrition.hpp
/// What a label would say of the curd, by the rules of the United States or of the European Union.
///
///     NutritionLabel l = nutrition(plan, {.rules = LabelRules::eu, .ranges = &ranges});
///     for (const NutritionLine& n : l.lines) print(n.plain, n.text_100g, n.text_block);
///
/// Estimates, not an analysis: the amounts are the plan's own, and only energy and rounding are the label's.
/// What the records do not hold (saturated fat, iron, ...) is named, never printed as nothing.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/kitchen.hpp"
#include "curdwright/ranges.hpp"

namespace curdwright {

/// What the kitchen says, else what goes with its region: us, canada and codex the American rules, others the European.
LabelRules label_rules(const Kitchen& kitchen);

enum class Nutrient { energy, fat, carbohydrate, sugars, fibre, protein, sodium, calcium, magnesium };

/// What energy is reckoned from, g of each.
struct LabelFood {
  double protein_g = 0, fat_g = 0, carbohydrate_g = 0, fibre_g = 0, acids_g = 0;  ///< carbohydrate with its fibre
};
struct LabelEnergy {
  double kj = 0, kcal = 0;
};
/// EU, Annex XIV: carbohydrate without fibre 17 kJ (4 kcal), protein 17 (4), fat 37 (9), fibre 8 (2), organic acids
/// 13 (3) per g. US: 4, 9 and 4 kcal per g of protein, fat and carbohydrate, which by difference holds fibre and acids;
/// 21 CFR 101.9 allows the specific factors of energy_kcal() too.
LabelEnergy label_energy(LabelRules rules, const LabelFood& food);
/// Thermochemical: 1 kcal is 4.184 kJ.
double kilojoules(double kcal);

/// An amount as the rules let it be told.
struct Declared {
  double amount = 0;
  int digits = 0;      ///< after the point
  bool less = false;   ///< "less than" the amount
};
/// \param amount kcal for energy (kJ too by the European rules), g, or mg of sodium, calcium and magnesium;
///        by the European rules Nutrient::sodium is g of salt
Declared declared(LabelRules rules, Nutrient nutrient, double amount);
/// "4.8 g", "< 0.5 g", "less than 1 g".
std::string declared_text(const Declared& amount, LabelRules rules, std::string_view unit);

/// The day's amount that percentages refer to: Daily Value or Nutrient Reference Value, in the unit of `declared`;
/// nothing where a label gives none.
std::optional<double> reference_amount(LabelRules rules, Nutrient nutrient);
/// Whole percent of it, as the rules round it.
int declared_percent(LabelRules rules, Nutrient nutrient, double amount);
/// EU, Annex XIII: a mineral may be declared from 15 % of its reference value in 100 g. US: any amount may.
bool may_declare(LabelRules rules, Nutrient nutrient, double per_100g);

struct NutritionLine {
  Nutrient nutrient = Nutrient::energy;
  std::string_view key;    ///< of the JSON sheet, ends in its unit: "fat_g"
  std::string_view plain;  ///< "fat"
  double per_100g = 0, per_block = 0;          ///< exact, in the unit of the key
  std::string text_100g, text_block;           ///< as the label tells it
  std::optional<int> percent_100g, percent_block;
  bool declare = true;                         ///< false: too little for the rules to let it stand on a label
  std::optional<Range> likely;                 ///< in 100 g, where ranges were given; calcium and magnesium with their retention
};

struct NutritionLabel {
  LabelRules rules = LabelRules::us;
  Mass block;
  double kj_100g = 0, kj_block = 0;  ///< the energy line holds kcal
  std::vector<NutritionLine> lines;  ///< in the order of the rules' own tables
  std::vector<std::string_view> not_estimated;
};

struct NutritionOptions {
  LabelRules rules = LabelRules::us;
  bool acid_set = false;             ///< what was added to set the curd is an organic acid, which has energy
  const Ranges* ranges = nullptr;
};
NutritionLabel nutrition(const Plan& plan, const NutritionOptions& options);

}  // namespace curdwright
