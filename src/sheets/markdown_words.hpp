// SPDX-License-Identifier: MIT
// Plain words inside Markdown.
#pragma once

#include <string>
#include <string_view>

namespace curdwright::sheets {

/// Words that any reader of CommonMark, with or without the tables and bare links of GFM, shows as they are: no markup, no HTML, no link,
/// no end of a table's cell, wherever on a line they stand. In what would become a link, a word joiner (U+2060, which shows as nothing) stands.
std::string markdown_words(std::string_view words);

}  // namespace curdwright::sheets
