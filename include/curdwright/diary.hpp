// SPDX-License-Identifier: MIT
/// \file diary.hpp
/// The diary: what was planned, done, weighed, seen and tasted, one event a line, only ever added to.
///
///     Result<Diary> d = read_diary(text, "diary.jsonl");
///     const DiaryBatch* b = d->find("chickpea-7");
///     Result<Inputs> in = read_inputs(texts_of(*b));            // the recipe and the kitchen as they were
///     std::vector<Reading> measured = readings_of(*b);          // the last of each word
///     Result<std::string> more = line_after(text, {now, "chickpea-7", DiaryAdded{}});
///
/// A line is JSON (UTF-8) and ends in a checksum of all bytes before it. Nothing is rewritten: a correction is a new line,
/// and what it replaces is kept. A last line that is damaged was torn by a crash: it counts for nothing and is told; the
/// next line says how many torn bytes stand before it. Any other damaged line is a fault.
#pragma once

#include <array>
#include <chrono>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "curdwright/catalogue.hpp"
#include "curdwright/measure.hpp"
#include "curdwright/recipe.hpp"
#include "curdwright/solve.hpp"

namespace curdwright {

using Instant = std::chrono::sys_seconds;

inline constexpr std::string_view diary_schema_name = "curdwright.diary/1";
inline constexpr std::size_t max_diary_line = 256UL * 1024;  ///< bytes
inline constexpr std::size_t max_note = 500;               ///< characters
/// What is read of a diary, so that it never takes more memory than a small machine has.
inline constexpr std::size_t max_diary = 32 << 20;         ///< bytes; some 1,800 batches
inline constexpr std::size_t max_batch_lines = 2 << 20;    ///< bytes of all lines of one batch
inline constexpr std::size_t max_batches = 10'000;

/// "2027-03-05T18:00:00Z"
std::string utc_text(Instant at);
std::optional<Instant> read_utc(std::string_view text);

/// Something planned, in words of measure.hpp where it has one.
struct DiaryAmount {
  std::string word;    ///< "dry", "soak-time", "jarfuls"
  std::string legume;  ///< id; dry seed only
  double value = 0;    ///< in SI; plain for a count
  std::string unit;    ///< "kg", "s", "K", "m", "Pa"; empty: a count
};
struct DiaryFigure {
  std::string key;     ///< of the table of figures; ends in its unit
  double value = 0, low = 0, high = 0;
};
struct DiaryBelief {
  std::string parameter;  ///< key of the table of parameters
  std::string legume;     ///< id; empty for those of no legume
  double median = 0, spread = 0;
};
/// What a batch leaves over that another may take up.
enum class LeftKind { pulp, starch_layer, whey, coagulant };
template <>
inline constexpr std::array<std::string_view, 4> word_list<LeftKind> = {"pulp", "starch-layer", "whey", "coagulant"};
/// "starch layer", "coagulant mix"
std::string_view kitchen_words(LeftKind left);

/// How much is left over, and how long it keeps.
struct DiaryLeftover {
  LeftKind what = LeftKind::pulp;
  double mass_kg = 0;     ///< planned
  Duration ready_after;   ///< from the start of the batch
  int keeps_days = 0;     ///< in the fridge
  std::vector<std::string> care;  ///< sentences of the rules
  std::string record;     ///< a data record as JSON text, of which only the id is open; empty where it may not be used again
  std::string not_again;  ///< why not
};
struct DiaryMoney {
  std::string currency;
  double total = 0, per_block = 0;
};

/// A batch begins. The texts are whole, so that it can be planned again.
struct DiaryStart {
  std::string title;
  std::vector<std::string> legumes;      ///< ids
  std::string program, data, model;      ///< versions
  std::string recipe, recipe_file;
  std::optional<std::string> kitchen;    ///< none: the built-in kitchen
  std::string kitchen_file;
  std::vector<std::string> set;          ///< as --set takes them; holds what other options set
  std::vector<RecordText> records;       ///< of the cook's own data folder
  std::vector<DiaryBelief> beliefs;
  std::vector<DiaryAmount> planned;
  std::vector<DiaryFigure> figures;
  std::optional<DiaryMoney> money;
  Duration made_after;                   ///< when curd is made, from the start
  int last_day = 0;                      ///< the making day being day 1; 0: it may not be kept
  std::vector<DiaryLeftover> leftovers;
};

struct DiaryReading {
  std::string word, told;
  double value = 0;   ///< in SI, without the vessel
  std::string unit;
  int weighings = 1;
  Instant at;
  bool withdrawn = false;  ///< only among the replaced ones
};
struct DiarySighting {
  std::string what, how;  ///< "whey", "milky"
  Instant at;
};
struct DiaryNote {
  std::string text;
  Instant at;
};
struct DiaryScore {
  std::string word;
  double score = 0;
  Instant at;
};

struct DiaryAdded {
  std::vector<DiaryReading> readings;
  std::vector<std::string> withdrawn;
  std::vector<DiarySighting> seen;
  std::string note;
};
struct DiaryScored {
  std::string piece;  ///< empty: the batch
  std::vector<DiaryScore> scores;
  std::vector<std::string> withdrawn;
};

/// How a piece was cooked before it was tasted.
enum class PieceWay { pan, oven, simmer, raw };
template <>
inline constexpr std::array<std::string_view, 4> word_list<PieceWay> = {"pan", "oven", "simmer", "raw"};

/// A piece of one batch. What a later line leaves out stays.
struct DiaryPiece {
  std::string name;
  std::optional<double> mass_kg, aged_s, before_kg, after_kg;
  std::optional<bool> frozen;
  std::optional<PieceWay> way;
  std::vector<DiaryNote> notes;
  std::vector<DiaryScore> scores;
  Instant at;
  std::vector<std::string> withdrawn;  ///< words that a line takes back
  bool gone = false;                   ///< the line takes the whole piece back
};

struct DiaryEvent {
  Instant at;
  std::string id;
  std::variant<DiaryStart, DiaryAdded, DiaryScored, DiaryPiece> what;
};

/// All that the diary holds of one batch.
struct DiaryBatch {
  std::string id;
  Instant started_at, last_at;
  DiaryStart start;
  std::vector<DiaryReading> readings;  ///< the last of each word
  std::vector<DiaryReading> replaced;  ///< earlier ones, and withdrawn ones
  std::vector<DiarySighting> sightings;
  std::vector<DiaryNote> notes;
  std::vector<DiaryScore> scores;      ///< the last of each word
  std::vector<DiaryPiece> pieces;

