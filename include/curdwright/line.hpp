// SPDX-License-Identifier: MIT
/// \file line.hpp
/// Recipes by the line: one line of JSON in, one line of JSON out, for a million of them.
///
///     Lines lines({.kitchen = kitchen, .set = {"/soak/time=12h"}}, catalogue);
///     for (std::string_view line : input) output << lines.answer(line, ++number).text << '\n';
///
/// A line is a recipe, as in a file. Its answer is the sheet of that recipe ("curdwright.sheet/1") on one line, the same that
/// `sheet --format json` prints, or its problems ("curdwright.problems/1"). A recipe that wants nothing is planned for a
/// kilogram of dry seed. answer() may be called by several threads at once; one line never changes the answer of another.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/sheet.hpp"
#include "curdwright/study.hpp"

namespace curdwright {

struct LineOptions {
  std::string file = "standard input";   ///< what messages call the stream
  std::optional<std::string> kitchen;      ///< text of a kitchen file; none: the built-in kitchen
  std::string kitchen_file;
  std::vector<std::string> set;            ///< settings on top of every recipe and of the kitchen
  Want want;                               ///< replaces that of every recipe
  Depth depth = Depth::off;                ///< of ranges
  std::vector<const Response*> responses;  ///< when not empty, the answer holds these alone ("curdwright.figures/1")
};

struct LineAnswer {
  std::string text;   ///< without the end of the line
  bool good = true;   ///< false: problems, or a batch that must not be cooked
};

class Lines {
 public:
  Lines(LineOptions options, const Catalogue& catalogue);
  /// Faults of the options themselves, which every line would repeat.
  [[nodiscard]] const Problems& problems() const { return problems_; }
  /// \param number of the line, from 1, for its problems
  [[nodiscard]] LineAnswer answer(std::string_view line, std::size_t number) const;

 private:
  [[nodiscard]] Result<Batch> plan_line(std::string_view line) const;
  LineOptions options_;
  Catalogue catalogue_;
  Kitchen kitchen_;
  Problems problems_;
};

/// JSON Schema of the short answer, "curdwright.figures/1".
std::string responses_schema();

}  // namespace curdwright
