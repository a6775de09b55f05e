// SPDX-License-Identifier: MIT
// `each`: recipes by the line, answers by the line.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_each(const Request& request);

}  // namespace curdwright::program
