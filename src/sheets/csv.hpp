// SPDX-License-Identifier: MIT
// Cells of a CSV table (RFC 4180).
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace curdwright::sheets {

/// Quoted where need be. A cell that a table program would take for a formula is made inert.
std::string csv_cell(std::string_view words);
/// Nine digits; an empty cell where there is no number.
std::string csv_number(const std::optional<double>& value);

}  // namespace curdwright::sheets
