// SPDX-License-Identifier: MIT
/// \file update.hpp
/// What measurements do to beliefs: one batch, Gaussian on the link scale.
///
///     Update u = update(batch.setup.beliefs, batch.setup.job, seen);
///     Plan p = plan(batch.setup.job, u.beliefs.medians());       // follows the scale, and its balances close
///     if (u.residuals[0].weight < 0.5) suspect_a_slip();
///
/// The beliefs are x = m + F z with z standard normal. Of the logarithms of the figures, h(z), and what was
/// seen, y, the most likely z is the minimum of
///     z'z + sum_i w_i (y_i - h_i(z))^2 / s_i^2
/// found by Gauss-Newton steps; the covariance of z is that of the linearised problem there (Laplace).
/// The weight w_i is the chance that reading i is no slip: a share of readings, `slips`, is taken to be
/// off by a factor of about exp(`slip_size`), and the chance follows from what the other readings and the
/// beliefs expect of it. A reading that fits keeps a weight near 1.
#pragma once

#include <span>
#include <vector>

#include "curdwright/measure.hpp"

namespace curdwright {

/// Share of readings that are slips (a forgotten tare, a wrong unit, swapped figures), and the standard deviation of the
/// logarithm of what a slip does: judgement.
inline constexpr double slips = 0.02, slip_size = 0.7;

/// What became of one observation beside what was expected of it.
struct Residual {
  double weight = 1;    ///< chance that it is no slip
  double surprise = 0;  ///< distance from what the beliefs and the other readings expect, in standard deviations
  double ratio = 1;     ///< of what was seen to what they expect
};

struct Update {
  Beliefs beliefs;            ///< as they are now
  std::vector<Residual> residuals;  ///< one for each observation
  bool converged = true;      ///< else the search was stuck, as at a pot that never boils
};

/// Observations of figures that this plan does not have (a starch layer where nothing settles) are passed over, with weight 0.
Update update(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen);

}  // namespace curdwright
