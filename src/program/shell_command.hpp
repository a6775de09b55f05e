// SPDX-License-Identifier: MIT
// The command `shell`: scripts that complete words in bash, zsh and fish, and what they ask the program.
#pragma once

#include "program/answers.hpp"

namespace curdwright::program {

int run_shell(const Request& request);

}  // namespace curdwright::program
