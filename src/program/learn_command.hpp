// SPDX-License-Identifier: MIT
// `learn`: from a diary to a kitchen that knows itself.
#pragma once

#include "program/request.hpp"

namespace curdwright::program {

int run_learn(const Request& request);

}  // namespace curdwright::program
