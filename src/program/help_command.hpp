// SPDX-License-Identifier: MIT
// The command `help`: of a command or a topic, for the terminal or as a page of the manual.
#pragma once

#include "program/answers.hpp"

namespace curdwright::program {

int run_help(const Request& request);

}  // namespace curdwright::program
