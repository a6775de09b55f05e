// SPDX-License-Identifier: MIT
/// \file units.hpp
/// Amounts as people write them: "1.2 kg", "1 lb 4 oz", "80 degC", "180 °F", "1 h 30 min".
///
///     Result<double> si = parse_quantity("1 lb 4 oz", QuantityKind::mass);   // 0.56699 kg
///
/// A number needs its unit. A unit word with two meanings is resolved by the field it stands in, or
/// refused with both spellings offered. Factors are exact by definition (NIST SP 811, appendix B).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright {

enum class QuantityKind {
  mass, volume, temperature, duration, length, area, pressure, power,
  fraction,            ///< "80 %" or a bare 0.8
  concentration,       ///< mol/l
  mass_concentration,  ///< g/l
  dose,                ///< mmol/g
};

/// Longest text that is read as a quantity.
inline constexpr std::size_t max_quantity_text = 64;

/// Whether a word is the unit of some kind of amount: "kg", "min".
bool is_unit(std::string_view word);

/// Value in SI units, or what is wrong with the text (without a place).
Result<double> parse_quantity(std::string_view text, QuantityKind kind);

/// A plain number by the same strict rules: whole text, finite, decimal point.
Result<double> parse_number(std::string_view text);

/// "a mass", and an example to write: "450 g".
std::string_view name_of(QuantityKind kind);
std::string_view example_of(QuantityKind kind);
/// Spellings that are accepted, the usual one first.
std::vector<std::string_view> units_of(QuantityKind kind);

/// The shortest sensible text in the usual unit, as problems and `show` print limits: "450 g", "80 degC".
std::string write_quantity(double si, QuantityKind kind);

}  // namespace curdwright
