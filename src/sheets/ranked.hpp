// SPDX-License-Identifier: MIT
// Legumes in their order, for people, for table programs and for other programs.
#pragma once

#include <string>

#include "curdwright/rank.hpp"

namespace curdwright::sheets {

std::string ranked_text(const RankQuestion& question, const Ranking& ranking, int width);
std::string ranked_csv(const RankQuestion& question, const Ranking& ranking);
std::string ranked_json(const RankQuestion& question, const Ranking& ranking);
std::string ranking_schema();

}  // namespace curdwright::sheets
