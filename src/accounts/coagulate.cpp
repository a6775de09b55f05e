// SPDX-License-Identifier: MIT
// Terms of setting the curd.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"
#include "gdl.hpp"

namespace curdwright::accounts {
namespace {

std::string from_record(Book& book, std::string_view field) { return fmt::format("coagulant {}, {}", book.setup.coagulant.id, field); }

/// What a kilogram as weighed brings along.
struct Salt {
  Ex active, solute;  ///< mol/kg, kg/kg
};

/// Strength of a liquid, mol/l, by the record, the recipe's strength, or its ion.
Ex strength_of_liquid(Book& book) {
  const Coagulant& c = book.setup.coagulant;
  const CoagulateRecipe& told = book.setup.recipe.coagulate;
  if (told.label_ion && c.ion != Ion::none) {
    const Ex ion = book.setting("label_ion_kg_m3", told.label_ion->si(), "g/l", "ion by its label", "recipe /coagulate/label_ion");
    const double molar = c.ion == Ion::calcium ? calcium_kg_mol : magnesium_kg_mol;
    return ion / book.constant("ion_molar_kg_mol", molar, "kg/mol", fmt::format("molar mass of {}", word(c.ion)), "IUPAC abridged standard atomic weights") / Ex(1000.0);
  }
  if (told.strength) return book.setting("strength_told_mol_m3", told.strength->si(), "mmol/l", "strength by its label", "recipe /coagulate/strength") / Ex(1000.0);
  return book.record("strength_mol_l", *c.strength, 1, "mol/l", "strength of the liquid", from_record(book, "strength"));
}

Salt salt_terms(Book& book) {
  const Coagulant& c = book.setup.coagulant;
  const CoagulateSettings& s = book.job.coagulate;
  const Ex molar = book.record("molar_kg_mol", c.molar_mass, 1e-3, "kg/mol", "molar mass of the coagulant as weighed", from_record(book, "molar_mass"));
  const std::string_view active = "active part of a kg as weighed", solute = "salt without its water, or acid, in a kg as weighed";
  if (c.form == CoagulantForm::liquid) {
    const Ex density = book.record("liquid_kg_l", *c.density, 1, "kg/l", "density of the liquid", from_record(book, "density"));
    const Ex mol = book.formula("active_mol_kg", s.active_mol_kg, "mol/kg", active, strength_of_liquid(book) / density);
    return {mol, book.formula("solute_kg_kg", s.solute_kg_kg, "kg/kg", solute, minimum({0.95, mol * molar}))};
  }
  const auto told = book.setup.recipe.coagulate.purity;
  const Ex purity = told ? book.setting("purity", *told, "1", "purity by its label", "recipe /coagulate/purity") : book.record("purity", *c.purity, 1, "1", "purity", from_record(book, "purity"));
  const Ex crystal = c.crystal_water ? book.record("crystal_water", *c.crystal_water, 1, "1", "crystal water of the pure salt", from_record(book, "crystal_water")) : Ex();
  return {book.formula("active_mol_kg", s.active_mol_kg, "mol/kg", active, purity / molar), book.formula("solute_kg_kg", s.solute_kg_kg, "kg/kg", solute, Ex(1.0) - purity * crystal)};
}

Ex rule(Book& book, const Ground& ground) { return book.job.coagulate.kind == CoagulantKind::salt ? ground.dose : book.param(Param::acid_dose); }

/// Of a mix by the shares of the recipe, which the scale may have rounded since.
Ex window_end(Book& book, std::string_view end, Concentration value) {
  const std::string from = book.job.legume_count == 1 ? fmt::format("legume {}, dose_window: {}", book.setup.legumes[0].id, book.setup.legumes[0].window_source) : "dose_window of the legumes, by the shares of the recipe";
  return book.setting(fmt::format("window_{}_mm", end), in_millimolar(value), "mmol/l", fmt::format("{} end of the window of the coagulant", end), from);
}

/// By the rule, before it is rounded to the scale.
Ex ruled_kg(Book& book, const Ground& ground, const Flow& milk, const Stream& value, const Ex& litres, const Salt& salt) {
  const CoagulateSettings& s = book.job.coagulate;
  const Ex per_protein = s.dose ? book.setting("dose_told_mmol_g", s.dose->si(), "mmol/g", "dose", "recipe /coagulate/dose") : rule(book, ground);
  Ex mol = per_protein * milk[Component::protein];
  if (s.kind == CoagulantKind::salt && !s.dose)
    mol = Ex::call("clamp", {mol, window_end(book, "low", s.window_low) * litres * Ex(0.001), window_end(book, "high", s.window_high) * litres * Ex(0.001)});
  CoagulateSettings by_rule = s;
  by_rule.used.reset();
  return book.formula("coagulant_exact_kg", coagulant_dose(value, book.plan.ground.dose_mmol_g, by_rule, book.theta).used_kg, "kg", "coagulant by the rule", mol / salt.active);
}

Ex used_term(Book& book, const Ground& ground, const Flow& milk, const Stream& value, const Ex& litres, const Salt& salt) {
  const CoagulateSettings& s = book.job.coagulate;
  if (book.setup.recipe.coagulate.amount) return book.setting("coagulant_kg", book.plan.set.dose.used_kg, "kg", "coagulant", "recipe /coagulate/amount");
  const Ex exact = ruled_kg(book, ground, milk, value, litres, salt);
  if (!s.used) return exact;
  const Ex pots = book.setting("coagulant_pots", s.pots, "1", "pots", "as many as the milk needs"), each = exact / pots;
  const Ex step = book.setting("dose_step_kg", step_for(book.batch.coagulant_exact / s.pots, book.setup.kitchen, true), "kg", "step of the scale that weighs the dose of a pot", "kitchen /fine_scale/step or /coarse_scale/step");
  return book.formula("coagulant_kg", book.plan.set.dose.used_kg, "kg", "coagulant, to the step of the scale", pots * step * maximum({1.0, Ex::call("floor", {each / step + Ex(0.5)})}));
}

/// What is poured in: salt or acid, water, the ion.
Flow mix_terms(Book& book, const Ex& used, const Ex& mol, const Salt& salt) {
  const CoagulateSettings& s = book.job.coagulate;
  const Ex water = book.setting("mix_water_kg_kg", s.mix_water_kg_kg, "kg/kg", "water to stir a kg of coagulant into", from_record(book, "mix_water"));
  return book.flow("mix", "coagulant mix", book.plan.set.mix, [&](std::size_t p) {
    if (p == part(Component::salts)) return used * salt.solute;
    if (p == 0) return used * (Ex(1.0) - salt.solute) + used * water;
    const double molar = p == calcium ? calcium_kg_mol : magnesium_kg_mol;
    return mol * book.constant(p == calcium ? "calcium_kg_mol" : "magnesium_kg_mol", molar, "kg/mol", fmt::format("molar mass of {}", part_name(p)), "IUPAC abridged standard atomic weights");
  });
}

Ex poured_at(Book& book) {
  const CoagulateRecipe& told = book.setup.recipe.coagulate;
  return kelvin_term(book, "pour_at_k", book.job.coagulate.at, "milk when the mix is poured in", told_or(told.at.has_value(), "/coagulate/at, but not above the boil", from_record(book, "at, but not above the boil")));
}

/// Share of GDL that turned to acid: mixed cold, warmed in 30 min, and waited for.
Ex hydrolysed(Book& book) {
  const Ex at = poured_at(book), t = name("t");
  const Ex cold = book.constant("gdl_mixed_at_k", 288.15, "K", "milk when GDL is stirred in", "trade custom, from memory, confidence medium");
  const Ex warming = book.constant("gdl_heating_s", 1800, "s", "time to warm it", "trade custom, from memory, confidence medium");
  const Ex wait = book.setting("wait_s", book.job.coagulate.wait.si(), "s", "wait", told_or(book.setup.recipe.coagulate.wait.has_value(), "/coagulate/wait", from_record(book, "wait")));
  const Ex rate = exponential(Ex() - book.param(Param::gdl_activation_energy) / Ex(gas_constant_kj_mol_k) * (Ex(1.0) / name("T") - Ex(1.0) / Ex(298.15)));
  const std::vector<PieceText> pieces = {{warming.str(), (cold + (at - cold) * (t / warming)).str()}, {wait.str(), at.str()}};
  const Ex seconds = book.integral("gdl_seconds", gdl_seconds_at_25(book.plan.set.history, book.theta), "s", "time at 25 degC in which as much GDL would turn to acid", rate, pieces);
  return book.formula("hydrolysed", book.plan.set.hydrolysed, "1", "share of the GDL that turned to acid", Ex(1.0) - exponential(Ex() - book.param(Param::gdl_rate) * seconds));
}

/// How fully it sets: a salt by its strength, an acid by its share of the rule.
Ex extent_text(Book& book, const Ground& ground, const Flow& milk, const Ex& mol, const Ex& strength, const Ex& turned) {
  if (book.job.coagulate.kind == CoagulantKind::salt)
    return Ex::call("clamp", {minimum({(strength - Ex(3.0)) / Ex(5.0), (Ex(210.0) - strength) / Ex(160.0)}), Ex(), 1.0});
  const Ex to_rule = book.formula("acid_to_rule", book.plan.set.acid_to_rule, "1", "acid there is, of what the rule asks", mol * turned / (rule(book, ground) * milk[Component::protein]));
  return Ex::call("clamp", {(to_rule - Ex(0.3)) / Ex(0.4), Ex(), 1.0});
}

void pouring_terms(Book& book, const Flow& milk, const Stream& cooked, const Flow& mix) {
  const CoagulateSettings& s = book.job.coagulate;
  const Ex at = poured_at(book);
  Ex after = at;
  if (s.kind != CoagulantKind::lactone) {
    const Ex mix_at = kelvin_term(book, "mix_at_k", s.mix_at, "the coagulant mix", "kitchen /room");
    const Ex milk_heat = heat_capacity(book, "poured_milk_heat_j_k", "the milk", milk, cooked, s.at, at), mix_heat = heat_capacity(book, "mix_heat_j_k", "the coagulant mix", mix, book.plan.set.mix, s.mix_at, mix_at);
    after = mixed(book, "after_pouring_k", "milk with the mix", book.plan.set.after_pouring, {milk_heat, mix_heat}, {at, mix_at});
  }
  book.formula("after_pouring_c", in_celsius(book.plan.set.after_pouring), "degC", "temperature after pouring", after - Ex(273.15));
}

}  // namespace

Flow coagulate_terms(Book& book, const Ground& ground, const Flow& cooked) {
  const SetMilk& set = book.plan.set;
  const Flow milk = with_extras(book, cooked, Stage::coagulate, "to_set");
  Stream value = book.plan.cooked.milk;
  stir_in(book.plan.extras[static_cast<std::size_t>(Stage::coagulate)], value);
  const Salt salt = salt_terms(book);
  const Ex litres = volume(book, "cooked_m3", "the cooked milk", milk, value.of) * Ex(1000.0);
  const Ex used = used_term(book, ground, milk, value, litres, salt);
  const Ex mol = book.formula("active_mol", set.dose.active_mol, "mol", "salt ions or acid that are poured in", used * salt.active * book.param(Param::coagulant_strength));
  const Ex strength = book.formula("strength_mmol_l", in_millimolar(set.dose.strength), "mmol/l", "coagulant in the milk", mol / litres * Ex(1000.0));
  const Flow mix = mix_terms(book, used, mol, salt);
  pouring_terms(book, milk, value, mix);
  Ex turned = 1.0, taken_up;
  if (book.job.coagulate.kind == CoagulantKind::lactone) {
    turned = hydrolysed(book);
    taken_up = turned * mix[Component::salts] * book.constant("water_kg_mol", water_kg_mol, "kg/mol", "molar mass of water", "IUPAC abridged standard atomic weights") / book.constant("gdl_kg_mol", gdl_kg_mol, "kg/mol", "molar mass of GDL", "IUPAC abridged standard atomic weights");
  }
  const Ex setting = book.formula("setting_protein", set.setting_protein, "1", "share of the milk protein that sets", ground.coagulable * extent_text(book, ground, milk, mol, strength, turned));
  book.formula("curdled_kg", set.curdled_kg, "kg", "protein that sets", milk[Component::protein] * setting);
  return book.flow("set", "set milk", set.milk, [&](std::size_t p) {
    const Ex both = milk.part[p] + mix.part[p];
    return p == 0 ? both - taken_up : p == part(Component::salts) ? both + taken_up : both;
  });
}

}  // namespace curdwright::accounts
