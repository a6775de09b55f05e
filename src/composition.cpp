// SPDX-License-Identifier: MIT
#include "curdwright/composition.hpp"

#include <cmath>
#include <numbers>
#include <numeric>

namespace curdwright {
namespace {

constexpr double smallest_m = 3e-6;
constexpr double largest_m = 75e-6;

double normal_cdf(double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); }

struct Grid {
  std::array<double, Granules::bins + 1> edge{};
  std::array<double, Granules::bins> middle{};
  std::array<double, Granules::bins + 1> log_edge{};
};

const Grid& grid() {
  static const Grid g = [] {
    Grid made;
    const double step = std::log(largest_m / smallest_m) / static_cast<double>(Granules::bins);
    for (std::size_t i = 0; i <= Granules::bins; ++i) {
      made.log_edge[i] = std::log(smallest_m) + step * static_cast<double>(i);
      made.edge[i] = std::exp(made.log_edge[i]);
      if (i > 0) made.middle[i - 1] = std::exp(made.log_edge[i] - 0.5 * step);
    }
    return made;
  }();
  return g;
}

}  // namespace

double Granules::diameter_m(std::size_t i) { return grid().middle[i]; }
double Granules::edge_m(std::size_t i) { return grid().edge[i]; }

double Granules::settleable_kg() const { return std::accumulate(kg.begin(), kg.end(), 0.0); }

Granules& Granules::operator+=(const Granules& o) {
  for (std::size_t i = 0; i < bins; ++i) kg[i] += o.kg[i];
  never_settles_kg += o.never_settles_kg;
  return *this;
}

Granules& Granules::operator-=(const Granules& o) {
  for (std::size_t i = 0; i < bins; ++i) kg[i] -= o.kg[i];
  never_settles_kg -= o.never_settles_kg;
  return *this;
}

Granules& Granules::operator*=(double k) {
  for (double& x : kg) x *= k;
  never_settles_kg *= k;
  return *this;
}

Granules log_normal_granules(Mass mass, double median_m, double geometric_sd, double never) {
  Granules g;
  g.never_settles_kg = in_kilograms(mass) * never;
  const double settles_kg = in_kilograms(mass) - g.never_settles_kg;
  const double centre = std::log(median_m);
  const double width = std::log(geometric_sd);
  // The open tails belong to the first and the last bin, so that no mass is lost.
  double below = 0;
  for (std::size_t i = 0; i < Granules::bins; ++i) {
    const bool last = i + 1 == Granules::bins;
    const double upto = last ? 1.0 : normal_cdf((grid().log_edge[i + 1] - centre) / width);
    g.kg[i] = settles_kg * (upto - below);
    below = upto;
  }
  return g;
}

Stream& Stream::operator+=(const Stream& o) {
  of += o.of;
  minerals += o.minerals;
  granules += o.granules;
  return *this;
}

Stream& Stream::operator-=(const Stream& o) {
  of -= o.of;
  minerals -= o.minerals;
  granules -= o.granules;
  return *this;
}

Stream& Stream::operator*=(double k) {
  of *= k;
  minerals = minerals * k;
  granules *= k;
  return *this;
}

Stream water_stream(Mass mass, Temperature at) {
  Stream s;
  s.of[Component::water] = in_kilograms(mass);
  s.at = at;
  return s;
}

}  // namespace curdwright
