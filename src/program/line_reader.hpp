// SPDX-License-Identifier: MIT
// Lines of a stream as they come, in memory that does not grow.
#pragma once

#include <string>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright::program {

/// A line longer than this is cut there, and refused by what reads it.
inline constexpr std::size_t longest_line = (1 << 20) + 1;

class LineReader {
 public:
  /// \param path "-" for standard input
  static Result<LineReader> open(const std::string& path);
  LineReader(LineReader&& o) noexcept;
  LineReader& operator=(LineReader&&) = delete;
  LineReader(const LineReader&) = delete;
  LineReader& operator=(const LineReader&) = delete;
  ~LineReader();

  /// The lines that are there, waiting for one when there is none; empty at the end of the stream, or when a stop was asked
  /// for. So a program that writes a line and waits for its answer gets it.
  Result<std::vector<std::string>> next();

 private:
  explicit LineReader(int fd, std::string name) : fd_(fd), name_(std::move(name)) {}
  void take(std::string_view bytes, std::vector<std::string>& lines);
  int fd_;
  std::string name_;
  std::string rest_;     ///< of a line whose end was not read yet
  bool at_end_ = false;
};

}  // namespace curdwright::program
