// SPDX-License-Identifier: MIT
#include "curdwright/stages/cook.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "curdwright/properties.hpp"

using namespace curdwright;

namespace {

Theta figures() {
  Theta t;
  t.set(Param::hob_efficiency, 0, 0.74), t.set(Param::pot_loss, 0, 20), t.set(Param::gentle_heating, 0, 2.8);
  t.set(Param::evaporated_per_10_min, 0, 0.05), t.set(Param::film, 0, 0.01);
  t.set(Param::inhibitor_d_fast, 0, 600), t.set(Param::inhibitor_d_slow, 0, 12000), t.set(Param::inhibitor_labile, 0, 0.85), t.set(Param::inhibitor_z, 0, 36.5);
  t.set(Param::lipoxygenase_d60, 0, 10800), t.set(Param::lipoxygenase_z, 0, 9.3);
  return t;
}

Stream milk(double kg = 5) {
  Stream s;
  s.of[Component::water] = 0.93 * kg, s.of[Component::protein] = 0.033 * kg, s.of[Component::fat] = 0.018 * kg, s.of[Component::sugars] = 0.019 * kg;
  s.at = celsius(20);
  return s;
}

CookSettings open_pot() {
  CookSettings s;
  s.hold = minutes(10), s.boil = celsius(100), s.hob = watts(1800);
  return s;
}

double left(double c, double min) { return trypsin_inhibitor_left(TemperatureHistory(celsius(c)).hold(minutes(min)), figures()); }

}  // namespace

TEST_CASE("trypsin inhibitor that is left meets the printed table") {
  // science.md 6.2, model A.
  CHECK(left(100, 20) == Approx(0.128).margin(6e-4).epsilon(0));
  CHECK(left(99, 60) == Approx(0.078).margin(6e-4).epsilon(0));
  CHECK(left(121, 7.5) == Approx(0.110).margin(6e-4).epsilon(0));
  CHECK(left(80, 2) == Approx(0.895).margin(6e-4).epsilon(0));
  CHECK(left(100, 5) == Approx(0.41).margin(6e-3).epsilon(0));
  CHECK(left(100, 10) == Approx(0.22).margin(6e-3).epsilon(0));
  CHECK(left(100, 0) == Approx(1));
}

TEST_CASE("lipoxygenase that is left meets the printed decimal times") {
  // science.md 6.3: D at 60, 65, 70, 75, 80, 85 degC = 180, 52, 15.1, 4.4, 1.27, 0.37 min.
  const double c[] = {60, 65, 70, 75, 80, 85}, d_min[] = {180, 52, 15.1, 4.4, 1.27, 0.37};
  for (int i = 0; i < 6; ++i) {
    INFO(c[i]);
    CHECK(lipoxygenase_left(TemperatureHistory(celsius(c[i])).hold(minutes(d_min[i])), figures()) == Approx(0.1).epsilon(0.03));
  }
  CHECK(lipoxygenase_left(TemperatureHistory(celsius(60)).hold(minutes(54.2)), figures()) == Approx(0.5).epsilon(1e-3));
}

TEST_CASE("decimal reductions add along a history") {
  const TemperatureHistory h = TemperatureHistory(celsius(100)).hold(minutes(10)).jump(celsius(90)).hold(minutes(20));
  CHECK(decimal_reductions(h, celsius(100), 600, 10) == Approx(1 + 2 * 0.1));
  CHECK(decimal_reductions(TemperatureHistory(celsius(100)), celsius(100), 600, 10) == 0.0);
}

TEST_CASE("heating relaxes toward the temperature at which the pot loses what it gets") {
  const Cooked c = cook(milk(), open_pot(), figures());
  const double loss = 20 * in_square_metres(pot_surface(kilograms(5)));
  CHECK(in_celsius(c.reaches) == Approx(20 + 1800 * 0.74 / loss));
  const double tau = in_seconds(pot_time_constant(milk().of, celsius(60), 20));
  const double end = in_celsius(c.reaches);
  const double fast = tau * std::log((end - 20) / (end - 65)), slow = 2.8 * tau * std::log((end - 65) / (end - 100));
  CHECK(in_seconds(c.heat_up) == Approx(fast + slow));
  CHECK(in_celsius(c.history.at(seconds(fast))) == Approx(65));
  CHECK(in_celsius(c.history.at(seconds(fast + slow) + minutes(5))) == Approx(100));
  CHECK(in_seconds(c.history.length()) == Approx(fast + slow + 600));
}

