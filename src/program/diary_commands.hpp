// SPDX-License-Identifier: MIT
// The command `diary` and its verbs.
#pragma once

#include "program/answers.hpp"

namespace curdwright::program {

int run_diary(const Request& request);

}  // namespace curdwright::program
