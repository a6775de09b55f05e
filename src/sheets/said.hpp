// SPDX-License-Identifier: MIT
// Responses as people read them.
#pragma once

#include <string>
#include <string_view>

#include "curdwright/cautions.hpp"
#include "curdwright/response.hpp"

namespace curdwright::sheets {

/// How a sheet marks a caution: "STOP", "CARE", "Note".
std::string_view said_severity(Severity severity);
/// A code of ISO 4217; "money" where the kitchen names none.
std::string_view said_currency(std::string_view code);
/// In the response's own unit, to three digits or whole: "8.51", "1234".
std::string said_number(double value);
/// Digits behind the point that three digits of the largest need: for the numbers of one column.
int column_digits(double largest);
/// "8.51 %", "1234 g", "0.123 EUR"; \param value in the unit of the response's key
std::string said(const Response& response, double value, const std::string& currency);
/// Both ends: "8.1 to 9.0".
std::string said_range(const Response& response, const Range& range);
/// "protein in the curd, %": the head of a column; money by its currency.
std::string said_unit(const Response& response, const std::string& currency);

}  // namespace curdwright::sheets
