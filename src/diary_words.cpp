// SPDX-License-Identifier: MIT
// What a cook tells the diary, word by word: every fault of every word is told, and then nothing is written.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/diary.hpp"
#include "curdwright/trouble.hpp"
#include "differing.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

const std::vector<TroubleSight>& sights() {
  static const Troubles table = shipped_troubles();
  return table.sights;
}

constexpr std::array scales = {
    TasteScale{"firmness", "gives way like set cream", "as firm as hard cheese"},
    TasteScale{"crumbly", "cuts clean and holds together", "falls to crumbs at the knife"},
    TasteScale{"creamy", "grainy or chalky on the tongue", "smooth as custard"},
    TasteScale{"springy", "stays pressed in", "springs back at once"},
    TasteScale{"beany", "no raw bean to be tasted", "tastes of raw bean"},
    TasteScale{"bitter", "not bitter", "too bitter to eat"},
    TasteScale{"taste", "would not eat it again", "would make it again just so"},
};

constexpr std::array<std::string_view, 7> piece_words = {"mass", "aged", "frozen", "way", "before", "after", "note"};

const TasteScale* find_scale(std::string_view word) {
  const auto s = std::find_if(scales.begin(), scales.end(), [&](const TasteScale& o) { return o.word == word; });
  return s == scales.end() ? nullptr : &*s;
}

struct Word {
  std::string_view key, value;
  bool has_value = false;
};

Word split(std::string_view text) {
  const auto equals = text.find('=');
  if (equals == std::string_view::npos) return {text::trimmed(text), {}, false};
  return {text::trimmed(text.substr(0, equals)), text::trimmed(text.substr(equals + 1)), true};
}

/// Collects the faults of one verb, each at its word.
class Faults {
 public:
  explicit Faults(std::string_view verb) : verb_(verb) {}
  void add(std::string_view written, std::string what, std::string why, std::string fix) {
    problems.push_back({"diary-word", {.file = fmt::format("{} {}", verb_, text::harmless(text::cut(written, 120)))}, std::move(what), std::move(why), std::move(fix)});
  }
  void add(Problems more) { problems.insert(problems.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end())); }
  void twice(std::string_view written, std::string_view key) { add(written, fmt::format("{} is told twice", key), "", "keep one"); }
  /// Of a value that the parser of amounts refused.
  void amount(std::string_view written, const Problem& p, std::string_view example) {
    add(written, p.what, p.why, p.fix.empty() ? fmt::format("write for example {}", example) : p.fix);
  }
  Problems problems;

 private:
  std::string_view verb_;
};

