// SPDX-License-Identifier: MIT
#include "curdwright/stages/blend.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::plan_of;
using curdwright::test::setup_of;

namespace {

Theta figures() {
  Theta t;
  t.set(Param::release_protein, 0, 0.9), t.set(Param::release_fat, 0, 0.8), t.set(Param::coagulable, 0, 0.9), t.set(Param::dose, 0, 0.53);
  t.set(Param::release_protein, 1, 0.8), t.set(Param::release_fat, 1, 0.7), t.set(Param::coagulable, 1, 0.7), t.set(Param::dose, 1, 0.73);
  for (std::size_t i = 0; i < 2; ++i) t.set(Param::granule_median, i, 22e-6), t.set(Param::granule_spread, i, 1.35), t.set(Param::never_settles, i, 0.1);
  t.set(Param::blender_protein, 0, 0.95), t.set(Param::blender_starch, 0, 0.55);
  t.set(Param::release_sugars, 0, 0.97), t.set(Param::release_ash, 0, 0.75), t.set(Param::release_fibre, 0, 0.1);
  t.set(Param::release_calcium, 0, 0.46), t.set(Param::release_magnesium, 0, 0.6), t.set(Param::spill, 0, 0.0);
  return t;
}

Stream soaked_seed() {
  Stream s;
  s.of[Component::water] = 1.2, s.of[Component::protein] = 0.25, s.of[Component::starch] = 0.4, s.of[Component::sugars] = 0.06;
  s.of[Component::fat] = 0.05, s.of[Component::fibre] = 0.2, s.of[Component::ash] = 0.03;
  s.minerals = {1e-3, 2e-3, 3e-4};
  s.at = celsius(5);
  return s;
}

BlendSettings full() {
  BlendSettings s;
  s.time = s.full_time = seconds(45);
  return s;
}

}  // namespace

TEST_CASE("the grinding water follows the basis that the recipe uses") {
  BlendSettings s;
  s.water = 8, s.basis = WaterBasis::total_to_dry;
  CHECK(blend_water(s, 2, 2.4, 4.4).grinding_kg == Approx(16 - 2.4));
  CHECK(blend_water(s, 2, 2.4, 4.4).total_to_dry == Approx(8));
  s.basis = WaterBasis::grinding_to_soaked;
  CHECK(blend_water(s, 2, 2.4, 4.4).grinding_kg == Approx(35.2));
  CHECK(blend_water(s, 2, 2.4, 4.4).total_to_dry == Approx((35.2 + 2.4) / 2));
  s.basis = WaterBasis::grinding_to_dry;
  CHECK(blend_water(s, 2, 2.4, 4.4).grinding_kg == Approx(16));
  s.water = 1, s.basis = WaterBasis::total_to_dry;
  const BlendWater dry = blend_water(s, 2, 2.4, 4.4);
  CHECK(dry.below_uptake);
  CHECK(dry.grinding_kg == 0.0);
}

TEST_CASE("grinding comes to its full extent at the full time and hardly further") {
  CHECK(grind_extent(seconds(0), seconds(45)) == 0.0);
  CHECK(grind_extent(seconds(45), seconds(45)) == Approx(1));
  CHECK(grind_extent(seconds(15), seconds(45)) == Approx((1 - std::exp(-1.0)) / (1 - std::exp(-3.0))));
  CHECK(grind_extent(hours(2), seconds(45)) == Approx(1 / (1 - std::exp(-3.0))));
  CHECK(grind_extent(hours(2), seconds(45)) < 1.0525);
}

TEST_CASE("a full blend sets free the share that each component has") {
  const Stream seed = soaked_seed();
  const std::array lots = {SoakedLot{&seed, 0}};
  const GroundBeans g = blend(lots, full(), kilograms(5), figures());
  CHECK(g.extent == Approx(1));
  CHECK(g.free.of[Component::water] == Approx(6.2));
  CHECK(g.free.of[Component::protein] == Approx(0.25 * 0.9 * 0.95));
  CHECK(g.free.of[Component::fat] == Approx(0.05 * 0.8 * 0.95));
  CHECK(g.free.of[Component::starch] == Approx(0.4 * 0.55));
  CHECK(g.free.of[Component::sugars] == Approx(0.06 * 0.97));
  CHECK(g.free.of[Component::ash] == Approx(0.03 * 0.75));
  CHECK(g.free.of[Component::fibre] == Approx(0.2 * 0.1));
  CHECK(g.free.minerals.calcium_kg == Approx(0.46e-3));
  CHECK(g.free.minerals.magnesium_kg == Approx(1.2e-3));
  CHECK(g.bound.of[Component::water] == Approx(0).margin(1e-15));
  CHECK(g.bound.of[Component::protein] == Approx(0.25 * (1 - 0.9 * 0.95)));
  CHECK(g.free.granules.total_kg() == Approx(g.free.of[Component::starch]));
  CHECK(g.free.granules.never_settles_kg == Approx(0.1 * g.free.of[Component::starch]));
  CHECK(g.bound.granules.total_kg() == Approx(0).margin(1e-15));
  CHECK(g.coagulable == Approx(0.9));
  CHECK(g.dose_mmol_g == Approx(0.53));
}

