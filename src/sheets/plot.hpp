// SPDX-License-Identifier: MIT
// A response against a factor as a picture: in the cells of a terminal, or as SVG. The range is a band, the median a line.
#pragma once

#include <string>
#include <vector>

#include "curdwright/study.hpp"

namespace curdwright::sheets {

struct PlotPoint {
  double x = 0, y = 0;
  std::optional<Range> range;
  bool stopped = false;  ///< not to be cooked
};

/// One line of a picture. Where a run has no value the line is broken.
struct PlotLine {
  std::string name;  ///< of the level of the other factor; empty for a single line
  std::vector<std::vector<PlotPoint>> stretches;
};

struct Plot {
  std::string title;              ///< "protein in the curd, %"
  std::string x_title;            ///< "/starch/time, min"
  bool logarithmic = false;       ///< the x axis
  std::vector<std::string> names; ///< of levels that are words; x counts them from 0
  std::vector<PlotLine> lines;
};

/// A picture for each response; the last factor along x, a line for each level of the one before it. None of one level alone.
std::vector<Plot> plots_of(const Variation& v);

enum class PlotGlyphs { unicode, ascii };
/// \param columns of the page
std::string plot_text(const Plot& plot, PlotGlyphs glyphs, int columns);

/// All pictures one below the other, as one SVG document for screen and print.
std::string plots_svg(const std::vector<Plot>& plots, const std::string& title);

/// A mark on an axis.
struct Tick {
  double at;
  std::string words;
};
/// Round numbers from low to high, some five of them, all with the digits that their step has.
std::vector<Tick> ticks_between(double low, double high);
/// Of an axis of words, of a logarithmic one, or of numbers.
std::vector<Tick> x_ticks(const Plot& plot, double low, double high);

}  // namespace curdwright::sheets
