// SPDX-License-Identifier: MIT
// Of the standard normal distribution.
#pragma once

namespace curdwright {

/// Its 90 % quantile: half of a range that holds eight cases in ten, in standard deviations.
inline constexpr double z90 = 1.2815515655446004;

}  // namespace curdwright
