// SPDX-License-Identifier: MIT
// The written parts of the topics of `curdwright help`, in the form of topics.hpp. A line "  $ ..." is run by the tests.
#pragma once

#include <string>
#include <string_view>

namespace curdwright::program::pages {

extern const std::string_view amounts, recipe, kitchen, settings, diary_words, exit_status, environment, formats, safety;
/// Rows of the scales of taste.
std::string scales();

}  // namespace curdwright::program::pages
