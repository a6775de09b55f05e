// SPDX-License-Identifier: MIT
#include "sheets/measures.hpp"

#include <fmt/format.h>

#include <cmath>

namespace curdwright::sheets {
namespace {

/// What stands behind the last underscore of a figure's key.
std::string unit_of_key(std::string_view key) {
  if (key.ends_with("_mmol_per_l")) return "mmol_per_l";
  return std::string(key.substr(key.rfind('_') + 1));
}

}  // namespace

Measure measure_of(const Measurable& m, double si) {
  if (m.observes) return {si * m.to_figure, unit_of_key(info(*m.observes).key)};
  return measure_of(m.word, si, m.si_unit());
}

Measure measure_of(std::string_view word, double si, std::string_view unit) {
  if (unit == "kg") return {si * 1e3, "g"};
  if (unit == "m3") return {si * 1e6, "ml"};
  if (unit == "K") return {in_celsius(kelvin(si)), "c"};
  if (unit == "s") return {si, "s"};
  if (unit == "m") return {si * 1e3, "mm"};
  return {si, word == "ph" ? "ph" : "count"};
}

std::string spoken_measure(const Measure& m, const Amounts& say) {
  if (m.unit == "g") return m.value < 60 ? say.grams_fine(grams(m.value)) : say.weigh(grams(m.value));
  if (m.unit == "ml") return say.volume(millilitres(m.value));
  if (m.unit == "s") return duration(seconds(m.value));
  if (m.unit == "c") return say.temperature(celsius(m.value));
  if (m.unit == "mm") return say.length(metres(m.value / 1e3));
  if (m.unit == "fraction") return fixed(100 * m.value, 1) + " %";
  if (m.unit == "ph") return fixed(m.value, 1);
  const std::string number = fixed(m.value, std::abs(m.value - std::round(m.value)) < 0.05 ? 0 : 1);
  return m.unit == "count" ? number : fmt::format("{} {}", number, m.unit);
}

}  // namespace curdwright::sheets
