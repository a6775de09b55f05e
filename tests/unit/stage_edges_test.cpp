// SPDX-License-Identifier: MIT
// The edges of the stages: nothing of something, exactly at a limit, and the guards that hold a formula inside of its reach.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/safety.hpp"
#include "curdwright/stages/blend.hpp"
#include "curdwright/stages/coagulate.hpp"
#include "curdwright/stages/cook.hpp"
#include "curdwright/stages/press.hpp"
#include "curdwright/stages/soak.hpp"
#include "curdwright/stages/starch.hpp"
#include "curdwright/stages/strain.hpp"
#include "roots.hpp"
#include "support/support.hpp"

using namespace curdwright;

namespace {

Stream of(std::initializer_list<std::pair<Component, double>> parts, double at = 20) {
  Stream s;
  for (const auto& [c, kg] : parts) s.of[c] = kg;
  s.at = celsius(at);
  return s;
}

/// Heat of a stream above 0 degC, its heat capacity taken where it was.
double heat(const Composition& c, Temperature at) { return heat_capacity_j_k(c, at) * in_celsius(at); }

Theta grinder() {
  Theta t;
  t.set(Param::release_protein, 0, 0.9), t.set(Param::release_fat, 0, 0.8), t.set(Param::coagulable, 0, 0.9), t.set(Param::dose, 0, 0.53);
  t.set(Param::granule_median, 0, 22e-6), t.set(Param::granule_spread, 0, 1.35), t.set(Param::never_settles, 0, 0.1);
  t.set(Param::blender_protein, 0, 0.95), t.set(Param::blender_starch, 0, 0.55), t.set(Param::release_sugars, 0, 0.97), t.set(Param::release_ash, 0, 0.75);
  t.set(Param::release_fibre, 0, 0.1), t.set(Param::release_calcium, 0, 0.46), t.set(Param::release_magnesium, 0, 0.6), t.set(Param::spill, 0, 0.02);
  return t;
}

Theta starch_figures() {
  Theta t;
  t.set(Param::granule_density, 0, 1350), t.set(Param::granule_water, 0, 0.5), t.set(Param::bed_fraction, 0, 0.55), t.set(Param::hindered_exponent, 0, 5.6);
  t.set(Param::protein_voluminosity, 0, 1.5), t.set(Param::heel, 0, 0.05), t.set(Param::vessel_coefficient, 0, 10);
  t.set(Param::gel_removed, 0, 0.65), t.set(Param::gel_holds, 0, 3);
  return t;
}

}  // namespace

TEST_CASE("water that is just the uptake is not below it, and of no seed nothing is asked") {
  BlendSettings s;
  s.basis = WaterBasis::total_to_dry, s.water = 1.25;
  CHECK_FALSE(blend_water(s, 2, 2.5, 4.5).below_uptake);
  CHECK(blend_water(s, 2, 2.5, 4.5).grinding_kg == 0.0);
  CHECK(blend_water(s, 2, 2.5000001, 4.5).below_uptake);
  CHECK(blend_water(s, 0, 0, 0).total_to_dry == 0.0);
}

TEST_CASE("seed without protein asks for no coagulant and curdles nothing") {
  const Stream seed = of({{Component::water, 1}, {Component::starch, 0.5}, {Component::fibre, 0.2}});
  const std::array lots = {SoakedLot{&seed, 0}};
  const GroundBeans g = blend(lots, {}, kilograms(3), grinder());
  CHECK(g.coagulable == 0.0);
  CHECK(g.dose_mmol_g == 0.0);
}

TEST_CASE("minerals that came with the soak water are free, and of the seed's own each goes by its share") {
  Stream seed = of({{Component::water, 1.2}, {Component::protein, 0.25}, {Component::fibre, 0.2}, {Component::ash, 0.03}});
  seed.minerals = {1e-3, 2e-3, 3e-4};
  const std::array lots = {SoakedLot{&seed, 0, {2e-4, 5e-4, 1e-4}}};
  Theta t = grinder();
  t.set(Param::spill, 0, 0.0);
  const GroundBeans g = blend(lots, {}, kilograms(5), t);
  CHECK(g.free.minerals.calcium_kg == Approx(2e-4 + 8e-4 * 0.46));
  CHECK(g.free.minerals.magnesium_kg == Approx(5e-4 + 1.5e-3 * 0.6));
  CHECK(g.free.minerals.sodium_kg == Approx(1e-4 + 2e-4 * 0.75));
  CHECK(g.bound.minerals.calcium_kg == Approx(8e-4 * 0.54));
  CHECK(g.bound.minerals.sodium_kg == Approx(2e-4 * 0.25));
}

