// SPDX-License-Identifier: MIT
#include "curdwright/composition.hpp"

#include <algorithm>
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

namespace {

constexpr std::size_t terms = 10;

/// 1/(2k + 1) and 1/(2k)!
struct Series {
  std::array<double, terms + 1> by_odd{}, by_factorial{};
};
constexpr Series series = [] {
  Series s;
  double factorial = 1.0;
  for (std::size_t k = 0; k <= terms; ++k) {
    const auto even = static_cast<double>(2 * k);
    if (k > 0) factorial *= even * (even - 1.0);
    s.by_odd[k] = 1.0 / (even + 1.0);
    s.by_factorial[k] = 1.0 / factorial;
  }
  return s;
}();

/// Masses of a standard normal in bins h wide. About the middle m of a bin, with a = h/2,
///     integral of phi = 2 a phi(m) * integral_0^1 exp(-a^2 s^2/2) cosh(a m s) ds = 2 a phi(m) * sum_k c_k (a m)^(2k) / (2k)!,
///     c_k = integral_0^1 s^(2k) exp(-a^2 s^2/2) ds = (exp(-a^2/2) + a^2 c_(k+1)) / (2k + 1).
/// Ten terms leave less than 1e-15 for a up to 1/2. From one bin to the next phi goes by a factor that itself goes by
/// exp(-h^2), so that one bin needs exponentials and the others none.
void fill_normal(std::array<double, Granules::bins>& mass, double first_middle, double h) {
  constexpr std::size_t n = Granules::bins;
  std::array<double, n> middle, phi;
  for (std::size_t i = 0; i < n; ++i) middle[i] = first_middle + h * static_cast<double>(i);
  const auto top = static_cast<std::size_t>(std::clamp(std::round(-first_middle / h), 0.0, static_cast<double>(n - 1)));
  phi[top] = std::exp(-0.5 * middle[top] * middle[top]) / std::sqrt(2.0 * std::numbers::pi);
  const double bend = std::exp(-h * h);
  double up = std::exp(-h * (middle[top] + 0.5 * h)), down = std::exp(h * (middle[top] - 0.5 * h));
  for (std::size_t i = top + 1; i < n; ++i, up *= bend) phi[i] = phi[i - 1] * up;
  for (std::size_t i = top; i > 0; --i, down *= bend) phi[i - 1] = phi[i] * down;

  const double a = 0.5 * h, edge = std::exp(-0.5 * a * a);
  std::array<double, terms> c;
  double above = edge * series.by_odd[terms];
  for (std::size_t k = terms; k-- > 0; above = c[k]) c[k] = (edge + a * a * above) * series.by_odd[k];
  for (std::size_t k = 0; k < terms; ++k) c[k] *= series.by_factorial[k];
  for (std::size_t i = 0; i < n; ++i) {
    const double y = (a * middle[i]) * (a * middle[i]);
    double sum = c[terms - 1];
    for (std::size_t k = terms - 1; k-- > 0;) sum = sum * y + c[k];
    mass[i] = h * phi[i] * sum;
  }
}

}  // namespace

Granules log_normal_granules(Mass mass, double median_m, double geometric_sd, double never) {
  constexpr double widest = 1.0;  // step in standard deviations up to which the series holds
  Granules g;
  g.never_settles_kg = in_kilograms(mass) * never;
  const double settles_kg = in_kilograms(mass) - g.never_settles_kg;
  const double centre = std::log(median_m);
  const double width = std::log(geometric_sd);
  const auto edge = [&](std::size_t i) { return (grid().log_edge[i] - centre) / width; };
  const double h = edge(1) - edge(0);
  if (h <= widest)
    fill_normal(g.kg, 0.5 * (edge(0) + edge(1)), h);
  else
    for (std::size_t i = 0; i < Granules::bins; ++i) g.kg[i] = normal_cdf(edge(i + 1)) - normal_cdf(edge(i));
  // The open tails belong to the first and the last bin, so that no mass is lost.
  g.kg.front() = normal_cdf(edge(1));
  g.kg.back() = normal_cdf(-edge(Granules::bins - 1));
  for (double& kg : g.kg) kg *= settles_kg;
  return g;
}

}  // namespace curdwright
