// SPDX-License-Identifier: MIT
#include "program/topics.hpp"

#include <fmt/format.h>

#include <array>

#include "curdwright/kitchen.hpp"
#include "curdwright/measure.hpp"
#include "curdwright/recipe.hpp"
#include "curdwright/units.hpp"
#include "program/pointers.hpp"
#include "program/topic_pages.hpp"
#include "sheets/trouble_text.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

std::string from_text(std::string_view page) { return std::string(page); }

/// Every place of a file with what it holds.
std::string field_rows(std::string_view schema) {
  std::string out;
  for (const Settable& s : settables(schema)) {
    if (s.kind == "object") continue;
    std::string words;
    for (const std::string& w : s.words) words += fmt::format("{}{}", words.empty() ? "" : ", ", w);
    std::string about = s.about;
    if (!words.empty()) about += fmt::format("{}{}", about.empty() ? "" : "; ", words);
    out += fmt::format("= {} | {}\n", s.pointer, about);
  }
  return out;
}

std::string amounts_page() {
  std::string rows;
  using enum QuantityKind;
  for (const auto& [kind, name] : {std::pair{mass, "mass"}, std::pair{volume, "volume"}, std::pair{temperature, "temperature"}, std::pair{duration, "time"}, std::pair{length, "length"},
                                   std::pair{area, "area"}, std::pair{pressure, "pressure"}, std::pair{power, "power"}, std::pair{fraction, "share"}, std::pair{concentration, "strength, amount"},
                                   std::pair{mass_concentration, "strength, mass"}, std::pair{dose, "dose"}}) {
    std::string units;
    for (std::string_view u : units_of(kind)) units += fmt::format("{}{}", units.empty() ? "" : ", ", u);
    rows += fmt::format("= {} | {}, in {}\n", name, example_of(kind), units);
  }
  return fmt::format("{}\n# Units\n\n{}", pages::amounts, rows);
}

std::string diary_words_page() {
  std::string rows;
  for (const Measurable& m : all_measurables()) rows += fmt::format("= {} | {}{}\n", m.example, m.about, m.measured() ? "" : " (as done)");
  return fmt::format("{}\n# What is measured or done\n\n{}\n# How it tastes\n\n{}", pages::diary_words, rows, pages::scales());
}

std::string trouble_page() {
  std::string out;
  const std::string table = sheets::trouble_table(shipped_troubles(), 68);
  for (std::string_view rest = table; !rest.empty();) {
    const auto end = rest.find('\n');
    out += end == 0 ? " \n" : fmt::format("  {}\n", rest.substr(0, end));
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  }
  return out;
}

constexpr std::array topics = {
    Topic{"amounts", "how amounts are written, and every unit", "units quantities quantity", amounts_page, 7},
    Topic{"recipe", "what a recipe file may hold", "recipes", [] { return fmt::format("{}\n# Places\n\n{}", pages::recipe, field_rows(recipe_schema())); }, 5},
    Topic{"kitchen", "what a kitchen file may hold", "kitchens", [] { return fmt::format("{}\n# Places\n\n{}", pages::kitchen, field_rows(kitchen_schema())); }, 5},
    Topic{"settings", "how --set, --over and --let name a place of the recipe", "pointers pointer set", [] { return from_text(pages::settings); }, 7},
    Topic{"diary-words", "what can be told of a batch, with --measured and in the diary", "words measured", diary_words_page, 7},
    Topic{"exit-status", "what the status of the program says", "status statuses exit", [] { return from_text(pages::exit_status); }, 7},
    Topic{"environment", "variables that are read", "variables", [] { return from_text(pages::environment); }, 7},
    Topic{"formats", "forms of output, and how to read them", "format output json", [] { return from_text(pages::formats); }, 7},
    Topic{"safety", "what the cautions are, and what no plan can promise", "cautions rules", [] { return from_text(pages::safety); }, 7},
    Topic{"trouble", "what to do when something looks wrong", "troubles seen", trouble_page, 7},
};

std::string wrapped_row(std::string_view term, std::string_view meaning, int column, int width) {
  std::string out;
  const auto lines = text::wrapped(text::harmless(meaning), width - column);
  const std::string left = fmt::format("  {}", term);
  const bool beneath = text::width(left) + 2 > column;
  if (beneath) out += left + "\n";
  for (std::size_t i = 0; i < lines.size(); ++i) out += text::padded(i == 0 && !beneath ? left : "", column) + lines[i] + "\n";
  if (lines.empty() && !beneath) out += left + "\n";
  return out;
}

std::string block_text(const Block& b, int width) {
  std::string out;
  switch (b.kind) {
    case Block::Kind::heading: return b.lines[0] + "\n";
    case Block::Kind::as_is:
      for (const std::string& l : b.lines) out += l + "\n";
      return out;
    case Block::Kind::rows:
      for (const std::string& l : b.lines) {
        const auto [term, meaning] = row_parts(l);
        out += wrapped_row(term, meaning, 26, width);
      }
      return out;
    case Block::Kind::paragraph: break;
  }
  for (const std::string& l : text::wrapped(b.lines[0], width)) out += l + "\n";
  return out;
}

}  // namespace

std::pair<std::string_view, std::string_view> row_parts(std::string_view line) {
  const auto bar = line.find(" | ");
  return {line.substr(0, bar), bar == std::string_view::npos ? "" : line.substr(bar + 3)};
}

std::vector<Block> blocks_of(std::string_view page) {
  std::vector<Block> all;
  bool open = false;
  while (!page.empty()) {
    const auto end = page.find('\n');
    std::string line(page.substr(0, end));
    page.remove_prefix(end == std::string_view::npos ? page.size() : end + 1);
    if (line.empty()) {
      open = false;
      continue;
    }
    const auto kind = line.starts_with("# ") ? Block::Kind::heading : line.starts_with("= ") ? Block::Kind::rows : line[0] == ' ' ? Block::Kind::as_is : Block::Kind::paragraph;
    if (kind == Block::Kind::heading || kind == Block::Kind::rows) line.erase(0, 2);
    if (!open || all.back().kind != kind) all.push_back({kind, {}});
    open = kind != Block::Kind::heading;
    // A paragraph is one text, however it is broken in the source.
    if (kind == Block::Kind::paragraph && !all.back().lines.empty())
      all.back().lines[0] += " " + line;
    else
      all.back().lines.push_back(line == " " ? "" : std::move(line));
  }
  return all;
}

std::span<const Topic> all_topics() { return topics; }

const Topic* find_topic(std::string_view name) {
  for (const Topic& t : topics)
    if (t.name == name || text::holds_word(t.also, name)) return &t;
  return nullptr;
}

std::string topic_text(const Topic& topic, int width) {
  std::string out;
  for (const Block& b : blocks_of(topic.page())) out += (out.empty() ? "" : "\n") + block_text(b, width);
  return out;
}

}  // namespace curdwright::program
