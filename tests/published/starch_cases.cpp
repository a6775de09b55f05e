// SPDX-License-Identifier: MIT
// Starch: granules, how they fall, what they settle to, and the milk that slows them.
#include <boost/math/tools/toms748_solve.hpp>
#include <set>

#include "curdwright/cautions.hpp"
#include "curdwright/properties.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

Json granule_constants(const Json&) {
  const Theta theta = model_medians();
  return {{"hydrated_granule_density", theta[Param::granule_density]},
          {"granule_moisture", theta[Param::granule_water]},
          {"packing_fraction", theta[Param::bed_fraction]},
          {"voluminosity_of_milk_particles", theta[Param::protein_voluminosity]}};
}

/// Starch in water that weighs as much as the printed slurry, kg per kg.
double starch_share(double slurry_kg_m3) {
  const auto slurry = [](double share) {
    Composition c;
    c[Component::starch] = share;
    c[Component::water] = 1.0 - share;
    return c;
  };
  const auto off = [&](double share) { return in_kilograms_per_cubic_metre(liquid_density(slurry(share), celsius(20))) - slurry_kg_m3; };
  boost::uintmax_t most = 60;
  const auto r = boost::math::tools::toms748_solve(off, 0.0, 0.9, boost::math::tools::eps_tolerance<double>(40), most);
  return 0.5 * (r.first + r.second);
}

/// A tube of slurry, left until all has settled.
Json settled_bed(const Json& c) {
  const double slurry_kg = given(c, "tube") * 1e-6 * given(c, "slurry_density");
  const double starch_kg = slurry_kg * starch_share(given(c, "slurry_density"));
  Stream slurry = water_stream(kilograms(slurry_kg - starch_kg), celsius(20));
  slurry.of[Component::starch] = starch_kg;
  slurry.granules = log_normal_granules(kilograms(starch_kg), 40e-6, 1.35, 0.0);
  StarchSettings standing;
  standing.depth = centimetres(10);
  standing.time = hours(72);
  const Destarched d = remove_starch(slurry, standing, model_medians());
  const double bed_ml = in_millilitres(volume_at_20(d.sediment.of));
  return {{"sediment", bed_ml}, {"implied_dry_starch_per_mL", 1e3 * d.sediment.of[Component::starch] / bed_ml}};
}

/// Median diameters of the records, micrometres.
Json granule_size(const Json& c) {
  std::vector<double> medians;
  for (const std::string& record : records(c)) medians.push_back(1e6 * seed_of(record).theta.of(Param::granule_median, 0));
  return {{"diameter", one_or_all(medians)}, {"mean_diameter", one_or_all(medians)}};
}

Json gel_onset(const Json& c) { return {{"temperature", seed_of(records(c).at(0)).theta.of(Param::gel_onset, 0)}}; }

Json stokes(const Json& c) {
  const Temperature t = celsius(given(c, "temperature"));
  const double d = given(c, "diameter") * 1e-6, fluid = in_kilograms_per_cubic_metre(water_density(t)), viscosity = water_viscosity_pa_s(t);
  const double v = stokes_velocity_m_s(d, given(c, "granule_density"), fluid, viscosity);
  Json r = {{"stokes_velocity", v * 1e6}, {"per_hour", v * 1e3 * 3600}, {"reynolds", fluid * v * d / viscosity}};
  if (c.at("inputs").contains("depth")) r["time_to_fall"] = given(c, "depth") / v / 3600;
  return r;
}

Json hindered(const Json& c) {
  const double phi = given(c, "volume_fraction");
  return {{"factor_n_4.65", hindrance(phi, 4.65)}, {"factor_n_5.6", hindrance(phi, 5.6)}};
}

Json thickened(const Json& c) {
  const double p = given(c, "protein") * given(c, "voluminosity");
  return {{"volume_fraction", p}, {"relative_viscosity_batchelor", relative_viscosity(p)}};
}

/// Does the planner call the block another food than curd?
std::string verdict(const std::string& record, const std::string& remove) {
  const Batch batch = batch_of(Json{{"legume", record}, {"want", {{"dry", "500 g"}}}, {"starch", {{"remove", remove}}}}.dump());
  for (const Caution& c : cautions(facts_of(batch)))
    if (c.rule == "P1") return "not acceptable";
  return "acceptable";
}

/// The same verdict for every legume of the case, or all of them.
Json starch_warning(const Json& c) {
  const auto of_all = [&](const std::string& remove) {
    std::set<std::string> verdicts;
    for (const std::string& record : records(c)) verdicts.insert(verdict(record, remove));
    return verdicts.size() == 1 ? Json(*verdicts.begin()) : Json(verdicts);
  };
  return {{"without_starch_removal", of_all("none")}, {"with_part_of_the_starch_removed", of_all("settle")}};
}

}  // namespace

Checkers starch_checkers() {
  return {{"granule_constants", granule_constants}, {"settled_bed", settled_bed}, {"granule_size", granule_size}, {"gel_onset", gel_onset},
          {"stokes", stokes},                       {"hindered", hindered},       {"thickened", thickened},   {"starch_warning", starch_warning}};
}

TEST_CASE("published starch figures come out as printed, or miss as recorded") { check_published(starch_checkers()); }

}  // namespace curdwright::test
