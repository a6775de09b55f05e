// SPDX-License-Identifier: MIT
// The diary for other programs: JSON and CSV.
#include <fmt/format.h>

#include <algorithm>

#include "sheets/diary.hpp"
#include "sheets/diary_pairs.hpp"
#include "sheets/csv.hpp"
#include "sheets/json_values.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

using Json = nlohmann::ordered_json;

std::string printed(const Json& j) { return shortened(text::harmless_json(j.dump(2, ' ', false, Json::error_handler_t::replace))) + "\n"; }

void put(Json& j, std::string_view key, const std::string& unit, const std::optional<double>& v) {
  if (v) j[fmt::format("{}_{}", key, unit)] = number(*v);
}

Json row_json(const DiaryRow& r) {
  Json j = {{"word", r.word}};
  if (!r.told.empty()) j["told"] = r.told, j["at"] = utc_text(r.at);
  put(j, r.setting ? "done" : "measured", r.unit, r.done);
  put(j, "planned", r.unit, r.planned), put(j, "low", r.unit, r.low), put(j, "high", r.unit, r.high);
  if (r.inside) j["inside"] = *r.inside;
  return j;
}

Json scores_json(const std::vector<DiaryScore>& scores) {
  Json list = Json::array();
  for (const DiaryScore& s : scores) {
    Json j = {{"word", s.word}, {"score_points", number(s.score)}};
    for (const TasteScale& scale : all_scales())
      if (scale.word == s.word) j["one"] = scale.one, j["five"] = scale.five;
    list.push_back(std::move(j));
  }
  return list;
}

Json notes_json(const std::vector<DiaryNote>& notes) {
  Json list = Json::array();
  for (const DiaryNote& n : notes) list.push_back({{"at", utc_text(n.at)}, {"text", n.text}});
  return list;
}

Json piece_json(const DiaryPiece& p) {
  Json j = {{"piece", p.name}};
  const auto mass = [](const std::optional<double>& kg) { return kg ? std::optional(*kg * 1e3) : std::nullopt; };
  put(j, "mass", "g", mass(p.mass_kg)), put(j, "aged", "s", p.aged_s);
  if (p.frozen) j["frozen"] = *p.frozen;
  if (p.way) j["way"] = word(*p.way);
  put(j, "before", "g", mass(p.before_kg)), put(j, "after", "g", mass(p.after_kg)), put(j, "lost", "fraction", lost_share(p));
  j["scores"] = scores_json(p.scores), j["notes"] = notes_json(p.notes);
  return j;
}

Json left_json(const ShowInputs& in) {
  Json list = Json::array();
  for (const DiaryLeftover& l : in.batch.start.leftovers) {
    const LeftDays d = left_days(in.batch, l, in.clock, in.on);
    Json j = {{"what", word(l.what)}, {"mass_g", number(in.batch.left_kg(l) * 1e3)}, {"weighed", l.what != LeftKind::coagulant && in.batch.reading(word(l.what)) != nullptr}, {"day_number", d.day}, {"keeps_days", l.keeps_days}, {"over", d.over}, {"care", l.care}};
    if (!l.not_again.empty()) j["not_again"] = l.not_again;
    list.push_back(std::move(j));
  }
  return list;
}

Json planned_json(const DiaryBatch& b) {
  Json list = Json::array();
  for (const DiaryAmount& a : b.start.planned) {
    const Measure m = measure_of(a.word, a.value, a.unit);
    Json j = {{"word", a.word}};
    if (!a.legume.empty()) j["legume"] = a.legume;
    put(j, "planned", m.unit, m.value);
    list.push_back(std::move(j));
  }
  return list;
}

Json told_json(const DiaryBatch& b) {
  Json measured = Json::array(), settings = Json::array(), seen = Json::array(), replaced = Json::array();
  for (const DiaryRow& r : rows_of(b, false)) (r.setting ? settings : measured).push_back(row_json(r));
  for (const DiarySighting& s : b.sightings) seen.push_back({{"at", utc_text(s.at)}, {"what", s.what}, {"how", s.how}});
  for (const DiaryReading& r : b.replaced) replaced.push_back({{"at", utc_text(r.at)}, {"word", r.word}, {"told", r.told}, {"withdrawn", r.withdrawn}});
  return {{"measured", measured}, {"settings", settings}, {"seen", seen}, {"notes", notes_json(b.notes)}, {"replaced", replaced}, {"scores", scores_json(b.scores)}};
}