TEST_CASE("without loss and without gentleness, heating is power over heat capacity") {
  Theta t = figures();
  t.set(Param::pot_loss, 0, 1e-6), t.set(Param::gentle_heating, 0, 1);
  const Stream m = milk(5);
  // science.md 5.4: m cp dT = P eta t, with the heat capacity half way.
  const double expected = 5 * heat_capacity_j_kg_k(m.of, celsius(60)) * 80 / (1800 * 0.74);
  CHECK(in_seconds(cook(m, open_pot(), t).heat_up) == Approx(expected).epsilon(1e-4));
}

TEST_CASE("a told heating time is a straight line") {
  CookSettings s = open_pot();
  s.heat_up = minutes(20);
  const Cooked c = cook(milk(), s, figures());
  CHECK(c.heat_up == minutes(20));
  CHECK(in_celsius(c.history.at(minutes(10))) == Approx(60));
}

TEST_CASE("a ring too weak to boil the pot is a fault, and the masses hold all the same") {
  CookSettings s = open_pot();
  s.hob = watts(150);
  const Cooked c = cook(milk(), s, figures());
  CHECK(c.fault == Fault::hob_too_weak);
  CHECK(c.reaches < s.boil);
  CHECK(c.milk.of.total_kg() == Approx(cook(milk(), open_pot(), figures()).milk.of.total_kg()));
  s.pots = 5;
  CHECK(cook(milk(), s, figures()).fault == Fault::none);  // a fifth of it boils
}

TEST_CASE("a told time to the boil does not make a weak hob strong, and what never boils keeps its inhibitor") {
  CookSettings s = open_pot();
  s.hob = watts(60);
  s.heat_up = minutes(20);
  const Cooked c = cook(milk(), s, figures());
  CHECK(c.fault == Fault::hob_too_weak);
  CHECK(c.history.hottest() < c.reaches + kelvins(0.01));
  CHECK(c.history.hottest() < celsius(70));
  CHECK(trypsin_inhibitor_left(c.history, figures()) > 0.9);
}

TEST_CASE("film and steam leave, and only water is steam") {
  const Cooked c = cook(milk(), open_pot(), figures());
  CHECK(c.film.of.total_kg() == Approx(0.05));
  CHECK(c.film.of.fraction(Component::protein) == Approx(0.033));
  CHECK(c.steam.of.total_kg() == Approx(0.05 * 4.95));
  CHECK(c.steam.of.solids_kg() == Approx(0).margin(1e-15));
  CHECK(c.milk.of.total_kg() == Approx(5 - 0.05 - 0.05 * 4.95));
  CHECK(in_celsius(c.milk.at) == Approx(100));
}

TEST_CASE("what boils off compounds over the hold, or is as told, and never dries the pot") {
  CookSettings s = open_pot();
  s.hold = minutes(30);
  CHECK(cook(milk(), s, figures()).steam.of.total_kg() == Approx((1 - std::pow(0.95, 3)) * 4.95));
  s.hold = minutes(0);
  CHECK(cook(milk(), s, figures()).steam.of.total_kg() == Approx(0).margin(1e-12));
  s.evaporated = 0.1;
  CHECK(cook(milk(), s, figures()).steam.of.total_kg() == Approx(0.495));
  s.evaporated = 0.99;
  CHECK(cook(milk(), s, figures()).milk.of[Component::water] > 0.4);
}

TEST_CASE("two pots heat sooner than one") {
  CookSettings s = open_pot();
  const Duration one = cook(milk(), s, figures()).heat_up;
  s.pots = 2;
  CHECK(cook(milk(), s, figures()).heat_up < one);
}

TEST_CASE("milk that comes hotter than the boil is at the boil") {
  Stream hot = milk();
  hot.at = celsius(85);
  CookSettings s = open_pot();
  s.boil = celsius(81.8);  // at 5500 m
  const Cooked c = cook(hot, s, figures());
  CHECK(c.fault == Fault::none);
  CHECK(c.heat_up == seconds(0));
  CHECK(in_celsius(c.history.hottest()) == Approx(81.8));
}
