// SPDX-License-Identifier: MIT
/// \file study.hpp
/// One recipe planned again and again with other settings: each run is the batch that a sheet with those settings has.
///
///     Result<Batch> b = plan_texts(texts, catalogue);
///     Result<Variation> v = vary(texts, factors, responses, catalogue);
///     for (const Run& run : v->runs) print(run.at, run.cells);
#pragma once

#include <functional>

#include "curdwright/factor.hpp"
#include "curdwright/fit.hpp"
#include "curdwright/response.hpp"

namespace curdwright {

/// From recipe and kitchen to a batch, with all that may be wrong on the way: records, prices, a target out of reach, a
/// fault of the plan in words. Problems have a pointer, and no file.
Result<Batch> plan_inputs(const Inputs& inputs, const Catalogue& catalogue, Rounding rounding = Rounding::to_scales);

/// The same from texts. A recipe that wants nothing is planned for a kilogram of dry seed.
Result<Batch> plan_texts(InputTexts texts, const Catalogue& catalogue, Rounding rounding = Rounding::to_scales);

/// What one response came to in one run.
struct Cell {
  std::optional<double> value;  ///< in the unit of the response's key
  std::optional<Range> range;   ///< the middle 80 %, where ranges were asked for
};

/// How many loads the kitchen makes of a batch; where one more is needed, figures jump.
struct Loads {
  int jarfuls = 1, vessels = 1, pots = 1, fillings = 1;
  friend bool operator==(const Loads&, const Loads&) = default;
};

/// One choice of levels.
struct Run {
  std::vector<std::size_t> at;     ///< level of each factor
  std::vector<Cell> cells;         ///< of each response; none where the run has problems
  Problems problems;               ///< why it cannot be planned
  std::vector<std::string> stops;  ///< rules by which it must not be cooked
  Loads loads;                     ///< of a run without problems
};

struct Variation {
  std::vector<Factor> factors;
  std::vector<const Response*> responses;
  std::string currency;    ///< of costs
  std::size_t asked = 0;   ///< runs in all
  std::vector<Run> runs;   ///< the last factor's level changes first; fewer than asked where it was stopped
  [[nodiscard]] bool whole() const { return runs.size() == asked; }
};

/// A variation has at most this many runs.
inline constexpr std::size_t max_runs = 100000;
/// And holds at most this many figures of all its runs, one with its range counting twice.
inline constexpr std::size_t max_figures_of_runs = 300000;

struct VaryOptions {
  Depth depth = Depth::fast;  ///< of the ranges
  std::function<bool(std::size_t done, std::size_t of)> go_on;  ///< asked before each run; false stops it there
};

/// A full factorial: every level of each factor with every level of the others.
Result<Variation> vary(const InputTexts& texts, std::vector<Factor> factors, std::vector<const Response*> responses, const Catalogue& catalogue,
                       const VaryOptions& options = {});

}  // namespace curdwright
