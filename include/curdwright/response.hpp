// SPDX-License-Identifier: MIT
/// \file response.hpp
/// What a batch can be asked for: every figure of its plan, and what follows from the whole of it, such as cost and time.
/// One table serves tables, searches, comparisons and rankings.
///
///     const Result<const Response*> r = find_response("protein_fraction");
///     if (const auto v = value(**r, batch)) print(*v, (*r)->unit);
///     const auto how_sure = response_ranges(batch, responses, sample_for(batch.setup.beliefs));
///
/// "Response" is the word of the design of experiments for what is looked at, as "factor" (factor.hpp) is for what is set.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/ranges.hpp"
#include "curdwright/solve.hpp"

namespace curdwright {

struct Response {
  std::string key;            ///< ends in its unit: "curd_mass_g", "protein_fraction", "cost_per_block"
  std::string plain;          ///< what a cook calls it
  std::string unit;           ///< as people write it: "g", "%", "min"; empty for a count; "money" for the kitchen's currency
  double to_unit = 1;         ///< key's unit to that of people
  Figure figure = Figure::end;///< of the plan; else
  double scale = 1;           ///< figure to key's unit
  std::optional<double> (*of)(const Batch&) = nullptr;
  bool less_is_better = false; ///< costs, times, what is to be got rid of
};

/// In the order in which `list figures` tells them.
std::span<const Response> all_responses();

/// By key, by key without its unit ("yield", "time"), or by the key that a figure has on the JSON sheet. Else a problem with the nearest key.
Result<const Response*> find_response(std::string_view key);

/// An amount of a response in the unit of its key: a plain number, or one with a unit ("3 %", "20 h").
Result<double> read_amount(const Response& response, std::string_view text);

/// The response of a planned batch in its key's unit; nothing where there is none: a cost without prices, say.
std::optional<double> value(const Response& response, const Batch& batch);
/// A cost of a batch for whose seed no price is told has no value. Problem: `out-of-reach`.
Problem without_price(const Response& cost);

/// The middle 80 % of each over a sample of the beliefs; nothing where fewer than half of the sample has a value.
std::vector<std::optional<Range>> response_ranges(const Batch& batch, std::span<const Response* const> responses, const Sample& sample);

}  // namespace curdwright
