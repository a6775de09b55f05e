// SPDX-License-Identifier: MIT
// Words as they are typed: blanks around them, capitals in them.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright::text {

/// Without the blanks and tabs at both ends.
constexpr std::string_view trimmed(std::string_view s) {
  const auto first = s.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return s.substr(first, s.find_last_not_of(" \t") - first + 1);
}

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// ASCII capitals made small; other bytes, and so UTF-8, as they are.
inline std::string lower_case(std::string_view s) {
  std::string out(s);
  std::transform(out.begin(), out.end(), out.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return out;
}

/// Whether a list of words with blanks between holds the word.
constexpr bool holds_word(std::string_view list, std::string_view word) {
  while (!list.empty()) {
    const auto blank = list.find(' ');
    if (list.substr(0, blank) == word) return true;
    list.remove_prefix(blank == std::string_view::npos ? list.size() : blank + 1);
  }
  return false;
}

/// The parts between the signs; one part, maybe empty, where there is none.
inline std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> parts;
  for (std::size_t from = 0;;) {
    const std::size_t to = text.find(at, from);
    parts.push_back(text.substr(from, to == std::string_view::npos ? to : to - from));
    if (to == std::string_view::npos) return parts;
    from = to + 1;
  }
}

/// A word of a command line as a POSIX shell takes it.
inline std::string shell_word(std::string_view word) {
  constexpr std::string_view safe = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_/.=:,+@%";
  if (!word.empty() && word.find_first_not_of(safe) == std::string_view::npos) return std::string(word);
  if (word.find_first_of("\"$`\\!") == std::string_view::npos) return '"' + std::string(word) + '"';
  std::string out = "'";
  for (const char c : word) out += c == '\'' ? "'\\''" : std::string(1, c);
  return out + "'";
}

}  // namespace curdwright::text
