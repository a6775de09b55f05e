// SPDX-License-Identifier: MIT
// What every JSON answer writes in one way.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "curdwright/cautions.hpp"
#include "curdwright/sheet.hpp"

namespace curdwright {

/// Nine significant digits; what is smaller than rounding noise is nothing.
nlohmann::ordered_json number(double v);

nlohmann::ordered_json caution_json(const Caution& c);

/// Of many problems these many are told: a screen or two; whoever has more faults than that starts with these.
inline constexpr std::size_t most_told = 50;
/// The document "curdwright.problems/1".
nlohmann::ordered_json problems_document(const Problems& problems);

/// An answer as it is printed; what is not UTF-8 is replaced. A page ends its last line, a line does not.
std::string printed(const nlohmann::ordered_json& document, Layout layout);

/// The JSON library prints a few doubles longer than need be; those are printed anew, as short as they can be read back.
std::string shortened(const std::string& text);

}  // namespace curdwright
