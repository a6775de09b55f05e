// SPDX-License-Identifier: MIT
// The page that all HTML outputs share: head, style and shell. One file, no script, nothing from elsewhere.
#pragma once

#include <string>
#include <string_view>

#include "curdwright/sheet.hpp"
#include "sheets/html.hpp"

namespace curdwright::sheets {

/// \param title of the window \param body markup \param kind names the page for its style: "sheet", "table"
std::string html_page(std::string_view title, std::string_view kind, const std::string& body);

/// A table with heads for columns and rows; numbers stand to the right.
void html_table(Html& h, const SheetTable& table);

}  // namespace curdwright::sheets
