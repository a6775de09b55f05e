// SPDX-License-Identifier: MIT
#include "curdwright/teach.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "scopes.hpp"
#include "observing.hpp"

namespace curdwright {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// The figures of a setup as they hang on lasting offsets: slopes by name, and what the single batch adds to their errors.
struct Hanging {
  MatrixXd by_name;  ///< a row for each figure; the first is the curd
  MatrixXd error;    ///< of the readings about what the kitchen would expect
};

/// Lasting offsets of the lesson and of this setup, and their covariance; what the lesson never met is as it was shipped.
class Offsets {
 public:
  explicit Offsets(const Lesson& l) : lesson_(l) {
    for (std::size_t i = 0; i < l.names.size(); ++i) at_[l.names[i]] = static_cast<Index>(i);
  }
  Index of(const std::string& name) { return at_.emplace(name, static_cast<Index>(at_.size())).first->second; }
  [[nodiscard]] MatrixXd covariance() const {
    const auto n = static_cast<Index>(at_.size()), known = static_cast<Index>(lesson_.names.size());
    MatrixXd c = MatrixXd::Identity(n, n);
    if (known > 0) c.topLeftCorner(known, known) = Eigen::Map<const MatrixXd>(lesson_.covariance.data(), known, known);
    return c;
  }
  [[nodiscard]] Index size() const { return static_cast<Index>(at_.size()); }

 private:
  const Lesson& lesson_;
  std::map<std::string, Index> at_;
};

/// The medians of now, as a point of the shipped beliefs.
VectorXd point_now(const Setup& s, const Lesson& l) {
  std::map<std::string, double> offset;
  for (std::size_t i = 0; i < l.names.size(); ++i) offset[l.names[i]] = l.offsets[i];
  const auto beliefs = s.beliefs.all();
  VectorXd z = VectorXd::Zero(static_cast<Index>(beliefs.size()));
  for (std::size_t i = 0; i < beliefs.size(); ++i)
    for (const Loading& k : loadings(s, beliefs[i]))
      if (const auto found = offset.find(k.name); found != offset.end()) z(static_cast<Index>(i)) += std::sqrt(k.share) * found->second;
  return z;
}

Hanging hang(const Setup& s, const Lesson& l, const std::vector<Observation>& seen, Offsets& offsets) {
  std::vector<Observation> all = {{Figure::curd_mass, 1, 1}};
  all.insert(all.end(), seen.begin(), seen.end());
  const std::vector<std::size_t> columns = moving_columns(s.beliefs, s.job, all);
  const MatrixXd slope = slopes(s.beliefs, s.job, all, point_now(s, l), columns, Differences::both_sides).slope;
  const auto m = static_cast<Index>(all.size());
  std::vector<std::vector<Loading>> how;
  for (std::size_t c : columns) {
    how.push_back(loadings(s, s.beliefs.all()[c]));
    for (const Loading& k : how.back()) offsets.of(k.name);
  }
  Hanging h{MatrixXd::Zero(m, offsets.size()), MatrixXd::Zero(m - 1, m - 1)};
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const VectorXd col = slope.col(static_cast<Index>(c));
    double own = 1;
    for (const Loading& k : how[c]) {
      h.by_name.col(offsets.of(k.name)) += std::sqrt(k.share) * col;
      own -= k.share;
    }
    h.error += own * col.tail(m - 1) * col.tail(m - 1).transpose();
  }
  for (Index i = 0; i + 1 < m; ++i) h.error(i, i) += all[static_cast<std::size_t>(i) + 1].spread * all[static_cast<std::size_t>(i) + 1].spread;
  return h;
}

/// Spread of what hangs by `g`, before and after the readings of `h`.
Open open_by(const VectorXd& g, const Hanging& h, const MatrixXd& p) {
  const VectorXd pg = p * g;
  const double before = g.dot(pg);
  const MatrixXd j = h.by_name.bottomRows(h.by_name.rows() - 1);
  if (j.rows() == 0) return {std::sqrt(before), std::sqrt(before)};
  const VectorXd jpg = j * pg;
  const double taken = jpg.dot((j * p * j.transpose() + h.error).llt().solve(jpg));
  return {std::sqrt(before), std::sqrt(std::max(0.0, before - taken))};
}

