// SPDX-License-Identifier: MIT
// Observed figures of a job as functions of its beliefs, and how far readings can be trusted: shared by update and learn.
#pragma once

#include <Eigen/Dense>
#include <cmath>
#include <span>
#include <vector>

#include "curdwright/update.hpp"

namespace curdwright {

/// Readings that a plan at the medians has figures for, with their logarithms and the variances of those.
struct Usable {
  std::vector<std::size_t> which;  ///< of the readings
  std::vector<Observation> seen;
  Eigen::VectorXd y, noise;
};
Usable usable(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen);

/// Logarithms of observed figures at a point z of the beliefs. An entry is NaN where the plan there has no such figure.
Eigen::VectorXd log_figures(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen, std::span<const double> z);

/// How slopes are found: by differences to both sides, or at half the cost to one side of figures that are known.
enum class Differences { both_sides, one_side };

/// How they move with z, for the columns asked for; a column for each. Both sides: exact to 1e-7 or so; one side: to 1e-3.
struct Slopes {
  Eigen::MatrixXd slope;
  Eigen::MatrixXd curvature;  ///< second derivatives by the same column; empty from one side
};
Slopes slopes(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen, const Eigen::VectorXd& z, std::span<const std::size_t> columns,
              Differences how);

/// All columns by which any of the figures moves, found from one side at the medians.
std::vector<std::size_t> moving_columns(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen);

/// Along a Gauss-Newton step, halved until the objective is not above the ceiling; `from` where no length will do.
template <class Objective>
Eigen::VectorXd shortened(const Eigen::VectorXd& from, const Eigen::VectorXd& whole, double ceiling, int most_halvings, Objective objective) {
  for (int halvings = 0; halvings <= most_halvings; ++halvings) {
    Eigen::VectorXd tried = from + std::ldexp(1.0, -halvings) * whole;
    if (objective(tried) <= ceiling) return tried;
  }
  return from;
}

/// Finds the weights of readings.
/// \param residual seen minus expected \param noise variance of each reading \param shared covariance of what is expected
void weigh(const Eigen::VectorXd& residual, const Eigen::VectorXd& noise, const Eigen::MatrixXd& shared, std::vector<Residual>& residuals);

}  // namespace curdwright
