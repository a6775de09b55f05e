// SPDX-License-Identifier: MIT
// `compare`: recipes side by side.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_compare(const Request& request);

}  // namespace curdwright::program
