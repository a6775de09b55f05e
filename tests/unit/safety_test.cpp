// SPDX-License-Identifier: MIT
#include "curdwright/safety.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace curdwright;

namespace {

TemperatureHistory held(double t, double h) { return TemperatureHistory(celsius(t)).hold(hours(h)); }

/// Baranyi and Roberts' lag by stepping their two equations, with h0 4.1 and no ceiling (science.md 10, item 3).
double stepped(const TemperatureHistory& history) {
  const double ln10 = std::log(10.0);
  const int steps = 200000;
  const double dt = in_seconds(history.length()) / steps / 3600;
  double ln_q = -std::log(std::expm1(4.1)), grown = 0;
  for (int i = 0; i < steps; ++i) {
    const double mu = growth_rate_log10_per_h(history.at(seconds((i + 0.5) * dt * 3600))) * ln10;
    const double q = std::exp(ln_q + 0.5 * mu * dt);
    grown += mu * q / (1 + q) * dt;
    ln_q += mu * dt;
  }
  return grown / ln10;
}

}  // namespace

TEST_CASE("the fitted growth rate meets the ten points it was fitted to within 0.02") {
  // USDA ARS predictive model for B. cereus in cooling cooked rice, science.md 10 item 2.
  const double t[] = {46.0, 38.9, 32.9, 27.9, 23.4, 19.9, 16.7, 14.1, 11.9, 10.1}, rate[] = {0.60, 0.93, 0.78, 0.56, 0.36, 0.22, 0.11, 0.05, 0.02, 0.00};
  for (int i = 0; i < 10; ++i) {
    INFO(t[i]);
    CHECK(fitted_growth_rate_log10_per_h(celsius(t[i])) == Approx(rate[i]).margin(0.0205).epsilon(0));
  }
}

TEST_CASE("the cautious rate is never below the fit, meets it at 30 degC, and is nothing at 5 and below") {
  for (double t = -5; t < 55; t += 0.5) CHECK(growth_rate_log10_per_h(celsius(t)) >= fitted_growth_rate_log10_per_h(celsius(t)) - 2e-3);
  CHECK(growth_rate_log10_per_h(celsius(30)) == Approx(fitted_growth_rate_log10_per_h(celsius(30))).epsilon(5e-3));
  CHECK(growth_rate_log10_per_h(celsius(20)) == Approx(0.241).margin(6e-4));
  for (double t : {-10.0, 0.0, 5.0, 50.21, 60.0, 100.0}) CHECK(growth_rate_log10_per_h(celsius(t)) == 0.0);
}

TEST_CASE("hours to tenfold meet the printed table") {
  // science.md 10 item 4: exact lag equation 25.5, 11.3, 4.08 h at 15, 20, 30 degC.
  CHECK(hours_to_tenfold(celsius(15)) == Approx(25.5).margin(0.06));
  CHECK(hours_to_tenfold(celsius(20)) == Approx(11.3).margin(0.06));
  CHECK(hours_to_tenfold(celsius(30)) == Approx(4.08).margin(0.02));
  CHECK(std::isinf(hours_to_tenfold(celsius(4))));
}

TEST_CASE("growth by the closed form equals stepping the equations, also while the vessel cools") {
  CHECK(growth_log10(held(20, 12)) == Approx(stepped(held(20, 12))).epsilon(1e-4));
  const TemperatureHistory cooling = TemperatureHistory(celsius(40)).relax(hours(10), celsius(4), hours(3));
  CHECK(growth_log10(cooling) == Approx(stepped(cooling)).epsilon(1e-4));
  CHECK(growth_log10(held(20, hours_to_tenfold(celsius(20)))) == Approx(1).epsilon(1e-9));
}

TEST_CASE("without lag, growth is the rate times the time, and lag only delays it") {
  CHECK(growth_log10_without_lag(held(20, 4)) == Approx(4 * growth_rate_log10_per_h(celsius(20))));
  for (double h : {1.0, 6.0, 24.0, 500.0}) {
    CHECK(growth_log10(held(25, h)) < growth_log10_without_lag(held(25, h)));
    CHECK(growth_log10(held(25, h)) > 0);
    CHECK(std::isfinite(growth_log10(held(25, h * 1000))));
  }
  CHECK(growth_log10(held(4, 96)) == 0.0);
}