double gain(const Setup& s, const Lesson& l, const std::vector<Observation>& seen) {
  Offsets offsets(l);
  const Hanging h = hang(s, l, seen, offsets);
  const Open o = open_by(h.by_name.row(0), h, offsets.covariance());
  return o.before > 0 ? 1 - o.now / o.before : 0.0;
}

/// What may be done otherwise: judgement, each within what the trade does.
struct Change {
  std::string_view word, about;
  double minutes;
  bool (*make)(Job&);  ///< false where it does not go with the job
};
constexpr std::array changes = {
    Change{"more-water", "blend with a tenth more water", 1, [](Job& j) { return j.blend.water *= 1.1, true; }},
    Change{"less-water", "blend with a tenth less water", 0, [](Job& j) { return j.blend.water *= 0.9, true; }},
    Change{"wash", "one more washing of the pulp, with as much water as seed", 10,
           [](Job& j) { return j.strain.wash_count < StrainSettings::max_washes && (j.strain.washes[j.strain.wash_count++] = {1.0, seconds(0)}, true); }},
    Change{"blend-longer", "blend twice as long", 2, [](Job& j) { return j.blend.time = j.strain.blend_time = j.blend.time * 2, true; }},
    Change{"stand-longer", "let the milk stand twice as long", 1, [](Job& j) { return j.starch.settles() && (j.starch.time *= 2, true); }},
    Change{"more-coagulant", "a quarter more coagulant", 1, [](Job& j) { return j.coagulate.used && (*j.coagulate.used *= 1.25, true); }},
    Change{"press-longer", "press twice as long", 1, [](Job& j) { return !j.press.moisture && (j.press.time *= 2, true); }},
    Change{"press-harder", "press with twice the weight", 1, [](Job& j) { return !j.press.moisture && (j.press.pressure *= 2, true); }},
};

void most_per_minute_first(std::vector<Worth>& all) {
  std::stable_sort(all.begin(), all.end(), [](const Worth& a, const Worth& b) { return a.gain / std::max(1.0, a.minutes) > b.gain / std::max(1.0, b.minutes); });
}

}  // namespace

Plan plan_now(const Setup& s, const Lesson& l) {
  const VectorXd z = point_now(s, l);
  return plan(s.job, s.beliefs.at(std::span(z.data(), static_cast<std::size_t>(z.size()))));
}

std::vector<Worth> worth_measuring(const Setup& next, const Lesson& l) {
  std::vector<Worth> all;
  const Plan p = plan_now(next, l);
  for (const Measurable& m : all_measurables()) {
    if (!m.observes || !(value(p, *m.observes) > 0)) continue;
    all.push_back({m.word, m.about, gain(next, l, {{*m.observes, 1, info(*m.observes).typical_error}}), m.minutes});
  }
  std::erase_if(all, [](const Worth& w) { return !std::isfinite(w.gain); });
  most_per_minute_first(all);
  return all;
}

std::vector<Worth> worth_changing(const Setup& next, const Lesson& l, const std::vector<Observation>& readings) {
  std::vector<Worth> all;
  const Plan still = plan_now(next, l);
  std::vector<Observation> usual;
  for (const Observation& o : readings)
    if (value(still, o.what) > 0) usual.push_back(o);
  if (usual.empty()) return all;
  for (const Change& c : changes) {
    Setup changed = next;
    if (!c.make(changed.job) || !has_masses(plan(changed.job, changed.beliefs.medians()))) continue;
    Offsets offsets(l);
    const Hanging without = hang(next, l, {}, offsets), with = hang(changed, l, usual, offsets);
    VectorXd effect = with.by_name.row(0);
    effect.head(without.by_name.cols()) -= without.by_name.row(0).transpose();
    const Open o = open_by(effect, with, offsets.covariance());
    all.push_back({c.word, c.about, o.before - o.now, c.minutes});
  }
  std::erase_if(all, [](const Worth& w) { return !(w.gain > 1e-4); });
  most_per_minute_first(all);
  return all;
}

Open open_curd(const Setup& next, const Lesson& l) {
  Offsets offsets(l);
  const Hanging h = hang(next, l, {}, offsets);
  const VectorXd g = h.by_name.row(0);
  return {g.norm(), std::sqrt(std::max(0.0, g.dot(offsets.covariance() * g)))};
}

}  // namespace curdwright
