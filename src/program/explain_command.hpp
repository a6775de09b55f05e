// SPDX-License-Identifier: MIT
// explain: how a figure of a recipe comes about.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_explain(const Request& request);

}  // namespace curdwright::program
