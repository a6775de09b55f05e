// SPDX-License-Identifier: MIT
// Figures of science.md section 5, which names the papers; each was worked out there with the printed coefficients.
#include "curdwright/properties.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace curdwright;

namespace {

Composition only(Component c) {
  Composition one;
  one[c] = 1.0;
  return one;
}

/// Water, protein, fat, carbohydrate, fibre, ash.
Composition food(double water, double protein, double fat, double carbohydrate, double fibre, double ash) {
  Composition c;
  c[Component::water] = water, c[Component::protein] = protein, c[Component::fat] = fat;
  c[Component::sugars] = carbohydrate, c[Component::fibre] = fibre, c[Component::ash] = ash;
  return c;
}

const Composition soy_milk = food(.930, .033, .018, .015, 0, .004);
const Composition pea_milk = food(.960, .022, .001, .013, 0, .004);
const Composition dry_soy = food(.0854, .3649, .1994, .2086, .093, .0487);
const Composition split_pea = food(.1127, .2455, .0116, .3487, .255, .0265);
const Composition pulp = food(.78, .0594, .022, .0198, .11, .0088);
const Composition curd = food(.8455, .0808, .0478, .0157, .003, .0072);  // USDA regular curd, NDB 16427

double rho(const Composition& c, double t) { return in_kilograms_per_cubic_metre(mixture_density(c, celsius(t))); }
double cp(const Composition& c, double t) { return heat_capacity_j_kg_k(c, celsius(t)) / 1e3; }

}  // namespace

TEST_CASE("density and viscosity of water follow the printed tables") {
  const double t[] = {0, 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100};
  const double density[] = {999.840, 999.964, 999.700, 999.100, 998.204, 997.045, 995.647, 992.216, 988.036, 983.199, 977.770, 971.798, 965.320, 958.364};
  const double viscosity[] = {1.7918, 1.5182, 1.3059, 1.1375, 1.0016, 0.8900, 0.7972, 0.6527, 0.5465, 0.4660, 0.4035, 0.3540, 0.3142, 0.2816};
  for (int i = 0; i < 14; ++i) {
    INFO(t[i]);
    CHECK(in_kilograms_per_cubic_metre(water_density(celsius(t[i]))) == Approx(density[i]).margin(6e-4).epsilon(0));
    CHECK(1e3 * water_viscosity_pa_s(celsius(t[i])) == Approx(viscosity[i]).margin(6e-5).epsilon(0));
  }
}

TEST_CASE("saturation of water meets the check values of IAPWS-IF97 in both directions") {
  const double kelvins_[] = {300, 500, 600};
  const double pressures[] = {3.53658941e3, 2.63889776e6, 12.3443146e6};
  for (int i = 0; i < 3; ++i) CHECK(in_pascals(saturation_pressure(kelvin(kelvins_[i]))) == Approx(pressures[i]).epsilon(3e-9));
  CHECK(in_kelvin(boiling_temperature(pascals(0.1e6))) == Approx(372.755919).epsilon(2e-9));
  CHECK(in_kelvin(boiling_temperature(pascals(1e6))) == Approx(453.035632).epsilon(2e-9));
  CHECK(in_kelvin(boiling_temperature(pascals(10e6))) == Approx(584.149488).epsilon(2e-9));
  for (double t : {5.0, 20.0, 60.0, 95.0, 120.0})
    CHECK(in_celsius(boiling_temperature(saturation_pressure(celsius(t)))) == Approx(t).epsilon(1e-8));
}

TEST_CASE("air thins and water boils cooler on a mountain, by the printed table") {
  const double metres_[] = {0, 250, 500, 750, 1000, 1500, 2000, 2500, 3500, 4000};
  const double kpa[] = {101.325, 98.358, 95.461, 92.634, 89.875, 84.556, 79.495, 74.683, 65.764, 61.640};
  const double boils[] = {99.97, 99.14, 98.31, 97.48, 96.65, 94.98, 93.32, 91.64, 88.30, 86.62};
  for (int i = 0; i < 10; ++i) {
    INFO(metres_[i]);
    const Pressure p = pressure_at_altitude(metres(metres_[i]));
    CHECK(in_kilopascals(p) == Approx(kpa[i]).margin(6e-4).epsilon(0));
    CHECK(in_celsius(boiling_temperature(p)) == Approx(boils[i]).margin(6e-3).epsilon(0));
  }
}

