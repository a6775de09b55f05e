// SPDX-License-Identifier: MIT
// The day in words: from operations to lines that a cook follows, and to events of a calendar.
#pragma once

#include "sheets/amounts.hpp"

namespace curdwright::sheets {

/// "Fri 5 Mar 18:00" by the clock, "16:10" from the start.
std::string moment(const DayClock* clock, Duration since_start);

/// Fills what a sheet says of its day.
void write_day(Sheet& sheet, const Timeline& timeline, const DayClock* clock);

}  // namespace curdwright::sheets
