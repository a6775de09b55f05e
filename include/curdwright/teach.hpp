// SPDX-License-Identifier: MIT
/// \file teach.hpp
/// What to measure, or to do otherwise, in the next batch, so that it teaches most.
///
///     for (const Worth& w : worth_measuring(batch.setup, lesson)) print(w.word, w.gain / w.minutes);
///
/// What counts is the logarithm of the curd's mass as this kitchen's lasting offsets leave it open: v = g'P g, with g its slope
/// by the offsets and P their covariance. Readings with slopes J and errors R bring it to v - g'P J'(J P J' + R)^-1 J P g. All is
/// reckoned at the medians that are believed now (linear), before anything is measured.
#pragma once

#include <string_view>
#include <vector>

#include "curdwright/learn.hpp"

namespace curdwright {

struct Worth {
  std::string_view word;   ///< of measure.hpp, or of the change
  std::string_view about;
  double gain = 0;         ///< of a reading: share by which the spread of the curd's mass would shrink, 0 to 1;
                           ///< of a change: by how much the spread of what it does to the logarithm of that mass would
  double minutes = 0;      ///< of work that it takes; judgement
};

/// The plan at the medians that are believed now.
/// \param next a setup with the shipped beliefs
Plan plan_now(const Setup& next, const Lesson& lesson);

/// Each reading by itself, most per minute first.
/// \param next the setup of the batch to come, with the shipped beliefs
std::vector<Worth> worth_measuring(const Setup& next, const Lesson& lesson);

/// Doing one thing otherwise: how much surer its effect, the ratio of the curd's masses with it and without, becomes by one
/// such batch with the readings of `usual`.
std::vector<Worth> worth_changing(const Setup& next, const Lesson& lesson, const std::vector<Observation>& usual);

/// Standard deviation of the logarithm of the curd's mass that the lasting offsets leave open: before anything was learned, and now.
struct Open {
  double before = 0, now = 0;
};
Open open_curd(const Setup& next, const Lesson& lesson);

}  // namespace curdwright
