// SPDX-License-Identifier: MIT
// All lines of a diary folded into batches.
#include "curdwright/diary.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>
#include <utility>

#include "curdwright/calendar.hpp"
#include "diary_lines.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

using namespace diary;

Place line_place(const std::string& file, std::size_t line) { return {file, static_cast<int>(line), 1, "", "", 0}; }

Problem damaged(const std::string& file, std::size_t line, std::string what) {
  return {"diary-line", line_place(file, line), std::move(what), "a diary is only added to, so this line was changed or damaged after it was written",
          fmt::format("put line {} back as it was, from a copy; or move it out of the file, and what it told is lost", line)};
}

Problem torn(const std::string& file, std::size_t line, std::size_t bytes) {
  return {"diary-torn", line_place(file, line), fmt::format("line {} is torn and counts for nothing ({} bytes)", line, bytes),
          "the program or the machine was stopped while it was written, and it was never said to be done", "tell it again if it is missing; nothing else is lost"};
}

Problem too_new(const std::string& file, std::size_t line, std::string_view schema) {
  return {"diary-version", line_place(file, line), fmt::format("line {} is of \"{}\"", line, text::harmless(text::cut(schema, 40))),
          fmt::format("this program reads {}", diary_schema_name), "use the newer program that wrote it"};
}

constexpr std::string_view batch_too_long = "the lines of one batch take at most 2 MiB", too_many_batches = "a diary has at most 10000 batches",
                           diary_too_long = "a diary has at most 32 MiB";
