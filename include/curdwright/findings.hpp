// SPDX-License-Identifier: MIT
/// \file findings.hpp
/// What a lesson comes to: numbers that this kitchen has otherwise than the books, readings that may be slips, and batches whose
/// readings together weigh more than what went in.
///
///     for (const Finding& f : findings(lesson, taught)) print(info(f.param).plain, f.now, f.books);
///     for (const Suspect& s : suspects(lesson, taught)) print(s.batch, s.reading->told, s.expected_si);
#pragma once

#include <span>
#include <string>
#include <vector>

#include "curdwright/learn.hpp"
#include "curdwright/slip.hpp"

namespace curdwright {

/// A batch that was learned from, with its readings as told, in the order of its observations.
struct Taught {
  BatchSeen batch;
  std::vector<Reading> readings;
};

/// One number as this kitchen has it, beside the books; in the unit that the model reckons in.
struct Finding {
  Param param = Param::end;
  std::string whose;             ///< legume or gear in kitchen words; empty: the kitchen's
  double now = 0, low = 0, high = 0, books = 0;  ///< median, ends of the middle 80 %, shipped median
  double moved = 0, open = 1;    ///< in shipped spreads; share of the spread that is left
};
/// Numbers that batches moved or made surer, the most moved first. \param taught in the order of the lesson's batches, here and below
std::vector<Finding> findings(const Lesson& lesson, std::span<const Taught> taught);

/// A reading that is likely a slip.
struct Suspect {
  std::string batch;
  const Reading* reading = nullptr;  ///< of `taught`
  double expected_si = 0;
  Slip slip;
  double weight = 0;                 ///< chance that it is none
};
std::vector<Suspect> suspects(const Lesson& lesson, std::span<const Taught> taught);

/// Readings of one batch that together break its mass balance.
struct BatchGain {
  std::string batch;
  MassGain gain;
};
std::vector<BatchGain> mass_gains(const Lesson& lesson, std::span<const Taught> taught);

}  // namespace curdwright
