// SPDX-License-Identifier: MIT
/// \file stages/press.hpp
/// Draining and pressing: set milk in, curd blocks out; whey leaves.
///
///     Pressed p = press(set_milk.milk, set_milk.curdled_kg, settings, theta);
///
/// The curd is built from components: curdled protein, captured fat, starch and fibre make the insoluble
/// part S; sugars, minerals, salts and whey protein stand in the curd's water at whey strength c, kg per
/// kg of water. At moisture M (wet basis) the curd weighs S / (1 - M (1 + c)).
/// Pressing consolidates w = M/(1 - M) in time, after Terzaghi with a late creep,
///     w(t) = w_inf + (w_0 - w_inf) [(1 - B)(1 - U(T)) + B exp(-eta t)],   T = Cv t / h^2,
/// h being half the drained thickness: the cloth drains both faces. The thickness is that of the drained
/// curd which ends as one block of the wanted mass, so moisture and thickness are found together.
#pragma once

#include <optional>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/stage.hpp"

namespace curdwright {

struct PressSettings {
  Pressure pressure = kilopascals(4);
  Duration time = minutes(30);
  std::optional<double> moisture;          ///< wanted, wet-basis fraction: instead of pressure and time
  Mass block = grams(300);
  Length mould_length = centimetres(12);   ///< footprint of one block
  Length mould_width = centimetres(10);
};

struct Pressed {
  Stream curd;
  Stream whey;   ///< drained and pressed out
  Stream trim;   ///< curd left in cloth and mould
  double drained_kg = 0;          ///< curd after free draining
  double drained_moisture = 0;    ///< after free draining, wet basis
  Density drained_density;        ///< of the drained curd at 20 degC
  double moisture = 0;            ///< wet basis, at the end of pressing
  double moisture_limit = 0;      ///< where this pressure would end
  double whey_solids_per_water = 0;
  double insoluble_kg = 0;
  double whey_kept = 0;           ///< share of the liquid that stands in the pressed curd
  Length block_height;            ///< of a block of the wanted mass, pressed
  Length drained_height;          ///< of the curd that makes it, before pressing
  bool beyond_known_pressure = false;  ///< outside 2 to 50 kPa
  Fault fault = Fault::none;
};

/// Degree of consolidation after Terzaghi. T 0.1967: 0.5; 0.8481: 0.9.
double consolidation_degree(double time_factor);
/// Moisture (wet basis) where pressing at this pressure ends: a + b log10(P / 1 kPa), 2 to 50 kPa.
double moisture_limit(Pressure pressure, const Theta& theta);
/// Moisture after pressing curd of a drained height for a time.
double pressed_moisture(double drained, double limit, Length drained_height, Duration time, const Theta& theta);
/// What cannot leave with the whey: curdled protein, captured fat, starch and fibre.
Composition insoluble_part(const Composition& set_milk, double curdled_kg, const Theta& theta);
/// Mass of curd with insolubles S at moisture M, kg; not positive when it cannot be.
constexpr double curd_mass_kg(double insoluble_kg, double moisture, double whey_solids_per_water) {
  const double rest = 1.0 - moisture * (1.0 + whey_solids_per_water);
  return rest > 0 ? insoluble_kg / rest : 0.0;
}

/// Mass to lay on one block for the pressure: m g / A. 4.086 kPa on 10 by 12 cm: 5 kg.
Mass press_weight(const PressSettings& settings);
/// And back: the pressure under a mass that lies on one block.
Pressure pressure_under(Mass weight, const PressSettings& settings);

/// \param curdled_kg protein that has set
Pressed press(const Stream& set_milk, double curdled_kg, const PressSettings& settings, const Theta& theta);

}  // namespace curdwright
