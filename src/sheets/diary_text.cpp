// SPDX-License-Identifier: MIT
// The diary's pages for people, 79 columns wide.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/price.hpp"
#include "curdwright/trouble.hpp"
#include "sheets/amounts.hpp"
#include "sheets/diary.hpp"
#include "sheets/diary_pairs.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

constexpr int page_width = 79;

void paragraph(std::string& out, std::string_view words, int indent, int hanging = 0) {
  const auto lines = text::wrapped(text::harmless(words), page_width - indent - hanging);
  for (std::size_t i = 0; i < lines.size(); ++i) out += std::string(static_cast<std::size_t>(indent + (i > 0 ? hanging : 0)), ' ') + lines[i] + "\n";
}

void heading(std::string& out, std::string_view words) { out += fmt::format("\n{}\n", words); }

/// A label, and words that are wrapped beside it.
void entry(std::string& out, int indent, std::string_view label, int label_width, std::string_view words) {
  label_width = std::max(label_width, text::width(text::harmless(label)));
  const int column = indent + label_width + 1;
  const auto lines = text::wrapped(text::harmless(words), page_width - column);
  std::string left = std::string(static_cast<std::size_t>(indent), ' ') + text::padded(text::harmless(label), label_width) + " ";
  for (const std::string& line : lines) {
    out += left + line + "\n";
    left.assign(static_cast<std::size_t>(column), ' ');
  }
}

std::string range_words(const DiaryRow& r, const Kitchen& k) {
  const Amounts say(Units::metric, k);
  if (r.unit == "g") return say.between(grams(*r.low), grams(*r.high));
  return fmt::format("{} to {}", spoken_measure({*r.low, r.unit}, k), spoken_measure({*r.high, r.unit}, k));
}

std::string_view verdict(const DiaryRow& r) {
  if (!r.inside) return "";
  if (*r.inside) return "inside";
  return *r.done < *r.low ? "BELOW" : "ABOVE";
}

std::string cells(std::string_view what, std::string_view one, std::string_view two, std::string_view rest) {
  std::string line = fmt::format("  {} {}  {}  {}", text::padded(what, 17), text::padded_left(one, 11), text::padded_left(two, 11), rest);
  while (line.ends_with(' ')) line.pop_back();
  return line + "\n";
}

void show_rows(std::string& out, const ShowInputs& in) {
  std::string settings, measured;
  for (const DiaryRow& r : rows_of(in.batch, false)) {
    const std::string done = spoken_measure({*r.done, r.unit}, in.kitchen), planned = r.planned ? spoken_measure({*r.planned, r.unit}, in.kitchen) : "";
    if (r.setting)
      settings += cells(r.word, done, planned, r.planned && std::abs(*r.done - *r.planned) < 1e-6 * std::abs(*r.planned) ? "as planned" : "");
    else
      measured += cells(r.word, done, planned, r.low ? fmt::format("{}  {}", text::padded(range_words(r, in.kitchen), 18), verdict(r)) : "");
  }
  if (!measured.empty()) out += "\n" + cells("Measured", "told", "planned", "likely") + measured;
  if (!settings.empty()) out += "\n" + cells("Done", "told", "planned", "") + settings;
}

void show_plan(std::string& out, const ShowInputs& in) {
  heading(out, "Planned");
  for (const DiaryAmount& a : in.batch.start.planned) {
    const std::string what = a.legume.empty() ? a.word : fmt::format("{} {}", a.word, a.legume);
    out += fmt::format("  {} {}\n", text::padded(what, 27), spoken_measure(measure_of(a.word, a.value, a.unit), in.kitchen));
  }
}

constexpr int when_width = 17;
std::string when(const ShowInputs& in, Instant at) { return spoken(in.clock.local(at)); }

void show_told(std::string& out, const ShowInputs& in) {
  const DiaryBatch& b = in.batch;
  const Troubles troubles = shipped_troubles();
  if (!b.sightings.empty()) heading(out, "Seen");
  for (const DiarySighting& s : b.sightings) {
    std::string about = s.how;
    if (const TroubleSight* known = troubles.find({s.what, s.how})) about = fmt::format("{} {}: {}", s.what, s.how, known->plain);
    entry(out, 2, when(in, s.at), when_width, about);
  }
  if (!b.notes.empty()) heading(out, "Notes");
  for (const DiaryNote& n : b.notes) entry(out, 2, when(in, n.at), when_width, n.text);
  if (!b.replaced.empty()) heading(out, "Told before, and replaced");
  for (const DiaryReading& r : b.replaced) entry(out, 2, when(in, r.at), when_width, fmt::format("{}={}{}", r.word, r.told, r.withdrawn ? ", withdrawn" : ""));
}

