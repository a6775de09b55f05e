// SPDX-License-Identifier: MIT
#include "program/choices.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// Where the words of an option, or what it does, depend on the command or its verb. Of --format the table of options has the sum.
struct ChoiceRow {
  std::string_view option, commands, words, about;  ///< commands: one after the other, with bars between
};
constexpr std::array rows = {
    ChoiceRow{"--format", "check|explain|list|show|learn|best|diary start|diary add|diary score|diary piece|diary list", "text|json",
              "form of the output (text)"},
    ChoiceRow{"--format", "sheet", "text|json|html|markdown|jsonld|csv|ics",
              "form of the output (text); html is a page, markdown for publishing, jsonld recipe markup, csv the mass balance, ics a calendar"},
    ChoiceRow{"--format", "diary", "text|json|csv|html", "form of the output (text); html is a page of show and compare, csv a table of export"},
    ChoiceRow{"--format", "diary export", "csv|json", "form of the output (csv)"},
    ChoiceRow{"--format", "compare|diary show|diary compare", "text|json|html", "form of the output (text); html is a page"},
    ChoiceRow{"--format", "vary", "text|json|csv|svg|html", "form of the output (text); csv is a table, svg a picture, html a page"},
    ChoiceRow{"--format", "rank", "text|json|csv", "form of the output (text); csv is a table"},
    ChoiceRow{"--format", "help", "text|man|markdown", "form of the output (text); man is a page of the manual, markdown tables"},
    ChoiceRow{"--format", "schema", "json|markdown", "form of the output (json); markdown is a table of what the schema says"},
    ChoiceRow{"--output", "learn", "", "write the kitchen, with what was learned, to a file; the answer is printed all the same"},
    ChoiceRow{"--ranges", "each", "off|fast|full", "likely ranges: none (off), from 128 plans (fast), or from 4096 (full)"},
};

const ChoiceRow* row_of(std::string_view option, std::string_view command) {
  const auto of = [&](std::string_view commands) {
    const auto each = text::split(commands, '|');
    return std::find(each.begin(), each.end(), command) != each.end();
  };
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const ChoiceRow& c) { return c.option == option && of(c.commands); });
  if (row != rows.end()) return &*row;
  const auto blank = command.find(' ');
  return blank == std::string_view::npos ? nullptr : row_of(option, command.substr(0, blank));
}

}  // namespace

std::string_view choices(const OptionRow& option, std::string_view command) {
  if (const ChoiceRow* c = row_of(option.name, command)) return c->words;
  return option.value.find('|') == std::string_view::npos ? "" : option.value;
}

std::string_view help_with(const OptionRow& option, std::string_view command) {
  const ChoiceRow* c = row_of(option.name, command);
  return c ? c->about : option.help;
}

std::string command_and_verb(const Request& r) { return r.command == "diary" && !r.words.empty() ? fmt::format("diary {}", r.words[0]) : r.command; }

Result<std::string> chosen(const Request& r, std::string_view option) {
  const std::vector<std::string_view> known = text::split(choices(*option_named(option), command_and_verb(r)), '|');
  const auto value = r.value(option);
  if (!value) return std::string(known.front());
  if (std::find(known.begin(), known.end(), *value) != known.end()) return *value;
  return fail(usage(fmt::format("{} cannot be {}", option, text::quoted(*value)), "", text::suggest(*value, known)));
}

}  // namespace curdwright::program