Json batch_json(const ShowInputs& in) {
  const DiaryBatch& b = in.batch;
  const DiaryDays d = days_of(b, in.clock, in.on);
  Json j = {{"id", b.id}, {"title", b.start.title}, {"begun_at", utc_text(b.started_at)}, {"time_zone", in.clock.zone}, {"legumes", b.start.legumes}};
  j["versions"] = {{"program", b.start.program}, {"data", b.start.data}, {"model", b.start.model}};
  j["days"] = {{"made", iso_date(d.made)}, {"on", iso_date(d.on)}, {"day_number", d.day}, {"last_day_number", d.last_day}, {"use_by", iso_date(d.last)}, {"over", d.over}};
  j.update(told_json(b));
  j["pieces"] = Json::array();
  for (const DiaryPiece& p : b.pieces) j["pieces"].push_back(piece_json(p));
  j["leftovers"] = left_json(in), j["planned"] = planned_json(b);
  if (b.start.money) j["cost"] = {{"currency", b.start.money->currency}, {"total_money", number(b.start.money->total)}, {"per_block_money", number(b.start.money->per_block)}};
  return j;
}

/// What else a copy needs to plan the batch again.
Json whole_batch_json(const ShowInputs& in) {
  Json j = batch_json(in);
  const DiaryStart& s = in.batch.start;
  j["recipe"] = s.recipe;
  if (s.kitchen) j["kitchen"] = *s.kitchen;
  j["set"] = s.set;
  Json figures = Json::object();
  for (const DiaryFigure& f : s.figures) figures[f.key] = {{"planned", number(f.value)}, {"low", number(f.low)}, {"high", number(f.high)}};
  j["figures"] = figures;
  return j;
}

// --- CSV ------------------------------------------------------------------------------------------

struct CsvRow {
  std::string kind, piece, word, unit, told, at;
  std::optional<double> value, planned, low, high;
};

std::string csv_line(const DiaryBatch& b, const CsvRow& r) {
  const auto& n = csv_number;
  std::string line;
  for (const std::string& c : {b.id, b.start.title, r.kind, r.piece, r.word, n(r.value), r.unit, n(r.planned), n(r.low), n(r.high), r.told, r.at}) line += (line.empty() ? "" : ",") + csv_cell(c);
  return line + "\r\n";
}

void csv_piece(std::string& out, const DiaryBatch& b, const DiaryPiece& p) {
  const auto add = [&](std::string word, std::string unit, std::optional<double> v, std::string told = "") {
    if (v || !told.empty()) out += csv_line(b, {"piece", p.name, std::move(word), std::move(unit), std::move(told), "", v, {}, {}, {}});
  };
  const auto grams = [](const std::optional<double>& kg) { return kg ? std::optional(*kg * 1e3) : std::nullopt; };
  add("mass", "g", grams(p.mass_kg)), add("aged", "s", p.aged_s), add("before", "g", grams(p.before_kg)), add("after", "g", grams(p.after_kg));
  add("frozen", "", std::nullopt, !p.frozen ? "" : *p.frozen ? "yes" : "no"), add("way", "", std::nullopt, way_words(p));
  for (const DiaryScore& s : p.scores) out += csv_line(b, {"score", p.name, s.word, "count", "", utc_text(s.at), s.score, {}, {}, {}});
  for (const DiaryNote& n : p.notes) out += csv_line(b, {"note", p.name, "note", "", n.text, utc_text(n.at), {}, {}, {}, {}});
}