void score_lines(std::string& out, const std::vector<DiaryScore>& scores, int indent) {
  for (const TasteScale& scale : all_scales())
    for (const DiaryScore& s : scores)
      if (s.word == scale.word) {
        const bool end = s.score == 1 || s.score == 5, middle = s.score == 3;
        entry(out, indent, fmt::format("{} {}", text::padded(s.word, 10), score_text(s.score)), 15, fmt::format("{}{}", end || middle ? "" : "toward: ", anchor(scale, s.score)));
      }
}

std::string piece_words(const DiaryPiece& p, const Kitchen& k) {
  std::vector<std::string> words;
  const auto mass = [&](double kg) { return spoken_measure({kg * 1e3, "g"}, k); };
  if (p.mass_kg) words.push_back(mass(*p.mass_kg));
  if (p.aged_s) words.push_back((*p.aged_s == 0 ? "" : "aged ") + age_words(*p.aged_s / 86400));
  if (p.frozen) words.emplace_back(*p.frozen ? "frozen" : "never frozen");
  if (!p.way.empty()) words.push_back(p.way);
  if (p.before_kg) words.push_back("before " + mass(*p.before_kg));
  if (p.after_kg) words.push_back("after " + mass(*p.after_kg));
  if (const auto lost = lost_share(p)) words.push_back(fmt::format("{} {} %", *lost < 0 ? "took up" : "lost", fixed(100 * std::abs(*lost), 1)));
  std::string all;
  for (const std::string& w : words) all += (all.empty() ? "" : ", ") + w;
  return all;
}

void show_pieces(std::string& out, const ShowInputs& in) {
  if (!in.batch.pieces.empty()) heading(out, "Pieces");
  for (const DiaryPiece& p : in.batch.pieces) {
    entry(out, 2, p.name, 2, piece_words(p, in.kitchen).empty() ? "nothing told" : piece_words(p, in.kitchen));
    score_lines(out, p.scores, 5);
    for (const DiaryNote& n : p.notes) paragraph(out, n.text, 5);
  }
}

void show_left(std::string& out, const ShowInputs& in) {
  if (!in.batch.start.leftovers.empty()) heading(out, "Left over");
  for (const DiaryLeftover& l : in.batch.start.leftovers) {
    const LeftDays d = left_days(in.batch, l, in.clock, in.on);
    const bool weighed = l.what != "coagulant" && in.batch.reading(l.what);
    std::string age = d.day < 1 ? "not yet" : d.over ? fmt::format("{} days old: PAST ITS {} DAYS, throw it out", d.day - 1, l.keeps_days) : fmt::format("{} days old of {}", d.day - 1, l.keeps_days);
    if (d.over && l.what != "coagulant" && l.what != "whey") age += ", unless it was frozen in time";
    std::string words = fmt::format("{}{}; {}.", spoken_measure({in.batch.left_kg(l) * 1e3, "g"}, in.kitchen), weighed ? "" : " as planned", age);
    for (const std::string& care : l.care) words += " " + care;
    if (!l.not_again.empty()) words += fmt::format(" Not for another recipe: {}.", l.not_again);
    entry(out, 2, kitchen_words(l.what), 14, words);
  }
}

std::string day_words(const DiaryDays& d) {
  if (d.last_day < 1 && d.begun) return fmt::format("Day {} on {}. This curd may not be kept: what was not eaten on {} is thrown out.", d.day, dated(d.on), dated(d.made));
  if (!d.begun) return fmt::format("Not made yet on {}.", dated(d.on));
  if (d.over) return fmt::format("PAST ITS DAYS: day {} on {}, and the last was day {}, {}. Throw it out; smelling fine proves nothing. Days in a freezer at -18 degC do not count, those before and after do.", d.day, dated(d.on), std::max(1, d.last_day), dated(d.last));
  return fmt::format("Day {} of {} on {}, the making day being day 1: eat it by {}.", d.day, d.last_day, dated(d.on), dated(d.last));
}

}  // namespace

std::string row_words(const DiaryRow& r, const Kitchen& k) {
  std::string words = fmt::format("{} {}", r.word, spoken_measure({*r.done, r.unit}, k));
  if (r.planned) words += fmt::format(", planned {}", spoken_measure({*r.planned, r.unit}, k));
  if (r.low) words += fmt::format(", likely {}: {}", range_words(r, k), verdict(r));
  return words;
}

