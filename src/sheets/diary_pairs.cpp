// SPDX-License-Identifier: MIT
#include "sheets/diary_pairs.hpp"

#include <algorithm>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/said.hpp"

namespace curdwright::sheets {
namespace {

constexpr double day_s = 86400;

const DiaryRow* row_of(const std::vector<DiaryRow>& rows, std::string_view word, std::string_view unit) {
  const auto r = std::find_if(rows.begin(), rows.end(), [&](const DiaryRow& o) { return o.word == word && o.unit == unit; });
  return r == rows.end() ? nullptr : &*r;
}

bool differ(double a, double b) { return std::abs(a - b) > 1e-6 * std::max(std::abs(a), std::abs(b)); }

/// As done, or else as planned; what is the same on both sides is left out.
PairGroup settings_of(const DiaryBatch& a, const DiaryBatch& b) {
  PairGroup g{"As done", "settings"};
  const auto one = rows_of(a, true), other = rows_of(b, true);
  for (const DiaryRow& r : one) {
    const DiaryRow* o = row_of(other, r.word, r.unit);
    if (!r.setting || !o) continue;
    const auto mine = r.done ? r.done : r.planned, theirs = o->done ? o->done : o->planned;
    if (!mine && !theirs) continue;
    if (mine && theirs && !differ(*mine, *theirs)) continue;
    g.pairs.push_back({r.word, r.unit, mine, theirs, !r.done && mine, !o->done && theirs, "", ""});
  }
  return g;
}

PairGroup measured_of(const DiaryBatch& a, const DiaryBatch& b) {
  PairGroup g{"Measured", "measured"};
  const auto one = rows_of(a, true), other = rows_of(b, true);
  const auto told = [](const DiaryRow* r) { return r && r->done ? r->done : std::nullopt; };
  for (const auto* rows : {&one, &other})
    for (const DiaryRow& r : *rows) {
      const DiaryRow *mine = row_of(one, r.word, r.unit), *theirs = row_of(other, r.word, r.unit);
      const bool there = std::any_of(g.pairs.begin(), g.pairs.end(), [&](const Pair& p) { return p.what == r.word && p.unit == r.unit; });
      if (!r.setting && !there && (told(mine) || told(theirs))) g.pairs.push_back({r.word, r.unit, told(mine), told(theirs), false, false, "", ""});
    }
  return g;
}

/// Curd for a kilogram of seed, from the scale where it was asked.
std::pair<std::optional<double>, bool> yield_of(const DiaryBatch& b) {
  const DiaryReading *curd = b.reading("curd"), *dry = b.reading("dry");
  const auto seed = dry ? std::optional(dry->value) : b.planned("dry");
  if (curd && seed && *seed > 0) return {curd->value / *seed, false};
  if (const DiaryFigure* f = b.figure("yield_fraction")) return {f->value, true};
  return {};
}

PairGroup yields_of(const DiaryBatch& a, const DiaryBatch& b) {
  PairGroup g{"Yield", "yields"};
  const auto [mine, mine_planned] = yield_of(a);
  const auto [theirs, theirs_planned] = yield_of(b);
  g.pairs.push_back({"curd from seed", "fraction", mine, theirs, mine_planned, theirs_planned, "", ""});
  for (const auto& [what, key, unit] : {std::tuple{"protein in 100 g", "protein_g", "g"}, std::tuple{"blocks", "blocks_count", "count"}}) {
    const DiaryFigure *one = a.figure(key), *other = b.figure(key);
    if (std::string_view(key) == "blocks_count" && (a.reading("blocks") || b.reading("blocks"))) continue;
    if (one && other) g.pairs.push_back({what, unit, one->value, other->value, true, true, "", ""});
  }
  return g;
}

PairGroup cost_of(const DiaryBatch& a, const DiaryBatch& b) {
  PairGroup g{"Cost", "cost"};
  const auto &one = a.start.money, &other = b.start.money;
  if (!one && !other) return g;
  const auto part = [&](const char* what, double DiaryMoney::* p) {
    g.pairs.push_back({what, "money", one ? std::optional((*one).*p) : std::nullopt, other ? std::optional((*other).*p) : std::nullopt, false, false, "", "", one ? one->currency : "", other ? other->currency : ""});
  };
  const auto currency = [](const auto& money) { return money ? std::string(said_currency(money->currency)) : std::string(); };
  if (currency(one) != currency(other)) g.pairs.push_back({"currency", "", {}, {}, false, false, currency(one), currency(other)});
  part("batch", &DiaryMoney::total), part("block", &DiaryMoney::per_block);
  return g;
}

PairGroup scores_of(const Side& a, const Side& b) {
  PairGroup g{"Tasted, 1 to 5", "scores", {}, true};
  const auto score = [](const Side& s, std::string_view word) -> std::optional<double> {
    for (const DiaryScore& o : s.piece ? s.piece->scores : s.batch.scores)
      if (o.word == word) return o.score;
    return std::nullopt;
  };
  for (const TasteScale& scale : all_scales())
    if (const auto one = score(a, scale.word), other = score(b, scale.word); one || other) g.pairs.push_back({std::string(scale.word), "count", one, other, false, false, "", ""});
  return g;
}

std::string frozen_words(const DiaryPiece& p) { return !p.frozen ? "" : *p.frozen ? "yes" : "no"; }

PairGroup pieces_of(const Side& a, const Side& b) {
  PairGroup g{"Piece", "pieces"};
  if (!a.piece && !b.piece) return g;
  const auto number = [&](const char* what, const char* unit, auto get) {
    const auto one = a.piece ? get(*a.piece) : std::nullopt, other = b.piece ? get(*b.piece) : std::nullopt;
    if (one || other) g.pairs.push_back({what, unit, one, other, false, false, "", ""});
  };
  const auto mass = [](std::optional<double> DiaryPiece::* p) { return [p](const DiaryPiece& piece) { return piece.*p ? std::optional(*(piece.*p) * 1e3) : std::nullopt; }; };
  number("mass", "g", mass(&DiaryPiece::mass_kg)), number("aged", "days", [](const DiaryPiece& p) { return p.aged_s ? std::optional(*p.aged_s / day_s) : std::nullopt; });
  number("before", "g", mass(&DiaryPiece::before_kg)), number("after", "g", mass(&DiaryPiece::after_kg)), number("lost", "fraction", lost_share);
  const auto words = [&](const char* what, auto get) {
    const std::string one = a.piece ? get(*a.piece) : "", other = b.piece ? get(*b.piece) : "";
    if (!one.empty() || !other.empty()) g.pairs.push_back({what, "", {}, {}, false, false, one, other});
  };
  words("frozen", frozen_words);
  words("way", way_words);
  return g;
}

}  // namespace

std::optional<double> lost_share(const DiaryPiece& p) {
  if (!p.before_kg || !p.after_kg || *p.before_kg <= 0) return std::nullopt;
  return 1 - *p.after_kg / *p.before_kg;
}

std::string way_words(const DiaryPiece& p) { return p.way ? std::string(word(*p.way)) : ""; }

std::string age_words(double days) { return days == 0 ? "fresh" : fixed(days, days == std::floor(days) ? 0 : 1) + " d"; }

std::vector<Difference> differences_of(const Side& one, const Side& other) {
  auto all = recipe_differences(one.batch, other.batch);
  if (!one.piece || !other.piece) return all;
  const auto put = [&](std::string at, std::string a, std::string b) {
    if (a != b) all.push_back({std::move(at), std::move(a), std::move(b)});
  };
  const auto age = [](const DiaryPiece& p) { return p.aged_s ? age_words(*p.aged_s / day_s) : std::string(); };
  put("aged", age(*one.piece), age(*other.piece));
  put("frozen", frozen_words(*one.piece), frozen_words(*other.piece));
  put("way", way_words(*one.piece), way_words(*other.piece));
  return all;
}

std::vector<PairGroup> pairs_of(const Side& one, const Side& other) {
  std::vector<PairGroup> all = {pieces_of(one, other)};
  // Two pieces of one batch share all that was done to it.
  if (&one.batch != &other.batch && one.batch.id != other.batch.id)
    for (const PairGroup& g : {settings_of(one.batch, other.batch), measured_of(one.batch, other.batch), yields_of(one.batch, other.batch), cost_of(one.batch, other.batch)}) all.push_back(g);
  all.push_back(scores_of(one, other));
  std::erase_if(all, [](const PairGroup& g) { return g.pairs.empty(); });
  return all;
}

}  // namespace curdwright::sheets
