// SPDX-License-Identifier: MIT
/// \file sheet.hpp
/// The batch sheet, free of any format: all words and amounts are settled here, and renderers only lay out.
///
///     const Facts facts = facts_of(batch);
///     Sheet s = make_sheet(facts, {.units = Units::metric});
///     std::string page = to_text(s, {.width = 79});
///     std::string data = to_json(facts, s);
#pragma once

#include <string>
#include <vector>

#include "curdwright/cautions.hpp"
#include "curdwright/ranges.hpp"
#include "curdwright/schedule.hpp"

namespace curdwright {

enum class Units { metric, us };

struct SheetOptions {
  Units units = Units::metric;
  const Ranges* ranges = nullptr;  ///< none: figures stand alone
};

struct SheetAmount {
  std::string amount, what, note;
};

struct SheetStep {
  int number = 0;
  Stage stage = Stage::soak;
  std::string verb;                    ///< "Soak"
  std::string starts;                  ///< on the batch's own clock, "0:00"
  std::string takes;                   ///< "16 h, hands on 10 min"
  Duration start, length, hands_on;    ///< the same as numbers
  std::vector<Caution> before;         ///< read before the hands move
  std::vector<SheetAmount> amounts;    ///< large
  std::vector<std::string> actions;
  std::string ready;                   ///< what to see, feel, smell
  std::string if_not;                  ///< the next move
  std::vector<SheetAmount> expected;   ///< to weigh and write down: amount and what
};

struct Sheet {
  std::string title, summary;
  std::vector<std::string> made_in;      ///< kitchen, gear, versions
  std::vector<SheetAmount> weigh_out;
  std::vector<std::string> vessels;
  Duration hands_on, total_time;
  std::string allergens;
  std::vector<std::string> ticks;
  std::vector<Caution> cautions;         ///< all that the rules say, in the order of the stages
  std::vector<Caution> stops;            ///< when not empty, nothing is to be cooked
  std::vector<SheetStep> steps;
  std::vector<SheetAmount> expect;       ///< what comes out
  std::vector<SheetAmount> depends_on;   ///< what the yield depends on most, and what to do about it
  std::vector<SheetAmount> left_over;    ///< what is left, and what to do with it
  std::vector<std::string> standing;     ///< what always holds
};

Sheet make_sheet(const Facts& facts, const SheetOptions& options);

struct TextOptions {
  int width = 79;
  bool colour = false;
};
std::string to_text(const Sheet& sheet, const TextOptions& options);

/// The JSON document "curdwright.sheet/1".
/// \param ranges none: the document has no /ranges
std::string to_json(const Facts& facts, const Sheet& sheet, const Ranges* ranges = nullptr);

/// JSON Schema 2020-12 of that document.
std::string sheet_schema();

}  // namespace curdwright
