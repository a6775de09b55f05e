// SPDX-License-Identifier: MIT
#include "curdwright/nutrition.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace curdwright {
namespace {

using enum Nutrient;

/// Nearest multiple, halves up; a hair is added for halves that the machine holds a little low.
double nearest(double amount, double step) { return std::floor(amount / step + 0.5 + 1e-9) * step; }

/// FDA, Food Labeling Guide, appendix H (seen): calories, fat, sodium; carbohydrate, fibre, sugars and protein alike.
/// Minerals with a Daily Value of 250 mg or more: nearest 10 mg (final rule of 2016, memory).
Declared declared_us(Nutrient n, double amount) {
  switch (n) {
    case energy: return {amount < 5 ? 0 : amount <= 50 ? nearest(amount, 5) : nearest(amount, 10)};
    case fat: return amount < 0.5 ? Declared{} : amount < 5 ? Declared{nearest(amount, 0.5), std::fmod(nearest(amount, 0.5), 1) > 0.1 ? 1 : 0} : Declared{nearest(amount, 1)};
    case sodium: return {amount < 5 ? 0 : amount <= 140 ? nearest(amount, 5) : nearest(amount, 10)};
    case calcium:
    case magnesium: return {nearest(amount, 10)};
    case carbohydrate:
    case sugars:
    case fibre:
    case protein: break;
  }
  if (amount < 0.5) return {};
  return amount < 1 ? Declared{1, 0, true} : Declared{nearest(amount, 1)};
}

/// Rounded first to tenths or hundredths, so that 9.97 g is told as 10 g and not as 10.0 g.
Declared tenths(double amount) { return nearest(amount, 0.1) < 10 - 1e-6 ? Declared{nearest(amount, 0.1), 1} : Declared{nearest(amount, 1)}; }
Declared hundredths(double amount) { return nearest(amount, 0.01) < 1 - 1e-6 ? Declared{nearest(amount, 0.01), 2} : Declared{nearest(amount, 0.1), 1}; }

/// Three significant figures.
Declared three_figures(double amount) {
  if (amount <= 0) return {};
  int digits = 2 - static_cast<int>(std::floor(std::log10(amount)));
  double rounded = nearest(amount, std::pow(10.0, -digits));
  if (rounded >= std::pow(10.0, 3 - digits) - 1e-6) --digits;
  return {rounded, std::max(0, digits)};
}

/// Commission guidance of December 2012 (memory, confidence high). At or below the least amount it allows "0 g" too.
Declared declared_eu(Nutrient n, double amount) {
  switch (n) {
    case energy: return {nearest(amount, 1)};
    case sodium: return amount <= 0 ? Declared{} : amount <= 0.0125 ? Declared{0.01, 2, true} : hundredths(amount);
    case calcium:
    case magnesium: return three_figures(amount);
    default: return amount <= 0 ? Declared{} : amount <= 0.5 ? Declared{0.5, 1, true} : tenths(amount);
  }
}

struct Row {
  Nutrient nutrient;
  std::string_view key, plain, unit;
};
constexpr std::array<Row, 9> us_rows = {{{energy, "energy_kcal", "energy", "kcal"},
                                         {fat, "fat_g", "fat", "g"},
                                         {sodium, "sodium_mg", "sodium", "mg"},
                                         {carbohydrate, "carbohydrate_g", "carbohydrate", "g"},
                                         {fibre, "fibre_g", "fibre", "g"},
                                         {sugars, "sugars_g", "sugars", "g"},
                                         {protein, "protein_g", "protein", "g"},
                                         {calcium, "calcium_mg", "calcium", "mg"},
                                         {magnesium, "magnesium_mg", "magnesium", "mg"}}};
constexpr std::array<Row, 9> eu_rows = {{{energy, "energy_kcal", "energy", "kcal"},
                                         {fat, "fat_g", "fat", "g"},
                                         {carbohydrate, "carbohydrate_g", "carbohydrate", "g"},
                                         {sugars, "sugars_g", "sugars", "g"},
                                         {fibre, "fibre_g", "fibre", "g"},
                                         {protein, "protein_g", "protein", "g"},
                                         {sodium, "salt_g", "salt", "g"},
                                         {calcium, "calcium_mg", "calcium", "mg"},
                                         {magnesium, "magnesium_mg", "magnesium", "mg"}}};
/// What a full label also has, and the records do not.
constexpr std::array<std::string_view, 7> us_unknown = {"saturated fat", "trans fat", "cholesterol", "added sugars", "vitamin D", "iron", "potassium"};
constexpr std::array<std::string_view, 1> eu_unknown = {"saturates"};

/// Salt is sodium times 2.5 (Regulation 1169/2011, Annex I).
constexpr double salt_per_sodium = 2.5;

/// Acid that set the curd. Salts that were stirred in are dissolved beside it and shared with the whey in the same way; what went into the
/// pressed curd is taken off.
double acids_in_100g(const Plan& p) {
  const double set_with = p.set.mix.of[Component::salts] + p.set.made[Component::salts], all = p.set.milk.of[Component::salts];
  const double pressed_in = p.extras[static_cast<std::size_t>(Stage::press)].of[Component::salts], curd_kg = p.pressed.curd.of.total_kg();
  return all > 0 && curd_kg > 0 ? 100 * (p.pressed.curd.of[Component::salts] - pressed_in) / curd_kg * (set_with / all) : 0.0;
}

LabelFood food_in_100g(const Plan& p, bool acid_set) {
  return {value(p, Figure::protein), value(p, Figure::fat), value(p, Figure::carbohydrate), value(p, Figure::fibre), acid_set ? acids_in_100g(p) : 0.0};
}

/// In 100 g, in the unit of the row's key.
double amount_in_100g(const Plan& p, LabelRules rules, Nutrient n, const LabelFood& food) {
  const bool eu = rules == LabelRules::eu;
  switch (n) {
    case energy: return label_energy(rules, food).kcal;
    case fat: return food.fat_g;
    case carbohydrate: return eu ? food.carbohydrate_g - food.fibre_g : food.carbohydrate_g + food.acids_g;
    case sugars: return 100 * p.pressed.curd.of.fraction(Component::sugars);
    case fibre: return food.fibre_g;
    case protein: return food.protein_g;
    case sodium: return eu ? value(p, Figure::sodium) * 1e-3 * salt_per_sodium : value(p, Figure::sodium);
    case calcium: return value(p, Figure::calcium);
    case magnesium: return value(p, Figure::magnesium);
  }
  return 0;
}

/// Ranges of what a label's reader asks for: protein, and the minerals that the coagulant brings. The sheet's ranges hold the rest.
std::optional<Range> likely_of(const Ranges* r, Nutrient n) {
  if (!r) return std::nullopt;
  switch (n) {
    case protein: return r->of(Figure::protein);
    case calcium: return r->of(Figure::calcium);
    case magnesium: return r->of(Figure::magnesium);
    default: return std::nullopt;
  }
}

std::string line_text(LabelRules rules, const Row& row, double amount, double kj) {
  std::string words = declared_text(declared(rules, row.nutrient, amount), rules, row.unit);
  return row.nutrient == energy && rules == LabelRules::eu ? fmt::format("{} / {}", declared_text(declared(rules, energy, kj), rules, "kJ"), words) : words;
}

}  // namespace