TEST_CASE("a short blend frees less protein, fat and starch, but all of what dissolves") {
  const Stream seed = soaked_seed();
  const std::array lots = {SoakedLot{&seed, 0}};
  BlendSettings s = full();
  s.time = seconds(10);
  const GroundBeans brief = blend(lots, s, kilograms(5), figures()), whole = blend(lots, full(), kilograms(5), figures());
  const double extent = grind_extent(seconds(10), seconds(45));
  CHECK(brief.free.of[Component::protein] == Approx(extent * whole.free.of[Component::protein]));
  CHECK(brief.free.of[Component::starch] == Approx(extent * whole.free.of[Component::starch]));
  CHECK(brief.free.of[Component::sugars] == Approx(whole.free.of[Component::sugars]));
  CHECK(brief.all().of.total_kg() == Approx(whole.all().of.total_kg()));
}

TEST_CASE("blending again adds up to one blend of the whole time") {
  const Stream seed = soaked_seed();
  const std::array lots = {SoakedLot{&seed, 0}};
  BlendSettings s = full();
  s.time = seconds(10);
  GroundBeans twice = blend(lots, s, kilograms(5), figures());
  blend_further(twice, seconds(10), seconds(30), seconds(45));
  s.time = seconds(30);
  const GroundBeans once = blend(lots, s, kilograms(5), figures());
  for (Component c : all_components) CHECK(twice.free.of[c] == Approx(once.free.of[c]).margin(1e-15));
  CHECK(twice.extent == Approx(once.extent));
  CHECK(twice.free.granules.total_kg() == Approx(once.free.granules.total_kg()));
}

TEST_CASE("however long the blade turns, some of each component stays bound") {
  Theta t = figures();
  t.set(Param::release_protein, 0, 0.999), t.set(Param::blender_protein, 0, 1.0), t.set(Param::blender_starch, 0, 0.99);
  const Stream seed = soaked_seed();
  const std::array lots = {SoakedLot{&seed, 0}};
  BlendSettings s = full();
  s.time = minutes(20);
  GroundBeans g = blend(lots, s, kilograms(5), t);
  blend_further(g, minutes(20), hours(2), seconds(45));
  for (Component c : {Component::protein, Component::fat, Component::starch}) CHECK(g.bound.of[c] > 0);
}

TEST_CASE("in a mix, curdling and dose are weighted by the protein that comes free") {
  const Stream a = soaked_seed(), b = soaked_seed() * 2.0;
  const std::array lots = {SoakedLot{&a, 0}, SoakedLot{&b, 1}};
  const GroundBeans g = blend(lots, full(), kilograms(15), figures());
  const double pa = 0.25 * 0.9, pb = 0.5 * 0.8;
  CHECK(g.coagulable == Approx((pa * 0.9 + pb * 0.7) / (pa + pb)));
  CHECK(g.dose_mmol_g == Approx((pa * 0.53 + pb * 0.73) / (pa + pb)));
  CHECK(g.free.of[Component::protein] == Approx(0.95 * (pa + pb)));
}

TEST_CASE("ground beans have the temperature of seed and water mixed, and some cling to the jar") {
  Theta t = figures();
  t.set(Param::spill, 0, 0.02);
  const Stream seed = soaked_seed();
  const std::array lots = {SoakedLot{&seed, 0}};
  BlendSettings s = full();
  s.water_at = celsius(90);
  const GroundBeans g = blend(lots, s, kilograms(5), t);
  CHECK(g.free.at > celsius(60));
  CHECK(g.free.at < celsius(90));
  CHECK(g.spill.of.total_kg() == Approx(0.02 * (seed.of.total_kg() + 5)));
  CHECK(g.all().of.total_kg() + g.spill.of.total_kg() == Approx(seed.of.total_kg() + 5));
}
