// SPDX-License-Identifier: MIT
#include "curdwright/figures.hpp"

#include <array>
#include <cmath>

#include "curdwright/properties.hpp"
#include "enum_table.hpp"

namespace curdwright {
namespace {

using enum Figure;
using enum FigureGroup;

constexpr double g = 1e3;

double blocks_of(const Plan& p) { return p.block.si() > 0 ? p.pressed.curd.of.total_kg() / p.block.si() : 0.0; }
double end_piece_kg(const Plan& p) {
  return std::max(0.0, p.pressed.curd.of.total_kg() - curdwright::whole_blocks(blocks_of(p)) * p.block.si());
}
double in_100g(const Plan& p, Component c) { return 100.0 * p.pressed.curd.of.fraction(c); }
double carbohydrate_kg(const Composition& c) { return c[Component::starch] + c[Component::sugars] + c[Component::fibre]; }
/// mg per 100 g
double mineral(const Plan& p, double Minerals::*which) {
  const double kg = p.pressed.curd.of.total_kg();
  return kg > 0 ? 1e5 * p.pressed.curd.minerals.*which / kg : 0.0;
}
double share(double part, double whole) { return whole > 0 ? part / whole : 0.0; }
double solids(const Composition& c) { return share(c.solids_kg(), c.total_kg()); }
/// A refractometer is scaled in sucrose and does not see starch that hangs in the milk.
double brix(const Plan& p) {
  const Composition& milk = p.destarched.milk.of;
  return share(milk.solids_kg() - milk[Component::starch], milk.total_kg()) / p.solids_per_brix;
}
/// Nothing where the pot never gets there.
Duration time_to_95(const TemperatureHistory& history) {
  Duration sum;
  for (const HistoryPiece& piece : history.pieces()) {
    if (piece.start >= celsius(95)) return sum;
    if (const Duration t = piece.passes(celsius(95)); t.si() > 0) return sum + t;
    sum += piece.length;
  }
  return seconds(0);
}

// The typical errors are judgement: a drained or squeezed mass depends on when the cook calls it done.
constexpr std::array<FigureInfo, figure_count> table = {{
    {dry_mass, "dry_mass_g", stage, Stage::soak, 0.002, "dry seed", [](const Plan& p) { return g * p.dry.si(); }},
    {soaked_mass, "soaked_mass_g", expect, Stage::soak, 0.02, "soaked and drained", [](const Plan& p) { return g * p.soaked.of.total_kg(); }},
    {pulp_mass, "pulp_mass_g", expect, Stage::strain, 0.03, "pulp", [](const Plan& p) { return g * p.strained.pulp.of.total_kg(); }},
    {milk_mass, "milk_mass_g", expect, Stage::strain, 0.01, "milk", [](const Plan& p) { return g * p.strained.milk.of.total_kg(); }},
    {milk_volume, "milk_volume_ml", stage, Stage::strain, 0.02, "milk",
     [](const Plan& p) { return in_millilitres(volume_at_20(p.strained.milk.of)); }},
    {sediment_mass, "sediment_mass_g", expect, Stage::starch, 0.08, "starch layer", [](const Plan& p) { return g * p.destarched.sediment.of.total_kg(); }},
    {settled_milk_mass, "settled_milk_mass_g", expect, Stage::starch, 0.01, "milk into the pot",
     [](const Plan& p) { return g * p.destarched.milk.of.total_kg(); }},
    {cooked_milk_mass, "cooked_milk_mass_g", expect, Stage::cook, 0.01, "cooked milk", [](const Plan& p) { return g * p.cooked.milk.of.total_kg(); }},
    {whey_mass, "whey_mass_g", expect, Stage::press, 0.02, "whey", [](const Plan& p) { return g * p.pressed.whey.of.total_kg(); }},
    {curd_mass, "curd_mass_g", expect, Stage::press, 0.02, "pressed curd", [](const Plan& p) { return g * p.pressed.curd.of.total_kg(); }},
    {blocks, "blocks_count", expect, Stage::press, 0.02, "blocks", blocks_of},
    {whole_blocks, "whole_blocks_count", expect, Stage::press, 0.0, "whole blocks", [](const Plan& p) { return curdwright::whole_blocks(blocks_of(p)); }},
    {block_mass, "block_mass_g", expect, Stage::press, 0.0, "block", [](const Plan& p) { return g * p.block.si(); }},
    {end_piece_mass, "end_piece_mass_g", expect, Stage::press, 0.0, "end piece", [](const Plan& p) { return g * end_piece_kg(p); }},
    {yield, "yield_fraction", expect, Stage::press, 0.02, "curd per dry seed", [](const Plan& p) { return share(p.pressed.curd.of.total_kg(), p.dry.si()); }},
    {water, "water_g", FigureGroup::per_100g, Stage::press, 0.005, "water", [](const Plan& p) { return in_100g(p, Component::water); }},
    {protein, "protein_g", FigureGroup::per_100g, Stage::press, 0.05, "protein", [](const Plan& p) { return in_100g(p, Component::protein); }},
    {fat, "fat_g", FigureGroup::per_100g, Stage::press, 0.05, "fat", [](const Plan& p) { return in_100g(p, Component::fat); }},
    {carbohydrate, "carbohydrate_g", FigureGroup::per_100g, Stage::press, 0.1, "carbohydrate",
     [](const Plan& p) { return 100.0 * share(carbohydrate_kg(p.pressed.curd.of), p.pressed.curd.of.total_kg()); }},
    {fibre, "fibre_g", FigureGroup::per_100g, Stage::press, 0.1, "fibre", [](const Plan& p) { return in_100g(p, Component::fibre); }},
    {starch, "starch_g", FigureGroup::per_100g, Stage::press, 0.1, "starch", [](const Plan& p) { return in_100g(p, Component::starch); }},
    {salts, "salts_g", FigureGroup::per_100g, Stage::press, 0.1, "added salts", [](const Plan& p) { return in_100g(p, Component::salts); }},
    {energy, "energy_kcal", FigureGroup::per_100g, Stage::press, 0.05, "energy",
     [](const Plan& p) { return 100.0 * share(energy_kcal(p.pressed.curd.of), g * p.pressed.curd.of.total_kg()); }},
    {calcium, "calcium_mg", FigureGroup::per_100g, Stage::press, 0.1, "calcium", [](const Plan& p) { return mineral(p, &Minerals::calcium_kg); }},
    {magnesium, "magnesium_mg", FigureGroup::per_100g, Stage::press, 0.1, "magnesium", [](const Plan& p) { return mineral(p, &Minerals::magnesium_kg); }},
    {sodium, "sodium_mg", FigureGroup::per_100g, Stage::press, 0.1, "sodium", [](const Plan& p) { return mineral(p, &Minerals::sodium_kg); }},
    {milk_protein, "milk_protein_fraction", stage, Stage::strain, 0.05, "protein in the milk",
     [](const Plan& p) { return p.strained.milk.of.fraction(Component::protein); }},
    {milk_solids, "milk_solids_fraction", stage, Stage::strain, 0.05, "dry matter of the milk",
     [](const Plan& p) { return share(p.strained.milk.of.solids_kg(), p.strained.milk.of.total_kg()); }},
    {cooked_protein, "cooked_milk_protein_fraction", stage, Stage::cook, 0.05, "protein in the cooked milk",
     [](const Plan& p) { return p.cooked.milk.of.fraction(Component::protein); }},
    {settled, "settled_fraction", stage, Stage::starch, 0.1, "starch settled", [](const Plan& p) { return p.destarched.share_settled; }},
    {settle_depth, "depth_mm", stage, Stage::starch, 0.05, "depth of the milk", [](const Plan& p) { return in_millimetres(p.destarched.depth); }},
    {starch_left, "starch_left_fraction", stage, Stage::starch, 0.1, "starch left in the milk",
     [](const Plan& p) { return p.destarched.milk.of.fraction(Component::starch); }},
    {pulp_moisture, "pulp_moisture_fraction", stage, Stage::strain, 0.01, "moisture of the pulp",
     [](const Plan& p) { return p.strained.pulp.of.fraction(Component::water); }},
    {coagulant_mass, "coagulant_mass_g", stage, Stage::coagulate, 0.02, "coagulant", [](const Plan& p) { return g * p.set.dose.used_kg; }},
    {coagulant_strength, "coagulant_mmol_per_l", stage, Stage::coagulate, 0.05, "coagulant in the milk",
     [](const Plan& p) { return in_millimolar(p.set.dose.strength); }},
    {heat_up, "heat_up_s", stage, Stage::cook, 0.1, "time to the boil", [](const Plan& p) { return in_seconds(p.cooked.heat_up); }},
    {evaporated, "evaporated_fraction", stage, Stage::cook, 0.1, "boiled off",
     [](const Plan& p) { return share(p.cooked.steam.of.total_kg(), p.destarched.milk.of.total_kg()); }},
    {after_pouring, "after_pouring_c", stage, Stage::coagulate, 0.02, "temperature after pouring", [](const Plan& p) { return in_celsius(p.set.after_pouring); }},
    {block_height, "block_height_mm", stage, Stage::press, 0.05, "height of a block", [](const Plan& p) { return in_millimetres(p.pressed.block_height); }},
    {stored_mass, "stored_mass_g", stage, Stage::chill, 0.02, "curd after a day in store",
     [](const Plan& p) { return g * p.pressed.curd.of.total_kg() * (1.0 - p.drip); }},
    {protein_mass, "protein_mass_g", expect, Stage::press, 0.05, "protein in the curd", [](const Plan& p) { return g * p.pressed.curd.of[Component::protein]; }},
    {to_95, "to_95_s", stage, Stage::cook, 0.05, "time to 95 degC", [](const Plan& p) { return in_seconds(time_to_95(p.cooked.history)); }},
    {curd_solids, "curd_solids_fraction", stage, Stage::press, 0.02, "dry matter of the curd", [](const Plan& p) { return solids(p.pressed.curd.of); }},
    {pulp_solids, "pulp_solids_fraction", stage, Stage::strain, 0.03, "dry matter of the pulp", [](const Plan& p) { return solids(p.strained.pulp.of); }},
    {milk_brix, "milk_brix_fraction", stage, Stage::starch, 0.03, "Brix of the settled milk", brix},
}};

static_assert(in_order(table, &FigureInfo::figure), "the table of figures follows the order of Figure");

}  // namespace

const FigureInfo& info(Figure f) { return table[static_cast<std::size_t>(f)]; }
std::span<const FigureInfo> all_figures() { return table; }

double energy_kcal(const Composition& food) {
  return 1e3 * (3.47 * food[Component::protein] + 8.37 * food[Component::fat] + 4.07 * carbohydrate_kg(food));
}

double whole_blocks(double blocks) { return std::floor(blocks + 1e-3); }

}  // namespace curdwright
