// SPDX-License-Identifier: MIT
#include "sheets/csv.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "sheets/json_values.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {

namespace {

/// "-12.5", "+3": all of it. "-1+2" and "-E1", a cell's name, are none.
bool is_number(std::string_view s) {
  if (s.starts_with('+')) s.remove_prefix(1);
  double v = 0;
  const auto read = std::from_chars(s.data(), s.data() + s.size(), v);
  return read.ec == std::errc() && read.ptr == s.data() + s.size() && std::isfinite(v);
}

/// Without the blanks at the front, those that do not break and wide ones among them.
std::string_view behind_blanks(std::string_view s) {
  for (const std::string_view blank : {" ", "\t", "\u00A0", "\u3000"})
    if (s.starts_with(blank)) return behind_blanks(s.substr(blank.size()));
  return s;
}

/// Table programs take =, +, - and @ at the front of a cell for a formula, some behind blanks too, and some in their wide forms.
bool begins_formula(std::string_view s) {
  s = behind_blanks(s);
  static constexpr std::array<std::string_view, 8> marks = {"=", "+", "-", "@", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};
  return std::any_of(marks.begin(), marks.end(), [s](std::string_view m) { return s.starts_with(m); });
}

/// Where a table program cuts lines at semicolons, what stands behind one begins a cell: a mark keeps it text.
std::string cut_safely(std::string_view s) {
  std::string out;
  for (std::size_t i = 0; i < s.size(); ++i) {
    out += s[i];
    if (s[i] == ';' && begins_formula(s.substr(i + 1))) out += '\'';
  }
  return out;
}

}  // namespace

std::string csv_cell(std::string_view words) {
  const std::string plain = cut_safely(text::harmless(words));
  const bool formula = begins_formula(plain) && !is_number(plain);
  const bool quoted = plain.find_first_of(",\"\r\n") != std::string::npos;
  std::string out;
  if (quoted) out += '"';
  if (formula) out += '\'';
  for (char c : plain) out.append(quoted && c == '"' ? 2 : 1, c);
  if (quoted) out += '"';
  return out;
}

std::string csv_number(const std::optional<double>& v) { return v ? shortened(number(*v).dump()) : std::string(); }

}  // namespace curdwright::sheets
