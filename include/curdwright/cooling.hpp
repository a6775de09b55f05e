// SPDX-License-Identifier: MIT
/// \file cooling.hpp
/// How the block of a batch cools, and what would make it cool fast enough.
///
///     Cooling c = cool(batch);
///     if (!c.met) std::string mend = c.mend;
#pragma once

#include <string>

#include "curdwright/solve.hpp"

namespace curdwright {

/// Cooling limits of a region: from `from` to `first` within `first_within`, to `second` within `second_within`,
/// both counted from the moment the centre passes `from`.
struct CoolingLimits {
  std::string_view rule;
  Temperature from, first, second;
  Duration first_within, second_within;
};
/// The two-stage clock of the region; the EU sets none, so the tool uses the US one there.
CoolingLimits cooling_limits(const Kitchen& kitchen);

struct Cooling {
  Temperature start;                      ///< of the block when it is laid in the press
  std::optional<Duration> under_from, under_first, under_second;  ///< since then
  bool met = false;                       ///< both limits; unknown counts as not met
  std::string mend;                       ///< smallest change that would meet them; empty when met
  Temperature medium;
};

Cooling cool(const Batch& batch);

/// How long the centre of the block, in the press at room temperature, stands above 5 degC and below 57:
/// the time that counts as out of control.
Duration out_of_control_in_press(const Batch& batch);

}  // namespace curdwright
