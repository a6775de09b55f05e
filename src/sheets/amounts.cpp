// SPDX-License-Identifier: MIT
#include "sheets/amounts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright::sheets {
namespace {

constexpr double grams_per_lb = 453.59237, grams_per_oz = grams_per_lb / 16, ml_per_quart = 946.352946, ml_per_us_teaspoon = 4.92892159375;

/// Pounds and ounces, to so many ounces' digits.
std::string pounds(double grams, int digits) {
  const double unit = std::pow(10, -digits);
  if (grams < grams_per_lb - grams_per_oz * unit / 2) return fixed(grams / grams_per_oz, digits) + " oz";
  double lb = std::floor(grams / grams_per_lb);
  double oz = (grams - lb * grams_per_lb) / grams_per_oz;
  if (oz >= 16 - unit / 2) lb += 1, oz = 0;
  return oz < unit / 2 ? fmt::format("{:.0f} lb", lb) : fmt::format("{:.0f} lb {} oz", lb, fixed(oz, digits));
}

/// To a tenth, and whole where that is what it comes to: "12 cm", "3.5 l".
std::string tenths(double value) {
  std::string number = fixed(value, 1);
  if (number.ends_with(".0")) number.resize(number.size() - 2);
  return number;
}

/// "3/4", "1 1/2"; nothing of none.
std::string in_quarters(int quarters) {
  static constexpr std::array<std::string_view, 4> fractions = {"", "1/4", "1/2", "3/4"};
  const std::string_view part = fractions[static_cast<std::size_t>(quarters % 4)];
  std::string all = quarters >= 4 ? std::to_string(quarters / 4) : "";
  if (!part.empty()) (all += quarters >= 4 ? " " : "") += part;
  return all;
}

/// Spoons to the quarter teaspoon; records tell the grams of 5 ml.
/// \param ml of the teaspoon; a tablespoon holds three
std::string spoons(double grams, double grams_per_teaspoon, double ml) {
  const auto quarters = static_cast<int>(std::round(grams / grams_per_teaspoon * (5.0 / ml) * 4.0));
  if (quarters < 1) return "a pinch";
  const int tablespoons = quarters / 12;
  std::string small = in_quarters(quarters % 12);
  if (!small.empty()) small += " tsp";
  return tablespoons == 0 ? small : fmt::format("{} tbsp{}{}", tablespoons, small.empty() ? "" : " + ", small);
}

}  // namespace

std::string Amounts::weigh(Mass m) const {
  const double g = in_grams(m);
  if (units_ == Units::us) return pounds(g, 1);
  return fixed(g, text::digits_of(in_grams(kitchen_.coarse_scale.step))) + " g";
}

std::string Amounts::grams_fine(Mass m) const {
  const Scale& s = m <= kitchen_.fine_scale.capacity ? kitchen_.fine_scale : kitchen_.coarse_scale;
  return fixed(in_grams(m), text::digits_of(in_grams(s.step))) + " g";
}

std::string Amounts::weigh_fine(Mass m, double grams_per_teaspoon) const {
  if (!spoons_ || in_grams(m) > 60) return grams_fine(m);
  return fmt::format("{} ({})", grams_fine(m), spoons(in_grams(m), grams_per_teaspoon, units_ == Units::us ? ml_per_us_teaspoon : 5.0));
}

std::string Amounts::water(Mass m) const {
  if (units_ == Units::metric) return weigh(m);
  const double ml = in_millilitres(m / water_density(celsius(20)));
  constexpr double ml_per_cup = ml_per_quart / 4;
  if (ml < ml_per_cup) return pounds(in_grams(m), 1);
  if (const double cups = ml / ml_per_cup; cups < 3.5) return fmt::format("{} ({} {})", pounds(in_grams(m), 1), in_quarters(static_cast<int>(std::round(4 * cups))), cups < 1.125 ? "cup" : "cups");
  constexpr double jug = 8;  // quarts: more than that nobody measures to the hundredth
  const bool large = ml >= jug * ml_per_quart;
  return fmt::format("{} qt ({})", fixed(ml / ml_per_quart, large ? 1 : 2), pounds(in_grams(m), large ? 0 : 1));
}