TEST_CASE("single components meet the check values of Choi and Okos") {
  const Component parts[] = {Component::water, Component::protein, Component::fat, Component::starch, Component::fibre, Component::ash};
  const double rho20[] = {995.74, 1319.53, 917.24, 1592.89, 1304.18, 2418.19}, rho60[] = {983.84, 1298.80, 900.54, 1580.47, 1289.55, 2406.96},
               rho80[] = {973.38, 1288.43, 892.18, 1574.26, 1282.23, 2401.35}, cp20[] = {4.1766, 2.0319, 2.0117, 1.5857, 1.8807, 1.1289},
               cp60[] = {4.1905, 2.0760, 2.0553, 1.6452, 1.9390, 1.1927}, cp80[] = {4.2040, 2.0965, 2.0713, 1.6678, 1.9626, 1.2202},
               k20[] = {0.6037, 0.2016, 0.1751, 0.2274, 0.2070, 0.3565};
  for (int i = 0; i < 6; ++i) {
    INFO(i);
    const Composition c = only(parts[i]);
    CHECK(rho(c, 20) == Approx(rho20[i]).margin(6e-3).epsilon(0));
    CHECK(rho(c, 60) == Approx(rho60[i]).margin(6e-3).epsilon(0));
    CHECK(rho(c, 80) == Approx(rho80[i]).margin(6e-3).epsilon(0));
    CHECK(cp(c, 20) == Approx(cp20[i]).margin(6e-5).epsilon(0));
    CHECK(cp(c, 60) == Approx(cp60[i]).margin(6e-5).epsilon(0));
    CHECK(cp(c, 80) == Approx(cp80[i]).margin(6e-5).epsilon(0));
    CHECK(conductivity_w_m_k(c, celsius(20)) == Approx(k20[i]).margin(6e-5).epsilon(0));
  }
}

TEST_CASE("starch and sugars count as carbohydrate, salts as ash") {
  CHECK(rho(only(Component::starch), 40) == Approx(rho(only(Component::sugars), 40)));
  CHECK(cp(only(Component::starch), 40) == Approx(cp(only(Component::sugars), 40)));
  CHECK(rho(only(Component::salts), 40) == Approx(rho(only(Component::ash), 40)));
  CHECK(conductivity_w_m_k(only(Component::salts), celsius(40)) == Approx(conductivity_w_m_k(only(Component::ash), celsius(40))));
}

TEST_CASE("mixtures meet the worked check values") {
  const struct {
    const Composition& food;
    double rho20, rho60, rho80, cp20, cp60, cp80;
  } rows[] = {{soy_milk, 1010.42, 998.18, 987.74, 4.0158, 4.0321, 4.0460},
              {pea_milk, 1008.38, 996.31, 985.83, 4.0814, 4.0967, 4.1106},
              {dry_soy, 1246.7, 1229.2, 1219.9, 2.0599, 2.1068, 2.1269},
              {split_pea, 1356.4, 1340.8, 1332.0, 2.0553, 2.1055, 2.1269},
              {pulp, 1049.6, 1036.8, 1026.6, 3.6709, 3.6934, 3.7088}};
  for (const auto& r : rows) {
    INFO(r.rho20);
    CHECK(rho(r.food, 20) == Approx(r.rho20).epsilon(5e-5));
    CHECK(rho(r.food, 60) == Approx(r.rho60).epsilon(5e-5));
    CHECK(rho(r.food, 80) == Approx(r.rho80).epsilon(5e-5));
    CHECK(cp(r.food, 20) == Approx(r.cp20).epsilon(5e-5));
    CHECK(cp(r.food, 60) == Approx(r.cp60).epsilon(5e-5));
    CHECK(cp(r.food, 80) == Approx(r.cp80).epsilon(5e-5));
  }
  CHECK(rho(curd, 20) == Approx(1022.9).epsilon(5e-5));
  CHECK(cp(curd, 20) == Approx(3.8303).epsilon(3e-5));
  CHECK(conductivity_w_m_k(curd, celsius(20)) == Approx(0.5502).epsilon(1e-4));
  CHECK(conductivity_w_m_k(curd, celsius(20)) / (rho(curd, 20) * 1e3 * cp(curd, 20)) == Approx(1.404e-7).epsilon(3e-4));
}