static_assert(max_batch_lines == 2 << 20 && max_batches == 10'000 && max_diary == 32 << 20);

Problem full(Place place, std::string_view id, std::string_view why) {
  return {"diary-full", std::move(place), fmt::format("what is told of {} is too much", text::harmless(text::cut(id, 60))), std::string(why), "keep this diary as it is, and begin another with --diary FILE"};
}

/// A later value of a word takes the place of the earlier one, which is kept elsewhere.
void put_reading(DiaryBatch& b, DiaryReading r) {
  const auto same = std::find_if(b.readings.begin(), b.readings.end(), [&](const DiaryReading& o) { return o.word == r.word; });
  if (same == b.readings.end()) return b.readings.push_back(std::move(r));
  b.replaced.push_back(std::exchange(*same, std::move(r)));
}

/// A reading, else what was seen of that name.
void withdraw(DiaryBatch& b, const std::string& word) {
  const auto same = std::find_if(b.readings.begin(), b.readings.end(), [&](const DiaryReading& o) { return o.word == word; });
  if (same == b.readings.end()) {
    std::erase_if(b.sightings, [&](const DiarySighting& s) { return s.what == word; });
    return;
  }
  same->withdrawn = true;
  b.replaced.push_back(std::move(*same));
  b.readings.erase(same);
}

void put_scores(std::vector<DiaryScore>& to, const std::vector<DiaryScore>& from) {
  for (const DiaryScore& s : from) {
    const auto same = std::find_if(to.begin(), to.end(), [&](const DiaryScore& o) { return o.word == s.word; });
    if (same == to.end())
      to.push_back(s);
    else
      *same = s;
  }
}

DiaryPiece& piece_of(DiaryBatch& b, const std::string& name) {
  for (DiaryPiece& p : b.pieces)
    if (p.name == name) return p;
  b.pieces.emplace_back().name = name;
  return b.pieces.back();
}

void withdraw(std::vector<DiaryScore>& scores, std::string_view word) {
  std::erase_if(scores, [&](const DiaryScore& s) { return s.word == word; });
}

void withdraw(DiaryPiece& p, std::string_view word) {
  if (word == "mass") p.mass_kg.reset();
  if (word == "aged") p.aged_s.reset();
  if (word == "before") p.before_kg.reset();
  if (word == "after") p.after_kg.reset();
  if (word == "frozen") p.frozen.reset();
  if (word == "way") p.way.reset();
  withdraw(p.scores, word);
}

void put_piece(DiaryPiece& to, const DiaryPiece& from) {
  for (const auto part : {&DiaryPiece::mass_kg, &DiaryPiece::aged_s, &DiaryPiece::before_kg, &DiaryPiece::after_kg})
    if (from.*part) to.*part = from.*part;
  if (from.frozen) to.frozen = from.frozen;
  if (from.way) to.way = from.way;
  to.notes.insert(to.notes.end(), from.notes.begin(), from.notes.end());
  put_scores(to.scores, from.scores);
  for (const std::string& word : from.withdrawn) withdraw(to, word);
  to.at = from.at;
}

/// Reads lines one after another.
class Folder {
 public:
  Folder(const std::string& file, std::optional<std::string_view> only) : file_(file), only_(only) {}

  void line(std::string_view line) {
    ++diary.lines;
    if (!is_whole(line)) return damaged_line(line);
    const std::string_view schema = head_word(line, "schema");
    if (schema != diary_schema_name) return fault(too_new(file_, diary.lines, schema));
    close_torn(torn_before(line));
    any_whole_ = true;
    whole_line(line);
  }

  Result<Diary> done() && {
    if (strange_ && !any_whole_)
      return fail(Problem{"diary-line", line_place(file_, 1), "this is no diary", "none of its lines is one of a diary, so nothing is added to it", "name the diary with --diary FILE; one that is not there yet is made"});
    // Nothing follows: what is still open was torn by a crash.
    for (Problem& p : open_) diary.warnings.push_back(std::move(p));
    if (!faults_.empty()) return fail(std::move(faults_));
    return std::move(diary);
  }

  Diary diary;

 private:
  void fault(Problem p) { faults_.push_back(std::move(p)); }

  void damaged_line(std::string_view line) {
    const std::string_view schema = head_word(line, "schema");
    if (schema.starts_with("curdwright.diary/") && schema != diary_schema_name && line.ends_with("}")) return fault(too_new(file_, diary.lines, schema));
    if (is_sealed(line)) return fault(damaged(file_, diary.lines, fmt::format("line {} is damaged: its checksum does not fit", diary.lines)));
    strange_ = strange_ || !looks_ours(line);
    open_bytes_ += line.size() + (open_.empty() ? 0 : 1);
    open_.push_back(torn(file_, diary.lines, line.size()));
  }

  /// Damaged lines in front of a whole one were torn if it says so.
  void close_torn(std::size_t told) {
    for (Problem& p : open_) {
      if (told == open_bytes_)
        diary.warnings.push_back(std::move(p));
      else
        fault(damaged(file_, static_cast<std::size_t>(p.place.line), fmt::format("line {} is damaged: its checksum does not fit", p.place.line)));
    }
    open_.clear();
    open_bytes_ = 0;
  }

  void whole_line(std::string_view line) {
    const std::string_view kind = head_word(line, "kind"), id = head_word(line, "id");
    const bool known = seen_.contains(id);
    if (kind == "start") {
      if (known) return fault(damaged(file_, diary.lines, fmt::format("line {} starts {} a second time", diary.lines, text::harmless(id))));
      seen_.emplace(id);
      diary.ids.emplace_back(id);
    } else if (!known) {
      return fault(damaged(file_, diary.lines, fmt::format("line {} tells of {}, which no line before it starts", diary.lines, text::harmless(text::cut(id, 60)))));
    }
    if (!small_enough(id, line.size())) return;
    if (only_ && id != *only_) return;
    auto event = read_line(line);
    if (!event) return fault(damaged(file_, diary.lines, fmt::format("line {} cannot be understood: an event of kind \"{}\"", diary.lines, text::harmless(text::cut(kind, 40)))));
    if (auto* start = std::get_if<DiaryStart>(&event->what)) {
      place_.emplace(id, diary.batches.size());
      DiaryBatch& b = diary.batches.emplace_back();
      b.id = event->id, b.started_at = b.last_at = event->at, b.start = std::move(*start);
      return;
    }
    // A start that was at fault has no place.
    if (const auto place = place_.find(id); place != place_.end()) take_up(diary.batches[place->second], std::move(*event));
  }

  /// Of what is too much, the first line is told.
  bool small_enough(std::string_view id, std::size_t bytes) {
    std::size_t& all = bytes_.try_emplace(std::string(id), 0).first->second;
    const bool was = all <= max_batch_lines && !too_many_;
    all += bytes;
    too_many_ = bytes_.size() > max_batches;
    const std::string_view what = too_many_ ? too_many_batches : all > max_batch_lines ? batch_too_long : "";
    if (was && !what.empty()) fault(full(line_place(file_, diary.lines), id, what));
    return what.empty();
  }

  const std::string& file_;
  std::optional<std::string_view> only_;
  Problems faults_, open_;
  std::map<std::string, std::size_t, std::less<>> bytes_;
  bool too_many_ = false;
  std::size_t open_bytes_ = 0;
  bool any_whole_ = false, strange_ = false;
  std::set<std::string, std::less<>> seen_;
  std::map<std::string, std::size_t, std::less<>> place_;
};

}  // namespace

