// SPDX-License-Identifier: MIT
#include "program/asked.hpp"

#include <fmt/format.h>

#include "program/answers.hpp"
#include "program/choices.hpp"
#include "program/files.hpp"
#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::program {

Problems of_option(Problems problems, std::string_view option, std::string_view value) {
  for (Problem& p : problems)
    if (p.place.file.empty()) p.place.file = value.empty() ? std::string(option) : fmt::format("{} {}", option, text::harmless(text::cut(value, 120)));
  return problems;
}

Result<std::vector<const Response*>> responses_of(const Request& r, std::span<const std::string_view> otherwise) {
  std::vector<const Response*> all;
  Problems problems;
  const auto add = [&](std::string_view key) {
    const auto found = find_response(text::trimmed(key));
    if (found)
      all.push_back(*found);
    else
      for (Problem& p : of_option(found.error(), "--figures", "")) problems.push_back(std::move(p));
  };
  if (const auto told = r.value("--figures")) {
    for (std::string_view key : text::split(*told, ',')) add(key);
  } else {
    for (std::string_view key : otherwise) add(key);
  }
  constexpr std::size_t most = 24;
  if (all.size() > most) problems.push_back(usage(fmt::format("{} figures are asked for", all.size()), fmt::format("at most {} can be told at once", most), "ask for fewer"));
  if (!problems.empty()) return fail(std::move(problems));
  return all;
}

Result<Depth> depth_of(const Request& r) {
  const auto word = chosen(r, "--ranges");
  return word ? *from_word<Depth>(*word) : Result<Depth>(fail(word.error()));
}

Result<std::string> plot_wish(const Request& r) {
  auto wish = chosen(r, "--plot");
  if (!wish || *wish != "auto") return wish;
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const std::string locale = text::lower_case(environment(name));
    if (locale.empty()) continue;
    return std::string(locale.find("utf-8") != std::string::npos || locale.find("utf8") != std::string::npos ? "unicode" : "ascii");
  }
  return std::string("ascii");
}

Result<int> width_of(const Request& r) {
  if (!r.has("--width")) return standard_output().columns;
  return count_option(r, "--width", 40, 120);
}

}  // namespace curdwright::program
