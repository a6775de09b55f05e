// SPDX-License-Identifier: MIT
/// \file slip.hpp
/// What a reading that cannot be right most likely is: a forgotten tare, a wrong unit, a shifted point, swapped digits or
/// swapped figures; and readings that together break the mass balance of a stage.
///
///     Slip s = likely_slip(reading, expected_si, kitchen, others);
///     if (s.kind == SlipKind::tare) ask("was the " + s.detail + " weighed with it?");
///     if (auto gain = mass_gain(plan, readings)) ask(gain->readings + " weigh more than what went in");
#pragma once

#include <optional>
#include <span>
#include <string>

#include "curdwright/measure.hpp"

namespace curdwright {

/// Readings are suspected below this weight.
inline constexpr double suspect_below = 0.5;
/// and count for nothing below this.
inline constexpr double counts_for_nothing = 0.02;

enum class SlipKind { none, swapped, tare, tare_taken_twice, unit, point, digits };

struct Slip {
  SlipKind kind = SlipKind::none;
  std::string detail;    ///< the vessel, the unit that was meant, the other reading, the figure with its digits in order
};

/// A reading beside what is expected of it.
struct Expected {
  const Reading* reading = nullptr;
  double si = 0;
};

/// The first explanation that brings the reading near what is expected.
Slip likely_slip(const Reading& reading, double expected_si, const Kitchen& kitchen, std::span<const Expected> others);

/// More weighed out of a stage than went in, which no scale's error explains.
struct MassGain {
  double share = 0;      ///< of what went in
  std::string readings;  ///< "pulp and milk"
};
/// The worst gain of straining (pulp and milk) and of pressing (curd and whey); none where both are not weighed, or no more
/// than 3 % too heavy (judgement). What went in is weighed where it can be, else as `plan` has it.
/// \param plan of the job as it was done \param readings those that count
std::optional<MassGain> mass_gain(const Plan& plan, std::span<const Reading* const> readings);

}  // namespace curdwright
