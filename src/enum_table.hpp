// SPDX-License-Identifier: MIT
// Tables that have a row for each value of an enum.
#pragma once

#include <array>
#include <cstddef>

namespace curdwright {

/// Whether each row stands at the number of its own value, so that a value finds its row without a search.
template <class Row, std::size_t n, class E>
constexpr bool in_order(const std::array<Row, n>& table, E Row::* value) {
  for (std::size_t i = 0; i < n; ++i)
    if (static_cast<std::size_t>(table[i].*value) != i) return false;
  return true;
}

}  // namespace curdwright
