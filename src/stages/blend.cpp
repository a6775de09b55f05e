// SPDX-License-Identifier: MIT
#include "curdwright/stages/blend.hpp"

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

/// Sets free what dissolves whatever the blade does.
void dissolve(const SoakedLot& lot, GroundBeans& g, const Theta& theta) {
  const Stream& seed = *lot.seed;
  const Minerals& dissolved = lot.dissolved;
  Composition c;
  c[Component::water] = seed.of[Component::water];
  c[Component::sugars] = seed.of[Component::sugars] * theta[Param::release_sugars];
  c[Component::ash] = seed.of[Component::ash] * theta[Param::release_ash];
  c[Component::fibre] = seed.of[Component::fibre] * theta[Param::release_fibre];
  c[Component::salts] = seed.of[Component::salts];
  Minerals m;
  m.calcium_kg = dissolved.calcium_kg + (seed.minerals.calcium_kg - dissolved.calcium_kg) * theta[Param::release_calcium];
  m.magnesium_kg = dissolved.magnesium_kg + (seed.minerals.magnesium_kg - dissolved.magnesium_kg) * theta[Param::release_magnesium];
  m.sodium_kg = dissolved.sodium_kg + (seed.minerals.sodium_kg - dissolved.sodium_kg) * theta[Param::release_ash];
  g.bound.of -= c, g.free.of += c;
  g.bound.minerals -= m, g.free.minerals += m;
}

}  // namespace

Stream releasable_of(const SoakedLot& lot, const Theta& theta) {
  const auto of = [&](Param p) { return theta.of(p, lot.legume); };
  const Composition& seed = lot.seed->of;
  Stream r;
  const double fineness = theta[Param::blender_protein];
  r.of[Component::protein] = seed[Component::protein] * of(Param::release_protein) * fineness;
  r.of[Component::fat] = seed[Component::fat] * of(Param::release_fat) * fineness;
  r.of[Component::starch] = seed[Component::starch] * theta[Param::blender_starch];
  r.granules = log_normal_granules(kilograms(r.of[Component::starch]), of(Param::granule_median), of(Param::granule_spread),
                                   of(Param::never_settles));
  return r;
}

BlendWater blend_water(const BlendSettings& s, double dry_kg, double uptake_kg, double soaked_kg) {
  BlendWater w;
  switch (s.basis) {
    case WaterBasis::total_to_dry: w.grinding_kg = s.water * dry_kg - uptake_kg; break;
    case WaterBasis::grinding_to_soaked: w.grinding_kg = s.water * soaked_kg; break;
    case WaterBasis::grinding_to_dry: w.grinding_kg = s.water * dry_kg; break;
    case WaterBasis::grinding_mass: w.grinding_kg = s.water; break;
  }
  w.below_uptake = w.grinding_kg < 0;
  w.grinding_kg = std::max(0.0, w.grinding_kg);
  w.total_to_dry = dry_kg > 0 ? (w.grinding_kg + uptake_kg) / dry_kg : 0.0;
  return w;
}

GroundBeans blend(std::span<const SoakedLot> lots, const BlendSettings& s, Mass grinding_water, const Theta& theta) {
  GroundBeans g;
  double protein = 0;
  Composition seeds;
  Temperature seeds_at;
  for (const SoakedLot& lot : lots) {
    const Stream part = releasable_of(lot, theta);
    g.releasable += part;
    g.coagulable += part.of[Component::protein] * theta.of(Param::coagulable, lot.legume);
    g.dose_mmol_g += part.of[Component::protein] * theta.of(Param::dose, lot.legume);
    protein += part.of[Component::protein];
    g.bound.of += lot.seed->of;
    g.bound.minerals += lot.seed->minerals;
    dissolve(lot, g, theta);
    seeds += lot.seed->of;
    seeds_at = lot.seed->at;
  }
  if (protein > 0) {
    g.coagulable /= protein;
    g.dose_mmol_g /= protein;
  }
  const Stream water = water_stream(grinding_water, s.water_at);
  g.free.of += water.of;
  g.free.at = g.bound.at = g.releasable.at = mixed_temperature(seeds, seeds_at, water.of, water.at);
  g.extent = capped_extent(grind_extent(s.time, s.full_time), g);
  set_free(g.bound, g.free, g.releasable * g.extent);

  const double lost = theta[Param::spill];
  g.spill = g.all() * lost;
  g.spill.at = g.free.at;
  g.free *= 1.0 - lost;
  g.bound *= 1.0 - lost;
  g.releasable *= 1.0 - lost;
  return g;
}

}  // namespace curdwright
