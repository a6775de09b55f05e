// SPDX-License-Identifier: MIT
// The recipe as it is published, free of any format: what a vocabulary of recipes asks for besides what the sheet says.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "curdwright/sheet.hpp"

namespace curdwright::sheets {

struct PublishedSection {
  std::string name;
  std::vector<std::string> lines;  ///< in the order of the work, cautions first
};

struct Published {
  std::string name, description;
  std::string blocks, yield;       ///< "4", "4 blocks of 300 g"; no blocks where there is not one whole
  Duration prepare, cook, total;   ///< whole minutes; total is the sum
  std::string keywords;            ///< with commas between
  std::vector<std::string> ingredients, tools;
  std::vector<PublishedSection> sections;
  std::string serving;             ///< "1 block (300 g)"
  std::vector<std::pair<std::string_view, std::string>> nutrition;  ///< property of schema.org, and the amount in a serving: "25.1 g"
  std::optional<std::pair<std::string, std::string>> cost;          ///< currency and sum; none where a price is missing
};

/// \param sheet of these facts, not stopped
Published published(const Facts& facts, const Sheet& sheet, Units units);

}  // namespace curdwright::sheets
