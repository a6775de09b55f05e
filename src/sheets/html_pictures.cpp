// SPDX-License-Identifier: MIT
#include "sheets/html_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "sheets/amounts.hpp"
#include "sheets/html.hpp"
#include "sheets/plot.hpp"
#include "text/spoken.hpp"

namespace curdwright::sheets {
namespace {

/// So wide that it fills a phone, and two stand side by side on a desk or on paper.
constexpr double page = 340;

std::string px(double v) { return fixed(v, 1); }

std::string begin(double height, const std::string& id, std::string_view title, std::string_view description) {
  return fmt::format("<svg class=\"picture\" viewBox=\"0 0 {} {}\" role=\"img\" aria-labelledby=\"{}-t {}-d\"><title id=\"{}-t\">{}</title><desc id=\"{}-d\">{}</desc>\n", px(page), px(height), id, id, id, html_escaped(title), id, html_escaped(description));
}

std::string label(double x, double y, std::string_view words, std::string_view anchor = "start", std::string_view style = "") {
  return fmt::format("<text x=\"{}\" y=\"{}\" text-anchor=\"{}\"{}>{}</text>\n", px(x), px(y), anchor, style.empty() ? "" : fmt::format(" class=\"{}\"", style), html_escaped(words));
}

/// A curve or limits in a frame.
struct Frame {
  double x_high, y_low, y_high;
  static constexpr double left = 42, right = 330, top = 12, bottom = 168, height = 206;
  [[nodiscard]] double x(double v) const { return left + v / x_high * (right - left); }
  [[nodiscard]] double y(double v) const { return bottom - (v - y_low) / (y_high - y_low) * (bottom - top); }

  [[nodiscard]] std::string axes(std::string_view below, std::string_view beside) const {
    std::string s;
    for (const Tick& t : ticks_between(y_low, y_high))
      s += fmt::format("<path class=\"grid\" d=\"M{} {}H{}\"/>", px(left), px(y(t.at)), px(right)) + label(left - 5, y(t.at) + 4, t.words, "end", "small");
    for (const Tick& t : ticks_between(0, x_high)) s += fmt::format("<path class=\"axis\" d=\"M{} {}v4\"/>", px(x(t.at)), px(bottom)) + label(x(t.at), bottom + 17, t.words, "middle", "small");
    s += fmt::format("<path class=\"axis\" d=\"M{} {}V{}H{}\"/>\n", px(left), px(top), px(bottom), px(right));
    return s + label(right, bottom + 34, below, "end", "small") + label(4, bottom + 34, beside, "start", "small");
  }
  [[nodiscard]] std::string path(const std::vector<TimeCurve::Point>& points) const {
    std::string d;
    for (const TimeCurve::Point& p : points) d += fmt::format("{}{} {}", d.empty() ? "M" : "L", px(x(p.at)), px(y(p.value)));
    return fmt::format("<path class=\"curve\" d=\"{}\"/>\n", d);
  }
  [[nodiscard]] std::string moment(const TimeCurve::Point& p, std::string_view words) const {
    const bool by_left = x(p.at) > 0.6 * page;
    return fmt::format("<path class=\"drop\" d=\"M{} {}V{}\"/><circle class=\"dot\" cx=\"{}\" cy=\"{}\" r=\"5\"/>\n", px(x(p.at)), px(y(p.value)), px(bottom), px(x(p.at)), px(y(p.value))) +
           label(x(p.at) + (by_left ? -9 : 9), std::min(bottom - 8, y(p.value) + 20), words, by_left ? "end" : "start", "strong halo");
  }
};

double highest(const TimeCurve& c) {
  double most = 0;
  for (const TimeCurve::Point& p : c.points) most = std::max(most, p.value);
  return most;
}

/// Streams by the words of the kitchen.
std::string_view stream_words(std::string_view name) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 18> words = {{
      {"seed", "dry seed"}, {"soak_water", "soak water"}, {"soaked_seed", "soaked"}, {"hulls", "skins"}, {"grinding_water", "grinding water"},
      {"ground_beans", "ground beans"}, {"spill", "stays on the jar"}, {"wash_water", "wash water"}, {"milk", "milk"}, {"pulp", "pulp"},
      {"starch_sediment", "starch layer"}, {"cloudy_milk", "cloudy milk"}, {"starch_gel", "gelled starch"}, {"steam", "steam"}, {"film", "film"},
      {"coagulant_mix", "coagulant mix"}, {"set_milk", "set milk"}, {"extras", "extras"}}};
  for (const auto& [key, plain] : words)
    if (key == name) return plain;
  return name == "trim" ? "lost in the cloth" : name;
}

/// The mass from seed to block, one stage below the other; what joins comes from the left, what leaves goes to the right.
class FlowPicture {
 public:
  FlowPicture(const std::vector<FlowStep>& flow, const FlowOf& of) : flow_(flow), of_(of) {
    double most = 0;
    for (const FlowStep& s : flow) most = std::max(most, total_in(s));
    scale_ = most > 0 ? widest / most : 0;
  }

