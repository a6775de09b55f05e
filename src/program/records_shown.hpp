// SPDX-License-Identifier: MIT
// A record, or the kitchen, as people and scripts read it: each figure with its range, unit, how it is known, and source.
#pragma once

#include <string>
#include <string_view>

#include "curdwright/catalogue.hpp"
#include "curdwright/kitchen.hpp"

namespace curdwright::program {

/// A legume, a coagulant or an extra.
Result<std::string> show_text(const Catalogue& catalogue, std::string_view what, std::string_view id, bool json);
/// The kitchen with the figures of its gear.
Result<std::string> kitchen_sheet(const Catalogue& catalogue, const Kitchen& kitchen, bool json);

}  // namespace curdwright::program
