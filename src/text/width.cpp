// SPDX-License-Identifier: MIT
#include "text/width.hpp"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <cstdint>

#include "text/letters.hpp"

namespace curdwright::text {
namespace {

/// Takes one character off the front; bytes that are no UTF-8 (RFC 3629) count one by one.
std::uint32_t take(std::string_view& s, std::size_t& bytes) {
  utf8proc_int32_t c = 0;
  const auto* const front = reinterpret_cast<const utf8proc_uint8_t*>(s.data());
  const utf8proc_ssize_t read = utf8proc_iterate(front, static_cast<utf8proc_ssize_t>(s.size()), &c);
  bytes = read > 0 ? static_cast<std::size_t>(read) : 1;
  if (read <= 0) c = *front;
  s.remove_prefix(bytes);
  return static_cast<std::uint32_t>(c);
}

bool unseen(std::uint32_t c) {
  return (c >= 0x7F && c < 0xA0) || c == 0x61C || c == 0x200E || c == 0x200F || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || (c >= 0xE0000 && c <= 0xE007F);
}

/// As terminals lay it out: marks that take room of their own, and signs of private use, stand in a cell.
int cells(std::uint32_t c) {
  const auto of = static_cast<utf8proc_int32_t>(c);
  const utf8proc_category_t kind = utf8proc_category(of);
  return kind == UTF8PROC_CATEGORY_MC || kind == UTF8PROC_CATEGORY_CO || kind == UTF8PROC_CATEGORY_CC ? 1 : utf8proc_charwidth(of);
}

/// Bytes of the longest head that fits.
std::size_t head_of(std::string_view s, int room) {
  std::size_t used = 0;
  for (std::string_view rest = s; !rest.empty();) {
    std::size_t bytes = 0;
    room -= cells(take(rest, bytes));
    if (room < 0) break;
    used += bytes;
  }
  return used;
}

}  // namespace

int width(std::string_view s) {
  if (std::all_of(s.begin(), s.end(), [](char c) { return c >= 0x20 && c < 0x7F; })) return static_cast<int>(s.size());
  int sum = 0;
  while (!s.empty()) {
    std::size_t bytes = 0;
    sum += cells(take(s, bytes));
  }
  return sum;
}

std::string padded(std::string_view s, int to) { return std::string(s) + std::string(static_cast<std::size_t>(std::max(0, to - width(s))), ' '); }
std::string padded_left(std::string_view s, int to) { return std::string(static_cast<std::size_t>(std::max(0, to - width(s))), ' ') + std::string(s); }

namespace {

/// Where the smaller part of a number ends that begins at `from`, with its unit if it has one.
std::size_t part_end(std::string_view s, std::size_t from, std::string_view unit) {
  const std::size_t end = s.find(' ', from);
  return end != std::string_view::npos && s.substr(end + 1).starts_with(unit) ? s.find(' ', end + 1) : end;
}

/// Where the word ends that begins at the front: at a space, but not between a number and its unit.
std::size_t word_end(std::string_view s) {
  constexpr std::array<std::string_view, 13> units = {"°C", "°F", "kg", "g", "l", "cm", "min", "h", "s", "%", "qt", "oz", "lb"};
  const std::size_t space = s.find(' ');
  if (space == std::string_view::npos || space == 0 || !is_digit(s[space - 1])) return space;
  const std::string_view rest = s.substr(space + 1);
  // "21 h 07", "2 h 20 min" and "10 lb 13 oz" are one number too.
  if (rest.starts_with("h ") && rest.size() > 2 && is_digit(rest[2])) return part_end(s, space + 3, "min");
  if (rest.starts_with("lb ") && rest.size() > 3 && is_digit(rest[3])) return part_end(s, space + 4, "oz");
  for (std::string_view u : units)
    if (rest.starts_with(u) && (rest.size() == u.size() || std::string_view(" ,.;:)").find(rest[u.size()]) != std::string_view::npos)) return s.find(' ', space + 1);
  return space;
}

}  // namespace

std::string hung(std::string_view lead, std::string_view words, int cells) {
  const int indent = width(lead);
  std::string out;
  for (const std::string& line : wrapped(words, cells - indent)) {
    out += out.empty() ? std::string(lead) : std::string(static_cast<std::size_t>(indent), ' ');
    out += line + "\n";
  }
  return out;
}

std::vector<std::string> wrapped(std::string_view s, int room) {
  std::vector<std::string> lines;
  std::string line;
  int used = 0;
  const auto flush = [&] {
    if (!line.empty()) lines.push_back(std::move(line));
    line.clear();
    used = 0;
  };
  while (!s.empty()) {
    const std::size_t space = word_end(s);
    std::string_view word = s.substr(0, space);
    s.remove_prefix(space == std::string_view::npos ? s.size() : space + 1);
    if (word.empty()) continue;
    if (!line.empty() && used + 1 + width(word) > room) flush();
    while (width(word) > room) {
      const std::size_t cut = std::max<std::size_t>(1, head_of(word, room));
      lines.emplace_back(word.substr(0, cut));
      word.remove_prefix(cut);
    }
    used += width(word) + (line.empty() ? 0 : 1);
    if (!line.empty()) line += ' ';
    line += word;
  }
  flush();
  return lines;
}

Character first_character(std::string_view s) {
  std::string_view rest = s;
  std::size_t bytes = 0;
  const std::uint32_t c = take(rest, bytes);
  return {s.substr(0, bytes), bytes > 1 || c < 0x80, unseen(c)};
}

namespace {

/// Nearly all of what is shown is plain ASCII, and is copied as it is.
std::string_view plain(std::string_view s, char least) {
  const auto end = std::find_if_not(s.begin(), s.end(), [least](char c) { return c >= least && c < 0x7F; });
  return s.substr(0, static_cast<std::size_t>(end - s.begin()));
}

std::string masked(std::string_view s, char least) {
  std::string out;
  out.reserve(s.size());
  while (true) {
    const std::string_view front = plain(s, least);
    out += front;
    s.remove_prefix(front.size());
    if (s.empty()) return out;
    const Character c = first_character(s);
    out += !c.utf8 || c.unseen || c.bytes.size() == 1 ? std::string_view("?") : c.bytes;
    s.remove_prefix(c.bytes.size());
  }
}

}  // namespace

std::string harmless(std::string_view s) { return masked(s, 0x20); }
std::string harmless_page(std::string_view s) { return masked(s, 0); }

std::string harmless_json(std::string_view s) {
  std::string out;
  while (!s.empty()) {
    const std::string_view before = s;
    std::size_t bytes = 0;
    const std::uint32_t c = take(s, bytes);
    if (unseen(c))
      out += c < 0x10000 ? fmt::format("\\u{:04x}", c) : fmt::format("\\u{:04x}\\u{:04x}", 0xD7C0 + (c >> 10), 0xDC00 + (c & 0x3FF));
    else
      out += before.substr(0, bytes);
  }
  return out;
}

std::string quoted(std::string_view s) { return fmt::format("\"{}\"", harmless(cut(s, 60))); }

bool is_utf8(std::string_view s) {
  while (!s.empty()) {
    std::size_t bytes = 0;
    if (take(s, bytes) >= 0x80 && bytes == 1) return false;
  }
  return true;
}

std::string cut(std::string_view s, std::size_t most) {
  if (s.size() <= most) return std::string(s);
  while (most > 0 && (static_cast<unsigned char>(s[most]) & 0xC0U) == 0x80U) --most;
  return std::string(s.substr(0, most)) + "...";
}

}  // namespace curdwright::text
