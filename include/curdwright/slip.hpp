// SPDX-License-Identifier: MIT
/// \file slip.hpp
/// What a reading that cannot be right most likely is: a forgotten tare, a wrong unit, a shifted point, swapped digits or
/// swapped figures.
///
///     Slip s = likely_slip(reading, expected_si, kitchen, others);
///     if (s.kind == SlipKind::tare) ask("was the " + s.detail + " weighed with it?");
#pragma once

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

}  // namespace curdwright
