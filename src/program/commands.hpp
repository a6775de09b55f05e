// SPDX-License-Identifier: MIT
// What each command does: from a request to texts and a status. Files and terminal are in files.hpp.
#pragma once

#include "program/options.hpp"

namespace curdwright::program {

enum Status { done = 0, answer_is_no = 1, bad_input = 2, bad_file = 3, our_fault = 70, interrupted = 130 };

/// Runs a request and returns the exit status; everything it says has been written.
int run(const Request& request);

/// Status that a set of problems asks for.
Status status_of(const Problems& problems);

}  // namespace curdwright::program
