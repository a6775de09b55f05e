// SPDX-License-Identifier: MIT
#include "curdwright/safety.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace curdwright {
namespace {

// Ratkowsky 1983 form fitted to the ten points of the USDA ARS model, mu in log10 CFU/h; residual 0.02 or less.
constexpr double fit_a = 0.05284, fit_low = 9.52, fit_c = 0.0421, fit_high = 50.2;
// Cautious branch, judgement: the square root falls to zero at 5 degC and meets the fit at 30 degC.
constexpr double cautious_b = 0.03275, cautious_low = 5.0, cautious_high = 30.0;
constexpr double h0 = 4.1;
constexpr double ln10 = 2.302585092994046;

constexpr std::array kinks = {celsius(cautious_low), celsius(23.28), celsius(cautious_high), celsius(fit_high)};

}  // namespace

double fitted_growth_rate_log10_per_h(Temperature at) {
  const double t = in_celsius(at);
  if (t <= fit_low || t >= fit_high) return 0.0;
  const double root = fit_a * (t - fit_low);
  return root * root * -std::expm1(fit_c * (t - fit_high));
}

double growth_rate_log10_per_h(Temperature at) {
  const double t = in_celsius(at);
  // A hair of slack, since 5 degC in kelvin and back is not quite 5.
  if (t <= cautious_low + 1e-9) return 0.0;
  if (t > cautious_high) return fitted_growth_rate_log10_per_h(at);
  const double root = cautious_b * (t - cautious_low);
  // Between 23 and 30 degC the fit lies a little above the square root; the higher one counts.
  return std::max(root * root, fitted_growth_rate_log10_per_h(at));
}

double growth_log10_without_lag(const TemperatureHistory& history) {
  return integrate(history, growth_rate_log10_per_h, kinks) / 3600.0;
}

double growth_log10(const TemperatureHistory& history) { return growth_log10_after_lag(growth_log10_without_lag(history)); }

double growth_log10_after_lag(double without_lag) {
  const double a = ln10 * without_lag;
  const double q0 = 1.0 / std::expm1(h0);
  // For a long warm soak e^A overflows; ln(1 + q0 e^A) is then A + ln q0.
  const double grown = a > 600 ? a + std::log(q0) : std::log1p(q0 * std::exp(a));
  return (grown - std::log1p(q0)) / ln10;
}

double hours_to_tenfold(Temperature t) {
  const double rate = growth_rate_log10_per_h(t);
  if (!(rate > 0)) return std::numeric_limits<double>::infinity();
  // 1 = [ln(1 + q0 e^A) - ln(1 + q0)]/ln10, solved for A.
  const double q0 = 1.0 / std::expm1(h0);
  return std::log((10.0 * (1.0 + q0) - 1.0) / q0) / ln10 / rate;
}

}  // namespace curdwright
