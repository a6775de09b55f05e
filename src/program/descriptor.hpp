// SPDX-License-Identifier: MIT
#pragma once

#include <unistd.h>

namespace curdwright::program {

/// An open file that is closed in the end; standard input, output and error stay open.
struct Descriptor {
  int fd = -1;
  explicit Descriptor(int f) : fd(f) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (fd > 2) ::close(fd);
  }
};

}  // namespace curdwright::program
