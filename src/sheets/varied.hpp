// SPDX-License-Identifier: MIT
// A variation as a table for people, for table programs and for other programs.
#pragma once

#include <string>

#include "sheets/plot.hpp"

namespace curdwright::sheets {

/// What the page shows besides the table.
struct VariedPage {
  std::string title;
  int width = 79;
  std::optional<PlotGlyphs> plot;  ///< none: no pictures
};
/// The table as words: levels first, then value and range of each response, then a stop; a run without a plan says so in one cell.
struct VariedTable {
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> notes;  ///< each with its mark in front, "(1) ..."
  std::string below;               ///< what the brackets are; may be empty
};
VariedTable varied_table(const Variation& v);
std::string varied_text(const Variation& v, const VariedPage& page);
/// RFC 4180; responses in the units of their keys, with _low and _high where there are ranges.
std::string varied_csv(const Variation& v);
/// A page with the pictures in it.
std::string varied_html(const Variation& v, const std::string& title);
std::string varied_json(const Variation& v, const std::string& title);
std::string variation_schema();

}  // namespace curdwright::sheets
