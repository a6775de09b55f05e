// SPDX-License-Identifier: MIT
#include "differing.hpp"

#include <cmath>

#include "curdwright/units.hpp"

namespace curdwright {

bool tells_of_food(std::string_view at) {
  for (std::string_view nothing : {"/title", "/schema", "/$schema", "/kitchen/name", "/kitchen/schema", "/kitchen/$schema", "/kitchen/currency"})
    if (at == nothing) return false;
  // Of what a kitchen has learned, from how many batches says enough.
  if (at.starts_with("/kitchen/learned/")) return at == "/kitchen/learned/batches";
  return !at.starts_with("/kitchen/prices/");
}

bool same_value(const std::string& a, const std::string& b) {
  if (a == b) return true;
  using enum QuantityKind;
  for (const QuantityKind k : {mass, volume, temperature, duration, length, area, pressure, power, fraction, concentration, mass_concentration, dose}) {
    const auto one = parse_quantity(a, k), other = parse_quantity(b, k);
    if (one && other && std::abs(*one - *other) <= 1e-9 * std::abs(*one)) return true;
  }
  return false;
}

}  // namespace curdwright
