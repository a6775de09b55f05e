// SPDX-License-Identifier: MIT
// `vary`: a recipe over one or two of its settings, as a table and as pictures.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_vary(const Request& request);

}  // namespace curdwright::program
