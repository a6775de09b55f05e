// SPDX-License-Identifier: MIT
// Sections of the sheet that are tables.
#pragma once

#include "curdwright/sheet.hpp"

namespace curdwright::sheets {

/// \param block what a block is called: "300 g"
SheetTable nutrition_table(const NutritionLabel& label, const std::string& block);

}  // namespace curdwright::sheets
