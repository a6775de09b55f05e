// SPDX-License-Identifier: MIT
/// \file best.hpp
/// The settings with which a recipe does best: the most or least of one response, while conditions on others are kept.
///
///     Question q{texts, *read_aim("protein_per_cost", true), {*read_condition("starch_fraction<=0.03")}, {*read_room("/starch/time=10min:2h")}};
///     Result<Answer> a = best(q, catalogue);
///     for (const std::string& s : a->settings) print(s);     // "/starch/time=44 min"
///
/// Listed settings are tried in every combination. In each, points of a Sobol sequence find where it is promising, and
/// COBYLA of NLopt, which keeps inequalities and needs no slopes, goes on from the best of them. Searching is done without
/// rounding to scales; the answer is planned again as a sheet would be, and is what that plan says. Nothing that a rule
/// stops is ever an answer.
#pragma once

#include <functional>

#include "curdwright/study.hpp"

namespace curdwright {

struct Aim {
  const Response* response = nullptr;
  bool most = true;  ///< else the least
};
Result<Aim> read_aim(std::string_view key, bool most);

/// "starch_fraction<=0.03", "time<=20h", "protein_fraction>=8%"
struct Condition {
  const Response* response = nullptr;
  bool at_most = true;
  double limit = 0;  ///< in the unit of the response's key
  std::string text;  ///< as written
};
Result<Condition> read_condition(std::string_view text);

struct Question {
  InputTexts texts;
  Aim aim;
  std::vector<Condition> keep;
  std::vector<Room> let;
};

/// What would be gained by giving way.
struct Relaxed {
  std::string what;                    ///< "starch_fraction<=0.03", or "/blend/total_water_to_dry, its lower end 4"
  double to = 0;                       ///< where the limit was moved to
  const Response* response = nullptr;  ///< whose limit it is; none: of a room
  std::string unit;                    ///< of a room
  double aim = 0;                      ///< what the aim would then come to
};

struct Answer {
  std::vector<std::string> settings;       ///< as `--set` takes them
  Batch batch;                             ///< with them, rounded to the scales, as a sheet has it
  double aim = 0;                          ///< of that batch
  std::optional<Range> range;
  std::vector<double> kept;                ///< of each condition's response
  std::vector<bool> binds;                 ///< whether each condition holds the aim back
  std::optional<double> as_it_stands;      ///< the aim of the recipe without the settings
  std::vector<Relaxed> relaxed;            ///< by how much each limit that binds holds it back, most first
  std::size_t plans = 0;                   ///< that were looked at
  bool whole = true;                       ///< false: stopped before the search came to its end
};

/// At most so many settings are searched, and combinations of listed ones.
inline constexpr std::size_t max_let = 6, max_combinations = 500;

/// \param go_on asked before each combination; false ends the search with the best so far
Result<Answer> best(const Question& question, const Catalogue& catalogue, const std::function<bool(std::size_t done, std::size_t of)>& go_on = {});

}  // namespace curdwright
