// SPDX-License-Identifier: MIT
// Food energy and what a label makes of it.
#include "curdwright/nutrition.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

/// Energy of 100 g by the USDA's factors for curd and by those of the European label.
Json food_energy(const Json& c) {
  Composition food;
  food[Component::protein] = grams(given(c, "protein")).si();
  food[Component::fat] = grams(given(c, "fat")).si();
  food[Component::fibre] = grams(given(c, "fibre")).si();
  food[Component::sugars] = grams(given(c, "carbohydrate") - given(c, "fibre")).si();
  const LabelEnergy eu = label_energy(LabelRules::eu, {given(c, "protein"), given(c, "fat"), given(c, "carbohydrate"), given(c, "fibre"), 0});
  return {{"energy", energy_kcal(food)}, {"energy_from_factors", energy_kcal(food)}, {"EU_energy_kJ", eu.kj}, {"EU_energy_kcal", eu.kcal}};
}

Json kilojoules_beside(const Json& c) { return {{"kJ", kilojoules(given(c, "kcal"))}}; }

std::vector<double> rounded(const Json& c, std::string_view input, Nutrient n) {
  std::vector<double> all;
  for (double v : all_given(c, input)) all.push_back(declared(LabelRules::us, n, v).amount);
  return all;
}

Json label_rounding(const Json& c) {
  std::vector<std::string> protein;
  for (double v : all_given(c, "protein")) protein.push_back(declared_text(declared(LabelRules::us, Nutrient::protein, v), LabelRules::us, "g"));
  return {{"calories_label", rounded(c, "calories", Nutrient::energy)},
          {"fat_label", rounded(c, "fat", Nutrient::fat)},
          {"protein_label", protein},
          {"sodium_label", rounded(c, "sodium", Nutrient::sodium)}};
}

}  // namespace

Checkers nutrition_checkers() { return {{"food_energy", food_energy}, {"kilojoules", kilojoules_beside}, {"label_rounding", label_rounding}}; }

TEST_CASE("published energies and label roundings come out as printed, or miss as recorded") { check_published(nutrition_checkers()); }

}  // namespace curdwright::test
