// SPDX-License-Identifier: MIT
// Description of a recipe, for the reader, the schema and the finder of pointers.
#pragma once

#include "curdwright/recipe.hpp"
#include "json/fields.hpp"
#include "kitchen_fields.hpp"

namespace curdwright {

void describe_recipe(json::Fields& f, Recipe& recipe);

}  // namespace curdwright
