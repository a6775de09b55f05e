// SPDX-License-Identifier: MIT
#include "curdwright/properties.hpp"

#include <array>
#include <cmath>

namespace curdwright {
namespace {

/// Choi and Okos 1986 as printed in the ASHRAE Handbook, Refrigeration 2006, chapter 9, in the order of
/// Component: water, protein, starch, sugars, fat, fibre, ash, salts.
constexpr Quadratic carbohydrate_density{1599.1, -0.31046, 0};
constexpr Quadratic ash_density{2423.8, -0.28063, 0};
constexpr std::array<Quadratic, component_count> density_of = {{{997.18, 3.1439e-3, -3.7574e-3},
                                                                {1329.9, -0.51840, 0},
                                                                carbohydrate_density,
                                                                carbohydrate_density,
                                                                {925.59, -0.41757, 0},
                                                                {1311.5, -0.36589, 0},
                                                                ash_density,
                                                                ash_density}};

constexpr Quadratic carbohydrate_heat{1.5488, 1.9625e-3, -5.9399e-6};
constexpr Quadratic ash_heat{1.0926, 1.8896e-3, -3.6817e-6};
/// kJ/(kg K)
constexpr std::array<Quadratic, component_count> heat_of = {{{4.1762, -9.0864e-5, 5.4731e-6},
                                                             {2.0082, 1.2089e-3, -1.3129e-6},
                                                             carbohydrate_heat,
                                                             carbohydrate_heat,
                                                             {1.9842, 1.4733e-3, -4.8008e-6},
                                                             {1.8459, 1.8306e-3, -4.6509e-6},
                                                             ash_heat,
                                                             ash_heat}};

constexpr Quadratic carbohydrate_conductivity{0.20141, 1.3874e-3, -4.3312e-6};
constexpr Quadratic ash_conductivity{0.32962, 1.4011e-3, -2.9069e-6};
/// W/(m K)
constexpr std::array<Quadratic, component_count> conductivity_of = {{{0.57109, 1.7625e-3, -6.7036e-6},
                                                                     {0.17881, 1.1958e-3, -2.7178e-6},
                                                                     carbohydrate_conductivity,
                                                                     carbohydrate_conductivity,
                                                                     {0.18071, -2.7604e-4, -1.7749e-7},
                                                                     {0.18331, 1.2497e-3, -3.1683e-6},
                                                                     ash_conductivity,
                                                                     ash_conductivity}};

/// Kell's water, kg/m3, t in degC.
constexpr double kell(double t) {
  const double top =
      999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t))));
  return top / (1.0 + 16.879850e-3 * t);
}

/// Volume of a kilogram of each component at 20 degC, m3, by Choi and Okos with the water given.
constexpr std::array<double, component_count> volumes_at_20(double water_kg_m3) {
  std::array<double, component_count> v{};
  for (std::size_t i = 0; i < component_count; ++i) v[i] = 1.0 / density_of[i].at(20.0);
  v[0] = 1.0 / water_kg_m3;
  return v;
}
constexpr auto liquid_volumes_at_20 = volumes_at_20(kell(20.0));

Density density_with_water(const Composition& c, double t, double water_kg_m3) {
  double volume = c.kg[0] / water_kg_m3;
  for (std::size_t i = 1; i < component_count; ++i) volume += c.kg[i] / density_of[i].at(t);
  return kilograms_per_cubic_metre(volume > 0 ? c.total_kg() / volume : water_kg_m3);
}

}  // namespace

Density water_density(Temperature at) { return kilograms_per_cubic_metre(kell(in_celsius(at))); }

double water_viscosity_pa_s(Temperature at) {
  const double t = in_kelvin(at) / 300.0;
  // Powers -1.9, -7.7, -19.6 and -40 of t, from its tenth root: one power function instead of four.
  const double root = std::pow(t, 0.1), root3 = root * root * root;
  const double i2 = 1.0 / (t * t), i4 = i2 * i2, i8 = i4 * i4, i20 = i8 * i8 * i4;
  return 1e-6 * (280.68 * i2 * root + 511.45 * i8 * root3 + 61.131 * i20 * root3 * root + 0.45903 * i20 * i20);
}

