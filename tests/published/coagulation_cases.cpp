// SPDX-License-Identifier: MIT
// Coagulants: what they weigh, how strong they are in the milk, how much the rule asks for, how they work.
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <functional>

#include "curdwright/properties.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

Coagulant coagulant_of(const std::string& id) { return must(Catalogue::shipped().coagulant(id)); }
double molar_mass(const std::string& id) { return coagulant_of(id).molar_mass.value; }

/// Printed formula of a compound, and the record that weighs it.
const std::map<std::string, std::string>& formulas() {
  static const std::map<std::string, std::string> all = {{"CaSO4.2H2O", "calcium-sulfate-dihydrate"},
                                                         {"CaSO4.0.5H2O", "calcium-sulfate-hemihydrate"},
                                                         {"MgCl2.6H2O", "magnesium-chloride-hexahydrate"},
                                                         {"MgCl2", "nigari-liquid"},
                                                         {"MgSO4.7H2O", "magnesium-sulfate-heptahydrate"},
                                                         {"CaCl2.2H2O", "calcium-chloride-dihydrate"},
                                                         {"CaCl2", "calcium-chloride-anhydrous"},
                                                         {"Ca lactate.5H2O", "calcium-lactate-pentahydrate"},
                                                         {"Ca acetate.H2O", "calcium-acetate-monohydrate"},
                                                         {"GDL", "gdl"},
                                                         {"acetic acid", "vinegar-5"},
                                                         {"citric acid", "citric-acid"}};
  return all;
}

Json molar_masses(const Json&) {
  Json r;
  for (const auto& [formula, record] : formulas()) r[formula] = molar_mass(record);
  const Coagulant gypsum = coagulant_of("calcium-sulfate-dihydrate");
  r["CaSO4"] = gypsum.molar_mass.value * (1.0 - gypsum.crystal_water->value);
  return r;
}

/// A litre of thin milk that holds 10 g of protein.
Stream litre_of_milk() {
  Stream milk = water_stream(kilograms(0.99), celsius(20));
  milk.of[Component::protein] = 0.010;
  return milk * (litres(1).si() / volume_at_20(milk.of).si());
}

/// Settings for a pure compound.
CoagulateSettings pure(const std::string& record) {
  CoagulateSettings s;
  const Coagulant c = coagulant_of(record);
  s.ion = c.ion;
  s.active_mol_kg = 1e3 / c.molar_mass.value;
  s.solute_kg_kg = 1.0 - (c.crystal_water ? c.crystal_water->value : 0.0);
  return s;
}

/// Grams of each pure compound that make the strength in a litre.
Json grams_per_litre(const Json& c) {
  const Stream milk = litre_of_milk();
  Json r;
  for (const auto& [formula, record] : formulas()) {
    CoagulateSettings s = pure(record);
    s.dose = millimoles_per_gram(given(c, "dose") / in_grams(kilograms(milk.of[Component::protein])));
    r[formula] = in_grams(kilograms(coagulant_dose(milk, 0.0, s, model_medians()).used_kg));
  }
  return r;
}

/// Strength of so many percent, weight by volume, of a pure compound; for a printed compound that may be either of two, both.
Json strength_in_milk(const Json& c) {
  std::vector<double> strengths;
  for (const std::string& record : records(c)) {
    CoagulateSettings s = pure(record);
    s.used = grams(10.0 * given(c, "dose"));
    strengths.push_back(in_millimolar(coagulant_dose(litre_of_milk(), 0.0, s, model_medians()).strength));
  }
  return {{"concentration", one_or_all(strengths)}};
}

Json calcium_brought(const Json& c) {
  CoagulateSettings s = pure("calcium-sulfate-dihydrate");
  s.used = grams(given(c, "gypsum"));
  const SetMilk set = coagulate(litre_of_milk(), 0.0, 0.9, s, model_medians());
  return {{"calcium", 1e6 * set.mix.minerals.calcium_kg}};
}

