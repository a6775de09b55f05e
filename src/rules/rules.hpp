// SPDX-License-Identifier: MIT
// What the rules are made of: short questions to a batch, and the two halves of their table.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/cautions.hpp"

namespace curdwright::rules {

std::span<const Rule> food_rules();  ///< time, temperature, toxins, hands, allergens
std::span<const Rule> gear_rules();  ///< coagulants, gear, and the plan itself

using Answer = std::optional<Fired>;
constexpr std::nullopt_t silent = std::nullopt;

inline Answer say(std::string text) { return Fired{std::move(text), std::nullopt}; }
inline Answer say(std::string text, Severity severity) { return Fired{std::move(text), severity}; }

inline const Setup& setup(const Facts& f) { return f.batch.setup; }
inline const StoreRecipe& store(const Facts& f) { return f.batch.setup.recipe.store; }
inline const Kitchen& kitchen(const Facts& f) { return f.batch.setup.kitchen; }
inline bool any(const Facts& f, Hazard h) {
  return std::any_of(setup(f).legumes.begin(), setup(f).legumes.end(), [h](const Legume& l) { return l.has(h); });
}
inline bool contains(const Facts& f, std::string_view allergen) {
  for (const Legume& l : setup(f).legumes)
    if (std::find(l.allergens.begin(), l.allergens.end(), allergen) != l.allergens.end()) return true;
  return false;
}
inline bool calls(const Facts& f, std::string_view rule) {
  const auto& list = setup(f).coagulant.cautions;
  return std::find(list.begin(), list.end(), rule) != list.end();
}
inline bool region(const Facts& f, std::initializer_list<std::string_view> names) {
  return std::find(names.begin(), names.end(), kitchen(f).region) != names.end();
}
inline double hold_min(const Facts& f) { return in_minutes(setup(f).job.cook.hold); }
inline double boil_c(const Facts& f) { return in_celsius(setup(f).job.cook.boil); }
inline double keep_c(const Facts& f) { return in_celsius(store(f).at.value_or(kitchen(f).fridge)); }
inline bool kept(const Facts& f, std::string_view where) { return store(f).where.value_or("fridge") == where; }
inline double cold_limit_c(const Facts& f) { return region(f, {"uk", "scotland"}) ? 8.0 : 5.0; }
inline double hot_limit_c(const Facts& f) { return region(f, {"uk", "scotland"}) ? 63.0 : region(f, {"codex", "canada", "anz"}) ? 60.0 : 57.0; }
inline std::string hours_of(const std::optional<Duration>& d) { return d ? fmt::format("{:.1f} h", in_hours(*d)) : "never"; }

inline std::string clock(Duration d) {
  const double m = in_minutes(d);
  return m < 100 ? fmt::format("{:.0f} min", m) : fmt::format("{:.1f} h", m / 60);
}

inline constexpr std::string_view practice = "common practice, no published source";
inline constexpr auto note = Severity::note, warn = Severity::warn, stop = Severity::stop;
inline constexpr bool always = true, when = false;


}  // namespace curdwright::rules
