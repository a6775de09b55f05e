// SPDX-License-Identifier: MIT
#include "sheets/markdown_words.hpp"

#include "text/letters.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

constexpr std::string_view joiner = "\xE2\x81\xA0";

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80; }

/// Whether the number at the front would begin a list: "12. " or "12) ".
bool begins_list(std::string_view s, std::size_t& digits) {
  digits = 0;
  while (digits < s.size() && text::is_digit(s[digits])) ++digits;
  return digits > 0 && digits < s.size() && (s[digits] == '.' || s[digits] == ')') && (digits + 1 == s.size() || s[digits + 1] == ' ');
}

/// Whether a mark at the front would begin a list, a rule or an underline; in "-0.81" it begins a number.
bool begins_block(std::string_view s) {
  if (s.empty() || std::string_view("-+=").find(s[0]) == std::string_view::npos) return false;
  return s[0] == '=' || s.size() == 1 || s[1] == ' ' || s[1] == s[0];
}

/// The character at a place, written so that it says nothing but itself.
void add(std::string& out, std::string_view s, std::size_t at) {
  const char c = s[at], before = at > 0 ? s[at - 1] : ' ', next = at + 1 < s.size() ? s[at + 1] : ' ';
  if (c == '<') out += "&lt;";
  else if (c == '>') out += "&gt;";
  else if (c == '&') out += "&amp;";
  else if (std::string_view("\\`*_[]|~#{}$").find(c) != std::string_view::npos) (out += '\\') += c;
  // Bare links and addresses: some readers look for them before they read escapes, others after.
  else if (c == '@') ((out += joiner) += "\\@") += joiner;
  else if (c == ':' && (next == '/' || is_letter(next))) (out += "\\:") += joiner;
  else if (c == '/' && next == '/') (out += "\\/") += joiner;
  else if (c == '.' && is_letter(next) && before != ' ') (out += joiner) += "\\.";
  else out += c;
}

}  // namespace

std::string markdown_words(std::string_view words) {
  const std::string plain = text::harmless(text::trimmed(words));
  const std::string_view s = text::trimmed(plain);
  std::string out;
  std::size_t digits = 0;
  const bool list = begins_list(s, digits);
  for (std::size_t i = 0; i < s.size(); ++i) {
    // What begins a block does so only at the start of a line.
    if ((i == 0 && begins_block(s)) || (list && i == digits)) out += '\\';
    add(out, s, i);
  }
  return out;
}

}  // namespace curdwright::sheets
