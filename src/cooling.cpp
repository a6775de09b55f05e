// SPDX-License-Identifier: MIT
#include "curdwright/cooling.hpp"

#include <fmt/format.h>

#include <cmath>

namespace curdwright {
namespace {

/// Still air and stirred ice water, W/(m2 K): handbook values from memory, and the records'.
constexpr double ice_water_coefficient = 350, fan_coefficient = 20;

struct Passed {
  std::optional<Duration> from, first, second;
};

/// Like chill(), with the limits of a region.
Passed through(const ThermalBlock& block, Temperature start, const CoolingLimits& limits, std::span<const Surroundings> stations) {
  Passed p;
  Duration elapsed;
  Temperature now = start;
  for (std::size_t i = 0; i < stations.size(); ++i) {
    const Surroundings& s = stations[i];
    const bool last = i + 1 == stations.size();
    const auto note = [&](std::optional<Duration>& when, Temperature level) {
      if (when) return;
      const auto t = box_passes(block, s.coefficient_w_m2_k, now, s.at, level);
      if (t && (last || *t <= s.time)) when = elapsed + *t;
    };
    note(p.from, limits.from);
    note(p.first, limits.first);
    note(p.second, limits.second);
    now = box_centre(block, s.coefficient_w_m2_k, now, s.at, s.time);
    elapsed += s.time;
  }
  return p;
}

bool meets(const Passed& p, const CoolingLimits& l) {
  if (!p.from || !p.first || !p.second) return false;
  return *p.first - *p.from <= l.first_within && *p.second - *p.from <= l.second_within;
}

Surroundings press_surroundings(const Batch& b) {
  return {b.setup.press_coefficient_w_m2_k, b.setup.press_surroundings, b.setup.job.press.time};
}

/// How long the milk stood in the pot below a level, at the end of its wait.
Duration below_in_pot(const Batch& b, Temperature level) {
  Duration below;
  for (const HistoryPiece& p : b.plan.set.history.pieces()) {
    const Duration passes = p.passes(level);
    if (passes.si() >= 0 && p.end() < level)
      below = p.length - passes;
    else
      below = p.end() < level && p.start < level ? below + p.length : seconds(0);
  }
  return below;
}

/// The smallest change that passes: a fan, then ice water, then ice water straight after a short press, then a thinner block.
std::string find_mend(const Batch& b, const ThermalBlock& block, Temperature start, const CoolingLimits& limits) {
  const Surroundings press = press_surroundings(b);
  const Surroundings fan{fan_coefficient, celsius(2), {}}, ice{ice_water_coefficient, celsius(1), {}};
  const auto passes = [&](const ThermalBlock& k, const Surroundings& p, const Surroundings& c) {
    const std::array stations = {p, c};
    return meets(through(k, start, limits, stations), limits);
  };
  if (!b.setup.chill.ice_water && passes(block, press, fan)) return "chill with a fan at 2 degC";
  if (!b.setup.chill.ice_water && passes(block, press, ice)) return "chill in ice water first";
  Surroundings brief = press;
  brief.time = std::min(press.time, minutes(30));
  if (passes(block, brief, ice)) return "press no longer than 30 min, unmould, bag, chill in ice water, and press on in the fridge";
  ThermalBlock thin = block;
  for (double cm = std::floor(in_centimetres(block.height) * 2) / 2; cm >= 1; cm -= 0.5) {
    thin.height = centimetres(cm);
    if (passes(thin, brief, ice)) return fmt::format("make the blocks no thicker than {:.1f} cm, press 30 min, then ice water", cm);
  }
  return "chill in ice water at once, in thin slabs";
}

}  // namespace

CoolingLimits cooling_limits(const Kitchen& k) {
  const auto two_stage = [](std::string_view rule, double from, double first, double second, double first_h, double second_h) {
    return CoolingLimits{rule, celsius(from), celsius(first), celsius(second), hours(first_h), hours(second_h)};
  };
  if (k.region == "uk" || k.region == "scotland") return two_stage("T9", 63, 8, 8, 1.5, 1.5);
  if (k.region == "codex") return two_stage("T11", 60, 10, 4, 2, 24);
  if (k.region == "canada") return two_stage("T12", 60, 20, 4, 2, 6);
  if (k.region == "anz") return two_stage("T12", 60, 21, 5, 2, 6);
  return two_stage("T2", 57.2, 21.1, 5.0, 2, 6);
}

Cooling cool(const Batch& b) {
  Cooling c;
  const Plan& p = b.plan;
  c.start = p.set.history.end();
  c.medium = b.setup.chill_medium;
  // Without a block there is nothing to be cold: not met.
  if (!(p.pressed.curd.of.total_kg() > 0)) return c;
  const CoolingLimits limits = cooling_limits(b.setup.kitchen);
  const PressSettings& press = b.setup.job.press;
  const ThermalBlock block = thermal_block(p.pressed.curd.of, press.mould_length, press.mould_width, p.pressed.block_height);
  const std::array stations = {press_surroundings(b), Surroundings{b.theta[Param::chill_coefficient], c.medium, {}}};
  Passed passed = through(block, c.start, limits, stations);
  // Curd that came into the press already below the first limit has had its clock running in the pot.
  if (passed.from && c.start < limits.from) passed.from = -below_in_pot(b, limits.from);
  c.under_from = passed.from, c.under_first = passed.first, c.under_second = passed.second;
  c.met = meets(passed, limits);
  if (!c.met) c.mend = find_mend(b, block, c.start, limits);
  return c;
}

Duration out_of_control_in_press(const Batch& b) {
  const PressSettings& press = b.setup.job.press;
  if (b.setup.press_surroundings <= celsius(5)) return seconds(0);
  if (!(b.plan.pressed.curd.of.total_kg() > 0)) return press.time;
  const ThermalBlock block = thermal_block(b.plan.pressed.curd.of, press.mould_length, press.mould_width, b.plan.pressed.block_height);
  const auto under = box_passes(block, b.setup.press_coefficient_w_m2_k, b.plan.set.history.end(), b.setup.press_surroundings, limit_57);
  if (!under) return press.time;
  return *under >= press.time ? seconds(0) : press.time - *under;
}

}  // namespace curdwright
