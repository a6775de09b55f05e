// SPDX-License-Identifier: MIT
#include "curdwright/stages/chill.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace curdwright;

namespace {

/// The firm block of science.md 9.4: k 0.52, rho 1040, cp 3800.
ThermalBlock block(Length l, Length w, Length h) { return {l, w, h, 0.52, 0.52 / (1040 * 3800)}; }
/// As good as a slab: two sides so long that they do not count.
ThermalBlock slab(Length h) { return block(metres(10), metres(10), h); }

}  // namespace

TEST_CASE("the first roots and weights of a slab meet the printed ones") {
  // science.md 9.1: Bi 0.1 z 0.3111 C 1.0161; 1 0.8603 1.1191; 10 1.4289 1.2620; 100 1.5552 1.2731.
  const double bi[] = {0.1, 1, 10, 100}, z[] = {0.3111, 0.8603, 1.4289, 1.5552}, c[] = {1.0161, 1.1191, 1.2620, 1.2731};
  for (int i = 0; i < 4; ++i) {
    const double root = slab_root(bi[i], 0);
    CHECK(root == Approx(z[i]).margin(6e-5).epsilon(0));
    CHECK(4 * std::sin(root) / (2 * root + std::sin(2 * root)) == Approx(c[i]).margin(6e-5).epsilon(0));
  }
}

TEST_CASE("every root lies in its branch and solves the equation") {
  for (double bi : {1e-4, 0.02, 1.0, 30.0, 1e4})
    for (int n = 0; n < 24; ++n) {
      const double root = slab_root(bi, n);
      INFO(bi << " " << n);
      CHECK((root >= n * std::numbers::pi && root <= (n + 0.5) * std::numbers::pi));
      CHECK(std::abs(root * std::sin(root) - bi * std::cos(root)) < 1e-9 * std::max(1.0, bi));
    }
}

TEST_CASE("the centre of a slab follows the textbook examples") {
  // Incropera 5.4: 40 mm wall insulated on one face, h 500, k 63.9, alpha 1.88e-5, -20 into 60 degC, 480 s: exact 43.02 degC.
  const double bi = 500 * 0.04 / 63.9, fo = 1.88e-5 * 480 / (0.04 * 0.04);
  CHECK(60 - 80 * slab_centre(bi, fo) == Approx(43.02).margin(6e-3));
  // Cengel 4-36: plate of 3 cm, h 80, k 110, alpha 3.39e-5, 25 into 700 degC, 600 s: exact 448.2 degC at the surface.
  const double bi2 = 80 * 0.015 / 110, fo2 = 3.39e-5 * 600 / (0.015 * 0.015), root = slab_root(bi2, 0);
  CHECK(700 - 675 * slab_centre(bi2, fo2) * std::cos(root) == Approx(448.2).margin(0.06));
  CHECK(slab_centre(1, 0) == 1.0);
  CHECK(slab_centre(1, 1e3) == Approx(0).margin(1e-12));
  // Bi < 0.1: lumped, exp(-Bi Fo).
  CHECK(slab_centre(0.001, 500) == Approx(std::exp(-0.5)).epsilon(2e-3));
}

TEST_CASE("the centre never warms while it cools") {
  for (double bi : {0.05, 1.0, 30.0, 500.0}) {
    double before = 1.0 + 1e-9;
    for (double fo = 1e-4; fo < 20; fo *= 1.1) {
      const double now = slab_centre(bi, fo);
      INFO(bi << " " << fo);
      CHECK(now <= before + 1e-6);  // the series is cut after 24 terms
      CHECK((now >= 0 && now <= 1));
      before = now;
    }
  }
}

TEST_CASE("a box is the product of its three slabs") {
  // science.md 9.4: 5 x 10 x 12 cm, h 8, 4 degC, 70 degC start: 37.34 degC after 2 h.
  const ThermalBlock b = block(centimetres(12), centimetres(10), centimetres(5));
  CHECK(in_celsius(box_centre(b, 8, celsius(70), celsius(4), hours(2))) == Approx(37.34).margin(0.01));
  const auto part = [](double half_m) { return slab_centre(8 * half_m / 0.52, 0.52 / (1040 * 3800) * 7200 / (half_m * half_m)); };
  CHECK(in_celsius(box_centre(b, 8, celsius(70), celsius(4), hours(2))) == Approx(4 + 66 * part(0.06) * part(0.05) * part(0.025)));
  CHECK(in_celsius(box_centre(b, 8, celsius(70), celsius(4), seconds(0))) == Approx(70));
}

