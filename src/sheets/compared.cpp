// SPDX-License-Identifier: MIT
#include "sheets/compared.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheets/json_values.hpp"
#include "sheets/said.hpp"
#include "sheets/schema_words.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

using Json = nlohmann::ordered_json;

std::string signed_number(double v) { return (v > 0 ? "+" : v < 0 ? "-" : "") + said_number(std::abs(v)); }

std::string verdict(const Margin& d, std::size_t i) {
  if (d.range.low == 0 && d.range.high == 0) return "the same";
  if (!d.clear()) return fmt::format("too near to tell: {} has more in {:.0f} of 100 cases", recipe_letter(i), 100 * d.chance_more);
  const bool more = d.range.low > 0;
  return fmt::format("clear: {} has {} in {:.0f} of 100 cases", recipe_letter(i), more ? "more" : "less", std::floor(100 * (more ? d.chance_more : 1 - d.chance_more)));
}

void write_differs(std::string& out, const ComparedPage& p, int width) {
  out += p.differs.empty() ? "\nNothing differs in the recipes.\n" : "\nWHAT DIFFERS IN THE RECIPES\n";
  for (const Differs& d : p.differs) {
    out += "  " + text::harmless(d.pointer) + "\n";
    for (std::size_t i = 0; i < d.told.size(); ++i) out += text::hung(fmt::format("    {}  ", recipe_letter(i)), d.told[i].empty() ? "not given there" : text::harmless(d.told[i]), width);
  }
}

void write_contrast(std::string& out, const Contrast& c, const std::string& currency, int width) {
  const std::string unit = said_unit(*c.response, currency);
  out += "\n  " + c.response->plain + (unit.empty() ? "" : ", " + unit) + "\n";
  int cells = 0, range_cells = 0;
  const auto all = words_of(c);
  for (const ContrastWords& w : all) cells = std::max(cells, text::width(w.value)), range_cells = std::max(range_cells, text::width(w.range));
  for (const ContrastWords& w : all) {
    const std::string lead = fmt::format("    {}  {}  {}", w.recipe, text::padded_left(w.value, cells), text::padded(w.range, range_cells));
    out += w.beside_first.empty() ? lead.substr(0, lead.find_last_not_of(' ') + 1) + "\n" : text::hung(lead + "  ", w.beside_first, width);
  }
}

}  // namespace

std::string recipe_letter(std::size_t i) { return std::string(1, static_cast<char>('A' + i)); }

std::vector<ContrastWords> words_of(const Contrast& c) {
  const Response& r = *c.response;
  std::vector<ContrastWords> all;
  for (std::size_t i = 0; i < c.values.size(); ++i) {
    ContrastWords w{recipe_letter(i), c.values[i] ? said_number(*c.values[i] * r.to_unit) : "none", c.ranges[i] ? fmt::format("({})", said_range(r, *c.ranges[i])) : "", ""};
    if (const auto& d = c.to_first[i])
      w.beside_first = fmt::format("{} ({} to {}): {}", signed_number(d->median * r.to_unit), signed_number(d->range.low * r.to_unit), signed_number(d->range.high * r.to_unit), verdict(*d, i));
    all.push_back(std::move(w));
  }
  return all;
}

std::vector<std::string> stop_words(const ComparedPage& p) {
  std::vector<std::string> all;
  for (std::size_t i = 0; i < p.stops.size(); ++i) {
    std::string rules;
    for (const std::string& rule : p.stops[i]) rules += " " + rule;
    if (!rules.empty()) all.push_back(fmt::format("{} is not to be cooked, by rule{}: see its sheet", recipe_letter(i), rules));
  }
  return all;
}

std::string_view compared_note() { return "In brackets the likely range: eight cases in ten. Differences are of one kitchen that makes all of them, so what is uncertain for all alike cancels."; }

std::string compared_text(const ComparedPage& p, int width) {
  std::string out;
  for (std::size_t i = 0; i < p.names.size(); ++i) out += text::hung(recipe_letter(i) + "  ", text::harmless(p.titles[i].empty() ? p.names[i] : fmt::format("{}: {}", p.names[i], p.titles[i])), width);
  for (const std::string& words : stop_words(p)) out += text::hung("STOP  ", words, width);
  write_differs(out, p, width);
  out += "\nWHAT COMES OUT, AND BY HOW MUCH MORE THAN A\n";
  for (const Contrast& c : p.contrasts) write_contrast(out, c, p.currency, width);
  return out + "\n" + text::hung("", compared_note(), width);
}

std::string compared_json(const ComparedPage& p) {
  Json j = {{"schema", "curdwright.comparison/1"}, {"currency", p.currency}, {"recipes", Json::array()}, {"differs", Json::array()}, {"figures", Json::array()}};
  for (std::size_t i = 0; i < p.names.size(); ++i) j["recipes"].push_back({{"file", p.names[i]}, {"title", p.titles[i]}, {"stops", p.stops[i]}});
  for (const Differs& d : p.differs) {
    Json told = Json::array();
    for (const std::string& t : d.told) told.push_back(t.empty() ? Json(nullptr) : Json(t));
    j["differs"].push_back({{"pointer", d.pointer}, {"told", told}});
  }
  for (const Contrast& c : p.contrasts) {
    Json row = {{"key", c.response->key}, {"what", c.response->plain}, {"of", Json::array()}};
    for (std::size_t i = 0; i < c.values.size(); ++i) {
      Json one = Json::object();
      if (c.values[i]) one["value"] = number(*c.values[i]);
      if (c.ranges[i]) one["low"] = number(c.ranges[i]->low), one["high"] = number(c.ranges[i]->high);
      if (const auto& d = c.to_first[i]) one["to_first"] = {{"value", number(d->median)}, {"low", number(d->range.low)}, {"high", number(d->range.high)}, {"more_fraction", number(d->chance_more)}, {"clear", d->clear()}};
      row["of"].push_back(std::move(one));
    }
    j["figures"].push_back(std::move(row));
  }
  return printed(j, Layout::page);
}

std::string comparison_schema() {
  using namespace schema;
  const Json recipe = closed({{"file", text()}, {"title", text()}, {"stops", list_of(text())}}, {"file", "title", "stops"});
  const Json differs = closed({{"pointer", text()}, {"told", list_of({{"type", {"string", "null"}}})}}, {"pointer", "told"});
  const Json to_first = closed({{"value", number()}, {"low", number()}, {"high", number()}, {"more_fraction", number()}, {"clear", flag()}}, {"value", "low", "high", "more_fraction", "clear"});
  const Json one = closed({{"value", number()}, {"low", number()}, {"high", number()}, {"to_first", to_first}}, {});
  const Json response = closed({{"key", text()}, {"what", text()}, {"of", list_of(one)}}, {"key", "what", "of"});
  return document("comparison", "Recipes side by side", {{"currency", text()}, {"recipes", list_of(recipe)}, {"differs", list_of(differs)}, {"figures", list_of(response)}}, {"currency", "recipes", "differs", "figures"});
}

}  // namespace curdwright::sheets
