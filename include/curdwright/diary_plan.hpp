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

}  // namespace curdwright
