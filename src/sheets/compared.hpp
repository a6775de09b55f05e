// SPDX-License-Identifier: MIT
// Recipes side by side, for people and for programs.
#pragma once

#include <string>

#include "curdwright/contrast.hpp"

namespace curdwright::sheets {

struct ComparedPage {
  std::vector<std::string> names;   ///< of the recipes, as the user named them
  std::vector<std::string> titles;
  std::vector<Differs> differs;
  std::vector<Contrast> contrasts;
  std::vector<std::vector<std::string>> stops;  ///< rules by which each must not be cooked
  std::string currency;
};
/// A recipe's part in a contrast, as words: "A", "1201", "(871 to 1680)", "+3001 (+2246 to +3995): clear: B has more in 100 of 100 cases".
struct ContrastWords {
  std::string recipe, value, range, beside_first;
};
std::vector<ContrastWords> words_of(const Contrast& contrast);
/// Recipes are called A, B, C ... on the page.
std::string recipe_letter(std::size_t i);
/// Which of them must not be cooked, by which rules.
std::vector<std::string> stop_words(const ComparedPage& page);
/// What the brackets and differences are.
std::string_view compared_note();
std::string compared_text(const ComparedPage& page, int width);
std::string compared_html(const ComparedPage& page);
std::string compared_json(const ComparedPage& page);
std::string comparison_schema();

}  // namespace curdwright::sheets
