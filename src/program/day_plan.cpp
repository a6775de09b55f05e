// SPDX-License-Identifier: MIT
#include "program/day_plan.hpp"

#include <fmt/format.h>

#include "sheets/amounts.hpp"

namespace curdwright::program {
namespace {

Result<std::optional<LocalTime>> time_option(const Request& r, std::string_view option) {
  const auto text = r.value(option);
  if (!text) return std::optional<LocalTime>();
  auto time = read_local_time(*text, option);
  if (!time) return fail(time.error());
  return std::optional(*time);
}

/// The instant of a time told by an option, or the time itself where no zone is known.
struct Told {
  StartTime at;
  bool ambiguous = false;
};
Result<Told> told(const DayWish& w, const LocalTime& time, std::string_view option) {
  if (!w.zone) return Told{time, false};
  const auto moment = to_utc(*w.zone, time, option);
  if (!moment) return fail(moment.error());
  return Told{moment->utc, moment->ambiguous};
}

StartTime shifted(const StartTime& t, Duration by) {
  return std::visit([by](const auto& at) { return StartTime(later(at, by)); }, t);
}

Duration from_to(const StartTime& a, const StartTime& b) {
  if (std::holds_alternative<LocalTime>(a)) return between(std::get<LocalTime>(a), std::get<LocalTime>(b));
  return seconds(static_cast<double>((std::get<std::chrono::sys_seconds>(b) - std::get<std::chrono::sys_seconds>(a)).count()));
}

LocalTime shown(const DayWish& w, const StartTime& t) {
  return std::holds_alternative<LocalTime>(t) ? std::get<LocalTime>(t) : to_local(*w.zone, std::get<std::chrono::sys_seconds>(t)).time;
}

/// What a cook should know of the clocks in that night.
std::string clock_note(const DayWish& w, const StartTime& start, Duration takes, bool ambiguous) {
  if (!w.zone) return "";
  const auto utc = std::get<std::chrono::sys_seconds>(start);
  std::string note;
  if (ambiguous) note = "The hour told comes twice that night; the first is meant.";
  if (to_local(*w.zone, utc).offset != to_local(*w.zone, later(utc, takes)).offset)
    note += std::string(note.empty() ? "" : " ") + "The clocks change during this batch; the times here allow for it.";
  return note;
}

}  // namespace

Result<DayWish> day_wish(const Request& r, const Kitchen& k) {
  DayWish w;
  Problems problems;
  for (const auto& [option, to] : {std::pair{"--start", &w.start}, std::pair{"--ready-by", &w.ready}}) {
    auto time = time_option(r, option);
    if (time)
      *to = *time;
    else
      problems.insert(problems.end(), time.error().begin(), time.error().end());
  }
  if (w.any() && !k.time_zone.empty()) {
    auto zone = find_zone(k.time_zone);
    if (zone)
      w.zone = std::move(*zone);
    else
      for (Problem& p : zone.error()) {
        p.place.pointer = "/kitchen/time_zone";
        problems.push_back(std::move(p));
      }
  }
  if (!problems.empty()) return fail(std::move(problems));
  return w;
}

Result<DayStart> day_start(const DayWish& w, Duration takes) {
  DayStart d;
  const auto given = w.start ? told(w, *w.start, "--start") : told(w, *w.ready, "--ready-by");
  if (!given) return fail(given.error());
  d.start = w.start ? given->at : shifted(given->at, -takes);
  d.clock.zone = w.zone ? w.zone->name : "";
  const auto ready = w.start && w.ready ? told(w, *w.ready, "--ready-by") : given;
  d.clock.note = clock_note(w, d.start, takes, given->ambiguous || (ready && ready->ambiguous));
  d.clock.at = [w, start = d.start](Duration since) { return shown(w, shifted(start, since)); };
  return d;
}

Result<Duration> spare_time(const DayWish& w, Duration takes) {
  const auto start = told(w, *w.start, "--start"), ready = told(w, *w.ready, "--ready-by");
  if (!start) return fail(start.error());
  if (!ready) return fail(ready.error());
  const Duration spare = from_to(start->at, ready->at) - takes;
  // Times are told to the minute.
  if (spare >= minutes(-1)) return std::max(seconds(0), spare);
  const LocalTime earliest = shown(w, shifted(start->at, takes + minutes(1))), latest = shown(w, shifted(ready->at, -takes));
  return fail(Problem{"ready-too-early", {.file = "--ready-by"}, fmt::format("{} is {} too early", spoken(*w.ready), sheets::duration(-spare)),
                      fmt::format("the steps take {} from {}", sheets::duration(takes), spoken(*w.start)),
                      fmt::format("the earliest is --ready-by \"{}\"; or --start \"{}\" at the latest", iso(earliest), iso(latest))});
}

}  // namespace curdwright::program
