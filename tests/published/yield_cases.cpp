// SPDX-License-Identifier: MIT
// Whole batches: how much curd, what is in it, and how one batch compares with another.
#include <algorithm>

#include "curdwright/figures.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

double yield_of(const Plan& p) { return value(p, Figure::yield); }
double seed_protein(const Plan& p) { return p.seed.of[Component::protein]; }
double into_curd(const Plan& p) { return p.pressed.curd.of[Component::protein] / seed_protein(p); }
double into_whey(const Plan& p) { return p.pressed.whey.of[Component::protein] / seed_protein(p); }

/// What becomes of the seed's protein; one figure for each recipe.
Json protein_into_curd(const Json& c) {
  const std::vector<Plan> plans = plans_of_case(c);
  const Json whey = of_each(plans, into_whey);
  return {{"protein_into_curd", of_each(plans, into_curd)},
          {"extracted", of_each(plans, [](const Plan& p) { return p.strained.milk.of[Component::protein] / seed_protein(p); })},
          {"protein_into_curd_percent", of_each(plans, [](const Plan& p) { return 100 * into_curd(p); })},
          {"protein_recovered_g", of_each(plans, [](const Plan& p) { return 1e2 * p.pressed.curd.of[Component::protein] / p.dry.si(); })},  // per 100 g seed
          {"protein_in_whey", whey},
          {"central", whey}};
}

/// Of many pulses: each, and the middle one.
Json curd_per_seed(const Json& c) {
  std::vector<double> yields = of_each(plans_of_case(c), yield_of).get<std::vector<double>>();
  const Json all = yields;
  std::sort(yields.begin(), yields.end());
  return {{"curd_per_seed", all}, {"central", yields[yields.size() / 2]}};
}

/// Per 100 g of curd.
Json curd_composition(const Json& c) {
  const Plan p = plan_of_case(c);
  const auto per_100g = [&](Figure f) { return value(p, f); };
  return {{"water", per_100g(Figure::water)},         {"protein", per_100g(Figure::protein)},     {"fat", per_100g(Figure::fat)},
          {"carbohydrate", per_100g(Figure::carbohydrate)}, {"fibre", per_100g(Figure::fibre)},   {"energy", per_100g(Figure::energy)},
          {"calcium", per_100g(Figure::calcium)},     {"magnesium", per_100g(Figure::magnesium)}, {"sodium", per_100g(Figure::sodium)}};
}

/// Recipes in pairs, the first of each beside the second: is the first below it in every pair?
bool below(const std::vector<Plan>& pairs, double (*figure)(const Plan&)) {
  constexpr double clearly = 1e-3;  // relative
  for (std::size_t i = 0; i + 1 < pairs.size(); i += 2)
    if (!(figure(pairs[i]) < figure(pairs[i + 1]) * (1 - clearly))) return false;
  return true;
}

double moisture_of(const Plan& p) { return value(p, Figure::water); }
double protein_of(const Plan& p) { return value(p, Figure::protein); }
double fat_of(const Plan& p) { return value(p, Figure::fat); }

Json one_beside_another(const Json& c) {
  const std::vector<Plan> pairs = plans_of_case(c);
  REQUIRE(pairs.size() % 2 == 0);
  return {{"milk_solids_lower", below(pairs, [](const Plan& p) { return value(p, Figure::milk_solids); })},
          {"yield_lower", below(pairs, yield_of)},
          {"moisture_lower", below(pairs, moisture_of)},
          {"protein_lower", below(pairs, protein_of)},
          {"fat_lower", below(pairs, fat_of)},
          {"protein_brought_down_lower", below(pairs, [](const Plan& p) { return p.set.curdled_kg; })}};
}

}  // namespace

Checkers yield_checkers() {
  return {{"protein_into_curd", protein_into_curd},
          {"curd_per_seed", curd_per_seed},
          {"curd_composition", curd_composition},
          {"one_beside_another", one_beside_another}};
}

TEST_CASE("published batches come out as printed, or miss as recorded") { check_published(yield_checkers()); }

}  // namespace curdwright::test
