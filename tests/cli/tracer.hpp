// SPDX-License-Identifier: MIT
// Whether processes may be traced here: some containers forbid it.
#pragma once

#include "cli/run_program.hpp"

namespace curdwright::test {

/// Says so where it may not be, and what is then not put to the test.
inline bool can_trace(const std::string& else_untested) {
  const Sandbox box;
  if (box.run("strace -o /dev/null true").status == 0) return true;
  WARN("no process may be traced here: not put to the test is " << else_untested);
  return false;
}

}  // namespace curdwright::test
