// SPDX-License-Identifier: MIT
#include "sheets/varied.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "sheets/csv.hpp"
#include "sheets/json_values.hpp"
#include "sheets/said.hpp"
#include "sheets/schema_words.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

using Json = nlohmann::ordered_json;

bool with_ranges(const Variation& v) {
  return std::any_of(v.runs.begin(), v.runs.end(), [](const Run& r) { return std::any_of(r.cells.begin(), r.cells.end(), [](const Cell& c) { return c.range.has_value(); }); });
}

std::string column_title(const Variation& v, const Response& r) {
  const std::string unit = said_unit(r, v.currency);
  return unit.empty() ? r.plain : fmt::format("{}, {}", r.plain, unit);
}

std::string level_words(const Variation& v, const Run& run, std::size_t factor) { return text::harmless(v.factors[factor].levels[run.at[factor]].text); }

/// Notes below the table, each once, with a mark that stands in the rows.
class Notes {
 public:
  std::string mark(const std::string& words) {
    const auto [at, is_new] = marks_.try_emplace(words, fmt::format("({})", marks_.size() + 1));
    if (is_new) order_.push_back(words);
    return at->second;
  }
  [[nodiscard]] std::vector<std::string> all() const {
    std::vector<std::string> out;
    for (const std::string& words : order_) out.push_back(marks_.at(words) + " " + words);
    return out;
  }

 private:
  std::map<std::string, std::string> marks_;
  std::vector<std::string> order_;
};

std::string problem_words(const Problems& problems) {
  const Problem& p = problems.front();
  return text::harmless(p.why.empty() ? p.what : fmt::format("{}; {}", p.what, p.why));
}

/// "2 jarfuls for 1"; nothing where the loads stay.
std::string changed_loads(const Loads& before, const Loads& now) {
  std::string words;
  const auto add = [&](std::string_view one, std::string_view many, int Loads::* of) {
    if (before.*of != now.*of) words += fmt::format("{}{} {} for {}", words.empty() ? "" : ", ", now.*of, now.*of == 1 ? one : many, before.*of);
  };
  add("jarful", "jarfuls", &Loads::jarfuls), add("settling vessel", "settling vessels", &Loads::vessels), add("pot", "pots", &Loads::pots), add("filling of the moulds", "fillings of the moulds", &Loads::fillings);
  return words;
}

/// The loads of the run before in the same line, where both could be planned.
const Loads* loads_before(const Variation& v, std::size_t n) {
  const Run& run = v.runs[n];
  const bool first = run.at.empty() || run.at.back() == 0;
  return first || !run.problems.empty() || !v.runs[n - 1].problems.empty() ? nullptr : &v.runs[n - 1].loads;
}

std::string marks_of(const Variation& v, std::size_t n, Notes& notes) {
  std::string marks, stopped;
  const Run& run = v.runs[n];
  for (const std::string& rule : run.stops) stopped += (stopped.empty() ? "" : " ") + rule;
  if (!stopped.empty()) marks = "STOP " + notes.mark(fmt::format("not to be cooked, by rule {}: `curdwright sheet` with this setting says why", stopped));
  const Loads* before = loads_before(v, n);
  const std::string jump = before ? changed_loads(*before, run.loads) : "";
  if (!jump.empty()) marks += (marks.empty() ? "" : " ") + notes.mark(fmt::format("from here on {}: figures may jump", jump));
  return marks;
}

/// Rows of cells: level words, then for each response its value and range, then marks.
std::vector<std::vector<std::string>> rows_of(const Variation& v, Notes& notes) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t n = 0; n < v.runs.size(); ++n) {
    const Run& run = v.runs[n];
    std::vector<std::string> row;
    for (std::size_t f = 0; f < v.factors.size(); ++f) row.push_back(level_words(v, run, f));
    if (!run.problems.empty()) {
      row.push_back("no plan " + notes.mark(problem_words(run.problems)));
      rows.push_back(std::move(row));
      continue;
    }
    for (std::size_t i = 0; i < run.cells.size(); ++i) {
      const Cell& c = run.cells[i];
      const Response& r = *v.responses[i];
      row.push_back(!c.value ? "none" : c.range ? fmt::format("{}  ({})", said_number(*c.value * r.to_unit), said_range(r, *c.range)) : said_number(*c.value * r.to_unit));
    }
    row.push_back(marks_of(v, n, notes));
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string joined(const std::vector<std::string>& cells, const std::vector<int>& widths, std::size_t factors) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line += "  ";
    line += i < factors ? text::padded(cells[i], widths[i]) : text::padded_left(cells[i], i < widths.size() ? widths[i] : 0);
  }
  while (line.ends_with(' ')) line.pop_back();
  return line + "\n";
}

