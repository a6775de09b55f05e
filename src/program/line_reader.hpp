// SPDX-License-Identifier: MIT
// Lines of a stream as they come, in memory that does not grow.
#pragma once

#include <string>
#include <vector>

#include "curdwright/problem.hpp"
#include "program/descriptor.hpp"

namespace curdwright::program {

/// A line longer than this is cut there, and refused by what reads it.
inline constexpr std::size_t longest_line = (1 << 20) + 1;

class LineReader {
 public:
  /// \param path "-" for standard input
  static Result<LineReader> open(const std::string& path);
  /// The lines that are there, waiting for one when there is none; empty at the end of the stream, or when a stop was asked
  /// for. So a program that writes a line and waits for its answer gets it.
  Result<std::vector<std::string>> next();

 private:
  LineReader(int fd, std::string name) : open_(fd), name_(std::move(name)) {}
  void take(std::string_view bytes, std::vector<std::string>& lines);
  Descriptor open_;
  std::string name_;
  std::string rest_;     ///< of a line whose end was not read yet
  bool at_end_ = false;
};

}  // namespace curdwright::program
