// SPDX-License-Identifier: MIT
// The table of troubles as a page to read, without a batch.
#pragma once

#include <string>

#include "curdwright/trouble.hpp"

namespace curdwright::sheets {

/// What can be seen, what it may be, what to do, when to stop, and how it is known; then the numbers behind it.
/// No line is wider than `width` cells.
std::string trouble_table(const Troubles& troubles, int width);

}  // namespace curdwright::sheets
