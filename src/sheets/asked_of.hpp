// SPDX-License-Identifier: MIT
// What every form of the sheet asks of it.
#pragma once

#include <algorithm>

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

/// What to do at once when a batch in hand turns out to be poisonous as it is; nothing otherwise.
inline std::string_view in_mid_batch(const Sheet& s) {
  const bool poison = std::any_of(s.stops.begin(), s.stops.end(), [](const Caution& c) { return c.rule.starts_with("L"); });
  if (!poison || s.readings.empty()) return "";
  return "In mid-batch: taste nothing. Milk that is not poured yet goes back to a full rolling boil, and is held there the whole time again. What has set, or is cold, is thrown out.";
}

}  // namespace curdwright::sheets