namespace {
namespace if97 {
constexpr double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6, n3 = -0.17073846940092e2, n4 = 0.12020824702470e5,
                 n5 = -0.32325550322333e7, n6 = 0.14915108613530e2, n7 = -0.48232657361591e4, n8 = 0.40511340542057e6,
                 n9 = -0.23855557567849, n10 = 0.65017534844798e3;
}
}  // namespace

Pressure saturation_pressure(Temperature at) {
  using namespace if97;
  const double t = in_kelvin(at);
  const double th = t + n9 / (t - n10);
  const double a = th * th + n1 * th + n2;
  const double b = n3 * th * th + n4 * th + n5;
  const double c = n6 * th * th + n7 * th + n8;
  return pascals(1e6 * std::pow(2 * c / (-b + std::sqrt(b * b - 4 * a * c)), 4));
}

Temperature boiling_temperature(Pressure p) {
  using namespace if97;
  const double beta = std::pow(in_pascals(p) * 1e-6, 0.25);
  const double e = beta * beta + n3 * beta + n6;
  const double f = n1 * beta * beta + n4 * beta + n7;
  const double g = n2 * beta * beta + n5 * beta + n8;
  const double d = 2 * g / (-f - std::sqrt(f * f - 4 * e * g));
  return kelvin((n10 + d - std::sqrt((n10 + d) * (n10 + d) - 4 * (n9 + n10 * d))) / 2);
}

Pressure pressure_at_altitude(Length altitude) {
  return kilopascals(101.325 * std::pow(1.0 - 2.25577e-5 * in_metres(altitude), 5.25588));
}

Density mixture_density(const Composition& c, Temperature t) {
  return density_with_water(c, in_celsius(t), density_of[0].at(in_celsius(t)));
}

Density liquid_density(const Composition& c, Temperature t) {
  return density_with_water(c, in_celsius(t), in_kilograms_per_cubic_metre(water_density(t)));
}

const Quadratic& component_density(Component c) { return density_of[static_cast<std::size_t>(c)]; }
const Quadratic& component_heat(Component c) { return heat_of[static_cast<std::size_t>(c)]; }

double heat_capacity_j_k(const Composition& c, Temperature t) {
  double sum = 0;
  for (std::size_t i = 0; i < component_count; ++i) sum += c.kg[i] * heat_of[i].at(in_celsius(t));
  return 1e3 * sum;
}

double heat_capacity_j_kg_k(const Composition& c, Temperature t) {
  const double kg = c.total_kg();
  return kg > 0 ? heat_capacity_j_k(c, t) / kg : 1e3 * heat_of[0].at(in_celsius(t));
}

double conductivity_w_m_k(const Composition& c, Temperature t) {
  double volume = 0, sum = 0;
  for (std::size_t i = 0; i < component_count; ++i) {
    const double part = c.kg[i] / density_of[i].at(in_celsius(t));
    volume += part;
    sum += part * conductivity_of[i].at(in_celsius(t));
  }
  return volume > 0 ? sum / volume : conductivity_of[0].at(in_celsius(t));
}

Volume volume_at_20(const Composition& c) {
  double volume = 0;
  for (std::size_t i = 0; i < component_count; ++i) volume += c.kg[i] * liquid_volumes_at_20[i];
  return Volume::from_si(volume);
}

Temperature mixed_temperature(const Composition& a, Temperature a_at, const Composition& b, Temperature b_at) {
  const double ca = heat_capacity_j_k(a, a_at), cb = heat_capacity_j_k(b, b_at);
  return ca + cb > 0 ? kelvin((ca * a_at.si() + cb * b_at.si()) / (ca + cb)) : a_at;
}

Area pot_surface(Mass contents) { return square_metres(0.2 * std::pow(in_kilograms(contents) / 10.0, 2.0 / 3.0)); }

Duration pot_time_constant(const Composition& contents, Temperature about, double coefficient_w_m2k) {
  const double capacity = heat_capacity_j_k(contents, about);
  return seconds(capacity / (coefficient_w_m2k * in_square_metres(pot_surface(contents.mass()))));
}

double arrhenius(Temperature t, Temperature reference, double activation_energy_kj_mol) {
  return std::exp(-activation_energy_kj_mol / gas_constant_kj_mol_k * (1.0 / t.si() - 1.0 / reference.si()));
}

}  // namespace curdwright
