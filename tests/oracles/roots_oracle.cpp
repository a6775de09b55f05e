// SPDX-License-Identifier: MIT
// The roots that the library finds, against GSL's Brent.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "curdwright/properties.hpp"
#include "curdwright/stages/chill.hpp"
#include "oracles/gsl.hpp"
#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::test;

TEST_CASE("the roots of the slab agree with Brent's method") {
  for (double bi : {0.001, 0.1, 1.0, 10.0, 1000.0})
    for (int n : {0, 1, 5, 20}) {
      const double low = n * std::numbers::pi;
      const double wanted = brent([bi](double z) { return z * std::sin(z) - bi * std::cos(z); }, low, low + std::numbers::pi / 2);
      INFO(bi << " " << n);
      CHECK(slab_root(bi, n) == Approx(wanted).epsilon(1e-10));
    }
}

TEST_CASE("the time at which a box passes a level agrees with Brent's method") {
  const ThermalBlock b{centimetres(12), centimetres(10), centimetres(3.5)};
  for (double h : {8.0, 25.0, 350.0})
    for (double level : {57.2, 21.1, 5.0}) {
      const double wanted = brent([&](double s) { return in_celsius(box_centre(b, h, celsius(78), celsius(2), seconds(s))) - level; }, 1.0, 3e6);
      INFO(h << " " << level);
      const auto found = box_passes(b, h, celsius(78), celsius(2), celsius(level));
      REQUIRE(found.has_value());
      CHECK(in_seconds(*found) == Approx(wanted).epsilon(1e-9));
    }
}

TEST_CASE("the seed for a mass of curd agrees with Brent's method") {
  for (const char* id : {"soybean", "chickpea-kabuli", "lentil-red-split"})
    for (double wanted : {0.3, 4.0, 45.0}) {
      Setup s = setup_of(std::string(R"({"legume": ")") + id + "\"}");
      const Theta t = s.beliefs.medians();
      const auto curd = [&](double dry_kg) {
        Job j = s.job;
        j.dry = kilograms(dry_kg);
        return plan(j, t).pressed.curd.of.total_kg() - wanted;
      };
      INFO(id << " " << wanted);
      CHECK(in_kilograms(must(dry_for_curd(s.job, t, kilograms(wanted)))) == Approx(brent(curd, wanted / 10, wanted * 10)).epsilon(1e-10));
    }
}

TEST_CASE("the boiling point agrees with the root of the saturation curve") {
  for (double kpa : {50.0, 61.640, 84.556, 101.325, 143.4}) {
    const double wanted = brent([kpa](double c) { return in_kilopascals(saturation_pressure(celsius(c))) - kpa; }, 20, 200);
    CHECK(in_celsius(boiling_temperature(kilopascals(kpa))) == Approx(wanted).epsilon(1e-9));
  }
}

TEST_CASE("the water that is chosen agrees with Brent's method on the protein of the milk") {
  for (const char* id : {"soybean", "cowpea"}) {
    const Setup s = setup_of(std::string(R"({"legume": ")") + id + "\"}");
    const auto off = [&](double water) {
      Job j = s.job;
      j.blend.basis = WaterBasis::total_to_dry;
      j.blend.water = water;
      return value(plan(j, s.beliefs.medians()), Figure::milk_protein) - s.legumes[0].milk_protein.value / 100;
    };
    CHECK(s.job.blend.water == Approx(brent(off, 3.5, 19)).epsilon(1e-9));
  }
}
