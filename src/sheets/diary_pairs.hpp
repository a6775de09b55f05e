// SPDX-License-Identifier: MIT
// Two batches, or pieces of them, row beside row.
#pragma once

#include "sheets/diary.hpp"

namespace curdwright::sheets {

struct Pair {
  std::string what, unit;             ///< unit as keys end
  std::optional<double> one, other;
  bool one_planned = false, other_planned = false;  ///< not told: the plan stands in
  std::string one_words, other_words; ///< where it is no number
  std::string one_currency{}, other_currency{};  ///< of money
};
struct PairGroup {
  std::string heading, key;
  std::vector<Pair> pairs{};
  bool scores = false;
};
/// Both sides as words; what was only planned has an asterisk.
std::pair<std::string, std::string> pair_words(const PairGroup& group, const Pair& pair, const Kitchen& kitchen);
/// Groups that hold something: pieces, settings that differ, measurements, yields, cost, scores.
std::vector<PairGroup> pairs_of(const Side& one, const Side& other);

/// What differs in the recipes, and between two pieces in how they were kept and cooked.
std::vector<Difference> differences_of(const Side& one, const Side& other);

/// "pan"; nothing where it was not told
std::string way_words(const DiaryPiece& piece);
/// "fresh", "3 d"
std::string age_words(double days);
/// Share of its weight that a piece lost in the pan; below zero when it took some up.
std::optional<double> lost_share(const DiaryPiece& piece);

}  // namespace curdwright::sheets
