// SPDX-License-Identifier: MIT
// `schema`: the JSON Schema of every file and answer, in one table.
#pragma once

#include <string_view>
#include <vector>

#include "program/request.hpp"

namespace curdwright::program {

/// What `schema` prints.
std::vector<std::string_view> schema_words();

}  // namespace curdwright::program
