// SPDX-License-Identifier: MIT
/// \file schedule.hpp
/// How long each step of a batch takes, one after the other.
///
///     for (const Task& t : day(batch, cool(batch))) print(t.start, t.length, t.hands_on);
///
/// Waiting times come from the plan. Handling times are judgement: so long for a jarful, a straining, a ladling.
#pragma once

#include <vector>

#include "curdwright/cooling.hpp"

namespace curdwright {

enum class Step : std::uint8_t { sort_and_soak, drain, blend, strain, settle, cook, set, press, chill };

struct Task {
  Step step = Step::sort_and_soak;
  Duration start;     ///< from the beginning of the soak
  Duration length;
  Duration hands_on;  ///< of that
};

/// Steps in order, without gaps; a step that the batch does not need is left out.
std::vector<Task> day(const Batch& batch, const Cooling& cooling);

/// How long raw milk is out of the cold: from the first jarful until the pot passes 60 degC, less the time that
/// it settles in the fridge. Milk that waits for its round on the hob waits in the fridge, as the sheet says.
Duration raw_milk_standing(const Batch& batch);

/// Tenfold increases of spore-formers from the first hour of the soak to the boil, with one lag for all of it.
double growth_before_boil(const Batch& batch);

}  // namespace curdwright
