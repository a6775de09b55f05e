// SPDX-License-Identifier: MIT
#include "curdwright/stages/strain.hpp"

#include <catch2/catch.hpp>

using namespace curdwright;

namespace {

/// Ground beans with `water` kg of free liquor, 0.2 kg of protein dissolved in it and 0.3 kg of solids bound.
GroundBeans ground(double water) {
  GroundBeans g;
  g.free.of[Component::water] = water, g.free.of[Component::protein] = 0.2, g.free.of[Component::sugars] = 0.05;
  g.free.at = celsius(20);
  g.bound.of[Component::fibre] = 0.3;
  g.releasable.of[Component::protein] = 0.2;
  g.extent = 1;
  return g;
}

Theta holding(double kg_per_kg) {
  Theta t;
  t.set(Param::held_liquor, 0, kg_per_kg);
  return t;
}

StrainSettings washed(std::initializer_list<double> waters) {
  StrainSettings s;
  for (double w : waters) s.washes[s.wash_count++].water_to_dry = w;
  return s;
}

double protein(const Strained& s) { return s.milk.of[Component::protein]; }

}  // namespace

TEST_CASE("the pulp keeps its share of the liquor and the milk has the liquor's strength") {
  // science.md 3.1: recovery 1 - X/L, with X = 4 x 0.3 = 1.2.
  const Strained s = strain(ground(8), 1, {}, holding(4));
  CHECK(s.held_kg == Approx(1.2));
  CHECK(protein(s) == Approx(0.2 * (1 - 1.2 / 8)));
  CHECK(s.pulp.of[Component::water] == Approx(1.2));
  CHECK(s.pulp.of[Component::fibre] == Approx(0.3));
  CHECK(s.milk.of[Component::protein] / s.milk.of[Component::water] == Approx(s.pulp.of[Component::protein] / s.pulp.of[Component::water]));
  CHECK(s.wash_kg == 0.0);
  CHECK(s.fault == Fault::none);
}

TEST_CASE("recovery meets the printed table") {
  // science.md 3.3, e 0.90; 0.3 kg of solids, so X is 0.3 times the held liquor.
  const double x[] = {0.9, 1.2, 1.7, 2.5}, l6[] = {0.765, 0.720, 0.645, 0.525}, l8[] = {0.799, 0.765, 0.709, 0.619}, l10[] = {0.819, 0.792, 0.747, 0.675},
               wash[] = {0.869, 0.849, 0.812, 0.744};
  for (int i = 0; i < 4; ++i) {
    INFO(x[i]);
    const Theta t = holding(x[i] / 0.3);
    CHECK(0.9 * protein(strain(ground(6), 1, {}, t)) / 0.2 == Approx(l6[i]).margin(6e-4).epsilon(0));
    CHECK(0.9 * protein(strain(ground(8), 1, {}, t)) / 0.2 == Approx(l8[i]).margin(6e-4).epsilon(0));
    CHECK(0.9 * protein(strain(ground(10), 1, {}, t)) / 0.2 == Approx(l10[i]).margin(6e-4).epsilon(0));
    CHECK(0.9 * protein(strain(ground(8), 1, washed({2}), t)) / 0.2 == Approx(wash[i]).margin(6e-4).epsilon(0));
  }
}

TEST_CASE("several washes follow the product of their shares") {
  const Strained s = strain(ground(8), 2, washed({0.5, 1.0}), holding(4));
  CHECK(protein(s) == Approx(0.2 * (1 - 1.2 / 8 * 1.2 / (1.2 + 1.0) * 1.2 / (1.2 + 2.0))));
  CHECK(s.wash_kg == Approx(3));
  CHECK(s.milk.of[Component::water] == Approx(8 + 3 - 1.2));
  CHECK(s.pulp.of.total_kg() + s.milk.of.total_kg() == Approx(ground(8).all().of.total_kg() + 3));
}

TEST_CASE("a wash through the blender sets more free") {
  GroundBeans g = ground(8);
  g.bound.of[Component::protein] = 0.1;
  g.extent = grind_extent(seconds(10), seconds(45));
  g.releasable.of[Component::protein] = 0.2;
  StrainSettings stirred = washed({1}), blended = washed({1});
  stirred.blend_time = blended.blend_time = seconds(10);
  blended.washes[0].blend = seconds(20);
  CHECK(protein(strain(g, 1, blended, holding(4))) > protein(strain(g, 1, stirred, holding(4))) + 0.01);
  CHECK(strain(g, 1, blended, holding(4)).pulp.of[Component::protein] < strain(g, 1, stirred, holding(4)).pulp.of[Component::protein]);
}

TEST_CASE("pulp that would hold all of the water is a fault, and keeps everything") {
  const Strained s = strain(ground(1.2), 1, {}, holding(4));
  CHECK(s.fault == Fault::pulp_keeps_all);
  CHECK(s.pulp.of.total_kg() == Approx(ground(1.2).all().of.total_kg()));
  CHECK(s.milk.of.total_kg() == 0.0);
  CHECK(strain(ground(1.23), 1, {}, holding(4)).fault == Fault::none);
}

TEST_CASE("warm wash water warms the second running") {
  StrainSettings s = washed({2});
  s.wash_at = celsius(80);
  const Strained r = strain(ground(8), 1, s, holding(4));
  CHECK(r.milk.at > celsius(20));
  CHECK(r.milk.at < celsius(60));
  CHECK(r.pulp.at > r.milk.at);
}
