// SPDX-License-Identifier: MIT
// When a batch starts: --start, --ready-by and the kitchen's time zone.
#pragma once

#include <optional>
#include <variant>

#include "curdwright/sheet.hpp"
#include "program/request.hpp"
#include "program/zones.hpp"

namespace curdwright::program {

/// What the command line asks of the clock.
struct DayWish {
  std::optional<LocalTime> start, ready;
  std::optional<Zone> zone;  ///< none: floating time
  [[nodiscard]] bool any() const { return start || ready; }
};
Result<DayWish> day_wish(const Request& request, const Kitchen& kitchen);

using StartTime = std::variant<std::chrono::sys_seconds, LocalTime>;

/// The start of a batch that takes so long.
struct DayStart {
  StartTime start;
  DayClock clock;
};
Result<DayStart> day_start(const DayWish& wish, Duration takes);

/// Time that is left over when both start and end are told; a problem that names the earliest end when there is too little.
Result<Duration> spare_time(const DayWish& wish, Duration takes);

}  // namespace curdwright::program
