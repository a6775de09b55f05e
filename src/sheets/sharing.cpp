// SPDX-License-Identifier: MIT
#include "sheets/sharing.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace curdwright::sheets {
namespace {

/// Whether a recipe tells an amount that is for all of the batches together.
bool tells_amounts(const Setup& s) {
  if (s.recipe.blend.water || s.recipe.coagulate.amount) return true;
  const auto& all = s.job.extras;
  return std::any_of(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(s.job.extra_count), [](const Addition& e) { return e.fixed.si() > 0; });
}

}  // namespace

std::string sharing_words(const Batch& b, const Amounts& say) {
  const Sharing& all = *b.shared;
  const std::string why = all.because == "jar" ? fmt::format("the {} jarfuls of one batch take so long that raw milk would stand {}", all.jarfuls, duration(all.raw_milk_standing))
                                               : fmt::format("the kitchen's {} do not take it at once", all.because);
  const std::string words = fmt::format("Too much for one run: {}. Make {} batches, one after the other, each from its soak on; they take {} of dry seed in all.", why, all.batches, say.about(all.dry));
  if (all.last_blocks == 0) return words + " They are alike, and this is for one of them.";
  return words + fmt::format(" This is for {}; the last is of {}, and --blocks {} prints its sheet{}.", all.batches == 2 ? "the first" : fmt::format("each of the first {}", all.batches - 1), many(all.last_blocks, "block", "blocks"), all.last_blocks,
                             tells_amounts(b.setup) ? ": tell it only its part of what the recipe tells by weight" : "");
}

}  // namespace curdwright::sheets
