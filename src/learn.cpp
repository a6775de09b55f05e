// SPDX-License-Identifier: MIT
#include "curdwright/learn.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <thread>

#include "curdwright/version.hpp"
#include "scopes.hpp"
#include "observing.hpp"
#include "parallel.hpp"

namespace curdwright {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_steps = 100;
/// Weights that have not come to rest by then stay as they are.
constexpr int most_weighings = 10;
/// Of many batches, a fit to so many finds the neighbourhood, then one to so many times more.
constexpr std::size_t few = 48, more = 5;
constexpr double first_tolerance = 0.1;
/// A number is kept when batches moved it by so much of its spread, or took so much of its variance.
constexpr double worth_offset = 0.03, worth_variance = 0.01;

/// A batch made ready: only the readings that its plan has figures for, only the beliefs that move them.
struct Row {
  const BatchSeen* batch = nullptr;
  std::vector<std::size_t> which;    ///< of its observations
  std::vector<Observation> seen;
  std::vector<std::size_t> columns;  ///< beliefs that move them
  std::vector<Index> names;          ///< that those hang on, as numbers of the fit
  MatrixXd weight;                   ///< column by name: root of the share
  VectorXd scatter;                  ///< variance of the batch's own, by column
  VectorXd y, noise;
  std::vector<Residual> residuals;
  // at the point reached
  VectorXd residual;
  VectorXd lift;                     ///< what the batch scatter does to the mean of the figures
  MatrixXd slope, by_name, error;    ///< by column; by name; R
  Row* like = nullptr;               ///< the first batch of its kind, whose lift serves it among many
  bool closely = true;               ///< whether its own lift is found
};

/// Does something to each of many rows, on as many threads as there are.
template <class Do>
void for_each_of(std::size_t count, const Do& what) {
  for_each_on(count < 2 * few ? 1 : std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 8), count, what);
}

/// All lasting offsets that any batch hangs on.
class Names {
 public:
  Index of(const std::string& name) {
    const auto [i, fresh] = at_.emplace(name, static_cast<Index>(all_.size()));
    if (fresh) all_.push_back(name);
    return i->second;
  }
  [[nodiscard]] const std::vector<std::string>& all() const { return all_; }

 private:
  std::map<std::string, Index> at_;
  std::vector<std::string> all_;
};

/// Batches alike in this are bent alike by their scatter.
std::string kind_of(const BatchSeen& b, const Row& r) {
  std::string kind;
  for (const Legume& l : b.setup.legumes) kind += l.id + " ";
  for (const Observation& o : r.seen) kind += fmt::format("{} ", static_cast<int>(o.what));
  for (std::size_t c : r.columns) kind += fmt::format(" {}", c);
  return kind;
}

/// The point of a batch's beliefs where the lasting offsets are u and its own scatter is nothing.
VectorXd point_of(const Row& r, const VectorXd& u) {
  VectorXd z = VectorXd::Zero(static_cast<Index>(r.batch->setup.beliefs.size()));
  VectorXd part(static_cast<Index>(r.names.size()));
  for (std::size_t k = 0; k < r.names.size(); ++k) part(static_cast<Index>(k)) = u(r.names[k]);
  const VectorXd moved = r.weight * part;
  for (std::size_t c = 0; c < r.columns.size(); ++c) z(static_cast<Index>(r.columns[c])) = moved(static_cast<Index>(c));
  return z;
}

VectorXd expected(const Row& r, const VectorXd& u) {
  const VectorXd z = point_of(r, u);
  return log_figures(r.batch->setup.beliefs, r.batch->setup.job, r.seen, std::span(z.data(), static_cast<std::size_t>(z.size())));
}

