// SPDX-License-Identifier: MIT
#include "curdwright/stages/starch.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "curdwright/properties.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::setup_of;

namespace {

Theta figures() {
  Theta t;
  t.set(Param::protein_voluminosity, 0, 4.11), t.set(Param::granule_density, 0, 1350), t.set(Param::granule_water, 0, 0.45);
  t.set(Param::hindered_exponent, 0, 5.6), t.set(Param::bed_fraction, 0, 0.55), t.set(Param::heel, 0, 0.04), t.set(Param::gel_removed, 0, 0.65);
  t.set(Param::gel_holds, 0, 10), t.set(Param::vessel_coefficient, 0, 10);
  return t;
}

Stream milk(double median_m = 22e-6) {
  Stream s;
  s.of[Component::water] = 6, s.of[Component::protein] = 0.18, s.of[Component::starch] = 0.2, s.of[Component::sugars] = 0.05;
  s.granules = log_normal_granules(kilograms(0.2), median_m, 1.35, 0.12);
  s.at = celsius(20);
  return s;
}

double starch_left(const Destarched& d) { return d.milk.of[Component::starch]; }

}  // namespace

TEST_CASE("granules fall in water at the printed speeds") {
  // science.md 4.3: rho_s 1350 in plain water.
  const struct {
    double c, um, speed;
  } rows[] = {{20, 5, 4.78}, {20, 10, 19.14}, {20, 20, 76.55}, {20, 30, 172.2}, {5, 10, 12.56}, {5, 20, 50.24}};
  for (const auto& r : rows) {
    const Temperature t = celsius(r.c);
    const double v = stokes_velocity_m_s(r.um * 1e-6, 1350, in_kilograms_per_cubic_metre(water_density(t)), water_viscosity_pa_s(t));
    CHECK(1e6 * v == Approx(r.speed).epsilon(1.2e-3));
  }
}

TEST_CASE("crowding and protein slow the fall by the printed factors") {
  const double phi[] = {0.01, 0.03, 0.05, 0.10, 0.20}, slow[] = {0.945, 0.843, 0.750, 0.554, 0.287};
  for (int i = 0; i < 5; ++i) CHECK(hindrance(phi[i], 5.6) == Approx(slow[i]).margin(6e-4).epsilon(0));
  CHECK(hindrance(0.1, 4.65) == Approx(0.613).margin(6e-4).epsilon(0));
  // science.md 4.2: protein of 2, 3, 4, 5 % gives 1.25, 1.40, 1.58, 1.78 (Batchelor).
  const double protein[] = {0.02, 0.03, 0.04, 0.05}, thick[] = {1.25, 1.40, 1.58, 1.78};
  for (int i = 0; i < 4; ++i) CHECK(relative_viscosity(4.11 * protein[i]) == Approx(thick[i]).margin(6e-3).epsilon(0));
  CHECK(relative_viscosity(0) == 1.0);
}

TEST_CASE("the share that has settled meets the printed table") {
  // science.md 4.3: H 0.20 m, relative viscosity 1.3, phi 0.04, n 5.6, geometric sd 1.35; nothing is kept from settling.
  const auto settled = [](double median_um, double c, double hours_) {
    const Temperature t = celsius(c);
    const double per_square = stokes_velocity_m_s(1, 1350, in_kilograms_per_cubic_metre(water_density(t)), water_viscosity_pa_s(t));
    return share_settled(log_normal_granules(kilograms(1), median_um * 1e-6, 1.35, 0), per_square * hindrance(0.04, 5.6) / 1.3 * hours_ * 3600, 0.20);
  };
  const double h[] = {0.5, 1, 2, 4}, pea20[] = {0.56, 0.83, 0.97, 0.998}, pea5[] = {0.39, 0.67, 0.91, 0.99}, chickpea20[] = {0.40, 0.68, 0.91, 0.99},
               faba20[] = {0.63, 0.89, 0.985, 0.999};
  for (int i = 0; i < 4; ++i) {
    INFO(h[i]);
    CHECK(settled(22, 20, h[i]) == Approx(pea20[i]).margin(0.008).epsilon(0));
    CHECK(settled(22, 5, h[i]) == Approx(pea5[i]).margin(0.008).epsilon(0));
    CHECK(settled(18, 20, h[i]) == Approx(chickpea20[i]).margin(0.008).epsilon(0));
    CHECK(settled(24, 20, h[i]) == Approx(faba20[i]).margin(0.008).epsilon(0));
  }
}

TEST_CASE("the fall along a history is Stokes's, slowed by crowding and protein") {
  const Stream m = milk();
  const TemperatureHistory h = TemperatureHistory(celsius(20)).hold(hours(1));
  const double volume = volume_at_20(m.of).si(), phi = 0.2 * 1.45 / 1350 / volume, protein = 4.11e-3 * 0.18 / volume;
  const double expected = 3600 * stokes_velocity_m_s(1, 1350, 998.204, 1.0016e-3) * hindrance(phi, 5.6) / relative_viscosity(protein);
  CHECK(fall_per_square_m(m.of, m.granules, h, figures()) == Approx(expected).epsilon(1e-4));
  CHECK(share_settled(m.granules, 0, 0.1) == 0.0);
  CHECK(share_settled(m.granules, 1e12, 0.1) == Approx(1));
  CHECK(share_settled(Granules{}, 1, 0.1) == 0.0);
}

