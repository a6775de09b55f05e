// SPDX-License-Identifier: MIT
#include "curdwright/update.hpp"

#include <cmath>

#include "observing.hpp"

namespace curdwright {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_steps = 30;
constexpr double settled = 1e-7;
/// A search that still wants to go less far than this, in standard deviations, has come near enough.
constexpr double near_enough = 0.02;
/// Weights that have not come to rest by then stay as they are.
constexpr int most_weighings = 8;

/// The search for the most likely point.
struct Search {
  const Beliefs& beliefs;
  const Job& job;
  std::vector<Observation> seen;
  std::vector<std::size_t> columns;
  VectorXd y, noise;
  VectorXd z;              ///< where it stands; only `columns` move
  MatrixXd slope;          ///< there
  VectorXd residual;       ///< there
  std::vector<Residual> residuals;

  [[nodiscard]] VectorXd expected(const VectorXd& at) const { return log_figures(beliefs, job, seen, std::span(at.data(), static_cast<std::size_t>(at.size()))); }
  [[nodiscard]] VectorXd moved() const {
    VectorXd part(static_cast<Index>(columns.size()));
    for (std::size_t k = 0; k < columns.size(); ++k) part(static_cast<Index>(k)) = z(static_cast<Index>(columns[k]));
    return part;
  }
  [[nodiscard]] VectorXd weighted_noise() const {
    VectorXd d = noise;
    for (Index i = 0; i < d.size(); ++i) d(i) /= residuals[static_cast<std::size_t>(i)].weight;
    return d;
  }
  [[nodiscard]] double objective(const VectorXd& at) const {
    const VectorXd r = y - expected(at);
    return r.allFinite() ? at.squaredNorm() + (r.array().square() / weighted_noise().array()).sum() : HUGE_VAL;
  }
  void look() {
    residual = y - expected(z);
    slope = slopes(beliefs, job, seen, z, columns, Differences::both_sides).slope;
  }
};

/// One Gauss-Newton step, shortened until it does not climb. Returns how far it wanted to go.
double step(Search& s) {
  const VectorXd part = s.moved();
  MatrixXd c = s.slope * s.slope.transpose();
  c.diagonal() += s.weighted_noise();
  const VectorXd target = s.slope.transpose() * c.llt().solve(s.residual + s.slope * part);
  VectorXd whole = VectorXd::Zero(s.z.size());
  for (std::size_t k = 0; k < s.columns.size(); ++k) whole(static_cast<Index>(s.columns[k])) = target(static_cast<Index>(k)) - part(static_cast<Index>(k));
  // A little above: at the bottom the last digits go up and down.
  const double ceiling = s.objective(s.z) * (1 + 1e-12) + 1e-15;
  s.z = shortened(s.z, whole, ceiling, 13, [&](const VectorXd& z) { return s.objective(z); });
  return whole.cwiseAbs().maxCoeff();
}

using RowMajor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

RowMajor factor_of(const Beliefs& beliefs) {
  const auto n = static_cast<Index>(beliefs.size());
  if (const auto f = beliefs.factor(); !f.empty()) return Eigen::Map<const RowMajor>(f.data(), n, n);
  RowMajor diagonal = RowMajor::Zero(n, n);
  for (Index i = 0; i < n; ++i) diagonal(i, i) = beliefs.all()[static_cast<std::size_t>(i)].spread;
  return diagonal;
}

/// A root of the covariance of z about the point that was found.
RowMajor root_of(const Search& s) {
  const auto n = static_cast<Index>(s.beliefs.size()), k = static_cast<Index>(s.columns.size());
  MatrixXd c = s.slope * s.slope.transpose();
  c.diagonal() += s.weighted_noise();
  const MatrixXd covariance = MatrixXd::Identity(k, k) - s.slope.transpose() * c.llt().solve(s.slope);
  const MatrixXd root = covariance.llt().matrixL();
  RowMajor all = RowMajor::Identity(n, n);
  for (Index i = 0; i < k; ++i)
    for (Index j = 0; j < k; ++j) all(static_cast<Index>(s.columns[static_cast<std::size_t>(i)]), static_cast<Index>(s.columns[static_cast<std::size_t>(j)])) = root(i, j);
  return all;
}

/// Beliefs at the point that was found: medians there, and F times the root of the covariance of z.
void conclude(const Search& s, Update& u) {
  const RowMajor before = factor_of(s.beliefs), root = root_of(s), factor = before * root;
  const VectorXd by = before * s.z;
  u.beliefs.move(std::span(by.data(), static_cast<std::size_t>(by.size())), std::vector<double>(factor.data(), factor.data() + factor.size()));
}

Search begin(const Beliefs& beliefs, const Job& job, Usable readings) {
  Search s{beliefs, job, std::move(readings.seen), {}, std::move(readings.y), std::move(readings.noise), VectorXd::Zero(static_cast<Index>(beliefs.size())), {}, {}, {}};
  s.residuals.resize(s.seen.size());
  s.columns = moving_columns(beliefs, job, s.seen);
  return s;
}

}  // namespace

Update update(const Beliefs& beliefs, const Job& job, std::span<const Observation> seen) {
  Update u{beliefs, std::vector<Residual>(seen.size()), true};
  Usable readings = usable(beliefs, job, seen);
  const std::vector<std::size_t> which = readings.which;
  for (Residual& s : u.residuals) s.weight = 0;
  if (which.empty()) return u;
  Search s = begin(beliefs, job, std::move(readings));
  if (s.columns.empty()) return u;  // what was told is set by the recipe
  s.look();
  double left = 1;
  for (int i = 0; i < most_steps && left >= settled; ++i) {
    // Seen from the medians, by the slopes here.
    if (i < most_weighings) weigh(s.residual + s.slope * s.moved(), s.noise, s.slope * s.slope.transpose(), s.residuals);
    left = step(s);
    s.look();
  }
  u.converged = left < near_enough;
  for (std::size_t i = 0; i < which.size(); ++i) u.residuals[which[i]] = s.residuals[i];
  conclude(s, u);
  return u;
}

}  // namespace curdwright
