// SPDX-License-Identifier: MIT
/// \file properties.hpp
/// Thermal properties of water and of foods, and the boiling point where the kitchen stands.
///
///     Density d = liquid_density(milk.of, celsius(20));
///     Temperature boils = boiling_temperature(pressure_at_altitude(metres(1500)));   // 94.98 degC
///
/// Foods: Choi and Okos 1986, -40 to 150 degC, mixed by volume for density and conductivity and by
/// mass for heat capacity. The water term of the heat capacity is the 4.1762 form of Singh and Heldman;
/// the one in ASHRAE tables is 1.3 % low. Starch and sugars count as carbohydrate, salts as ash.
#pragma once

#include "curdwright/composition.hpp"
#include "curdwright/quantity.hpp"

namespace curdwright {

/// Density of water at 0.1 MPa, 0 to 100 degC, kg/m3. Kell 1975, J. Chem. Eng. Data 20:97.
/// 20 degC: 998.204; 80 degC: 971.798.
Density water_density(Temperature t);

/// Viscosity of water at 0.1 MPa, 0 to 100 degC, Pa s. IAPWS 2008, short form.
/// 20 degC: 1.0016e-3; 60 degC: 0.4660e-3.
double water_viscosity_pa_s(Temperature t);

/// Saturation pressure of water, 0 to 374 degC. IAPWS-IF97 region 4. 300 K: 3.53658941 kPa.
Pressure saturation_pressure(Temperature t);

/// Temperature at which water boils. IAPWS-IF97 region 4, backward. 0.1 MPa: 372.755919 K.
Temperature boiling_temperature(Pressure p);

/// Pressure of the standard atmosphere below 11 km. ISO 2533. 1500 m: 84.556 kPa.
Pressure pressure_at_altitude(Length altitude);

/// Density of a mixture by Choi and Okos throughout, kg/m3.
Density mixture_density(const Composition& c, Temperature t);

/// As mixture_density with Kell's water in place of Choi and Okos's, which is 0.25 % low at 20 degC:
/// for the volumes of milk and whey.
Density liquid_density(const Composition& c, Temperature t);

/// Of one component, by Choi and Okos: a + b t + c t^2, t in degC. Density kg/m3, heat capacity kJ/(kg K).
struct Quadratic {
  double a, b, c;
  [[nodiscard]] constexpr double at(double t) const { return a + t * (b + t * c); }
};
const Quadratic& component_density(Component c);
const Quadratic& component_heat(Component c);

/// Specific heat capacity, J/(kg K).
double heat_capacity_j_kg_k(const Composition& c, Temperature t);
/// Heat that warms all of it by a kelvin, J/K.
double heat_capacity_j_k(const Composition& c, Temperature t);

/// Thermal conductivity, W/(m K).
double conductivity_w_m_k(const Composition& c, Temperature t);

/// Volume of a liquid stream at 20 degC.
Volume volume_at_20(const Composition& c);

/// Temperature of two streams mixed without loss, from their heat capacities.
Temperature mixed_temperature(const Composition& a, Temperature a_at, const Composition& b, Temperature b_at);
inline Temperature mixed_temperature(const Stream& a, const Stream& b) { return mixed_temperature(a.of, a.at, b.of, b.at); }

/// Surface through which a standing pot of this mass loses heat, m2: 0.2 m2 for 10 kg, and like the
/// two-thirds power of the mass for pots of one shape (derived).
Area pot_surface(Mass contents);

/// Time constant of a standing pot, tau = m cp / (h A). 10 kg at 4.0 kJ/(kg K), h 10: 5.556 h.
/// \param coefficient_w_m2k surface coefficient h, W/(m2 K)
Duration pot_time_constant(const Composition& contents, Temperature about, double coefficient_w_m2k);

/// Arrhenius factor exp(-(E/R) (1/T - 1/Tref)): how much faster than at the reference.
/// \param activation_energy_kj_mol E, kJ/mol
double arrhenius(Temperature t, Temperature reference, double activation_energy_kj_mol);

/// Surface coefficients of air that stands and that a fan moves, W/(m2 K): handbook values from memory, and the records'.
inline constexpr double still_air_w_m2_k = 8, moving_air_w_m2_k = 20;
/// Standard gravity, m/s2. Defined.
inline constexpr double gravity_m_s2 = 9.80665;
/// Molar gas constant, kJ/(mol K). Defined.
inline constexpr double gas_constant_kj_mol_k = 8.314463e-3;

}  // namespace curdwright