TEST_CASE("slabs pass the limits when the printed table says") {
  // science.md 9.4: minutes to 57.2, then from 57.2 to 21.1 and to 5 degC.
  const struct {
    double cm, h, to57, to21, to5;
  } rows[] = {{2.5, 8, 26.9, 124, 436}, {4, 8, 47.4, 206, 723}, {4, 25, 22.9, 80, 280}};
  for (const auto& r : rows) {
    INFO(r.cm << " " << r.h);
    const std::array through = {Surroundings{r.h, celsius(4), {}}};
    const Chilled c = chill(slab(centimetres(r.cm)), celsius(70), through);
    REQUIRE((c.under_from && c.under_first && c.under_second));
    CHECK(in_minutes(*c.under_from) == Approx(r.to57).margin(0.06).epsilon(0));
    CHECK(in_minutes(*c.to_first()) == Approx(r.to21).margin(0.6).epsilon(0));
    CHECK(in_minutes(*c.to_second()) == Approx(r.to5).margin(0.6).epsilon(0));
  }
}

TEST_CASE("a medium that is not colder than the limit never brings the centre there") {
  const ThermalBlock b = slab(centimetres(3));
  CHECK_FALSE(box_passes(b, 20, celsius(70), celsius(5), celsius(5)).has_value());
  CHECK_FALSE(box_passes(b, 20, celsius(70), celsius(20), celsius(5)).has_value());
  CHECK(in_seconds(*box_passes(b, 20, celsius(4), celsius(1), celsius(5))) == 0.0);
  const std::array warm = {Surroundings{20, celsius(6), {}}};
  const Chilled c = chill(b, celsius(70), warm);
  CHECK(c.under_first.has_value());
  CHECK_FALSE(c.under_second.has_value());
  CHECK_FALSE(c.to_second().has_value());
}

TEST_CASE("the time that is found brings the centre to the level") {
  const ThermalBlock b = block(centimetres(12), centimetres(10), centimetres(3));
  for (double level : {57.2, 40.0, 21.1, 5.0, 1.2}) {
    const auto t = box_passes(b, 350, celsius(75), celsius(1), celsius(level));
    REQUIRE(t.has_value());
    CHECK(in_celsius(box_centre(b, 350, celsius(75), celsius(1), *t)) == Approx(level).margin(1e-6));
  }
}

TEST_CASE("stations follow one another, and the clock runs on from the first") {
  const ThermalBlock b = slab(centimetres(3));
  const std::array both = {Surroundings{8, celsius(20), minutes(30)}, Surroundings{350, celsius(1), {}}};
  const Chilled c = chill(b, celsius(75), both);
  const Temperature then = box_centre(b, 8, celsius(75), celsius(20), minutes(30));
  REQUIRE((c.under_from && c.under_first));
  CHECK(then > CoolingLevels{}.from);
  CHECK(in_minutes(*c.under_from) == Approx(30 + in_minutes(*box_passes(b, 350, then, celsius(1), CoolingLevels{}.from))));
  CHECK(in_minutes(*c.under_first) == Approx(30 + in_minutes(*box_passes(b, 350, then, celsius(1), CoolingLevels{}.first))));
  // A limit that is passed in the first station is not counted again.
  const std::array slow = {Surroundings{8, celsius(20), hours(4)}, Surroundings{350, celsius(1), {}}};
  CHECK(in_minutes(*chill(b, celsius(75), slow).under_from) == Approx(in_minutes(*box_passes(b, 8, celsius(75), celsius(20), CoolingLevels{}.from))));
  CHECK_FALSE(chill(b, celsius(75), {}).under_from.has_value());
}

TEST_CASE("a block of curd has the heat properties of its composition at 40 degC") {
  Composition curd;  // USDA regular curd, science.md 5.1: alpha 1.404e-7 at 20 degC
  curd[Component::water] = .8455, curd[Component::protein] = .0808, curd[Component::fat] = .0478, curd[Component::sugars] = .0157;
  curd[Component::fibre] = .003, curd[Component::ash] = .0072;
  const ThermalBlock b = thermal_block(curd, centimetres(12), centimetres(10), centimetres(3));
  CHECK(b.conductivity_w_m_k == Approx(0.57).epsilon(0.03));
  CHECK((b.diffusivity_m2_s > 1.404e-7 && b.diffusivity_m2_s < 1.55e-7));
  CHECK(b.height == centimetres(3));
}