void take_up(DiaryBatch& b, DiaryEvent e) {
  b.last_at = std::max(b.last_at, e.at);
  if (auto* added = std::get_if<DiaryAdded>(&e.what)) {
    for (DiaryReading& r : added->readings) put_reading(b, std::move(r));
    for (const std::string& word : added->withdrawn) withdraw(b, word);
    b.sightings.insert(b.sightings.end(), added->seen.begin(), added->seen.end());
    if (!added->note.empty()) b.notes.push_back({std::move(added->note), e.at});
  } else if (auto* scored = std::get_if<DiaryScored>(&e.what)) {
    std::vector<DiaryScore>& scores = scored->piece.empty() ? b.scores : piece_of(b, scored->piece).scores;
    put_scores(scores, scored->scores);
    for (const std::string& word : scored->withdrawn) withdraw(scores, word);
  } else if (auto* piece = std::get_if<DiaryPiece>(&e.what)) {
    if (piece->gone)
      std::erase_if(b.pieces, [&](const DiaryPiece& p) { return p.name == piece->name; });
    else
      put_piece(piece_of(b, piece->name), *piece);
  }
}

Result<Diary> read_diary(std::string_view text, const std::string& file, std::optional<std::string_view> only) {
  Folder folder(file, only);
  for (std::string_view line : lines_of(text)) folder.line(line);
  return std::move(folder).done();
}

Result<std::string> line_after(std::string_view text, const DiaryEvent& event) {
  const auto lines = lines_of(text);
  std::size_t torn_bytes = 0, torn_lines = 0;
  while (torn_lines < lines.size() && !is_whole(lines[lines.size() - 1 - torn_lines])) {
    torn_bytes += lines[lines.size() - 1 - torn_lines].size() + (torn_lines > 0 ? 1 : 0);
    ++torn_lines;
  }
  const std::string line = write_line(event, torn_bytes);
  if (line.size() > max_diary_line)
    return fail(Problem{"diary-full", {}, fmt::format("one line of the diary would take {} bytes", line.size()), fmt::format("at most {} are read back", max_diary_line),
                        "shorten the recipe or the kitchen, or keep fewer records in the folder of --data"});
  std::size_t of_batch = line.size(), starts = event.what.index() == 0 ? 1 : 0;
  for (const std::string_view l : lines) {
    if (head_word(l, "id") == event.id) of_batch += l.size();
    if (head_word(l, "kind") == "start") ++starts;
  }
  if (of_batch > max_batch_lines) return fail(full({}, event.id, batch_too_long));
  if (starts > max_batches) return fail(full({}, event.id, too_many_batches));
  if (text.size() + line.size() + 2 > max_diary) return fail(full({}, event.id, diary_too_long));
  return (text.empty() || text.back() == '\n' ? "" : "\n") + line + "\n";
}

const DiaryBatch* Diary::find(std::string_view id) const {
  const auto b = std::find_if(batches.begin(), batches.end(), [&](const DiaryBatch& o) { return o.id == id; });
  return b == batches.end() ? nullptr : &*b;
}

Result<DiaryBatch> find_batch(const Diary& diary, std::string_view id) {
  if (const DiaryBatch* b = diary.find(id)) return *b;
  if (diary.ids.empty()) return fail(Problem{"diary-id", {}, fmt::format("there is no batch {}", text::quoted(id)), "the diary is empty", "begin one with `curdwright diary start RECIPE`"});
  const std::vector<std::string_view> known(diary.ids.begin(), diary.ids.end());
  const std::string near = text::suggest(id, known);
  return fail(Problem{"diary-id", {}, fmt::format("there is no batch {}", text::quoted(id)), "", near.empty() ? "see `curdwright diary list`" : near});
}

