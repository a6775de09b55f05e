// SPDX-License-Identifier: MIT
#include "sheets/plot.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/said.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

/// What stands between the axes, one character string for each cell.
class Canvas {
 public:
  Canvas(int columns, int rows) : columns_(columns), rows_(rows), cells_(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), " ") {}
  void put(int column, int row, const char* glyph) {
    if (column >= 0 && column < columns_ && row >= 0 && row < rows_) cells_[place(column, row)] = glyph;
  }
  [[nodiscard]] std::string row(int r) const {
    std::string line;
    for (int c = 0; c < columns_; ++c) line += cells_[place(c, r)];
    return line;
  }

 private:
  [[nodiscard]] std::size_t place(int column, int row) const { return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(column); }

  int columns_, rows_;
  std::vector<std::string> cells_;
};

struct Glyphs {
  const char *band, *between, *corner, *up, *along, *tick, *stopped;
  std::vector<const char*> points;
};
const Glyphs& glyphs_of(PlotGlyphs which) {
  static const Glyphs unicode = {"░", "·", "└", "│", "─", "┤", "×", {"●", "○", "◆", "◇", "■", "□"}};
  static const Glyphs ascii = {":", "-", "+", "|", "-", "+", "x", {"o", "@", "%", "&", "$", "="}};
  return which == PlotGlyphs::unicode ? unicode : ascii;
}

struct Extent {
  double low = 0, high = 0;
  void take(double v) { low = std::min(low, v), high = std::max(high, v); }
};

/// Of all points and, where there is one line only, of their ranges.
Extent height_of(const Plot& p) {
  Extent e{1e300, -1e300};
  for (const PlotLine& l : p.lines)
    for (const auto& stretch : l.stretches)
      for (const PlotPoint& at : stretch) {
        e.take(at.y);
        if (p.lines.size() == 1 && at.range) e.take(at.range->low), e.take(at.range->high);
      }
  const double least = std::max(1e-9, 0.01 * std::max(std::abs(e.low), std::abs(e.high)));
  if (e.high - e.low < least) e.low -= least, e.high += least;
  return e;
}

Extent breadth_of(const Plot& p) {
  Extent e{1e300, -1e300};
  for (const PlotLine& l : p.lines)
    for (const auto& stretch : l.stretches)
      for (const PlotPoint& at : stretch) e.take(at.x);
  return e;
}

double along(const Plot& p, double x) { return p.logarithmic ? std::log(x) : x; }

/// From numbers to cells.
struct Grid {
  const Plot& plot;
  Extent x, y;
  int columns, rows;
  [[nodiscard]] int column(double v) const {
    const double a = along(plot, x.low), b = along(plot, x.high);
    return b > a ? static_cast<int>(std::lround((along(plot, v) - a) / (b - a) * (columns - 1))) : columns / 2;
  }
  [[nodiscard]] int row(double v) const { return static_cast<int>(std::lround((y.high - v) / (y.high - y.low) * (rows - 1))); }
};

double mix(double a, double b, double t) { return a + (b - a) * t; }

/// Band and line between two points, column by column.
void stretch_between(Canvas& canvas, const Grid& g, const PlotPoint& a, const PlotPoint& b, const Glyphs& glyphs, bool band) {
  const int from = g.column(a.x), to = g.column(b.x);
  for (int c = from; c <= to; ++c) {
    const double t = to > from ? static_cast<double>(c - from) / (to - from) : 0.0;
    if (band && a.range && b.range)
      for (int r = g.row(mix(a.range->high, b.range->high, t)); r <= g.row(mix(a.range->low, b.range->low, t)); ++r) canvas.put(c, r, glyphs.band);
    canvas.put(c, g.row(mix(a.y, b.y, t)), glyphs.between);
  }
}

