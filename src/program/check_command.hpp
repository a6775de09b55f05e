// SPDX-License-Identifier: MIT
// `check`: recipes that are read and planned, and what there is to take care of.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_check(const Request& request);

}  // namespace curdwright::program