/// Looks up how the columns hang on names.
void hang(Row& r, Names& names) {
  const auto beliefs = r.batch->setup.beliefs.all();
  std::map<Index, Index> local;
  std::vector<std::pair<Index, Index>> entries;
  std::vector<double> roots;
  r.scatter = VectorXd::Ones(static_cast<Index>(r.columns.size()));
  for (std::size_t c = 0; c < r.columns.size(); ++c)
    for (const Loading& l : loadings(r.batch->setup, beliefs[r.columns[c]])) {
      const Index name = names.of(l.name);
      const auto [at, fresh] = local.emplace(name, static_cast<Index>(local.size()));
      if (fresh) r.names.push_back(name);
      entries.emplace_back(static_cast<Index>(c), at->second);
      roots.push_back(std::sqrt(l.share));
      r.scatter(static_cast<Index>(c)) -= l.share;
    }
  r.weight = MatrixXd::Zero(static_cast<Index>(r.columns.size()), static_cast<Index>(r.names.size()));
  for (std::size_t e = 0; e < entries.size(); ++e) r.weight(entries[e].first, entries[e].second) = roots[e];
}

/// The first batch of each kind.
using Kinds = std::map<std::string, Row*>;

void begin(Row& r, const BatchSeen& b) {
  r.batch = &b;
  Usable readings = usable(b.setup.beliefs, b.setup.job, b.seen);
  r.which = std::move(readings.which), r.seen = std::move(readings.seen), r.y = std::move(readings.y), r.noise = std::move(readings.noise);
  r.residuals.resize(r.seen.size());
  if (r.seen.empty()) return;
  // What moves a figure hangs on more than the kind: a clamp may bind in one batch and not in the next.
  r.columns = moving_columns(b.setup.beliefs, b.setup.job, r.seen);
}

/// The scatter of a batch bends the figures: on average they lie off the figure of the average by half the curvature.
void look(Row& r, const VectorXd& u, Differences how) {
  Slopes s = slopes(r.batch->setup.beliefs, r.batch->setup.job, r.seen, point_of(r, u), r.columns, how);
  if (how == Differences::both_sides) r.lift = 0.5 * s.curvature * r.scatter;
  r.slope = std::move(s.slope);
  r.by_name = r.slope * r.weight;
  r.residual = r.y - expected(r, u);
}

/// Covariance of the readings about what the kitchen expects of them.
void settle_error(Row& r) {
  r.error = r.slope * r.scatter.asDiagonal() * r.slope.transpose();
  for (Index i = 0; i < r.noise.size(); ++i) r.error(i, i) += r.noise(i) / r.residuals[static_cast<std::size_t>(i)].weight;
}

MatrixXd part_of(const MatrixXd& whole, const std::vector<Index>& names) {
  const auto n = static_cast<Index>(names.size());
  MatrixXd part(n, n);
  for (Index i = 0; i < n; ++i)
    for (Index j = 0; j < n; ++j) part(i, j) = whole(names[static_cast<std::size_t>(i)], names[static_cast<std::size_t>(j)]);
  return part;
}

/// Weighs the readings of a batch by what its others and the other batches expect. Once the fit holds this batch, it is
/// taken out again: with S = R (R - J P J')^-1 R the covariance without it, the residual without it is S R^-1 r.
void weigh_row(Row& r, const MatrixXd& covariance, bool in_the_fit) {
  const MatrixXd by_offsets = r.by_name * part_of(covariance, r.names) * r.by_name.transpose();
  if (in_the_fit) {
    const Eigen::LLT<MatrixXd> left(r.error - by_offsets);
    if (left.info() == Eigen::Success) {
      MatrixXd without = r.error * left.solve(r.error);
      for (Index i = 0; i < r.noise.size(); ++i) without(i, i) -= r.noise(i) / r.residuals[static_cast<std::size_t>(i)].weight;
      return weigh(r.error * left.solve(r.residual), r.noise, without, r.residuals);
    }
  }
  weigh(r.residual, r.noise, r.slope * r.scatter.asDiagonal() * r.slope.transpose() + by_offsets, r.residuals);
}

