// SPDX-License-Identifier: MIT
/// \file learn.hpp
/// What many batches show of a kitchen.
///
///     Lesson l = learn(batches);            // each with its setup, resolved from the shipped beliefs, and what was seen
///     kitchen.learned = l.learned;          // resolve() takes it up from there
///
/// Every uncertain number of batch b is
///     x = link(shipped) + spread ( sum_k sqrt(share_k) u_k + sqrt(share of the batch) e_b )
/// with u the lasting offsets of the kitchen, of the kitchen with this legume and of its gear, and e_b the scatter of the
/// one batch, all standard normal beforehand. The scatter is integrated out, so that the fit is for u alone: the minimum of
///     u'u + sum_b r_b' R_b^-1 r_b,    r_b = y_b - h_b(u) - c_b,    R_b = D_b / w_b + J_b S J_b',
/// h the logarithms of the figures, D their errors, J S J' what the batch scatter S does to them, c half its curvature (the
/// mean of a bent figure is not the figure of the mean), w the weights of update.hpp; by Gauss-Newton steps, with c_b, R_b
/// and w_b taken at the point reached. The covariance is that of the last linearised problem.
/// It always starts from the shipped beliefs, so learning twice from one diary is learning once.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "curdwright/update.hpp"

namespace curdwright {

/// One batch to learn from.
struct BatchSeen {
  std::string id;
  Setup setup;                     ///< as it was done; its beliefs are the shipped ones, independent of each other
  std::vector<Observation> seen;
};

struct LearnOptions {
  double tolerance = 0.03;  ///< ends when no offset wants to move by more, in units of what is left open of it; below 1e-3,
                            ///< and for fewer than 96 batches, slopes are found from both sides and c_b for each batch,
                            ///< else from one side and c_b for one batch of each kind
  bool robust = true;       ///< off: every reading counts in full
};

/// What became of a batch.
struct BatchLesson {
  std::string id;
  std::vector<Residual> residuals;  ///< one for each observation; weight 0 where the plan has no such figure
  double pull = 0;            ///< its share of all that was learned, 0 to 1
};

struct Lesson {
  Learned learned;            ///< what is worth keeping
  std::vector<BatchLesson> batches;
  std::vector<std::string> names;   ///< all names of the fit, with offsets and covariance (full, row by row)
  std::vector<double> offsets, covariance;
  int steps = 0;
  bool converged = true;
};

/// \param batches setups of which a plan gives no curd are passed over, with no residuals of weight
Lesson learn(std::span<const BatchSeen> batches, const LearnOptions& options = {});

}  // namespace curdwright
