// SPDX-License-Identifier: MIT
#include "sheets/csv.hpp"

#include "sheets/json_values.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {

std::string csv_cell(std::string_view words) {
  const std::string plain = text::harmless(words);
  const bool number = plain.find_first_not_of("+-.0123456789eE") == std::string::npos && plain.find_first_of("0123456789") != std::string::npos;
  const bool formula = !plain.empty() && std::string_view("=+-@").find(plain[0]) != std::string_view::npos && !number;
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
