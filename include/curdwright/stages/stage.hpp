// SPDX-License-Identifier: MIT
/// \file stages/stage.hpp
/// Words that all stages share. A stage is a pure function from streams and settings to streams: the
/// one that goes on, and those that leave. What goes in comes out, component by component.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "curdwright/composition.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

/// In the order of the process.
enum class Stage : std::uint8_t { soak, blend, strain, starch, cook, coagulate, press, chill };
template <>
inline constexpr std::array<std::string_view, 8> word_list<Stage> = {"soak", "blend", "strain", "starch", "cook", "coagulate", "press", "chill"};
inline constexpr std::size_t stage_count = word_list<Stage>.size();
inline constexpr std::array<Stage, stage_count> all_stages = all_values<Stage>();

/// Why a plan cannot go on. The numbers that tell how far it is out are in the plan.
enum class Fault : std::uint8_t {
  none,
  water_below_uptake,     ///< the total water is less than the soak takes up
  pulp_keeps_all,         ///< the pulp would hold all of the water
  hob_too_weak,           ///< the pot loses heat as fast as the hob gives it
  no_curd,                ///< nothing sets
  moisture_too_wet,       ///< wetter than drained, unpressed curd
  moisture_out_of_reach,  ///< no water would be left for the whey solids
};

}  // namespace curdwright
