// SPDX-License-Identifier: MIT
#include "sheets/diary.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"

namespace curdwright::sheets {
namespace {

/// What stands behind the last underscore of a figure's key.
std::string unit_of_key(std::string_view key) {
  if (key.ends_with("_mmol_per_l")) return "mmol_per_l";
  return std::string(key.substr(key.rfind('_') + 1));
}

std::chrono::local_days day_of(const LocalTime& t) { return std::chrono::local_days(t.date); }
int days_between(const LocalTime& from, const LocalTime& to) { return static_cast<int>((day_of(to) - day_of(from)).count()); }

/// A brix reading is a plain number; it is told as degrees.
DiaryRow observed_row(const DiaryBatch& b, const Measurable& m, const DiaryReading* r) {
  const FigureInfo& f = info(*m.observes);
  DiaryRow row{std::string(m.word), std::string(m.about), unit_of_key(f.key), r ? r->told : "", false, {}, {}, {}, {}, {}, r ? r->at : Instant{}};
  if (const DiaryFigure* planned = b.figure(f.key)) row.planned = planned->value, row.low = planned->low, row.high = planned->high;
  if (r) row.done = r->value * m.to_figure;
  if (row.done && row.low) row.inside = *row.done >= *row.low && *row.done <= *row.high;
  return row;
}

DiaryRow setting_row(const DiaryBatch& b, const Measurable& m, const DiaryReading* r) {
  const auto si_unit = [&]() -> std::string_view {
    if (!m.kind) return "";
    switch (*m.kind) {
      case QuantityKind::mass: return "kg";
      case QuantityKind::temperature: return "K";
      case QuantityKind::duration: return "s";
      default: return "m";
    }
  }();
  DiaryRow row{std::string(m.word), std::string(m.about), measure_of(m.word, 0, si_unit).unit, r ? r->told : "", true, {}, {}, {}, {}, {}, r ? r->at : Instant{}};
  if (const auto planned = b.planned(m.word)) row.planned = measure_of(m.word, *planned, si_unit).value;
  if (r) row.done = measure_of(m.word, r->value, si_unit).value;
  return row;
}

}  // namespace

Measure measure_of(std::string_view word, double si, std::string_view unit) {
  if (unit == "kg") return {si * 1e3, "g"};
  if (unit == "m3") return {si * 1e6, "ml"};
  if (unit == "K") return {si - 273.15, "c"};
  if (unit == "s") return {si, "s"};
  if (unit == "m") return {si * 1e3, "mm"};
  return {si, word == "ph" ? "ph" : "count"};
}

std::string spoken_measure(const Measure& m, const Kitchen& kitchen) {
  const Amounts say(Units::metric, kitchen);
  if (m.unit == "g") return m.value < 60 ? say.grams_fine(grams(m.value)) : say.weigh(grams(m.value));
  if (m.unit == "ml") return say.volume(millilitres(m.value));
  if (m.unit == "s") return duration(seconds(m.value));
  if (m.unit == "c") return say.temperature(celsius(m.value));
  if (m.unit == "mm") return fixed(m.value, 0) + " mm";
  if (m.unit == "fraction") return fixed(100 * m.value, 1) + " %";
  if (m.unit == "ph") return fixed(m.value, 1);
  const std::string number = fixed(m.value, std::abs(m.value - std::round(m.value)) < 0.05 ? 0 : 1);
  return m.unit == "count" ? number : fmt::format("{} {}", number, m.unit);
}

std::vector<DiaryRow> rows_of(const DiaryBatch& b, bool all) {
  std::vector<DiaryRow> rows;
  for (const Measurable& m : all_measurables()) {
    const DiaryReading* r = b.reading(m.word);
    if (r && m.kind && (m.kind == QuantityKind::volume) != (r->unit == "m3")) r = nullptr;
    if (!r && (!all || m.kind == QuantityKind::volume)) continue;
    rows.push_back(m.observes ? observed_row(b, m, r) : setting_row(b, m, r));
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

std::string dated(const LocalTime& t) {
  const std::string s = spoken(t);
  return fmt::format("{} {}", s.substr(0, s.size() - 6), static_cast<int>(t.date.year()));
}

std::string iso_date(const LocalTime& t) { return iso(t).substr(0, 10); }

std::string score_text(double score) { return fixed(score, score == std::round(score) ? 0 : 1); }

std::string kitchen_words(std::string_view what) {
  if (what == "starch-layer") return "starch layer";
  if (what == "coagulant") return "coagulant mix";
  return std::string(what);
}

std::string state_of(const DiaryBatch& b) {
  if (!b.scores.empty()) return "tasted";
  if (b.reading("curd") || b.reading("blocks") || b.reading("chilled")) return "made";
  std::string last = "begun";
  for (const DiaryRow& r : rows_of(b, false)) last = r.word + " told";
  return last;
}

}  // namespace curdwright::sheets
