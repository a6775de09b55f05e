// SPDX-License-Identifier: MIT
// What can be set in a recipe or a kitchen, told by their own JSON Schema: completions and manual pages read it from here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace curdwright::program {

/// A place of a recipe or a kitchen. Items of a list stand at 0.
struct Settable {
  std::string pointer, about;
  std::string kind;                ///< "word", "text" (quantities too), "number", "count", "flag", "list", "object", "map"
  std::vector<std::string> words;  ///< where only a few will do
};

/// Those of a schema, in its order, objects and lists before what is in them.
std::vector<Settable> settables(std::string_view schema);

}  // namespace curdwright::program
