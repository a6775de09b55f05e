// SPDX-License-Identifier: MIT
// An account as a tree to read, and as JSON.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "curdwright/account.hpp"

namespace curdwright::sheets {

using Citations = std::map<std::string, Citation>;

struct ExplainedPage {
  std::string title;
  int width = 79;
  std::optional<int> depth;  ///< of the tree; all of it when absent
};

std::string explained_text(const Account& account, const Citations& citations, const ExplainedPage& page);
std::string explained_json(const Account& account, const Citations& citations, const std::string& title);
std::string explained_schema();

}  // namespace curdwright::sheets