  [[nodiscard]] std::string svg(const std::string& id) const {
    const std::string title = fmt::format("Where the mass goes, from seed to curd: {}", of_.words);
    std::string s = begin(first + row * static_cast<double>(flow_.size()), id, title, described());
    const FlowBranch& seed = flow_.front().main_in;
    s += label(page - 4, first - 26, fmt::format("{} {}", stream_words(seed.name), text::about(kilograms(mass(seed)))), "end", "strong");
    for (std::size_t i = 0; i < flow_.size(); ++i) s += step(i);
    const FlowBranch& curd = flow_.back().main_out;
    s += label(middle, first + row * static_cast<double>(flow_.size()) - 8, fmt::format("{} {}", stream_words(curd.name), text::about(kilograms(mass(curd)))), "middle", "strong");
    return s + "</svg>\n";
  }

 private:
  static constexpr double first = 74, row = 96, bar = 16, middle = 170, widest = 150, least = 1.2;

  [[nodiscard]] double mass(const FlowBranch& b) const { return of_.component ? b.of[*of_.component] : b.of.total_kg(); }
  [[nodiscard]] double total_in(const FlowStep& s) const {
    double sum = mass(s.main_in);
    for (const FlowBranch& b : s.joins) sum += mass(b);
    return sum;
  }
  [[nodiscard]] double wide(double kg) const { return kg > 0 ? std::max(least, kg * scale_) : 0; }
  [[nodiscard]] double wide_joins(const FlowStep& s) const {
    double sum = 0;
    for (const FlowBranch& b : s.joins) sum += wide(mass(b));
    return sum;
  }
  [[nodiscard]] double left_of(const FlowStep& s) const { return middle - 0.5 * (wide_joins(s) + wide(mass(s.main_in))); }

  static std::string ribbon(double x0, double w0, double y0, double x1, double w1, double y1, std::string_view style) {
    const double half = 0.5 * (y0 + y1);
    return fmt::format("<path class=\"{}\" d=\"M{} {}C{} {} {} {} {} {}h{}C{} {} {} {} {} {}z\"/>\n", style, px(x0), px(y0), px(x0), px(half), px(x1), px(half), px(x1), px(y1), px(w1), px(x1 + w1), px(half), px(x0 + w0), px(half),
                       px(x0 + w0), px(y0));
  }

