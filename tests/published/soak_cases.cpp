// SPDX-License-Identifier: MIT
// Soaking: water taken up, its time and temperature, and what is lost to the soak water.
#include "curdwright/properties.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

/// Moisture of the seed before the soak, kg per kg dry matter.
double dry_basis(const Stream& seed) { return seed.of[Component::water] / seed.of.solids_kg(); }

/// Factors from the printed units of Peleg's constants to hours per (kg/kg) and to 1/(kg/kg).
double k1_to_hours(const std::string& unit) {
  if (unit == "s per %db") return 100.0 / 3600.0;
  REQUIRE(unit == "h/%");
  return 100.0;
}

/// Peleg's curve from the printed constants.
Json peleg_curve(const Json& c) {
  const double k1 = given(c, "k1") * k1_to_hours(c.at("inputs").at("k1").at("unit").get<std::string>());
  const double k2 = given(c, "k2") * 100.0;
  const double gain = peleg_gain(given(c, "time") / k1, k2);
  Json r = {{"k1_SI", k1}, {"water_gain", gain}, {"water_gain_percent", 100 * gain}, {"equilibrium_gain", peleg_gain(1e12, k2)}};
  const std::vector<std::string> pair = records(c);  // whole, then split
  if (pair.size() == 2) r["dehulling_speedup_k1_ratio"] = seed_of(pair[1]).theta.of(Param::soak_k1, 0) / seed_of(pair[0]).theta.of(Param::soak_k1, 0);
  return r;
}

/// The soak stage at one temperature throughout, for each record and temperature.
Json soak_at(const Json& c) {
  std::map<std::string, std::vector<double>> out;
  for (const std::string& record : records(c)) {
    const Seed seed = seed_of(record);
    for (double t : all_given(c, "temperature")) {
      const TemperatureHistory history = TemperatureHistory(celsius(t)).hold(hours(given(c, "time")));
      const Soaked s = soak(seed.dry, {}, history, seed.theta, 0);
      const double moisture = dry_basis(seed.dry) + s.gain;
      out["moisture_wet_basis"].push_back(moisture / (1 + moisture));
      out["moisture_percent_db"].push_back(100 * moisture);
      out["water_absorbed"].push_back(s.gain * seed.dry.of.solids_kg());
      out["solids_lost"].push_back(100 * s.solids_lost);
      out["solids_lost_per_100g_bean"].push_back(100 * s.soak_water.of.solids_kg());
      out["protein_lost_per_100g_bean"].push_back(100 * s.soak_water.of[Component::protein]);
    }
  }
  Json r;
  for (const auto& [key, values] : out) r[key] = one_or_all(values);
  return r;
}

/// Where the record's curve ends.
Json soak_limit(const Json& c) {
  const Seed seed = seed_of(records(c).at(0));
  const double gain = peleg_gain(1e12, seed.theta.of(Param::soak_k2, 0));
  return {{"equilibrium_moisture", dry_basis(seed.dry) + gain},
          {"hydration_index", gain * seed.dry.of.solids_kg()},
          {"seed_density", in_kilograms_per_cubic_metre(mixture_density(seed.dry.of, celsius(20))) / 1000.0},
          {"seed_coat", 100 * seed.theta.of(Param::hull, 0)}};
}

/// Skins as the records hold them, percent of the seed.
Json hulls(const Json& c) {
  Json r;
  for (const std::string& record : records(c)) r["hull"] = r["hull_" + record] = 100 * seed_of(record).theta.of(Param::hull, 0);
  return r;
}

/// Hours until the seed has taken up its own mass of water.
Json doubling_time(const Json& c) {
  const Seed seed = seed_of(records(c).at(0));
  const auto of = [&](Param p) { return seed.theta.of(p, 0); };
  const double theta = peleg_theta(1.0 / seed.dry.of.solids_kg(), of(Param::soak_k2));
  const double speed = soak_speed(celsius(given(c, "temperature")), of(Param::soak_activation_energy), of(Param::soak_activation_energy_hot));
  return {{"time_to_100pct_mass_gain", in_hours(seconds(theta * of(Param::soak_k1) / speed))}};
}

/// What the records hold about how temperature and splitting speed the soak.
Json soak_energies(const Json& c) {
  std::vector<double> energy, k1;
  for (const std::string& record : records(c)) {
    const Seed seed = seed_of(record);
    energy.push_back(seed.theta.of(Param::soak_activation_energy, 0));
    k1.push_back(seed.theta.of(Param::soak_k1, 0));
  }
  Json r = {{"activation_energy", one_or_all(energy)}};
  if (k1.size() == 2) r["split_speed"] = k1[0] / k1[1];
  return r;
}

Json soaked_ratio(const Json& c) {
  const Plan p = plan_of_case(c);
  return {{"mass_ratio_soaked_to_dry", p.soaked.of.total_kg() / p.dry.si()}};
}

}  // namespace

Checkers soak_checkers() {
  return {{"peleg_curve", peleg_curve},     {"soak_at", soak_at},           {"soak_limit", soak_limit},
          {"doubling_time", doubling_time}, {"soak_energies", soak_energies}, {"soaked_ratio", soaked_ratio},
          {"hulls", hulls}};
}

TEST_CASE("published soaks come out as printed, or miss as recorded") { check_published(soak_checkers()); }

}  // namespace curdwright::test
