// SPDX-License-Identifier: MIT
#include "curdwright/stages/press.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "curdwright/properties.hpp"

using namespace curdwright;

namespace {

Theta figures() {
  Theta t;
  t.set(Param::fat_captured, 0, 0.98), t.set(Param::calcium_retained, 0, 0.7), t.set(Param::magnesium_retained, 0, 0.3);
  t.set(Param::drained_moisture, 0, 0.88), t.set(Param::press_intercept, 0, 0.885), t.set(Param::press_slope, 0, 0.118);
  t.set(Param::consolidation, 0, 1.9e-7), t.set(Param::creep_share, 0, 0.3), t.set(Param::creep_delay, 0, 5), t.set(Param::curd_cling, 0, 0.005);
  return t;
}

Stream set_milk() {
  Stream s;
  s.of[Component::water] = 9.3, s.of[Component::protein] = 0.33, s.of[Component::fat] = 0.18, s.of[Component::sugars] = 0.12;
  s.of[Component::starch] = 0.01, s.of[Component::fibre] = 0.02, s.of[Component::ash] = 0.04, s.of[Component::salts] = 0.03;
  s.minerals = {2e-3, 1e-3, 1e-4};
  s.at = celsius(75);
  return s;
}

constexpr double curdled = 0.29;

PressSettings wanted(double moisture) {
  PressSettings s;
  s.moisture = moisture;
  return s;
}

}  // namespace

TEST_CASE("a weight on a block and the pressure under it are each other's way back") {
  PressSettings s;
  s.mould_length = centimetres(12), s.mould_width = centimetres(10);
  s.pressure = pressure_under(kilograms(5), s);
  CHECK(in_pascals(s.pressure) == Approx(5 * 9.80665 / 0.012));  // m g / A
  CHECK(in_kilograms(press_weight(s)) == Approx(5));
}

TEST_CASE("consolidation meets the degrees of Terzaghi's table") {
  // Terzaghi: T 0.197 gives 50 %, 0.848 gives 90 %, 1.129 gives 95 % (science.md 8.5).
  CHECK(consolidation_degree(0.1967) == Approx(0.5).margin(2e-4));
  CHECK(consolidation_degree(0.8481) == Approx(0.9).margin(2e-4));
  CHECK(consolidation_degree(1.129) == Approx(0.95).margin(2e-4));
  CHECK(consolidation_degree(0.0) == 0.0);
  CHECK(consolidation_degree(-1) == 0.0);
  CHECK(consolidation_degree(50) == Approx(1));
  // The early form and the series meet where one takes over from the other.
  CHECK(consolidation_degree(0.0799999) == Approx(consolidation_degree(0.0800001)).epsilon(1e-5));
}

TEST_CASE("pressing ends at the moisture of its pressure") {
  // science.md 8.6: 0.885 - 0.118 log10(P/1 kPa); 2-5 kPa 80-84 %, 5-15 kPa 74-80 %.
  CHECK(moisture_limit(kilopascals(1), figures()) == Approx(0.885));
  CHECK(moisture_limit(kilopascals(10), figures()) == Approx(0.767));
  CHECK(moisture_limit(kilopascals(4), figures()) == Approx(0.885 - 0.118 * std::log10(4.0)));
  CHECK(moisture_limit(kilopascals(0.05), figures()) == 1.0);  // the line would come to more than all
  CHECK(moisture_limit(kilopascals(50), figures()) == Approx(moisture_limit(kilopascals(500), figures())));  // beyond the known curve
}

TEST_CASE("moisture falls from the drained to the limit, first fast, then by creep") {
  const auto after = [](Duration t) { return pressed_moisture(0.88, 0.80, centimetres(4), t, figures()); };
  CHECK(after(seconds(0)) == Approx(0.88));
  CHECK(after(hours(1000)) == Approx(0.80));
  const double w0 = 0.88 / 0.12, w1 = 0.80 / 0.20, time_factor = 1.9e-7 * 1800 / (0.02 * 0.02);
  const double left = 0.7 * (1 - consolidation_degree(time_factor)) + 0.3 * std::exp(-time_factor / 5);
  const double w = w1 + (w0 - w1) * left;
  CHECK(after(minutes(30)) == Approx(w / (1 + w)));
  // science.md 8.5: nine tenths in 30 min through 2 cm on both faces, creep aside.
  CHECK(consolidation_degree(time_factor) == Approx(0.9).epsilon(0.01));
  CHECK(pressed_moisture(0.88, 0.90, centimetres(4), hours(1), figures()) == Approx(0.88));
}

TEST_CASE("the curd weighs what its insolubles, its moisture and its whey make it weigh") {
  CHECK(curd_mass_kg(0.5, 0.8, 0.0) == Approx(2.5));
  CHECK(curd_mass_kg(0.5, 0.8, 0.02) == Approx(0.5 / (1 - 0.8 * 1.02)));
  CHECK(curd_mass_kg(0.5, 0.99, 0.02) == 0.0);
  const Pressed p = press(set_milk(), curdled, wanted(0.80), figures());
  const double insoluble = curdled + 0.98 * 0.18 + 0.01 + 0.02, whey_water = 9.3,
               whey_solids = (0.33 - curdled) + 0.02 * 0.18 + 0.12 + 0.04 + 0.03;
  CHECK(p.insoluble_kg == Approx(insoluble));
  CHECK(p.whey_solids_per_water == Approx(whey_solids / whey_water));
  const double mass = curd_mass_kg(insoluble, 0.80, whey_solids / whey_water);
  CHECK(p.curd.of.total_kg() + p.trim.of.total_kg() == Approx(mass));
  CHECK(p.trim.of.total_kg() == Approx(0.005 * mass));
  CHECK(p.curd.of.fraction(Component::water) == Approx(0.80));
  CHECK(p.moisture == Approx(0.80));
  CHECK(p.fault == Fault::none);
}

