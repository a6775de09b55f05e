// SPDX-License-Identifier: MIT
// What the diary shows, free of any format (rows, days), and its pages: text, JSON and CSV.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "curdwright/calendar.hpp"
#include "curdwright/diary.hpp"
#include "curdwright/sheet.hpp"
#include "curdwright/trouble.hpp"
#include "sheets/measures.hpp"

namespace curdwright::sheets {

/// The clock of a batch's kitchen.
struct DiaryClock {
  std::function<LocalTime(Instant)> local;
  std::string zone;  ///< IANA name, or UTC
};

/// As a cook reads it: the diary speaks metric.
std::string spoken_measure(const Measure& m, const Kitchen& kitchen);

/// One word, planned beside told.
struct DiaryRow {
  std::string word, about, unit, told;
  bool setting = false;
  std::optional<double> planned, low, high, done;  ///< in `unit`
  std::optional<bool> inside;                      ///< of the likely range
  Instant at;
};
/// In the order of the work; words of which nothing is told only where `all`.
std::vector<DiaryRow> rows_of(const DiaryBatch& batch, bool all);

/// "soaked 1140 g, planned 1128 g, likely 1050 to 1210 g: inside", of a row of which something is told.
std::string row_words(const DiaryRow& row, const Kitchen& kitchen);

/// Days of a batch, the making day being day 1.
struct DiaryDays {
  LocalTime made, on, last;
  int day = 0, last_day = 0;
  bool begun = false, over = false;  ///< made on that date or before; past its last day
};
DiaryDays days_of(const DiaryBatch& batch, const DiaryClock& clock, const LocalTime& on);

/// A leftover on a day.
struct LeftDays {
  int day = 0;
  bool over = false;
};
LeftDays left_days(const DiaryBatch& batch, const DiaryLeftover& leftover, const DiaryClock& clock, const LocalTime& on);

std::string iso_date(const LocalTime& t);

/// What was told last, in a few words.
std::string state_of(const DiaryBatch& batch);
/// "4", "3.5"
std::string score_text(double score);

struct ListLine {
  const DiaryBatch* batch;
  LocalTime started;
  bool unsafe = false;  ///< not to be eaten
};
std::string list_page(const std::vector<ListLine>& lines);
std::string list_json(const std::vector<ListLine>& lines);

struct ShowInputs {
  const DiaryBatch& batch;
  const Kitchen& kitchen;
  const DiaryClock& clock;
  LocalTime on;
  std::vector<std::string> unsafe;  ///< why it must not be eaten
  std::vector<std::string> cares;   ///< warnings that came with what was told
};
/// Words of a batch's page.
std::string begun_words(const ShowInputs& in);
std::string made_with_words(const ShowInputs& in);
std::string day_words(const DiaryDays& days);
std::string range_words(const DiaryRow& row, const Kitchen& kitchen);
/// "inside", "BELOW", "ABOVE", or nothing where no range is known.
std::string_view verdict_word(const DiaryRow& row);
std::string seen_words(const Troubles& troubles, const DiarySighting& sighting);
/// What a score means, by the ends of its scale.
std::string score_words(const TasteScale& scale, double score);
std::string piece_words(const DiaryPiece& piece, const Kitchen& kitchen);
std::string left_words(const ShowInputs& in, const DiaryLeftover& leftover);

/// How a batch and its pieces tasted, and what was noted, for a page that is not the diary's.
std::vector<SheetAmount> noted_of(const DiaryBatch& batch, const Kitchen& kitchen);

std::string show_page(const ShowInputs& in);
std::string show_html(const ShowInputs& in);
std::string show_json(const ShowInputs& in);

/// One of two things to compare: a batch, or a piece of it.
struct Side {
  const DiaryBatch& batch;
  const DiaryPiece* piece = nullptr;
  [[nodiscard]] std::string name() const { return piece ? batch.id + ":" + piece->name : batch.id; }
};
std::string compare_page(const Side& one, const Side& other, const Kitchen& kitchen);
std::string compare_html(const Side& one, const Side& other, const Kitchen& kitchen);
std::string compare_json(const Side& one, const Side& other);

/// RFC 4180: one row for each thing planned, told or tasted.
/// Tells of one batch after another, so that no more than one is opened at a time.
using ExportInputs = std::function<void(const std::function<void(const ShowInputs&)>& take)>;
std::string export_csv(const ExportInputs& all);
std::string export_json(const ExportInputs& all);

std::string scales_page();

}  // namespace curdwright::sheets
