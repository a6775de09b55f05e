// SPDX-License-Identifier: MIT
// What every JSON answer writes in one way.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "curdwright/cautions.hpp"

namespace curdwright {

/// Nine significant digits; what is smaller than rounding noise is nothing.
nlohmann::ordered_json number(double v);

nlohmann::ordered_json caution_json(const Caution& c);

/// The JSON library prints a few doubles longer than need be; those are printed anew, as short as they can be read back.
std::string shortened(const std::string& text);

}  // namespace curdwright
