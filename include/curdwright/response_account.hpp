// SPDX-License-Identifier: MIT
/// \file response_account.hpp
/// How a response comes about: the account of its figure, with what lies between the two; and of a cost, its bill.
///
///     Result<Account> a = account(batch, **find_response("protein_fraction"));
#pragma once

#include "curdwright/account.hpp"
#include "curdwright/response.hpp"

namespace curdwright {

/// \returns the account, or a problem for what is no figure of the plan and no cost: times and growth are reckoned along the day
Result<Account> account(const Batch& batch, const Response& response);

}  // namespace curdwright
