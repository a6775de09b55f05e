// SPDX-License-Identifier: MIT
#include "program/runs.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/manual.hpp"
#include "program/reference_pages.hpp"
#include "program/topics.hpp"
#include "sheets/trouble_text.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

constexpr int page = 79;

Problem unknown(const std::string& word) {
  std::vector<std::string_view> known;
  for (const CommandRow& c : all_commands()) known.push_back(c.name);
  for (const Topic& t : all_topics()) {
    known.push_back(t.name);
    for (std::string_view also = t.also; !also.empty(); also.remove_prefix(std::min(also.size(), also.find(' ') + 1))) {
      known.push_back(also.substr(0, also.find(' ')));
      if (also.find(' ') == std::string_view::npos) break;
    }
  }
  std::string fix = text::suggest(word, known);
  if (fix.empty()) fix = "see `curdwright --help` for the commands and the topics";
  return usage(fmt::format("\"{}\" is no command and no topic", text::harmless(text::cut(word, 40))), "", std::move(fix));
}

}  // namespace

int run_help(const Request& r) {
  const auto format = chosen(r, "--format");
  if (!format) return report(r, format.error());
  const bool man = *format == "man", markdown = *format == "markdown";
  if (r.words.empty()) return finish(r, man ? program_page() : markdown ? commands_markdown() : full_help(), done);
  const std::string& word = r.words[0];
  for (const CommandRow& c : all_commands())
    if (c.name == word) return finish(r, man ? command_page(c) : markdown ? command_markdown(c) : help_of(word), done);
  const Topic* topic = find_topic(word);
  if (!topic) return report(r, {unknown(word)});
  if (man) return finish(r, topic_page(*topic), done);
  if (markdown) return finish(r, topic_markdown(*topic), done);
  // The table of troubles is a page of its own width already.
  return finish(r, topic->name == "trouble" ? sheets::trouble_table(shipped_troubles(), page) : topic_text(*topic, page), done);
}

}  // namespace curdwright::program
