// SPDX-License-Identifier: MIT
#include "sheets/trouble_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

/// Paragraphs with a hanging word before them.
class Page {
 public:
  explicit Page(int width) : width_(width) {}
  void line(std::string_view s) { paragraph("", s, 0); }
  void blank() { text_ += "\n"; }
  /// The first line begins with `lead`; all others stand under its text, `indent` cells in.
  void paragraph(std::string_view lead, std::string_view words, int indent) {
    std::string start = text::padded(lead, indent);
    for (const std::string& l : text::wrapped(words, width_ - indent)) {
      text_ += start + l + "\n";
      start.assign(static_cast<std::size_t>(indent), ' ');
    }
  }
  std::string text_;

 private:
  int width_;
};

std::string capital(std::string s) {
  if (!s.empty() && s[0] >= 'a' && s[0] <= 'z') s[0] = static_cast<char>(s[0] - 'a' + 'A');
  return s;
}

std::string list_of(const std::vector<std::string>& keys) {
  std::string all;
  for (const std::string& k : keys)
    if (const std::string_view plain = condition_words(k); !plain.empty()) all += (all.empty() ? "" : ", ") + std::string(plain);
  return all;
}

/// "with a salt; likely where the dose is below the rule", or nothing.
std::string when(const TroubleCause& c) {
  const std::string fits = list_of(c.fits), likely = list_of(c.likely);
  const bool said = std::all_of(c.likely.begin(), c.likely.end(), [&](const std::string& k) { return std::find(c.fits.begin(), c.fits.end(), k) != c.fits.end(); });
  if (likely.empty() || said) return fits;
  return fits.empty() ? "likely " + likely : fmt::format("{}; likely {}", fits, likely);
}

std::string evidence(Known known, std::string_view source, std::string_view note) {
  const bool plain = source == word(known);
  std::string all = plain ? std::string(word(known)) : fmt::format("{}, {}", word(known), source);
  std::replace(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(word(known).size()), '-', ' ');
  return note.empty() ? all : fmt::format("{}: {}", all, note);
}

std::string stages(const TroubleCare& c) { return c.from == c.to ? std::string(word(c.from)) : fmt::format("{} to {}", word(c.from), word(c.to)); }

constexpr int indent = 9;

void write_cause(Page& page, const TroubleCause& c, const Troubles& t) {
  page.paragraph("  cause", capital(unfilled(c.cause, t)) + ".", indent);
  if (const std::string w = when(c); !w.empty()) page.paragraph("", capital(w) + ".", indent);
  page.paragraph("  do", unfilled(c.action, t), indent);
  page.paragraph("  stop", unfilled(c.stop, t), indent);
  page.paragraph("  known", evidence(c.known, c.source, c.note), indent);
}

void write_sight(Page& page, const TroubleSight& s, const Troubles& t) {
  page.blank();
  page.line(fmt::format("{}={}", s.sighting.what, s.sighting.looks));
  page.paragraph("  seen", fmt::format("{} ({})", capital(s.plain), word(s.stage)), indent);
  if (!s.care.empty()) page.paragraph("  first", unfilled(s.care, t), indent);
  for (std::size_t i = 0; i < s.causes.size(); ++i) {
    if (i > 0) page.blank();
    write_cause(page, s.causes[i], t);
  }
}

std::string range_of(const Evidence& e) { return fmt::format("{:g} ({:g} to {:g}){}", e.value, e.low, e.high, e.unit == "1" ? "" : " " + e.unit); }

}  // namespace

std::string trouble_table(const Troubles& t, int width) {
  Page page(width);
  page.line("When something looks wrong");
  page.blank();
  page.line("Tell what is seen with --seen, for example --seen whey=milky, and the sheet answers with the next move in the amounts of this batch, which stand here in brackets. In doubt, throw it out.");
  page.blank();
  page.line("Mind first");
  for (const TroubleCare& c : t.cares) {
    const std::string who = list_of(c.fits);
    page.paragraph("  -", fmt::format("{}: {}", capital(who.empty() ? stages(c) : fmt::format("{}, {}", stages(c), who)), unfilled(c.text, t)), 4);
    page.paragraph("", evidence(c.known, c.source, c.note), 4);
  }
  for (const TroubleSight& s : t.sights) write_sight(page, s, t);
  page.blank();
  page.line("Numbers behind the moves, with the range that eight cases in ten lie in");
  for (const TroubleFigureInfo& i : trouble_figures()) {
    const Evidence& e = t.figures[static_cast<std::size_t>(i.figure)];
    page.paragraph("  -", fmt::format("{}: {}; {}", capital(std::string(i.plain)), range_of(e), evidence(e.known, e.source, e.note)), 4);
  }
  return page.text_;
}

}  // namespace curdwright::sheets
