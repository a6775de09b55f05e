// SPDX-License-Identifier: MIT
/// \file figures.hpp
/// One table of everything that a plan can be asked for. Adding a figure is one row.
///
///     double g = value(plan, Figure::curd_mass);
///     std::string_view key = info(Figure::curd_mass).key;     // "curd_mass_g"
#pragma once

#include <span>
#include <string_view>

#include "curdwright/plan.hpp"

namespace curdwright {

enum class Figure : std::uint16_t {
  dry_mass, soaked_mass, pulp_mass, milk_mass, milk_volume, sediment_mass, settled_milk_mass, cooked_milk_mass, whey_mass, curd_mass,
  blocks, whole_blocks, block_mass, end_piece_mass, yield,
  water, protein, fat, carbohydrate, fibre, starch, salts, energy, calcium, magnesium, sodium,
  milk_protein, milk_solids, cooked_protein, settled, settle_depth, starch_left, pulp_moisture, coagulant_mass, coagulant_strength,
  heat_up, evaporated, after_pouring, block_height, stored_mass, protein_mass,
  to_95, curd_solids, pulp_solids, milk_brix,
  end
};
inline constexpr std::size_t figure_count = static_cast<std::size_t>(Figure::end);

/// Where a figure stands in a JSON sheet.
enum class FigureGroup { expect, per_100g, stage };

struct FigureInfo {
  Figure figure;
  std::string_view key;           ///< ends in its unit
  FigureGroup group;
  Stage stage;                    ///< whose figure it is
  double typical_error;           ///< of a measurement besides the scale's step, relative; judgement
  std::string_view plain;         ///< what a cook calls it
  double (*of)(const Plan&);
};
const FigureInfo& info(Figure f);
std::span<const FigureInfo> all_figures();

/// The figure's value in the unit of its key.
inline double value(const Plan& p, Figure f) { return info(f).of(p); }

/// Energy of food, kcal, by the USDA factors for curd: protein 3.47, fat 8.37, carbohydrate by difference
/// (with fibre) 4.07 kcal/g. They reproduce the printed energy of the four USDA curd rows to 0.5 kcal.
double energy_kcal(const Composition& food);

/// Whole blocks in so much curd. A block is whole when no more than a thousandth of it is missing.
double whole_blocks(double blocks);

}  // namespace curdwright
