// SPDX-License-Identifier: MIT
#include "curdwright/resolve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/solve.hpp"
#include "scopes.hpp"

namespace curdwright {
namespace {

/// A packet prints one figure; how far this bag is from it is a judgement.
constexpr double label_spread = 0.06;
constexpr double old_seed_spread = 1.5;  // judgement
/// A slow cooker's high setting and a pressure cooker's low one: from memory, medium.
constexpr Temperature slow_cooker = celsius(90), pressure_cooker = celsius(110);
/// Within the custom of 20 min to an hour, and short enough to keep raw milk under two hours out of the cold.
constexpr Duration default_settling = minutes(40);
/// Spread of a strength that the user read off a label: judgement.
constexpr double label_strength_spread = 0.05;

template <class T>
void collect(Problems& problems, Result<T>&& result, T& to, std::string_view pointer) {
  if (result) {
    to = std::move(*result);
    return;
  }
  for (Problem& p : result.error()) {
    if (p.place.file.empty()) p.place.pointer = pointer;
    problems.push_back(std::move(p));
  }
}

double largest(const std::vector<Legume>& legumes, double (*of)(const Legume&)) {
  double most = 0;
  for (const Legume& l : legumes) most = std::max(most, of(l));
  return most;
}

void put(Beliefs& beliefs, Param p, std::size_t legume, const Evidence& e) { beliefs.add(belief_from(p, legume, e)); }

Belief from_packet(Param p, std::size_t legume, double fraction) {
  return {p, static_cast<std::uint8_t>(legume), fraction, label_spread, info(p).link, Scope::legume, Known::seen, "packet"};
}

std::optional<Mass> on_packet(const PacketLabel& label, Param p) {
  switch (p) {
    case Param::seed_protein: return label.protein;
    case Param::seed_fat: return label.fat;
    case Param::seed_fibre: return label.fibre;
    case Param::seed_sugars: return label.sugars;
    case Param::seed_starch: return label.starch;
    case Param::seed_water: return label.water;
    default: return std::nullopt;
  }
}

void believe_legume(Beliefs& beliefs, const Legume& l, const LegumeChoice& choice, std::size_t i) {
  const bool old = choice.old();
  for (const ParamInfo& row : all_params()) {
    if (row.scope != Scope::legume) continue;
    if (const auto label = on_packet(choice.label, row.param)) {
      beliefs.add(from_packet(row.param, i, in_grams(*label) / 100.0));
      continue;
    }
    Belief b = belief_from(row.param, i, l.evidence(row.param));
    if (old && (row.param == Param::soak_k1 || row.param == Param::soak_k2)) b.spread *= old_seed_spread;
    beliefs.add(std::move(b));
  }
}

/// A packet and the record together must leave room in 100 g.
void check_packet(const Beliefs& beliefs, const LegumeChoice& choice, std::size_t i, std::size_t legumes, Problems& problems) {
  const PacketLabel& l = choice.label;
  if (!(l.protein || l.fat || l.fibre || l.sugars || l.starch || l.water)) return;
  const Theta medians = beliefs.medians();
  double sum = 0;
  for (Param p : {Param::seed_water, Param::seed_protein, Param::seed_fat, Param::seed_ash, Param::seed_fibre, Param::seed_sugars, Param::seed_starch})
    if (on_packet(l, p) || p == Param::seed_water || p == Param::seed_protein || p == Param::seed_fat || p == Param::seed_ash) sum += 100 * medians.of(p, i);
  if (sum <= 103) return;
  problems.push_back({"composition-sum", {.pointer = legumes == 1 ? "/legume/0/label" : fmt::format("/legume/{}/label", i)},
                      fmt::format("with the packet's figures water, protein, fat, ash and what else it tells add to {:.0f} g of 100 g", sum), "they must leave room for each other", "check the packet: figures are per 100 g of the dry seed"});
}

/// How sure the active part of what is weighed is, about its nominal value.
Belief strength_belief(const Coagulant& c, bool told) {
  const Evidence& e = c.strength ? *c.strength : *c.purity;
  const double spread = told ? label_strength_spread : e.spread(Link::log);
  return {Param::coagulant_strength, 0, 1.0, spread, Link::log, Scope::equipment, e.known, e.source};
}

void believe_gear(Setup& s) {
  const auto figure = [](const Equipment& e, std::string_view key) -> const Evidence& { return e.figures.find(key)->second; };
  put(s.beliefs, Param::blender_protein, 0, figure(s.blender, "protein_factor"));
  put(s.beliefs, Param::blender_starch, 0, figure(s.blender, "starch_release"));
  put(s.beliefs, Param::held_liquor, 0, figure(s.strainer, "held_liquor"));
  put(s.beliefs, Param::hob_efficiency, 0, figure(s.hob, "efficiency"));
  put(s.beliefs, Param::chill_coefficient, 0, figure(s.chill, "surface_coefficient"));
  const CoagulateRecipe& told = s.recipe.coagulate;
  s.beliefs.add(strength_belief(s.coagulant, told.purity || told.strength || told.label_ion));
  if (s.coagulant.dose) put(s.beliefs, Param::acid_dose, 0, *s.coagulant.dose);
}

void set_seeds(Setup& s) {
  Job& j = s.job;
  j.legume_count = s.legumes.size();
  for (std::size_t i = 0; i < s.legumes.size(); ++i) {
    const Legume& l = s.legumes[i];
    j.seeds[i].share = s.recipe.legumes[i].share.value_or(1.0 / static_cast<double>(s.legumes.size()));
    j.seeds[i].oily = l.kind != SeedKind::pulse;
    j.seeds[i].sodium = l.sodium.value * 1e-5;
  }
  // Shares that were written rounded still make one whole.
  double sum = 0;
  for (std::size_t i = 0; i < j.legume_count; ++i) sum += j.seeds[i].share;
  for (std::size_t i = 0; i < j.legume_count; ++i) j.seeds[i].share /= sum;
  j.dry = s.recipe.want.dry.value_or(kilograms(1));
  j.room = s.kitchen.room;
}

void set_soak(Setup& s) {
  const SoakRecipe& r = s.recipe.soak;
  SoakSettings& k = s.job.soak;
  // Only the temperature round the vessel told: warmer than any fridge is the room.
  s.soak_in = r.where.value_or(r.room && *r.room > celsius(8) ? Where::room : Where::fridge);
  k.surroundings = r.room.value_or(s.soak_in == Where::room ? s.kitchen.room : s.kitchen.fridge);
  k.water_at = r.water_temperature.value_or(s.kitchen.tap_water);
  k.water_to_dry = r.water_to_dry.value_or(3.0);
  k.time = r.time.value_or(seconds(largest(s.legumes, [](const Legume& l) { return l.soak_time.si(); })));
  k.changes = r.changes.value_or(0);
  k.skins_off = r.skins_off.value_or(false);
  k.seed_at = s.kitchen.room;
  k.time_constant = r.time_constant;
}

void set_blend(Setup& s) {
  const BlendRecipe& r = s.recipe.blend;
  BlendSettings& b = s.job.blend;
  b.water_at = r.water_temperature.value_or(s.kitchen.tap_water);
  b.full_time = *s.blender.time;
  b.time = r.time.value_or(b.full_time);
  b.jar = s.kitchen.jar;
  b.fill = b.water_at > celsius(60) ? s.blender.fill_hot : s.blender.fill_cold;
  if (r.total_water_to_dry) b.water = *r.total_water_to_dry, b.basis = WaterBasis::total_to_dry;
  if (r.water_to_soaked) b.water = *r.water_to_soaked, b.basis = WaterBasis::grinding_to_soaked;
  s.water_chosen = !r.total_water_to_dry && !r.water_to_soaked && !r.water;
  StrainSettings& w = s.job.strain;
  w.wash_count = std::min(s.recipe.strain.washes.size(), StrainSettings::max_washes);
  for (std::size_t i = 0; i < w.wash_count; ++i)
    w.washes[i] = {s.recipe.strain.washes[i].water_to_dry.value_or(1.0), s.recipe.strain.washes[i].blend.value_or(seconds(0))};
  w.wash_at = b.water_at;
  w.blend_time = b.time;
  w.full_time = b.full_time;
}

void set_starch(Setup& s) {
  const StarchRecipe& r = s.recipe.starch;
  StarchSettings& k = s.job.starch;
  double starch = 0;
  const Theta medians = s.beliefs.medians();
  for (std::size_t i = 0; i < s.job.legume_count; ++i)
    starch += s.job.seeds[i].share * seed_composition(medians, i, s.job.seeds[i].oily)[Component::starch];
  s.starch_poor = starch < starch_poor_below;
  k.remove = s.starch_poor ? StarchRemoval::none : r.remove.value_or(StarchRemoval::settle);
  // A degree past the end, of the legume that gelatinises last.
  double gel_end = 0;
  for (std::size_t i = 0; i < s.job.legume_count; ++i) gel_end = std::max(gel_end, medians.of(Param::gel_end, i));
  k.gel_at = celsius(gel_end + 1);
  k.depth = r.depth;
  k.vessel = s.kitchen.settling_area;
  k.time = r.time.value_or(default_settling);
  k.times = r.times.value_or(1);
  s.starch_in = r.where.value_or(Where::room);
  k.surroundings = s.starch_in == Where::fridge ? s.kitchen.fridge : s.kitchen.room;
}

void set_cook(Setup& s) {
  const CookRecipe& r = s.recipe.cook;
  CookSettings& k = s.job.cook;
  s.air = pressure_at_altitude(s.kitchen.altitude);
  s.boil = boiling_temperature(s.air);
  k.hob = s.kitchen.hob_power;
  k.hold = r.hold.value_or(minutes(largest(s.legumes, [](const Legume& l) { return l.hold.value; })));
  k.boil = s.boil;
  k.heat_up = r.heat_up;
  k.evaporated = r.evaporated;
  if (r.in == CookedIn::slow_cooker) k.boil = std::min(s.boil, slow_cooker);
  if (r.in == CookedIn::pressure_cooker) k.boil = pressure_cooker, k.evaporated = r.evaporated.value_or(0.0);
  k.room = s.kitchen.room;
}

void set_active(CoagulateSettings& k, const Coagulant& c, const CoagulateRecipe& told) {
  const double molar_kg = c.molar_mass.value * 1e-3;
  if (c.form == CoagulantForm::liquid) {
    double mol_l = c.strength->value;
    const double ion_kg_mol = c.ion == Ion::calcium ? calcium_kg_mol : magnesium_kg_mol;
    if (told.strength) mol_l = in_millimolar(*told.strength) * 1e-3;
    if (told.label_ion && c.ion != Ion::none) mol_l = in_kilograms_per_cubic_metre(*told.label_ion) * 1e-3 / ion_kg_mol;
    k.active_mol_kg = mol_l / c.density->value;
    k.solute_kg_kg = std::min(0.95, k.active_mol_kg * molar_kg);
    return;
  }
  const double purity = told.purity.value_or(c.purity->value);
  k.active_mol_kg = purity / molar_kg;
  k.solute_kg_kg = 1.0 - purity * (c.crystal_water ? c.crystal_water->value : 0.0);
}

void set_coagulate(Setup& s) {
  const CoagulateRecipe& r = s.recipe.coagulate;
  const Coagulant& c = s.coagulant;
  CoagulateSettings& k = s.job.coagulate;
  k.kind = c.kind;
  k.ion = c.ion;
  set_active(k, c, r);
  k.mix_water_kg_kg = c.mix_water.value;
  double low = 0, high = 0;
  for (std::size_t i = 0; i < s.legumes.size(); ++i) {
    low += s.job.seeds[i].share * s.legumes[i].window_low_mm;
    high += s.job.seeds[i].share * s.legumes[i].window_high_mm;
  }
  k.window_low = millimolar(low);
  k.window_high = millimolar(high);
  k.at = std::min(r.at.value_or(c.at), s.job.cook.boil);
  k.wait = r.wait.value_or(c.wait);
  k.make_up = r.make_up.value_or(c.make_up);
  k.mix_at = s.kitchen.room;
  k.room = s.kitchen.room;
  k.dose = r.dose;
}

void set_press_and_chill(Setup& s) {
  const PressRecipe& r = s.recipe.press;
  PressSettings& k = s.job.press;
  k.block = s.recipe.block_mass.value_or(grams(300));
  k.mould_length = s.kitchen.mould_length;
  k.mould_width = s.kitchen.mould_width;
  k.pressure = r.pressure.value_or(kilopascals(s.press.figures.find("pressure")->second.value));
  if (r.weight) k.pressure = pressure_under(*r.weight, k);
  k.time = r.time.value_or(*s.press.time);
  k.moisture = r.moisture;
  s.press_in = r.where.value_or(Where::room);
  const bool in_fridge = s.press_in == Where::fridge;
  s.press_surroundings = in_fridge ? s.kitchen.fridge : s.kitchen.room;
  s.press_coefficient_w_m2_k = in_fridge && s.kitchen.fridge_fan ? moving_air_w_m2_k : still_air_w_m2_k;
  s.chill_medium = s.chill.temperature.value_or(s.kitchen.fridge);
}

void set_extras(Setup& s) {
  s.job.extra_count = s.extras.size();
  for (std::size_t i = 0; i < s.extras.size(); ++i) {
    const ExtraRecipe& told = s.recipe.extras[i];
    const Extra& e = s.extras[i].extra;
    s.job.extras[i] = {s.extras[i].stage, e.composition(), e.minerals(), told.to_dry.value_or(0.0), told.amount.value_or(grams(0))};
  }
}

/// Extras by name, and where each goes in.
void find_extras(Setup& s, const Catalogue& catalogue, Problems& problems) {
  const auto complain = [&](std::string_view code, std::string pointer, std::string what, std::string why, std::string fix) {
    problems.push_back({std::string(code), {.pointer = std::move(pointer)}, std::move(what), std::move(why), std::move(fix)});
  };
  const auto& told = s.recipe.extras;
  if (told.size() > max_extras) return complain("too-many", "/extras", fmt::format("{} extras", told.size()), fmt::format("at most {} can be planned", max_extras), "");
  s.extras.resize(told.size());
  for (std::size_t i = 0; i < told.size(); ++i) {
    const std::size_t before = problems.size();
    collect(problems, catalogue.extra(told[i].what.value_or("")), s.extras[i].extra, fmt::format("/extras/{}/what", i));
    if (problems.size() > before) continue;
    const Extra& e = s.extras[i].extra;
    const Stage stage = told[i].stage.value_or(e.stages.front());
    if (std::find(e.stages.begin(), e.stages.end(), stage) == e.stages.end()) {
      complain("word-unknown", fmt::format("/extras/{}/stage", i), fmt::format("{} is not planned at the stage \"{}\"", e.kitchen_name, word(stage)),
               "what it would do there is not known", fmt::format("use one of: {}", fmt::join(words_of(e.stages), ", ")));
      continue;
    }
    s.extras[i].stage = stage;
  }
}

/// Reads what the recipe and kitchen name; every name that is not found is reported.
Problems find_records(Setup& s, const Catalogue& catalogue) {
  Problems problems;
  s.legumes.resize(s.recipe.legumes.size());
  for (std::size_t i = 0; i < s.recipe.legumes.size(); ++i) {
    const std::string pointer = s.recipe.legumes.size() == 1 ? "/legume" : fmt::format("/legume/{}/id", i);
    collect(problems, catalogue.legume(s.recipe.legumes[i].id.value_or("")), s.legumes[i], pointer);
  }
  for (std::size_t i = 0; problems.empty() && i < s.legumes.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (s.legumes[i].id == s.legumes[j].id)
        problems.push_back({"shares", {.pointer = fmt::format("/legume/{}/id", i)}, fmt::format("{} stands twice in the mix", s.legumes[i].id), "",
                            "give it once, with its whole share"});
  collect(problems, catalogue.coagulant(s.recipe.coagulate.with.value_or("calcium-sulfate-dihydrate")), s.coagulant, "/coagulate/with");
  collect(problems, catalogue.equipment(EquipmentKind::blender, s.kitchen.blender), s.blender, "/kitchen/blender/class");
  collect(problems, catalogue.equipment(EquipmentKind::strainer, s.recipe.strain.by.value_or(s.kitchen.strainer)), s.strainer,
          s.recipe.strain.by ? "/strain/by" : "/kitchen/strainer");
  collect(problems, catalogue.equipment(EquipmentKind::press, s.kitchen.press), s.press, "/kitchen/press");
  collect(problems, catalogue.equipment(EquipmentKind::hob, s.kitchen.hob), s.hob, "/kitchen/hob/kind");
  collect(problems, catalogue.equipment(EquipmentKind::chill, s.recipe.chill_in.value_or("ice-water")), s.chill, "/chill/in");
  find_extras(s, catalogue, problems);
  return problems;
}

/// What was told of the coagulant must suit what it is.
Problems check_coagulant(const Setup& s) {
  Problems problems;
  const CoagulateRecipe& r = s.recipe.coagulate;
  const auto complain = [&](std::string_view key, std::string_view due) {
    problems.push_back({"coagulant-told", {.pointer = fmt::format("/coagulate/{}", key)}, fmt::format("{} has no {}", s.coagulant.kitchen_name, key),
                        std::string(due), ""});
  };
  const bool liquid = s.coagulant.form == CoagulantForm::liquid;
  if (liquid && r.purity) complain("purity", "a liquid is told by strength or label_ion");
  if (!liquid && (r.strength || r.label_ion)) complain(r.strength ? "strength" : "label_ion", "a solid is told by purity");
  if (liquid && r.label_ion && s.coagulant.ion == Ion::none) complain("label_ion", "an acid is told by strength");
  return problems;
}

}  // namespace

bool Setup::any(Hazard hazard) const {
  return std::any_of(legumes.begin(), legumes.end(), [hazard](const Legume& l) { return l.has(hazard); });
}

std::string legume_names(const Setup& s) {
  std::string names;
  for (const Legume& l : s.legumes) names += (names.empty() ? "" : " and ") + l.kitchen_name;
  return names;
}

std::string title_of(const Setup& s) { return s.recipe.title.empty() ? fmt::format("Curd of {}", legume_names(s)) : s.recipe.title; }

Problems unknown_names(const Inputs& inputs, const Catalogue& catalogue) {
  Setup s;
  s.recipe = inputs.recipe, s.kitchen = inputs.kitchen;
  return find_records(s, catalogue);
}

Result<Setup> resolve(const Recipe& recipe, const Kitchen& kitchen, const Catalogue& catalogue) {
  Setup s;
  s.recipe = recipe;
  s.kitchen = kitchen;
  // The reader sees to this; a recipe made by hand in a program may not.
  if (recipe.legumes.empty() || recipe.legumes.size() > max_legumes)
    return fail(Problem{"legume-missing", {.pointer = "/legume"}, fmt::format("the recipe names {} legumes", recipe.legumes.size()),
                        fmt::format("1 to {} can be planned", max_legumes), "name one, for example \"chickpea-kabuli\""});
  if (s.kitchen.pots.empty()) s.kitchen.pots.emplace_back();
  Problems problems = find_records(s, catalogue);
  if (problems.empty()) problems = check_coagulant(s);
  if (!problems.empty()) return fail(std::move(problems));
  const auto model = catalogue.model();
  if (!model) return fail(model.error());

  for (std::size_t i = 0; i < s.legumes.size(); ++i) believe_legume(s.beliefs, s.legumes[i], recipe.legumes[i], i);
  for (std::size_t i = 0; i < s.legumes.size(); ++i) check_packet(s.beliefs, recipe.legumes[i], i, recipe.legumes.size(), problems);
  if (!problems.empty()) return fail(std::move(problems));
  believe_gear(s);
  for (const auto& [param, evidence] : *model) put(s.beliefs, param, 0, evidence);
  if (kitchen.learned) problems = apply_learned(s, *kitchen.learned);
  if (!problems.empty()) return fail(std::move(problems));
  s.pot = largest_pot(s.kitchen);
  set_seeds(s);
  set_soak(s);
  set_blend(s);
  set_starch(s);
  set_cook(s);
  set_coagulate(s);
  set_press_and_chill(s);
  if (s.water_chosen) choose_water(s);
  set_extras(s);  // after the water, which is chosen for the plain milk
  return s;
}

}  // namespace curdwright
