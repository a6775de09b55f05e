// SPDX-License-Identifier: MIT
#include "sheets/ranked.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/csv.hpp"
#include "sheets/json_values.hpp"
#include "sheets/said.hpp"
#include "sheets/schema_words.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

using Json = nlohmann::ordered_json;

std::string known_words(const Ranked& l) { return fmt::format("{} own, {} borrowed, {} guessed", l.own, l.borrowed, l.guessed); }

/// Legumes from this one on whose range still reaches the first: the order among them is open.
std::size_t open_until(const Ranking& g, bool least) {
  if (g.ranked.empty() || !g.ranked[0].range) return 0;
  std::size_t n = 1;
  while (n < g.ranked.size() && g.ranked[n].range && (least ? g.ranked[n].range->low <= g.ranked[0].value : g.ranked[n].range->high >= g.ranked[0].value)) ++n;
  return n;
}

/// Whether all come to one value but for rounding, as where the recipe asks for just that.
bool all_the_same(const Ranking& g) {
  constexpr double rounding = 0.005;
  const auto [least, most] = std::minmax_element(g.ranked.begin(), g.ranked.end(), [](const Ranked& a, const Ranked& b) { return a.value < b.value; });
  return g.ranked.size() > 1 && most->value - least->value <= rounding * std::abs(most->value);
}

}  // namespace

std::string ranked_text(const RankQuestion& q, const Ranking& g, int width) {
  const Response& r = *q.by;
  const std::string unit = said_unit(r, g.currency);
  std::string out = fmt::format("Legumes by {}{}, {} first\n\n", r.plain, unit.empty() ? "" : ", " + unit, q.least_first ? "least" : "most");
  int name = 0, number = 0, range = 0;
  double largest = 0;
  for (const Ranked& l : g.ranked) largest = std::max(largest, std::abs(l.value * r.to_unit));
  const int digits = column_digits(largest);
  const auto said_of = [&](double v) { return fixed(v * r.to_unit, digits); };
  const auto between = [&](const Ranked& l) { return l.range ? fmt::format("({} to {})", text::padded_left(said_of(l.range->low), 4), text::padded_left(said_of(l.range->high), 4)) : std::string(); };
  for (const Ranked& l : g.ranked) name = std::max(name, text::width(l.id)), number = std::max(number, text::width(said_of(l.value))), range = std::max(range, text::width(between(l)));
  for (std::size_t i = 0; i < g.ranked.size(); ++i) {
    const Ranked& l = g.ranked[i];
    const std::string row = fmt::format("{:>4}  {}  {}  {}", i + 1, text::padded(l.id, name), text::padded_left(said_of(l.value), number), text::padded(between(l), range));
    const bool room = text::width(row) + 2 + static_cast<int>(known_words(l).size()) <= width;
    out += row + (room ? "  " + known_words(l) : "") + "\n";
  }
  if (g.ranked.empty()) out += "  none\n";
  out += "\n";
  if (all_the_same(g))
    out += text::hung("", "All come to the same but for rounding, as where the recipe asks for just that: rank by another figure, such as yield_fraction.", width);
  else if (const std::size_t n = open_until(g, q.least_first); n > 1)
    out += text::hung("", fmt::format("The first {} are too near to tell apart by what is known.", n), width);
  out += text::hung("", "In brackets the likely range: eight cases in ten. Own, borrowed and guessed count the figures of the record: `curdwright show legume ID` tells each.", width);
  if (!g.left_out.empty()) out += "\nNOT RANKED\n";
  for (const LeftOut& l : g.left_out) out += text::hung("  * ", fmt::format("{}: {}", l.id, text::harmless(l.why)), width);
  if (g.unwished > 0) out += fmt::format("\n{} left out as asked.\n", g.unwished);
  if (!g.whole) out += "\nStopped before all were ranked.\n";
  return out;
}

std::string ranked_csv(const RankQuestion& q, const Ranking& g) {
  std::string out = fmt::format("rank,legume,{0},{0}_low,{0}_high,own,borrowed,guessed,price_per_kg\r\n", q.by->key);
  for (std::size_t i = 0; i < g.ranked.size(); ++i) {
    const Ranked& l = g.ranked[i];
    out += fmt::format("{},{},{},{},{},{},{},{},{}\r\n", i + 1, csv_cell(l.id), csv_number(l.value), csv_number(l.range ? std::optional(l.range->low) : std::nullopt), csv_number(l.range ? std::optional(l.range->high) : std::nullopt), l.own,
                       l.borrowed, l.guessed, csv_number(l.seed_price));
  }
  return out;
}

std::string ranked_json(const RankQuestion& q, const Ranking& g) {
  Json j = {{"schema", "curdwright.ranking/1"}, {"by", q.by->key}, {"least_first", q.least_first}, {"currency", g.currency}, {"whole", g.whole}, {"ranked", Json::array()}, {"left_out", Json::array()}, {"unwished_count", g.unwished}};
  for (const Ranked& l : g.ranked) {
    Json row = {{"id", l.id}, {"name", l.name}, {"value", number(l.value)}};
    if (l.range) row["low"] = number(l.range->low), row["high"] = number(l.range->high);
    if (l.seed_price) row["price_per_kg"] = number(*l.seed_price);
    row["own_count"] = l.own, row["borrowed_count"] = l.borrowed, row["guessed_count"] = l.guessed;
    row["allergens"] = l.allergens, row["hazards"] = Json::array();
    for (Hazard h : l.hazards) row["hazards"].push_back(word(h));
    j["ranked"].push_back(std::move(row));
  }
  for (const LeftOut& l : g.left_out) j["left_out"].push_back({{"id", l.id}, {"why", l.why}});
  return printed(j, Layout::page);
}

std::string ranking_schema() {
  using namespace schema;
  const Json ranked = closed({{"id", text()}, {"name", text()}, {"value", number()}, {"low", number()}, {"high", number()}, {"price_per_kg", number()}, {"own_count", whole()}, {"borrowed_count", whole()}, {"guessed_count", whole()},
                              {"allergens", list_of(text())}, {"hazards", list_of(text())}},
                             {"id", "name", "value", "own_count", "borrowed_count", "guessed_count", "allergens", "hazards"});
  const Json left = closed({{"id", text()}, {"why", text()}}, {"id", "why"});
  return document("ranking", "Legumes in their order", {{"by", text()}, {"least_first", flag()}, {"currency", text()}, {"whole", flag()}, {"ranked", list_of(ranked)}, {"left_out", list_of(left)}, {"unwished_count", whole()}},
                  {"by", "least_first", "currency", "whole", "ranked", "left_out", "unwished_count"});
}

}  // namespace curdwright::sheets