  /// Joins from the left above the bar, the main stream to the next bar, and what leaves to the right below it.
  [[nodiscard]] std::string step(std::size_t i) const {
    const FlowStep& s = flow_[i];
    const double y = first + row * static_cast<double>(i), x = left_of(s), whole = wide_joins(s) + wide(mass(s.main_in));
    std::string out;
    if (i == 0) out += ribbon(x + wide_joins(s), wide(mass(s.main_in)), y - 16, x + wide_joins(s), wide(mass(s.main_in)), y, "stream");
    double at = x, words_at = y - 50;
    for (const FlowBranch& b : s.joins) {
      const double w = wide(mass(b));
      if (w > 0) {
        out += ribbon(std::max(4.0, std::min(at, 62.0) - 0.5 * w), w, y - 32, at, w, y, "branch");
        out += label(4, words_at, fmt::format("{} {}", stream_words(b.name), text::about(kilograms(mass(b)))), "start", "small");
      }
      at += w, words_at += 13;
    }
    const double w_out = wide(mass(s.main_out));
    const double x_next = i + 1 < flow_.size() ? left_of(flow_[i + 1]) + wide_joins(flow_[i + 1]) : middle - 0.5 * w_out;
    double below = x + w_out, note_at = y + bar + 40;
    for (const FlowBranch& b : s.leaves) {
      const double w = wide(mass(b));
      if (w > 0) {
        out += ribbon(below, w, y + bar, std::max(below + 20, 268.0) - 0.5 * w, w, y + bar + 26, "branch");
        out += label(page - 4, note_at, fmt::format("{} {}", stream_words(b.name), text::about(kilograms(mass(b)))), "end", "small halo");
      }
      below += w, note_at += 13;
    }
    out += ribbon(x, w_out, y + bar, x_next, w_out, y + (i + 1 < flow_.size() ? row : row - 24), "stream");
    out += fmt::format("<rect class=\"stage\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>\n", px(x), px(y), px(std::max(whole, 2.0)), px(bar));
    return out + label(page - 4, y + 12, std::string(stage_words(s.stage)), "end", "strong");
  }

  static std::string_view stage_words(Stage s) {
    static constexpr std::array<std::string_view, stage_count> words = {"soak", "blend", "strain", "settle", "cook", "set", "press", "chill"};
    return words[static_cast<std::size_t>(s)];
  }

  [[nodiscard]] std::string described() const {
    std::string words;
    for (const FlowStep& s : flow_) {
      words += fmt::format("{}: {} {} in", stage_words(s.stage), text::about(kilograms(mass(s.main_in))), stream_words(s.main_in.name));
      for (const FlowBranch& b : s.joins) words += fmt::format(", {} {} joins", text::about(kilograms(mass(b))), stream_words(b.name));
      for (const FlowBranch& b : s.leaves) words += fmt::format(", {} {} leaves", text::about(kilograms(mass(b))), stream_words(b.name));
      words += fmt::format(", {} {} goes on. ", text::about(kilograms(mass(s.main_out))), stream_words(s.main_out.name));
    }
    return words;
  }

  const std::vector<FlowStep>& flow_;
  FlowOf of_;
  double scale_ = 0;
};

/// Hours as a bar's row tells them.
std::string row_words(const DayLine& l) { return fmt::format("{}  {}, {}", l.when, l.what, l.takes); }

}  // namespace

std::string flow_svg(const std::vector<FlowStep>& flow, const FlowOf& of, const std::string& id) { return flow.empty() ? "" : FlowPicture(flow, of).svg(id); }

std::string soak_svg(const TimeCurve& c) {
  const Frame f{c.points.back().at, 0, 1.15 * std::max(highest(c), 0.1)};
  const std::string told = fmt::format("{} h: {} kg", fixed(c.chosen->at, 1), fixed(c.chosen->value, 2));
  return begin(Frame::height, "soak", "Water taken up in the soak", fmt::format("A curve that rises steeply and flattens. At the chosen {} water per kilogram of dry seed.", told)) + f.axes("hours", "kg per kg dry seed") + f.path(c.points) +
         f.moment(*c.chosen, told) + "</svg>\n";
}

std::string settling_svg(const TimeCurve& c) {
  TimeCurve percent = c;
  for (TimeCurve::Point& p : percent.points) p.value *= 100;
  percent.chosen->value *= 100;
  const Frame f{c.points.back().at, 0, 105};
  const std::string told = fmt::format("{} min: {} %", fixed(c.chosen->at, 0), fixed(100 * c.chosen->value, 0));
  return begin(Frame::height, "settling", "Starch settled, of what can settle", fmt::format("A curve that rises and flattens toward 100 %. At the chosen {} is down.", told)) + f.axes("minutes", "% of what can settle") + f.path(percent.points) +
         f.moment(*percent.chosen, told) + "</svg>\n";
}

