// SPDX-License-Identifier: MIT
#include "sheets/day.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace curdwright {
namespace sheets {
namespace {

std::string capitalised(std::string_view s) {
  std::string out(s);
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 'a' + 'A');
  return out;
}

std::string_view load_word(Step s) {
  switch (s) {
    case Step::blend:
    case Step::strain: return "jarful";
    case Step::settle: return "standing";
    case Step::cook:
    case Step::set: return "pot";
    case Step::sort_and_soak: return "water";
    default: return "filling";
  }
}

std::string words_of(const Operation& o) {
  std::string words = capitalised(word(o.work));
  if (o.hob && !o.hands) words += ", stay in sight";
  if (o.load > 0) words += fmt::format(", {} {}", o.work == Work::wash_pulp ? "washing" : load_word(o.step()), o.load);
  if (o.load > 0 && o.work == Work::mould) words += fmt::format(", {}", many(o.moulds, "mould", "moulds"));
  return words;
}

bool of_jarfuls(const Operation& o) { return o.load > 0 && (o.work == Work::blend || o.work == Work::strain); }

/// Jarfuls follow each other every few minutes: one line tells them all.
DayLine jarfuls_line(const std::vector<const Operation*>& run) {
  DayLine line;
  int jarfuls = 0;
  for (const Operation* o : run) jarfuls = std::max(jarfuls, o->load);
  line.what = jarfuls == 1 ? "Blend and strain the jarful" : fmt::format("Blend and strain {} jarfuls, one after the other", jarfuls);
  line.start = run.front()->start;
  line.length = run.back()->end() - line.start;
  line.hands = true;
  line.step = word(Step::blend);
  return line;
}

}  // namespace

std::string moment(const DayClock* clock, Duration since_start) { return clock ? spoken(clock->at(since_start)) : sheets::clock(since_start); }

void write_day(Sheet& s, const Timeline& t, const DayClock* day_clock) {
  std::vector<const Operation*> by_start;
  for (const Operation& o : t.operations) by_start.push_back(&o);
  std::stable_sort(by_start.begin(), by_start.end(), [](const Operation* a, const Operation* b) { return a->start < b->start; });
  std::vector<const Operation*> run;
  for (const Operation* o : by_start)
    if (of_jarfuls(*o)) run.push_back(o);
  bool told = false;
  for (const Operation* o : by_start) {
    DayLine line;
    if (of_jarfuls(*o)) {
      if (told) continue;
      told = true;
      line = jarfuls_line(run);
    } else {
      line.what = words_of(*o), line.start = o->start, line.length = o->length, line.hands = o->hands, line.step = word(o->step());
    }
    line.when = moment(day_clock, line.start);
    line.takes = duration(line.length);
    s.day.push_back(std::move(line));
  }
  if (!day_clock) return;
  for (const Operation& o : t.operations) s.moments.push_back(iso(day_clock->at(o.start)));
  const LocalTime start = day_clock->at(seconds(0)), ready = day_clock->at(t.end());
  s.starts_at = iso(start), s.zone = day_clock->zone;
  if (t.cold) s.ready_at = iso(ready);
  const bool at_night = std::any_of(t.operations.begin(), t.operations.end(), [&](const Operation& o) {
    const int hour = day_clock->at(o.start).hour;
    return o.hands && (hour >= 23 || hour < 6);
  });
  s.day_summary = fmt::format("Start {}, {} {}{}.{}", spoken(start), t.cold ? "cold by" : "never cold enough with this chilling; out of the press by", spoken(ready), s.zone.empty() ? "" : fmt::format(" ({})", s.zone),
                              day_clock->note.empty() ? "" : " " + day_clock->note) + (at_night ? " Hands are needed between 23:00 and 06:00." : "");
}

}  // namespace sheets

namespace {

/// What a phone shows when it rings: cautions before the actions.
std::string description_of(const Sheet& s, const DayLine& line) {
  std::string words;
  for (const SheetStep& step : s.steps) {
    if (word(step.of) != line.step && !(step.of == Step::strain && line.step == word(Step::blend))) continue;
    for (const Caution& c : step.before) words += (words.empty() ? "" : "\n") + c.text;
    if (!line.hands) continue;
    for (const SheetAmount& a : step.amounts) words += fmt::format("{}{} {}{}", words.empty() ? "" : "\n", a.amount, a.what, a.note.empty() ? "" : ", " + a.note);
    for (const std::string& a : step.actions) words += (words.empty() ? "" : "\n") + a;
  }
  return words;
}

}  // namespace

std::string to_ics(const Sheet& s, const std::variant<std::chrono::sys_seconds, LocalTime>& start, std::string_view recipe) {
  Calendar c;
  c.start = start;
  c.name = s.title + (s.batches.empty() ? "" : " (one of several batches)");
  int number = 0;
  for (const DayLine& line : s.day) {
    CalendarEvent e;
    e.uid = event_uid(recipe, fmt::format("{} {}", s.starts_at, s.zone), fmt::format("{} {} {}", ++number, line.step, line.what));
    e.summary = line.what;
    e.description = description_of(s, line);
    e.start = line.start, e.length = line.length;
    e.alarm = line.hands || line.what.starts_with("Heat");
    e.waiting = !line.hands;
    c.events.push_back(std::move(e));
  }
  if (!s.gets_cold) return to_ics(c);
  CalendarEvent cold;
  cold.uid = event_uid(recipe, fmt::format("{} {}", s.starts_at, s.zone), "cold");
  cold.summary = "Cold right through? Probe the thickest block";
  cold.start = s.total_time;
  cold.alarm = true;
  c.events.push_back(std::move(cold));
  return to_ics(c);
}

}  // namespace curdwright
