// SPDX-License-Identifier: MIT
#include "program/progress.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "program/files.hpp"

namespace curdwright::program {
namespace {

/// Work that is done sooner needs no bar.
constexpr std::chrono::milliseconds quiet_for(500), between(100);
constexpr int bar_cells = 24;

std::string left_words(double seconds) { return seconds < 90 ? fmt::format("{:.0f} s to go", std::max(1.0, seconds)) : fmt::format("{:.0f} min to go", seconds / 60); }

}  // namespace

Progress::Progress(std::string what) : what_(std::move(what)), begun_(Clock::now()), shown_(begun_), terminal_(standard_error_is_terminal()) { stop_when_asked(); }

Progress::~Progress() {
  if (line_there_) write_error("\r\033[K");
}

bool Progress::go_on(std::size_t done, std::size_t of) {
  if (stop_asked()) return false;
  const auto now = Clock::now();
  if (!terminal_ || now - begun_ < quiet_for || now - shown_ < between || done == 0 || of == 0) return true;
  shown_ = now;
  line_there_ = true;
  const double share = static_cast<double>(done) / static_cast<double>(of), spent = std::chrono::duration<double>(now - begun_).count();
  const auto filled = static_cast<std::size_t>(share * bar_cells);
  write_error(fmt::format("\r\033[K[{}{}] {} of {} {}, {}; Ctrl-C stops with what is done", std::string(filled, '#'), std::string(bar_cells - filled, '.'), done, of, what_, left_words(spent * (1 / share - 1))));
  return true;
}

}  // namespace curdwright::program
