// SPDX-License-Identifier: MIT
// Sections of the sheet that are tables.
#pragma once

#include "sheets/amounts.hpp"

namespace curdwright::sheets {

/// \param block what a block is called: "300 g"
SheetTable nutrition_table(const NutritionLabel& label, const std::string& block);

SheetTable cost_table(const Cost& cost, const Amounts& say);

}  // namespace curdwright::sheets
