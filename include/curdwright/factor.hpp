// SPDX-License-Identifier: MIT
/// \file factor.hpp
/// A setting that is varied, with the levels that it takes or the room in which it may be chosen.
///
///     Result<Factor> f = read_factor("/starch/time=10min:50min:10min");   // levels "10min", "20min", ... "50min"
///     Result<Factor> g = read_factor("/blend/total_water_to_dry=4:16:x2");// 4, 8, 16: logarithmic steps
///     Result<Factor> h = read_factor("/coagulate/with=calcium-chloride,nigari");
///     Result<Room> r = read_room("/starch/time=10min:2h");                // anything between; or a list
///
/// A pointer is one that `--set` takes: of the recipe, or of the kitchen below /kitchen.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright {

/// A factor takes at most this many levels.
inline constexpr std::size_t max_levels = 1000;

struct Level {
  std::string text;              ///< as `--set` takes it
  std::optional<double> number;  ///< in the factor's unit, where it is one
};

struct Factor {
  std::string pointer;
  std::string unit;           ///< of all levels, as written; empty for plain numbers and words
  std::vector<Level> levels;  ///< at least one
  bool logarithmic = false;
  [[nodiscard]] bool numeric() const;
  /// "/starch/time=20 min", as `--set` takes it.
  [[nodiscard]] std::string setting(std::size_t level) const { return pointer + "=" + levels[level].text; }
};

/// \returns the factor, or what is wrong with the text; whether the setting may take a level is found when it is planned
Result<Factor> read_factor(std::string_view text);

/// Where a setting may be chosen: between two ends, or among levels.
struct Room {
  std::string pointer;
  std::string text;           ///< as written behind the sign of equality
  std::string unit;
  double low = 0, high = 0;   ///< in that unit; both 0 for a list
  bool whole = false;         ///< whole numbers only
  std::vector<Level> levels;  ///< of a list
  [[nodiscard]] bool listed() const { return !levels.empty(); }
  /// "/starch/time=43.2 min"; for a number between the ends.
  [[nodiscard]] std::string setting(double number) const;
};
Result<Room> read_room(std::string_view text);

}  // namespace curdwright