namespace {
std::string limit_words(const TemperatureLimit& l) {
  const double at = in_celsius(l.at);
  return fmt::format("{} °C, {}", fixed(at, at == std::round(at) ? 0 : 1), l.within ? fmt::format("within {:g} h of that", in_hours(*l.within)) : "the cooling clock begins");
}
}  // namespace

std::string temperature_svg(const TimeCurve& c, const std::vector<TemperatureLimit>& limits) {
  const Frame f{std::max(0.1, c.points.back().at), 0, 110};
  std::string s = begin(Frame::height, "temperature", "Temperature on the way",
                        fmt::format("The milk from the first jarful, then the middle of the last block until it is cold after {} hours, with the limits of the cooling clock.", fixed(c.points.back().at, 1)));
  s += f.axes("hours from the first jarful", "°C");
  for (const TemperatureLimit& l : limits)
    s += fmt::format("<path class=\"limit\" d=\"M{} {}H{}\"/>", px(Frame::left), px(f.y(in_celsius(l.at))), px(Frame::right)) +
         label(Frame::left + 4, f.y(in_celsius(l.at)) - 3, limit_words(l), "start", "small halo");
  return s + f.path(c.points) + "</svg>\n";
}

std::string bars_svg(const std::vector<RangeBar>& bars) {
  constexpr double row = 40, left = 4, right = 336;
  std::string words, s;
  double y = 8;
  for (const RangeBar& b : bars) {
    const FigureInfo& fi = info(b.figure);
    const bool share = fi.key.ends_with("_fraction");
    const double k = share ? 100 : 1, most = 1.05 * b.range.high;
    const int digits = b.range.high * k < 10 ? 1 : 0;
    const auto x = [&](double v) { return left + v / most * (right - left); };
    const std::string_view unit = share ? " %" : fi.key.ends_with("_mass_g") ? " g" : fi.key.ends_with("_mg_per_100g") ? " mg in 100 g" : "";
    const std::string told = fmt::format("{}{}, likely {} to {}{}", fixed(b.value * k, digits), unit, fixed(b.range.low * k, digits), fixed(b.range.high * k, digits), unit);
    s += label(left, y + 10, fi.plain, "start", "strong") + label(right, y + 10, told, "end", "small");
    s += fmt::format("<path class=\"axis\" d=\"M{} {}H{}\"/><rect class=\"range\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"10\"/><path class=\"median\" d=\"M{} {}v16\"/>\n", px(left), px(y + 22), px(right), px(x(b.range.low)), px(y + 17),
                     px(std::max(1.0, x(b.range.high) - x(b.range.low))), px(x(b.value)), px(y + 14));
    words += fmt::format("{}: {}. ", fi.plain, told);
    y += row;
  }
  return begin(y, "ranges", "How sure the figures are", words) + s + "</svg>\n";
}

std::string day_svg(const std::vector<DayLine>& day) {
  constexpr double row = 27, left = 4, right = 336;
  // A night's soak would leave no room for the hours of work.
  std::vector<DayLine> shown;
  for (const DayLine& l : day)
    if (l.step != word(Step::sort_and_soak)) shown.push_back(l);
  if (shown.empty()) return "";
  Duration from = shown.front().start, to;
  for (const DayLine& l : shown) from = std::min(from, l.start), to = std::max(to, l.start + l.length);
  const double scale = (right - left) / std::max(1.0, (to - from).si());
  std::string s, words;
  double y = 6;
  for (const DayLine& l : shown) {
    const double x = left + (l.start - from).si() * scale, w = std::max(2.0, l.length.si() * scale);
    s += label(left, y + 9, row_words(l), "start", "small") + fmt::format("<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"9\"/>\n", l.hands ? "hands" : "wait", px(x), px(y + 13), px(w));
    words += row_words(l) + (l.hands ? ", hands on. " : ". ");
    y += row;
  }
  constexpr std::string_view hatch = "<defs><pattern id=\"hatch\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path class=\"hatching\" d=\"M0 0v5\"/></pattern></defs>\n";
  return begin(y, "day", "The day after the soak; dark where hands are needed, striped where it waits", words) + std::string(hatch) + s + "</svg>\n";
}

}  // namespace curdwright::sheets