/// The normal equations of the linearised problem.
struct Equations {
  MatrixXd precision;
  VectorXd pull;
};
Equations equations(const std::vector<Row*>& rows, const VectorXd& u) {
  Equations e{MatrixXd::Identity(u.size(), u.size()), VectorXd::Zero(u.size())};
  for (const Row* r : rows) {
    VectorXd part(static_cast<Index>(r->names.size()));
    for (std::size_t k = 0; k < r->names.size(); ++k) part(static_cast<Index>(k)) = u(r->names[k]);
    const Eigen::LLT<MatrixXd> root(r->error);
    const MatrixXd white = root.matrixL().solve(r->by_name);
    const VectorXd aim = root.matrixL().solve(r->residual + r->by_name * part);
    const MatrixXd a = white.transpose() * white;
    const VectorXd g = white.transpose() * aim;
    for (std::size_t i = 0; i < r->names.size(); ++i) {
      e.pull(r->names[i]) += g(static_cast<Index>(i));
      for (std::size_t j = 0; j < r->names.size(); ++j) e.precision(r->names[i], r->names[j]) += a(static_cast<Index>(i), static_cast<Index>(j));
    }
  }
  return e;
}

double objective(const std::vector<Row*>& rows, const VectorXd& u) {
  double sum = u.squaredNorm();
  for (const Row* r : rows) {
    const VectorXd off = r->y - r->lift - expected(*r, u);
    if (!off.allFinite()) return HUGE_VAL;
    sum += off.dot(r->error.llt().solve(off));
  }
  return sum;
}

struct Fit {
  VectorXd u;
  MatrixXd covariance;
  int steps = 0;
  bool converged = false;
};

/// Slopes say nothing of what lies farther than this many spreads, where clamps may end them: there it goes in several steps.
constexpr double longest_step = 3;

/// Toward the target, shortened until it does not climb.
void move(Fit& fit, const std::vector<Row*>& rows, const VectorXd& target) {
  VectorXd whole = target - fit.u;
  const double wished = whole.size() > 0 ? whole.cwiseAbs().maxCoeff() : 0.0, most = std::min(wished, longest_step);
  if (wished > most) whole *= most / wished;
  // A step this short cannot overshoot, but it must lead somewhere.
  const double before = most > 0.02 ? objective(rows, fit.u) : std::numeric_limits<double>::max();
  fit.u = shortened(fit.u, whole, before, 9, [&](const VectorXd& u) { return objective(rows, u); });
}

/// Looks at all batches.
void look_at_all(const std::vector<Row*>& rows, const VectorXd& u, Differences how) {
  for (Row* r : rows) r->closely = how == Differences::both_sides || r->like == r || r->like->lift.size() == 0;
  for_each_of(rows.size(), [&](std::size_t i) { look(*rows[i], u, rows[i]->closely ? Differences::both_sides : Differences::one_side); });
  for (Row* r : rows) {
    if (!r->closely) r->lift = r->like->lift;
    r->residual -= r->lift;
  }
}

/// Largest step in units of what is left open.
double size_of(const VectorXd& step, const MatrixXd& covariance) { return step.size() > 0 ? (step.array().abs() / covariance.diagonal().array().sqrt()).maxCoeff() : 0.0; }

void run(Fit& fit, const std::vector<Row*>& rows, const LearnOptions& o, double tolerance) {
  fit.converged = rows.empty();
  // A few batches are looked at closely; of many, only the first of each kind.
  const Differences how = rows.size() < 2 * few || tolerance < 1e-3 ? Differences::both_sides : Differences::one_side;
  for (int i = 0; i < most_steps && !fit.converged; ++i) {
    look_at_all(rows, fit.u, how);
    for_each_of(rows.size(), [&](std::size_t k) {
      if (o.robust && i < most_weighings) weigh_row(*rows[k], fit.covariance, i > 0);
      settle_error(*rows[k]);
    });
    const Equations e = equations(rows, fit.u);
    const Eigen::LLT<MatrixXd> root(e.precision);
    fit.covariance = root.solve(MatrixXd::Identity(fit.u.size(), fit.u.size()));
    // How far it wants to go, not how far it came: where no step leads down it is stuck, not at rest.
    const VectorXd target = root.solve(e.pull);
    fit.converged = size_of(target - fit.u, fit.covariance) < tolerance;
    move(fit, rows, target);
    ++fit.steps;
  }
}

