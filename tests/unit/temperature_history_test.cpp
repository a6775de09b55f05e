// SPDX-License-Identifier: MIT
#include "curdwright/temperature_history.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <vector>

#include "curdwright/properties.hpp"
#include "curdwright/stages/soak.hpp"

using namespace curdwright;

namespace {

using Rate = std::function<double(Temperature)>;

/// The same integral by a rule of its own: Gauss-Kronrod with 61 points, halved until it stands still.
double reference(const TemperatureHistory& history, const Rate& rate, const std::vector<Temperature>& kinks) {
  double sum = 0;
  for (const HistoryPiece& piece : history.pieces()) {
    std::vector<double> ends = {0.0, in_seconds(piece.length)};
    for (Temperature kink : kinks)
      if (const double t = in_seconds(piece.passes(kink)); t > 0) ends.push_back(t);
    std::sort(ends.begin(), ends.end());
    for (std::size_t i = 0; i + 1 < ends.size(); ++i)
      sum += boost::math::quadrature::gauss_kronrod<double, 61>::integrate([&](double t) { return rate(piece.at(seconds(t))); }, ends[i], ends[i + 1],
                                                                          20, 1e-13);
  }
  return sum;
}

/// Histories as the stages make them.
std::vector<TemperatureHistory> histories() {
  std::vector<TemperatureHistory> all;
  all.push_back(TemperatureHistory(celsius(20)).hold(hours(12)));
  all.push_back(TemperatureHistory(celsius(20)).relax(hours(12), celsius(5), hours(2)));     // science.md 2.6 item 9
  all.push_back(TemperatureHistory(celsius(90)).relax(hours(4), celsius(22), hours(1.5)));   // item 10, crosses 60 degC
  all.push_back(TemperatureHistory(celsius(4)).relax(hours(96), celsius(30), hours(5)));     // far into the flat end
  all.push_back(TemperatureHistory(celsius(10)).relax(minutes(20), celsius(350), hours(2)).relax(minutes(40), celsius(350), hours(5.6)).hold(minutes(15)));
  all.push_back(TemperatureHistory(celsius(15)).ramp(minutes(30), celsius(85)).hold(minutes(45)));
  all.push_back(TemperatureHistory(celsius(75)).relax(hours(3), celsius(60), hours(1)));    // to the very kink
  all.push_back(TemperatureHistory(celsius(75)).relax(hours(2), celsius(58), hours(1.5)));  // ends before a kink that lies before the target
  all.push_back(TemperatureHistory(celsius(70)).relax(hours(40), celsius(59.5), hours(2))); // crosses it near the target, and stays long
  all.push_back(TemperatureHistory(celsius(40)).hold(hours(2)).jump(celsius(20)).hold(hours(6)));
  return all;
}

void check_all(const Rate& rate, const std::vector<Temperature>& kinks) {
  for (const TemperatureHistory& h : histories()) {
    const double wanted = reference(h, rate, kinks);
    CAPTURE(in_celsius(h.at(seconds(0))), in_celsius(h.end()));
    CHECK(integrate(h, rate, kinks) == Approx(wanted).epsilon(1e-10));
  }
}

}  // namespace

TEST_CASE("the integral agrees with Gauss-Kronrod for Arrhenius rates") {
  for (double energy : {9.3, 32.0, 62.76})  // kJ/mol: hot soak, soak, GDL (science.md 2.3, 7.6)
    check_all([energy](Temperature t) { return arrhenius(t, celsius(20), energy); }, {});
}

TEST_CASE("the integral agrees with Gauss-Kronrod across the kink at 60 degC") {
  check_all([](Temperature t) { return soak_speed(t, 32.0, 9.34); }, {celsius(60)});
}

TEST_CASE("the integral agrees with Gauss-Kronrod for rates that grow from a lowest temperature") {
  // Square-root model with a floor at 5 and a change of law at 30 degC, as for microbes (science.md 10, items 3 and 4).
  const Rate rate = [](Temperature t) {
    const double c = in_celsius(t);
    if (c <= 5) return 0.0;
    if (c <= 30) return std::pow(0.03275 * (c - 5), 2);
    if (c >= 50.2) return 0.0;
    return std::pow(0.05284 * (c - 9.52), 2) * -std::expm1(0.0421 * (c - 50.2));
  };
  check_all(rate, {celsius(5), celsius(30), celsius(50.2)});
}

TEST_CASE("the integral agrees with Gauss-Kronrod for rates tenfold in z") {
  check_all([](Temperature t) { return std::pow(10.0, (in_celsius(t) - 100.0) / 36.5); }, {});  // trypsin inhibitor, science.md 6.2
}

TEST_CASE("the integral agrees with Gauss-Kronrod for the steep loss of lipoxygenase") {
  check_all([](Temperature t) { return std::pow(10.0, (in_celsius(t) - 60.0) / 9.3); }, {});  // science.md 6.3
}

