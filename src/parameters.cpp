// SPDX-License-Identifier: MIT
#include "curdwright/parameters.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "enum_table.hpp"
#include "quantiles.hpp"

namespace curdwright {
namespace {


using enum Link;
using enum Scope;

constexpr std::array<ParamInfo, param_count> table = {{
    {Param::seed_water, "composition.water", "g/100g", logit, legume, "moisture of the dry seed", 0.01},
    {Param::seed_protein, "composition.protein", "g/100g", logit, legume, "protein of the seed", 0.01},
    {Param::seed_fat, "composition.fat", "g/100g", logit, legume, "fat of the seed", 0.01},
    {Param::seed_ash, "composition.ash", "g/100g", logit, legume, "minerals of the seed", 0.01},
    {Param::seed_fibre, "composition.fibre", "g/100g", logit, legume, "fibre of the seed", 0.01},
    {Param::seed_sugars, "composition.sugars", "g/100g", logit, legume, "sugars of the seed", 0.01},
    {Param::seed_starch, "composition.starch", "g/100g", logit, legume, "starch of the seed", 0.01},
    {Param::seed_calcium, "composition.calcium", "mg/100g", log, legume, "calcium of the seed", 1e-5},
    {Param::seed_magnesium, "composition.magnesium", "mg/100g", log, legume, "magnesium of the seed", 1e-5},
    {Param::soak_k1, "soak.k1", "h", log, legume, "how long the seed takes to drink", 3600.0},
    {Param::soak_k2, "soak.k2", "1", log, legume, "how soon the seed is full"},
    {Param::soak_activation_energy, "soak.activation_energy", "kJ/mol", log, legume, "how much warmth speeds the soak"},
    {Param::soak_activation_energy_hot, "soak.activation_energy_hot", "kJ/mol", log, legume,
     "how much heat speeds a hot soak"},
    {Param::solids_lost, "soak.solids_lost", "1", logit, legume, "solids lost to the soak water"},
    {Param::clinging_water, "soak.clinging_water", "kg/kg", log, legume, "water that clings to drained seed"},
    {Param::hull, "soak.hull", "1", logit, legume, "share of skins"},
    {Param::release_protein, "release.protein", "1", logit, legume, "protein that grinding sets free"},
    {Param::release_fat, "release.fat", "1", logit, legume, "fat that grinding sets free"},
    {Param::granule_median, "granules.median", "um", log, legume, "size of the starch granules", 1e-6},
    {Param::granule_spread, "granules.spread", "1", log, legume, "spread of the granule sizes"},
    {Param::never_settles, "granules.never_settles", "1", logit, legume, "starch that never settles"},
    {Param::gel_onset, "granules.gel_onset", "degC", log, legume, "where the starch begins to thicken"},
    {Param::gel_end, "granules.gel_end", "degC", log, legume, "where the starch has thickened"},
    {Param::coagulable, "curd.coagulable", "1", logit, legume, "share of milk protein that curdles"},
    {Param::dose, "curd.dose", "mmol/g", log, legume, "coagulant that the protein asks for"},
    {Param::blender_protein, "protein_factor", "1", logit, equipment, "how fine your blender grinds"},
    {Param::blender_starch, "starch_release", "1", logit, equipment, "starch that your blender sets free"},
    {Param::held_liquor, "held_liquor", "kg/kg", log, equipment, "milk left in the squeezed pulp"},
    {Param::hob_efficiency, "efficiency", "1", logit, equipment, "heat that reaches the pot"},
    {Param::chill_coefficient, "surface_coefficient", "W/m2K", log, equipment, "how hard the chilling pulls"},
    {Param::coagulant_strength, "strength", "1", log, equipment, "strength of the coagulant"},
    {Param::acid_dose, "dose", "mmol/g", log, equipment, "acid that the protein asks for"},
    {Param::unassigned_fibre_pulse, "unassigned_fibre_pulse", "1", logit, model, "unnamed carbohydrate of pulses that is fibre"},
    {Param::unassigned_fibre_oily, "unassigned_fibre_oily", "1", logit, model, "unnamed carbohydrate of soy that is fibre"},
    {Param::release_sugars, "release_sugars", "1", logit, model, "sugars that grinding sets free"},
    {Param::release_ash, "release_ash", "1", logit, model, "minerals that grinding sets free"},
    {Param::release_fibre, "release_fibre", "1", logit, model, "fibre that passes the cloth"},
    {Param::release_calcium, "release_calcium", "1", logit, model, "calcium that grinding sets free"},
    {Param::release_magnesium, "release_magnesium", "1", logit, model, "magnesium that grinding sets free"},
    {Param::spill, "spill", "1", logit, model, "ground beans left on jar and bucket"},
    {Param::hull_removed, "hull_removed", "1", logit, model, "skins that rubbing takes off"},
    {Param::protein_voluminosity, "protein_voluminosity", "ml/g", log, model, "how much protein thickens the milk"},
    {Param::granule_density, "granule_density", "kg/m3", log, model, "density of wet starch granules"},
    {Param::granule_water, "granule_water", "kg/kg", log, model, "water inside the granules"},
    {Param::hindered_exponent, "hindered_exponent", "1", log, model, "how crowding slows settling"},
    {Param::bed_fraction, "bed_fraction", "1", logit, model, "how tightly the starch layer packs"},
    {Param::heel, "heel", "1", logit, model, "cloudy milk left behind with the starch"},
    {Param::gel_removed, "gel_removed", "1", logit, model, "starch that gel-and-strain takes out"},
    {Param::gel_holds, "gel_holds", "kg/kg", log, model, "milk that the gel takes with it"},
    {Param::vessel_coefficient, "vessel_coefficient", "W/m2K", log, model, "how fast a standing pot cools"},
    {Param::pot_loss, "pot_loss", "W/m2K", log, model, "heat an open pot loses"},
    {Param::gentle_heating, "gentle_heating", "1", log, model, "how many times longer heating takes past 65 degC"},
    {Param::evaporated_per_10_min, "evaporated_per_10_min", "1", logit, model, "water boiled off"},
    {Param::film, "film", "1", logit, model, "milk left as film and on the pot"},
    {Param::inhibitor_d_fast, "inhibitor_d_fast", "min", log, model, "heat life of the labile trypsin inhibitor", 60.0},
    {Param::inhibitor_d_slow, "inhibitor_d_slow", "min", log, model, "heat life of the stable trypsin inhibitor", 60.0},
    {Param::inhibitor_labile, "inhibitor_labile", "1", logit, model, "share of trypsin inhibitor that is labile"},
    {Param::inhibitor_z, "inhibitor_z", "K", log, model, "how much heat speeds its loss"},
    {Param::lipoxygenase_d60, "lipoxygenase_d60", "min", log, model, "heat life of lipoxygenase", 60.0},
    {Param::lipoxygenase_z, "lipoxygenase_z", "K", log, model, "how much heat speeds its loss"},
    {Param::gdl_rate, "gdl_rate", "1/s", log, model, "how fast GDL turns sour"},
    {Param::gdl_activation_energy, "gdl_activation_energy", "kJ/mol", log, model, "how much heat speeds GDL"},
    {Param::fat_captured, "fat_captured", "1", logit, model, "milk fat that stays with the curd"},
    {Param::calcium_retained, "calcium_retained", "1", logit, model, "calcium that stays with the curd"},
    {Param::magnesium_retained, "magnesium_retained", "1", logit, model, "magnesium that stays with the curd"},
    {Param::drained_moisture, "drained_moisture", "1", logit, model, "moisture of drained, unpressed curd"},
    {Param::press_intercept, "press_intercept", "1", logit, model, "moisture under light pressing"},
    {Param::press_slope, "press_slope", "1", log, model, "how much pressure dries the curd"},
    {Param::consolidation, "consolidation", "m2/s", log, model, "how fast the curd presses out"},
    {Param::creep_share, "creep_share", "1", logit, model, "share of pressing that comes late"},
    {Param::creep_delay, "creep_delay", "1", log, model, "how late that share comes"},
    {Param::curd_cling, "curd_cling", "1", logit, model, "curd left in cloth and mould"},
    {Param::drip, "drip", "1", logit, model, "drip on the first day in store"},
    {Param::solids_per_brix, "solids_per_brix", "1", log, model, "solids that a refractometer sees"},
}};

static_assert(in_order(table, &ParamInfo::param), "the parameter table follows the order of Param");

}  // namespace

double to_link(Link link, double value) { return link == Link::log ? std::log(value) : std::log(value / (1.0 - value)); }

double from_link(Link link, double x) { return link == Link::log ? std::exp(x) : 1.0 / (1.0 + std::exp(-x)); }

const ParamInfo& info(Param p) { return table[static_cast<std::size_t>(p)]; }
std::span<const ParamInfo> all_params() { return table; }

double Evidence::spread(Link link) const { return (to_link(link, high) - to_link(link, low)) / (2.0 * z90); }

Evidence Evidence::scaled(double factor) const {
  Evidence other = *this;
  other.value *= factor;
  other.low *= factor;
  other.high *= factor;
  return other;
}

Evidence Evidence::widened(Link link, double factor) const {
  Evidence wide = *this;
  const double middle = to_link(link, value);
  wide.low = from_link(link, middle - factor * (middle - to_link(link, low)));
  wide.high = from_link(link, middle + factor * (to_link(link, high) - middle));
  return wide;
}

void Theta::set(Param p, std::size_t legume, double value) {
  const auto i = static_cast<std::size_t>(p);
  if (i < legume_param_count)
    legume_[legume][i] = value;
  else
    shared_[i - legume_param_count] = value;
}

void Beliefs::add(Belief belief) {
  medians_.set(belief.param, belief.legume, belief.median);
  middle_.push_back(to_link(belief.link, belief.median));
  all_.push_back(std::move(belief));
}

Theta Beliefs::at(std::span<const double> z) const {
  Theta theta = medians_;
  const std::size_t n = all_.size(), given = std::min(n, z.size());
  for (std::size_t i = 0; i < n; ++i) {
    double off = 0;
    if (factor_.empty())
      off = i < given ? all_[i].spread * z[i] : 0.0;
    else
      off = std::inner_product(z.begin(), z.begin() + static_cast<std::ptrdiff_t>(given), factor_.begin() + static_cast<std::ptrdiff_t>(i * n), 0.0);
    if (off != 0) put(theta, i, off);
  }
  return theta;
}

void Beliefs::put(Theta& theta, std::size_t i, double off) const { theta.set(all_[i].param, all_[i].legume, from_link(all_[i].link, middle_[i] + off)); }

std::vector<double> Beliefs::deviations(std::span<const double> z) const {
  const std::size_t n = all_.size();
  if (factor_.empty()) return {z.begin(), z.end()};
  std::vector<double> d(n);
  for (std::size_t i = 0; i < n; ++i)
    d[i] = std::inner_product(z.begin(), z.end(), factor_.begin() + static_cast<std::ptrdiff_t>(i * n), 0.0) / all_[i].spread;
  return d;
}

void Beliefs::move(std::span<const double> by, std::vector<double> factor) {
  const std::size_t n = all_.size();
  for (std::size_t i = 0; i < n; ++i) {
    Belief& b = all_[i];
    middle_[i] += by[i];
    b.median = from_link(b.link, middle_[i]);
    const auto row = factor.begin() + static_cast<std::ptrdiff_t>(i * n);
    b.spread = std::sqrt(std::inner_product(row, row + static_cast<std::ptrdiff_t>(n), row, 0.0));
    medians_.set(b.param, b.legume, b.median);
  }
  factor_ = std::move(factor);
}

void Beliefs::replace(std::size_t belief, double median, double spread) {
  Belief& b = all_[belief];
  b.median = median;
  b.spread = spread;
  middle_[belief] = to_link(b.link, median);
  medians_.set(b.param, b.legume, median);
}

Belief belief_from(Param p, std::size_t legume, const Evidence& e) {
  const ParamInfo& row = info(p);
  // As scaled() and spread() would tell, without a copy of all that is written about it.
  const double spread = (to_link(row.link, e.high * row.to_si) - to_link(row.link, e.low * row.to_si)) / (2.0 * z90);
  return {p, static_cast<std::uint8_t>(legume), e.value * row.to_si, spread, row.link, row.scope, e.known, e.source};
}

}  // namespace curdwright
