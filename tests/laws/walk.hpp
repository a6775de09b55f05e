// SPDX-License-Identifier: MIT
// Every stream of a plan, for laws that hold in all of them.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "curdwright/figures.hpp"
#include "laws/law.hpp"

namespace curdwright::test {

inline std::vector<std::pair<std::string, const Stream*>> streams_of(const Plan& p) {
  return {{"seed", &p.seed},
          {"soak water in", &p.soak_water_in},
          {"soaked", &p.soaked},
          {"soak water", &p.soak_water},
          {"hulls", &p.hulls},
          {"ground, free", &p.ground.free},
          {"ground, bound", &p.ground.bound},
          {"spill", &p.ground.spill},
          {"milk", &p.strained.milk},
          {"pulp", &p.strained.pulp},
          {"settled milk", &p.destarched.milk},
          {"sediment", &p.destarched.sediment},
          {"heel", &p.destarched.heel},
          {"gel", &p.destarched.gel},
          {"cooked milk", &p.cooked.milk},
          {"steam", &p.cooked.steam},
          {"film", &p.cooked.film},
          {"mix", &p.set.mix},
          {"set milk", &p.set.milk},
          {"curd", &p.pressed.curd},
          {"whey", &p.pressed.whey},
          {"trim", &p.pressed.trim}};
}

/// What is wrong with a stream, or nothing. A rounding of 1e-15 of the batch may fall below zero.
inline std::string fault_of(const Stream& s, double batch_kg) {
  const double least = -1e-15 * batch_kg;
  for (Component c : all_components)
    if (!(s.of[c] >= least) || !std::isfinite(s.of[c]))
      return "component " + std::to_string(static_cast<int>(c)) + " is " + std::to_string(s.of[c] * 1e18) + "e-18";
  for (double m : {s.minerals.calcium_kg, s.minerals.magnesium_kg, s.minerals.sodium_kg})
    if (!(m >= least) || !std::isfinite(m)) return "a mineral is " + std::to_string(m * 1e18) + "e-18";
  for (double kg : s.granules.kg)
    if (!(kg >= least) || !std::isfinite(kg)) return "a bin of granules is " + std::to_string(kg * 1e18) + "e-18";
  if (!(s.granules.never_settles_kg >= least) || !std::isfinite(s.granules.never_settles_kg)) return "the fines are out";
  const double t = in_celsius(s.at);
  if (!(t >= -60 && t <= 130)) return "the temperature is " + std::to_string(t);
  return "";
}

/// All that goes through a batch, kg.
inline double through(const Plan& p) {
  return p.seed.of.total_kg() + p.soak_water_in.of.total_kg() + p.water.grinding_kg + p.strained.wash_kg + p.set.mix.of.total_kg();
}

/// The first stream or figure that is not what it can be, in words; empty when all are sound.
inline std::string unsound(const Plan& p) {
  for (const auto& [name, stream] : streams_of(p))
    if (const std::string fault = fault_of(*stream, through(p)); !fault.empty()) return name + ": " + fault;
  for (const FigureInfo& f : all_figures()) {
    const double v = f.of(p);
    if (!std::isfinite(v)) return std::string(f.key) + " is not a number";
    // Temperatures may lie below zero; nothing else may.
    if (v < -1e-9 && !f.key.ends_with("_c")) return std::string(f.key) + " is " + std::to_string(v);
  }
  const auto share = [](double x) { return x >= 0 && x <= 1; };
  for (double x : {p.pressed.moisture, p.set.hydrolysed, p.set.setting_protein, p.destarched.share_settled})
    if (!share(x)) return "a share is out of 0 to 1";
  return "";
}

/// Largest imbalance of a stage, component by component, relative to what of it goes in. An own sum, not the library's.
inline double imbalance(const StageFlows& f) {
  double worst = 0, all_in = 0;
  for (std::size_t i = 0; i < f.in_count; ++i)
    all_in += f.in[i].stream->of.total_kg();
  for (Component c : all_components) {
    double in = f.made[c], out = 0, size = std::abs(f.made[c]);
    for (std::size_t i = 0; i < f.in_count; ++i)
      in += f.in[i].stream->of[c], size += f.in[i].stream->of[c];
    for (std::size_t i = 0; i < f.out_count; ++i)
      out += f.out[i].stream->of[c];
    for (std::size_t i = 0; i < f.aside_count; ++i)
      out += f.aside[i].stream->of[c];
    // Traces are weighed against a millionth of the batch, where rounding would drown them.
    worst = std::max(worst, std::abs(in - out) / std::max({size, 1e-6 * all_in, 1e-300}));
  }
  return worst;
}

/// The same for calcium, magnesium and sodium.
inline double mineral_imbalance(const StageFlows& f) {
  double worst = 0;
  for (double Minerals::*m : {&Minerals::calcium_kg, &Minerals::magnesium_kg, &Minerals::sodium_kg}) {
    double in = 0, out = 0;
    for (std::size_t i = 0; i < f.in_count; ++i)
      in += f.in[i].stream->minerals.*m;
    for (std::size_t i = 0; i < f.out_count; ++i)
      out += f.out[i].stream->minerals.*m;
    for (std::size_t i = 0; i < f.aside_count; ++i)
      out += f.aside[i].stream->minerals.*m;
    worst = std::max(worst, std::abs(in - out) / std::max(in, 1e-300));
  }
  return worst;
}

/// Stages that ran: all before the one that stopped the plan, and that one too, whose streams are kept. A weak hob stops nothing.
inline bool ran(const Plan& p, Stage s) {
  if (p.fault == Fault::none) return true;
  if (p.fault == Fault::water_below_uptake) return s < p.fault_at;
  if (p.fault == Fault::hob_too_weak) return s <= Stage::coagulate || p.set.fault == Fault::none;
  return s <= p.fault_at;
}

/// How nearly a balance closes.
inline constexpr double closed = 1e-9;

/// Every stage that ran, by sums of the test's own and by the library's.
inline void check_stages(const Plan& p) {
  for (Stage s : all_stages) {
    if (!ran(p, s)) continue;
    FlowSpare spare;
    const StageFlows f = flows(p, s, spare);
    RC_LOG() << "stage " << word(s) << " fault " << static_cast<int>(p.fault) << std::endl;
    RC_ASSERT(imbalance(f) < closed);
    RC_ASSERT(balance_error(f) < closed);
    RC_ASSERT(mineral_imbalance(f) < closed);
  }
}

/// Times and temperatures that depend on the size of the batch, set, so that only the masses scale.
inline void fix_size(Job& j) {
  j.soak.time_constant = hours(3);
  j.starch.depth = centimetres(12);
  j.cook.heat_up = minutes(25);
  j.cook.evaporated = 0.06;
}

}  // namespace curdwright::test