TEST_CASE("milk stands as deep as its vessels make it, unless it is told") {
  StarchSettings s;
  s.vessel = square_centimetres(400), s.vessels = 1;
  const double litres_ = in_litres(volume_at_20(milk().of));
  CHECK(in_centimetres(standing_depth(milk(), s)) == Approx(litres_ * 1000 / 400));
  s.vessels = 2;
  CHECK(in_centimetres(standing_depth(milk(), s)) == Approx(litres_ * 1000 / 800));
  s.depth = centimetres(7);
  CHECK(in_centimetres(standing_depth(milk(), s)) == Approx(7));
}

TEST_CASE("the layer holds the settled starch, the water in it, and milk between its granules") {
  StarchSettings s;
  s.depth = centimetres(10), s.time = hours(6);
  const Stream in = milk();
  const Destarched d = remove_starch(in, s, figures());
  const double starch = d.sediment.granules.settleable_kg();
  CHECK(d.share_settled == Approx(starch / 0.2));
  CHECK(starch == Approx(0.88 * 0.2).epsilon(0.01));
  // science.md 4.4: a bed of 0.55 holds 1.33 kg of water per kg of starch, of which 0.45 inside the granules.
  CHECK(d.sediment.of[Component::water] / starch == Approx(1.33).epsilon(0.03));
  CHECK(d.sediment.of[Component::protein] > 0);
  CHECK(d.heel.of.total_kg() / (d.heel.of.total_kg() + d.milk.of.total_kg()) == Approx(0.04));
  CHECK(d.gel.of.total_kg() == 0.0);
  CHECK(d.milk.of.total_kg() + d.sediment.of.total_kg() + d.heel.of.total_kg() == Approx(in.of.total_kg()).epsilon(1e-12));
  CHECK(d.milk.granules.never_settles_kg > 0.85 * 0.024);
  CHECK(d.milk.granules.total_kg() == Approx(starch_left(d)).epsilon(1e-9));
}

TEST_CASE("only the clear depth counts: above the layer and the last cloudy milk") {
  StarchSettings s;
  s.depth = centimetres(20), s.time = minutes(20);
  const Stream in = milk();
  const Destarched d = remove_starch(in, s, figures());
  // science.md 4.4: 0.512 g of dry starch per ml of bed; a heel of 4 % of the depth stays behind.
  const double layer = in.granules.settleable_kg() / (0.55 * 1350 / 1.45) / volume_at_20(in.of).si();
  const double fall = fall_per_square_m(in.of, in.granules, d.history, figures());
  const double all = in.granules.settleable_kg(), fallen = share_settled(in.granules, fall, 0.20 * (1 - 0.04 - layer)) * all;
  // The milk between the granules of the layer, 0.45 of it, takes some along that have not fallen.
  Composition above = in.of;
  above[Component::starch] -= fallen, above[Component::water] -= 0.45 * fallen;
  const double caught = fallen / (0.55 * 1350 / 1.45) * 0.45 / volume_at_20(above).si() * (all - fallen);
  CHECK(layer == Approx(0.2 * 0.88 / 512 / volume_at_20(in.of).si()).epsilon(1e-3));
  CHECK(d.share_settled == Approx((fallen + caught) / in.granules.total_kg()).epsilon(1e-9));
}

TEST_CASE("settling again clears what the first standing left") {
  StarchSettings s;
  s.depth = centimetres(20), s.time = minutes(20);
  const Destarched once = remove_starch(milk(), s, figures());
  s.times = 2;
  const Destarched twice = remove_starch(milk(), s, figures());
  CHECK(starch_left(twice) < 0.8 * starch_left(once));
  CHECK(twice.milk.of.total_kg() < once.milk.of.total_kg());
}

TEST_CASE("cold or deep milk settles less") {
  StarchSettings s;
  s.depth = centimetres(12), s.time = minutes(30);
  const double usual = starch_left(remove_starch(milk(), s, figures()));
  StarchSettings deep = s;
  deep.depth = centimetres(30);
  CHECK(starch_left(remove_starch(milk(), deep, figures())) > usual);
  Stream cold = milk();
  cold.at = celsius(4);
  StarchSettings in_fridge = s;
  in_fridge.surroundings = celsius(4);
  CHECK(starch_left(remove_starch(cold, in_fridge, figures())) > usual);
  CHECK(starch_left(remove_starch(milk(12e-6), s, figures())) > usual);
}

TEST_CASE("gel and strain takes its share of the starch and ten times as much milk") {
  StarchSettings s;
  s.remove = StarchRemoval::gel_and_strain;
  const Destarched d = remove_starch(milk(), s, figures());
  const double held = d.gel.of.total_kg() - 0.65 * 0.2;
  CHECK(held == Approx(10 * 0.65 * 0.2));
  CHECK(starch_left(d) == Approx(0.35 * 0.2 * (1 - held / (milk().of.total_kg() - 0.13))));
  CHECK(d.sediment.of.total_kg() == 0.0);
  s.remove = StarchRemoval::settle_and_gel;
  CHECK(starch_left(remove_starch(milk(), s, figures())) < starch_left(d));
}

TEST_CASE("with no removal the milk passes untouched") {
  StarchSettings s;
  s.remove = StarchRemoval::none;
  const Destarched d = remove_starch(milk(), s, figures());
  CHECK(d.milk.of == milk().of);
  CHECK(d.share_settled == 0.0);
  CHECK(d.sediment.of.total_kg() + d.heel.of.total_kg() + d.gel.of.total_kg() == 0.0);
}
