// SPDX-License-Identifier: MIT
// Text in terminal cells: width, padding, wrapping.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace curdwright::text {

/// Cells that a UTF-8 text takes by the tables of Unicode: 2 for wide characters, 0 for marks upon others, else 1.
int width(std::string_view s);
/// Padded with spaces on the right to so many cells.
std::string padded(std::string_view s, int cells);
std::string padded_left(std::string_view s, int cells);
/// Broken at spaces, but not between a number and its unit, into lines of at most so many cells; a longer word stands alone and is cut.
std::vector<std::string> wrapped(std::string_view s, int cells);
/// Wrapped lines, the first after `lead`, the others under where its words begin; each with its end.
std::string hung(std::string_view lead, std::string_view words, int cells);
/// What stands at the front of a text, which must not be empty.
struct Character {
  std::string_view bytes;
  bool utf8 = true;     ///< RFC 3629; a byte that belongs to no character stands alone
  bool unseen = false;  ///< DEL, C1, marks that turn the direction of text, breaks of lines that few readers know, and tags that no one sees
};
Character first_character(std::string_view s);
/// Control characters and what is unseen replaced, so that no text can drive a terminal.
std::string harmless(std::string_view s);
/// A whole page, whose own line ends and colours stay.
std::string harmless_page(std::string_view s);
/// The same for a JSON text as printed: such characters are written as \u escapes, so that no value changes.
std::string harmless_json(std::string_view s);
/// What was typed, as a problem shows it: in quotes, harmless, and at most 60 bytes of it.
std::string quoted(std::string_view s);
bool is_utf8(std::string_view s);
/// At most so many bytes, cut between characters, with "..." where something was cut.
std::string cut(std::string_view s, std::size_t most);

}  // namespace curdwright::text
