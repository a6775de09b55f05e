// SPDX-License-Identifier: MIT
// Measured and planned numbers in the units that answers have.
#pragma once

#include <string>

#include "curdwright/measure.hpp"
#include "sheets/amounts.hpp"

namespace curdwright::sheets {

/// A number with its unit as keys end: g, ml, s, c, mm, fraction, count, ph, kcal, mg.
struct Measure {
  double value = 0;
  std::string unit;
};
/// From SI, or from the plain number of the reading.
Measure measure_of(const Measurable& what, double si);
/// From what the diary keeps of a planned amount.
Measure measure_of(std::string_view word, double si, std::string_view si_unit);

/// As a cook reads it.
std::string spoken_measure(const Measure& m, const Amounts& say);

}  // namespace curdwright::sheets
