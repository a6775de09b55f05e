// SPDX-License-Identifier: MIT
/// \file stages/cook.hpp
/// Cooking the milk: raw milk in, cooked milk out; steam and film leave.
///
///     Cooked c = cook(milk, settings, theta);
///     double left = trypsin_inhibitor_left(c.history, theta);
///
/// Heating is a relaxation toward the temperature at which the pot would lose what the hob gives,
///     dT/dt = (P eta - U A (T - T_room)) / (m cp),
/// slowed above 65 degC, where a cook heats gently so that nothing sticks. A pot whose relaxation ends
/// below the boil never boils. What boils off is a share of the milk for every ten minutes of simmer.
#pragma once

#include <optional>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/stage.hpp"
#include "curdwright/temperature_history.hpp"

namespace curdwright {

struct CookSettings {
  Power hob = watts(1800);             ///< rating of one ring; its efficiency is a parameter
  int pots = 1;                        ///< loads of equal size
  Duration hold = minutes(15);         ///< from the full simmer
  Temperature boil = celsius(100);     ///< where the kitchen stands
  Temperature room = celsius(20);
  std::optional<Duration> heat_up;     ///< as done or wanted; reckoned when absent
  std::optional<double> evaporated;    ///< share of the milk; reckoned when absent
};

struct Cooked {
  Stream milk;
  Stream steam;
  Stream film;
  TemperatureHistory history;  ///< heating and simmer of one pot
  Duration heat_up;
  Temperature reaches;         ///< where the pot would stop rising
  Fault fault = Fault::none;
};

/// Nearest that a pot may end above the boil and still be called boiling.
inline constexpr TemperatureRise boiling_margin = kelvins(0.5);

/// Time constant of one pot on the hob, about the middle of its way to the boil. \param pot contents of one pot
Duration heating_time_constant(const Composition& pot, Temperature at, const CookSettings& settings, const Theta& theta);

Cooked cook(const Stream& milk, const CookSettings& settings, const Theta& theta);

/// Share of trypsin inhibitor left: a labile and a stable part, each first order,
///     left = a 10^(-n1) + (1 - a) 10^(-n2),  n = integral dt / D(T),  D(T) = D100 10^((100 - t)/z).
/// 100 degC, 20 min: 12.8 % (13 % seen, Yuan et al. 2008). For 80 to 121 degC.
double trypsin_inhibitor_left(const TemperatureHistory& history, const Theta& theta);

/// Share of lipoxygenase left, first order: 10^(-n), D60 180 min (Busto et al. 1999).
double lipoxygenase_left(const TemperatureHistory& history, const Theta& theta);

/// Decimal reductions n = integral dt / D(T). \param d at the reference, s \param z in K
double decimal_reductions(const TemperatureHistory& history, Temperature reference, double d, double z);

}  // namespace curdwright
