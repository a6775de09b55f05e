// SPDX-License-Identifier: MIT
// What was learned, in words.
#pragma once

#include <string>

#include "curdwright/findings.hpp"
#include "curdwright/teach.hpp"

namespace curdwright::sheets {

struct LearnedPage {
  bool explain = false;          ///< each batch's weight
  bool next = false;             ///< what would teach most
  std::vector<std::string> left_out;  ///< batches that could not be used, and why
};

/// \param taught in the order of the lesson's batches
std::string learned_text(const Lesson& lesson, std::span<const Taught> taught, const LearnedPage& page);
/// "curdwright.lesson/1"
std::string learned_json(const Lesson& lesson, std::span<const Taught> taught, const LearnedPage& page);

/// JSON Schema 2020-12 of that document.
std::string lesson_schema();

}  // namespace curdwright::sheets