std::string next_id(const Diary& diary, std::string_view legume_id) {
  // "chickpea-kabuli" is a chickpea; of "navy-bean" the first word alone would say too little.
  std::string_view word = legume_id.substr(0, legume_id.find('-'));
  for (std::string_view kind : {"-bean", "-pea", "-gram"})
    if (legume_id.substr(word.size()).starts_with(kind)) word = legume_id.substr(0, word.size() + kind.size());
  std::size_t last = 0;
  for (const std::string& id : diary.ids) last = std::max(last, static_cast<std::size_t>(std::strtoull(id.c_str() + id.rfind('-') + 1, nullptr, 10)));
  return fmt::format("{}-{}", word, last + 1);
}

const DiaryReading* DiaryBatch::reading(std::string_view word) const {
  const auto r = std::find_if(readings.begin(), readings.end(), [&](const DiaryReading& o) { return o.word == word; });
  return r == readings.end() ? nullptr : &*r;
}

const DiaryFigure* DiaryBatch::figure(std::string_view key) const {
  const auto f = std::find_if(start.figures.begin(), start.figures.end(), [&](const DiaryFigure& o) { return o.key == key; });
  return f == start.figures.end() ? nullptr : &*f;
}

std::optional<double> DiaryBatch::planned(std::string_view word) const {
  std::optional<double> sum;
  for (const DiaryAmount& a : start.planned)
    if (a.word == word) sum = sum.value_or(0) + a.value;
  return sum;
}

const DiaryPiece* DiaryBatch::piece(std::string_view name) const {
  const auto p = std::find_if(pieces.begin(), pieces.end(), [&](const DiaryPiece& o) { return o.name == name; });
  return p == pieces.end() ? nullptr : &*p;
}

std::string_view kitchen_words(LeftKind left) {
  constexpr std::array<std::string_view, word_list<LeftKind>.size()> words = {"pulp", "starch layer", "whey", "coagulant mix"};
  return words[static_cast<std::size_t>(left)];
}

const DiaryLeftover* DiaryBatch::leftover(LeftKind what) const {
  const auto l = std::find_if(start.leftovers.begin(), start.leftovers.end(), [&](const DiaryLeftover& o) { return o.what == what; });
  return l == start.leftovers.end() ? nullptr : &*l;
}

double DiaryBatch::left_kg(const DiaryLeftover& l) const {
  if (const DiaryReading* r = reading(word(l.what)); r && l.what != LeftKind::coagulant) return r->value;
  const DiaryReading* used = reading("coagulant");
  const double made_up = planned("coagulant-made-up").value_or(0), water = planned("mix-water").value_or(0);
  if (l.what != LeftKind::coagulant || !used || made_up <= 0) return l.mass_kg;
  return std::max(0.0, made_up - used->value) * (1 + water / made_up);
}

Instant DiaryBatch::made_at() const {
  Instant made = later(started_at, start.made_after);
  for (std::string_view word : {"coagulant", "pour", "wait", "curd", "whey"})
    if (const DiaryReading* r = reading(word)) made = std::min(made, std::max(started_at, r->at));
  return made;
}

InputTexts texts_of(const DiaryBatch& b) {
  InputTexts texts;
  texts.recipe = b.start.recipe, texts.recipe_file = b.start.recipe_file;
  texts.kitchen = b.start.kitchen, texts.kitchen_file = b.start.kitchen_file;
  texts.set = b.start.set;
  return texts;
}

std::optional<Reading> reading_of(const DiaryReading& stored) {
  for (const Measurable& m : all_measurables()) {
    if (m.word != stored.word) continue;
    // Milk is told by weight or by volume.
    if (m.kind && (m.kind == QuantityKind::volume) != (stored.unit == "m3")) continue;
    if (!(stored.value >= m.low && stored.value <= m.high)) return std::nullopt;
    return Reading{&m, stored.value, stored.weighings, stored.told};
  }
  return std::nullopt;
}

std::vector<Reading> readings_of(const DiaryBatch& b) {
  std::vector<Reading> all;
  for (const DiaryReading& r : b.readings)
    if (auto reading = reading_of(r)) all.push_back(std::move(*reading));
  return all;
}

}  // namespace curdwright