  [[nodiscard]] const DiaryReading* reading(std::string_view word) const;
  [[nodiscard]] const DiaryFigure* figure(std::string_view key) const;
  /// The planned amount of a word, over all legumes.
  [[nodiscard]] std::optional<double> planned(std::string_view word) const;
  [[nodiscard]] const DiaryPiece* piece(std::string_view name) const;
  [[nodiscard]] const DiaryLeftover* leftover(LeftKind what) const;
  /// Mass that is left: weighed, or else planned.
  [[nodiscard]] double left_kg(const DiaryLeftover& leftover) const;
  /// When curd was made: as planned, or as told if that is earlier, since days are counted from it.
  [[nodiscard]] Instant made_at() const;
};

struct Diary {
  std::vector<DiaryBatch> batches;  ///< in the order of their starts
  std::vector<std::string> ids;     ///< of all batches, also where only one was asked for
  Problems warnings;                ///< of torn lines: code `diary-torn`
  std::size_t lines = 0;
  [[nodiscard]] const DiaryBatch* find(std::string_view id) const;
};

/// Reads a whole diary. Problems: `diary-line` with its number, `diary-version`, `diary-full`.
/// \param only one batch: the lines of others are checked and counted, but not read
Result<Diary> read_diary(std::string_view text, const std::string& file, std::optional<std::string_view> only = std::nullopt);
/// The batch, or a problem that names ids that are near.
Result<DiaryBatch> find_batch(const Diary& diary, std::string_view id);

/// The batch with one more event, as reading the diary would have it. A start changes nothing.
void take_up(DiaryBatch& batch, DiaryEvent event);

/// What to append to a diary that so far holds `text`: the line of the event, behind a line feed where the last line has none.
/// Problem: `diary-full`: the line, the batch or the diary would be too long.
Result<std::string> line_after(std::string_view text, const DiaryEvent& event);

/// "chickpea-7": the word of the first legume, and the first number that no batch has.
std::string next_id(const Diary& diary, std::string_view legume_id);

/// The event that starts a batch, without its id.
struct StartInputs {
  std::string recipe, recipe_file;
  std::optional<std::string> kitchen;
  std::string kitchen_file;
  std::vector<std::string> set;
  std::vector<RecordText> records;
};
DiaryStart start_of(const Batch& batch, StartInputs inputs);

/// Texts to read the recipe and the kitchen of a batch from, as they were when it started.
InputTexts texts_of(const DiaryBatch& batch);
/// The last reading of each word, as measure.hpp has them.
std::vector<Reading> readings_of(const DiaryBatch& batch);
/// A stored reading as measure.hpp has it; none when its word is no longer known, or its value is out of limits.
std::optional<Reading> reading_of(const DiaryReading& stored);

/// A scale of taste, 1 to 5 in halves, with both ends in words.
struct TasteScale {
  std::string_view word, one, five;
};
std::span<const TasteScale> all_scales();
/// The end that a score leans to, "between the two" in the middle.
std::string_view anchor(const TasteScale& scale, double score);

/// Words of `diary add`: readings, sightings, note=TEXT, WORD=withdrawn. All faults of all words. Problems: `measured`, `diary-word`, `out-of-range`.
Result<DiaryAdded> read_added(std::span<const std::string> words, const DiaryBatch& batch, const Kitchen& kitchen);
/// Words of `diary score`: firmness=4, or firmness=withdrawn of those that were told so far.
Result<DiaryScored> read_scored(std::span<const std::string> words, std::span<const DiaryScore> so_far);
/// A piece's name and its words: mass, aged, frozen, way, before, after, note, and scores. Each but the note, or the whole piece, may be withdrawn.
/// \param so_far the piece as told so far; null where it is new
Result<DiaryPiece> read_piece(std::string_view name, std::span<const std::string> words, const DiaryPiece* so_far);

/// One thing that two batches do not have in common.
struct Difference {
  std::string at;          ///< JSON Pointer, a word of measure.hpp, or a word of ours
  std::string one, other;  ///< empty: not told
};
/// Recipes, kitchens, own records; versions and titles do not count.
std::vector<Difference> recipe_differences(const DiaryBatch& one, const DiaryBatch& other);

/// The record of a leftover for a data folder: its path there, and its text. Nothing where it may not be used again.
struct LeftRecord {
  std::string path, text;
};
LeftRecord left_record(const DiaryBatch& batch, const DiaryLeftover& leftover);

/// JSON Schema 2020-12 of a line, of a batch as `diary show` prints it, and of `diary export`.
std::string diary_line_schema();
std::string diary_batch_schema();
std::string diary_export_schema();

}  // namespace curdwright
