// SPDX-License-Identifier: MIT
#include "sheets/shares.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace curdwright::sheets {
namespace {

/// A list of so many is read; of more only how large they get.
constexpr std::size_t most_told = 12;

/// "4, 2, 4 and 2"
std::string joined(const std::vector<int>& numbers) {
  std::string words;
  for (std::size_t i = 0; i < numbers.size(); ++i) words += fmt::format("{}{}", i == 0 ? "" : i + 1 == numbers.size() ? " and " : ", ", numbers[i]);
  return words;
}

/// Moulds of each filling, in their order; nothing where very many loads are told in one piece.
std::vector<int> moulds_of_fillings(const Timeline& t) {
  std::vector<int> all;
  for (const Operation& o : t.operations)
    if (o.work == Work::mould && o.moulds > 0) all.push_back(o.moulds);
  return all;
}

}  // namespace

BlockShares block_shares(const Batch& b, Mass all) {
  const double blocks = std::max(1e-9, value(b.plan, Figure::blocks));
  const int moulds = b.blocks_to_press, pots = b.setup.job.coagulate.pots;
  const int whole = static_cast<int>(std::min(value(b.plan, Figure::whole_blocks), static_cast<double>(moulds)));
  const Mass last = all * (1 - whole / blocks);
  const bool alike = pots > 1 || whole == 0 || whole == moulds || last > all / blocks * 0.95;
  return alike ? BlockShares{moulds, all / moulds, {}, moulds % pots != 0} : BlockShares{whole, all / blocks, last};
}

std::string tubs_words(const Batch& b, const Amounts& say) {
  const BlockShares tubs = block_shares(b, b.plan.cooked.milk.mass() + b.plan.set.mix.mass());
  const int pots = b.setup.job.coagulate.pots;
  if (pots > 1) {
    const std::string all = many(b.blocks_to_press, "watertight tub", "watertight tubs");
    if (!tubs.uneven) return fmt::format("{}, {} from each pot, with about {} each", all, b.blocks_to_press / pots, say.about(tubs.each));
    return fmt::format("{}, {} or {} from each pot, with about {} each: share what a pot holds evenly", all, b.blocks_to_press / pots, b.blocks_to_press / pots + 1, say.about(tubs.each));
  }
  std::string words = fmt::format("{} with about {}{}", many(tubs.whole, "watertight tub", "watertight tubs"), say.about(tubs.each), tubs.whole > 1 ? " each" : "");
  if (tubs.last.si() > 0) words += fmt::format(", and a last one with the rest, about {}", say.about(tubs.last));
  return words;
}

int largest_filling(const Batch& b, const Timeline& t) {
  const std::vector<int> all = moulds_of_fillings(t);
  return all.empty() ? std::min(b.setup.kitchen.moulds, b.blocks_to_press) : *std::max_element(all.begin(), all.end());
}

std::string fillings_words(const Batch& b, const Timeline& t) {
  const std::vector<int> all = moulds_of_fillings(t);
  if (all.size() != static_cast<std::size_t>(t.fillings) || all.size() > most_told) return fmt::format("{} fillings, at most {} at a time", t.fillings, many(largest_filling(b, t), "mould", "moulds"));
  if (std::all_of(all.begin(), all.end(), [&](int n) { return n == all[0]; })) return fmt::format("{} fillings of {}", all.size(), many(all[0], "mould", "moulds"));
  return fmt::format("{} fillings, of {} moulds", all.size(), joined(all));
}

}  // namespace curdwright::sheets
