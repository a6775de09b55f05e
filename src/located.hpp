// SPDX-License-Identifier: MIT
// Problems that were found after reading have a pointer only; here they get file, line and column.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright {

/// What was read, kept so that a problem found later can be shown at its place.
struct Origin {
  std::string recipe, recipe_file, kitchen, kitchen_file;
  std::vector<std::string> set;
};

Problems located(Problems problems, const Origin& from);

/// The tree that a pointer of recipe and kitchen together leads into, with what is left of the pointer.
inline constexpr std::string_view in_kitchen = "/kitchen";
struct Way {
  bool to_kitchen = false;
  std::string_view below;
};
inline Way way_of(std::string_view pointer) {
  const bool to_kitchen = pointer.starts_with(in_kitchen) && pointer.size() > in_kitchen.size() && pointer[in_kitchen.size()] == '/';
  return {to_kitchen, to_kitchen ? pointer.substr(in_kitchen.size()) : pointer};
}

}  // namespace curdwright
