// SPDX-License-Identifier: MIT
/// \file cooling.hpp
/// How the block of a batch cools, and what would make it cool fast enough.
///
///     Cooling c = cool(batch, timeline(batch).handling);
///     if (!c.met) std::string mend = c.mend;
#pragma once

#include <string>

#include "curdwright/solve.hpp"

namespace curdwright {

/// Cooling limits of a region: from `from` to `first` within `first_within`, to `second` within `second_within`,
/// both counted from the moment the centre passes `from`.
struct CoolingLimits : CoolingLevels {
  std::string_view rule;
  Duration first_within, second_within;
};
/// The two-stage clock of the region; the EU sets none, so the tool uses the US one there.
CoolingLimits cooling_limits(const Kitchen& kitchen);

/// The last block of a batch: curd of earlier fillings has waited less.
struct Cooling : Chilled {
  Temperature start;                      ///< of the block when it is laid in the press
  bool met = false;                       ///< both limits; unknown counts as not met
  std::string mend;                       ///< smallest change that would meet them; empty when met
  Temperature medium;
};

/// What hands add to the clock: from the timeline.
struct Handling {
  Duration in_pot;      ///< longest time from the pour to the end of moulding, besides the wait: pouring, queueing, ladling
  Duration unmoulding;  ///< until the last block of a filling is out
};
Cooling cool(const Batch& batch, const Handling& handling);

/// The middle of the last block, so long after it was laid in the press.
Temperature block_centre(const Batch& batch, const Handling& handling, Duration since_pressed);

/// The curd from the boil until it is laid in the press; the last of it waits there for moulds.
TemperatureHistory in_pot(const Batch& batch, const Handling& handling);

/// How long the curd stands below 57 degC out of the cold, in the pot and in the press: the time that counts as
/// out of control.
Duration out_of_control(const Batch& batch, const Handling& handling);

}  // namespace curdwright
