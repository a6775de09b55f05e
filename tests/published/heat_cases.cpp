// SPDX-License-Identifier: MIT
// Thermal properties, boiling, hobs.
#include "curdwright/properties.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

Composition composition_of(const Json& printed) {
  static const std::map<std::string, Component> names = {{"water", Component::water},   {"protein", Component::protein}, {"fat", Component::fat},
                                                         {"fibre", Component::fibre},   {"ash", Component::ash},         {"carbohydrate", Component::sugars},
                                                         {"carbohydrate_less_fibre", Component::sugars}};
  Composition c;
  for (const auto& [name, share] : printed.items()) c[names.at(name)] += share.get<double>();
  return c;
}

Json mixture(const Json& c) {
  const Composition food = composition_of(c.at("inputs").at("composition"));
  const Temperature t = celsius(given(c, "temperature"));
  const double heat = heat_capacity_j_kg_k(food, t) / 1000.0;
  return {{"density", in_kilograms_per_cubic_metre(mixture_density(food, t))}, {"specific_heat", heat}, {"specific_heat_4.1762_water", heat}};
}

Json saturation(const Json& c) { return {{"saturation_pressure", in_pascals(saturation_pressure(kelvin(given(c, "temperature")))) * 1e-6}}; }

Json boiling(const Json& c) { return {{"saturation_temperature", in_kelvin(boiling_temperature(pascals(given(c, "pressure") * 1e6)))}}; }

Json altitude(const Json& c) {
  const Pressure p = pressure_at_altitude(metres(given(c, "altitude")));
  return {{"standard_pressure", in_kilopascals(p)}, {"boiling_point", in_celsius(boiling_temperature(p))}};
}

Json water(const Json& c) {
  const Temperature t = celsius(given(c, "temperature"));
  return {{"density", in_kilograms_per_cubic_metre(water_density(t))},
          {"viscosity", water_viscosity_pa_s(t) * 1e3},
          {"psat", in_kilopascals(saturation_pressure(t))}};
}

/// Efficiencies that the records hold.
Json hobs(const Json&) {
  const Catalogue catalogue = Catalogue::shipped();
  Json r;
  for (const char* id : {"gas", "electric", "induction"})
    r[std::string("efficiency_") + id] = must(catalogue.equipment(EquipmentKind::hob, id)).figures.find("efficiency")->second.value;
  return r;
}

}  // namespace

Checkers heat_checkers() {
  return {{"mixture", mixture}, {"saturation", saturation}, {"boiling", boiling}, {"altitude", altitude}, {"water", water}, {"hobs", hobs}};
}

TEST_CASE("published heat figures come out as printed, or miss as recorded") { check_published(heat_checkers()); }

}  // namespace curdwright::test
