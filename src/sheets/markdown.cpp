// SPDX-License-Identifier: MIT
// The sheet as Markdown, to be published: CommonMark with the tables of GFM.
#include <fmt/format.h>

#include <algorithm>

#include "curdwright/sheet.hpp"
#include "sheets/amounts.hpp"
#include "sheets/asked_of.hpp"
#include "sheets/markdown_words.hpp"

namespace curdwright {
namespace {

std::string md(std::string_view words) { return sheets::markdown_words(words); }

/// Blocks, each a blank line after the last.
class Page {
 public:
  void block(std::string_view s) { (out_ += out_.empty() ? "" : "\n") += std::string(s) + "\n"; }
  void heading(int level, std::string_view words) { block(std::string(static_cast<std::size_t>(level), '#') + " " + md(words)); }
  /// Words after a name in bold.
  void named(std::string_view name, std::string_view words) {
    if (!words.empty()) block(fmt::format("**{}:** {}", name, md(words)));
  }
  /// What must not be overlooked, set off from the rest.
  void quoted(std::string_view name, std::string_view words) { block(fmt::format("> **{}:** {}", name, md(words))); }
  /// Lines that are Markdown already.
  void list(const std::vector<std::string>& lines, bool counted = false) {
    std::string all;
    for (std::size_t i = 0; i < lines.size(); ++i) all += fmt::format("{}{} {}", i == 0 ? "" : "\n", counted ? fmt::format("{}.", i + 1) : "-", lines[i]);
    if (!all.empty()) block(all);
  }
  void words(const std::vector<std::string>& lines, bool counted = false) {
    std::vector<std::string> all;
    all.reserve(lines.size());
    for (const std::string& l : lines) all.push_back(md(l));
    list(all, counted);
  }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

std::string with_note(const SheetAmount& a) { return a.note.empty() ? a.what : fmt::format("{} ({})", a.what, a.note); }

std::string row(const std::vector<std::string>& cells) {
  std::string line = "|";
  for (const std::string& c : cells) line += " " + c + " |";
  return line;
}

/// Amounts as a table, so that the eye runs down them.
void amounts_table(Page& page, std::string_view what, const std::vector<SheetAmount>& list) {
  std::string all = row({"Amount", std::string(what)}) + "\n|---:|---|";
  for (const SheetAmount& a : list) all += "\n" + row({md(a.amount), md(with_note(a))});
  page.block(all);
}

void table(Page& page, std::string_view first, const SheetTable& t) {
  std::vector<std::size_t> used;
  for (std::size_t i = 0; i < t.columns.size(); ++i)
    if (!t.columns[i].empty() || std::any_of(t.rows.begin(), t.rows.end(), [i](const SheetTable::Row& r) { return !r.cells[i].empty(); })) used.push_back(i);
  std::vector<std::string> head = {std::string(first)};
  std::string all, line = "\n|---|";
  for (std::size_t i : used) head.push_back(md(t.columns[i])), line += "---:|";
  all = row(head) + line;
  for (const SheetTable::Row& r : t.rows) {
    std::vector<std::string> cells = {md(r.what)};
    for (std::size_t i : used) cells.push_back(md(r.cells[i]));
    all += "\n" + row(cells);
  }
  page.block(all);
  if (!t.note.empty()) page.block(md(t.note));
}

template <class Amount>
std::vector<std::string> amounts(const std::vector<Amount>& list) {
  std::vector<std::string> lines;
  lines.reserve(list.size());
  for (const SheetAmount& a : list) lines.push_back(a.amount.empty() ? md(with_note(a)) : fmt::format("**{}** {}", md(a.amount), md(with_note(a))));
  return lines;
}

void caution(Page& page, const Caution& c) { page.quoted(c.severity == Severity::stop ? "Stop" : c.severity == Severity::warn ? "Care" : "Note", c.text); }

/// What was seen going wrong, and what to do about it.
void moves(Page& page, const Sheet& s) {
  std::string seen;
  for (const SheetMove& m : s.moves) {
    if (m.seen != seen) {
      seen = m.seen;
      page.heading(2, fmt::format("Next move: {}", sheets::move_heading(m)));
      for (const std::string& b : m.before) page.quoted("Care", b);
    }
    page.heading(3, fmt::format("{}{}", m.cause, m.likely ? " (what the plan points to)" : ""));
    page.named("Do", m.action);
    page.named("Stop", m.stop);
  }
}

void measured(Page& page, const Sheet& s) {
  if (s.readings.empty()) return;
  page.heading(2, "Measured, beside planned");
  table(page, "What", s.measured);
  page.heading(3, "What that changed");
  page.words(s.changed);
}

void named(Page& page, std::string_view heading, const std::vector<SheetAmount>& list) {
  if (list.empty()) return;
  page.heading(2, heading);
  page.list(amounts(list));
}

void before_the_work(Page& page, const Sheet& s) {
  page.named("When", s.day_summary);
  page.named("Time", fmt::format("{} from start to {}, {} of it hands on.", sheets::duration(s.total_time), s.gets_cold ? "cold" : "the last block out of the press", sheets::duration(s.hands_on)));
  page.named("Allergens", s.allergens);
  measured(page, s);
  page.heading(2, "Weigh out");
  amounts_table(page, "What", s.weigh_out);
  page.heading(2, "Vessels and tools");
  page.words(s.vessels);
  if (s.ticks.empty()) return;
  page.heading(2, "Make sure of");
  std::vector<std::string> boxes;
  for (const std::string& t : s.ticks) boxes.push_back("[ ] " + md(t));
  page.list(boxes);
}

/// What was measured stands in place of what is to be expected.
void step(Page& page, const SheetStep& s, bool by_clock) {
  page.block(fmt::format("### {}. {}", s.number, md(s.verb)));
  if (!s.starts.empty()) page.block(fmt::format("*{} {}; takes {}.*", by_clock ? "Begins" : "From", md(s.starts), md(s.takes)));
  for (const Caution& c : s.before) caution(page, c);
  page.list(amounts(s.amounts));
  page.words(s.actions, true);
  page.named("Ready when", s.ready);
  page.named("If not", s.if_not);
  if (!s.told.empty()) {
    for (const std::string& t : s.told) page.named("Measured", t);
  } else if (!s.expected.empty()) {
    page.block("**To weigh:**");
    page.list(amounts(s.expected));
  }
}

void day(Page& page, const Sheet& s) {
  page.heading(2, "The day");
  std::string all = row({"When", "Takes", "What", "Hands"}) + "\n|---|---|---|---|";
  for (const DayLine& l : s.day) all += "\n" + row({md(l.when), md(l.takes), md(l.what), l.hands ? "yes" : ""});
  page.block(all);
}

/// What comes out, and what became of the rest.
void after_the_work(Page& page, const Sheet& s) {
  named(page, "How it turned out, by the cook", s.noted);
  page.heading(2, "What to expect (estimate)");
  amounts_table(page, "What", s.expect);
  page.heading(2, fmt::format("Nutrition (estimate, {} rules)", s.label.rules == LabelRules::eu ? "EU" : "US"));
  table(page, "Nutrient", s.nutrition);
  if (s.cost) page.heading(2, "Cost (estimate)"), table(page, "What", s.costs);
  if (sheets::tells_day(s)) day(page, s);
  named(page, "Dry seed that the kitchen takes in one go", s.limits);
  if (!s.depends_on.empty()) {
    page.heading(2, "What the yield depends on most");
    std::vector<std::string> lines;
    for (const SheetAmount& a : s.depends_on) lines.push_back(with_note(a));
    page.words(lines, true);
  }
  if (s.leftovers.empty()) return;
  page.heading(2, "What is left");
  std::vector<std::string> lines;
  for (const SheetAmount& a : s.leftovers) lines.push_back(fmt::format("**{}** {}. {}", md(a.amount), md(a.what), md(a.note)));
  page.list(lines);
}

void standing(Page& page, const Sheet& s) {
  page.heading(2, "About these figures");
  std::vector<std::string> all = s.standing;
  all.insert(all.end(), s.made_in.begin(), s.made_in.end());
  page.words(all);
}

}  // namespace

std::string to_markdown(const Sheet& s) {
  Page page;
  page.heading(1, s.title.empty() ? "Curd" : s.title);
  if (!s.stops.empty()) {
    page.heading(2, "Not planned");
    for (const Caution& c : s.stops) caution(page, c);
    if (const auto words = sheets::in_mid_batch(s); !words.empty()) page.quoted("Stop", words);
    page.words(s.standing);
    return page.take();
  }
  page.block(md(s.summary + "."));
  if (!s.batches.empty()) page.named("Batches", s.batches);
  moves(page, s);
  if (sheets::thrown_out(s)) {
    page.quoted("Stop", "Throw it out and begin again: nothing more is planned for this batch.");
    page.words(s.standing);
    return page.take();
  }
  before_the_work(page, s);
  page.heading(2, "Steps");
  if (s.day_summary.empty()) page.block("The clock of each step counts hours and minutes from the start.");
  for (const SheetStep& st : s.steps) step(page, st, !s.day_summary.empty());
  after_the_work(page, s);
  standing(page, s);
  return page.take();
}

}  // namespace curdwright
