// SPDX-License-Identifier: MIT
// `list` and `show`: records, rules and the kitchen in use, to look through.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_list(const Request& request);
int run_show(const Request& request);

}  // namespace curdwright::program
