// SPDX-License-Identifier: MIT
#include "text/spoken.hpp"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>

namespace curdwright::text {

double to_digits(double value, int digits) {
  std::array<char, 40> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::scientific, digits - 1).ptr;
  double rounded = value;
  std::from_chars(text.data(), end, rounded);
  return rounded;
}

std::string fixed(double value, int digits) {
  constexpr std::array<double, 4> scales = {1, 10, 100, 1000};
  constexpr double most_whole = 1e15;
  const double scale = digits < 4 ? scales[static_cast<std::size_t>(digits)] : std::pow(10.0, digits);
  // A hair is added so that a decimal half that the machine holds a little low still rounds up.
  const double steps = std::floor(std::abs(value) * scale + 0.5 + 1e-9);
  const bool below = value < 0 && steps != 0;
  if (!(steps < most_whole)) return fmt::format("{:.{}f}", (below ? -steps : steps) / scale, digits);
  // The digits of a whole number, with a point among them.
  std::array<char, 24> text{};
  const auto count = static_cast<int>(std::to_chars(text.data(), text.data() + text.size(), static_cast<long long>(steps)).ptr - text.data());
  std::string out(below ? "-" : "");
  if (count > digits)
    out.append(text.data(), static_cast<std::size_t>(count - digits));
  else
    out += '0';
  if (digits == 0) return out;
  out += '.';
  out.append(static_cast<std::size_t>(std::max(0, digits - count)), '0');
  out.append(text.data() + std::max(0, count - digits), static_cast<std::size_t>(std::min(count, digits)));
  return out;
}

int digits_of(double step) {
  int digits = 0;
  while (digits < 3 && std::abs(step * std::pow(10, digits) - std::round(step * std::pow(10, digits))) > 1e-6) ++digits;
  return digits;
}

std::string about(Mass m) {
  const double g = in_grams(m);
  if (g >= 9950) return fixed(g / 1000, 1) + " kg";
  if (g >= 995) return fixed(g / 1000, 2) + " kg";
  if (g >= 100) return fixed(std::round(g / 5) * 5, 0) + " g";
  return fixed(g, g < 1 ? 2 : g < 10 ? 1 : 0) + " g";
}

std::string many(int n, std::string_view one, std::string_view more) { return fmt::format("{} {}", n, n == 1 ? one : more); }

std::string duration(Duration d) {
  const double s = d.si();
  if (!std::isfinite(s)) return "an unknown time";
  if (s < 100) return fixed(s, 0) + " s";
  const auto total = static_cast<long>(std::round(s / 60));
  if (total < 120) return fmt::format("{} min", total);
  return total % 60 == 0 ? fmt::format("{} h", total / 60) : fmt::format("{} h {} min", total / 60, total % 60);
}

}  // namespace curdwright::text
