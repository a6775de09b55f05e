// SPDX-License-Identifier: MIT
/// \file pictures.hpp
/// What a batch looks like, free of any form: where its mass goes, and how soak, starch and temperature run with time.
/// All of it is read from the plan, or asked of the same functions that the plan is made of.
///
///     Pictures p = pictures_of(facts, &ranges);
///     std::string page = to_html(sheet, p);
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "curdwright/cautions.hpp"
#include "curdwright/ranges.hpp"

namespace curdwright {

/// A stream that joins or leaves, by the name of the JSON sheet.
struct FlowBranch {
  std::string_view name;
  Composition of;
};
/// A stage: the main stream comes in and goes on, others join it and leave it.
struct FlowStep {
  Stage stage = Stage::soak;
  FlowBranch main_in, main_out;
  std::vector<FlowBranch> joins, leaves;
};

/// Something against time, with the moment that the recipe takes.
struct TimeCurve {
  struct Point {
    double at, value;
  };
  std::vector<Point> points;         ///< in the order of time
  std::optional<Point> chosen;
};

/// A limit of the cooling clock.
struct TemperatureLimit {
  Temperature at;
  std::optional<Duration> within;    ///< from the moment that the clock begins; none: here it begins
};

/// The middle 80 % of what a figure may be.
struct RangeBar {
  Figure figure = Figure::curd_mass;
  double value = 0;                  ///< of the plan, in the unit of the figure's key
  Range range;
};

struct Pictures {
  std::vector<FlowStep> flow;        ///< soak to press; a stage that changes nothing is left out
  TimeCurve soak;                    ///< hours; kilograms taken up by a kilogram of dry seed, with what clings
  std::optional<TimeCurve> settling; ///< minutes; share of what can settle, 0 to 1; none where nothing settles
  TimeCurve temperature;             ///< hours from the first jarful; degC of the milk, then of the middle of the last block
  std::vector<TemperatureLimit> limits;
  std::vector<RangeBar> bars;        ///< none without ranges
};

/// \param ranges none: no bars
Pictures pictures_of(const Facts& facts, const Ranges* ranges);

}  // namespace curdwright
