// SPDX-License-Identifier: MIT
// Lets a failed comparison of problems show both.
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "curdwright/problem.hpp"

namespace Catch {
template <>
struct StringMaker<curdwright::Problem> {
  static std::string convert(const curdwright::Problem& p) {
    const curdwright::Place& at = p.place;
    return "[" + p.code + "] " + at.file + ":" + std::to_string(at.line) + ":" + std::to_string(at.column) + " " + at.pointer + " '" + at.excerpt + "' ^" +
           std::to_string(at.caret) + " | " + p.what + " | " + p.why + " | " + p.fix;
  }
};
}  // namespace Catch
