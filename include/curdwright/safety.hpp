// SPDX-License-Identifier: MIT
/// \file safety.hpp
/// Growth of spore-formers while seed soaks and raw milk stands.
///
///     double logs = growth_log10(plan.soaking);     // tenfold increases of B. cereus, with lag
///
/// A cautious estimate to warn by, not a validated process. Rates above 30 degC are a fit to the ten
/// points of the USDA ARS predictive model for B. cereus in cooling cooked rice; below, the higher of that
/// fit and a square-root curve that meets it at 30 degC and reaches down to 5 degC, as cold-loving strains
/// do (judgement).
#pragma once

#include "curdwright/temperature_history.hpp"

namespace curdwright {

/// Growth rate once growing, log10 of numbers per hour. 20 degC cautious: 0.241; 38.94 degC: 0.912 (the model it is fitted to: 0.93).
double growth_rate_log10_per_h(Temperature t);
/// The fit alone, without the cautious branch below 30 degC.
double fitted_growth_rate_log10_per_h(Temperature t);

/// Tenfold increases along a history, with the lag of Baranyi and Roberts 1994, h0 4.1, from the closed
/// form  ln N/N0 = ln(1 + q0 e^A) - ln(1 + q0),  A = ln10 * integral of the rate,  q0 = 1/(e^h0 - 1).
double growth_log10(const TemperatureHistory& history);
/// The same from the growth that there would be without a lag, which adds up over several histories.
double growth_log10_after_lag(double without_lag);
/// Tenfold increases had there been no lag: the integral of the rate.
double growth_log10_without_lag(const TemperatureHistory& history);
/// Hours at one temperature until numbers have grown tenfold, with lag; infinite where nothing grows.
double hours_to_tenfold(Temperature t);

}  // namespace curdwright
