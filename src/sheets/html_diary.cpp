// SPDX-License-Identifier: MIT
// The diary's pages as HTML.
#include <fmt/format.h>

#include <cmath>

#include "curdwright/price.hpp"
#include "sheets/amounts.hpp"
#include "sheets/diary.hpp"
#include "sheets/diary_pairs.hpp"
#include "sheets/html_page.hpp"
#include "sheets/said.hpp"

namespace curdwright::sheets {
namespace {

using Entries = std::vector<std::pair<std::string, std::string>>;

void section(Html& h, std::string_view heading, const Entries& entries) {
  if (entries.empty()) return;
  h.raw("<section class=\"block\">").element("h2", heading).raw("<dl class=\"wide\">\n");
  for (const auto& [left, right] : entries) h.element("dt", left).element("dd", right);
  h.raw("</dl></section>\n");
}

void grid(Html& h, const HtmlGrid& g) {
  if (g.rows.empty()) return;
  h.raw("<section class=\"block\">").element("h2", g.heading);
  html_grid(h, g);
  h.raw("</section>\n");
}

void told_beside_planned(Html& h, const ShowInputs& in) {
  HtmlGrid measured{"Measured", "", {"", "told", "planned", "likely", ""}, {}}, settings{"Done", "", {"", "told", "planned"}, {}};
  for (const DiaryRow& r : rows_of(in.batch, false)) {
    const std::string done = spoken_measure({*r.done, r.unit}, in.kitchen), planned = r.planned ? spoken_measure({*r.planned, r.unit}, in.kitchen) : "";
    if (r.setting)
      settings.rows.push_back({r.word, done, planned});
    else
      measured.rows.push_back({r.word, done, planned, r.low ? range_words(r, in.kitchen) : "", std::string(verdict_word(r))});
  }
  grid(h, measured), grid(h, settings);
}

Entries scores_of(const std::vector<DiaryScore>& scores) {
  Entries all;
  for (const TasteScale& scale : all_scales())
    for (const DiaryScore& s : scores)
      if (s.word == scale.word) all.emplace_back(s.word, fmt::format("{} of 5, {}", score_text(s.score), score_words(scale, s.score)));
  return all;
}

void told(Html& h, const ShowInputs& in) {
  const DiaryBatch& b = in.batch;
  const auto when = [&](Instant at) { return spoken(in.clock.local(at)); };
  const Troubles troubles = shipped_troubles();
  Entries seen, notes, replaced, left;
  for (const DiarySighting& s : b.sightings) seen.emplace_back(when(s.at), seen_words(troubles, s));
  for (const DiaryNote& n : b.notes) notes.emplace_back(when(n.at), n.text);
  for (const DiaryReading& r : b.replaced) replaced.emplace_back(when(r.at), fmt::format("{}={}{}", r.word, r.told, r.withdrawn ? ", withdrawn" : ""));
  for (const DiaryLeftover& l : b.start.leftovers) left.emplace_back(kitchen_words(l.what), left_words(in, l));
  section(h, "Seen", seen), section(h, "Notes", notes), section(h, "Told before, and replaced", replaced), section(h, "Tasted", scores_of(b.scores));
  for (const DiaryPiece& p : b.pieces) {
    Entries piece = scores_of(p.scores);
    const std::string words = piece_words(p, in.kitchen);
    piece.insert(piece.begin(), {"piece", words.empty() ? "nothing told" : words});
    for (const DiaryNote& n : p.notes) piece.emplace_back("note", n.text);
    section(h, fmt::format("Piece {}", p.name), piece);
  }
  section(h, "Left over", left);
}

void planned(Html& h, const ShowInputs& in) {
  HtmlGrid g{"Planned", "", {}, {}};
  for (const DiaryAmount& a : in.batch.start.planned) g.rows.push_back({a.legume.empty() ? a.word : fmt::format("{} {}", a.word, a.legume), spoken_measure(measure_of(a.word, a.value, a.unit), in.kitchen)});
  grid(h, g);
}

void warnings(Html& h, const ShowInputs& in) {
  const Amounts say(Units::metric, in.kitchen);
  for (const std::string& why : in.unsafe) h.raw("<p class=\"halt\"><strong>Stop</strong> ").text(say.in_units(why)).raw("</p>\n");
  for (const std::string& care : in.cares) h.raw("<p class=\"care\"><strong>Care</strong> ").text(say.in_units(care)).raw("</p>\n");
}

}  // namespace

std::string show_html(const ShowInputs& in) {
  const DiaryBatch& b = in.batch;
  const std::string title = fmt::format("{}: {}", b.id, b.start.title.empty() ? "untitled" : b.start.title);
  const DiaryDays days = days_of(b, in.clock, in.on);
  Html h;
  h.raw("<header>").element("h1", title).element("p class=\"lead\"", in.unsafe.empty() ? day_words(days) : "Do not eat the curd, nor what is left over. Throw it out.").element("p", begun_words(in)).raw("</header>\n<main>\n");
  warnings(h, in);
  h.raw("<div class=\"pair\">\n");
  told_beside_planned(h, in), told(h, in), planned(h, in);
  h.raw("</div>\n</main>\n<footer>").element("p", made_with_words(in));
  if (const auto& m = b.start.money) h.element("p", fmt::format("Cost as planned: {} {}, {} a block.", fixed(m->total, minor_digits(m->currency)), said_currency(m->currency), fixed(m->per_block, minor_digits(m->currency))));
  h.raw("</footer>\n");
  return html_page(title, "diary", h.take());
}

std::string compare_html(const Side& one, const Side& other, const Kitchen& kitchen) {
  const std::string title = fmt::format("{} beside {}", one.name(), other.name());
  Html h;
  h.raw("<header>").element("h1", title).raw("</header>\n<main>\n");
  HtmlGrid differs{"What differs", "", {"", one.name(), other.name()}, {}};
  for (const Difference& d : differences_of(one, other)) differs.rows.push_back({d.at, d.one.empty() ? "not told" : d.one, d.other.empty() ? "not told" : d.other});
  if (differs.rows.empty()) h.element("p", "Nothing differs in the recipe.");
  grid(h, differs);
  for (const PairGroup& g : pairs_of(one, other)) {
    HtmlGrid rows{g.heading, "", {"", one.name(), other.name()}, {}};
    for (const Pair& p : g.pairs) {
      const auto [mine, theirs] = pair_words(g, p, kitchen);
      rows.rows.push_back({p.what, mine, theirs});
      if (mine.ends_with('*') || theirs.ends_with('*')) rows.note = "* as planned; nothing was told";
    }
    grid(h, rows);
  }
  h.raw("</main>\n");
  return html_page(title, "diary", h.take());
}

}  // namespace curdwright::sheets
