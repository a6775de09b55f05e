// SPDX-License-Identifier: MIT
/// \file diary_plan.hpp
/// A batch of the diary, planned again with the amounts that were planned then.
///
///     Result<Batch> b = planned_then(*diary.find("chickpea-7"), Catalogue::shipped(), Believed::then);
///     Result<Correction> c = correct(*b, readings_of(*diary.find("chickpea-7")));
#pragma once

#include "curdwright/diary.hpp"
#include "curdwright/fit.hpp"

namespace curdwright {

/// On which beliefs: those that were stored when the batch began, or the shipped ones, whatever the kitchen had learned by then.
enum class Believed { then, shipped };

/// Amounts are those of the diary, whatever the planner would plan today; a recipe that cannot be read or resolved any more is a problem.
Result<Batch> planned_then(const DiaryBatch& batch, Catalogue catalogue, Believed believed);

/// What the rules say of a batch as it was told.
struct Verdict {
  std::vector<std::string> stops;  ///< why its curd must not be eaten: what a rule stops, and what was seen that is thrown out
  std::vector<std::string> cares;  ///< warnings that it did not have as it was planned
};
/// A batch that cannot be checked any more is stopped, and says so.
Verdict verdict_of(const DiaryBatch& batch, const Catalogue& catalogue);

}  // namespace curdwright
