// SPDX-License-Identifier: MIT
// `rank`: which legume to try next.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_rank(const Request& request);

}  // namespace curdwright::program
