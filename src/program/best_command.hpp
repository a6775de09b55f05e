// SPDX-License-Identifier: MIT
// `best`: the settings with which a recipe does best.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_best(const Request& request);

}  // namespace curdwright::program
