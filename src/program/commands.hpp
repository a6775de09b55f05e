// SPDX-License-Identifier: MIT
// What each command does: from a request to texts and a status. Files and terminal are in files.hpp.
#pragma once

#include <string_view>
#include <vector>

#include "program/answers.hpp"

namespace curdwright::program {

/// What `schema` prints.
std::vector<std::string_view> schema_words();

/// Runs a request and returns the exit status; everything it says has been written.
int run(const Request& request);

}  // namespace curdwright::program
