// SPDX-License-Identifier: MIT
// Problems that were found after reading have a pointer only; here they get file, line and column.
#pragma once

#include <string>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright {

/// What was read, kept so that a problem found later can be shown at its place.
struct Origin {
  std::string recipe, recipe_file, kitchen, kitchen_file;
  std::vector<std::string> set;
};

Problems located(Problems problems, const Origin& from);

}  // namespace curdwright