/// Each batch's part of what was learned: the trace of its information in units of what is left open.
void share_out(const std::vector<Row>& rows, const Fit& fit, std::vector<BatchLesson>& out) {
  double all = 0;
  for (std::size_t b = 0; b < rows.size(); ++b) {
    const Row& r = rows[b];
    if (r.seen.empty()) continue;
    const MatrixXd white = r.error.llt().matrixL().solve(r.by_name);
    all += out[b].pull = (part_of(fit.covariance, r.names) * (white.transpose() * white)).trace();
  }
  for (BatchLesson& b : out) b.pull = all > 0 ? b.pull / all : 0;
}

/// The numbers that batches have moved or made surer; the most telling ones when there are too many.
Learned worth_keeping(const Names& names, const Fit& fit) {
  std::vector<std::pair<double, Index>> kept;
  for (Index i = 0; i < fit.u.size(); ++i) {
    const double taken = 1 - fit.covariance(i, i);
    if (taken > worth_variance || std::abs(fit.u(i)) > worth_offset) kept.emplace_back(taken, i);
  }
  std::sort(kept.begin(), kept.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  if (kept.size() > Learned::most) kept.resize(Learned::most);
  std::sort(kept.begin(), kept.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
  Learned l;
  l.data_version = data_version, l.model_version = model_version;
  for (std::size_t i = 0; i < kept.size(); ++i) {
    l.names.push_back(names.all()[static_cast<std::size_t>(kept[i].second)]);
    l.offsets.push_back(fit.u(kept[i].second));
    for (std::size_t j = 0; j <= i; ++j) l.covariance.push_back(fit.covariance(kept[i].second, kept[j].second));
  }
  return l;
}

/// About so many of the rows, evenly spread.
std::vector<Row*> some_of(const std::vector<Row*>& rows, std::size_t count) {
  std::vector<Row*> some;
  for (std::size_t i = 0; i < count; ++i) some.push_back(rows[i * rows.size() / count]);
  return some;
}

}  // namespace

Lesson learn(std::span<const BatchSeen> batches, const LearnOptions& o) {
  Names names;
  Kinds kinds;
  std::vector<Row> all(batches.size());
  for_each_of(batches.size(), [&](std::size_t i) { begin(all[i], batches[i]); });
  std::vector<Row*> rows;
  for (Row& r : all) {
    if (r.seen.empty()) continue;
    rows.push_back(&r);
    r.like = kinds.emplace(kind_of(*r.batch, r), &r).first->second;
    hang(r, names);
  }
  const auto n = static_cast<Index>(names.all().size());
  Fit fit{VectorXd::Zero(n), MatrixXd::Identity(n, n), 0, true};
  for (std::size_t some = few; 2 * some <= rows.size(); some *= more) run(fit, some_of(rows, some), o, first_tolerance);
  run(fit, rows, o, o.tolerance);

  Lesson l;
  l.steps = fit.steps, l.converged = fit.converged;
  for (const Row& r : all) {
    BatchLesson b{r.batch->id, std::vector<Residual>(r.batch->seen.size()), 0};
    for (Residual& s : b.residuals) s.weight = 0;
    for (std::size_t i = 0; i < r.which.size(); ++i) b.residuals[r.which[i]] = r.residuals[i];
    l.batches.push_back(std::move(b));
  }
  share_out(all, fit, l.batches);
  l.learned = worth_keeping(names, fit);
  l.learned.batches = static_cast<int>(rows.size());
  for (const Row* r : rows) l.learned.readings += static_cast<int>(r->seen.size());
  l.names = names.all();
  l.offsets.assign(fit.u.data(), fit.u.data() + fit.u.size());
  l.covariance.assign(fit.covariance.data(), fit.covariance.data() + fit.covariance.size());
  return l;
}

}  // namespace curdwright