std::string list_page(const std::vector<ListLine>& lines) {
  if (lines.empty()) return "The diary is empty. Begin with: curdwright diary start RECIPE\n";
  std::string out = fmt::format("{} {} {} {} {}\n", text::padded("Id", 16), text::padded("Begun", 16), text::padded("State", 13), text::padded_left("Curd", 9), "Title");
  for (const ListLine& l : lines) {
    const DiaryReading* curd = l.batch->reading("curd");
    std::string state = state_of(*l.batch);
    for (const DiaryScore& s : l.batch->scores)
      if (s.word == "taste") state = fmt::format("taste {} of 5", score_text(s.score));
    if (l.unsafe) state = "THROW OUT";
    out += fmt::format("{} {} {} {} {}\n", text::padded(l.batch->id, 16), dated(l.started) + std::string(static_cast<std::size_t>(std::max(0, 16 - text::width(dated(l.started)))), ' '), text::padded(state, 13),
                       text::padded_left(curd ? fixed(curd->value * 1e3, 0) + " g" : "", 9), text::cut(text::harmless(l.batch->start.title), 18));
  }
  return out;
}

std::string show_page(const ShowInputs& in) {
  const DiaryBatch& b = in.batch;
  std::string out;
  paragraph(out, fmt::format("{}: {}", b.id, b.start.title.empty() ? "untitled" : b.start.title), 0);
  paragraph(out, fmt::format("Begun {} {} ({}), curd made {}.", dated(in.clock.local(b.started_at)), iso(in.clock.local(b.started_at)).substr(11), in.clock.zone, dated(in.clock.local(b.made_at()))), 0);
  for (const std::string& why : in.unsafe) paragraph(out, fmt::format("STOP  {}", Amounts(Units::metric, in.kitchen).in_units(why)), 0, 6);
  for (const std::string& care : in.cares) paragraph(out, fmt::format("CARE  {}", Amounts(Units::metric, in.kitchen).in_units(care)), 0, 6);
  paragraph(out, in.unsafe.empty() ? day_words(days_of(b, in.clock, in.on)) : "Do not eat the curd, nor what is left over. Throw it out.", 0);
  paragraph(out, fmt::format("Kitchen: {}. Recipe: {}. Program {}, data {}, model {}.", in.kitchen.name, b.start.recipe_file, b.start.program, b.start.data, b.start.model), 0);
  if (b.start.money) paragraph(out, fmt::format("Cost: {} {}, {} a block.", fixed(b.start.money->total, minor_digits(b.start.money->currency)), b.start.money->currency, fixed(b.start.money->per_block, minor_digits(b.start.money->currency))), 0);
  show_rows(out, in);
  show_told(out, in);
  if (!b.scores.empty()) heading(out, "Tasted"), score_lines(out, b.scores, 2);
  show_pieces(out, in);
  show_left(out, in);
  show_plan(out, in);
  return out;
}

std::string scales_page() {
  std::string out = "Scores go from 1 to 5, in halves: curdwright diary score ID firmness=4\n\n";
  for (const TasteScale& s : all_scales()) out += fmt::format("  {} 1  {}\n  {} 5  {}\n", text::padded(s.word, 10), s.one, text::padded("", 10), s.five);
  return out;
}

std::string compare_page(const Side& one, const Side& other, const Kitchen& kitchen) {
  std::string out = fmt::format("{} beside {}\n", one.name(), other.name());
  const auto differences = differences_of(one, other);
  const auto pair_words = [](const Difference& d) { return fmt::format("{}: {} | {}", d.at, d.one.empty() ? "not told" : d.one, d.other.empty() ? "not told" : d.other); };
  if (differences.size() == 1)
    out += "\n", paragraph(out, fmt::format("One thing differs: {}", pair_words(differences[0])), 0, 4);
  else
    heading(out, differences.empty() ? "Nothing differs in the recipe." : "What differs");
  if (differences.size() > 1)
    for (const Difference& d : differences) paragraph(out, pair_words(d), 2, 4);
  for (const PairGroup& g : pairs_of(one, other)) {
    out += "\n" + cells(g.heading, one.name(), other.name(), "");
    for (const Pair& p : g.pairs) {
      const auto say = [&](const std::optional<double>& v, const std::string& words, bool planned) {
        return v ? (g.money ? fixed(*v, 2) : g.scores ? score_text(*v) : p.unit == "days" ? age_words(*v) : spoken_measure({*v, p.unit}, kitchen)) + (planned ? "*" : "") : words;
      };
      out += cells(p.what, say(p.one, p.one_words, p.one_planned), say(p.other, p.other_words, p.other_planned), "");
    }
  }
  if (out.find("*\n") != std::string::npos || out.find("* ") != std::string::npos) out += "\n* as planned; nothing was told\n";
  return out;
}

}  // namespace curdwright::sheets
