// SPDX-License-Identifier: MIT
// `new`: a recipe or a kitchen to begin with.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_new(const Request& request);

}  // namespace curdwright::program
