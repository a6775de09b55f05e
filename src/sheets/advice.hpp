// SPDX-License-Identifier: MIT
// What a cook can do about a number that is not well known.
#pragma once

#include <string_view>

#include "curdwright/parameters.hpp"

namespace curdwright::sheets {

/// "squeeze the pulp harder, and weigh it". Never empty.
std::string_view advice(Param p);

}  // namespace curdwright::sheets
