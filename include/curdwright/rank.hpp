// SPDX-License-Identifier: MIT
/// \file rank.hpp
/// Which legume to try next: all of them planned by one recipe in one kitchen, best first, with how sure that is.
///
///     Ranking r = rank_legumes({.texts = texts, .by = *find_response("protein_per_cost")}, catalogue);
///     for (const Ranked& l : r.ranked) print(l.name, l.value, l.range, l.own, l.borrowed, l.guessed);
///
/// A legume that the rules stop, that has no plan, or that has no price where one is needed, is named apart, with the reason:
/// an unknown is never ranked as if it were nothing.
#pragma once

#include "curdwright/study.hpp"

namespace curdwright {

struct RankQuestion {
  InputTexts texts;                     ///< the recipe, of whatever legume; the ranked one takes its place
  const Response* by = nullptr;
  bool least_first = false;             ///< of what is spent, waited for or got rid of: Response::less_is_better
  std::vector<std::string> without_allergens;  ///< words of known_allergens
  std::vector<Hazard> without_hazards;
  std::optional<double> under;          ///< money for a kilogram of seed
  std::function<bool(std::size_t done, std::size_t of)> go_on = {};
};

struct Ranked {
  std::string id, name;
  double value = 0;                     ///< in the unit of the response's key
  std::optional<Range> range;
  std::optional<double> seed_price;     ///< money for a kilogram
  int own = 0, borrowed = 0, guessed = 0;  ///< figures of its record: seen or derived for it; of a neighbour; guess or judgement
  std::vector<std::string> allergens;
  std::vector<Hazard> hazards;
};

struct LeftOut {
  std::string id, name, why;
};

struct Ranking {
  std::vector<Ranked> ranked;           ///< best first
  std::vector<LeftOut> left_out;        ///< that a wish of the question does not leave out, and that cannot be ranked
  int unwished = 0;                     ///< left out by --without and --under
  std::string currency;
  bool whole = true;
};

Ranking rank_legumes(const RankQuestion& question, const Catalogue& catalogue);

/// "allergen:soybean" or "hazard:favism", put into the question. The nearest word is offered where it is unknown.
Result<void> read_without(std::string_view text, RankQuestion& question);

}  // namespace curdwright
