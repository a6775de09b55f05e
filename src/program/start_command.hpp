// SPDX-License-Identifier: MIT
// `new start`: a few questions, and a recipe and a kitchen that fit the answers. On a terminal they are asked; a script gives them as options.
#pragma once

#include "program/answers.hpp"

namespace curdwright::program {

int new_start(const Request& request);

/// The options that answer a question, in the order in which they are asked.
std::vector<std::string_view> start_options();

}  // namespace curdwright::program