LabelRules label_rules(const Kitchen& k) {
  const bool american = k.region == Region::us || k.region == Region::canada || k.region == Region::codex;
  return k.label_rules.value_or(american ? LabelRules::us : LabelRules::eu);
}

double kilojoules(double kcal) { return 4.184 * kcal; }

LabelEnergy label_energy(LabelRules rules, const LabelFood& f) {
  if (rules == LabelRules::us) {
    const double kcal = 4 * f.protein_g + 9 * f.fat_g + 4 * (f.carbohydrate_g + f.acids_g);
    return {kilojoules(kcal), kcal};
  }
  const double available_g = f.carbohydrate_g - f.fibre_g;
  return {17 * (f.protein_g + available_g) + 37 * f.fat_g + 8 * f.fibre_g + 13 * f.acids_g, 4 * (f.protein_g + available_g) + 9 * f.fat_g + 2 * f.fibre_g + 3 * f.acids_g};
}

Declared declared(LabelRules rules, Nutrient n, double amount) { return rules == LabelRules::us ? declared_us(n, amount) : declared_eu(n, amount); }

std::string declared_text(const Declared& d, LabelRules rules, std::string_view unit) {
  const std::string_view less = !d.less ? "" : rules == LabelRules::us ? "less than " : "< ";
  return fmt::format("{}{:.{}f} {}", less, d.amount, d.digits, unit);
}

