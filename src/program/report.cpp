// SPDX-License-Identifier: MIT
#include "program/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <span>

#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// A screen or two; whoever has more faults than that starts with these.
constexpr std::size_t most_told = 50;

std::string where(const Place& p) {
  std::string s = text::harmless(p.file);
  if (p.line > 0) s += fmt::format(":{}:{}", p.line, p.column);
  if (!p.pointer.empty()) s += (s.empty() ? "" : ": ") + text::harmless(p.pointer);
  return s;
}

}  // namespace

std::string problems_text(const Problems& problems, bool colour) {
  std::string out;
  const auto strong = [&](std::string_view s) { return colour ? fmt::format("\033[1;31m{}\033[0m", s) : std::string(s); };
  std::size_t told = 0;
  for (const Problem& p : problems) {
    if (told++ == most_told) {
      out += fmt::format("... and {} more\n", problems.size() - most_told);
      break;
    }
    const std::string at = where(p.place);
    out += fmt::format("{}{}{}\n", at.empty() ? "curdwright" : at, ": ", strong(text::harmless(p.what)));
    if (!p.place.excerpt.empty() && p.place.line > 0) {
      out += fmt::format("  {}\n", text::harmless(p.place.excerpt));
      out += fmt::format("  {}^\n", std::string(static_cast<std::size_t>(std::max(0, p.place.caret - 1)), ' '));
    }
    if (!p.why.empty()) out += fmt::format("  why: {}\n", text::harmless(p.why));
    if (!p.fix.empty()) out += fmt::format("  fix: {}\n", text::harmless(p.fix));
  }
  return out;
}

std::string problems_json(const Problems& problems) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const Problem& p : std::span(problems).first(std::min(problems.size(), most_told))) {
    nlohmann::ordered_json j = {{"code", p.code}};
    if (!p.place.file.empty()) j["file"] = text::harmless(p.place.file);
    if (p.place.line > 0) j["line_count"] = p.place.line, j["column_count"] = p.place.column;
    if (!p.place.pointer.empty()) j["pointer"] = p.place.pointer;
    j["what"] = p.what;
    if (!p.why.empty()) j["why"] = p.why;
    if (!p.fix.empty()) j["fix"] = p.fix;
    list.push_back(std::move(j));
  }
  const nlohmann::ordered_json document = {{"schema", "curdwright.problems/1"}, {"problems", list}};
  return document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace curdwright::program
