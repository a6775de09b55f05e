// SPDX-License-Identifier: MIT
// `sheet`: a recipe or a batch of the diary, planned, corrected by what was told of it, and printed.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_sheet(const Request& request);

}  // namespace curdwright::program
