// SPDX-License-Identifier: MIT
#include "sheets/diary.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"

namespace curdwright::sheets {
namespace {

std::chrono::local_days day_of(const LocalTime& t) { return std::chrono::local_days(t.date); }
int days_between(const LocalTime& from, const LocalTime& to) { return static_cast<int>((day_of(to) - day_of(from)).count()); }

DiaryRow row_of(const DiaryBatch& b, const Measurable& m, const DiaryReading* r) {
  DiaryRow row{std::string(m.word), std::string(m.about), measure_of(m, 0).unit, r ? r->told : "", !m.observes, {}, {}, {}, {}, {}, r ? r->at : Instant{}};
  if (m.observes) {
    if (const DiaryFigure* planned = b.figure(info(*m.observes).key)) row.planned = planned->value, row.low = planned->low, row.high = planned->high;
  } else if (const auto planned = b.planned(m.word)) {
    row.planned = measure_of(m, *planned).value;
  }
  if (r) row.done = measure_of(m, r->value).value;
  if (row.done && row.low) row.inside = *row.done >= *row.low && *row.done <= *row.high;
  return row;
}

}  // namespace

std::string spoken_measure(const Measure& m, const Kitchen& kitchen) { return spoken_measure(m, Amounts(Units::metric, kitchen)); }

std::vector<DiaryRow> rows_of(const DiaryBatch& b, bool all) {
  std::vector<DiaryRow> rows;
  for (const Measurable& m : all_measurables()) {
    const DiaryReading* r = b.reading(m.word);
    if (r && m.kind && (m.kind == QuantityKind::volume) != (r->unit == "m3")) r = nullptr;
    if (!r && (!all || m.kind == QuantityKind::volume)) continue;
    rows.push_back(row_of(b, m, r));
  }
  return rows;
}

DiaryDays days_of(const DiaryBatch& b, const DiaryClock& clock, const LocalTime& on) {
  DiaryDays d;
  d.made = clock.local(b.made_at()), d.on = on, d.last_day = b.start.last_day;
  d.last = from_clock(std::chrono::local_seconds(day_of(d.made) + std::chrono::days(std::max(1, d.last_day) - 1)));
  d.day = days_between(d.made, on) + 1;
  d.begun = d.day >= 1;
  d.over = d.day > std::max(1, d.last_day);
  return d;
}

LeftDays left_days(const DiaryBatch& b, const DiaryLeftover& l, const DiaryClock& clock, const LocalTime& on) {
  const LocalTime ready = clock.local(std::min(later(b.started_at, l.ready_after), b.made_at()));
  const int day = days_between(ready, on) + 1;
  // So many whole days after the day on which it came off.
  return {day, day > l.keeps_days + 1};
}

std::string iso_date(const LocalTime& t) { return iso(t).substr(0, 10); }

std::string score_text(double score) { return fixed(score, score == std::round(score) ? 0 : 1); }

std::string state_of(const DiaryBatch& b) {
  if (!b.scores.empty()) return "tasted";
  if (b.reading("curd") || b.reading("blocks") || b.reading("chilled")) return "made";
  std::string last = "begun";
  for (const DiaryRow& r : rows_of(b, false)) last = r.word + " told";
  return last;
}

}  // namespace curdwright::sheets
