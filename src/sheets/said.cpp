// SPDX-License-Identifier: MIT
#include "sheets/said.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/price.hpp"
#include "sheets/amounts.hpp"

namespace curdwright::sheets {

int column_digits(double largest) { return largest == 0 ? 0 : std::clamp(2 - static_cast<int>(std::floor(std::log10(std::abs(largest)) + 1e-9)), 0, 6); }

std::string said_number(double v) { return fixed(v, column_digits(v)); }

std::string_view said_severity(Severity severity) {
  constexpr std::array<std::string_view, word_list<Severity>.size()> marks = {"Note", "CARE", "STOP"};
  return marks[static_cast<std::size_t>(severity)];
}

std::string_view said_currency(std::string_view code) { return code == no_currency ? "money" : code; }

std::string said_unit(const Response& r, const std::string& currency) {
  if (r.unit == "money") return std::string(said_currency(currency));
  return r.key == "protein_per_cost" ? fmt::format("g/{}", said_currency(currency)) : r.unit;
}

std::string said(const Response& r, double v, const std::string& currency) {
  if (r.key.ends_with("_s")) return duration(seconds(v));
  const std::string unit = said_unit(r, currency);
  return said_number(v * r.to_unit) + (unit.empty() ? "" : " " + unit);
}

std::string said_range(const Response& r, const Range& range) { return fmt::format("{} to {}", said_number(range.low * r.to_unit), said_number(range.high * r.to_unit)); }

}  // namespace curdwright::sheets
