// SPDX-License-Identifier: MIT
// The rows that every cause of the table of troubles stands in.
#pragma once

#include "rules/rules.hpp"

namespace curdwright::test {

enum class Comes { first, somewhere };

struct TroubleRow {
  std::string_view seen, cause;
  Try fires;
  Comes comes;      ///< in the recipe that calls it up
  Silence silent;   ///< a recipe in which it is not offered
};
std::vector<TroubleRow> trouble_rows();

}  // namespace curdwright::test