void draw_line(Canvas& canvas, const Grid& g, const PlotLine& line, const Glyphs& glyphs, std::size_t number, bool band) {
  for (const auto& stretch : line.stretches) {
    for (std::size_t i = 0; i + 1 < stretch.size(); ++i) stretch_between(canvas, g, stretch[i], stretch[i + 1], glyphs, band);
    if (band && stretch.size() == 1 && stretch[0].range) stretch_between(canvas, g, stretch[0], stretch[0], glyphs, band);
    for (const PlotPoint& at : stretch) canvas.put(g.column(at.x), g.row(at.y), at.stopped ? glyphs.stopped : glyphs.points[number % glyphs.points.size()]);
  }
}

/// Words below the x axis, each centred under its place, none over another nor over the edge.
std::string x_labels(const Plot& p, const Grid& g, int margin) {
  std::string line;
  for (const Tick& t : x_ticks(p, g.x.low, g.x.high)) {
    const int cells = text::width(t.words), start = std::min(margin + g.column(t.at) - cells / 2, margin + g.columns - cells);
    if (text::width(line) + (line.empty() ? 0 : 1) > start) continue;
    line = text::padded(line, start) + t.words;
  }
  return line;
}

}  // namespace

std::vector<Tick> ticks_between(double low, double high) {
  if (!(high > low)) return {{low, said_number(low)}};
  const double rough = (high - low) / 5, power = std::pow(10, std::floor(std::log10(rough)));
  double step = 10 * power;
  for (double nice : {1.0, 2.0, 5.0})
    if (nice * power >= rough * 0.999) {
      step = nice * power;
      break;
    }
  const int digits = std::clamp(-static_cast<int>(std::floor(std::log10(step) + 1e-9)), 0, 9);
  std::vector<Tick> all;
  for (double k = std::ceil(low / step - 1e-9); k * step <= high + step * 1e-9; ++k) all.push_back({k * step, fixed(k * step, digits)});
  return all;
}

std::vector<Tick> x_ticks(const Plot& p, double low, double high) {
  std::vector<Tick> all;
  for (std::size_t i = 0; i < p.names.size(); ++i) all.push_back({static_cast<double>(i), p.names[i]});
  if (!all.empty()) return all;
  if (!p.logarithmic) return ticks_between(low, high);
  for (double t : {low, std::sqrt(low * high), high}) all.push_back({t, said_number(t)});
  return all;
}

std::string plot_text(const Plot& p, PlotGlyphs which, int columns) {
  constexpr int rows = 14, most_columns = 72;
  const Glyphs& glyphs = glyphs_of(which);
  const Extent y = height_of(p);
  const auto ticks = ticks_between(y.low, y.high);
  int margin = 2;
  for (const Tick& t : ticks) margin = std::max(margin, text::width(t.words) + 3);
  const Grid g{p, breadth_of(p), y, std::clamp(columns - margin - 2, 20, most_columns), rows};
  Canvas canvas(g.columns, rows);
  for (std::size_t i = 0; i < p.lines.size(); ++i) draw_line(canvas, g, p.lines[i], glyphs, i, p.lines.size() == 1);
  std::string out = p.title + "\n";
  for (int r = 0; r < rows; ++r) {
    std::string label;
    for (const Tick& t : ticks)
      if (g.row(t.at) == r) label = t.words;
    out += text::padded_left(label, margin - 2) + " " + (label.empty() ? glyphs.up : glyphs.tick) + canvas.row(r) + "\n";
  }
  out += std::string(static_cast<std::size_t>(margin - 1), ' ') + glyphs.corner;
  for (int c = 0; c < g.columns; ++c) out += glyphs.along;
  out += "\n" + x_labels(p, g, margin) + "\n" + text::padded_left(p.x_title, margin + g.columns) + "\n";
  if (p.lines.size() > 1)
    for (std::size_t i = 0; i < p.lines.size(); ++i) out += fmt::format("  {} {}\n", glyphs.points[i % glyphs.points.size()], p.lines[i].name);
  return out;
}

}  // namespace curdwright::sheets
