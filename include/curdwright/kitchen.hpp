// SPDX-License-Identifier: MIT
/// \file kitchen.hpp
/// The kitchen a batch is cooked in: gear, scales, temperatures, rules.
///
///     Result<Kitchen> k = read_kitchen(text, "canteen.json");   // missing keys take the built-in kitchen's
///     Kitchen plain = default_kitchen();
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "curdwright/price.hpp"
#include "curdwright/problem.hpp"
#include "curdwright/quantity.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class Material { steel, enamel, glass, aluminium, iron };
template <>
inline constexpr std::array<std::string_view, 5> word_list<Material> = {"steel", "enamel", "glass", "aluminium", "iron"};
enum class Thermometer { probe, infrared, none };
template <>
inline constexpr std::array<std::string_view, 3> word_list<Thermometer> = {"probe", "infrared", "none"};
enum class WaterGrade { drinking, untreated };
template <>
inline constexpr std::array<std::string_view, 2> word_list<WaterGrade> = {"drinking", "untreated"};
enum class RuleSet { home, selling };
template <>
inline constexpr std::array<std::string_view, 2> word_list<RuleSet> = {"home", "selling"};
enum class Region { us, uk, scotland, eu, canada, anz, codex };
template <>
inline constexpr std::array<std::string_view, 7> word_list<Region> = {"us", "uk", "scotland", "eu", "canada", "anz", "codex"};
/// us: 21 CFR 101.9. eu: Regulation 1169/2011 and the Commission's guidance on tolerances of December 2012.
enum class LabelRules { us, eu };
template <>
inline constexpr std::array<std::string_view, 2> word_list<LabelRules> = {"us", "eu"};

struct Pot {
  std::string name = "pot";
  Volume volume = litres(12);
  Mass tare;                    ///< empty weight; zero when not told
  Material material = Material::steel;
};

struct Scale {
  Mass step = grams(1);
  Mass capacity = kilograms(5);
};

/// What batches have shown of this kitchen, as `learn` writes it: how far each number lies from the shipped beliefs, in
/// units of their spreads, and how sure that is. A name is a parameter's key, followed by what it belongs to where it is
/// not of the whole kitchen: "spill", "soak.k1", "soak.k1@chickpea-kabuli", "held_liquor@hand-twist".
struct Learned {
  static constexpr std::size_t most = 250;
  std::string data_version, model_version;  ///< of the beliefs that it starts from
  int batches = 0, readings = 0;
  std::vector<std::string> names;
  std::vector<double> offsets;
  std::vector<double> covariance;           ///< lower triangle, row by row
};

struct Kitchen {
  std::optional<std::string> schema_file;  ///< "$schema": where an editor finds the schema; says nothing of the kitchen
  std::string name = "built-in kitchen";
  std::string blender = "high-speed";
  Volume jar = litres(2);
  std::string strainer = "hand-twist";
  std::vector<Pot> pots = {Pot{}};
  std::string hob = "electric";
  Power hob_power = watts(1800);
  int settling_vessels = 2;
  Volume settling_volume = litres(5);
  Area settling_area = square_centimetres(450);
  std::string press = "weight-on-mould";
  Length mould_length = centimetres(12), mould_width = centimetres(10), mould_height = centimetres(8);
  int moulds = 4;
  Temperature fridge = celsius(4);
  bool fridge_fan = false;
  Thermometer thermometer = Thermometer::probe;
  Scale coarse_scale{grams(1), kilograms(5)};
  Scale fine_scale{grams(0.1), grams(500)};
  Length altitude = metres(0);
  Temperature room = celsius(20);
  Temperature tap_water = celsius(15);
  WaterGrade water = WaterGrade::drinking;
  std::string time_zone;              ///< IANA name; empty: calendars use floating time
  RuleSet rule_set = RuleSet::home;
  Region region = Region::us;
  std::optional<LabelRules> label_rules;  ///< by the region when not told
  std::string currency{no_currency};  ///< ISO 4217
  std::vector<std::pair<std::string, std::string>> tares;   ///< empty weights of bowls and buckets, by name, as written: "412 g"
  std::vector<std::pair<std::string, std::string>> prices;  ///< by id, as written: "3.10/kg"; see price.hpp, cost.hpp
  std::optional<Learned> learned;
};

Kitchen default_kitchen();

/// By what it holds; a kitchen has one at least.
const Pot& largest_pot(const Kitchen& kitchen);

/// Reads a kitchen file. Keys that are left out keep the built-in kitchen's value.
Result<Kitchen> read_kitchen(std::string text, std::string file);

/// The kitchen as a file that read_kitchen reads back.
std::string write_kitchen(const Kitchen& kitchen);

/// JSON Schema 2020-12 of a kitchen file.
std::string kitchen_schema();

}  // namespace curdwright
