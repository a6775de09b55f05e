// SPDX-License-Identifier: MIT
#include "curdwright/cooling.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace curdwright {
namespace {

/// Stirred ice water, W/(m2 K): handbook value from memory, and the record's.
constexpr double ice_water_coefficient = 350;

bool meets(const Chilled& c, const CoolingLimits& l) {
  const auto first = c.to_first(), second = c.to_second();
  return first && second && *first <= l.first_within && *second <= l.second_within;
}

/// Round the press, until the last block of a filling is out of it.
Surroundings press_surroundings(const Batch& b, const Handling& h) {
  return {b.setup.press_coefficient_w_m2_k, b.setup.press_surroundings, b.setup.job.press.time + h.unmoulding};
}

ThermalBlock block_of(const Batch& b) {
  const PressSettings& press = b.setup.job.press;
  return thermal_block(b.plan.pressed.curd.of, press.mould_length, press.mould_width, b.plan.pressed.block_height);
}

/// How long a history has been below a level at its end.
Duration below_at_end(const TemperatureHistory& history, Temperature level) {
  Duration below;
  for (const HistoryPiece& p : history.pieces()) {
    const Duration passes = p.passes(level);
    if (passes.si() >= 0 && p.end() < level)
      below = p.length - passes;
    else
      below = p.end() < level && p.start < level ? below + p.length : seconds(0);
  }
  return below;
}

/// With the clock that has run in the pot before the block is laid down.
Chilled after(const TemperatureHistory& pot, Chilled c, const CoolingLimits& limits) {
  if (c.under_from && pot.end() < limits.from) c.under_from = -below_at_end(pot, limits.from);
  return c;
}
Chilled passed(const TemperatureHistory& pot, const ThermalBlock& block, std::span<const Surroundings> stations, const CoolingLimits& limits) {
  return after(pot, chill(block, pot.end(), stations, limits), limits);
}

/// The smallest change that passes: a fan, then ice water, then ice water straight after a short press, then a thinner block.
std::string find_mend(const Batch& b, const Handling& handling, const ThermalBlock& block, const CoolingLimits& limits) {
  const TemperatureHistory& pot = b.plan.set.history;
  if (pot.end() < limits.from && below_at_end(pot, limits.from) > limits.first_within) return fmt::format("pour and set the curd hotter than {:.0f} degC", in_celsius(limits.from));
  const std::string at_once = in_pot(b, handling).end() < limits.from ? "get the curd into moulds sooner, or keep what waits hot, and " : "";
  const Surroundings press = press_surroundings(b, handling);
  const Surroundings fan{moving_air_w_m2_k, celsius(2), {}}, ice{ice_water_coefficient, celsius(1), {}};
  const auto passes = [&](const ThermalBlock& k, const Surroundings& p, const Surroundings& c) {
    const std::array stations = {p, c};
    return meets(passed(pot, k, stations, limits), limits);
  };
  const Surroundings planned{b.theta[Param::chill_coefficient], b.setup.chill_medium, {}};
  if (!at_once.empty() && passes(block, press, planned)) return "get the curd into moulds sooner (more moulds or hands, or fewer blocks at a time), or keep what waits above 63 degC";
  if (!b.setup.chill.ice_water && passes(block, press, fan)) return at_once + "chill with a fan at 2 degC";
  if (!b.setup.chill.ice_water && passes(block, press, ice)) return at_once + "chill in ice water first";
  Surroundings brief = press;
  brief.time = std::min(b.setup.job.press.time, minutes(30)) + handling.unmoulding;
  if (passes(block, brief, ice)) return at_once + "press no longer than 30 min, unmould, bag, chill in ice water, and press on in the fridge";
  ThermalBlock thin = block;
  for (int half_cm = static_cast<int>(std::floor(in_centimetres(block.height) * 2)); half_cm >= 2; --half_cm) {
    const double cm = half_cm / 2.0;
    thin.height = centimetres(cm);
    if (passes(thin, brief, ice)) return at_once + fmt::format("make the blocks no thicker than {:.1f} cm, press 30 min, then ice water", cm);
  }
  return at_once + "chill in ice water at once, in thin slabs";
}

}  // namespace

