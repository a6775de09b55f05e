// SPDX-License-Identifier: MIT
// Numbers in the words of a kitchen, wherever they are said: on sheets, in cautions, in what to do about a trouble.
#pragma once

#include <string>
#include <string_view>

#include "curdwright/quantity.hpp"

namespace curdwright::text {

/// Half away from zero, never "-0".
std::string fixed(double value, int digits);
/// The nearest number of so many digits, for what noise of the arithmetic would make long; whatever the process's locale.
double to_digits(double value, int digits);
/// Digits behind the point that a scale of this step shows, at most 3: 0 for 5, 1 for 0.5, 2 for 0.25.
int digits_of(double step);
/// Expected, or not so particular: "1.72 kg", "565 g", "8.5 g".
std::string about(Mass m);
/// "1 pot", "3 pots".
std::string many(int n, std::string_view one, std::string_view more);
/// "45 s", "95 min", "3 h 15 min".
std::string duration(Duration d);

}  // namespace curdwright::text
