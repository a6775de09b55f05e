// SPDX-License-Identifier: MIT
// The page that all HTML outputs share: head, style and shell. One file, no script, nothing from elsewhere.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "curdwright/sheet.hpp"
#include "sheets/html.hpp"

namespace curdwright::sheets {

/// \param title of the window \param body markup \param kind names the page for its style: "sheet", "table"
std::string html_page(std::string_view title, std::string_view kind, const std::string& body);

/// Rows of words under heads, of any width.
struct HtmlGrid {
  std::string heading, note;
  std::vector<std::string> head;               ///< none: no heads
  std::vector<std::vector<std::string>> rows;  ///< the first cell names the row; a row that is short spans the rest
};
void html_grid(Html& h, const HtmlGrid& grid);

/// A table of the sheet; numbers stand to the right.
void html_table(Html& h, const SheetTable& table);

}  // namespace curdwright::sheets
