// SPDX-License-Identifier: MIT
#include "curdwright/slip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace curdwright {
namespace {

/// An explanation must bring a reading as near as this to what is expected: judgement.
constexpr double near = 0.08;
/// and the difference between two weights as near as this to the vessel's.
constexpr double near_tare = 0.15;
/// More than this share out of a stage than went in is no error of the scale: judgement.
constexpr double gain_tolerance = 0.03;

bool close(double a, double b, double within) { return a > 0 && b > 0 && std::abs(std::log(a / b)) < within; }

struct Factor {
  double factor;  ///< what the reading was multiplied by through the slip
  const char* meant;
};

/// Grams for kilograms and the like. Exact factors: NIST SP 811.
constexpr double lb = 0.45359237, oz = 28.349523125, inch = 2.54;
constexpr std::array<Factor, 8> mass_factors = {{{1e3, "g"}, {1e-3, "kg"}, {1 / lb, "lb"}, {lb, "kg"}, {16, "oz"}, {1.0 / 16, "lb"}, {1 / oz, "oz"}, {oz, "g"}}};
constexpr std::array<Factor, 4> time_factors = {{{60, "shorter"}, {1.0 / 60, "longer"}, {3600, "s"}, {1.0 / 3600, "h"}}};
constexpr std::array<Factor, 4> length_factors = {{{10, "mm"}, {0.1, "cm"}, {inch, "cm"}, {1 / inch, "in"}}};
constexpr std::array<Factor, 2> volume_factors = {{{1e3, "ml"}, {1e-3, "l"}}};

std::span<const Factor> factors_of(const Measurable& m) {
  if (!m.kind) return {};
  switch (*m.kind) {
    case QuantityKind::mass: return mass_factors;
    case QuantityKind::duration: return time_factors;
    case QuantityKind::length: return length_factors;
    case QuantityKind::volume: return volume_factors;
    default: return {};
  }
}

/// Vessels whose weight the kitchen knows.
std::vector<std::pair<std::string, double>> vessels_of(const Kitchen& k) {
  std::vector<std::pair<std::string, double>> all;
  for (const Pot& p : k.pots)
    if (p.tare.si() > 0) all.emplace_back(p.name, p.tare.si());
  for (const auto& [name, text] : k.tares)
    if (const auto kg = parse_quantity(text, QuantityKind::mass)) all.emplace_back(name, *kg);
  return all;
}

Slip swapped_slip(const Reading& r, double expected, std::span<const Expected> others) {
  for (const Expected& o : others)
    if (o.reading != &r && o.reading->what->kind == r.what->kind && close(r.si, o.si, near) && close(o.reading->si, expected, near)) return {SlipKind::swapped, std::string(o.reading->what->word)};
  return {};
}

Slip tare_slip(const Reading& r, double expected, const Kitchen& k) {
  if (r.what->kind != QuantityKind::mass) return {};
  for (const auto& [name, kg] : vessels_of(k)) {
    if (close(r.si - expected, kg, near_tare)) return {SlipKind::tare, name};
    if (close(expected - r.si, kg, near_tare)) return {SlipKind::tare_taken_twice, name};
  }
  return {};
}

Slip factor_slip(const Reading& r, double expected) {
  const std::string_view told_unit = std::string_view(r.told).substr(r.told.find_last_of("0123456789. ") + 1);
  for (const Factor& f : factors_of(*r.what))
    if (f.meant != told_unit && close(r.si / f.factor, expected, near)) return {SlipKind::unit, f.meant};
  for (double f : {10.0, 0.1})
    if (close(r.si / f, expected, near)) return {SlipKind::point, f > 1 ? "too far right" : "too far left"};
  return {};
}

/// Two neighbouring digits of what was written, in the other order.
Slip digit_slip(const Reading& r, double expected) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  const std::string& told = r.told;
  if (told.find_first_of("+-/ ") != std::string::npos) return {};
  std::size_t end = 0;
  while (end < told.size() && (digit(told[end]) || told[end] == '.')) ++end;
  const auto number = parse_number(told.substr(0, end));
  if (!number || !(*number > 0)) return {};
  for (std::size_t i = 0; i + 1 < end; ++i) {
    if (!digit(told[i]) || !digit(told[i + 1]) || told[i] == told[i + 1]) continue;
    std::string other = told.substr(0, end);
    std::swap(other[i], other[i + 1]);
    const auto changed = parse_number(other);
    if (changed && close(r.si * *changed / *number, expected, near / 2)) return {SlipKind::digits, other + told.substr(end)};
  }
  return {};
}

}  // namespace

Slip likely_slip(const Reading& r, double expected, const Kitchen& kitchen, std::span<const Expected> others) {
  for (const Slip& s : {swapped_slip(r, expected, others), tare_slip(r, expected, kitchen), factor_slip(r, expected), digit_slip(r, expected)})
    if (s.kind != SlipKind::none) return s;
  return {};
}

std::optional<MassGain> mass_gain(const Plan& p, std::span<const Reading* const> readings) {
  const auto weighed = [&](std::string_view word, double otherwise) {
    for (const Reading* r : readings)
      if (r->what->word == word && r->what->kind == QuantityKind::mass) return r->si;
    return otherwise;
  };
  const auto extras = [&](Stage stage) { return p.extras[static_cast<std::size_t>(stage)].of.total_kg(); };
  std::optional<MassGain> worst;
  const auto check = [&](std::string_view one, std::string_view other, double in) {
    const double a = weighed(one, 0), b = weighed(other, 0), share = (a + b) / in - 1;
    if (a > 0 && b > 0 && share > std::max(gain_tolerance, worst ? worst->share : 0.0)) worst = MassGain{share, fmt::format("{} and {}", one, other)};
  };
  check("pulp", "milk", weighed("soaked", p.soaked.of.total_kg()) + p.water.grinding_kg + extras(Stage::blend) + p.strained.wash_kg);
  // Milk that was not weighed after cooking weighs no more than before it.
  const double cooked = weighed("cooked-milk", weighed("settled-milk", p.destarched.milk.of.total_kg()) + extras(Stage::cook));
  check("curd", "whey", cooked + p.set.mix.of.total_kg() + extras(Stage::coagulate) + extras(Stage::press));
  return worst;
}

}  // namespace curdwright
