// SPDX-License-Identifier: MIT
// Long work: how far it is, on a terminal only, and Ctrl-C as a wish to stop with what is done.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>

namespace curdwright::program {

class Progress {
 public:
  /// \param what is counted: "runs"
  explicit Progress(std::string what);
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  /// Takes its line away.
  ~Progress();

  /// Told of each piece; false once the user asked to stop.
  bool go_on(std::size_t done, std::size_t of);

 private:
  using Clock = std::chrono::steady_clock;
  std::string what_;
  Clock::time_point begun_, shown_;
  bool terminal_;
  bool line_there_ = false;
};

}  // namespace curdwright::program