TEST_CASE("insolubles stay, and what is dissolved stands in the curd's water at whey strength") {
  const Pressed p = press(set_milk(), curdled, wanted(0.80), figures());
  const double share = (p.curd.of[Component::water] + p.trim.of[Component::water]) / 9.3;
  CHECK(p.curd.of[Component::starch] + p.trim.of[Component::starch] == Approx(0.01));
  CHECK(p.curd.of[Component::fibre] + p.trim.of[Component::fibre] == Approx(0.02));
  CHECK(p.curd.of[Component::sugars] + p.trim.of[Component::sugars] == Approx(0.12 * share));
  CHECK(p.curd.of[Component::salts] + p.trim.of[Component::salts] == Approx(0.03 * share));
  CHECK(p.curd.of[Component::protein] + p.trim.of[Component::protein] == Approx(curdled + (0.33 - curdled) * share));
  CHECK(p.curd.minerals.calcium_kg + p.trim.minerals.calcium_kg == Approx(0.7 * 2e-3));
  CHECK(p.curd.minerals.magnesium_kg + p.trim.minerals.magnesium_kg == Approx(0.3 * 1e-3));
  CHECK(p.curd.minerals.sodium_kg + p.trim.minerals.sodium_kg == Approx(1e-4 * share));
  CHECK(p.whey.of.total_kg() + p.curd.of.total_kg() + p.trim.of.total_kg() == Approx(set_milk().of.total_kg()).epsilon(1e-12));
}

TEST_CASE("the block has the height that its mass, density and footprint give") {
  const Pressed p = press(set_milk(), curdled, wanted(0.80), figures());
  const double rho = in_kilograms_per_cubic_metre(mixture_density(p.curd.of, celsius(20)));
  CHECK(in_centimetres(p.block_height) == Approx(100 * 0.3 / rho / 0.012));
  // science.md 8.7: a 10 x 12 cm mould holds 126 g per cm of height at 1.05.
  CHECK(300 / in_centimetres(p.block_height) == Approx(126 * rho / 1050).epsilon(1e-3));
  CHECK(p.drained_height > p.block_height);
}

TEST_CASE("a wanted moisture wetter than the drained curd is a fault") {
  CHECK(press(set_milk(), curdled, wanted(0.88), figures()).fault == Fault::none);
  const Pressed wet = press(set_milk(), curdled, wanted(0.90), figures());
  CHECK(wet.fault == Fault::moisture_too_wet);
  CHECK(press(set_milk(), curdled, wanted(0.5), figures()).fault == Fault::none);
}

TEST_CASE("very thick milk keeps all of its whey") {
  Stream thick = set_milk();
  thick.of[Component::water] = 1.0;
  PressSettings s;
  s.pressure = kilopascals(0.1);
  const Pressed p = press(thick, curdled, s, figures());
  CHECK(p.fault == Fault::none);
  CHECK(p.whey.of.total_kg() == Approx(0).margin(1e-9));
}

TEST_CASE("pressure outside of 2 to 50 kPa is reported, not refused") {
  PressSettings s;
  for (double kpa : {2.0, 4.0, 50.0}) {
    s.pressure = kilopascals(kpa);
    CHECK_FALSE(press(set_milk(), curdled, s, figures()).beyond_known_pressure);
  }
  for (double kpa : {1.9, 51.0, 900.0}) {
    s.pressure = kilopascals(kpa);
    CHECK(press(set_milk(), curdled, s, figures()).beyond_known_pressure);
    CHECK(press(set_milk(), curdled, s, figures()).fault == Fault::none);
  }
}

TEST_CASE("longer pressing dries the curd toward its limit and not beyond") {
  PressSettings s;
  double before = 0.8801;
  for (double minutes_ : {1.0, 10.0, 30.0, 120.0, 1440.0}) {
    s.time = minutes(minutes_);
    const Pressed p = press(set_milk(), curdled, s, figures());
    CHECK(p.moisture < before);
    CHECK(p.moisture > p.moisture_limit);
    before = p.moisture;
  }
}

TEST_CASE("curd that is pressed to its very end stays at its limit") {
  // In a wide mould the block is so thin that nothing is left to press out: the root then lies on the edge of its bracket.
  PressSettings s;
  s.mould_length = s.mould_width = centimetres(40);
  for (double kpa = 2; kpa <= 50; kpa += 0.5)
    for (double h : {2.0, 6.0, 14.0, 96.0}) {
      s.pressure = kilopascals(kpa), s.time = hours(h);
      INFO(kpa << " kPa " << h << " h");
      REQUIRE_NOTHROW(press(set_milk(), curdled, s, figures()));
      const Pressed p = press(set_milk(), curdled, s, figures());
      CHECK(p.moisture == Approx(p.moisture_limit).epsilon(1e-6));
    }
}

TEST_CASE("more pressure never leaves the curd wetter, however short the pressing") {
  for (double min : {1.0, 5.0, 30.0, 240.0}) {
    double before = 0.8800001;
    for (double kpa : {2.0, 4.0, 8.0, 12.0, 20.0, 35.0, 50.0}) {
      PressSettings s;
      s.pressure = kilopascals(kpa), s.time = minutes(min);
      const double now = press(set_milk(), curdled, s, figures()).moisture;
      INFO(kpa << " kPa " << min << " min");
      CHECK(now <= before);
      before = now;
    }
  }
}
