// SPDX-License-Identifier: MIT
// Terms of the blending.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

Ex grinding_water(Book& book, const Soaking& soaked) {
  const BlendSettings& s = book.job.blend;
  const BlendRecipe& told = book.setup.recipe.blend;
  const std::string from = told.total_water_to_dry ? "recipe /blend/total_water_to_dry, less the uptake, to the step of the scale"
                           : told.water_to_soaked  ? "recipe /blend/water_to_soaked, to the step of the scale"
                           : told.water            ? "recipe /blend/water"
                                                   : "chosen for the protein of the milk, less the uptake, to the step of the scale";
  const auto setting = [&](std::string_view key, std::string_view unit, std::string_view plain) { return book.setting(std::string(key), s.water, unit, plain, from); };
  const Ex dry = name("dry_kg");
  Ex text;
  switch (s.basis) {
    case WaterBasis::total_to_dry: text = maximum({Ex(), setting("total_water_to_dry", "kg/kg", "total water per kg dry seed") * dry - soaked.uptake}); break;
    case WaterBasis::grinding_to_soaked: text = setting("grinding_water_to_soaked", "kg/kg", "grinding water per kg soaked seed") * soaked.soaked.mass; break;
    case WaterBasis::grinding_to_dry: text = setting("grinding_water_to_dry", "kg/kg", "grinding water per kg dry seed") * dry; break;
    case WaterBasis::grinding_mass: text = setting("grinding_water_told_kg", "kg", "grinding water"); break;
  }
  return book.formula("grinding_water_kg", book.plan.water.grinding_kg, "kg", "water to blend with", text);
}

/// What a full blend sets free of one legume.
Flow releasable_of_lot(Book& book, const Flow& seed, const Stream& value, std::size_t i) {
  const std::string what = book.setup.legumes[i].kitchen_name;
  const Ex fine = book.param(Param::blender_protein);
  return book.flow("releasable" + book.tail(i), fmt::format("what a full blend sets free of {}", what), value, [&](std::size_t p) {
    if (p == part(Component::protein)) return seed.part[p] * book.param(Param::release_protein, i) * fine;
    if (p == part(Component::fat)) return seed.part[p] * book.param(Param::release_fat, i) * fine;
    if (p == part(Component::starch)) return seed.part[p] * book.param(Param::blender_starch);
    return p == settling ? seed[Component::starch] * book.param(Param::blender_starch) * (Ex(1.0) - book.param(Param::never_settles, i)) : Ex();
  });
}

/// Granules up to the upper edge of a bin, of those that can settle: log-normal by volume.
Ex below_edge(Book& book, std::size_t bin, std::size_t legume) {
  if (bin + 1 == Granules::bins) return 1.0;
  const Ex edge = Ex(3e-6) * power(25.0, Ex(static_cast<double>(bin + 1)) / Ex(static_cast<double>(Granules::bins)));
  return Ex::call("normal_cdf", {logarithm(edge / book.param(Param::granule_median, legume)) / logarithm(book.param(Param::granule_spread, legume))});
}

BinMasses bin_terms(Book& book, const std::array<Flow, max_legumes>& lots, const Ex& kept) {
  BinMasses bins;
  for (std::size_t b = 0; b < Granules::bins; ++b) {
    Ex sum;
    for (std::size_t i = 0; i < book.job.legume_count; ++i) sum = sum + lots[i].part[settling] * (below_edge(book, b, i) - (b == 0 ? Ex() : below_edge(book, b - 1, i)));
    bins[b] = book.formula(fmt::format("releasable_bin_{}_kg", b + 1), book.plan.ground.releasable.granules.kg[b], "kg", fmt::format("granules of {:.3g} um that a full blend sets free", Granules::diameter_m(b) * 1e6), kept * sum);
  }
  return bins;
}

/// How far the blending comes; some part of every component stays bound.
Ex extent_term(Book& book, const Soaking& soaked, const Flow& released) {
  const Ex time = book.setting("blend_time_s", book.job.blend.time.si(), "s", "time in the blender", told_or(book.setup.recipe.blend.time.has_value(), "/blend/time", "default: the full time of the blender"));
  const Ex full = book.setting("blend_full_time_s", book.job.blend.full_time.si(), "s", "full time of this blender", fmt::format("blender {}", book.setup.blender.id));
  std::vector<Ex> of = {(Ex(1.0) - exponential(Ex(-3.0) * (time / full))) / (Ex(1.0) - exponential(-3.0))};
  for (Component c : {Component::protein, Component::fat, Component::starch})
    if (!released[c].zero()) of.push_back(Ex(0.999) * soaked.soaked[c] / released[c]);
  return book.formula("grind_extent", book.plan.ground.extent, "1", "how far the grinding comes: 1 for the full time", Ex::call("min", of));
}