TEST_CASE("what clings to the jar takes the same share of all that is in it") {
  const Stream seed = of({{Component::water, 1.2}, {Component::protein, 0.25}, {Component::fat, 0.05}, {Component::fibre, 0.2}});
  const std::array lots = {SoakedLot{&seed, 0}};
  Theta clean = grinder();
  clean.set(Param::spill, 0, 0.0);
  const GroundBeans all = blend(lots, {}, kilograms(5), clean), left = blend(lots, {}, kilograms(5), grinder());
  for (Component c : all_components) {
    CHECK(left.free.of[c] == Approx(0.98 * all.free.of[c]).margin(1e-15));
    CHECK(left.bound.of[c] == Approx(0.98 * all.bound.of[c]).margin(1e-15));
    CHECK(left.releasable.of[c] == Approx(0.98 * all.releasable.of[c]).margin(1e-15));
  }
  CHECK(left.spill.at == left.free.at);
}

TEST_CASE("blending further sets no more free than is bound, of whichever runs out first") {
  for (Component scarce : {Component::protein, Component::fat, Component::starch}) {
    GroundBeans g;
    for (Component c : {Component::protein, Component::fat, Component::starch}) g.bound.of[c] = 1.0, g.releasable.of[c] = 0.2;
    g.bound.of[scarce] = 0.1;
    CHECK(blend_further(g, seconds(0), seconds(45), seconds(45)) == Approx(0.999 * 0.1 / 0.2));
    CHECK(g.bound.of[scarce] == Approx(0.0001));
    CHECK(g.free.of[scarce] == Approx(0.0999));
  }
}

TEST_CASE("what is set free takes its minerals along") {
  Stream from = of({{Component::protein, 1}}), to, part = of({{Component::protein, 0.25}});
  from.minerals = {4e-3, 2e-3, 1e-3}, part.minerals = {1e-3, 5e-4, 2e-4};
  set_free(from, to, part);
  CHECK(from.minerals.calcium_kg == Approx(3e-3));
  CHECK(from.minerals.sodium_kg == Approx(8e-4));
  CHECK(to.minerals.magnesium_kg == Approx(5e-4));
}

TEST_CASE("a wash warms liquor and pulp together, and keeps the heat") {
  GroundBeans g;
  g.free = of({{Component::water, 8}, {Component::protein, 0.2}}), g.bound = of({{Component::fibre, 2}});
  Theta t;
  t.set(Param::held_liquor, 0, 1.0);
  StrainSettings s;
  s.washes[0].water_to_dry = 2, s.wash_count = 1, s.wash_at = celsius(80);
  const Strained r = strain(g, 1, s, t);
  const Composition held = g.free.of * (2.0 / 8);  // the pulp keeps 2 kg of the 8 kg of water
  const Stream wash = water_stream(kilograms(2), celsius(80));
  const Composition wet = held + g.bound.of;
  const double expected = (heat(wet, celsius(20)) + heat(wash.of, celsius(80))) / (heat_capacity_j_k(wet, celsius(20)) + heat_capacity_j_k(wash.of, celsius(80)));
  CHECK(in_celsius(r.pulp.at) == Approx(expected).margin(1e-6));
}

TEST_CASE("two washes through the blender go on where the blade had stopped") {
  GroundBeans g;
  g.free = of({{Component::water, 8}}), g.bound = of({{Component::fibre, 0.3}, {Component::protein, 1}}), g.releasable = of({{Component::protein, 0.5}});
  Theta t;
  t.set(Param::held_liquor, 0, 1.0);
  StrainSettings s;
  s.wash_count = 2, s.blend_time = seconds(10), s.washes[0] = {1, seconds(10)}, s.washes[1] = {1, seconds(15)};
  const Strained r = strain(g, 1, s, t);
  const double freed = 0.5 * (grind_extent(seconds(35), seconds(45)) - grind_extent(seconds(10), seconds(45)));
  CHECK(r.pulp.of[Component::protein] + r.milk.of[Component::protein] == Approx(1));
  const Pressing none = [&] {
    GroundBeans p = g;
    press_ground(p, t);
    return press_washed(p, s.washes[0], 1, seconds(10), s, t);
  }();
  CHECK(none.set_free == Approx(grind_extent(seconds(20), seconds(45)) - grind_extent(seconds(10), seconds(45))));
  // Whatever is bound in the end is what was, less all that 35 seconds set free.
  GroundBeans p = g;
  press_ground(p, t);
  press_washed(p, s.washes[0], 1, seconds(10), s, t), press_washed(p, s.washes[1], 1, seconds(20), s, t);
  CHECK(p.bound.of[Component::protein] == Approx(1 - freed));
  CHECK(r.pulp.of[Component::fibre] == Approx(0.3));
  CHECK(r.pulp.of[Component::protein] == Approx((p.free + p.bound).of[Component::protein]));
}

