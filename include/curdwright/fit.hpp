// SPDX-License-Identifier: MIT
/// \file fit.hpp
/// What the kitchen takes in one go, the largest batch that fits, and how a larger one is shared out.
///
///     Result<Batch> b = plan_batch(setup);            // size_batch, and "fill"
///     for (const Limit& l : limits(setup)) print(l.gear, l.dry);
///     const Batch run = one_run(*b);                  // what one sheet is for
///
/// In one go means: one pot, half full for its foam; the settling vessels that there are; every mould filled once; a
/// ring that brings the pot to the boil. A jar is filled again and again, so it limits only through the two hours that
/// raw milk may stand.
#pragma once

#include <string>
#include <vector>

#include "curdwright/schedule.hpp"

namespace curdwright {

/// Largest amount of dry seed that one piece of gear takes in one go.
struct Limit {
  std::string_view gear;  ///< pot, settling vessels, moulds, ring, jar
  std::string words;      ///< "10 l, half full for the foam"
  Mass dry;
};
/// Smallest first. What sets no limit is left out.
/// \param sure share of the sample in which it is to fit; even odds when absent
std::vector<Limit> limits(const Setup& setup, std::optional<double> sure = std::nullopt);

/// Sizes a batch: by its target, or to fill the kitchen.
Result<Batch> plan_batch(Setup setup, Rounding rounding = Rounding::to_scales);

/// What is cooked in one run: the batch as it is where it fits, else one of those that it is shared out into, which has
/// its `shared`. Pots and moulds are filled again; settling vessels and the clock of raw milk are not. Whole blocks stay
/// whole; seed or curd that is wanted is shared out evenly. As it is, too, where no number of batches helps.
Batch one_run(Batch batch);

}  // namespace curdwright
