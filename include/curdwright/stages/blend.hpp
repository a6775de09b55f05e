// SPDX-License-Identifier: MIT
/// \file stages/blend.hpp
/// Blending: soaked seed and water in, ground beans out.
///
///     BlendWater w = blend_water(settings, dry_kg, uptake_kg, soaked_kg);
///     GroundBeans g = blend(soaked, settings, kilograms(w.grinding_kg), theta);
///
/// Grinding breaks a share of the cells and sets free what is in them. What is free moves with the
/// liquor; what is bound stays with the undissolved solids until it is blended again:
///     free_i = e_i g(t) m_i,   g(t) = (1 - exp(-3 t/t_full)) / (1 - exp(-3))
/// with e_i the share that a full blend sets free and t_full the blender's full time. The shape of g is
/// a guess; sugars and minerals dissolve whatever the blade does, so g does not touch them.
#pragma once

#include <optional>
#include <span>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/stage.hpp"

namespace curdwright {

/// What a water figure in a recipe is reckoned on.
enum class WaterBasis : std::uint8_t {
  total_to_dry,      ///< soak uptake + grinding water, per kg dry seed, without washes
  grinding_to_soaked,///< grinding water per kg drained soaked seed
  grinding_to_dry,   ///< grinding water per kg dry seed
};

struct BlendSettings {
  WaterBasis basis = WaterBasis::total_to_dry;
  double water = 8.0;  ///< kg/kg on that basis
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

/// How far blending has come: 0 at the start, 1 at the full time, at most 1.05.
double grind_extent(Duration time, Duration full_time);

/// One legume of the mix, soaked, with the index of its parameters.
struct SoakedLot {
  const Stream* seed = nullptr;
  std::size_t legume = 0;
  bool pulse = true;
};

struct GroundBeans {
  Stream free;        ///< liquor: water, what is dissolved, and what floats in it
  Stream bound;       ///< undissolved solids with what is still locked in them
  Stream releasable;  ///< what a full blend sets free and time governs: protein, fat, starch
  double extent = 0;  ///< g(t) so far
  Stream spill;       ///< left on jar and bucket
  double coagulable = 0;   ///< share of the milk protein that curdles, weighted by protein
  double dose_mmol_g = 0;  ///< coagulant per gram of milk protein, weighted by protein
  [[nodiscard]] Stream all() const { return free + bound; }
};

/// \param lots the soaked legumes side by side \param grinding_water kg, at settings.water_at
GroundBeans blend(std::span<const SoakedLot> lots, const BlendSettings& settings, Mass grinding_water, const Theta& theta);

/// Blends longer: sets free what the added time allows.
void blend_further(GroundBeans& ground, Duration before, Duration after, Duration full_time);

}  // namespace curdwright
