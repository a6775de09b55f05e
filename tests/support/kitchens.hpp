// SPDX-License-Identifier: MIT
// Simulated kitchens: true offsets drawn from what is believed, and batches cooked and weighed in them.
#pragma once

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <map>
#include <random>
#include <span>

#include "curdwright/fit.hpp"
#include "curdwright/learn.hpp"
#include "scopes.hpp"
#include "support/support.hpp"

namespace curdwright::test {

/// The same numbers on every machine: the standard fixes the generator, and the quantile is computed.
class Normals {
 public:
  explicit Normals(std::uint64_t seed) : random_(seed) {}
  double operator()() { return quantile(normal_, uniform()); }
  double uniform() { return (static_cast<double>(random_() >> 11U) + 0.5) * 0x1p-53; }

 private:
  std::mt19937_64 random_;
  boost::math::normal_distribution<double> normal_;
};

inline std::vector<double> normals(Normals& draw, std::size_t n) {
  std::vector<double> z(n);
  for (double& x : z) x = draw();
  return z;
}

/// One kitchen as it truly is. What lasts is drawn once and kept.
class TrueKitchen {
 public:
  explicit TrueKitchen(Normals& draw) : draw_(draw) {}

  /// The true numbers of one batch, as a point of its beliefs.
  std::vector<double> cook(const Setup& s) {
    std::vector<double> z;
    for (const Belief& b : s.beliefs.all()) {
      double x = 0, own = 1;
      for (const Loading& l : loadings(s, b)) {
        x += std::sqrt(l.share) * offset(l.name);
        own -= l.share;
      }
      z.push_back(x + std::sqrt(own) * draw_());
    }
    return z;
  }
  double offset(const std::string& name) {
    const auto found = offsets_.find(name);
    return found != offsets_.end() ? found->second : offsets_.emplace(name, draw_()).first->second;
  }

 private:
  Normals& draw_;
  std::map<std::string, double> offsets_;
};

/// What a scale would show of a plan, each figure with its own error. Figures that the plan has not are left out.
inline std::vector<Observation> weighed(const Plan& truth, std::span<const Figure> figures, Normals& draw) {
  std::vector<Observation> seen;
  for (Figure f : figures) {
    const double spread = info(f).typical_error, v = value(truth, f);
    if (v > 0) seen.push_back({f, v * std::exp(spread * draw()), spread});
  }
  return seen;
}

inline constexpr std::array all_weighed = {Figure::soaked_mass, Figure::pulp_mass,        Figure::milk_mass, Figure::sediment_mass, Figure::to_95,
                                           Figure::cooked_milk_mass, Figure::curd_mass, Figure::whey_mass, Figure::block_height,  Figure::curd_solids};

}  // namespace curdwright::test
