// SPDX-License-Identifier: MIT
/// \file calendar.hpp
/// Times as a kitchen clock shows them, and events as a calendar program reads them (iCalendar, RFC 5545).
///
///     Result<LocalTime> start = read_local_time("2027-03-05 18:00", "--start");
///     LocalTime ready = later(*start, hours(16));    // 2027-03-06 10:00
///     spoken(ready);                                 // "Sat 6 Mar 10:00"
///     Calendar c{*start, "Chickpea blocks", {{.uid = event_uid(recipe, iso(*start), "soak"), .summary = "Soak", .length = hours(16)}}};
///     std::string file = to_ics(c);
///
/// A LocalTime alone has no zone: its days all have 24 hours. Which instant it is, and how a night with a clock
/// change counts, is for whoever knows the zone; events then begin at that instant.
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "curdwright/problem.hpp"
#include "curdwright/quantity.hpp"

namespace curdwright {

/// A date and a time of day, to the minute, as clock and calendar on the wall show them.
struct LocalTime {
  std::chrono::year_month_day date{std::chrono::year(1970), std::chrono::January, std::chrono::day(1)};
  int hour = 0;
  int minute = 0;

  auto operator<=>(const LocalTime&) const = default;
};

/// Reads "2027-03-05 18:00" or "2027-03-05T18:00", years 1970 to 2200. `option` names the option in the advice.
Result<LocalTime> read_local_time(std::string_view text, std::string_view option);

/// Seconds since 1970-01-01 00:00 on the same clock, were it never changed.
std::chrono::local_seconds on_clock(const LocalTime& time);
/// Back again; seconds are cut off.
LocalTime from_clock(std::chrono::local_seconds seconds);

/// So much later, or earlier if negative, rounded to the minute. Without a zone: no clock change is known.
LocalTime later(const LocalTime& time, Duration by);
/// The same for an instant; with a zone, add here and look up the local time of the sum.
std::chrono::sys_seconds later(std::chrono::sys_seconds instant, Duration by);
/// From one to the other, negative if `to` is before `from`.
Duration between(const LocalTime& from, const LocalTime& to);

/// "Friday"
std::string_view weekday(const LocalTime& time);
/// "Fri 5 Mar 18:00"; English whatever the locale.
std::string spoken(const LocalTime& time);
/// "Fri 5 Mar 2027"
std::string dated(const LocalTime& time);
/// "2027-03-05 18:00", as read_local_time takes it.
std::string iso(const LocalTime& time);

/// One entry of a calendar.
struct CalendarEvent {
  std::string uid;          ///< from event_uid
  std::string summary;
  std::string description;  ///< may have several lines; left out when empty
  Duration start;           ///< from the calendar's start
  Duration length;          ///< none, or under half a minute: a moment without an end
  bool alarm = false;       ///< reminds five minutes before the start
  bool waiting = false;     ///< nobody has to stand by: the time is shown as free
};

/// Events of one batch. They begin at an instant, or, where no zone is known, at a time of whatever clock reads the file.
struct Calendar {
  std::variant<std::chrono::sys_seconds, LocalTime> start;
  std::string name;  ///< left out when empty
  std::vector<CalendarEvent> events;
};

/// The file: CRLF, lines of at most 75 octets. Instants are written in UTC (`...Z`), the times of a calendar without a zone as
/// floating. Starts and ends are rounded to the minute of the batch, so that what follows on begins where the one before ends.
///
/// DTSTAMP should say when the entry was made. The same input must give the same bytes, so it says when the batch begins; for floating
/// times that is the local time with a `Z`, since the standard allows no other form.
std::string to_ics(const Calendar& calendar);

/// An id for one step of one batch: the same input gives the same id, so that a calendar program which reads the file again replaces the
/// entry and adds none. A hash (FNV-1a, 64 bits) of the three texts, at curdwright.invalid, a name that no host can have (RFC 2606).
std::string event_uid(std::string_view recipe, std::string_view start, std::string_view step);

}  // namespace curdwright
