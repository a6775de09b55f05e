// SPDX-License-Identifier: MIT
// The command `diary` and its verbs.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>

#include "program/answers.hpp"

namespace curdwright::program {

/// A verb: what it takes behind the command, and which options.
struct DiaryVerb {
  std::string_view name, words, example, options;
  std::size_t least, most;             ///< words after the verb
  int (*run)(const Request&);
};
std::span<const DiaryVerb> all_verbs();

}  // namespace curdwright::program
