// SPDX-License-Identifier: MIT
#include "program/line_reader.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <utility>

#include "program/files.hpp"
#include "text/width.hpp"

namespace curdwright::program {
namespace {

Problem stream_problem(std::string_view what, const std::string& name, int error) {
  return {"file", {.file = text::harmless(name)}, fmt::format("{}: {}", what, std::strerror(error)), "", error == ENOENT ? "check the name" : error == EISDIR ? "name a file, not a folder" : ""};
}

}  // namespace

Result<LineReader> LineReader::open(const std::string& path) {
  if (path == "-") return LineReader(0, "standard input");
  const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NOCTTY);
  if (fd < 0) return fail(stream_problem("cannot be opened", path, errno));
  return LineReader(fd, path);
}

void LineReader::take(std::string_view bytes, std::vector<std::string>& lines) {
  while (!bytes.empty()) {
    const auto end = bytes.find('\n');
    const std::string_view part = bytes.substr(0, end);
    // What goes beyond the longest line is passed over to its end, and only its length by one byte too many is kept.
    rest_.append(part.substr(0, longest_line - std::min(longest_line, rest_.size())));
    if (end == std::string_view::npos) return;
    if (rest_.ends_with('\r')) rest_.pop_back();
    lines.push_back(std::exchange(rest_, {}));
    bytes.remove_prefix(end + 1);
  }
}

Result<std::vector<std::string>> LineReader::next() {
  std::vector<std::string> lines;
  std::array<char, 1 << 16> buffer{};
  while (lines.empty() && !at_end_) {
    const ssize_t n = ::read(open_.fd, buffer.data(), buffer.size());
    if (stop_asked()) return std::vector<std::string>{};
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return fail(stream_problem("cannot be read", name_, errno));
    if (n > 0) {
      take({buffer.data(), static_cast<std::size_t>(n)}, lines);
      continue;
    }
    at_end_ = true;
    // The last line needs no end.
    if (!rest_.empty()) lines.push_back(std::exchange(rest_, {}));
  }
  return lines;
}

}  // namespace curdwright::program
