// SPDX-License-Identifier: MIT
// The next moves on a sheet.
#pragma once

#include "curdwright/sheet.hpp"
#include "curdwright/trouble.hpp"

namespace curdwright::sheets {

/// The most likely cause first; what to mind before any of them stands with the first.
std::vector<SheetMove> moves_for(const Batch& batch, const Troubles& troubles, const Sighting& seen, Units units);

}  // namespace curdwright::sheets
