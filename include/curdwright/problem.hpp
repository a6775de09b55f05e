// SPDX-License-Identifier: MIT
/// \file problem.hpp
/// What is wrong with an input, where, why, and how to mend it; and Result, a value or problems.
///
///     Result<Recipe> recipe = read_recipe({.recipe = text, .recipe_file = "beans.json"});
///     if (!recipe) for (const Problem& p : recipe.error()) show(p);
///     else cook_it(*recipe);
///
/// An expected fault is a value. An exception from this library means a bug in it.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace curdwright {

/// A place in a text that the user gave. Lines and columns count from 1; 0 means not known.
struct Place {
  std::string file{};     ///< as the user named it; empty for the command line
  int line = 0;
  int column = 0;         ///< in characters, not bytes
  std::string pointer{};  ///< JSON Pointer, RFC 6901
  std::string excerpt{};  ///< the line itself, shortened around the column
  int caret = 0;          ///< position of the column within the excerpt, from 1

  bool operator==(const Place&) const = default;
};

/// One fault. `code` is stable and listed in docs/reference.md; the words may improve.
struct Problem {
  std::string code;
  Place place;
  std::string what;  ///< what was found, with the number or word found
  std::string why;   ///< what is allowed and for what reason; may be empty
  std::string fix;   ///< what to write or do instead; may be empty

  bool operator==(const Problem&) const = default;
};

using Problems = std::vector<Problem>;

/// A value, or all the problems that stood in its way.
template <class T>
using Result = tl::expected<T, Problems>;

/// A failed Result that holds one problem.
inline tl::unexpected<Problems> fail(Problem problem) { return tl::unexpected<Problems>(Problems{std::move(problem)}); }
inline tl::unexpected<Problems> fail(Problems problems) { return tl::unexpected<Problems>(std::move(problems)); }

}  // namespace curdwright
