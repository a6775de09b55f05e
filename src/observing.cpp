// SPDX-License-Identifier: MIT
#include "observing.hpp"

#include <cmath>
#include <limits>

namespace curdwright {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Step of the differences, in standard deviations: the error of the cube and the noise of the plan's root finds are both below 1e-8.
constexpr double step = 1e-3;
/// A weight is never quite nothing, so that the variance noise / weight stays a number.
constexpr double least_weight = 1e-9;

/// What the other readings leave open of one: mean and variance of its residual, its own noise at full weight.
struct Left {
  double mean, variance;
};
Left left_of(const MatrixXd& precision, const VectorXd& pulled, const VectorXd& noise, const std::vector<Residual>& residuals, Eigen::Index i) {
  const double with_weight = 1.0 / precision(i, i);
  const double own = noise(i) / residuals[static_cast<std::size_t>(i)].weight;
  return {pulled(i) * with_weight, with_weight - own + noise(i)};
}

/// Chance that a residual comes from the narrow Gaussian and not from that of slips.
double chance_of_no_slip(const Left& l) {
  const double broad = l.variance + slip_size * slip_size;
  const double odds = slips / (1 - slips) * std::sqrt(l.variance / broad) * std::exp(0.5 * l.mean * l.mean * (1 / l.variance - 1 / broad));
  return std::max(least_weight, 1.0 / (1.0 + odds));
}

VectorXd log_figures_at(const Theta& theta, const Job& job, std::span<const Observation> seen) {
  const Plan p = plan(job, theta);
  VectorXd h(static_cast<Eigen::Index>(seen.size()));
  for (std::size_t i = 0; i < seen.size(); ++i) {
    const double v = value(p, seen[i].what);
    h(static_cast<Eigen::Index>(i)) = v > 0 ? std::log(v) : std::numeric_limits<double>::quiet_NaN();
  }
  return h;
}

/// Numbers at z but for one belief of them; independent beliefs need no more than that one to be found anew.
Theta beside(const Beliefs& beliefs, const Theta& here, VectorXd& z, std::size_t column, double by) {
  const auto c = static_cast<Eigen::Index>(column);
  if (beliefs.factor().empty()) {
    Theta there = here;
    beliefs.put(there, column, beliefs.all()[column].spread * (z(c) + by));
    return there;
  }
  const double before = z(c);
  z(c) += by;
  const Theta there = beliefs.at(std::span(z.data(), static_cast<std::size_t>(z.size())));
  z(c) = before;
  return there;
}

}  // namespace

VectorXd log_figures(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen, std::span<const double> z) { return log_figures_at(beliefs.at(z), job, seen); }

Slopes slopes(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen, const VectorXd& z, std::span<const std::size_t> columns,
              Differences how) {
  const bool both = how == Differences::both_sides;
  const auto m = static_cast<Eigen::Index>(seen.size()), n = static_cast<Eigen::Index>(columns.size());
  Slopes s{MatrixXd(m, n), both ? MatrixXd(m, n) : MatrixXd()};
  VectorXd at = z;
  const Theta theta = beliefs.at(std::span(z.data(), static_cast<std::size_t>(z.size())));
  const VectorXd here = log_figures_at(theta, job, seen);
  for (Eigen::Index k = 0; k < n; ++k) {
    const std::size_t column = columns[static_cast<std::size_t>(k)];
    const VectorXd up = log_figures_at(beside(beliefs, theta, at, column, step), job, seen);
    if (!both) {
      s.slope.col(k) = (up - here) / step;
      continue;
    }
    const VectorXd down = log_figures_at(beside(beliefs, theta, at, column, -step), job, seen);
    s.slope.col(k) = (up - down) / (2 * step);
    s.curvature.col(k) = (up + down - 2 * here) / (step * step);
  }
  // Where a figure ends within a step, it has no slope there, and its reading moves nothing.
  s.slope = s.slope.unaryExpr([](double v) { return std::isfinite(v) ? v : 0.0; });
  s.curvature = s.curvature.unaryExpr([](double v) { return std::isfinite(v) ? v : 0.0; });
  return s;
}

Usable usable(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen) {
  const VectorXd h = log_figures(beliefs, job, seen, {});
  Usable u;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    if (!std::isfinite(h(static_cast<Eigen::Index>(i))) || !(seen[i].value > 0) || !(seen[i].spread > 0)) continue;
    u.which.push_back(i);
    u.seen.push_back(seen[i]);
  }
  const auto m = static_cast<Eigen::Index>(u.seen.size());
  u.y.resize(m), u.noise.resize(m);
  for (Eigen::Index i = 0; i < m; ++i) {
    const Observation& o = u.seen[static_cast<std::size_t>(i)];
    u.y(i) = std::log(o.value), u.noise(i) = o.spread * o.spread;
  }
  return u;
}

std::vector<std::size_t> moving_columns(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen) {
  std::vector<std::size_t> all(beliefs.size()), moving;
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  const MatrixXd slope = slopes(beliefs, job, seen, VectorXd::Zero(static_cast<Eigen::Index>(beliefs.size())), all, Differences::one_side).slope;
  // Less than this of a percent for a whole standard deviation is noise.
  for (std::size_t i : all)
    if (slope.col(static_cast<Eigen::Index>(i)).cwiseAbs().maxCoeff() > 1e-5) moving.push_back(i);
  return moving;
}

void weigh(const VectorXd& residual, const VectorXd& noise, const MatrixXd& shared, std::vector<Residual>& residuals) {
  const Eigen::Index m = residual.size();
  // One weight at a time, the worst first: a slip makes its neighbours look wrong until it is out of the way.
  for (Eigen::Index round = 0; round <= 4 * m; ++round) {
    MatrixXd c = shared;
    for (Eigen::Index i = 0; i < m; ++i) c(i, i) += noise(i) / residuals[static_cast<std::size_t>(i)].weight;
    const MatrixXd precision = c.llt().solve(MatrixXd::Identity(m, m));
    const VectorXd pulled = precision * residual;
    Eigen::Index worst = -1;
    double most = 1e-3, wanted = 1;
    for (Eigen::Index i = 0; i < m; ++i) {
      const Left l = left_of(precision, pulled, noise, residuals, i);
      Residual& s = residuals[static_cast<std::size_t>(i)];
      s.surprise = l.mean / std::sqrt(l.variance), s.ratio = std::exp(l.mean);
      const double w = chance_of_no_slip(l), change = std::abs(w - s.weight);
      if (change > most) worst = i, most = change, wanted = w;
    }
    if (worst < 0) return;
    residuals[static_cast<std::size_t>(worst)].weight = wanted;
  }
}

}  // namespace curdwright
