// SPDX-License-Identifier: MIT
// What of two recipes, or two kitchens, counts as a difference.
#pragma once

#include <string>
#include <string_view>

namespace curdwright {

/// Names, prices and the schema change nothing about the food. \param at a pointer of recipe and kitchen together
bool tells_of_food(std::string_view at);

/// "12 h" is "720 min".
bool same_value(const std::string& a, const std::string& b);

}  // namespace curdwright
