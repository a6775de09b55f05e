// SPDX-License-Identifier: MIT
// How far GDL has turned to acid: what the coagulate stage and its terms share.
#pragma once

#include "curdwright/parameters.hpp"
#include "curdwright/temperature_history.hpp"

namespace curdwright {

/// Time at 25 degC in which as much would turn, s.
double gdl_seconds_at_25(const TemperatureHistory& history, const Theta& theta);

}  // namespace curdwright
