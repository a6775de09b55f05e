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
#include "sheets/said.hpp"
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
      measured += cells(r.word, done, planned, r.low ? fmt::format("{}  {}", text::padded(range_words(r, in.kitchen), 18), verdict_word(r)) : "");
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
  for (const DiarySighting& s : b.sightings) entry(out, 2, when(in, s.at), when_width, seen_words(troubles, s));
  if (!b.notes.empty()) heading(out, "Notes");
  for (const DiaryNote& n : b.notes) entry(out, 2, when(in, n.at), when_width, n.text);
  if (!b.replaced.empty()) heading(out, "Told before, and replaced");
  for (const DiaryReading& r : b.replaced) entry(out, 2, when(in, r.at), when_width, fmt::format("{}={}{}", r.word, r.told, r.withdrawn ? ", withdrawn" : ""));
}

void score_lines(std::string& out, const std::vector<DiaryScore>& scores, int indent) {
  for (const TasteScale& scale : all_scales())
    for (const DiaryScore& s : scores)
      if (s.word == scale.word) entry(out, indent, fmt::format("{} {}", text::padded(s.word, 10), score_text(s.score)), 15, score_words(scale, s.score));
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
    entry(out, 2, kitchen_words(l.what), 14, left_words(in, l));
  }
}

}  // namespace

std::string row_words(const DiaryRow& r, const Kitchen& k) {
  std::string words = fmt::format("{} {}", r.word, spoken_measure({*r.done, r.unit}, k));
  if (r.planned) words += fmt::format(", planned {}", spoken_measure({*r.planned, r.unit}, k));
  if (r.low) words += fmt::format(", likely {}: {}", range_words(r, k), verdict_word(r));
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
  paragraph(out, begun_words(in), 0);
  for (const std::string& why : in.unsafe) paragraph(out, fmt::format("STOP  {}", Amounts(Units::metric, in.kitchen).in_units(why)), 0, 6);
  for (const std::string& care : in.cares) paragraph(out, fmt::format("CARE  {}", Amounts(Units::metric, in.kitchen).in_units(care)), 0, 6);
  paragraph(out, in.unsafe.empty() ? day_words(days_of(b, in.clock, in.on)) : "Do not eat the curd, nor what is left over. Throw it out.", 0);
  paragraph(out, made_with_words(in), 0);
  if (b.start.money) paragraph(out, fmt::format("Cost as planned: {} {}, {} a block.", fixed(b.start.money->total, minor_digits(b.start.money->currency)), said_currency(b.start.money->currency), fixed(b.start.money->per_block, minor_digits(b.start.money->currency))), 0);
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
  const auto differs = [](const Difference& d) { return fmt::format("{}: {} | {}", d.at, d.one.empty() ? "not told" : d.one, d.other.empty() ? "not told" : d.other); };
  if (differences.size() == 1)
    out += "\n", paragraph(out, fmt::format("One thing differs: {}", differs(differences[0])), 0, 4);
  else
    heading(out, differences.empty() ? "Nothing differs in the recipe." : "What differs");
  if (differences.size() > 1)
    for (const Difference& d : differences) paragraph(out, differs(d), 2, 4);
  for (const PairGroup& g : pairs_of(one, other)) {
    out += "\n" + cells(g.heading, one.name(), other.name(), "");
    for (const Pair& p : g.pairs) {
      const auto [mine, theirs] = pair_words(g, p, kitchen);
      out += cells(p.what, mine, theirs, "");
    }
  }
  if (out.find("*\n") != std::string::npos || out.find("* ") != std::string::npos) out += "\n* as planned; nothing was told\n";
  return out;
}

}  // namespace curdwright::sheets