std::size_t characters(std::string_view s) {
  return static_cast<std::size_t>(std::count_if(s.begin(), s.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string note_of(std::string_view written, std::string_view value, Faults& faults) {
  if (value == "withdrawn") faults.add(written, "a note is not taken back", "readings and scores are: soaked=withdrawn", "tell another note that puts it right");
  if (value.empty()) faults.add(written, "the note is empty", "", "write for example note=\"salted after pressing\"");
  if (!text::is_utf8(value)) faults.add(written, "the note is not UTF-8 text", "", "write it in plain characters");
  else if (characters(value) > max_note) faults.add(written, fmt::format("the note has {} characters", characters(value)), fmt::format("at most {} are kept", max_note), "tell it in two notes");
  return std::string(value);
}

// --- add ------------------------------------------------------------------------------------------

/// Reads the words of one `diary add`.
class AddReader {
 public:
  AddReader(const DiaryBatch& batch, const Kitchen& kitchen) : batch_(batch), kitchen_(kitchen) {}

  void word(const std::string& written) {
    const Word w = split(written);
    if (w.key == "note" && w.has_value) return note(written, w.value);
    if (is_taken_back(w)) return take_back(written, w.key);
    const std::string small = text::lower_case(written);
    if (const Word seen = split(small); is_sighting(seen)) return sighting(written, seen);
    if (of_a_taste(written, w.key)) return;
    auto r = read_reading(written, kitchen_, "diary add");
    if (!r) return faults.add(r.error());
    if (!first(written, r->what->word)) return;
    added.readings.push_back({std::string(r->what->word), r->told, r->si, std::string(r->what->si_unit()), r->weighings, {}, false});
  }

  DiaryAdded added;
  Faults faults{"diary add"};

 private:
  /// "none" takes a reading back, but of curd it says that there is none.
  static bool is_taken_back(const Word& w) { return w.value == "withdrawn" || (w.value == "none" && w.key != "curd"); }

  static bool is_sighting(const Word& w) {
    const bool known = std::any_of(sights().begin(), sights().end(), [&](const TroubleSight& s) { return s.sighting.what == w.key; });
    return known && !w.value.empty() && !(w.value[0] >= '0' && w.value[0] <= '9');
  }

  bool first(std::string_view written, std::string_view key) {
    if (std::find(told_.begin(), told_.end(), key) != told_.end()) return faults.twice(written, key), false;
    told_.emplace_back(key);
    return true;
  }

  /// Scores and pieces have verbs of their own.
  bool of_a_taste(std::string_view written, std::string_view key) {
    if (find_scale(key)) faults.add(written, fmt::format("{} is a score", key), "scores are told by `diary score`", fmt::format("write: curdwright diary score {} {}=4", batch_.id, key));
    else if (std::find(piece_words.begin(), piece_words.end(), key) != piece_words.end()) faults.add(written, fmt::format("{} is told of a piece", key), "pieces are told by `diary piece`, each by a name", fmt::format("write: curdwright diary piece {} A {}", batch_.id, text::harmless(text::cut(written, 40))));
    else return false;
    return true;
  }

  void note(std::string_view written, std::string_view value) {
    if (first(written, "note")) added.note = note_of(written, value, faults);
  }

  void take_back(std::string_view written, std::string_view key) {
    const auto& seen = batch_.sightings;
    const bool was_seen = std::any_of(seen.begin(), seen.end(), [&](const DiarySighting& s) { return s.what == key; });
    if (!batch_.reading(key) && !was_seen) return faults.add(written, fmt::format("there is no {} to take back", text::harmless(text::cut(key, 40))), "nothing of that name is told for this batch", fmt::format("see `curdwright diary show {}`", batch_.id));
    if (first(written, key)) added.withdrawn.emplace_back(key);
  }

  void sighting(std::string_view written, const Word& w) {
    std::vector<std::string_view> known;
    for (const TroubleSight& s : sights()) {
      if (s.sighting.what != w.key) continue;
      known.push_back(s.sighting.looks);
      if (s.sighting.looks != w.value) continue;
      if (first(written, fmt::format("{}={}", s.sighting.what, s.sighting.looks))) added.seen.push_back({s.sighting.what, s.sighting.looks, {}});
      return;
    }
    faults.add(written, fmt::format("{} cannot be {}", w.key, text::quoted(w.value)), "it is neither an amount nor something that can be seen", text::suggest(w.value, known));
  }

  const DiaryBatch& batch_;
  const Kitchen& kitchen_;
  std::vector<std::string> told_;
};

// --- scores and pieces ----------------------------------------------------------------------------

bool has_score(std::span<const DiaryScore> scores, std::string_view word) {
  return std::any_of(scores.begin(), scores.end(), [&](const DiaryScore& s) { return s.word == word; });
}

void read_score(std::string_view written, const TasteScale& scale, std::string_view value, std::vector<DiaryScore>& scores, Faults& faults) {
  const auto n = parse_number(value);
  if (!n || !(*n >= 1 && *n <= 5) || std::abs(*n * 2 - std::round(*n * 2)) > 1e-9)
    return faults.add(written, fmt::format("{} cannot be {}", scale.word, text::quoted(value)), fmt::format("it goes from 1, {}, to 5, {}", scale.one, scale.five), fmt::format("write 1 to 5, or a half between: {}=3.5", scale.word));
  scores.push_back({std::string(scale.word), *n, {}});
}

std::vector<std::string_view> scale_words() {
  std::vector<std::string_view> words;
  words.reserve(std::size(scales));
  for (const TasteScale& s : scales) words.push_back(s.word);
  return words;
}

std::optional<double> piece_mass(std::string_view written, std::string_view value, Faults& faults) {
  const auto kg = parse_quantity(value, QuantityKind::mass);
  if (!kg) return faults.amount(written, kg.error()[0], "mass=310g"), std::nullopt;
  if (!(*kg >= 1e-3 && *kg <= 100)) return faults.add(written, fmt::format("a piece cannot weigh {}", text::quoted(value)), "1 g to 100 kg can be told", "check the unit"), std::nullopt;
  return *kg;
}

std::optional<double> piece_age(std::string_view written, std::string_view value, Faults& faults) {
  constexpr double day_s = 86400, most_days = 3650;
  if (value == "fresh") return 0.0;
  const auto s = parse_quantity(value, QuantityKind::duration);
  if (!s) return faults.amount(written, s.error()[0], "aged=3d, or aged=fresh"), std::nullopt;
  if (!(*s >= 0 && *s <= most_days * day_s)) return faults.add(written, fmt::format("a piece cannot be {} old", text::quoted(value)), "up to 3650 days can be told", "check the unit"), std::nullopt;
  return *s;
}

void read_piece_word(const std::string& written, const Word& w, DiaryPiece& p, Faults& faults) {
  if (w.key == "mass") p.mass_kg = piece_mass(written, w.value, faults);
  else if (w.key == "before") p.before_kg = piece_mass(written, w.value, faults);
  else if (w.key == "after") p.after_kg = piece_mass(written, w.value, faults);
  else if (w.key == "aged") p.aged_s = piece_age(written, w.value, faults);
  else if (w.key == "note") p.notes.push_back({note_of(written, w.value, faults), {}});
  else if (w.key == "frozen") {
    if (w.value != "yes" && w.value != "no") return faults.add(written, fmt::format("frozen cannot be {}", text::quoted(w.value)), "", "write frozen=yes or frozen=no");
    p.frozen = w.value == "yes";
  } else {
    p.way = from_word<PieceWay>(w.value);
    if (!p.way) faults.add(written, fmt::format("way cannot be {}", text::quoted(w.value)), "", text::suggest(w.value, word_list<PieceWay>));
  }
}

bool is_told(const DiaryPiece& p, std::string_view word) {
  if (word == "mass") return p.mass_kg.has_value();
  if (word == "aged") return p.aged_s.has_value();
  if (word == "before") return p.before_kg.has_value();
  if (word == "after") return p.after_kg.has_value();
  if (word == "frozen") return p.frozen.has_value();
  return word == "way" ? p.way.has_value() : has_score(p.scores, word);
}

void nothing_told(std::string_view written, std::string_view key, Faults& faults) {
  faults.add(written, fmt::format("there is no {} to take back", key), "nothing of that name is told so far", "see `curdwright diary show` of the batch");
}

/// A name stands behind a colon in "chickpea-7:A", and before no equals sign.
bool good_name(std::string_view name) {
  return !name.empty() && name.size() <= 20 && std::all_of(name.begin(), name.end(), [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_'; });
}

}  // namespace

std::span<const TasteScale> all_scales() { return scales; }

std::string_view anchor(const TasteScale& scale, double score) {
  if (score == 3) return "between the two";
  return score < 3 ? scale.one : scale.five;
}

Result<DiaryAdded> read_added(std::span<const std::string> words, const DiaryBatch& batch, const Kitchen& kitchen) {
  AddReader reader(batch, kitchen);
  for (const std::string& w : words) reader.word(w);
  if (!reader.faults.problems.empty()) return fail(std::move(reader.faults.problems));
  return std::move(reader.added);
}

Result<DiaryScored> read_scored(std::span<const std::string> words, std::span<const DiaryScore> so_far) {
  DiaryScored scored;
  Faults faults("diary score");
  std::vector<std::string_view> told;
  for (const std::string& written : words) {
    const Word w = split(written);
    const bool twice = std::find(told.begin(), told.end(), w.key) != told.end();
    told.push_back(w.key);
    const TasteScale* scale = find_scale(w.key);
    if (twice)
      faults.twice(written, w.key);
    else if (!scale)
      faults.add(written, fmt::format("{} is no scale of taste", text::quoted(w.key)), "", text::suggest(w.key, scale_words()));
    else if (w.value != "withdrawn")
      read_score(written, *scale, w.value, scored.scores, faults);
    else if (has_score(so_far, scale->word))
      scored.withdrawn.emplace_back(scale->word);
    else
      nothing_told(written, scale->word, faults);
  }
  if (!faults.problems.empty()) return fail(std::move(faults.problems));
  return scored;
}

Result<DiaryPiece> read_piece(std::string_view name, std::span<const std::string> words, const DiaryPiece* so_far) {
  DiaryPiece p;
  Faults faults("diary piece");
  p.name = name;
  if (!good_name(name)) faults.add(name, fmt::format("{} cannot name a piece", text::quoted(name)), "letters, digits, - and _, at most 20", "call it A");
  if (words.size() == 1 && words[0] == "withdrawn") {
    p.gone = true;
    if (!so_far) nothing_told(words[0], fmt::format("piece {}", text::quoted(name)), faults);
    return faults.problems.empty() ? Result<DiaryPiece>(std::move(p)) : fail(std::move(faults.problems));
  }
  std::vector<std::string_view> told, known(piece_words.begin(), piece_words.end());
  for (std::string_view s : scale_words()) known.push_back(s);
  for (const std::string& written : words) {
    const Word w = split(written);
    const bool twice = std::find(told.begin(), told.end(), w.key) != told.end();
    told.push_back(w.key);
    if (std::find(known.begin(), known.end(), w.key) == known.end())
      faults.add(written, fmt::format("{} is not known of a piece", text::quoted(w.key)), "", text::suggest(w.key, known));
    else if (!w.has_value || w.value.empty())
      faults.add(written, fmt::format("{} has no value", w.key), "", w.key == "frozen" ? "write frozen=yes" : "write for example mass=310g, aged=3d, way=pan");
    else if (twice)
      faults.twice(written, w.key);
    else if (w.value == "withdrawn" && w.key != "note")
      so_far && is_told(*so_far, w.key) ? p.withdrawn.emplace_back(w.key), void() : nothing_told(written, w.key, faults);
    else if (const TasteScale* scale = find_scale(w.key))
      read_score(written, *scale, w.value, p.scores, faults);
    else
      read_piece_word(written, w, p, faults);
  }
  if (!faults.problems.empty()) return fail(std::move(faults.problems));
  return p;
}

// --- what differs ---------------------------------------------------------------------------------

namespace {

using Told = std::vector<std::pair<std::string, std::string>>;

/// What a default came to, where the plan that was stored tells it.
struct Default {
  std::string_view at, word;
  QuantityKind kind;
};
constexpr std::array defaults = {
    Default{"/block/mass", "block", QuantityKind::mass},           Default{"/soak/time", "soak-time", QuantityKind::duration},
    Default{"/soak/room", "soak-room", QuantityKind::temperature}, Default{"/blend/time", "blend-time", QuantityKind::duration},
    Default{"/starch/time", "stood", QuantityKind::duration},      Default{"/starch/depth", "depth", QuantityKind::length},
    Default{"/cook/hold", "hold", QuantityKind::duration},         Default{"/coagulate/at", "pour", QuantityKind::temperature},
    Default{"/coagulate/wait", "wait", QuantityKind::duration},    Default{"/press/time", "press-time", QuantityKind::duration},
};

/// What is told, the kitchen with all its defaults, and of the recipe those defaults that the other side tells.
Told whole_of(const DiaryBatch& b, const Told& other) {
  const InputTexts texts = texts_of(b);
  Told told = told_values(texts);
  if (auto inputs = read_inputs(texts)) {
    std::erase_if(told, [](const auto& t) { return t.first.starts_with("/kitchen"); });
    const Told kitchen = told_values({"{}", "", write_kitchen(inputs->kitchen), "", {}, {}});
    told.insert(told.end(), kitchen.begin(), kitchen.end());
  }
  for (const Default& d : defaults) {
    const auto there = [&](const Told& t) { return std::any_of(t.begin(), t.end(), [&](const auto& v) { return v.first == d.at; }); };
    if (const auto planned = b.planned(d.word); planned && there(other) && !there(told)) told.emplace_back(d.at, write_quantity(*planned, d.kind));
  }
  return told;
}

std::string value_at(const Told& told, const std::string& at) {
  const auto v = std::find_if(told.begin(), told.end(), [&](const auto& t) { return t.first == at; });
  return v == told.end() ? std::string() : v->second;
}

}  // namespace

std::vector<Difference> recipe_differences(const DiaryBatch& one, const DiaryBatch& other) {
  const Told a = whole_of(one, told_values(texts_of(other))), b = whole_of(other, told_values(texts_of(one)));
  std::vector<Difference> all;
  for (const auto& [at, value] : a)
    if (std::string there = value_at(b, at); tells_of_food(at) && !same_value(value, there)) all.push_back({at, value, std::move(there)});
  for (const auto& [at, value] : b)
    if (tells_of_food(at) && value_at(a, at).empty()) all.push_back({at, "", value});
  const auto text_at = [](const DiaryBatch& batch, const std::string& path) {
    for (const RecordText& r : batch.start.records)
      if (r.path == path) return r.text;
    return std::string();
  };
  for (const RecordText& r : one.start.records)
    if (text_at(other, r.path) != r.text) all.push_back({"--data " + r.path, "this record", text_at(other, r.path).empty() ? "" : "another record"});
  for (const RecordText& r : other.start.records)
    if (text_at(one, r.path).empty()) all.push_back({"--data " + r.path, "", "this record"});
  return all;
}

}  // namespace curdwright