std::string Amounts::about(Mass m) const {
  return units_ == Units::us ? pounds(in_grams(m), in_grams(m) < 2 * grams_per_lb ? 1 : 0) : text::about(m);
}

std::string Amounts::load(Mass m) const {
  const double g = in_grams(m);
  if (units_ == Units::us) return pounds(g, 0);
  return g >= 995 ? tenths(g / 1000) + " kg" : fixed(std::round(g / 10) * 10, 0) + " g";
}

std::string Amounts::between(Mass low, Mass high) const {
  const double a = in_grams(low), b = in_grams(high);
  if (units_ == Units::us) return fmt::format("{} to {}", pounds(a, 0), pounds(b, 0));
  const int digits = b >= 19950 ? 0 : 1;
  if (b >= 995 && a < 945) return fmt::format("{} g to {} kg", fixed(std::round(a / 10) * 10, 0), fixed(b / 1000, digits));
  if (b >= 995) return fmt::format("{} to {} kg", fixed(a / 1000, digits), fixed(b / 1000, digits));
  if (b < 20) return fmt::format("{} to {} g", fixed(a, 1), fixed(b, 1));
  if (b < 200) return fmt::format("{} to {} g", fixed(a, 0), fixed(b, 0));
  return fmt::format("{} to {} g", fixed(std::round(a / 10) * 10, 0), fixed(std::round(b / 10) * 10, 0));
}

std::string Amounts::temperature(Temperature t) const {
  if (units_ == Units::us) return fixed(in_celsius(t) * 9 / 5 + 32, 0) + " °F";
  return fixed(in_celsius(t), 0) + " °C";
}

std::string Amounts::no_less_than(Temperature t) const {
  if (units_ == Units::us) return fixed(std::ceil(in_celsius(t) * 9 / 5 + 32 - 1e-6), 0) + " °F";
  return fixed(std::ceil(in_celsius(t) - 1e-6), 0) + " °C";
}

std::string Amounts::in_units(std::string_view words) const {
  constexpr std::string_view unit = " degC";
  std::string out;
  for (std::size_t at = words.find(unit); at != std::string_view::npos; at = words.find(unit)) {
    std::size_t from = at;
    while (from > 0 && std::string_view("0123456789.-").find(words[from - 1]) != std::string_view::npos) --from;
    double value = 0;
    const bool number = std::from_chars(words.data() + from, words.data() + at, value).ec == std::errc();
    out += words.substr(0, number && units_ == Units::us ? from : at);
    const std::string_view after = words.substr(at + unit.size());
    const bool least = after.starts_with(" or more") || after.starts_with(" or hotter") || after.starts_with(" or above");
    out += number && units_ == Units::us ? least ? no_less_than(celsius(value)) : temperature(celsius(value)) : " °C";
    words.remove_prefix(at + unit.size());
  }
  return out + std::string(words);
}

std::string Amounts::length(Length l) const {
  if (units_ == Units::us) return tenths(in_centimetres(l) / 2.54) + " in";
  return tenths(in_centimetres(l)) + " cm";
}

std::string Amounts::volume(Volume v) const {
  const double ml = in_millilitres(v);
  if (units_ == Units::us) return tenths(ml / ml_per_quart) + " qt";
  return ml < 1000 ? fixed(ml, 0) + " ml" : tenths(ml / 1000) + " l";
}

std::string Amounts::pressure(Pressure p) const {
  constexpr double kpa_per_psi = 6.894757;
  const std::string kpa = fixed(in_kilopascals(p), 1) + " kPa";
  return units_ == Units::us ? fmt::format("{} psi, {}", fixed(in_kilopascals(p) / kpa_per_psi, 2), kpa) : kpa;
}

std::string clock(Duration d) {
  const auto total = static_cast<long>(std::round(in_minutes(d)));
  return fmt::format("{} h {:02}", total / 60, total % 60);
}

}  // namespace curdwright::sheets
