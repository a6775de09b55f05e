// SPDX-License-Identifier: MIT
// Pictures as SVG: no script, no fonts of its own, legible in black and white.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/html.hpp"
#include "sheets/plot.hpp"
#include "sheets/said.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

constexpr double width = 760, panel = 330, left = 84, right = 150, top = 46, bottom = 64, head = 44;

/// A tenth of a pixel is as fine as a screen shows.
std::string px(double v) { return fixed(v, 1); }

constexpr std::string_view style =
    "<style>\n"
    "svg{background:#fff;color:#1d2420;font:14px \"DejaVu Sans\",Verdana,sans-serif}\n"
    "text{fill:currentColor}.title{font-weight:bold}.whole{font-size:18px;font-weight:bold}\n"
    ".axis{stroke:currentColor;stroke-width:1.2;fill:none}.grid{stroke:currentColor;stroke-width:.6;opacity:.22}\n"
    ".band{fill:#7fa37a;opacity:.34}.line{stroke:#2f5d3a;stroke-width:2.4;fill:none}.point{fill:#2f5d3a;stroke:#fff;stroke-width:1}\n"
    ".whisker{stroke:#7fa37a;stroke-width:6;opacity:.5}.stopped{stroke:#a3261c;stroke-width:3;fill:none}\n"
    "@media (prefers-color-scheme:dark){svg{background:#161a17;color:#e7ece8}.band{fill:#8fbf89}.line{stroke:#a9d6a2}.point{fill:#a9d6a2;stroke:#161a17}.stopped{stroke:#ff8a7a}}\n"
    "@media print{svg{background:#fff;color:#000}}\n"
    "</style>\n";

/// Lines are told apart by their dashes and by a name at their end, so that no colour is needed.
constexpr std::array<std::string_view, 6> dashes = {"", "9 5", "3 4", "14 4 3 4", "1 5", "18 6"};

class Panel {
 public:
  Panel(const Plot& p, double y) : plot_(p), y0_(y) {
    for (const PlotLine& l : p.lines)
      for (const auto& stretch : l.stretches)
        for (const PlotPoint& at : stretch) take(at);
    const double least = std::max(1e-9, 0.01 * std::max(std::abs(low_), std::abs(high_)));
    if (high_ - low_ < least) low_ -= least, high_ += least;
    const double room = 0.04 * (high_ - low_);
    low_ -= room, high_ += room;
  }

  [[nodiscard]] std::string svg() const {
    std::string s = fmt::format("<g transform=\"translate(0 {})\">\n<text class=\"title\" x=\"{}\" y=\"{}\">{}</text>\n", px(y0_), px(left), px(top - 16), html_escaped(plot_.title));
    s += y_axis() + x_axis();
    double last_label = -1e9;
    for (std::size_t i = 0; i < plot_.lines.size(); ++i) s += line(i, last_label);
    return s + "</g>\n";
  }

 private:
  void take(const PlotPoint& at) {
    x_low_ = std::min(x_low_, at.x), x_high_ = std::max(x_high_, at.x);
    low_ = std::min(low_, at.y), high_ = std::max(high_, at.y);
    if (at.range) low_ = std::min(low_, at.range->low), high_ = std::max(high_, at.range->high);
  }
  [[nodiscard]] double x(double v) const {
    const double a = plot_.logarithmic ? std::log(x_low_) : x_low_, b = plot_.logarithmic ? std::log(x_high_) : x_high_, at = plot_.logarithmic ? std::log(v) : v;
    return left + (b > a ? (at - a) / (b - a) : 0.5) * (width - left - right);
  }
  [[nodiscard]] double y(double v) const { return top + (high_ - v) / (high_ - low_) * (panel - top - bottom); }

