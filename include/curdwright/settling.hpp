// SPDX-License-Identifier: MIT
/// \file settling.hpp
/// How long milk should stand in this vessel.
///
///     if (const auto a = settling_advice(batch)) print(a->ninety, a->ninety_five, a->enough);
#pragma once

#include <optional>

#include "curdwright/solve.hpp"

namespace curdwright {

/// Times of one standing in whole minutes, none of them too short; each absent where two days do not bring it.
struct SettlingAdvice {
  double planned = 0;                           ///< share of what can settle that the planned standing brings down
  std::optional<Duration> ninety, ninety_five;  ///< until so many of a hundred parts of what can settle lie below the ladle
  std::optional<Duration> enough;               ///< from then on a further ten minutes bring less than one part in a hundred
};
/// Nothing for a batch that does not settle.
std::optional<SettlingAdvice> settling_advice(const Batch& batch);

}  // namespace curdwright
