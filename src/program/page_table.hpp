// SPDX-License-Identifier: MIT
// Tables and indented text on a page of 79 cells, and JSON as it is printed, for the commands that show what there is.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright::program {

using Json = nlohmann::ordered_json;
using Rows = std::vector<std::vector<std::string>>;

inline constexpr int page = 79;

/// As the sheet: nine digits at most; and no value can drive a terminal.
std::string dump(const Json& j);
/// Wrapped, so many cells in.
std::string indented(std::string_view s, int by);
/// What becomes of a last cell that is longer than its column: it wraps, or it stands whole on a line of its own.
enum class Last { wraps, beneath };
std::string table(const std::vector<std::string>& heads, const Rows& rows, Last last);
/// Three digits, and the unit behind them unless it is 1.
std::string short_number(double v);
std::string with_unit(double v, std::string_view unit);
/// With commas.
std::string joined(const std::vector<std::string>& list);

}  // namespace curdwright::program
