// SPDX-License-Identifier: MIT
// Grinding and straining: where the seed's protein, solids and fat go, what the milk and the pulp hold.
#include "curdwright/properties.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

double percent(double part, double whole) { return whole > 0 ? 100.0 * part / whole : 0.0; }
double seed_share(const Plan& p, const Composition& part, Component c) { return percent(part[c], p.seed.of[c]); }
/// Solids that came from the seed: the salt that set the curd is left out.
double seed_solids(const Composition& c) { return c.solids_kg() - c[Component::salts]; }
double solids_share(const Plan& p, const Composition& part) { return percent(seed_solids(part), p.seed.of.solids_kg()); }

double protein_into_milk(const Plan& p) { return seed_share(p, p.strained.milk.of, Component::protein); }
double fat_into_milk(const Plan& p) { return seed_share(p, p.strained.milk.of, Component::fat); }
double solids_into_milk(const Plan& p) { return solids_share(p, p.strained.milk.of); }

/// Shares of the seed that the strained milk carries, in percent; one for each recipe.
Json into_milk(const Json& c) {
  const std::vector<Plan> plans = plans_of_case(c);
  const Json protein = of_each(plans, protein_into_milk);
  Json r = {{"protein_recovered", protein},   {"nitrogen_extracted", protein}, {"protein_extracted", protein},
            {"protein_in_extracts", protein}, {"solids_recovered", of_each(plans, solids_into_milk)}, {"oil_extracted", of_each(plans, fat_into_milk)}};
  double most = 0;
  for (const Plan& p : plans) most = std::max(most, protein_into_milk(p));
  r["protein_extracted_max"] = most;
  r["extract_protein"] = of_each(plans, [](const Plan& p) {  // g per litre
    return p.strained.milk.of[Component::protein] * 1e3 / in_litres(volume_at_20(p.strained.milk.of));
  });
  return r;
}

double in_dry_pulp(const Plan& p, Component c) { return percent(p.strained.pulp.of[c], p.strained.pulp.of.solids_kg()); }

/// The pulp of one recipe: db is percent of its dry matter.
Json pulp(const Json& c) {
  const Plan p = plan_of_case(c);
  const Composition& pulp = p.strained.pulp.of;
  const double moisture = 100.0 * pulp.fraction(Component::water);
  return {{"moisture", moisture},
          {"dry_matter", 100.0 - moisture},
          {"protein_wet", 100.0 * pulp.fraction(Component::protein)},
          {"protein", in_dry_pulp(p, Component::protein)},
          {"fat", in_dry_pulp(p, Component::fat)},
          {"dietary_fibre", in_dry_pulp(p, Component::fibre)},
          {"ash", in_dry_pulp(p, Component::ash)},
          {"share_of_bean_protein", seed_share(p, pulp, Component::protein)},
          {"wet_pulp", pulp.total_kg() / p.dry.si()}};
}

Json shares(const Plan& p, double (*share)(const Plan&, const Composition&), const std::string& of) {
  return {{"soak_plus_whey_" + of, share(p, p.soak_water.of + p.pressed.whey.of)},
          {"residue_" + of, share(p, p.strained.pulp.of)},
          {"milk_" + of, share(p, p.strained.milk.of)},
          {"curd_" + of, share(p, p.pressed.curd.of)}};
}

/// Where the solids, protein and oil of the seed end, in percent of what it held.
Json shares_of_the_seed(const Json& c) {
  const Plan p = plan_of_case(c);
  Json r = shares(p, solids_share, "solids");
  r.update(shares(p, [](const Plan& q, const Composition& part) { return seed_share(q, part, Component::protein); }, "protein"));
  r.update(shares(p, [](const Plan& q, const Composition& part) { return seed_share(q, part, Component::fat); }, "oil"));
  r["curd_fraction_of_milk_solids"] = seed_solids(p.pressed.curd.of) / seed_solids(p.strained.milk.of);
  return r;
}

Json milk_strength(const Json& c) {
  const Composition milk = plan_of_case(c).strained.milk.of;
  return {{"milk_solids", percent(milk.solids_kg(), milk.total_kg())}, {"milk_protein", 100.0 * milk.fraction(Component::protein)}};
}

/// The water that the planner chooses by itself, and the milk that it gives.
Json chosen_milk(const Json& c) {
  const Setup s = setup_of_case(c);
  return {{"best_ratio", s.job.blend.water}, {"best_milk_protein", 100.0 * plan_of_case(c).strained.milk.of.fraction(Component::protein)}};
}

}  // namespace

Checkers extraction_checkers() {
  return {{"into_milk", into_milk}, {"pulp", pulp}, {"shares_of_the_seed", shares_of_the_seed}, {"milk_strength", milk_strength}, {"chosen_milk", chosen_milk}};
}

TEST_CASE("published extractions come out as printed, or miss as recorded") { check_published(extraction_checkers()); }

}  // namespace curdwright::test
