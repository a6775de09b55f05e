// SPDX-License-Identifier: MIT
// The nearest known word to a mistyped one.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace curdwright::text {

/// Optimal string alignment distance: insert, delete, change, swap neighbours.
std::size_t distance(std::string_view a, std::string_view b);

/// The nearest of `known` within distance 3 and within half the word's length; empty when none is near.
std::string_view nearest(std::string_view word, std::span<const std::string_view> known);

/// "did you mean "x"?", else the list when it is short enough to help, else nothing.
std::string suggest(std::string_view word, std::span<const std::string_view> known);

}  // namespace curdwright::text
