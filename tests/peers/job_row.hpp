// SPDX-License-Identifier: MIT
// A job, its theta and its plan as one row of named doubles, in SI units. Names are the header of the file.
#pragma once

#include <fmt/format.h>

#include <string>
#include <string_view>
#include <vector>

#include "curdwright/figures.hpp"

namespace curdwright::peers {

/// Names are kept for the first row only; every later row holds the same columns in the same order.
struct Row {
  bool named = false;
  std::vector<std::string> names;
  std::vector<double> values;
  void put(std::string name, double value) {
    if (named) names.push_back(std::move(name));
    values.push_back(value);
  }
  /// A number that a recipe may leave out; NaN stands for that.
  template <class T>
  void maybe(std::string name, const std::optional<T>& value) {
    if constexpr (std::is_same_v<T, double>) put(std::move(name), value ? *value : std::nan(""));
    else put(std::move(name), value ? value->si() : std::nan(""));
  }
};

inline constexpr std::array<std::string_view, component_count> component_names = {"water", "protein", "starch", "sugars", "fat", "fibre", "ash", "salts"};

inline void put_parts(Row& r, const std::string& name, const Composition& c, const Minerals& m) {
  for (std::size_t i = 0; i < component_count; ++i) r.put(fmt::format("{}.{}", name, component_names[i]), c.kg[i]);
  r.put(name + ".calcium", m.calcium_kg);
  r.put(name + ".magnesium", m.magnesium_kg);
  r.put(name + ".sodium", m.sodium_kg);
}

inline void put_soak(Row& r, const SoakSettings& s) {
  r.put("soak.water_to_dry", s.water_to_dry);
  r.put("soak.water_at", s.water_at.si());
  r.put("soak.surroundings", s.surroundings.si());
  r.put("soak.time", s.time.si());
  r.put("soak.changes", s.changes);
  r.put("soak.skins_off", s.skins_off);
  r.put("soak.seed_at", s.seed_at.si());
  r.maybe("soak.time_constant", s.time_constant);
}

inline void put_wet_stages(Row& r, const Job& job) {
  r.put("blend.basis", static_cast<double>(job.blend.basis));
  r.put("blend.water", job.blend.water);
  r.put("blend.water_at", job.blend.water_at.si());
  r.put("blend.time", job.blend.time.si());
  r.put("blend.full_time", job.blend.full_time.si());
  r.put("strain.wash_count", static_cast<double>(job.strain.wash_count));
  for (std::size_t i = 0; i < StrainSettings::max_washes; ++i) {
    r.put(fmt::format("wash.{}.water_to_dry", i), job.strain.washes[i].water_to_dry);
    r.put(fmt::format("wash.{}.blend", i), job.strain.washes[i].blend.si());
  }
  r.put("strain.wash_at", job.strain.wash_at.si());
  r.put("starch.remove", static_cast<double>(job.starch.remove));
  r.maybe("starch.depth", job.starch.depth);
  r.put("starch.vessel", job.starch.vessel.si());
  r.put("starch.vessels", job.starch.vessels);
  r.put("starch.time", job.starch.time.si());
  r.put("starch.times", job.starch.times);
  r.put("starch.surroundings", job.starch.surroundings.si());
}

inline void put_hot_stages(Row& r, const CookSettings& c, const CoagulateSettings& k, const PressSettings& p) {
  r.put("cook.hob", c.hob.si());
  r.put("cook.pots", c.pots);
  r.put("cook.hold", c.hold.si());
  r.put("cook.boil", c.boil.si());
  r.put("cook.room", c.room.si());
  r.maybe("cook.heat_up", c.heat_up);
  r.maybe("cook.evaporated", c.evaporated);
  r.put("coagulate.kind", static_cast<double>(k.kind));
  r.put("coagulate.ion", static_cast<double>(k.ion));
  r.put("coagulate.active_mol_kg", k.active_mol_kg);
  r.put("coagulate.solute_kg_kg", k.solute_kg_kg);
  r.put("coagulate.mix_water_kg_kg", k.mix_water_kg_kg);
  r.put("coagulate.window_low", k.window_low.si());
  r.put("coagulate.window_high", k.window_high.si());
  r.put("coagulate.at", k.at.si());
  r.put("coagulate.wait", k.wait.si());
  r.put("coagulate.mix_at", k.mix_at.si());
  r.maybe("coagulate.used", k.used);
  r.maybe("coagulate.dose", k.dose);
  r.put("press.pressure", p.pressure.si());
  r.put("press.time", p.time.si());
  r.maybe("press.moisture", p.moisture);
  r.put("press.block", p.block.si());
  r.put("press.mould_length", p.mould_length.si());
  r.put("press.mould_width", p.mould_width.si());
}

inline void put_seeds_and_extras(Row& r, const Job& job) {
  r.put("dry", job.dry.si());
  r.put("legume_count", static_cast<double>(job.legume_count));
  for (std::size_t i = 0; i < max_legumes; ++i) {
    r.put(fmt::format("seed.{}.share", i), job.seeds[i].share);
    r.put(fmt::format("seed.{}.oily", i), job.seeds[i].oily);
    r.put(fmt::format("seed.{}.sodium", i), job.seeds[i].sodium);
  }
  r.put("extra_count", static_cast<double>(job.extra_count));
  for (std::size_t i = 0; i < max_extras; ++i) {
    const Addition& e = job.extras[i];
    const std::string name = fmt::format("extra.{}", i);
    r.put(name + ".stage", static_cast<double>(e.stage));
    r.put(name + ".to_dry", e.to_dry);
    r.put(name + ".fixed", e.fixed.si());
    put_parts(r, name, e.of, e.minerals);
  }
}

inline void put_job(Row& r, const Job& job) {
  put_seeds_and_extras(r, job);
  put_soak(r, job.soak);
  put_wet_stages(r, job);
  put_hot_stages(r, job.cook, job.coagulate, job.press);
}

inline void put_theta(Row& r, const Theta& theta) {
  for (const ParamInfo& p : all_params()) {
    if (p.scope != Scope::legume) {
      r.put(fmt::format("theta.{}", p.key), theta[p.param]);
      continue;
    }
    for (std::size_t i = 0; i < max_legumes; ++i) r.put(fmt::format("theta.{}.{}", p.key, i), theta.of(p.param, i));
  }
}

inline void put_plan(Row& r, const Plan& p) {
  r.put("plan.fault", static_cast<double>(p.fault));
  const auto stream = [&](const char* name, const Stream& s) { put_parts(r, name, s.of, s.minerals); };
  stream("plan.seed", p.seed), stream("plan.soaked", p.soaked), stream("plan.soak_water", p.soak_water), stream("plan.hulls", p.hulls);
  stream("plan.spill", p.ground.spill), stream("plan.free", p.ground.free), stream("plan.bound", p.ground.bound);
  stream("plan.pulp", p.strained.pulp), stream("plan.milk", p.strained.milk);
  stream("plan.sediment", p.destarched.sediment), stream("plan.heel", p.destarched.heel), stream("plan.gel", p.destarched.gel);
  stream("plan.settled_milk", p.destarched.milk);
  stream("plan.steam", p.cooked.steam), stream("plan.film", p.cooked.film), stream("plan.cooked", p.cooked.milk);
  stream("plan.mix", p.set.mix), stream("plan.set", p.set.milk);
  stream("plan.curd", p.pressed.curd), stream("plan.whey", p.pressed.whey), stream("plan.trim", p.pressed.trim);
  for (const FigureInfo& f : all_figures()) r.put(fmt::format("figure.{}", f.key), f.of(p));
}

}  // namespace curdwright::peers
