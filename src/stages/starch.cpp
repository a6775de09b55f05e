// SPDX-License-Identifier: MIT
#include "curdwright/stages/starch.hpp"

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

/// Dry starch per volume of settled bed, kg/m3: bed fraction x granule density / (1 + granule water).
double bed_starch_kg_m3(const Theta& theta) {
  return theta[Param::bed_fraction] * theta[Param::granule_density] / (1.0 + theta[Param::granule_water]);
}

/// Milk between the granules of a bed, m3 per kg dry starch.
double bed_milk_m3(double starch_kg, const Theta& theta) {
  return starch_kg / bed_starch_kg_m3(theta) * (1.0 - theta[Param::bed_fraction]);
}

/// Splits settled granules, their water and the milk between them off `milk` into `bed`. \returns share of the milk between them
double take_bed(Stream& milk, Stream& bed, const Granules& settled, const Theta& theta) {
  const double starch = settled.settleable_kg();
  bed.granules = settled;
  bed.of[Component::starch] = starch;
  bed.of[Component::water] = std::min(starch * theta[Param::granule_water], 0.5 * milk.of[Component::water]);
  milk.of -= bed.of;
  milk.granules -= settled;
  const double volume = volume_at_20(milk.of).si();
  const double share = volume > 0 ? std::min(0.9, bed_milk_m3(starch, theta) / volume) : 0.0;
  const Stream between = milk * share;
  milk -= between;
  bed += between;
  return share;
}

/// Granules that are below the clear depth once they have fallen.
Granules settled_of(const Granules& granules, double fall_per_square, double clear_depth_m) {
  Granules settled;
  for (std::size_t i = 0; i < Granules::bins; ++i) {
    const double d = Granules::diameter_m(i);
    settled.kg[i] = granules.kg[i] * std::min(1.0, fall_per_square * d * d / clear_depth_m);
  }
  return settled;
}

double crowding_of(const Granules& granules, double volume_m3, const Theta& theta) {
  return std::min(0.6, granules.total_kg() * (1.0 + theta[Param::granule_water]) / theta[Param::granule_density] / volume_m3);
}

double protein_volume_of(const Composition& milk, double volume_m3, const Theta& theta) {
  return std::min(0.4, theta[Param::protein_voluminosity] * 1e-3 * milk[Component::protein] / volume_m3);
}

double slowed(double crowding, double protein_volume, const Theta& theta) {
  return hindrance(crowding, theta[Param::hindered_exponent]) / relative_viscosity(protein_volume);
}

double fall_in_water(const TemperatureHistory& history, const Theta& theta) {
  return integrate(history, [density = theta[Param::granule_density]](Temperature t) {
    return stokes_velocity_m_s(1.0, density, in_kilograms_per_cubic_metre(water_density(t)), water_viscosity_pa_s(t));
  });
}

}  // namespace

double stokes_velocity_m_s(double diameter_m, double granule_kg_m3, double fluid_kg_m3, double viscosity_pa_s) {
  return (granule_kg_m3 - fluid_kg_m3) * gravity_m_s2 * diameter_m * diameter_m / (18.0 * viscosity_pa_s);
}

double hindrance(double volume_fraction, double exponent) { return std::pow(1.0 - volume_fraction, exponent); }

double fall_per_square_m(const Composition& milk, const Granules& granules, const TemperatureHistory& history,
                         const Theta& theta) {
  const double volume = volume_at_20(milk).si();
  return slowed(crowding_of(granules, volume, theta), protein_volume_of(milk, volume, theta), theta) * fall_in_water(history, theta);
}

Standing stand(const Stream& milk, const StarchSettings& s, Duration time, const Theta& theta) {
  Standing r;
  r.time_constant = pot_time_constant(milk.of * (1.0 / s.vessels), milk.at, theta[Param::vessel_coefficient]);
  r.history = TemperatureHistory(milk.at).relax(time, s.surroundings, r.time_constant);
  const double volume = volume_at_20(milk.of).si();
  r.bed_share = std::min(0.5, milk.granules.settleable_kg() / bed_starch_kg_m3(theta) / volume);
  // Milk below the ladle's reach does not count: the last cloudy milk, and the layer itself.
  r.clear_m = in_metres(standing_depth(milk, s)) * (1.0 - theta[Param::heel] - r.bed_share);
  r.crowding = crowding_of(milk.granules, volume, theta);
  r.protein_volume = protein_volume_of(milk.of, volume, theta);
  r.fall_in_water = fall_in_water(r.history, theta);
  r.fall_per_square = slowed(r.crowding, r.protein_volume, theta) * r.fall_in_water;
  return r;
}

Settled settle_once(Stream& milk, const StarchSettings& s, const Theta& theta) {
  Settled r{.bed = {}, .heel = {}, .between = 0, .standing = stand(milk, s, s.time, theta)};
  const Granules settled = settled_of(milk.granules, r.standing.fall_per_square, r.standing.clear_m);
  milk.at = r.standing.history.end();
  r.between = take_bed(milk, r.bed, settled, theta);
  r.heel = milk * theta[Param::heel];
  milk -= r.heel;
  r.bed.at = r.heel.at = milk.at;
  return r;
}

Gelled gel_once(Stream& milk, const Theta& theta) {
  Gelled r;
  const double starch = milk.of[Component::starch];
  const double removed = theta[Param::gel_removed];
  r.gel.of[Component::starch] = removed * starch;
  r.gel.granules = milk.granules * removed;
  r.gel.at = milk.at;
  milk -= r.gel;
  const double rest = milk.of.total_kg();
  // The gel cannot hold more than most of the milk: a guard against very starchy milk.
  r.held = rest > 0 ? std::min(0.6, theta[Param::gel_holds] * r.gel.of[Component::starch] / rest) : 0.0;
  const Stream held = milk * r.held;
  milk -= held;
  r.gel += held;
  return r;
}

double share_settled(const Granules& granules, double fall_per_square, double clear_depth_m) {
  const double all = granules.settleable_kg();
  return all > 0 ? settled_of(granules, fall_per_square, clear_depth_m).settleable_kg() / all : 0.0;
}

double settled_after(const Stream& milk, const StarchSettings& s, Duration time, const Theta& theta) {
  const Standing standing = stand(milk, s, time, theta);
  return share_settled(milk.granules, standing.fall_per_square, standing.clear_m);
}

Length standing_depth(const Stream& milk, const StarchSettings& s) {
  return s.depth ? *s.depth : volume_at_20(milk.of) / (s.vessel * s.vessels);
}

Destarched remove_starch(const Stream& in, const StarchSettings& s, const Theta& theta) {
  Destarched r;
  r.milk = in;
  const double before = in.granules.total_kg();
  r.history = TemperatureHistory(in.at);
  if (s.settles()) {
    r.depth = standing_depth(in, s);
    for (int i = 0; i < s.times; ++i) {
      const Settled settled = settle_once(r.milk, s, theta);
      for (const HistoryPiece& p : settled.standing.history.pieces()) r.history.relax(p.length, p.target, p.time_constant);
      r.sediment += settled.bed;
      r.heel += settled.heel;
    }
    r.sediment.at = r.heel.at = r.milk.at;
  }
  r.share_settled = before > 0 ? r.sediment.granules.settleable_kg() / before : 0.0;
  // Its warming is the first part of the one heating that the cook reckons.
  if (s.strains_gel()) r.gel = gel_once(r.milk, theta).gel;
  return r;
}

}  // namespace curdwright