/// Where the columns do not fit side by side, each response gets a table of its own.
std::string table_of(const std::vector<std::string>& head, const std::vector<std::vector<std::string>>& rows, std::size_t factors, int width) {
  std::vector<int> widths;
  widths.reserve(head.size());
  for (const std::string& h : head) widths.push_back(text::width(h));
  for (const auto& row : rows)
    for (std::size_t i = 0; i < row.size() && i < head.size(); ++i)
      if (row.size() == head.size() || i < factors) widths[i] = std::max(widths[i], text::width(row[i]));
  int all = 0;
  for (int w : widths) all += w + 2;
  const std::size_t responses = head.size() - factors - 1;
  std::string out;
  if (all - 2 <= width || responses == 1) {
    out += joined(head, widths, factors);
    for (const auto& row : rows) out += joined(row, widths, factors);
    return out;
  }
  for (std::size_t r = 0; r < responses; ++r) {
    const auto part = [&](const std::vector<std::string>& row) {
      std::vector<std::string> cells(row.begin(), row.begin() + static_cast<std::ptrdiff_t>(std::min(factors, row.size())));
      if (row.size() != head.size()) cells.insert(cells.end(), row.begin() + static_cast<std::ptrdiff_t>(factors), row.end());
      else cells.push_back(row[factors + r]), cells.push_back(row.back());
      return cells;
    };
    std::vector<std::vector<std::string>> some;
    some.reserve(rows.size());
    for (const auto& row : rows) some.push_back(part(row));
    out += (r > 0 ? "\n" : "") + table_of(part(head), some, factors, width);
  }
  return out;
}

/// The factor along x: the last one, unless that is of words and the other of numbers.
std::size_t along_of(const Variation& v) { return v.factors.size() == 2 && !v.factors[1].numeric() && v.factors[0].numeric() ? 0 : v.factors.size() - 1; }

/// Points of a line. It is broken where a run has no value, and between words, between which nothing lies.
std::vector<std::vector<PlotPoint>> stretches_of(const Variation& v, std::size_t response, std::size_t along, const std::vector<const Run*>& runs) {
  const Factor& f = v.factors[along];
  const Response& r = *v.responses[response];
  std::vector<std::vector<PlotPoint>> all(1);
  for (const Run* run : runs) {
    if (!all.back().empty() && (!f.numeric() || run->cells.empty() || !run->cells[response].value)) all.emplace_back();
    if (run->cells.empty() || !run->cells[response].value) continue;
    const Cell& c = run->cells[response];
    PlotPoint p{f.numeric() ? *f.levels[run->at[along]].number : static_cast<double>(run->at[along]), *c.value * r.to_unit, {}, !run->stops.empty()};
    if (c.range) p.range = Range{c.range->low * r.to_unit, c.range->high * r.to_unit};
    all.back().push_back(p);
  }
  if (all.back().empty()) all.pop_back();
  return all;
}

/// Runs that share a line: all, or those with one level of the other factor.
std::vector<std::vector<const Run*>> lines_of(const Variation& v, std::size_t along) {
  std::vector<std::vector<const Run*>> lines(v.factors.size() > 1 ? v.factors[1 - along].levels.size() : 1);
  for (const Run& run : v.runs) lines[v.factors.size() > 1 ? run.at[1 - along] : 0].push_back(&run);
  return lines;
}

}  // namespace

std::vector<Plot> plots_of(const Variation& v) {
  std::vector<Plot> plots;
  if (v.factors.empty() || v.factors.size() > 2) return plots;
  const std::size_t at = along_of(v);
  const Factor& along = v.factors[at];
  if (along.levels.size() < 2) return plots;
  const auto runs = lines_of(v, at);
  for (std::size_t i = 0; i < v.responses.size(); ++i) {
    Plot p;
    p.title = column_title(v, *v.responses[i]);
    p.x_title = along.unit.empty() ? along.pointer : fmt::format("{}, {}", along.pointer, along.unit);
    p.logarithmic = along.logarithmic && along.numeric();
    if (!along.numeric())
      for (const Level& l : along.levels) p.names.push_back(text::harmless(l.text));
    for (std::size_t n = 0; n < runs.size(); ++n) {
      PlotLine line{v.factors.size() > 1 ? text::harmless(v.factors[1 - at].levels[n].text) : "", stretches_of(v, i, at, runs[n])};
      if (!line.stretches.empty()) p.lines.push_back(std::move(line));
    }
    if (!p.lines.empty()) plots.push_back(std::move(p));
  }
  return plots;
}

VariedTable varied_table(const Variation& v) {
  VariedTable t;
  for (const Factor& f : v.factors) t.head.push_back(f.pointer);
  for (const Response* r : v.responses) t.head.push_back(column_title(v, *r));
  t.head.emplace_back();
  Notes notes;
  t.rows = rows_of(v, notes);
  t.notes = notes.all();
  if (with_ranges(v)) t.below = "In brackets the likely range: eight cases in ten.";
  return t;
}

