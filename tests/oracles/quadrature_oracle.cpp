// SPDX-License-Identifier: MIT
// The one integral of the library against GSL's adaptive quadrature, on the same rates.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <vector>

#include "curdwright/properties.hpp"
#include "curdwright/safety.hpp"
#include "curdwright/stages/coagulate.hpp"
#include "curdwright/stages/cook.hpp"
#include "curdwright/stages/soak.hpp"
#include "curdwright/stages/starch.hpp"
#include "oracles/gsl.hpp"
#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

/// Integral of a rate along a history by QAGS, in seconds times the rate's unit. A plain clock reads the history.
double along(const TemperatureHistory& h, const std::function<double(Temperature)>& rate, const std::vector<Temperature>& kinks = {}) {
  double sum = 0, start = 0;
  for (const HistoryPiece& piece : h.pieces()) {
    std::vector<double> ends = {0, in_seconds(piece.length)};
    for (Temperature k : kinks)
      if (in_seconds(piece.passes(k)) > 0) ends.push_back(in_seconds(piece.passes(k)));
    std::sort(ends.begin(), ends.end());
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) sum += qags([&](double t) { return rate(piece.at(seconds(t))); }, ends[i], ends[i + 1]);
    start += in_seconds(piece.length);
  }
  CHECK(start == Approx(in_seconds(h.length())));
  return sum;
}

Setup a_setup(const std::string& more = "") { return setup_of(R"({"legume": "chickpea-kabuli")" + more + "}"); }

}  // namespace

TEST_CASE("uptake in a cooling vessel agrees with GSL") {
  const Setup s = a_setup(R"(, "soak": {"water_temperature": "95 degC", "where": "room", "time": "8 h"})");
  const Theta t = s.beliefs.medians();
  const Plan p = plan(s.job, t);
  REQUIRE(in_celsius(p.soaking.hottest()) > 62);  // so that the kink at 60 degC is crossed
  const double energy = t.of(Param::soak_activation_energy, 0), hot = t.of(Param::soak_activation_energy_hot, 0);
  const double theta = along(p.soaking, [&](Temperature at) { return soak_speed(at, energy, hot); }, {celsius(60)}) / t.of(Param::soak_k1, 0);
  const Soaked soaked = soak(p.seed, s.job.soak, p.soaking, t, 0);
  CHECK(soaked.gain == Approx(peleg_gain(theta, t.of(Param::soak_k2, 0))).epsilon(1e-8));
}

TEST_CASE("loss of trypsin inhibitor while heating and holding agrees with GSL") {
  const Setup s = a_setup();
  const Theta t = s.beliefs.medians();
  const TemperatureHistory h = plan(s.job, t).cooked.history;
  REQUIRE(h.pieces().size() >= 2);
  const double at_100 = along(h, [&](Temperature at) { return std::pow(10.0, (in_celsius(at) - 100) / t[Param::inhibitor_z]); });
  const double left = t[Param::inhibitor_labile] * std::pow(10.0, -at_100 / t[Param::inhibitor_d_fast]) +
                      (1 - t[Param::inhibitor_labile]) * std::pow(10.0, -at_100 / t[Param::inhibitor_d_slow]);
  CHECK(trypsin_inhibitor_left(h, t) == Approx(left).epsilon(1e-8));
  const double n = along(h, [&](Temperature at) { return std::pow(10.0, (in_celsius(at) - 60) / t[Param::lipoxygenase_z]); }) / t[Param::lipoxygenase_d60];
  CHECK(decimal_reductions(h, celsius(60), t[Param::lipoxygenase_d60], t[Param::lipoxygenase_z]) == Approx(n).epsilon(1e-6));
}

TEST_CASE("souring of GDL while the milk is warmed agrees with GSL") {
  const Setup s = a_setup(R"(, "coagulate": {"with": "gdl"})");
  const Theta t = s.beliefs.medians();
  const TemperatureHistory h = TemperatureHistory(celsius(15)).ramp(minutes(30), celsius(85)).hold(minutes(2));
  const double at_25 = along(h, [&](Temperature at) { return arrhenius(at, celsius(25), t[Param::gdl_activation_energy]); });
  CHECK(gdl_hydrolysed(h, t) == Approx(1 - std::exp(-t[Param::gdl_rate] * at_25)).epsilon(1e-8));
}

TEST_CASE("falling of granules in cooling milk agrees with GSL") {
  const Setup s = a_setup(R"(, "blend": {"water_temperature": "60 degC"}, "starch": {"time": "3 h", "where": "fridge"})");
  const Theta t = s.beliefs.medians();
  const Plan p = plan(s.job, t);
  const TemperatureHistory& h = p.destarched.history;
  REQUIRE(h.at(seconds(0)) - h.end() > kelvins(5));
  const double density = t[Param::granule_density];
  const auto speed = [&](Temperature at) {
    return (density - in_kilograms_per_cubic_metre(water_density(at))) * 9.80665 / (18 * water_viscosity_pa_s(at));
  };
  const Stream& milk = p.strained.milk;
  const double still = fall_per_square_m(milk.of, milk.granules, TemperatureHistory(celsius(20)).hold(seconds(1)), t);
  const double slow = still / speed(celsius(20));
  CHECK(fall_per_square_m(milk.of, milk.granules, h, t) == Approx(slow * along(h, speed)).epsilon(1e-8));
}

TEST_CASE("growth of microbes in a warm soak agrees with GSL") {
  const TemperatureHistory h = TemperatureHistory(celsius(55)).relax(hours(14), celsius(3), hours(4));
  const double logs = along(h, [](Temperature at) { return growth_rate_log10_per_h(at); }, {celsius(5), celsius(30), celsius(50.2)}) / 3600;
  REQUIRE(logs > 1);
  CHECK(growth_log10_without_lag(h) == Approx(logs).epsilon(1e-8));
}

TEST_CASE("the share of granules below a size agrees with GSL's integral of the log-normal density") {
  const double median = 22e-6, sd = 1.35;
  const Granules g = log_normal_granules(kilograms(1), median, sd, 0);
  const double width = std::log(sd), pi = 3.14159265358979323846;
  for (std::size_t i : {8U, 12U, 15U, 18U}) {
    const double wanted = qags([&](double u) { return std::exp(-0.5 * u * u / (width * width)) / (width * std::sqrt(2 * pi)); },
                               std::log(Granules::edge_m(i) / median), std::log(Granules::edge_m(i + 1) / median));
    CHECK(g.kg[i] == Approx(wanted).epsilon(1e-9));
  }
}
