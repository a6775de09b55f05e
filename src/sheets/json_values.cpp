// SPDX-License-Identifier: MIT
#include "sheets/json_values.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace curdwright {

nlohmann::ordered_json number(double v) {
  if (!std::isfinite(v)) return nullptr;
  if (std::abs(v) < 1e-12) return 0.0;
  // Printed to nine digits and read back, so that the shortest text of the result has nine at most.
  std::array<char, 32> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), v, std::chars_format::scientific, 8).ptr;
  double nine = v;
  std::from_chars(digits.data(), end, nine);
  return nine;
}

nlohmann::ordered_json caution_json(const Caution& c) {
  return {{"rule", c.rule}, {"severity", word(c.severity)}, {"stage", key(c.stage)}, {"standing", c.standing}, {"text", c.text}};
}

std::string shortened(const std::string& text) {
  constexpr std::size_t long_number = 12;
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i + 1;
    if (text[i] == '"') {
      while (text[end] != '"') end += text[end] == '\\' ? 2 : 1;
      ++end;
    } else if (text[i] == '-' || (text[i] >= '0' && text[i] <= '9')) {
      end = std::min(text.find_first_not_of("+-.0123456789eE", i), text.size());
      double v = 0;
      if (end - i > long_number && std::from_chars(text.data() + i, text.data() + end, v).ec == std::errc()) {
        std::array<char, 32> digits{};
        out.append(digits.data(), std::to_chars(digits.data(), digits.data() + digits.size(), v).ptr);
        i = end;
        continue;
      }
    }
    out.append(text, i, end - i);
    i = end;
  }
  return out;
}

}  // namespace curdwright
