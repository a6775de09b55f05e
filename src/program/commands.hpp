// SPDX-License-Identifier: MIT
// From a request to the command that answers it. Files and terminal are in files.hpp.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

/// Runs a request and returns the exit status; everything it says has been written.
int run(const Request& request);

}  // namespace curdwright::program