std::string varied_text(const Variation& v, const VariedPage& page) {
  const VariedTable t = varied_table(v);
  std::string out = text::harmless(page.title) + "\n\n" + table_of(t.head, t.rows, v.factors.size(), page.width);
  if (!t.below.empty()) out += "\n" + t.below + "\n";
  if (!t.notes.empty()) out += "\n";
  for (const std::string& note : t.notes) out += text::hung(note.substr(0, note.find(' ') + 1), note.substr(note.find(' ') + 1), page.width);
  if (!v.whole()) out += fmt::format("\nStopped: {} of {} runs were made.\n", v.runs.size(), v.asked);
  if (page.plot)
    for (const Plot& p : plots_of(v)) out += "\n" + plot_text(p, *page.plot, page.width);
  return out;
}

std::string varied_csv(const Variation& v) {
  const bool ranges = with_ranges(v);
  std::string out;
  for (const Factor& f : v.factors) out += csv_cell(f.pointer) + ",";
  for (const Response* r : v.responses) out += ranges ? fmt::format("{0},{0}_low,{0}_high,", r->key) : r->key + ",";
  out += "stops,problem\r\n";
  for (const Run& run : v.runs) {
    for (std::size_t f = 0; f < v.factors.size(); ++f) out += csv_cell(v.factors[f].levels[run.at[f]].text) + ",";
    for (std::size_t i = 0; i < v.responses.size(); ++i) {
      const Cell c = run.cells.empty() ? Cell{} : run.cells[i];
      out += csv_number(c.value) + ",";
      if (ranges) out += csv_number(c.range ? std::optional(c.range->low) : std::nullopt) + "," + csv_number(c.range ? std::optional(c.range->high) : std::nullopt) + ",";
    }
    std::string stops;
    for (const std::string& s : run.stops) stops += (stops.empty() ? "" : " ") + s;
    out += csv_cell(stops) + "," + (run.problems.empty() ? "" : csv_cell(problem_words(run.problems))) + "\r\n";
  }
  return out;
}

std::string varied_json(const Variation& v, const std::string& title) {
  Json j = {{"schema", "curdwright.variation/1"}, {"title", title}, {"factors", Json::array()}, {"figures", Json::array()}, {"currency", v.currency}, {"whole", v.whole()}, {"runs", Json::array()}};
  for (const Factor& f : v.factors) {
    Json levels = Json::array();
    for (const Level& l : f.levels) levels.push_back(l.text);
    j["factors"].push_back({{"pointer", f.pointer}, {"unit", f.unit}, {"levels", levels}});
  }
  for (const Response* r : v.responses) j["figures"].push_back({{"key", r->key}, {"what", r->plain}});
  for (const Run& run : v.runs) {
    Json row = {{"set", Json::array()}, {"values", Json::object()}};
    for (std::size_t f = 0; f < v.factors.size(); ++f) row["set"].push_back(v.factors[f].setting(run.at[f]));
    for (std::size_t i = 0; i < run.cells.size(); ++i) {
      const Cell& c = run.cells[i];
      if (c.value) row["values"][v.responses[i]->key] = number(*c.value);
      if (c.value && c.range) row["ranges"][v.responses[i]->key] = {{"low", number(c.range->low)}, {"high", number(c.range->high)}};
    }
    if (run.problems.empty()) row["loads"] = {{"jarfuls_count", run.loads.jarfuls}, {"vessels_count", run.loads.vessels}, {"pots_count", run.loads.pots}, {"rounds_count", run.loads.fillings}};
    if (!run.stops.empty()) row["stops"] = run.stops;
    if (!run.problems.empty()) row["problem"] = problem_words(run.problems);
    j["runs"].push_back(std::move(row));
  }
  return printed(j, Layout::page);
}

std::string variation_schema() {
  using namespace schema;
  const Json factor = closed({{"pointer", text()}, {"unit", text()}, {"levels", list_of(text())}}, {"pointer", "unit", "levels"});
  const Json response = closed({{"key", text()}, {"what", text()}}, {"key", "what"});
  const Json range = closed({{"low", number()}, {"high", number()}}, {"low", "high"});
  const std::vector<std::string> counts = {"jarfuls_count", "vessels_count", "pots_count", "rounds_count"};
  const Json loads = closed({{counts[0], whole()}, {counts[1], whole()}, {counts[2], whole()}, {counts[3], whole()}}, counts);
  const Json run = closed({{"set", list_of(text())}, {"values", map_of(number())}, {"ranges", map_of(range)}, {"loads", loads}, {"stops", list_of(text())}, {"problem", text()}}, {"set", "values"});
  return document("variation", "Figures of a recipe over its settings",
                  {{"title", text()}, {"factors", list_of(factor)}, {"figures", list_of(response)}, {"currency", text()}, {"whole", flag()}, {"runs", list_of(run)}},
                  {"title", "factors", "figures", "currency", "whole", "runs"});
}

}  // namespace curdwright::sheets
