// SPDX-License-Identifier: MIT
// The sheet as text for a terminal or a printer.
#include <fmt/format.h>

#include <algorithm>

#include "curdwright/sheet.hpp"
#include "sheets/amounts.hpp"
#include "sheets/asked_of.hpp"
#include "sheets/said.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

using text::width;

class Page {
 public:
  explicit Page(const TextOptions& o) : width_(std::clamp(o.width, 40, 120)), colour_(o.colour) {}

  void line(std::string_view s = "") { out_ += std::string(s) + "\n"; }
  void rule(char c) { line(std::string(static_cast<std::size_t>(width_), c)); }
  /// Wrapped, the first line after `lead`, the others under it.
  void block(std::string_view lead, std::string_view words, std::string_view style = "") {
    const int indent = width(lead);
    bool first = true;
    for (const std::string& l : text::wrapped(words, width_ - indent)) {
      out_ += first ? std::string(lead) : std::string(static_cast<std::size_t>(indent), ' ');
      out_ += styled(l, style) + "\n";
      first = false;
    }
  }
  [[nodiscard]] std::string styled(std::string_view s, std::string_view style) const {
    return colour_ && !style.empty() ? fmt::format("\033[{}m{}\033[0m", style, s) : std::string(s);
  }
  [[nodiscard]] int cells() const { return width_; }
  [[nodiscard]] std::string take() const { return text::harmless_page(out_); }  // names in records of one's own may hold anything

 private:
  int width_;
  bool colour_;
  std::string out_;
};

constexpr std::string_view bold = "1", red = "1;31", yellow = "33", dim = "2";

/// Amounts in a column of their own, right-aligned, so that the eye runs down them.
void amounts(Page& page, const std::vector<SheetAmount>& list, int indent) {
  int column = 8;
  for (const SheetAmount& a : list) column = std::max(column, std::min(30, width(a.amount)));
  for (const SheetAmount& a : list) {
    const std::string words = a.note.empty() ? a.what : fmt::format("{} ({})", a.what, a.note);
    const std::string lead = std::string(static_cast<std::size_t>(indent), ' ') + page.styled(text::padded_left(a.amount, column), bold) + "  ";
    const int lead_cells = indent + std::max(column, width(a.amount)) + 2;
    bool first = true;
    for (const std::string& l : text::wrapped(words, page.cells() - lead_cells)) {
      page.line((first ? lead : std::string(static_cast<std::size_t>(lead_cells), ' ')) + l);
      first = false;
    }
  }
}

void caution(Page& page, const Caution& c, std::string_view indent) {
  const bool stop = c.severity == Severity::stop;
  page.block(fmt::format("{}{}  ", indent, sheets::said_severity(c.severity)), c.text, stop ? red : c.severity == Severity::warn ? yellow : "");
}

/// Headings are capitals here, but for what stands in brackets.
std::string capitals(std::string_view heading) {
  std::string out(heading);
  for (char& c : out) {
    if (c == '(') break;
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return out;
}

/// Columns where the page is wide enough for them, else a sentence for each row.
void table(Page& page, const SheetTable& t) {
  std::array<int, 4> cells = {0, width(t.columns[0]), width(t.columns[1]), width(t.columns[2])};
  for (const SheetTable::Row& r : t.rows) {
    cells[0] = std::max(cells[0], 2 + width(r.what));
    for (std::size_t i = 0; i < r.cells.size(); ++i) cells[i + 1] = std::max(cells[i + 1], width(r.cells[i]));
  }
  int all = 2 + cells[0];
  for (std::size_t i = 1; i < cells.size(); ++i) all += cells[i] > 0 ? 2 + cells[i] : 0;
  const auto columns = [&](const std::array<std::string, 3>& row) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i)
      if (cells[i + 1] > 0) line += "  " + text::padded_left(row[i], cells[i + 1]);
    return line.erase(line.find_last_not_of(' ') + 1);
  };
  const bool fits = all <= page.cells();
  page.rule('-');
  // The heads stand right-aligned over their cells, and share the heading's line where that leaves a gap.
  const std::string heads = columns(t.columns), gap(static_cast<std::size_t>(2 + cells[0]), ' ');
  const auto blank = heads.find_first_not_of(' ');
  const std::size_t taken = static_cast<std::size_t>(width(t.heading)) + 2;
  const bool shares = fits && blank != std::string::npos && gap.size() + blank >= taken + 2;
  page.line("  " + page.styled(capitals(t.heading), bold) + (shares ? (gap + heads).substr(taken) : ""));
  if (fits && !shares) page.line(gap + heads);
  for (const SheetTable::Row& r : t.rows) {
    if (fits) {
      page.line("  " + text::padded("  " + r.what, cells[0]) + columns(r.cells));
      continue;
    }
    std::string words;
    for (std::size_t i = 0; i < r.cells.size(); ++i)
      if (!r.cells[i].empty()) words += fmt::format("{}{}{}{}", words.empty() ? "" : ", ", r.cells[i], t.columns[i].empty() ? "" : " ", t.columns[i]);
    page.block("    ", fmt::format("{}: {}", r.what, words));
  }
  if (!t.note.empty()) page.block("    ", t.note);
}

