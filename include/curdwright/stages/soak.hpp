// SPDX-License-Identifier: MIT
/// \file stages/soak.hpp
/// Soaking: dry seed in, drained soaked seed out; soak water and skins leave.
///
///     TemperatureHistory in_fridge = soak_history(seed, settings, 10.0);
///     Soaked s = soak(seed, settings, in_fridge, theta, 0);
///
/// Uptake follows Peleg 1988. Its curve obeys dm/dt = (1 - k2 m)^2 / k1, which for any temperature
/// history has the closed form
///     theta = integral dt / k1(T),   m = theta / (1 + k2 theta),   kg water per kg dry matter,
/// exact while k2 is constant (derived). k1 follows Arrhenius with a break at 60 degC, where the starch
/// of the seed begins to gelatinise (Yildirim, Oner and Bayram 2011).
#pragma once

#include <optional>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/stage.hpp"
#include "curdwright/temperature_history.hpp"

namespace curdwright {

struct SoakSettings {
  double water_to_dry = 3.0;           ///< kg poured per kg dry seed, each time
  Temperature water_at = celsius(15);  ///< as poured
  Temperature surroundings = celsius(4);
  Duration time = hours(16);
  int changes = 0;                     ///< times the water is poured off and renewed
  bool skins_off = false;              ///< rubbed off after the soak
  Temperature seed_at = celsius(20);
  std::optional<Duration> time_constant;  ///< of the vessel; reckoned from its mass when absent
};

struct Soaked {
  Stream seed;        ///< drained, with the water that clings
  Stream soak_water;  ///< all that is poured off
  Stream hulls;
  double gain = 0;          ///< water taken up, kg per kg dry matter
  double uptake_kg = 0;     ///< water taken up and clinging
  double solids_lost = 0;   ///< fraction of dry matter
  bool short_of_water = false;  ///< the seed would have drunk more than was poured
  double warm_seconds = 0;      ///< integral of soak_speed: as many seconds at 20 degC
  double loss_seconds = 0;      ///< the same for the loss of solids
  double hull_solids_kg = 0;    ///< of the skins that are rubbed off
};

/// Peleg's equation: gain m = t/(k1 + k2 t), kg/kg, written for theta = t/k1.
/// k1 2.674 h, k2 0.745, 12 h: 1.033 kg/kg (Yildirim, Oner and Bayram 2010).
constexpr double peleg_gain(double theta, double k2) { return theta / (1.0 + k2 * theta); }
/// The inverse: theta that gives a gain; needs k2 gain < 1.
constexpr double peleg_theta(double gain, double k2) { return gain / (1.0 - k2 * gain); }

/// How much faster than at 20 degC the seed drinks: Arrhenius with a break at 60 degC.
double soak_speed(Temperature t, double energy_kj_mol, double energy_hot_kj_mol);

/// Temperature of seed and water just mixed.
Temperature soak_start(const Stream& seed, const SoakSettings& settings);
/// Time constant of the vessel, from what is in it at the start.
Duration soak_time_constant(const Stream& seed, const SoakSettings& settings, Temperature start, double vessel_coefficient);
/// Temperature just after a change of water. \param before of the drained vessel
Temperature soak_changed(const Stream& seed, const SoakSettings& settings, Temperature before);

/// Temperature of the vessel: seed and water mixed, then drifting to the surroundings.
/// \param vessel_coefficient surface coefficient of the vessel, W/(m2 K)
TemperatureHistory soak_history(const Stream& seed, const SoakSettings& settings, double vessel_coefficient);

/// \param seed dry seed of one legume, as bought
/// \param history of the vessel; a mix shares one
/// \param legume which legume of theta
Soaked soak(const Stream& seed, const SoakSettings& settings, const TemperatureHistory& history, const Theta& theta,
            std::size_t legume);

}  // namespace curdwright
