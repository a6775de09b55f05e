// SPDX-License-Identifier: MIT
// Pictures of a batch as SVG inside a page: legible in black and white, with a title and a description for who does not see them.
#pragma once

#include <string>
#include <vector>

#include "curdwright/pictures.hpp"
#include "curdwright/sheet.hpp"

namespace curdwright::sheets {

/// What the flow is drawn of: all of it, or one component.
struct FlowOf {
  std::string_view words;               ///< "all of it", "protein"
  std::optional<Component> component;
};

/// Widths to scale. \param say how amounts are written
std::string flow_svg(const std::vector<FlowStep>& flow, const FlowOf& of, const std::string& id);
std::string soak_svg(const TimeCurve& curve);
std::string settling_svg(const TimeCurve& curve);
std::string temperature_svg(const TimeCurve& curve, const std::vector<TemperatureLimit>& limits);
std::string bars_svg(const std::vector<RangeBar>& bars);
std::string day_svg(const std::vector<DayLine>& day);

}  // namespace curdwright::sheets
