// SPDX-License-Identifier: MIT
/// \file recipe.hpp
/// A recipe as the cook writes it: what is left out is left to the defaults of the legume and the kitchen.
///
///     Result<Inputs> in = read_inputs({.recipe = text, .recipe_file = "beans.json"});
///     if (in) Result<Setup> s = resolve(in->recipe, in->kitchen, catalogue);
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "curdwright/kitchen.hpp"
#include "curdwright/problem.hpp"
#include "curdwright/quantity.hpp"
#include "curdwright/stages/starch.hpp"
#include "curdwright/units.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class SeedUse { food, sowing, unknown };
template <>
inline constexpr std::array<std::string_view, 3> word_list<SeedUse> = {"food", "sowing", "unknown"};
/// Where a vessel, the press or the curd stands.
enum class Where { room, fridge, freezer, hot };
template <>
inline constexpr std::array<std::string_view, 4> word_list<Where> = {"room", "fridge", "freezer", "hot"};
enum class CookedIn { open_pot, slow_cooker, pressure_cooker };
template <>
inline constexpr std::array<std::string_view, 3> word_list<CookedIn> = {"open-pot", "slow-cooker", "pressure-cooker"};
enum class SoldAs { food, unknown, hardware };
template <>
inline constexpr std::array<std::string_view, 3> word_list<SoldAs> = {"food", "unknown", "hardware"};
enum class Pack { open, water, sealed };
template <>
inline constexpr std::array<std::string_view, 3> word_list<Pack> = {"open", "water", "sealed"};
enum class Eaters { anyone, vulnerable };
template <>
inline constexpr std::array<std::string_view, 2> word_list<Eaters> = {"anyone", "vulnerable"};
enum class Claim { none, soy_free };
template <>
inline constexpr std::array<std::string_view, 2> word_list<Claim> = {"none", "soy-free"};

/// Figures from a packet, per 100 g; they replace the record's.
struct PacketLabel {
  std::optional<Mass> protein, fat, fibre, sugars, starch, water;
};

struct LegumeChoice {
  std::optional<std::string> id;
  std::optional<double> share;          ///< of the dry seed; an even split when none is given
  PacketLabel label;
  std::optional<Duration> age;
  /// Older than two years, seed swells less surely: common practice, no published source.
  [[nodiscard]] bool old() const { return age && *age > hours(24 * 365 * 2); }
  std::optional<SeedUse> sold_for;
};

struct Want {
  std::optional<int> blocks;
  std::optional<Mass> curd, dry, protein;  ///< protein: in the pressed curd
  std::optional<bool> fill;                ///< as much as the kitchen takes in one go
  std::optional<double> sure;              ///< chance with which the target is to be reached
  [[nodiscard]] int given() const { return blocks.has_value() + curd.has_value() + dry.has_value() + protein.has_value() + fill.value_or(false); }
};

struct SoakRecipe {
  std::optional<Temperature> water_temperature, room;
  std::optional<Where> where;            ///< fridge or room
  std::optional<Duration> time, time_constant;
  std::optional<double> water_to_dry;
  std::optional<int> changes;
  std::optional<bool> skins_off;
};

struct BlendRecipe {
  std::optional<double> total_water_to_dry, water_to_soaked;
  std::optional<Mass> water;
  std::optional<Temperature> water_temperature;
  std::optional<Duration> time;
};

struct WashRecipe {
  std::optional<double> water_to_dry;
  std::optional<Duration> blend;
};

struct StrainRecipe {
  std::optional<std::string> by;
  std::vector<WashRecipe> washes;
};

struct StarchRecipe {
  std::optional<StarchRemoval> remove;
  std::optional<Where> where;            ///< fridge or room
  std::optional<Length> depth;
  std::optional<Duration> time;
  std::optional<int> times;
};

struct CookRecipe {
  std::optional<Duration> hold, heat_up;
  std::optional<double> evaporated;
  std::optional<CookedIn> in;
};

struct CoagulateRecipe {
  std::optional<std::string> with;
  std::optional<SoldAs> grade;
  std::optional<Temperature> at;
  std::optional<Duration> wait;
  std::optional<double> make_up, purity;
  std::optional<Dose> dose;
  std::optional<Mass> amount;
  std::optional<Concentration> strength;
  std::optional<Density> label_ion;        ///< calcium or magnesium of a liquid, g/l
};

struct PressRecipe {
  std::optional<Pressure> pressure;
  std::optional<Mass> weight;
  std::optional<Duration> time;
  std::optional<double> moisture;
  std::optional<Where> where;              ///< fridge or room
};

struct StoreRecipe {
  std::optional<Where> where;
  std::optional<Pack> pack;
  std::optional<Eaters> eaters;
  std::optional<Claim> claim;
  std::optional<Temperature> at, reheat;
  std::optional<int> days, days_before_freezing;
  std::optional<bool> ferment, shared_gear;
  std::optional<double> ph;
};

/// Salt, oil, herbs and the like.
struct ExtraRecipe {
  std::optional<std::string> what;
  std::optional<Stage> stage;              ///< one of extra_stages; else the first of the record's
  std::optional<Mass> amount;              ///< for the batch, whatever its size
  std::optional<double> to_dry;            ///< kg per kg of dry seed
};

struct Recipe {
  std::string title;
  std::vector<LegumeChoice> legumes;
  Want want;
  std::optional<Mass> block_mass;
  SoakRecipe soak;
  BlendRecipe blend;
  StrainRecipe strain;
  StarchRecipe starch;
  CookRecipe cook;
  CoagulateRecipe coagulate;
  PressRecipe press;
  std::optional<std::string> chill_in;
  std::vector<ExtraRecipe> extras;
  StoreRecipe store;
};

/// Texts to read, and values that the command line sets on top of them.
struct InputTexts {
  std::string recipe = {}, recipe_file = {};
  std::optional<std::string> kitchen = {}; ///< none: the built-in kitchen
  std::string kitchen_file = {};
  std::vector<std::string> set = {};       ///< "/soak/time=12h", "/kitchen/altitude=900 m"
  Want want = {};                          ///< from options; replaces the recipe's
};

struct Inputs {
  Recipe recipe;
  Kitchen kitchen;
};

/// Reads recipe and kitchen; every fault of both is reported in one go.
Result<Inputs> read_inputs(InputTexts texts);
/// As far as they can be read, with all that is wrong in them; what cannot be read is as if it were left out.
struct PartInputs {
  Inputs inputs;
  Problems problems;
};
PartInputs read_part_inputs(InputTexts texts);
/// The recipe alone, by the same checks; the kitchen's text and settings are passed over.
Result<Recipe> read_recipe(InputTexts texts);

/// What a pointer that may be set leads to: of the recipe, or of the kitchen below /kitchen.
struct SettingKind {
  std::optional<QuantityKind> quantity;  ///< an amount with a unit
  bool whole = false;                    ///< a whole number
};
Result<SettingKind> setting_at(std::string_view pointer);

/// What recipe and kitchen tell, with what the command line sets on top: pointers ("/soak/time", "/kitchen/altitude") and
/// values as written, in the order of the texts. Nothing where a text cannot be read.
std::vector<std::pair<std::string, std::string>> told_values(const InputTexts& texts);

/// JSON Schema 2020-12 of a recipe file.
std::string recipe_schema();

}  // namespace curdwright