/// Dissolves whatever the blade does; of minerals, what came with the soak water too.
Ex soluble(Book& book, const Soaking& soaked, const Flow& extras, std::size_t p) {
  const Ex all = soaked.soaked.part[p];
  if (p == part(Component::water) || p == part(Component::salts)) return all;
  if (p == part(Component::sugars)) return all * book.param(Param::release_sugars);
  if (p == part(Component::ash)) return all * book.param(Param::release_ash);
  if (p == part(Component::fibre)) return all * book.param(Param::release_fibre);
  if (p < calcium) return {};
  Ex dissolved;
  for (std::size_t i = 0; i < book.job.legume_count; ++i) dissolved = dissolved + soaked.dissolved[i];
  dissolved = dissolved * extras.part[p];
  return dissolved + (all - dissolved) * book.param(p == calcium ? Param::release_calcium : p == magnesium ? Param::release_magnesium : Param::release_ash);
}

/// A mean over the legumes, weighted by the protein that each sets free.
Ex weighted(Book& book, const std::array<Flow, max_legumes>& lots, const std::string& key, double value, std::string_view unit, std::string_view plain, Param p) {
  if (book.job.legume_count == 1) return book.param(p);
  Ex top, bottom;
  for (std::size_t i = 0; i < book.job.legume_count; ++i) top = top + lots[i][Component::protein] * book.param(p, i), bottom = bottom + lots[i][Component::protein];
  return book.formula(key, value, unit, plain, top / bottom);
}

Ex temperature(Book& book, const Soaking& soaked, const Ex& water) {
  const BlendSettings& s = book.job.blend;
  const Ex at = kelvin_term(book, "blend_water_at_k", s.water_at, "water to blend with", told_or(book.setup.recipe.blend.water_temperature.has_value(), "/blend/water_temperature", "kitchen /tap_water"));
  Flow poured;
  poured.part[0] = water;
  const Ex seed_heat = heat_capacity(book, "soaked_heat_j_k", "the soaked seed", soaked.soaked, book.plan.soaked, book.plan.soaking.end(), soaked.soaked.at);
  const Ex water_heat = heat_capacity(book, "blend_water_heat_j_k", "the water", poured, water_stream(kilograms(book.plan.water.grinding_kg), s.water_at), s.water_at, at);
  return mixed(book, "ground_k", "ground beans", book.plan.ground.free.at, {seed_heat, water_heat}, {soaked.soaked.at, at});
}

}  // namespace

Ground blend_terms(Book& book, const Soaking& soaked) {
  const GroundBeans& g = book.plan.ground;
  const Ex water = grinding_water(book, soaked), kept = Ex(1.0) - book.param(Param::spill);
  std::array<Flow, max_legumes> lots;
  Flow released;
  for (std::size_t i = 0; i < book.job.legume_count; ++i) {
    lots[i] = releasable_of_lot(book, soaked.seed[i], releasable_of({&soaked.lots[i].seed, i}, book.theta), i);
    for (std::size_t p = 0; p < part_count; ++p) released.part[p] = released.part[p] + lots[i].part[p];
  }
  const Ex extent = extent_term(book, soaked, released);
  const Flow soak_extras = extras_flow(book, Stage::soak), extras = extras_flow(book, Stage::blend);
  Ground r;
  r.releasable = book.flow("releasable_kept", "what a full blend sets free, less the spill", g.releasable, [&](std::size_t p) { return kept * released.part[p]; });
  r.free = book.flow("free", "liquor of the ground beans", g.free, [&](std::size_t p) {
    return kept * (soluble(book, soaked, soak_extras, p) + (p == 0 ? water : Ex()) + extent * released.part[p]) + extras.part[p];
  });
  r.bound = book.flow("bound", "undissolved solids of the ground beans", g.bound, [&](std::size_t p) {
    return p == settling ? Ex() : kept * (soaked.soaked.part[p] - soluble(book, soaked, soak_extras, p) - extent * released.part[p]);
  });
  r.free.at = r.bound.at = temperature(book, soaked, water);
  r.bins = bin_terms(book, lots, kept);
  r.coagulable = weighted(book, lots, "coagulable_mean", g.coagulable, "1", "share of the milk protein that curdles", Param::coagulable);
  r.dose = weighted(book, lots, "dose_mean_mmol_g", g.dose_mmol_g, "mmol/g", "coagulant that the milk protein asks for", Param::dose);
  return r;
}

}  // namespace curdwright::accounts