TEST_CASE("the volume of a liquid uses Kell's water") {
  Composition water = only(Component::water);
  CHECK(in_kilograms_per_cubic_metre(liquid_density(water, celsius(20))) == Approx(998.204).epsilon(1e-6));
  CHECK(in_litres(volume_at_20(water)) == Approx(1 / 0.998204).epsilon(1e-6));
  // The milk is denser than Choi and Okos make it by its share of water: 1/rho falls by w (1/995.74 - 1/998.204).
  const double expected = 1 / (1 / 1010.42 - 0.930 * (1 / 995.74 - 1 / 998.204));
  CHECK(in_kilograms_per_cubic_metre(liquid_density(soy_milk, celsius(20))) == Approx(expected).epsilon(1e-5));
}

TEST_CASE("two streams mix to the temperature that keeps the heat") {
  const Stream cold = water_stream(kilograms(3), celsius(15));
  Stream hot = water_stream(kilograms(1), celsius(15));
  CHECK(in_celsius(mixed_temperature(cold, hot)) == Approx(15));
  hot.at = celsius(95);
  const double mixed = in_celsius(mixed_temperature(cold, hot));
  CHECK(mixed == Approx(35).margin(0.2));
  CHECK(in_celsius(mixed_temperature(hot, cold)) == Approx(mixed));
  CHECK(in_celsius(mixed_temperature(Stream{{}, {}, {}, celsius(40)}, Stream{})) == Approx(40));
}

TEST_CASE("a standing pot of ten kilograms cools with a time constant of 5.56 hours") {
  Composition milk;
  milk[Component::water] = 10;
  const double tau = in_hours(pot_time_constant(milk, celsius(60), 10));
  CHECK(tau * 4.0 / cp(milk, 60) == Approx(5.556).epsilon(1e-3));  // science.md 9.4, worked with 4.0 kJ/(kg K)
  CHECK(in_square_metres(pot_surface(kilograms(10))) == Approx(0.2));
  CHECK(in_square_metres(pot_surface(kilograms(80))) == Approx(0.8));  // two-thirds power
  CHECK(pot_time_constant(milk * 8.0, celsius(60), 10) / pot_time_constant(milk, celsius(60), 10) == Approx(2));
}

TEST_CASE("warmth speeds by Arrhenius") {
  CHECK(arrhenius(celsius(20), celsius(20), 32) == 1.0);
  // science.md 2.6 item 5: k1 of soy 4.89, 2.41 and 1.04 h at 5, 20 and 40 degC.
  CHECK(2.41 / arrhenius(celsius(5), celsius(20), 32) == Approx(4.89).margin(6e-3));
  CHECK(2.41 / arrhenius(celsius(40), celsius(20), 32) == Approx(1.04).margin(6e-3));
  // Half-life of GDL from 1.31e-4 /s at 25 degC and 62.76 kJ/mol (science.md 7.6): 103 s at 80 degC, 10.0 h at 4.
  CHECK(std::log(2) / (1.31e-4 * arrhenius(celsius(80), celsius(25), 62.76)) == Approx(103).epsilon(5e-3));
  CHECK(std::log(2) / (1.31e-4 * arrhenius(celsius(4), celsius(25), 62.76)) / 3600 == Approx(10.0).epsilon(5e-3));
}