/// What the scale changed, before anything else.
void changes(Page& page, const Sheet& s) {
  page.line(page.styled("  WHAT IS DIFFERENT NOW", bold));
  for (const std::string& c : s.changed) page.block("  * ", c);
  table(page, s.measured);
  page.rule('-');
}

/// What to do now stands before all that comes later.
void moves(Page& page, const Sheet& s) {
  std::string seen;
  std::vector<std::string> minded;
  int number = 0;
  for (const SheetMove& m : s.moves) {
    if (m.seen != seen) {
      seen = m.seen, number = 0;
      page.line(page.styled(fmt::format("  NEXT MOVE: {}", sheets::move_heading(m)), bold));
      for (const std::string& b : m.before) {
        if (std::find(minded.begin(), minded.end(), b) != minded.end()) continue;
        minded.push_back(b);
        page.block("    CARE  ", b, yellow);
      }
    }
    const std::string lead = fmt::format("  {:>2}  ", ++number);
    page.block(lead, fmt::format("{}{}", m.cause, m.likely ? " (what the plan points to)" : ""), m.discard ? red : bold);
    page.block("      Do    ", m.action);
    if (!m.stop.empty()) page.block("      Stop  ", m.stop);
  }
  if (!s.moves.empty()) page.rule('-');
}

void top_box(Page& page, const Sheet& s) {
  if (!s.weigh_out.empty()) page.line(page.styled(s.changed.empty() ? "  WEIGH OUT" : "  STILL TO WEIGH OUT", bold));
  amounts(page, s.weigh_out, 2);
  std::string vessels;
  for (const std::string& v : s.vessels) vessels += (vessels.empty() ? "" : ", ") + v;
  if (!s.weigh_out.empty()) page.line();
  page.block("  Vessels    ", vessels);
  if (!s.day_summary.empty()) page.block("  When       ", s.day_summary);
  page.block("  Time       ", fmt::format("{} from start to {}, {} of it hands on.{}", sheets::duration(s.total_time), s.gets_cold ? "cold" : "the last block out of the press", sheets::duration(s.hands_on), s.day_summary.empty() ? " The clock beside each step counts hours from the start." : ""));
  if (!s.allergens.empty()) page.block("  Allergens  ", s.allergens);
  for (std::size_t i = 0; i < s.ticks.size(); ++i) page.block(i == 0 ? "  Tick       [ ] " : "             [ ] ", s.ticks[i]);
}

/// What is expected, and room to write for each weighing: full, tare and net, kept on one line.
void weigh_lines(Page& page, const SheetWeighing& e) {
  const std::string words = fmt::format("{} {}{}", e.what, e.amount, e.note.empty() ? "" : fmt::format(" ({})", e.note));
  const std::string blanks = "full ______ tare ______ net ______";
  const std::string lead = "    Weigh   ";
  const int rooms = sheets::rooms_to_write(e);
  if (rooms == 1 && width(lead) + width(words) + 2 + width(blanks) <= page.cells()) return page.line(text::padded(lead + words, page.cells() - width(blanks)) + blanks);
  page.block(lead, words);
  for (int i = 1; i <= rooms; ++i) page.block(rooms == 1 ? "            " : fmt::format("        {:>2}  ", i), blanks);
}

