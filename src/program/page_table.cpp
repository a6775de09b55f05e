// SPDX-License-Identifier: MIT
#include "program/page_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "sheets/json_values.hpp"
#include "text/width.hpp"

namespace curdwright::program {

std::string dump(const Json& j) { return text::harmless_json(shortened(j.dump(2, ' ', false, Json::error_handler_t::replace))) + "\n"; }

std::string indented(std::string_view s, int by) {
  std::string out;
  for (const std::string& line : text::wrapped(text::harmless(s), page - by)) out += std::string(static_cast<std::size_t>(by), ' ') + line + "\n";
  return out;
}

namespace {

/// Widths of the columns: as their widest cell, but none so wide that the page has no room for the last, which takes the rest.
std::vector<int> widths_of(const Rows& rows) {
  constexpr int widest = 32, least_last = 8;
  std::vector<int> widths(rows[0].size(), 0);
  int before_last = 0;
  for (std::size_t i = 0; i + 1 < widths.size(); ++i) {
    for (const auto& row : rows) widths[i] = std::max(widths[i], text::width(row[i]));
    widths[i] = std::min(widths[i], widest);
    before_last += widths[i] + 2;
  }
  widths.back() = std::max(least_last, page - before_last);
  return widths;
}

/// A row, each cell wrapped within its column.
std::string row_text(std::vector<std::string> row, const std::vector<int>& widths, Last last) {
  std::string beneath;
  if (last == Last::beneath && text::width(row.back()) > widths.back()) beneath = indented(std::exchange(row.back(), ""), 4);
  std::vector<std::vector<std::string>> cells;
  std::size_t lines = 1;
  for (std::size_t i = 0; i < row.size(); ++i) {
    cells.push_back(text::wrapped(row[i], widths[i]));
    lines = std::max(lines, cells.back().size());
  }
  std::string out;
  for (std::size_t n = 0; n < lines; ++n) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i) line += text::padded(n < cells[i].size() ? cells[i][n] : "", widths[i] + 2);
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  return out + beneath;
}

}  // namespace

std::string table(const std::vector<std::string>& heads, const Rows& rows, Last last) {
  Rows all = {heads};
  all.insert(all.end(), rows.begin(), rows.end());
  for (auto& row : all)
    for (std::string& cell : row) cell = text::harmless(cell);
  const std::vector<int> widths = widths_of(all);
  std::string out;
  for (const auto& row : all) out += row_text(row, widths, last);
  return out;
}

std::string short_number(double v) { return fmt::format("{:.3g}", v); }

std::string with_unit(double v, std::string_view unit) { return unit == "1" ? short_number(v) : fmt::format("{} {}", short_number(v), unit); }

std::string joined(const std::vector<std::string>& list) {
  return fmt::format("{}", fmt::join(list, ", "));
}

}  // namespace curdwright::program
