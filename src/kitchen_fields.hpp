// SPDX-License-Identifier: MIT
// Description of a kitchen, for the reader, the schema and the finder of pointers.
#pragma once

#include "curdwright/kitchen.hpp"
#include "json/fields.hpp"

namespace curdwright {

void describe_kitchen(json::Fields& f, Kitchen& kitchen);

}  // namespace curdwright
