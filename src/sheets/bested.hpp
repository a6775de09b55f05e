// SPDX-License-Identifier: MIT
// The answer of a search, for people and for programs.
#pragma once

#include <string>

#include "curdwright/best.hpp"

namespace curdwright::sheets {

/// \param recipe as the user named it
std::string answer_text(const Question& question, const Answer& answer, const std::string& command, int width);
std::string answer_json(const Question& question, const Answer& answer);
std::string answer_schema();

}  // namespace curdwright::sheets