TEST_CASE("simple histories have their closed form") {
  const auto kelvin_of = [](Temperature t) { return in_celsius(t); };
  CHECK(integrate(TemperatureHistory(celsius(20)).hold(seconds(10)), kelvin_of) == Approx(200).epsilon(1e-14));
  CHECK(integrate(TemperatureHistory(celsius(20)).ramp(seconds(10), celsius(40)), kelvin_of) == Approx(300).epsilon(1e-14));
  // Relaxation: a + (s - a) tau (1 - exp(-t/tau)) over t.
  CHECK(integrate(TemperatureHistory(celsius(20)).relax(seconds(100), celsius(5), seconds(50)), kelvin_of) ==
        Approx(5 * 100 + 15 * 50 * (1 - std::exp(-2.0))).epsilon(1e-12));
  // 10^(T/z) along a ramp: (z/(rate ln 10)) (10^(T2/z) - 10^(T1/z)).
  const double z = 30;
  CHECK(integrate(TemperatureHistory(celsius(60)).ramp(seconds(400), celsius(100)), [z](Temperature t) { return std::pow(10, in_celsius(t) / z); }) ==
        Approx(z / (0.1 * std::log(10)) * (std::pow(10, 100 / z) - std::pow(10, 60 / z))).epsilon(1e-10));
  CHECK(integrate(TemperatureHistory(celsius(20)), kelvin_of) == 0.0);
}

TEST_CASE("a rate with a step at a break is integrated exactly") {
  const auto over_60 = [](Temperature t) { return t > celsius(60) ? 1.0 : 0.0; };
  const Temperature at = celsius(60);
  CHECK(integrate(TemperatureHistory(celsius(20)).ramp(seconds(100), celsius(100)), over_60, std::span(&at, 1)) == Approx(50).epsilon(1e-12));
  CHECK(integrate(TemperatureHistory(celsius(100)).relax(seconds(200), celsius(20), seconds(100)), over_60, std::span(&at, 1)) ==
        Approx(100 * std::log(2.0)).epsilon(1e-12));
}

TEST_CASE("breaks may come in any order and outside of the history") {
  const std::array breaks = {celsius(80), celsius(500), celsius(30), celsius(20), celsius(50)};
  const TemperatureHistory h = TemperatureHistory(celsius(20)).ramp(seconds(80), celsius(100));
  CHECK(integrate(h, [](Temperature) { return 2.0; }, breaks) == Approx(160).epsilon(1e-14));
}

TEST_CASE("a history is read back where it was told to be") {
  const TemperatureHistory h = TemperatureHistory(celsius(20)).hold(minutes(10)).ramp(minutes(10), celsius(80)).relax(minutes(30), celsius(20), minutes(15));
  CHECK(in_minutes(h.length()) == Approx(50));
  CHECK(h.pieces().size() == 3);
  CHECK(in_celsius(h.at(minutes(5))) == Approx(20));
  CHECK(in_celsius(h.at(minutes(15))) == Approx(50));
  CHECK(in_celsius(h.at(minutes(20))) == Approx(80));
  CHECK(in_celsius(h.at(minutes(35))) == Approx(20 + 60 * std::exp(-1.0)));
  CHECK(in_celsius(h.end()) == Approx(20 + 60 * std::exp(-2.0)));
  CHECK(in_celsius(h.at(hours(9))) == Approx(in_celsius(h.end())));
  CHECK(in_celsius(h.hottest()) == Approx(80));
}

TEST_CASE("a jump takes no time and starts the next piece elsewhere") {
  TemperatureHistory h(celsius(95));
  h.jump(celsius(80)).hold(minutes(5));
  CHECK(in_minutes(h.length()) == Approx(5));
  CHECK(in_celsius(h.at(seconds(0))) == Approx(80));
  CHECK(in_celsius(h.hottest()) == Approx(80));
}

TEST_CASE("a piece of no length adds nothing but its end, one of negative length nothing at all") {
  TemperatureHistory h(celsius(20));
  h.ramp(seconds(0), celsius(60));
  CHECK(h.pieces().empty());
  CHECK(in_celsius(h.end()) == Approx(60));
  h.ramp(seconds(-5), celsius(90));
  CHECK(in_celsius(h.end()) == Approx(60));
}

TEST_CASE("when a piece passes a level is found in closed form") {
  const TemperatureHistory ramp = TemperatureHistory(celsius(20)).ramp(seconds(80), celsius(100));
  CHECK(in_seconds(ramp.pieces()[0].passes(celsius(60))) == Approx(40));
  const TemperatureHistory cooling = TemperatureHistory(celsius(90)).relax(hours(4), celsius(22), hours(1.5));
  const HistoryPiece& piece = cooling.pieces()[0];
  CHECK(in_hours(piece.passes(celsius(60))) == Approx(1.5 * std::log(68.0 / 38.0)));
  CHECK(in_celsius(piece.at(piece.passes(celsius(60)))) == Approx(60));
  CHECK(piece.passes(celsius(20)) < seconds(0));
  CHECK(piece.passes(celsius(95)) < seconds(0));
  CHECK(TemperatureHistory(celsius(60)).hold(hours(1)).pieces()[0].passes(celsius(60)) < seconds(0));
}

TEST_CASE("a history that is too long for its store loses no time and ends where it says") {
  TemperatureHistory h(celsius(20));
  for (int i = 0; i < 20; ++i) h.ramp(minutes(10), celsius(25 + i));
  CHECK(h.pieces().size() == TemperatureHistory::capacity);
  CHECK(in_minutes(h.length()) == Approx(200));
  CHECK(in_celsius(h.at(h.length())) == Approx(in_celsius(h.end())));
}