TEST_CASE("pulp that would hold a wash whole lets a fiftieth of it go") {
  GroundBeans g;
  g.free = of({{Component::water, 8}}), g.bound = of({{Component::fibre, 0.3}});
  Theta t;
  t.set(Param::held_liquor, 0, 4.0);
  StrainSettings s;
  s.wash_count = 1, s.washes[0].water_to_dry = 0.001;
  const Strained r = strain(g, 1, s, t);
  CHECK(r.held_kg == Approx(0.98 * (1.2 + 0.001)));
}

TEST_CASE("from milk of any size the gel holds the same share, and from none it holds nothing") {
  const auto milk = [](double kg) { return of({{Component::water, 0.95 * kg}, {Component::protein, 0.03 * kg}, {Component::starch, 0.02 * kg}}); };
  Stream little = milk(0.1), much = milk(100), starchy = of({{Component::water, 0.5}, {Component::starch, 0.5}}), none;
  const double share = gel_once(little, starch_figures()).held;
  CHECK(share == Approx(3 * 0.65 * 0.02 / (1 - 0.65 * 0.02)));
  CHECK(gel_once(much, starch_figures()).held == Approx(share));
  CHECK(gel_once(starchy, starch_figures()).held == Approx(0.6));
  CHECK(gel_once(none, starch_figures()).held == 0.0);
}

TEST_CASE("granules never take up more than half of the milk's water, and an empty vessel settles nothing") {
  Stream thick = of({{Component::water, 0.1}, {Component::starch, 0.9}});
  thick.granules = log_normal_granules(kilograms(0.9), 40e-6, 1.2, 0);
  Stream milk = thick;
  StarchSettings s;
  s.depth = millimetres(5), s.time = hours(10);
  const Settled bed = settle_once(milk, s, starch_figures());
  CHECK(bed.between == Approx(0.9));
  CHECK(milk.of[Component::water] == Approx(0.05 * 0.1 * 0.95));
  CHECK(milk.of[Component::water] + bed.bed.of[Component::water] + bed.heel.of[Component::water] == Approx(0.1));
  CHECK(share_settled(Granules{}, 1, 1) == 0.0);
}

TEST_CASE("lost solids end where the paper's loss ends, and skins come apart without a rest") {
  Theta t = test::setup_of(R"({"legume": "chickpea-kabuli"})").beliefs.medians();
  t.set(Param::hull, 0, 0.08), t.set(Param::hull_removed, 0, 0.9), t.set(Param::solids_lost, 0, 0.0203);
  Stream seed = of({{Component::water, 0.1}, {Component::protein, 0.2}, {Component::starch, 0.45}, {Component::sugars, 0.06}, {Component::fat, 0.06}, {Component::fibre, 0.1}, {Component::ash, 0.03}});
  SoakSettings s;
  s.skins_off = true;
  const Soaked r = soak(seed, s, TemperatureHistory(celsius(20)).hold(hours(60)), t, 0);
  CHECK(r.solids_lost == Approx(0.023));
  CHECK(r.hulls.of.solids_kg() == Approx(r.hull_solids_kg));
  // As wet as the seed they came from.
  CHECK(r.hulls.of[Component::water] / r.hulls.of.solids_kg() == Approx(r.seed.of[Component::water] / r.seed.of.solids_kg()));
  Stream bare = of({{Component::water, 0.1}, {Component::protein, 0.5}, {Component::starch, 0.4}});
  const Soaked none = soak(bare, s, TemperatureHistory(celsius(20)).hold(hours(12)), t, 0);
  CHECK(none.hulls.of[Component::fibre] == 0.0);
  CHECK(none.soak_water.minerals.calcium_kg == 0.0);
  for (Component c : all_components) CHECK(none.seed.of[c] >= 0);
}

