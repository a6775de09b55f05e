// SPDX-License-Identifier: MIT
// Markup that cannot be broken by what it holds: our own markup goes in raw, everything else escaped.
#pragma once

#include <string>
#include <string_view>

#include "text/width.hpp"

namespace curdwright::sheets {

/// For element content and for attributes in double quotes. Control characters, also those that turn text about, become "?".
inline std::string html_escaped(std::string_view s) {
  std::string out;
  for (char c : text::harmless(s)) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

class Html {
 public:
  /// Markup written in this program, never a text from outside.
  Html& raw(std::string_view markup) { return out_ += markup, *this; }
  Html& text(std::string_view words) { return out_ += html_escaped(words), *this; }
  /// <tag ...>words</tag>; \param tag with its attributes, "td class=\"n\""
  Html& element(std::string_view tag, std::string_view words) { return open(tag).text(words).close(tag); }
  Html& open(std::string_view tag) { return raw("<").raw(tag).raw(">"); }
  Html& close(std::string_view tag) { return raw("</").raw(tag.substr(0, tag.find(' '))).raw(">\n"); }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

}  // namespace curdwright::sheets