CoolingLimits cooling_limits(const Kitchen& k) {
  const auto two_stage = [](std::string_view rule, double from, double first, double second, double first_h, double second_h) {
    return CoolingLimits{{celsius(from), celsius(first), celsius(second)}, rule, hours(first_h), hours(second_h)};
  };
  if (k.region == Region::uk || k.region == Region::scotland) return two_stage("T9", 63, 8, 8, 1.5, 1.5);
  if (k.region == Region::codex) return two_stage("T11", 60, 10, 4, 2, 24);
  if (k.region == Region::canada) return two_stage("T12", 60, 20, 4, 2, 6);
  if (k.region == Region::anz) return two_stage("T12", 60, 21, 5, 2, 6);
  return two_stage("T2", 57.2, 21.1, 5.0, 2, 6);
}

TemperatureHistory in_pot(const Batch& b, const Handling& handling) {
  const Duration wait = handling.in_pot;
  TemperatureHistory pot = b.plan.set.history;
  if (wait.si() <= 0 || pot.pieces().empty()) return pot;
  const HistoryPiece& last = pot.pieces().back();
  return last.shape == HistoryPiece::Shape::relax ? pot.relax(wait, last.target, last.time_constant) : pot.hold(wait);
}

Cooling cool(const Batch& b, const Handling& handling) {
  Cooling c;
  const TemperatureHistory pot = in_pot(b, handling);
  c.start = pot.end();
  c.medium = b.setup.chill_medium;
  // Without a block there is nothing to be cold: not met.
  if (!(b.plan.pressed.curd.of.total_kg() > 0)) return c;
  const CoolingLimits limits = cooling_limits(b.setup.kitchen);
  const ThermalBlock block = block_of(b);
  const std::array stations = {press_surroundings(b, handling), Surroundings{b.theta[Param::chill_coefficient], c.medium, {}}};
  const TemperatureHistory& unkept = b.plan.set.history;
  const auto [last_block, first_block] = chill(block, {pot.end(), unkept.end()}, stations, limits);
  static_cast<Chilled&>(c) = after(pot, last_block, limits);
  // The blocks of the first filling go in hotter: they must be cold in time as well, and the later of the two is told.
  const Chilled first = after(unkept, first_block, limits);
  c.met = meets(c, limits) && meets(first, limits);
  if (c.under_first && first.under_first) c.under_first = std::max(*c.under_first, *first.under_first);
  if (c.under_second && first.under_second) c.under_second = std::max(*c.under_second, *first.under_second);
  if (!c.met) c.mend = find_mend(b, handling, block, limits);
  return c;
}

Temperature block_centre(const Batch& b, const Handling& handling, Duration since_pressed) {
  const ThermalBlock block = block_of(b);
  const Surroundings press = press_surroundings(b, handling);
  const Temperature laid = in_pot(b, handling).end();
  if (since_pressed <= press.time) return box_centre(block, press.coefficient_w_m2_k, laid, press.at, since_pressed);
  const Temperature unmoulded = box_centre(block, press.coefficient_w_m2_k, laid, press.at, press.time);
  return box_centre(block, b.theta[Param::chill_coefficient], unmoulded, b.setup.chill_medium, since_pressed - press.time);
}

Duration out_of_control(const Batch& b, const Handling& handling) {
  constexpr Temperature hot = CoolingLevels{}.from;
  const TemperatureHistory pot = in_pot(b, handling);
  const Duration standing = below_at_end(pot, hot), pressing = b.setup.job.press.time + handling.unmoulding;
  if (b.setup.press_surroundings <= celsius(5)) return standing;
  if (!(b.plan.pressed.curd.of.total_kg() > 0)) return standing + pressing;
  const auto under = box_passes(block_of(b), b.setup.press_coefficient_w_m2_k, pot.end(), b.setup.press_surroundings, hot);
  return standing + (under ? std::max(seconds(0), pressing - *under) : pressing);
}

}  // namespace curdwright
