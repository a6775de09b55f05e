// SPDX-License-Identifier: MIT
/// \file stages/strain.hpp
/// Straining and washing the pulp: ground beans in, milk out; pulp leaves.
///
///     Strained s = strain(ground, dry_kg, settings, theta);
///
/// The ideal leaching stage: liquor that leaves and liquor that is held have the same strength, and the
/// liquor held is a constant per kg of undissolved solids. With X the water held and L the water of the
/// ground beans, recovery_i = e_i [1 - (X/L) (X/(X+W1)) ...]. Squeezing too little shows as heavier pulp.
#pragma once

#include <array>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/grinding.hpp"

namespace curdwright {

/// One washing of the pulp; with `blend` the pulp goes through the blender again.
struct Wash {
  double water_to_dry = 1.0;  ///< kg per kg dry seed
  Duration blend;             ///< zero: stirred only
  bool operator==(const Wash&) const = default;
};

struct StrainSettings {
  static constexpr std::size_t max_washes = 4;
  std::array<Wash, max_washes> washes{};
  std::size_t wash_count = 0;
  Temperature wash_at = celsius(15);
  Duration blend_time = seconds(45);  ///< of the blending before, which a wash may lengthen
  Duration full_time = seconds(45);
};

struct Strained {
  Stream milk;
  Stream pulp;
  double held_kg = 0;   ///< water of the liquor left in the pulp
  double wash_kg = 0;   ///< all wash water
  Fault fault = Fault::none;
};

/// One pressing, as it leaves the pulp.
struct Pressing {
  Stream off;            ///< what runs off
  double held_kg = 0;    ///< water of the liquor that the pulp keeps
  double wash_kg = 0;    ///< water of the washing before it
  double set_free = 0;   ///< share of the releasable that blending in the washing set free
};
/// Presses what was ground, which must have more water than the pulp holds. \param pulp what is left
Pressing press_ground(GroundBeans& pulp, const Theta& theta);
/// Washes the pulp and presses it again. \param blended how long so far
Pressing press_washed(GroundBeans& pulp, const Wash& wash, double dry_kg, Duration blended, const StrainSettings& settings, const Theta& theta);

/// \param dry_kg dry seed that the wash water is reckoned on
Strained strain(const GroundBeans& ground, double dry_kg, const StrainSettings& settings, const Theta& theta);

}  // namespace curdwright