void csv_batch(std::string& out, const DiaryBatch& b) {
  for (const DiaryRow& r : rows_of(b, true))
    if (r.done || r.planned) out += csv_line(b, {r.setting ? "setting" : "measured", "", r.word, r.unit, r.told, r.done ? utc_text(r.at) : "", r.done, r.planned, r.low, r.high});
  for (const DiarySighting& s : b.sightings) out += csv_line(b, {"seen", "", s.what, "", s.how, utc_text(s.at), {}, {}, {}, {}});
  for (const DiaryNote& n : b.notes) out += csv_line(b, {"note", "", "note", "", n.text, utc_text(n.at), {}, {}, {}, {}});
  for (const DiaryScore& s : b.scores) out += csv_line(b, {"score", "", s.word, "count", "", utc_text(s.at), s.score, {}, {}, {}});
  if (b.start.money) out += csv_line(b, {"cost", "", "total", b.start.money->currency, "", "", {}, b.start.money->total, {}, {}});
  for (const DiaryPiece& p : b.pieces) csv_piece(out, b, p);
}

}  // namespace

std::string list_json(const std::vector<ListLine>& lines) {
  Json list = Json::array();
  for (const ListLine& l : lines) {
    Json j = {{"id", l.batch->id}, {"title", l.batch->start.title}, {"begun_at", utc_text(l.batch->started_at)}, {"state", l.unsafe ? "throw out" : state_of(*l.batch)}};
    if (const DiaryReading* curd = l.batch->reading("curd")) j["curd_mass_g"] = number(curd->value * 1e3);
    for (const DiaryScore& s : l.batch->scores)
      if (s.word == "taste") j["taste_points"] = number(s.score);
    list.push_back(std::move(j));
  }
  return printed({{"schema", "curdwright.diary-list/1"}, {"batches", list}});
}

std::string show_json(const ShowInputs& in) {
  Json j = {{"schema", "curdwright.diary-batch/1"}};
  j.update(batch_json(in));
  if (!in.unsafe.empty()) j["not_to_be_eaten"] = in.unsafe;
  if (!in.cares.empty()) j["cares"] = in.cares;
  return printed(j);
}

std::string compare_json(const Side& one, const Side& other) {
  Json j = {{"schema", "curdwright.diary-compare/1"}, {"one", one.name()}, {"other", other.name()}, {"differs", Json::array()}};
  const auto differences = differences_of(one, other);
  for (const Difference& d : differences) {
    Json difference = {{"at", d.at}};
    if (!d.one.empty()) difference["one"] = d.one;
    if (!d.other.empty()) difference["other"] = d.other;
    j["differs"].push_back(std::move(difference));
  }
  j["one_thing_differs"] = differences.size() == 1;
  for (const PairGroup& g : pairs_of(one, other)) {
    Json rows = Json::array();
    for (const Pair& p : g.pairs) {
      Json row = {{"what", p.what}};
      put(row, "one", p.unit, p.one), put(row, "other", p.unit, p.other);
      if (!p.one_words.empty()) row["one"] = p.one_words;
      if (!p.other_words.empty()) row["other"] = p.other_words;
      if (p.one_planned) row["one_planned"] = true;
      if (p.other_planned) row["other_planned"] = true;
      rows.push_back(std::move(row));
    }
    j[g.key] = rows;
  }
  return printed(j);
}

std::string export_csv(const ExportInputs& all) {
  std::string out = "batch,title,kind,piece,word,value,unit,planned,low,high,told,at\r\n";
  all([&](const ShowInputs& in) { csv_batch(out, in.batch); });
  return out;
}

std::string export_json(const ExportInputs& all) {
  // Each batch is printed in a list of its own, and the lists are joined: one tree of all would take ten times as much memory as the diary.
  std::string out;
  constexpr std::string_view begin = "[\n", end = "\n  ]\n}\n";
  all([&](const ShowInputs& in) {
    const std::string one = printed({{"schema", "curdwright.diary-export/1"}, {"batches", Json::array({whole_batch_json(in)})}});
    const std::size_t from = out.empty() ? 0 : one.find(begin) + begin.size();
    if (!out.empty()) out.replace(out.size() - end.size(), end.size(), ",\n");
    out.append(one, from);
  });
  return out.empty() ? printed({{"schema", "curdwright.diary-export/1"}, {"batches", Json::array()}}) : out;
}

}  // namespace curdwright::sheets