  [[nodiscard]] std::string y_axis() const {
    std::string s;
    for (const Tick& t : ticks_between(low_, high_))
      s += fmt::format("<path class=\"grid\" d=\"M{} {}H{}\"/><text x=\"{}\" y=\"{}\" text-anchor=\"end\">{}</text>\n", px(left), px(y(t.at)), px(width - right), px(left - 8), px(y(t.at) + 5), t.words);
    return s;
  }
  [[nodiscard]] std::string x_axis() const {
    const double floor = panel - bottom;
    std::string s = fmt::format("<path class=\"axis\" d=\"M{} {}H{}\"/>\n", px(left), px(floor), px(width - right));
    double free_from = -1e9;
    for (const auto& [at, words] : x_ticks(plot_, x_low_, x_high_)) {
      const double half = 4.5 * text::width(words);
      s += fmt::format("<path class=\"axis\" d=\"M{} {}v5\"/>", px(x(at)), px(floor));
      if (x(at) - half < free_from) continue;
      free_from = x(at) + half + 6;
      s += fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"middle\">{}</text>", px(x(at)), px(floor + 21), html_escaped(words));
    }
    return s + fmt::format("\n<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{}</text>\n", px(width - right), px(floor + 44), html_escaped(plot_.x_title));
  }
  /// There along the upper ends of the ranges, back along the lower ones.
  [[nodiscard]] std::string band(const std::vector<PlotPoint>& stretch) const {
    if (stretch.size() < 2 || !std::all_of(stretch.begin(), stretch.end(), [](const PlotPoint& p) { return p.range.has_value(); })) return "";
    std::string there, back;
    for (const PlotPoint& p : stretch) there += fmt::format("{}{} {}", there.empty() ? "M" : "L", px(x(p.x)), px(y(p.range->high)));
    for (auto p = stretch.rbegin(); p != stretch.rend(); ++p) back += fmt::format("L{} {}", px(x(p->x)), px(y(p->range->low)));
    return fmt::format("<path class=\"band\" d=\"{}{}Z\"/>\n", there, back);
  }
  [[nodiscard]] std::string line(std::size_t number, double& last_label) const {
    const PlotLine& l = plot_.lines[number];
    std::string s;
    for (const auto& stretch : l.stretches) {
      if (plot_.lines.size() <= 2) s += band(stretch);
      std::string d;
      for (const PlotPoint& p : stretch) d += fmt::format("{}{} {}", d.empty() ? "M" : "L", px(x(p.x)), px(y(p.y)));
      const std::string_view dash = dashes[number % dashes.size()];
      s += fmt::format("<path class=\"line\"{} d=\"{}\"/>\n", dash.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dash), d);
      for (const PlotPoint& p : stretch) s += mark(p);
    }
    if (!l.name.empty() && !l.stretches.empty()) {
      const PlotPoint& end = l.stretches.back().back();
      // Names keep a line's height from each other, however near the ends lie.
      const double at = std::abs(y(end.y) - last_label) < 17 ? last_label + 17 : y(end.y);
      last_label = at;
      s += fmt::format("<text x=\"{}\" y=\"{}\">{}</text>\n", px(std::min(x(end.x), width - right) + 10), px(at + 5), html_escaped(text::cut(l.name, 22)));
    }
    return s;
  }
  [[nodiscard]] std::string mark(const PlotPoint& p) const {
    const std::string whisker = p.range && !plot_.names.empty() && plot_.lines.size() == 1 ? fmt::format("<path class=\"whisker\" d=\"M{} {}V{}\"/>", px(x(p.x)), px(y(p.range->low)), px(y(p.range->high))) : "";
    if (p.stopped) return whisker + fmt::format("<path class=\"stopped\" d=\"M{} {}l10 10m0 -10l-10 10\"/>", px(x(p.x) - 5), px(y(p.y) - 5));
    return whisker + fmt::format("<circle class=\"point\" cx=\"{}\" cy=\"{}\" r=\"4\"/>", px(x(p.x)), px(y(p.y)));
  }

  const Plot& plot_;
  double y0_, low_ = 1e300, high_ = -1e300, x_low_ = 1e300, x_high_ = -1e300;
};

/// In words, for who does not see the picture.
std::string described(const std::vector<Plot>& plots) {
  std::string words;
  for (const Plot& p : plots)
    for (const PlotLine& l : p.lines) {
      if (l.stretches.empty()) continue;
      const PlotPoint &first = l.stretches.front().front(), &last = l.stretches.back().back();
      words += fmt::format("{}{}{}: from {} to {} along {}. ", p.title, l.name.empty() ? "" : " at ", l.name, said_number(first.y), said_number(last.y), p.x_title);
    }
  return words + "The band is the likely range: eight cases in ten.";
}

}  // namespace

std::string plots_svg(const std::vector<Plot>& plots, const std::string& title) {
  const double height = head + panel * static_cast<double>(plots.size());
  std::string s = fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" width=\"{}\" height=\"{}\" role=\"img\" aria-labelledby=\"t d\" xml:lang=\"en\">\n", px(width), px(height), px(width), px(height));
  s += fmt::format("<title id=\"t\">{}</title>\n<desc id=\"d\">{}</desc>\n", html_escaped(title), html_escaped(described(plots)));
  s += style;
  s += fmt::format("<text class=\"whole\" x=\"{}\" y=\"30\">{}</text>\n", px(left), html_escaped(text::cut(title, 62)));
  for (std::size_t i = 0; i < plots.size(); ++i) s += Panel(plots[i], head + panel * static_cast<double>(i)).svg();
  return s + "</svg>\n";
}

}  // namespace curdwright::sheets
