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
std::string varied_text(const Variation& v, const VariedPage& page);
/// RFC 4180; responses in the units of their keys, with _low and _high where there are ranges.
std::string varied_csv(const Variation& v);
std::string varied_json(const Variation& v, const std::string& title);
std::string variation_schema();

}  // namespace curdwright::sheets
