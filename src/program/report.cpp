// SPDX-License-Identifier: MIT
#include "program/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>

#include "sheets/json_values.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

/// A key may be as long as a file; a message may not.
constexpr std::size_t longest_pointer = 200;

/// Cells before a character of a text, the first being 1.
int cells_before(std::string_view s, int character) {
  const auto continues = [&](std::size_t i) { return (static_cast<unsigned char>(s[i]) & 0xC0U) == 0x80U; };
  std::size_t at = 0;
  for (int passed = 1; passed < character && at < s.size(); ++passed)
    do ++at;
    while (at < s.size() && continues(at));
  return text::width(s.substr(0, at));
}

std::string where(const Place& p) {
  std::string s = text::harmless(p.file);
  if (p.line > 0) s += fmt::format(":{}:{}", p.line, p.column);
  if (!p.pointer.empty()) s += (s.empty() ? "" : ": ") + text::harmless(text::cut(p.pointer, longest_pointer));
  return s;
}

}  // namespace

std::string strong(std::string_view s, bool colour) { return colour ? fmt::format("\033[1;31m{}\033[0m", s) : std::string(s); }

std::string problems_text(const Problems& problems, bool colour) {
  std::string out;
  std::size_t told = 0;
  for (const Problem& p : problems) {
    if (told++ == most_told) {
      out += fmt::format("... and {} more\n", problems.size() - most_told);
      break;
    }
    const std::string at = where(p.place);
    out += fmt::format("{}{}{}\n", at.empty() ? "curdwright" : at, ": ", strong(text::harmless(p.what), colour));
    if (!p.place.excerpt.empty() && p.place.line > 0) {
      const std::string excerpt = text::harmless(p.place.excerpt);
      out += fmt::format("  {}\n  {}^\n", excerpt, std::string(static_cast<std::size_t>(cells_before(excerpt, p.place.caret)), ' '));
    }
    if (!p.why.empty()) out += fmt::format("  why: {}\n", text::harmless(p.why));
    if (!p.fix.empty()) out += fmt::format("  fix: {}\n", text::harmless(p.fix));
  }
  return out;
}

std::string problems_json(const Problems& problems) { return printed(problems_document(problems), Layout::page); }

std::string mend_writing(int error) {
  switch (error) {
    case ENOENT: return "make the folder first, or name a file in one that is there";
    case ENOTDIR: return "name a file in a folder; a part of this name is a file";
    case EISDIR: return "name a file, not a folder";
    case EACCES:
    case EPERM:
    case EROFS: return "name a file in a folder that you may write to";
    case ENAMETOOLONG: return "shorten the name";
    case ENOSPC:
    case EDQUOT: return "free some space";
    case EFBIG: return "raise the limit on the size of files";
    default: return "name another file";
  }
}

Place shown_as(const std::string& path) { return {.file = path.empty() ? "\"\"" : text::harmless(path)}; }

}  // namespace curdwright::program
