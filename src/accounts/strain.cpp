// SPDX-License-Identifier: MIT
// Terms of straining and washing.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

/// The pulp between pressings, as numbers and as texts.
struct Pulp {
  GroundBeans value;
  Stream off;  ///< what ran off last
  Flow free, bound, releasable;
  Ex blended;
};

std::string numbered(std::string_view stem, std::size_t n) { return fmt::format("{}_{}", stem, n + 1); }

/// Splits the free liquor into what runs off and what the pulp holds.
Flow press_off(Book& book, Pulp& pulp, const Pressing& pressed, const Ex& held, std::size_t n, bool only) {
  const Ex held_kg = book.formula(only ? "held_kg" : numbered("held_kg", n), pressed.held_kg, "kg", "water of the milk that stays in the pulp", held);
  const Ex share = held_kg / pulp.free[Component::water];
  Flow off = book.flow(only ? "milk" : numbered("run", n), only ? "strained milk" : n == 0 ? "milk of the first pressing" : "milk of a washing", pressed.off, [&](std::size_t p) { return pulp.free.part[p] * (Ex(1.0) - share); });
  const Flow liquor = book.flow(only ? "kept" : numbered("kept", n), "milk in the pulp", pulp.value.free, [&](std::size_t p) { return pulp.free.part[p] * share; });
  pulp.off = pressed.off;
  off.at = pulp.free.at;
  pulp.free = liquor;
  pulp.free.at = off.at;
  return off;
}

/// What a washing with the blender sets free besides.
void blend_again(Book& book, Pulp& pulp, const Wash& wash, const Pressing& washed, std::size_t n) {
  const std::string from = fmt::format("recipe /strain/washes/{}/blend", n - 1);
  const Ex full = name("blend_full_time_s"), before = pulp.blended;
  pulp.blended = before + book.setting(numbered("wash_blend_s", n - 1), wash.blend.si(), "s", "time in the blender", from);
  const auto left = [&](const Ex& time) { return exponential(Ex(-3.0) * (time / full)); };
  std::vector<Ex> of = {(left(before) - left(pulp.blended)) / (Ex(1.0) - exponential(-3.0))};
  for (Component c : {Component::protein, Component::fat, Component::starch})
    if (!pulp.releasable[c].zero()) of.push_back(Ex(0.999) * pulp.bound[c] / pulp.releasable[c]);
  const Ex step = book.formula(numbered("set_free", n - 1), washed.set_free, "1", "share of the releasable that the washing sets free", Ex::call("min", of));
  pulp.bound = book.flow(numbered("bound_washed", n - 1), "undissolved solids of the pulp", pulp.value.bound, [&](std::size_t p) { return p == settling ? Ex() : pulp.bound.part[p] - step * pulp.releasable.part[p]; });
  for (std::size_t p = 0; p < part_count; ++p) pulp.free.part[p] = pulp.free.part[p] + step * pulp.releasable.part[p];
}

/// Temperature of pulp and wash water.
Ex wet_temperature(Book& book, const Pulp& pulp, const GroundBeans& before, const Ex& water, const Stream& wash, std::size_t n) {
  Flow all = pulp.free, poured;
  for (std::size_t p = 0; p < part_count; ++p) all.part[p] = all.part[p] + pulp.bound.part[p];
  poured.part[0] = water;
  const Stream s = before.free + before.bound;
  const Ex at = name("blend_water_at_k");
  const Ex pulp_heat = heat_capacity(book, numbered("pulp_heat_j_k", n - 1), "the pulp", all, s, s.at, pulp.free.at);
  const Ex water_heat = heat_capacity(book, numbered("wash_heat_j_k", n - 1), "the wash water", poured, wash, wash.at, at);
  return mixed(book, numbered("washed_k", n - 1), "pulp in its wash water", mixed_temperature(s, wash), {pulp_heat, water_heat}, {pulp.free.at, at});
}

Flow wash_terms(Book& book, Pulp& pulp, std::size_t n) {
  const StrainSettings& s = book.job.strain;
  const Wash& w = s.washes[n - 1];
  const GroundBeans before = pulp.value;
  Duration blended = s.blend_time;
  for (std::size_t i = 0; i + 1 < n; ++i) blended += s.washes[i].blend;
  const Pressing washed = press_washed(pulp.value, w, book.job.dry.si(), blended, s, book.theta);
  const Ex to_dry = book.setting(numbered("wash_to_dry", n - 1), w.water_to_dry, "kg/kg", "wash water per kg dry seed", fmt::format("recipe /strain/washes/{}, to the step of the scale", n - 1));
  const Ex water = book.formula(numbered("wash_kg", n - 1), washed.wash_kg, "kg", "wash water", name("dry_kg") * to_dry);
  const Ex at = wet_temperature(book, pulp, before, water, water_stream(kilograms(washed.wash_kg), s.wash_at), n);
  pulp.free.at = at;
  pulp.free.part[0] = pulp.free.part[0] + water;
  if (w.blend.si() > 0) blend_again(book, pulp, w, washed, n);
  return press_off(book, pulp, washed, minimum({book.param(Param::held_liquor) * pulp.bound.solids, Ex(0.98) * pulp.free[Component::water]}), n, false);
}

/// Milk with that of one more washing.
Flow poured_together(Book& book, const Flow& a, Stream& so_far, const Flow& b, const Stream& off, std::size_t n, bool last) {
  const Ex heat_a = heat_capacity(book, numbered("milk_heat_j_k", n), "the milk so far", a, so_far, so_far.at, a.at);
  const Ex heat_b = heat_capacity(book, numbered("run_heat_j_k", n), "the milk of the washing", b, off, off.at, b.at);
  const Temperature mix = mixed_temperature(so_far, off);
  so_far += off;
  so_far.at = mix;
  Flow all = book.flow(last ? "milk" : numbered("milk", n), "strained milk", so_far, [&](std::size_t p) { return a.part[p] + b.part[p]; });
  all.at = mixed(book, last ? "milk_k" : numbered("milk_k", n), "strained milk", mix, {heat_a, heat_b}, {a.at, b.at});
  return all;
}

}  // namespace

Flow strain_terms(Book& book, const Ground& ground) {
  const StrainSettings& s = book.job.strain;
  Pulp pulp{book.plan.ground, {}, ground.free, ground.bound, ground.releasable, name("blend_time_s")};
  const Pressing first = press_ground(pulp.value, book.theta);
  Flow milk = press_off(book, pulp, first, book.param(Param::held_liquor) * pulp.bound.solids, 0, s.wash_count == 0);
  Stream so_far = first.off;
  for (std::size_t n = 1; n <= s.wash_count; ++n) {
    const Flow run = wash_terms(book, pulp, n);
    milk = poured_together(book, milk, so_far, run, pulp.off, n, n == s.wash_count);
  }
  book.flow("pulp", "pulp", book.plan.strained.pulp, [&](std::size_t p) { return pulp.free.part[p] + pulp.bound.part[p]; });
  return milk;
}

}  // namespace curdwright::accounts
