// SPDX-License-Identifier: MIT
// Time zones by their IANA names, from the system's own tables: those in the folder named by TZDIR, else in /usr/share/zoneinfo.
//
//     Result<Zone> zone = find_zone("Europe/Berlin");
//     Result<Moment> start = to_utc(*zone, *read_local_time("2027-03-05 18:00", "--start"), "--start");
//     ZonedTime end = to_local(*zone, later(start->utc, hours(16)));   // end.time, end.abbreviation
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "curdwright/calendar.hpp"
#include "program/tzif.hpp"

namespace curdwright::program {

struct Zone {
  std::string name;
  ZoneRules rules;
};

/// Reads one file, and the list of names only if there is no such zone. Problems: `zone-unknown` with names that are near, `file`.
Result<Zone> find_zone(std::string_view name);

struct Moment {
  std::chrono::sys_seconds utc;
  bool ambiguous = false;  ///< clocks showed this time twice, as they were set back; the earlier one is taken
};

/// The instant at which clocks in the zone show that time. A time that they skip is a problem, `time-skipped`; `option` names the option in the advice.
Result<Moment> to_utc(const Zone& zone, const LocalTime& time, std::string_view option);

struct ZonedTime {
  LocalTime time;
  std::string abbreviation;  ///< "CET"; where a zone has none, its offset, "+0545"
  std::chrono::seconds offset{0};  ///< ahead of UTC
};

/// What clocks in the zone show at that instant.
ZonedTime to_local(const Zone& zone, std::chrono::sys_seconds instant);

}  // namespace curdwright::program
