// SPDX-License-Identifier: MIT
// How milk and curd are shared out over tubs, moulds, pots and fillings.
#pragma once

#include <string>

#include "curdwright/schedule.hpp"
#include "sheets/amounts.hpp"

namespace curdwright::sheets {

/// Of something that is shared out over the blocks: for each whole one, and for the piece at the end where it has a mould of its own.
/// What several pots give in turn is shared evenly over the moulds of each.
struct BlockShares {
  int whole = 0;
  Mass each, last;      ///< last: 0 where there is no such piece
  bool uneven = false;  ///< the pots fill different numbers of moulds
};
BlockShares block_shares(const Batch& b, Mass all);

/// "4 watertight tubs with about 1.72 kg each, and a last one with the rest, about 520 g"; of several pots, what each fills.
std::string tubs_words(const Batch& b, const Amounts& say);

/// Moulds that are filled together.
int largest_filling(const Batch& b, const Timeline& t);
/// "4 fillings, of 4, 2, 4 and 2 moulds"; of very many only how large they get.
std::string fillings_words(const Batch& b, const Timeline& t);

}  // namespace curdwright::sheets
