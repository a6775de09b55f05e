// SPDX-License-Identifier: MIT
// What there is, by name: a table for people, entries for scripts.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "curdwright/catalogue.hpp"

namespace curdwright::program {

/// What list_text knows.
std::span<const std::string_view> list_words();
/// With `refused`, the refused seeds or salts.
Result<std::string> list_text(const Catalogue& catalogue, std::string_view what, bool refused, bool json);

}  // namespace curdwright::program
