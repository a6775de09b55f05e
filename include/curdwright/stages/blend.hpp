// SPDX-License-Identifier: MIT
/// \file stages/blend.hpp
/// Blending: soaked seed and water in, ground beans out.
///
///     BlendWater w = blend_water(settings, dry_kg, uptake_kg, soaked_kg);
///     GroundBeans g = blend(soaked, settings, kilograms(w.grinding_kg), theta);
///
/// What a full blend sets free of a component is e_i m_i; stages/grinding.hpp says how it grows with time.
/// Sugars, minerals and added salts dissolve whatever the blade does.
#pragma once

#include <optional>
#include <span>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/grinding.hpp"

namespace curdwright {

/// What a water figure in a recipe is reckoned on.
enum class WaterBasis : std::uint8_t {
  total_to_dry,      ///< soak uptake + grinding water, per kg dry seed, without washes
  grinding_to_soaked,///< grinding water per kg drained soaked seed
  grinding_to_dry,   ///< grinding water per kg dry seed
  grinding_mass,     ///< grinding water in kg, whatever the size of the batch
};

struct BlendSettings {
  WaterBasis basis = WaterBasis::total_to_dry;
  double water = 8.0;  ///< on that basis, kg/kg, or kg
  Temperature water_at = celsius(15);
  Duration time = seconds(45);
  Duration full_time = seconds(45);  ///< of this class of blender
  int jarfuls = 1;
  Volume jar = litres(2);
  double fill = 0.667;  ///< share of the jar that may be filled
};

struct BlendWater {
  double grinding_kg = 0;
  double total_to_dry = 0;
  bool below_uptake = false;
};
/// Grinding water, kg, from the basis that the recipe uses.
BlendWater blend_water(const BlendSettings& settings, double dry_kg, double uptake_kg, double soaked_kg);

/// One legume of the mix, soaked, with the index of its parameters.
struct SoakedLot {
  const Stream* seed = nullptr;
  std::size_t legume = 0;
  Minerals dissolved{};  ///< taken up with the soak water and not bound in the seed
};

/// What a full blend sets free of one legume, and time governs: protein, fat, starch with its granules.
Stream releasable_of(const SoakedLot& lot, const Theta& theta);

/// \param lots the soaked legumes side by side \param grinding_water kg, at settings.water_at
GroundBeans blend(std::span<const SoakedLot> lots, const BlendSettings& settings, Mass grinding_water, const Theta& theta);

}  // namespace curdwright
