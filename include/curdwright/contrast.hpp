// SPDX-License-Identifier: MIT
/// \file contrast.hpp
/// Batches side by side, and whether they differ by more than what is not known.
///
///     const std::vector<Contrast> all = contrasts(batches, responses);
///     if (all[0].to_first[1]->clear()) print("the second is surely the better one");
///
/// What is not known of both is drawn once for both: the same seed, sieve, pot and model. So common ignorance cancels in the
/// difference, and two cooks who argue about the cloth need not first agree on the bean. Numbers that have another owner in
/// the other batch (another legume, blender, coagulant) are drawn apart. Where a kitchen has learned, each batch keeps the
/// spreads it has there; what is shared is then drawn alike as far as the two hang on the same numbers in the same order.
#pragma once

#include "curdwright/response.hpp"

namespace curdwright {

/// How far a response lies above that of the first batch, in the unit of its key.
struct Margin {
  double median = 0;       ///< of the two plans
  Range range;             ///< the middle 80 % of the differences
  double chance_more = 0;  ///< share of the sample in which it is the larger one
  /// Larger or smaller in at least nine cases of ten.
  [[nodiscard]] bool clear() const { return range.low > 0 || range.high < 0; }
};

struct Contrast {
  const Response* response = nullptr;
  std::vector<std::optional<double>> values;         ///< of each batch
  std::vector<std::optional<Range>> ranges;
  std::vector<std::optional<Margin>> to_first;   ///< none for the first itself, and where a value is missing
};

/// \param batches the first is what the others are measured against
std::vector<Contrast> contrasts(std::span<const Batch* const> batches, std::span<const Response* const> responses, int plans = 512);

/// A setting that is not the same in all recipes.
struct Differs {
  std::string pointer;
  std::vector<std::string> told;  ///< as each recipe writes it; empty where it leaves it to the defaults
};
/// In the order in which they are first told; titles and schemas are passed over.
std::vector<Differs> differences(std::span<const InputTexts> texts);

}  // namespace curdwright
