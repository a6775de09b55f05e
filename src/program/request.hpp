// SPDX-License-Identifier: MIT
// What was asked for, apart from how it is read off a command line: the commands need no more, and neither do their tests.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/problem.hpp"

namespace curdwright::program {

/// What the command line asks for.
struct Request {
  std::string command;
  std::vector<std::string> words;
  std::map<std::string, std::vector<std::string>, std::less<>> values;  ///< by option name
  bool help = false, version = false;

  [[nodiscard]] bool has(std::string_view option) const { return values.contains(option); }
  [[nodiscard]] std::optional<std::string> value(std::string_view option) const;
  [[nodiscard]] std::vector<std::string> all(std::string_view option) const;
};

/// A fault of the command line.
Problem usage(std::string what, std::string why, std::string fix);

}  // namespace curdwright::program
