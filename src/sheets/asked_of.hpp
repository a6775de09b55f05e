// SPDX-License-Identifier: MIT
// What every form of the sheet asks of it.
#pragma once

#include <algorithm>
#include <string>

#include "curdwright/sheet.hpp"

namespace curdwright::sheets {

/// Whether something that was seen means that the batch is lost.
inline bool thrown_out(const Sheet& s) {
  return std::any_of(s.moves.begin(), s.moves.end(), [](const SheetMove& m) { return m.discard; });
}

/// What was seen, in words where there are any.
inline const std::string& move_heading(const SheetMove& m) { return m.plain.empty() ? m.seen : m.plain; }

/// A day of one pot and one filling, without a start, is told by its steps.
inline bool tells_day(const Sheet& s) {
  return !s.day_summary.empty() || std::any_of(s.day.begin(), s.day.end(), [](const DayLine& l) { return l.what.ends_with(" 2"); });
}

/// Lines to write on; of very many weighings nobody keeps a list.
inline int rooms_to_write(const SheetWeighing& w) { return w.times <= 6 ? w.times : 1; }

/// What to do at once with a batch in hand that must not be eaten as it is; nothing otherwise.
inline std::string in_mid_batch(const Sheet& s) {
  // What was seen may be past saving, whatever a boil would do for the rest.
  for (const SheetMove& m : s.moves)
    if (m.discard && !m.by_rule) return "Throw it out. Seen: " + move_heading(m) + ". " + m.action;
  const auto stopped_by = [&](std::string_view rule) { return std::any_of(s.stops.begin(), s.stops.end(), [&](const Caution& c) { return c.rule == rule; }); };
  const bool poison = std::any_of(s.stops.begin(), s.stops.end(), [](const Caution& c) { return c.said == Said::outlasting; });
  if (!poison || s.readings.empty()) return "";
  if (stopped_by("L14")) return "In mid-batch: throw all of it out. No boil takes a seed dressing away.";
  if (stopped_by("L3")) return "In mid-batch: taste nothing. An open pot cannot make this bean safe here: throw it out, or boil the milk in a pressure cooker, by its maker's rules, before anything else is done with it.";
  return "In mid-batch: taste nothing. Milk that is not poured yet goes back to a full rolling boil, and is held there the whole time again. What has set, or is cold, is thrown out.";
}

}  // namespace curdwright::sheets
