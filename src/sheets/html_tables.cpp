// SPDX-License-Identifier: MIT
// A variation, and recipes side by side, as pages.
#include <fmt/format.h>

#include "sheets/compared.hpp"
#include "sheets/html_page.hpp"
#include "sheets/said.hpp"
#include "sheets/varied.hpp"

namespace curdwright::sheets {

std::string varied_html(const Variation& v, const std::string& title) {
  const VariedTable t = varied_table(v);
  HtmlGrid g{title, t.below, t.head, t.rows};
  // The last column is for stops, and there only where one stands.
  bool stops = false;
  for (const auto& row : t.rows) stops = stops || (row.size() == t.head.size() && !row.back().empty());
  if (!stops) {
    g.head.pop_back();
    for (auto& row : g.rows)
      if (row.size() == t.head.size()) row.pop_back();
  }
  Html h;
  h.raw("<header>").element("h1", title).raw("</header>\n<main>\n");
  html_grid(h, g);
  for (const std::string& note : t.notes) h.element("p", note);
  if (!v.whole()) h.element("p class=\"care\"", fmt::format("Stopped: {} of {} runs were made.", v.runs.size(), v.asked));
  if (const auto plots = plots_of(v); !plots.empty()) h.raw("<section>").element("h2", "In pictures").raw(plots_svg(plots, title)).raw("</section>\n");
  h.raw("</main>\n");
  return html_page(title, "table", h.take());
}

std::string compared_html(const ComparedPage& p) {
  Html h;
  h.raw("<header>").element("h1", "Recipes side by side").raw("<ul class=\"amounts small\">\n");
  for (std::size_t i = 0; i < p.names.size(); ++i) h.raw("<li>").element("b", recipe_letter(i)).element("span", p.titles[i].empty() ? p.names[i] : fmt::format("{}: {}", p.names[i], p.titles[i])).raw("</li>\n");
  h.raw("</ul></header>\n<main>\n");
  for (const std::string& words : stop_words(p)) h.raw("<p class=\"halt\"><strong>Stop</strong> ").text(words).raw("</p>\n");
  h.raw("<section>").element("h2", "What differs in the recipes");
  if (p.differs.empty()) h.element("p", "Nothing differs in the recipes.");
  HtmlGrid differs{"What differs in the recipes", "", {"setting"}, {}};
  for (std::size_t i = 0; i < p.names.size(); ++i) differs.head.push_back(recipe_letter(i));
  for (const Differs& d : p.differs) {
    std::vector<std::string> row = {d.pointer};
    for (const std::string& told : d.told) row.push_back(told.empty() ? "not given there" : told);
    differs.rows.push_back(std::move(row));
  }
  if (!differs.rows.empty()) html_grid(h, differs);
  h.raw("</section>\n<section>").element("h2", "What comes out, and by how much more than A");
  for (const Contrast& c : p.contrasts) {
    const std::string unit = said_unit(*c.response, p.currency);
    HtmlGrid g{c.response->plain, "", {unit.empty() ? c.response->plain : fmt::format("{}, {}", c.response->plain, unit), "value", "likely", "beside A"}, {}};
    for (const ContrastWords& w : words_of(c)) g.rows.push_back({w.recipe, w.value, w.range, w.beside_first});
    html_grid(h, g);
  }
  h.raw("</section>\n</main>\n<footer>").element("p", compared_note()).raw("</footer>\n");
  return html_page("Recipes side by side", "table", h.take());
}

}  // namespace curdwright::sheets
