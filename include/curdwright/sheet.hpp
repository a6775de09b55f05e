// SPDX-License-Identifier: MIT
/// \file sheet.hpp
/// The batch sheet, free of any format: all words and amounts are settled here, and renderers only lay out.
///
///     const Facts facts = facts_of(batch);
///     Sheet s = make_sheet(facts, {.units = Units::metric});
///     std::string page = to_text(s, {.width = 79});
///     std::string data = to_json(facts, s);
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "curdwright/calendar.hpp"
#include "curdwright/fit.hpp"
#include "curdwright/cautions.hpp"
#include "curdwright/correct.hpp"
#include "curdwright/cost.hpp"
#include "curdwright/nutrition.hpp"
#include "curdwright/ranges.hpp"
#include "curdwright/schedule.hpp"
#include "curdwright/settling.hpp"

namespace curdwright {

enum class Units { metric, us };

/// The kitchen's clock, for a batch whose start is told. Times go in from the beginning of the batch.
struct DayClock {
  std::function<LocalTime(Duration)> at;
  std::string zone;  ///< IANA name; empty: floating time
  std::string note;  ///< about a change of the clocks; may be empty
};

struct SheetOptions {
  Units units = Units::metric;
  const Ranges* ranges = nullptr;   ///< none: figures stand alone
  const DayClock* clock = nullptr;  ///< none: hours from the start
  const Correction* correction = nullptr;  ///< what was told of a batch in hand; the facts are of its batch
  bool publish = false;             ///< for other cooks: spoons beside small weights, and of a batch in hand all of it, not only what is to come
};

struct SheetAmount {
  std::string amount, what, note;
};

/// A weight to write down once it is there, beside what is expected.
struct SheetWeighing : SheetAmount {
  std::string_view measure;  ///< word that it is told by, "pulp"; empty where it is only for the cook
  int times = 1;             ///< that the scale needs
};

/// Rows of a name and up to three cells. A column without a head needs none.
struct SheetTable {
  struct Row {
    std::string what;
    std::array<std::string, 3> cells;
  };
  std::string heading;
  std::array<std::string, 3> columns;
  std::vector<Row> rows;
  std::string note;
};

struct SheetStep {
  int number = 0;
  Stage stage = Stage::soak;
  Step of = Step::sort_and_soak;
  std::string verb;                    ///< "Soak"
  std::string starts;                  ///< on the batch's own clock, "0 h 00"
  std::string takes;                   ///< "16 h, hands on 10 min"
  Duration start, length, hands_on;    ///< the same as numbers
  std::vector<Caution> before;         ///< read before the hands move
  std::vector<SheetAmount> amounts;    ///< large
  std::vector<std::string> actions;
  std::string ready;                   ///< what to see, feel, smell
  std::string if_not;                  ///< the next move
  std::vector<SheetWeighing> expected; ///< to weigh and write down
  bool done = false;                   ///< of a batch in hand
  std::vector<std::string> told;       ///< what was measured or set, beside the plan
};

/// Something told of a batch in hand, in its unit.
struct SheetReading {
  std::string_view word, plain;          ///< "pulp", "pulp, squeezed out"
  std::string unit;                      ///< as keys end: "g"
  Stage stage = Stage::soak;
  bool observed = false;                 ///< else a setting as done
  double told = 0;
  std::optional<double> planned, low, high;
  double weight = 1;                     ///< chance that it is no slip
  std::string slip;                      ///< what it may be instead; empty when it fits
};

/// What to do about something that was seen.
struct SheetMove {
  std::string seen, plain;          ///< "whey=milky", and what that looks like
  std::vector<std::string> before;  ///< to mind first; with the first move of a sighting only
  std::string cause, action, stop;
  std::string known;                ///< how the advice is known
  bool likely = false;              ///< the plan itself points to this cause
  bool discard = false;             ///< it is to be thrown out
  bool by_rule = false;             ///< for a rule that stops the batch, not for what was seen
};

/// A line of the day: one operation, or a run of jarfuls.
struct DayLine {
  std::string when, takes, what;  ///< "Fri 5 Mar 18:00", "10 min", "Sort and rinse"
  Duration start, length;
  bool hands = false;
  std::string_view step;          ///< key of the step
};

struct Sheet {
  std::string title, summary;
  std::string day_summary;               ///< when it starts and is ready; empty when no start is told
  std::vector<DayLine> day;              ///< in the order of the starts
  std::vector<std::string> moments;      ///< clock time of each operation of the timeline, ISO 8601; empty when no start is told
  std::string starts_at, ready_at, zone; ///< ISO 8601 and IANA, likewise
  std::vector<std::string> made_in;      ///< kitchen, gear, versions
  std::vector<SheetAmount> weigh_out;
  std::vector<std::string> vessels;
  Duration hands_on, total_time;
  bool gets_cold = true;                 ///< else total_time ends when the last block leaves the press
  std::string allergens;
  std::vector<std::string> ticks;
  std::vector<Caution> cautions;         ///< all that the rules say, in the order of the stages
  std::vector<Caution> stops;            ///< when not empty, nothing is to be cooked
  std::optional<SettlingAdvice> settling; ///< how long the milk should stand; none where nothing settles
  std::vector<SheetStep> steps;
  std::vector<SheetReading> readings;    ///< of a batch in hand
  SheetTable measured;                   ///< the same as a table
  std::vector<std::string> changed;      ///< what is planned otherwise now, and why
  std::vector<SheetMove> moves;          ///< the next moves, where something was seen
  std::vector<SheetAmount> noted;        ///< of a batch of the diary, to be published: how it tasted, and what the cook noted
  std::vector<SheetAmount> expect;       ///< what comes out
  NutritionLabel label;                  ///< what a label would say of it
  SheetTable nutrition;                  ///< the same as a table
  std::optional<Cost> cost;              ///< none: nothing has a price
  SheetTable costs;                      ///< the same as a table
  std::vector<SheetAmount> depends_on;   ///< what the yield depends on most, and what to do about it
  std::vector<SheetAmount> limits;       ///< dry seed that each piece of gear takes in one go, when the kitchen is to be filled
  std::string batches;                   ///< of one of several batches: how many, and why; empty else
  std::vector<SheetAmount> leftovers;    ///< what is left, and what to do with it
  std::vector<std::string> standing;     ///< what always holds
};

Sheet make_sheet(const Facts& facts, const SheetOptions& options);

struct TextOptions {
  int width = 79;
  bool colour = false;
};
std::string to_text(const Sheet& sheet, const TextOptions& options);

struct Pictures;
/// One HTML page with its style and pictures in it, without a script, for screen and print.
std::string to_html(const Sheet& sheet, const Pictures& pictures);

/// How a JSON document is printed: on a page of its own, indented, or on one line without its end.
enum class Layout { page, line };

/// The JSON document "curdwright.sheet/1".
/// \param ranges none: the document has no /ranges
std::string to_json(const Facts& facts, const Sheet& sheet, const Ranges* ranges = nullptr, Layout layout = Layout::page);

/// The day as an iCalendar file (RFC 5545), for a batch whose start is told.
/// \param start an instant, or a local time where no zone is known \param recipe text that the ids of events follow from
std::string to_ics(const Sheet& sheet, const std::variant<std::chrono::sys_seconds, LocalTime>& start, std::string_view recipe);

/// JSON Schema 2020-12 of that document.
std::string sheet_schema();

/// The sheet to be published: CommonMark with the tables of GFM. Every text comes out as plain words. Make it with SheetOptions::publish.
std::string to_markdown(const Sheet& sheet);

/// The recipe for search engines: schema.org Recipe as JSON-LD, safe inside a script element of a page. Make the sheet with SheetOptions::publish.
std::string to_json_ld(const Facts& facts, const Sheet& sheet, Units units = Units::metric);

/// The mass balance as a table (RFC 4180): a row for each stream that enters or leaves a stage.
std::string to_csv(const Facts& facts);

}  // namespace curdwright
