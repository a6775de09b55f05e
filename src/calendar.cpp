// SPDX-License-Identifier: MIT
#include "curdwright/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "text/width.hpp"

namespace curdwright {
namespace {

namespace chrono = std::chrono;

constexpr std::array<std::string_view, 7> weekdays = {"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
constexpr std::array<std::string_view, 12> months = {"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"};
constexpr int first_year = 1970, last_year = 2200;

std::string_view month_name(const LocalTime& t) { return months[static_cast<unsigned>(t.date.month()) - 1]; }

/// Whether every character of `text` stands where `form` has a "0" for a digit, or is the same.
bool has_form(std::string_view text, std::string_view form) {
  return text.size() == form.size() && std::equal(text.begin(), text.end(), form.begin(), [](char c, char f) { return f == '0' ? c >= '0' && c <= '9' : c == f; });
}

int number(std::string_view digits) {
  int n = 0;
  for (char c : digits) n = n * 10 + (c - '0');
  return n;
}

tl::unexpected<Problems> unreadable(std::string_view text, std::string_view option, std::string_view why) {
  constexpr std::size_t enough = 60;
  const std::string shown = text.size() <= enough ? text::harmless(text) : fmt::format("a text of {} bytes", text.size());
  return fail(Problem{"time-unreadable", {}, fmt::format("{}: \"{}\" is no date and time", option, shown), std::string(why),
                      fmt::format("write year, month, day, then hours and minutes of the day: {} \"2027-03-05 18:00\"", option)});
}

tl::unexpected<Problems> impossible(std::string_view text, std::string_view option, std::string why, std::string fix) {
  return fail(Problem{"time-impossible", {}, fmt::format("{}: there is no {}", option, text), std::move(why), std::move(fix)});
}

/// What people write instead, each told what is amiss.
tl::unexpected<Problems> explain(std::string_view text, std::string_view option) {
  const std::string_view head = text.substr(0, std::min<std::size_t>(16, text.size())), rest = text.substr(head.size());
  const bool begins_well = has_form(head, "0000-00-00 00:00") || has_form(head, "0000-00-00T00:00");
  if (begins_well && has_form(rest.substr(0, std::min<std::size_t>(3, rest.size())), ":00")) return unreadable(text, option, "a kitchen plans to the minute; seconds are not taken");
  if (begins_well && !rest.empty() && (rest[0] == 'Z' || rest[0] == 'z' || rest[0] == '+' || rest[0] == '-'))
    return unreadable(text, option, "the time is the kitchen's own; its zone is told apart from it, by name");
  if (has_form(text, "0000-00-00")) return unreadable(text, option, "the time of day is missing");
  if (has_form(text, "00:00")) return unreadable(text, option, "the date is missing, and nothing here looks at a clock to know today's");
  if (has_form(head, "0000-00-00 00") || has_form(head, "0000-00-00T00")) return unreadable(text, option, "the minutes are missing");
  const bool other_order = text.find_first_of("./") != std::string_view::npos;
  return unreadable(text, option, other_order ? "05.03. and 3/5 name different days in different countries; the year comes first here" : "");
}

}  // namespace

Result<LocalTime> read_local_time(std::string_view text, std::string_view option) {
  if (!has_form(text, "0000-00-00 00:00") && !has_form(text, "0000-00-00T00:00")) return explain(text, option);
  const int year = number(text.substr(0, 4)), month = number(text.substr(5, 2)), day = number(text.substr(8, 2));
  const int hour = number(text.substr(11, 2)), minute = number(text.substr(14, 2));
  LocalTime t{{chrono::year(year), chrono::month(static_cast<unsigned>(month)), chrono::day(static_cast<unsigned>(day))}, hour, minute};
  if (!t.date.month().ok()) return impossible(text, option, "months are 01 to 12", "the month stands second, the day third");
  if (!t.date.ok()) {
    const auto last = chrono::year_month_day_last(t.date.year(), chrono::month_day_last(t.date.month())).day();
    return impossible(text, option, fmt::format("{} {} has {} days", month_name(t), year, static_cast<unsigned>(last)), "check the day");
  }
  if (year < first_year || year > last_year)
    return fail(Problem{"out-of-range", {}, fmt::format("{}: the year {} is out of range", option, year), fmt::format("years are {} to {}", first_year, last_year), "check the year"});
  if (hour == 24 && minute == 0) {
    const LocalTime midnight = later(LocalTime{t.date, 0, 0}, hours(24));
    return impossible(text, option, "a day ends as the next one begins, at 00:00", fmt::format("write {} \"{}\"", option, iso(midnight)));
  }
  if (hour > 23 || minute > 59) return impossible(text, option, "hours are 00 to 23, minutes 00 to 59", "check the time");
  return t;
}

chrono::local_seconds on_clock(const LocalTime& t) { return chrono::local_days(t.date) + chrono::hours(t.hour) + chrono::minutes(t.minute); }

LocalTime from_clock(chrono::local_seconds seconds) {
  const auto day = chrono::floor<chrono::days>(seconds);
  const int minute = static_cast<int>(chrono::floor<chrono::minutes>(seconds - day).count());
  return {chrono::year_month_day(day), minute / 60, minute % 60};
}

namespace {

/// A duration that is no number counts as none: a calendar stays a calendar.
chrono::seconds whole_minutes(Duration d) {
  constexpr double most = 60.0 * 24.0 * 366.0 * 1000.0;
  const double m = in_minutes(d);
  return chrono::minutes(std::isfinite(m) ? static_cast<std::int64_t>(std::llround(std::clamp(m, -most, most))) : 0);
}

}  // namespace

LocalTime later(const LocalTime& time, Duration by) { return from_clock(on_clock(time) + whole_minutes(by)); }
chrono::sys_seconds later(chrono::sys_seconds instant, Duration by) { return instant + whole_minutes(by); }
Duration between(const LocalTime& from, const LocalTime& to) { return seconds(static_cast<double>((on_clock(to) - on_clock(from)).count())); }

std::string_view weekday(const LocalTime& t) { return weekdays[chrono::weekday(chrono::local_days(t.date)).c_encoding()]; }

namespace {

std::string day_of(const LocalTime& t) { return fmt::format("{} {} {}", weekday(t).substr(0, 3), static_cast<unsigned>(t.date.day()), month_name(t).substr(0, 3)); }

}  // namespace

std::string spoken(const LocalTime& t) { return fmt::format("{} {:02}:{:02}", day_of(t), t.hour, t.minute); }
std::string dated(const LocalTime& t) { return fmt::format("{} {}", day_of(t), static_cast<int>(t.date.year())); }

std::string iso(const LocalTime& t) {
  return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", static_cast<int>(t.date.year()), static_cast<unsigned>(t.date.month()), static_cast<unsigned>(t.date.day()), t.hour, t.minute);
}

namespace {

/// A text as the value of a property. Control characters have no place in one (RFC 5545, 3.3.11); what is no UTF-8 is marked as such.
std::string escaped(std::string_view s) {
  std::string out;
  while (!s.empty()) {
    const text::Character c = text::first_character(s);
    const auto first = static_cast<unsigned char>(s[0]);
    s.remove_prefix(c.bytes.size());
    if (!c.utf8) out += "\xEF\xBF\xBD";
    else if (first == '\r') out += s.empty() || s[0] != '\n' ? "\\n" : "";
    else if (first == '\n') out += "\\n";
    else if (first == '\t') out += ' ';
    else if (first == '\\' || first == ',' || first == ';') (out += '\\') += c.bytes;
    else if (first >= 0x20 && !c.unseen) out += c.bytes;
  }
  return out;
}

/// One property, folded between characters so that no line is over 75 octets; the blank that begins a continuation counts.
void put(std::string& out, std::string_view name, std::string_view value) {
  std::size_t used = name.size() + 1;
  (out += name) += ':';
  while (!value.empty()) {
    const std::size_t n = text::first_character(value).bytes.size();
    if (used + n > 75) {
      out += "\r\n ";
      used = 1;
    }
    out += value.substr(0, n);
    used += n;
    value.remove_prefix(n);
  }
  out += "\r\n";
}

/// "20270305T180000"
std::string basic(chrono::local_seconds t) {
  const LocalTime l = from_clock(t);
  const auto second = (t - chrono::floor<chrono::minutes>(t)).count();
  return fmt::format("{:04}{:02}{:02}T{:02}{:02}{:02}", static_cast<int>(l.date.year()), static_cast<unsigned>(l.date.month()), static_cast<unsigned>(l.date.day()), l.hour, l.minute,
                     second);
}

/// The calendar's start as a point of one line, be it UTC or the wall clock.
chrono::local_seconds origin(const Calendar& c) {
  if (const auto* local = std::get_if<LocalTime>(&c.start)) return on_clock(*local);
  return chrono::local_seconds(std::get<chrono::sys_seconds>(c.start).time_since_epoch());
}

void put_event(std::string& out, const CalendarEvent& e, chrono::local_seconds start, bool floating) {
  const std::string z = floating ? "" : "Z", summary = escaped(e.summary);
  const auto from = start + whole_minutes(e.start), to = start + whole_minutes(e.start + e.length);
  put(out, "BEGIN", "VEVENT");
  put(out, "UID", escaped(e.uid));
  put(out, "DTSTAMP", basic(start) + "Z");
  put(out, "DTSTART", basic(from) + z);
  if (to > from) put(out, "DTEND", basic(to) + z);
  put(out, "SUMMARY", summary);
  if (!e.description.empty()) put(out, "DESCRIPTION", escaped(e.description));
  if (e.waiting) put(out, "TRANSP", "TRANSPARENT");
  if (e.alarm) {
    put(out, "BEGIN", "VALARM");
    put(out, "ACTION", "DISPLAY");
    put(out, "DESCRIPTION", summary);
    put(out, "TRIGGER", "-PT5M");
    put(out, "END", "VALARM");
  }
  put(out, "END", "VEVENT");
}

}  // namespace

std::string to_ics(const Calendar& calendar) {
  std::string out;
  put(out, "BEGIN", "VCALENDAR");
  put(out, "VERSION", "2.0");
  put(out, "PRODID", "-//curdwright//batch planner//EN");
  if (!calendar.name.empty()) put(out, "NAME", escaped(calendar.name));
  for (const CalendarEvent& e : calendar.events) put_event(out, e, origin(calendar), std::holds_alternative<LocalTime>(calendar.start));
  put(out, "END", "VCALENDAR");
  return out;
}

std::string event_uid(std::string_view recipe, std::string_view start, std::string_view step) {
  std::uint64_t hash = 0xCBF29CE484222325U;  // FNV-1a, offset and prime of 64 bits
  const auto add = [&hash](std::string_view text) {
    for (char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
  };
  // Each length goes in too, so that "a" with "bc" is not "ab" with "c".
  for (std::string_view part : {recipe, start, step}) {
    add(fmt::format("{}:", part.size()));
    add(part);
  }
  return fmt::format("{:016x}@curdwright.invalid", hash);
}

}  // namespace curdwright
