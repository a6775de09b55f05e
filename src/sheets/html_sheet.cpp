// SPDX-License-Identifier: MIT
// The sheet as one HTML page: for the kitchen wall, a phone, and a printer.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "curdwright/pictures.hpp"
#include "curdwright/sheet.hpp"
#include "sheets/amounts.hpp"
#include "sheets/asked_of.hpp"
#include "sheets/html_page.hpp"
#include "sheets/html_pictures.hpp"

namespace curdwright {
namespace {

using sheets::Html;

void amounts(Html& h, const std::vector<SheetAmount>& list, std::string_view kind = "amounts") {
  h.raw("<ul class=\"").raw(kind).raw("\">\n");
  for (const SheetAmount& a : list) {
    h.raw("<li>").element("b", a.amount).raw("<span>").text(a.what);
    if (!a.note.empty()) h.raw(" ").element("span class=\"note\"", fmt::format("({})", a.note));
    h.raw("</span></li>\n");
  }
  h.raw("</ul>\n");
}

void caution(Html& h, const Caution& c) {
  const auto [kind, word] = c.severity == Severity::stop ? std::pair("halt", "Stop") : c.severity == Severity::warn ? std::pair("care", "Care") : std::pair("remark", "Note");
  h.raw("<p class=\"").raw(kind).raw("\">").element("strong", word).raw(" ").text(c.text).raw("</p>\n");
}

void told(Html& h, std::string_view head, std::string_view words) {
  if (!words.empty()) h.element("dt", head).element("dd", words);
}

void list(Html& h, const std::vector<std::string>& words, std::string_view tag = "ul") {
  if (words.empty()) return;
  h.open(tag);
  for (const std::string& w : words) h.element("li", w);
  h.close(tag);
}

void moves(Html& h, const Sheet& s) {
  std::string seen;
  std::vector<std::string> minded;
  for (const SheetMove& m : s.moves) {
    if (m.seen != seen) {
      if (!seen.empty()) h.raw("</ol></section>\n");
      seen = m.seen;
      h.raw("<section>").element("h2", fmt::format("Next move: {}", sheets::move_heading(m)));
      for (const std::string& b : m.before) {
        if (std::find(minded.begin(), minded.end(), b) != minded.end()) continue;
        minded.push_back(b);
        h.raw("<p class=\"care\"><strong>Care</strong> ").text(b).raw("</p>\n");
      }
      h.raw("<ol>\n");
    }
    h.raw("<li>").element("strong", fmt::format("{}{}", m.cause, m.likely ? " (what the plan points to)" : "")).raw("<dl>");
    told(h, "Do", m.action), told(h, "Stop", m.stop);
    h.raw("</dl></li>\n");
  }
  if (!seen.empty()) h.raw("</ol></section>\n");
}

void changes(Html& h, const Sheet& s) {
  if (s.changed.empty()) return;
  h.raw("<section>").element("h2", "What is different now");
  list(h, s.changed);
  sheets::html_table(h, s.measured);
  h.raw("</section>\n");
}

void weigh_out(Html& h, const Sheet& s) {
  h.raw("<section class=\"weigh\">").element("h2", s.changed.empty() ? "Weigh out" : "Still to weigh out");
  amounts(h, s.weigh_out);
  std::string vessels;
  for (const std::string& v : s.vessels) vessels += (vessels.empty() ? "" : ", ") + v;
  h.raw("<dl>\n");
  told(h, "Vessels", vessels), told(h, "When", s.day_summary);
  told(h, "Time", fmt::format("{} from start to {}, {} of it hands on.{}", sheets::duration(s.total_time), s.gets_cold ? "cold" : "the last block out of the press", sheets::duration(s.hands_on),
                              s.day_summary.empty() ? " The clock beside each step counts hours from the start." : ""));
  told(h, "Allergens", s.allergens);
  h.raw("</dl>\n");
  list(h, s.ticks, "ul class=\"ticks\"");
  h.raw("</section>\n");
}

/// What is expected, and room to write full, tare and net of each weighing.
void write_in(Html& h, const SheetWeighing& e) {
  const int rooms = sheets::rooms_to_write(e);
  for (int i = 1; i <= rooms; ++i) {
    h.raw("<div class=\"write\"><span class=\"what\">");
    if (i == 1)
      h.raw("<strong>Weigh</strong> ").text(fmt::format("{} {}{}", e.what, e.amount, e.note.empty() ? "" : fmt::format(" ({})", e.note)));
    else
      h.text(fmt::format("{}, weighing {}", e.what, i));
    h.raw("</span>");
    for (const char* blank : {"full", "tare", "net"}) h.element("span class=\"blank\"", blank);
    h.raw("</div>\n");
  }
}

void step(Html& h, const SheetStep& s) {
  h.raw("<li class=\"step\"><h3>").element("span class=\"number\"", fmt::format("{}", s.number)).element("span", s.verb);
  h.element("span class=\"clock\"", s.done ? std::string("done") : fmt::format("{} ({})", s.starts, s.takes)).raw("</h3>\n");
  if (!s.told.empty()) h.raw("<dl>");
  for (const std::string& t : s.told) told(h, "Noted", t);
  if (!s.told.empty()) h.raw("</dl>\n");
  for (const Caution& c : s.before) caution(h, c);
  if (!s.done) {
    if (!s.amounts.empty()) amounts(h, s.amounts);
    list(h, s.actions);
    if (!s.ready.empty() || !s.if_not.empty()) {
      h.raw("<dl>");
      told(h, "Ready", s.ready), told(h, "If not", s.if_not);
      h.raw("</dl>\n");
    }
    for (const SheetWeighing& e : s.expected) write_in(h, e);
  }
  h.raw("</li>\n");
}

void named(Html& h, std::string_view heading, const std::vector<SheetAmount>& all) {
  if (all.empty()) return;
  h.raw("<section class=\"small block\">").element("h2", heading);
  amounts(h, all);
  h.raw("</section>\n");
}

void tabled(Html& h, const SheetTable& t) {
  if (t.rows.empty()) return;
  h.raw("<section class=\"block\">").element("h2", t.heading);
  sheets::html_table(h, t);
  h.raw("</section>\n");
}

void day(Html& h, const Sheet& s) {
  SheetTable t{"The day (* hands on)", {"takes", "", ""}, {}, ""};
  for (const DayLine& l : s.day) t.rows.push_back({fmt::format("{} {} {}", l.when, l.hands ? "*" : "\u2013", l.what), {l.takes, "", ""}});
  tabled(h, t);
}

void figure(Html& h, std::string_view caption, const std::string& svg) {
  if (svg.empty()) return;
  h.raw("<figure>").element("figcaption", caption).raw(svg).raw("</figure>\n");
}

void flows(Html& h, const Pictures& p) {
  static constexpr std::array<std::pair<std::string_view, Component>, 4> parts = {{{"protein", Component::protein}, {"starch", Component::starch}, {"fat", Component::fat}, {"water", Component::water}}};
  figure(h, "Where it all goes", sheets::flow_svg(p.flow, {"all of it", std::nullopt}, "flow"));
  for (const auto& [words, component] : parts) {
    h.raw("<details class=\"screen\">").element("summary", fmt::format("Where the {} goes", words));
    figure(h, fmt::format("Where the {} goes", words), sheets::flow_svg(p.flow, {words, component}, fmt::format("flow-{}", words)));
    h.raw("</details>\n");
  }
}

void pictures(Html& h, const Sheet& s, const Pictures& p) {
  h.raw("<section class=\"screen\">").element("h2", "In pictures").raw("<div class=\"pair\">\n<div>\n");
  flows(h, p);
  h.raw("</div>\n<div>\n");
  figure(h, "Temperature: the milk, then the middle of the last block", sheets::temperature_svg(p.temperature, p.limits));
  figure(h, "Water that the seed takes up", sheets::soak_svg(p.soak));
  if (p.settling) figure(h, "Starch that settles", sheets::settling_svg(*p.settling));
  if (!p.bars.empty()) figure(h, "How sure it is: the likely range, eight cases in ten", sheets::bars_svg(p.bars));
  figure(h, "The day after the soak: dark hands on, striped waiting", sheets::day_svg(s.day));
  h.raw("</div>\n</div>\n</section>\n");
}

void stopped(Html& h, const Sheet& s) {
  h.raw("<section>").element("h2", "Not planned");
  for (const Caution& c : s.stops) caution(h, c);
  if (const auto words = sheets::in_mid_batch(s); !words.empty()) h.element("p class=\"halt\"", words);
  h.element("p", "Until this is mended there are no amounts. The JSON sheet holds the whole calculation.").raw("</section>\n");
}

/// The printer sets as large as three pages allow; several pots and fillings smaller, but never so small that nobody reads it at arm's length.
std::string_view print_size(const Sheet& s) {
  constexpr std::size_t three_pages = 10000;  // tried on A4 and Letter
  std::size_t letters = 0;
  for (const std::string& v : s.vessels) letters += v.size();
  letters += (sheets::tells_day(s) ? 60 * s.day.size() : 0) + (s.cost ? 100 + 60 * s.costs.rows.size() : 0);
  for (const SheetStep& st : s.steps) {
    letters += 150 + 60 * st.amounts.size() + st.ready.size() + st.if_not.size();
    for (const SheetWeighing& e : st.expected) letters += 60 * (1 + static_cast<std::size_t>(sheets::rooms_to_write(e)));
    for (const Caution& c : st.before) letters += 60 + c.text.size();
    for (const std::string& a : st.actions) letters += 20 + a.size();
  }
  return letters < three_pages ? " roomy" : "";
}

void batch(Html& h, const Sheet& s, const Pictures& p) {
  h.raw("<div class=\"flowing").raw(print_size(s)).raw("\">\n");
  moves(h, s), changes(h, s), weigh_out(h, s);
  h.raw("<section>").element("h2", "Steps").raw("<ol class=\"steps\">\n");
  for (const SheetStep& st : s.steps) step(h, st);
  h.raw("</ol></section>\n");
  named(h, "What to expect (estimate)", s.expect);
  tabled(h, s.nutrition);
  if (s.cost) tabled(h, s.costs);
  if (sheets::tells_day(s)) day(h, s);
  named(h, "Dry seed that the kitchen takes in one go", s.limits);
  named(h, "The yield depends most on", s.depends_on);
  named(h, "What is left", s.leftovers);
  h.raw("</div>\n");
  pictures(h, s, p);
}

}  // namespace

std::string to_html(const Sheet& s, const Pictures& p) {
  Html h;
  h.raw("<header>").element("h1", s.title);
  if (s.stops.empty()) h.element("p class=\"lead\"", s.summary);
  if (s.stops.empty() && !s.batches.empty()) h.element("p class=\"lead\"", s.batches);
  h.raw("</header>\n<main>\n");
  if (!s.stops.empty()) {
    stopped(h, s);
  } else if (sheets::thrown_out(s)) {
    moves(h, s);
    h.raw("<p class=\"halt\"><strong>Stop</strong> Throw it out and begin again: nothing more is planned for this batch.</p>\n");
  } else {
    batch(h, s, p);
  }
  h.raw("</main>\n<footer>\n");
  for (const std::string& m : s.made_in) h.element("p", m);
  for (const std::string& w : s.standing) h.element("p", w);
  h.raw("</footer>\n");
  return sheets::html_page(s.title, "sheet", h.take());
}

}  // namespace curdwright