/// A liquid as the recipe tells it, or as its record has it.
Json liquid_strength(const Json& c) {
  const Setup s = setup_of_case(c);
  const double mol_l = s.job.coagulate.active_mol_kg * s.coagulant.density->value;
  return {{"strength", mol_l}, {"as_MgCl2.6H2O", mol_l * molar_mass("magnesium-chloride-hexahydrate")}};
}

/// What the planner's own rule gives for the recipe, in the printed terms.
Json dose_by_rule(const Json& c) {
  const Setup s = setup_of_case(c);
  const Plan p = plan_of_case(c);
  const double strength = in_millimolar(p.set.dose.strength);
  return {{"optimum_dose", strength * 1e-3 * s.coagulant.molar_mass.value / 10.0},  // g in 100 ml
          {"optimum_strength", strength},
          {"optimum_T", in_celsius(s.job.coagulate.at)},
          {"best_ratio", s.job.blend.water},
          {"dose_per_100g_bean", 100.0 * p.set.dose.used_kg / p.dry.si()}};
}

double crossing(const std::function<double(double)>& f, double low, double high) {
  boost::uintmax_t most = 60;
  const auto r = boost::math::tools::toms748_solve(f, low, high, boost::math::tools::eps_tolerance<double>(40), most);
  return 0.5 * (r.first + r.second);
}

/// Strengths between which a divalent salt sets nothing, some, all, some and nothing.
Json salt_window(const Json&) {
  constexpr double hair = 1e-6;
  const auto crosses = [](double level, double low, double high) {
    return crossing([level](double c) { return salt_sets(millimolar(c)) - level; }, low, high);
  };
  return {{"no_coagulation_below", crosses(hair, 0, 20)},
          {"stable_window", {crosses(1 - hair, 0, 20), crosses(1 - hair, 20, 300)}},
          {"no_coagulation_above", crosses(hair, 20, 300)}};
}

/// First-order rate of GDL at a temperature, 1/s.
double gdl_rate_at(double t) {
  const Duration moment = seconds(0.01);
  return -std::log1p(-gdl_hydrolysed(TemperatureHistory(celsius(t)).hold(moment), model_medians())) / in_seconds(moment);
}

Json gdl_rate(const Json& c) {
  const double t = given(c, "temperature"), k = gdl_rate_at(t);
  // Energy from the rates five degrees apart, in the thermochemical kilocalorie.
  const double per_kelvin = 1.0 / celsius(t).si() - 1.0 / celsius(t + 5).si();
  const double energy = gas_constant_kj_mol_k * std::log(gdl_rate_at(t + 5) / k) / per_kelvin / 4.184;
  return {{"k_GDL_coulometric", k}, {"k_GDL_optical", k}, {"k_hydrolysis", k}, {"Ea", energy}};
}

Json gdl_half_life(const Json& c) {
  std::vector<double> seconds_to_half;
  for (double t : all_given(c, "temperature")) seconds_to_half.push_back(std::log(2.0) / gdl_rate_at(t));
  return {{"half_life", one_or_all(seconds_to_half)}};
}

/// Share of the milk's protein that the recipe brings down, and what it leaves. Globulins are what can curdle.
Json setting_share(const Json& c) {
  const Plan p = plan_of_case(c);
  const double down = p.set.setting_protein;
  return {{"coagulated_fraction_of_milk_protein", down}, {"brought_down", 100 * down}, {"globulins", 100 * down}, {"still_dissolved", 100 * (1 - down)}};
}

}  // namespace

Checkers coagulation_checkers() {
  return {{"molar_masses", molar_masses}, {"grams_per_litre", grams_per_litre}, {"strength_in_milk", strength_in_milk}, {"calcium_brought", calcium_brought},
          {"liquid_strength", liquid_strength}, {"dose_by_rule", dose_by_rule},  {"salt_window", salt_window},           {"gdl_rate", gdl_rate},
          {"gdl_half_life", gdl_half_life},     {"setting_share", setting_share}};
}

TEST_CASE("published coagulant figures come out as printed, or miss as recorded") { check_published(coagulation_checkers()); }

}  // namespace curdwright::test