/// US: 21 CFR 101.9(c)(8) and (9); calcium seen at the NIH, the others from memory. EU: Annex XIII (memory).
std::optional<double> reference_amount(LabelRules rules, Nutrient n) {
  const bool us = rules == LabelRules::us;
  switch (n) {
    case calcium: return us ? 1300 : 800;
    case magnesium: return us ? 420 : 375;
    case sodium: return us ? std::optional(2300.0) : std::nullopt;
    case fat: return us ? std::optional(78.0) : std::nullopt;
    case carbohydrate: return us ? std::optional(275.0) : std::nullopt;
    case fibre: return us ? std::optional(28.0) : std::nullopt;
    default: return std::nullopt;
  }
}

/// US minerals: to 10 % the nearest 2, to 50 % the nearest 5, above the nearest 10 (21 CFR 101.9(c)(8)(iii), seen); all else whole percents.
int declared_percent(LabelRules rules, Nutrient n, double amount) {
  const auto whole_day = reference_amount(rules, n);
  if (!whole_day) return 0;
  const double percent = 100 * amount / *whole_day;
  const bool mineral = n == calcium || n == magnesium;
  const double rounded = rules == LabelRules::eu || !mineral ? nearest(percent, 1) : nearest(percent, percent <= 10 ? 2 : percent <= 50 ? 5 : 10);
  return static_cast<int>(std::min(rounded, 1e9));  // no day needs a thousand million percent, and no int holds much more
}

bool may_declare(LabelRules rules, Nutrient n, double per_100g) {
  constexpr double significant = 0.15;
  if (rules == LabelRules::us || (n != calcium && n != magnesium)) return true;
  return per_100g >= significant * *reference_amount(rules, n);
}

NutritionLabel nutrition(const Plan& p, const NutritionOptions& o) {
  NutritionLabel label;
  label.rules = o.rules;
  label.block = p.block;
  const double blocks = in_grams(p.block) / 100;  // of 100 g
  const LabelFood food = food_in_100g(p, o.acid_set);
  label.kj_100g = label_energy(o.rules, food).kj;
  label.kj_block = label.kj_100g * blocks;
  for (const Row& row : o.rules == LabelRules::us ? us_rows : eu_rows) {
    NutritionLine l{row.nutrient, row.key, row.plain, amount_in_100g(p, o.rules, row.nutrient, food), 0, "", "", {}, {}, true, likely_of(o.ranges, row.nutrient)};
    l.per_block = l.per_100g * blocks;
    l.text_100g = line_text(o.rules, row, l.per_100g, label.kj_100g);
    l.text_block = line_text(o.rules, row, l.per_block, label.kj_block);
    l.declare = may_declare(o.rules, row.nutrient, l.per_100g);
    if (reference_amount(o.rules, row.nutrient)) {
      l.percent_100g = declared_percent(o.rules, row.nutrient, l.per_100g);
      l.percent_block = declared_percent(o.rules, row.nutrient, l.per_block);
    }
    label.lines.push_back(std::move(l));
  }
  if (o.rules == LabelRules::us)
    label.not_estimated.assign(us_unknown.begin(), us_unknown.end());
  else
    label.not_estimated.assign(eu_unknown.begin(), eu_unknown.end());
  return label;
}

}  // namespace curdwright
