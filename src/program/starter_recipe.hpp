// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "curdwright/catalogue.hpp"
#include "curdwright/kitchen.hpp"

namespace curdwright::program {

/// A recipe with the defaults of its legume written out.
Result<std::string> starter_recipe(const Catalogue& catalogue, const Kitchen& kitchen, std::string_view legume, int blocks, std::optional<Mass> block = {});

}  // namespace curdwright::program
