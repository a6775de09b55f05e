// SPDX-License-Identifier: MIT
// A batch that is one of several.
#pragma once

#include <string>

#include "curdwright/solve.hpp"
#include "sheets/amounts.hpp"

namespace curdwright::sheets {

/// Why there are several, what all of them come to, and which of them this one is. \param b has its `shared`
std::string sharing_words(const Batch& b, const Amounts& say);

}  // namespace curdwright::sheets
