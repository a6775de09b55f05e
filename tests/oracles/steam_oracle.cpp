// SPDX-License-Identifier: MIT
// Properties of water against printed tables that the library's coefficients did not come from.
#include <catch2/catch.hpp>

#include "curdwright/properties.hpp"

using namespace curdwright;

TEST_CASE("saturation pressure meets the steam tables") {
  // NIST Chemistry WebBook, SRD 69 (IAPWS-95), saturation properties of water, kPa.
  const double t[] = {10, 20, 25, 40, 50, 60, 80, 90, 100, 110, 120};
  const double kpa[] = {1.2282, 2.3393, 3.1699, 7.3849, 12.352, 19.946, 47.414, 70.182, 101.42, 143.38, 198.67};
  for (int i = 0; i < 11; ++i) {
    INFO(t[i]);
    CHECK(in_kilopascals(saturation_pressure(celsius(t[i]))) == Approx(kpa[i]).epsilon(2e-4));
  }
}

TEST_CASE("water boils where the steam tables say") {
  // NIST Chemistry WebBook, saturation temperature: 50 kPa 81.317, 75 kPa 91.758, 101.325 kPa 99.974, 143.38 kPa 110.0 degC.
  CHECK(in_celsius(boiling_temperature(kilopascals(50))) == Approx(81.317).margin(5e-3));
  CHECK(in_celsius(boiling_temperature(kilopascals(75))) == Approx(91.758).margin(5e-3));
  CHECK(in_celsius(boiling_temperature(kilopascals(101.325))) == Approx(99.974).margin(2e-3));
  CHECK(in_celsius(boiling_temperature(kilopascals(143.38))) == Approx(110.0).margin(5e-3));
}

TEST_CASE("density of water meets the tables at an atmosphere") {
  // CRC Handbook, "Standard density of water", kg/m3; largest near 4 degC.
  const double t[] = {4, 10, 20, 25, 30, 50, 75, 95}, rho[] = {999.97, 999.70, 998.21, 997.05, 995.65, 988.04, 974.84, 961.89};
  for (int i = 0; i < 8; ++i) {
    INFO(t[i]);
    CHECK(in_kilograms_per_cubic_metre(water_density(celsius(t[i]))) == Approx(rho[i]).margin(0.015).epsilon(0));
  }
}

TEST_CASE("viscosity of water meets the tables at an atmosphere") {
  // IAPWS R12-08 and CRC Handbook, mPa s.
  const double t[] = {0.01, 10, 20, 30, 50, 70, 90}, mu[] = {1.791, 1.306, 1.002, 0.7974, 0.5468, 0.4039, 0.3144};
  for (int i = 0; i < 7; ++i) {
    INFO(t[i]);
    CHECK(1e3 * water_viscosity_pa_s(celsius(t[i])) == Approx(mu[i]).epsilon(2e-3));
  }
}

TEST_CASE("the standard atmosphere meets its table") {
  // U.S. Standard Atmosphere 1976, table I, geopotential altitude: 0, 1000, 3000, 5000 m.
  CHECK(in_pascals(pressure_at_altitude(metres(0))) == Approx(101325));
  CHECK(in_pascals(pressure_at_altitude(metres(1000))) == Approx(89874.6).epsilon(1e-4));
  CHECK(in_pascals(pressure_at_altitude(metres(3000))) == Approx(70108.5).epsilon(1e-4));
  CHECK(in_pascals(pressure_at_altitude(metres(5000))) == Approx(54019.9).epsilon(1e-4));
}

TEST_CASE("heat capacity of water is within two percent of the steam tables") {
  // Steam tables: 4.184 at 20, 4.185 at 60, 4.197 kJ/(kg K) at 80 degC; Choi and Okos is a fit.
  Composition water;
  water[Component::water] = 1;
  CHECK(heat_capacity_j_kg_k(water, celsius(20)) == Approx(4184).epsilon(0.02));
  CHECK(heat_capacity_j_kg_k(water, celsius(60)) == Approx(4185).epsilon(0.02));
  CHECK(heat_capacity_j_kg_k(water, celsius(80)) == Approx(4197).epsilon(0.02));
  CHECK(conductivity_w_m_k(water, celsius(20)) == Approx(0.598).epsilon(0.02));
}
