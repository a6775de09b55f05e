// SPDX-License-Identifier: MIT
/// \file resolve.hpp
/// Where recipe, kitchen and catalogue meet: words and defaults end here.
///
///     Result<Setup> s = resolve(inputs.recipe, inputs.kitchen, catalogue);
///     Plan p = plan(s->job, s->beliefs.medians());
///
/// A default may depend on the legume (how long to soak and cook, whether starch settles) and on the
/// kitchen. Every default is listed in docs/reference.md.
#pragma once

#include "curdwright/catalogue.hpp"
#include "curdwright/plan.hpp"
#include "curdwright/properties.hpp"
#include "curdwright/recipe.hpp"

namespace curdwright {

/// An extra of the recipe, in the order of Job::extras.
struct ChosenExtra {
  Extra extra;
  Stage stage = Stage::press;
};

/// A job with all that a sheet, a caution or a learner wants to know about where it came from.
struct Setup {
  Job job;
  Beliefs beliefs;
  Recipe recipe;
  Kitchen kitchen;
  std::vector<Legume> legumes;
  Coagulant coagulant;
  std::vector<ChosenExtra> extras;
  Equipment blender, strainer, press, chill, hob;
  Pot pot;                       ///< the smallest that takes the milk with its foam, else the largest
  Where soak_in = Where::fridge, starch_in = Where::room, press_in = Where::room;
  bool water_chosen = false;     ///< the blending water was chosen for the milk's protein
  bool starch_poor = false;      ///< too little starch for settling
  double press_coefficient_w_m2_k = still_air_w_m2_k;  ///< round the press
  Temperature press_surroundings = celsius(20);
  Temperature chill_medium = celsius(1);
  Pressure air;                  ///< where the kitchen stands
  Temperature boil;              ///< of water in an open pot there

  /// Whether any of the legumes has it.
  [[nodiscard]] bool any(Hazard hazard) const;
};

/// \returns the setup with one kilogram of dry seed, or what the recipe asks for in dry seed
Result<Setup> resolve(const Recipe& recipe, const Kitchen& kitchen, const Catalogue& catalogue);

/// "yellow split peas and faba beans"
std::string legume_names(const Setup& setup);
/// As the recipe tells it, else "Curd of" its legumes.
std::string title_of(const Setup& setup);

/// Records that recipe and kitchen name and that there are none of; also of inputs that could be read in part only.
/// Pointers lead into the recipe, or below /kitchen. Problems: `word-unknown`, `refused`.
Problems unknown_names(const Inputs& inputs, const Catalogue& catalogue);

/// Below this share of starch in the seed nothing is settled.
inline constexpr double starch_poor_below = 0.05;

}  // namespace curdwright
