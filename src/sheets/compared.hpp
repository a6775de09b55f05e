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
std::string compared_text(const ComparedPage& page, int width);
std::string compared_json(const ComparedPage& page);
std::string comparison_schema();

}  // namespace curdwright::sheets