void step(Page& page, const SheetStep& s) {
  const std::string head = fmt::format("{:>2}  {}", s.number, s.verb);
  const std::string when = s.done ? "done" : fmt::format("{}  ({})", s.starts, s.takes);
  const int gap = page.cells() - width(head) - width(when);
  page.rule('-');
  if (gap >= 2)
    page.line(page.styled(head, bold) + std::string(static_cast<std::size_t>(gap), ' ') + page.styled(when, dim));
  else
    page.line(page.styled(head, bold)), page.block("    ", when, dim);
  for (const std::string& t : s.told) page.block("    Noted   ", t);
  for (const Caution& c : s.before) caution(page, c, "    ");
  if (s.done) return;
  if (!s.amounts.empty()) amounts(page, s.amounts, 4);
  for (const std::string& a : s.actions) page.block("    * ", a);
  if (!s.ready.empty()) page.block("    Ready   ", s.ready);
  if (!s.if_not.empty()) page.block("    If not  ", s.if_not);
  for (const SheetWeighing& e : s.expected) weigh_lines(page, e);
}

/// Start, length, and a mark where hands are needed.
void day(Page& page, const Sheet& s) {
  page.rule('-');
  page.line(page.styled("  THE DAY (* hands on)", bold));
  int when = 0, takes = 0;
  for (const DayLine& l : s.day) when = std::max(when, width(l.when)), takes = std::max(takes, width(l.takes));
  for (const DayLine& l : s.day) page.block(fmt::format("  {}  {}  {} ", text::padded_left(l.when, when), text::padded_left(l.takes, takes), l.hands ? "*" : " "), l.what);
}

void named(Page& page, std::string_view heading, const std::vector<SheetAmount>& list) {
  page.rule('-');
  page.line(page.styled(fmt::format("  {}", heading), bold));
  amounts(page, list, 2);
}

void stopped(Page& page, const Sheet& s) {
  page.line();
  page.line(page.styled("  NOT PLANNED", red));
  for (const Caution& c : s.stops) caution(page, c, "  ");
  page.line();
  if (const auto words = sheets::in_mid_batch(s); !words.empty()) page.block("  ", words, red);
  page.block("  ", "Until this is mended there are no amounts. The JSON sheet holds the whole calculation.");
}

}  // namespace

std::string to_text(const Sheet& s, const TextOptions& o) {
  Page page(o);
  page.block("", text::harmless(s.title), bold);
  if (!s.stops.empty()) {
    stopped(page, s);
    page.rule('=');
    for (const std::string& w : s.standing) page.block("  ", w);
    return page.take();
  }
  page.block("", s.summary);
  if (!s.batches.empty()) page.block("", s.batches, bold);
  page.rule('=');
  moves(page, s);
  if (sheets::thrown_out(s)) {
    page.block("  ", "Throw it out and begin again: nothing more is planned for this batch.", red);
    page.rule('=');
    for (const std::string& w : s.standing) page.block("  ", w);
    return page.take();
  }
  if (!s.changed.empty()) changes(page, s);
  top_box(page, s);
  for (const SheetStep& st : s.steps) step(page, st);
  named(page, "WHAT TO EXPECT (estimate)", s.expect);
  table(page, s.nutrition);
  if (s.cost) table(page, s.costs);
  if (sheets::tells_day(s)) day(page, s);
  if (!s.limits.empty()) named(page, "DRY SEED THAT THE KITCHEN TAKES IN ONE GO", s.limits);
  if (!s.depends_on.empty()) named(page, "THE YIELD DEPENDS MOST ON", s.depends_on);
  named(page, "WHAT IS LEFT", s.leftovers);
  page.rule('=');
  for (const std::string& m : s.made_in) page.block("  ", text::harmless(m));
  for (const std::string& w : s.standing) page.block("  ", w);
  return page.take();
}

}  // namespace curdwright
