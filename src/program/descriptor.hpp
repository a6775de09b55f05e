// SPDX-License-Identifier: MIT
#pragma once

#include <unistd.h>

#include <utility>

namespace curdwright::program {

/// An open file that is closed in the end; standard input, output and error stay open.
struct Descriptor {
  int fd = -1;
  explicit Descriptor(int f) : fd(f) {}
  Descriptor(Descriptor&& o) noexcept : fd(std::exchange(o.fd, -1)) {}
  Descriptor& operator=(Descriptor&&) = delete;
  ~Descriptor() {
    if (fd > 2) ::close(fd);
  }
};

}  // namespace curdwright::program