TEST_CASE("a ring that would end half a kelvin above the boil is strong enough, and one that ends lower is not") {
  Theta t;
  t.set(Param::hob_efficiency, 0, 0.74), t.set(Param::pot_loss, 0, 20), t.set(Param::gentle_heating, 0, 2.8);
  const Stream milk = of({{Component::water, 5}, {Component::protein, 0.2}});
  const double loss_w_k = 20 * in_square_metres(pot_surface(milk.of.mass()));
  CookSettings s;  // in a room of 20 degC, boiling at 100
  s.hob = watts(80.51 * loss_w_k / 0.74);
  CHECK(cook(milk, s, t).fault == Fault::none);
  s.hob = watts(80.49 * loss_w_k / 0.74);
  CHECK(cook(milk, s, t).fault == Fault::hob_too_weak);
}

TEST_CASE("acid in milk without protein sets nothing, and is no share of nothing") {
  Theta t;
  t.set(Param::coagulant_strength, 0, 1.0), t.set(Param::acid_dose, 0, 0.45), t.set(Param::vessel_coefficient, 0, 10), t.set(Param::pot_loss, 0, 20);
  CoagulateSettings s;
  s.kind = CoagulantKind::acid, s.ion = Ion::none, s.used = grams(10);
  const SetMilk r = coagulate(of({{Component::water, 5}}, 100), 0, 0.75, s, t);
  CHECK(r.acid_to_rule == 0.0);
  CHECK(r.fault == Fault::no_curd);
  CHECK(coagulant_dose(Stream{}, 0.5, s, t).strength.si() == 0.0);
}

TEST_CASE("a warm room does not warm the milk before it is poured") {
  Theta t;
  t.set(Param::coagulant_strength, 0, 1.0), t.set(Param::acid_dose, 0, 0.45), t.set(Param::vessel_coefficient, 0, 10), t.set(Param::pot_loss, 0, 20);
  CoagulateSettings s;
  s.room = celsius(30), s.at = celsius(25);
  const Stream milk = of({{Component::water, 5}, {Component::protein, 0.2}}, 90);
  const TemperatureHistory h = coagulate(milk, 0.7, 0.75, s, t).history;
  const double tau = in_seconds(pot_time_constant(milk.of, celsius(25), 20));
  // Standing brings it to half a kelvin above the room.
  CHECK(in_seconds(h.length()) == Approx(tau * std::log(60 / 0.5) + 900));
}

TEST_CASE("whey so thick that hardly water is left keeps a fiftieth of the curd dry") {
  Theta t;
  t.set(Param::fat_captured, 0, 0.98), t.set(Param::drained_moisture, 0, 0.9), t.set(Param::press_intercept, 0, 0.885), t.set(Param::press_slope, 0, 0.118);
  t.set(Param::consolidation, 0, 1.9e-7), t.set(Param::creep_share, 0, 0.3), t.set(Param::creep_delay, 0, 5);
  const Stream syrup = of({{Component::water, 10}, {Component::protein, 0.01}, {Component::sugars, 3}});
  CHECK(press(syrup, 0.01, {}, t).drained_moisture == Approx(0.98 / 1.3));
}

TEST_CASE("a moisture that is the drained curd's to the last bit is no fault, and plain water drains as water") {
  Theta t;
  t.set(Param::fat_captured, 0, 0.98), t.set(Param::drained_moisture, 0, 0.88), t.set(Param::press_intercept, 0, 0.885), t.set(Param::press_slope, 0, 0.118);
  t.set(Param::consolidation, 0, 1.9e-7), t.set(Param::creep_share, 0, 0.3), t.set(Param::creep_delay, 0, 5), t.set(Param::calcium_retained, 0, 0.7);
  const Stream pure = of({{Component::water, 9}, {Component::protein, 0.3}});
  PressSettings s;
  for (double m : {0.88, std::nextafter(0.88, 1.0)}) {
    s.moisture = m;
    CHECK(press(pure, 0.3, s, t).fault == Fault::none);
  }
  const Pressed p = press(pure, 0.3, s, t);
  CHECK(p.curd.of.total_kg() == Approx(0.3 / 0.12));
  CHECK(p.whey_solids_per_water == 0.0);
  // Pressed no drier than it drained, the block is the drained curd: as dense and as high.
  CHECK(in_centimetres(p.drained_height) == Approx(in_centimetres(p.block_height)));
  CHECK(in_kilograms_per_cubic_metre(p.drained_density) == Approx(in_kilograms_per_cubic_metre(mixture_density(p.curd.of, celsius(20)))));
  // Curd of which all is liquid and nothing is insoluble has no weight.
  CHECK(curd_mass_kg(0.5, 1.0, 0.0) == 0.0);
  CHECK(curd_mass_kg(0.5, 0.5, 1.0) == 0.0);
}

