// SPDX-License-Identifier: MIT
// Descriptions of recipe and kitchen, for the reader, the schema and the finder of pointers.
#pragma once

#include "curdwright/recipe.hpp"
#include "json/fields.hpp"

namespace curdwright {

void describe_recipe(json::Fields& f, Recipe& recipe);
void describe_kitchen(json::Fields& f, Kitchen& kitchen);

}  // namespace curdwright
