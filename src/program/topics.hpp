// SPDX-License-Identifier: MIT
// What `curdwright help TOPIC` explains besides commands. The text is kept once, in a plain form that the terminal and the manual pages lay out.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright::program {

/// A stretch of a page. Pages are written as text: blocks stand between blank lines; "# " begins a heading, two blanks
/// what stays as it is, "= term | meaning" a row; all else is a paragraph.
struct Block {
  enum class Kind { heading, paragraph, as_is, rows } kind = Kind::paragraph;
  std::vector<std::string> lines;  ///< of rows: "term | meaning"
};
std::vector<Block> blocks_of(std::string_view page);
/// "term | meaning"
std::pair<std::string_view, std::string_view> row_parts(std::string_view line);

struct Topic {
  std::string_view name, about;
  std::string_view also;     ///< other names, space-separated
  std::string (*page)();     ///< as blocks
  int section = 7;           ///< of the manual
};
std::span<const Topic> all_topics();
/// By name or another name; none when it is unknown.
const Topic* find_topic(std::string_view name);

/// A page for the terminal, no wider than `width` cells.
std::string topic_text(const Topic& topic, int width);

}  // namespace curdwright::program