TEST_CASE("of nothing there is no heat, no volume and no conduction but that of water") {
  const Composition none;
  Composition water;
  water[Component::water] = 1;
  CHECK(heat_capacity_j_k(none, celsius(40)) == 0.0);
  CHECK(heat_capacity_j_kg_k(none, celsius(40)) == Approx(heat_capacity_j_kg_k(water, celsius(40))));
  CHECK(conductivity_w_m_k(none, celsius(40)) == Approx(conductivity_w_m_k(water, celsius(40))));
  CHECK(in_kilograms_per_cubic_metre(mixture_density(none, celsius(40))) == Approx(in_kilograms_per_cubic_metre(mixture_density(water, celsius(40)))));
  CHECK(in_celsius(mixed_temperature(none, celsius(10), water, celsius(40))) == Approx(40));
  CHECK(in_celsius(mixed_temperature(none, celsius(10), none, celsius(40))) == Approx(10));
}

TEST_CASE("a rate just above nothing still has its hours, and at 5 degC there are none") {
  CHECK(std::isinf(hours_to_tenfold(celsius(5))));
  CHECK(growth_rate_log10_per_h(celsius(5) + kelvins(1e-11)) == 0.0);  // what cooled to 5 degC is not quite there
  // By the square root of the model: mu = (0.03275 (t - 5))^2, and 1 + lag in decades as at any other temperature.
  CHECK(hours_to_tenfold(celsius(6)) == Approx(hours_to_tenfold(celsius(15)) * 100).epsilon(1e-6));
  CHECK(fitted_growth_rate_log10_per_h(celsius(60)) == 0.0);
  CHECK(fitted_growth_rate_log10_per_h(celsius(3)) == 0.0);
}

TEST_CASE("a root of a curve that is nearly straight takes few looks") {
  int looks = 0;
  for (double bend : {-0.05, 0.01, 0.05}) {
    looks = 0;
    const Root r = secant_root([&](double x) { return ++looks, (x - 0.7) + bend * (x - 0.7) * (x - 0.7); }, 0, 1, 0, -0.7 + bend * 0.49, 0.6, 1e-12);
    CHECK(r.found);
    CHECK(r.at == Approx(0.7).epsilon(1e-12));
    CHECK(looks <= 6);
  }
  // A step is halved after the first dozen: 2^-68 of the bracket at the end.
  looks = 0;
  CHECK(secant_root([&](double x) { return ++looks, x < 0.3 ? -1.0 : 1e-3; }, 0, 1, 0, -1, 0.5, 1e-12).at == Approx(0.3).epsilon(1e-11));
  CHECK(looks <= 60);
  // The tolerance is relative: a root at a thousandth is found as well.
  CHECK(secant_root([](double x) { return x < 1e-3 ? -1.0 : 1e-3; }, 0, 1, 0, -1, 0.5, 1e-12).at == Approx(1e-3).epsilon(1e-10));
}

TEST_CASE("the seed of a plan holds the minerals of its record") {
  const Theta t = test::setup_of(R"({"legume": "chickpea-kabuli"})").beliefs.medians();
  const Plan p = test::plan_of(R"({"legume": "chickpea-kabuli"})", 2.0);
  CHECK(p.seed.minerals.calcium_kg == Approx(2 * t.of(Param::seed_calcium, 0)));
  CHECK(p.seed.minerals.magnesium_kg == Approx(2 * t.of(Param::seed_magnesium, 0)));
  // Some 0.8 g of magnesium in a kilogram of chickpeas, by any food table.
  CHECK(p.seed.minerals.magnesium_kg == Approx(2 * 0.8e-3).epsilon(0.5));
}

TEST_CASE("at the seam of two pieces the first one's end holds") {
  const TemperatureHistory h = TemperatureHistory(celsius(60)).hold(minutes(10)).jump(celsius(20)).hold(minutes(10));
  CHECK(in_celsius(h.at(minutes(10))) == Approx(60));
  CHECK(in_celsius(h.at(minutes(10.001))) == Approx(20));
}
