// SPDX-License-Identifier: MIT
// What the rules are made of: short questions to a batch, and the two halves of their table.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/cautions.hpp"
#include "text/spoken.hpp"

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
inline bool any(const Facts& f, Hazard h) { return setup(f).any(h); }
inline bool contains(const Facts& f, std::string_view allergen) {
  const auto has = [allergen](const std::vector<std::string>& list) { return std::find(list.begin(), list.end(), allergen) != list.end(); };
  return std::any_of(setup(f).legumes.begin(), setup(f).legumes.end(), [&](const Legume& l) { return has(l.allergens); }) ||
         std::any_of(setup(f).extras.begin(), setup(f).extras.end(), [&](const ChosenExtra& e) { return has(e.extra.allergens); });
}
inline bool calls(const Facts& f, std::string_view rule) {
  const auto& list = setup(f).coagulant.cautions;
  return std::find(list.begin(), list.end(), rule) != list.end();
}
/// Kitchen names of the extras that call up a rule and go in at a stage that `where` takes; empty when there is none.
template <class Where>
std::string extras_that_call(const Facts& f, std::string_view rule, Where where) {
  std::string names;
  for (const ChosenExtra& e : setup(f).extras) {
    const auto& list = e.extra.cautions;
    const bool said = names.find(e.extra.kitchen_name) != std::string::npos;
    if (!said && where(e.stage) && std::find(list.begin(), list.end(), rule) != list.end()) names += (names.empty() ? "" : ", ") + e.extra.kitchen_name;
  }
  return names;
}
inline bool region(const Facts& f, std::initializer_list<Region> regions) {
  return std::find(regions.begin(), regions.end(), kitchen(f).region) != regions.end();
}
inline double hold_min(const Facts& f) { return in_minutes(setup(f).job.cook.hold); }
inline double boil_c(const Facts& f) { return in_celsius(setup(f).job.cook.boil); }
inline double keep_c(const Facts& f) { return in_celsius(store(f).at.value_or(kitchen(f).fridge)); }
inline bool kept(const Facts& f, Where where) { return store(f).where.value_or(Where::fridge) == where; }
inline double cold_limit_c(const Facts& f) { return region(f, {Region::uk, Region::scotland}) ? 8.0 : 5.0; }
inline double hot_limit_c(const Facts& f) { return region(f, {Region::uk, Region::scotland}) ? 63.0 : region(f, {Region::codex, Region::canada, Region::anz}) ? 60.0 : 57.0; }
inline std::string hours_of(const std::optional<Duration>& d) { return d ? text::duration(*d) : "never"; }

inline constexpr std::string_view practice = "common practice, no published source";
inline constexpr auto note = Severity::note, warn = Severity::warn, stop = Severity::stop;
inline constexpr bool always = true, when = false;

}  // namespace curdwright::rules
