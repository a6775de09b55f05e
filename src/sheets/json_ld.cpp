// SPDX-License-Identifier: MIT
// The recipe as schema.org tells it, in JSON-LD.
#include <fmt/format.h>

#include <cmath>

#include "sheets/json_writer.hpp"
#include "sheets/published.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

using sheets::Published;

/// "PT21H7M" (ISO 8601), hours past a day too: a soak of 30 h is no matter of dates.
std::string iso_duration(Duration d) {
  const auto all = static_cast<long>(std::round(in_minutes(d)));
  const long h = all / 60, m = all % 60;
  return fmt::format("PT{}{}", h > 0 ? fmt::format("{}H", h) : "", m > 0 || h == 0 ? fmt::format("{}M", m) : "");
}

/// Words for a page: nothing in them drives or turns it.
void put(JsonWriter& w, std::string_view key, std::string_view words) { w.put(key, text::harmless(words)); }

void put_all(JsonWriter& w, std::string_view key, const std::vector<std::string>& all) {
  w.list(key, [&] {
    for (const std::string& words : all) w.item(text::harmless(words));
  });
}

void write_yield(JsonWriter& w, const Published& p) {
  // A count first, for who reckons with servings; then the same in words.
  if (p.blocks.empty()) return put(w, "recipeYield", p.yield);
  put_all(w, "recipeYield", {p.blocks, p.yield});
}

void write_times(JsonWriter& w, const Published& p) {
  put(w, "prepTime", iso_duration(p.prepare)), put(w, "cookTime", iso_duration(p.cook));
  put(w, "performTime", iso_duration(p.cook)), put(w, "totalTime", iso_duration(p.total));
}

void write_tools(JsonWriter& w, const Published& p) {
  w.list("tool", [&] {
    for (const std::string& tool : p.tools) w.object([&] { w.put("@type", "HowToTool"), put(w, "name", tool); });
  });
}

void write_section(JsonWriter& w, const sheets::PublishedSection& s, int position) {
  w.put("@type", "HowToSection"), put(w, "name", s.name), w.put("position", position);
  w.list("itemListElement", [&] {
    int step = 0;
    for (const std::string& line : s.lines) w.object([&] { w.put("@type", "HowToStep"), w.put("position", ++step), put(w, "text", line); });
  });
}

void write_nutrition(JsonWriter& w, const Published& p) {
  w.object("nutrition", [&] {
    w.put("@type", "NutritionInformation"), put(w, "servingSize", p.serving);
    for (const auto& [property, amount] : p.nutrition) put(w, property, amount);
  });
}

void write_recipe(JsonWriter& w, const Published& p) {
  w.put("@context", "https://schema.org"), w.put("@type", "Recipe"), w.put("inLanguage", "en");
  put(w, "name", p.name), put(w, "description", p.description), put(w, "recipeCategory", "Legume curd"), put(w, "keywords", p.keywords);
  write_yield(w, p);
  write_times(w, p);
  put_all(w, "recipeIngredient", p.ingredients);
  write_tools(w, p);
  w.list("recipeInstructions", [&] {
    int position = 0;
    for (const sheets::PublishedSection& s : p.sections) w.object([&] { write_section(w, s, ++position); });
  });
  write_nutrition(w, p);
  if (p.cost) w.object("estimatedCost", [&] { w.put("@type", "MonetaryAmount"), put(w, "currency", p.cost->first), put(w, "value", p.cost->second); });
}

/// Inside a script element of HTML only escapes stand for what could end it, and for what older readers take for the end of a line.
std::string safe_in_html(std::string_view json) {
  std::string out;
  while (!json.empty()) {
    const bool separator = json.starts_with("\xE2\x80\xA8") || json.starts_with("\xE2\x80\xA9");
    const auto c = static_cast<unsigned char>(json[0]);
    if (separator) out += json[2] == '\xA8' ? "\\u2028" : "\\u2029";
    else if (c == '<' || c == '>' || c == '&') out += fmt::format("\\u{:04x}", c);
    else out += json[0];
    json.remove_prefix(separator ? 3 : 1);
  }
  return out;
}

}  // namespace

std::string to_json_ld(const Facts& facts, const Sheet& sheet, Units units) {
  const Published p = sheets::published(facts, sheet, units);
  JsonWriter w(Layout::page);
  w.object([&] { write_recipe(w, p); });
  return safe_in_html(std::move(w).text());
}

}  // namespace curdwright
