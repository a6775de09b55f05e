// SPDX-License-Identifier: MIT
/// \file correct.hpp
/// A batch in hand that follows the scale.
///
///     Result<Correction> c = correct(batch, readings);
///     const Batch& rest = c->batch;   // what is used up stays, the rest is planned again from what is now believed
///
/// Seed, water and coagulant that are already in are frozen, never solved again. What was set is as it was done; what was
/// weighed moves the beliefs (update.hpp). Amounts still to come follow the recipe's own rules at the new medians.
#pragma once

#include <vector>

#include "curdwright/fit.hpp"
#include "curdwright/slip.hpp"
#include "curdwright/update.hpp"

namespace curdwright {

/// A reading beside the plan.
struct Told {
  Reading reading;
  double planned = 0;              ///< in SI, as the reading; of a setting what was to be set, 0 where that is not told
  std::optional<Range> likely;     ///< the middle 80 % beforehand, in SI; none for a setting
  Residual residual;               ///< weight 1 for a setting
  Slip slip;                       ///< where the weight is below `suspect_below`
  bool no_figure = false;          ///< the plan has nothing of the kind
};

/// An extra washing of the pulp, and what it would bring.
struct WashAdvice {
  Mass water, curd;
};

struct Correction {
  Batch planned;              ///< as it was
  Batch batch;                ///< as it is now
  Stage done = Stage::soak;   ///< the last stage whose amounts are used up
  bool over = false;          ///< whether that stage is over, or still under way
  std::vector<Told> told;
  bool converged = true;
  std::optional<WashAdvice> wash;   ///< where the pulp is in hand and washing it is worth while
  std::optional<Mass> coagulant_missing; ///< of the dose, where too little was poured into the one pot and the wait is not told yet
  std::optional<MassGain> gain;     ///< readings that together weigh more than what went in
};

/// A sized setup with what was set as it was done; what was weighed changes nothing here.
Setup as_done(const Setup& planned, std::span<const Reading> readings);

/// Problems: faults of the new plan, as fault_words() tells them. A reading that does not go with the batch is no problem: its weight tells.
Result<Correction> correct(const Batch& planned, std::span<const Reading> readings);

}  // namespace curdwright
