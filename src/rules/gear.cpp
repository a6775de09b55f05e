// SPDX-License-Identifier: MIT
#include "rules/rules.hpp"

namespace curdwright::rules {
namespace {

// --- coagulants and gear --------------------------------------------------------------------------

Answer food_grade(const Facts& f) { return say(fmt::format("Coagulant: {}, from a food seller.", setup(f).coagulant.grade)); }

Answer hardware_salt(const Facts& f) {
  return setup(f).recipe.coagulate.grade == SoldAs::hardware ? say("Plaster, bath, road, pool or garden salts are not food. Buy food grade.") : silent;
}

Answer plaster_form(const Facts& f) { return calls(f, "K3") ? say("Hemihydrate sets hard with water: mix it thin and use it at once. It needs 0.84 of the gypsum weight, which this sheet has reckoned.") : silent; }
Answer magnesium(const Facts& f) { return calls(f, "K4") ? say("Never taste or drink the coagulant: magnesium loosens the bowels.") : silent; }
Answer hot_salt(const Facts& f) { return calls(f, "K6") ? say("Anhydrous calcium chloride heats up in water: add it slowly to cold water.") : silent; }
Answer scald(const Facts&) { return say("Scald risk: gloves, and never squeeze a cloth above 60 degC by hand."); }
Answer hot_blend(const Facts& f) { return setup(f).job.blend.water_at > celsius(60) ? say("Hot liquid can blow the lid off: fill to a third, vent the lid, start slow.") : silent; }
Answer boil_over(const Facts&) { return say("Foam climbs before the boil: pot at most half full, stir, stand by."); }
Answer pressure_cooking(const Facts& f) {
  return setup(f).recipe.cook.in == CookedIn::pressure_cooker ? say("Foam can block the vent of a pressure cooker: strained milk only, never ground beans, at most half full, by its maker's rules.") : silent;
}
Answer press_stack(const Facts&) { return say("Press on a steady base, away from the hob's edge; no more weight than the mould bears."); }

Answer reactive_pot(const Facts& f) {
  const Material m = setup(f).pot.material;
  return setup(f).coagulant.metal_reacts && (m == Material::aluminium || m == Material::iron) ? say(fmt::format("{} and bare {} do not go together: use steel, glass or enamel.", setup(f).coagulant.kitchen_name, word(m))) : silent;
}

Answer boil_cloth(const Facts&) { return say("Boil the cloth before it meets cooked curd, and after; no softener."); }

Answer label_calcium(const Facts& f) {
  const Minerals& m = f.batch.plan.set.mix.minerals;
  const double kg = f.batch.plan.set.milk.of.total_kg();
  if (!(m.calcium_kg > 0) || !(kg > 0)) return silent;
  return say(fmt::format("Calcium for a label: about {:.0f} mg per 100 g of curd, most of it from the coagulant.", value(f.batch.plan, Figure::calcium)));
}

Answer sulphites(const Facts& f) { return calls(f, "G7") ? say("Bottled lemon juice may hold sulphites: check the bottle.") : silent; }
Answer malt(const Facts& f) { return calls(f, "G8") ? say("Malt vinegar contains barley (gluten): use spirit or wine vinegar for those who avoid it.") : silent; }

// --- the plan itself ------------------------------------------------------------------------------

Answer starch_set(const Facts& f) {
  if (setup(f).starch_poor || setup(f).job.starch.remove != StarchRemoval::none) return silent;
  return say("The starch is left in: this gives a starch-set block, which is another food than curd, and the yield here does not hold for it.");
}

Answer little_soak_water(const Facts& f) { return f.batch.plan.short_of_water ? say("The seed would drink more than is poured: use more soak water.") : silent; }

Answer unknown_pressure(const Facts& f) {
  if (!f.batch.plan.pressed.beyond_known_pressure || setup(f).job.press.moisture) return silent;
  return say(fmt::format("{:.1f} kPa lies outside the 2 to 50 kPa for which anything is known; the moisture is a guess.", in_kilopascals(setup(f).job.press.pressure)));
}

Answer acid_dose(const Facts& f) {
  const double share = f.batch.plan.set.acid_to_rule;
  if (share < 0.7) return say(fmt::format("Under-dosed: {:.0f} % of the acid that is usual; expect milky whey and soft curd.", 100 * share));
  if (share > 1.5) return say(fmt::format("Over-dosed: {:.1f} times the acid that is usual; the curd tastes sour and turns crumbly.", share));
  return silent;
}

Answer dose_window(const Facts& f) {
  if (setup(f).job.coagulate.kind != CoagulantKind::salt) return acid_dose(f);
  const double c = in_millimolar(f.batch.plan.set.dose.strength);
  if (c < 8) return say(fmt::format("Under-dosed: {:.1f} mmol per litre of milk; expect milky whey and soft curd.", c));
  if (c > 50) return say(fmt::format("Over-dosed: {:.0f} mmol per litre of milk; the curd turns grainy and begins to dissolve.", c));
  return silent;
}

/// Two digits or more, and never an exponent.
std::string plain(double g) { return g >= 10 ? fmt::format("{:.0f}", g) : fmt::format("{:.2g}", g); }

Answer told_heat_up(const Facts& f) {
  const auto& told = setup(f).recipe.cook.heat_up;
  if (!told) return silent;
  CookSettings reckoned = setup(f).job.cook;
  reckoned.heat_up.reset();
  // Half of it is what a lid, a warm start and a better pot could gain: judgement.
  const Duration by_power = cook(f.batch.plan.destarched.milk, reckoned, f.batch.theta).heat_up;
  if (!(*told < by_power * 0.5)) return silent;
  return say(fmt::format("The recipe tells {} to the boil; this ring needs about {}. Raw milk would stand warm for longer than is reckoned here.", text::duration(*told), text::duration(by_power)));
}

Answer coarse_scale(const Facts& f) {
  if (!f.batch.dose_too_coarse) return silent;
  const double g = in_grams(f.batch.coagulant_exact) / setup(f).job.coagulate.pots;
  std::string text = fmt::format("The scale cannot show {} g closely enough. Use one that shows {} g", plain(g), plain(std::max(0.001, g * 0.02)));
  // A stock that weighs out to fifty steps of the scale; what does not dissolve cannot be shared out so.
  const double step = in_grams(kitchen(f).fine_scale.step);
  const double parts = std::max({9.0, setup(f).coagulant.mix_water.value, std::ceil(50 * step / g)});
  const double stock = std::max(1.0, std::ceil(50 * step)), most_water = 1000;
  if (setup(f).coagulant.pour == PourWay::at_once || stock * parts > most_water) return say(text + ", or make a larger batch.");
  return say(text + fmt::format(", or dissolve {:.0f} g in {:.0f} g of water and weigh out {:.3g} g of that{}.", stock, stock * parts, std::round(g * (1 + parts) / step) * step,
                                setup(f).job.coagulate.pots > 1 ? " for each pot" : ""));
}

Answer coarse_for_seed(const Facts& f) {
  if (!f.batch.seed_too_coarse) return silent;
  return say(fmt::format("The scale shows steps of {} g, so the batch grew from {} to {} g of seed. Use a finer scale for so small a batch.", plain(in_grams(kitchen(f).coarse_scale.step)),
                         plain(in_grams(f.batch.dry_exact)), plain(in_grams(f.batch.plan.dry))));
}

Answer pour_above_boil(const Facts& f) {
  const auto& asked = setup(f).recipe.coagulate.at;
  if (!asked || *asked <= setup(f).job.coagulate.at) return silent;
  return say(fmt::format("The pour was set at {:.1f} degC; milk is at {:.1f} degC at most here, and that is what is planned.", in_celsius(*asked), in_celsius(setup(f).job.coagulate.at)));
}

Answer hot_soak(const Facts& f) {
  if (f.batch.plan.soaking.hottest() <= celsius(55)) return silent;
  return say("A hot soak drifts through the range where spores grow, and heat above 55 degC starts to gelatinise the seed: rinse first, keep it short, and rinse cold when it is over.");
}

Answer warm_milk_starch(const Facts& f) {
  if (setup(f).starch_poor || f.batch.plan.strained.milk.at <= celsius(50)) return silent;
  return say(fmt::format("The milk would be at {:.0f} degC before its starch is out; above 50 it begins to thicken. Use cooler water.", in_celsius(f.batch.plan.strained.milk.at)));
}

Answer few_moulds(const Facts& f) {
  constexpr double handling_h = 0.5;  // of a filling, besides the press: judgement
  const double waiting_h = in_hours(f.timeline.queue);
  // The cooling clock counts this wait too; what it does to the curd is judged here.
  if (waiting_h <= 2.0) return silent;
  if (f.batch.blocks_to_press <= kitchen(f).moulds)
    return say(fmt::format("The pot gives the curd in {} fillings, and the last curd would wait {} warm. Use a larger pot, or make less.", f.timeline.fillings, text::duration(f.timeline.queue)));
  return say(fmt::format("{} press these blocks in {} fillings, and the last curd would wait {} warm. Make at most {} blocks, or get more moulds.", kitchen(f).moulds == 1 ? std::string("1 mould has to") : fmt::format("{} moulds", kitchen(f).moulds),
                         f.timeline.fillings, text::duration(f.timeline.queue), kitchen(f).moulds * (1 + static_cast<int>(2.0 / (in_hours(setup(f).job.press.time) + handling_h)))));
}

Answer few_vessels(const Facts& f) {
  const StarchSettings& s = setup(f).job.starch;
  if (!s.settles() || s.vessels <= kitchen(f).settling_vessels) return silent;
  return say(fmt::format("The milk fills {} settling vessels and the kitchen has {}: find more of the same depth, settle in turns with the rest in the fridge, or make less.", s.vessels,
                         kitchen(f).settling_vessels));
}

Answer low_mould(const Facts& f) {
  const Length needed = f.batch.plan.pressed.drained_height, mould = kitchen(f).mould_height;
  if (needed <= mould) return silent;
  // A little can be heaped up and ladled on as it sinks; more does not go in. Height goes nearly with the mass: a thinner
  // block presses drier, and so takes more curd for its weight.
  constexpr double heaped = 1.15, drier = 0.95;
  const double fits_g = std::floor(in_grams(f.batch.plan.block) * (mould / needed) * drier / 5) * 5;
  return Fired{fmt::format("The drained curd of one block stands {:.1f} cm high and the mould {:.1f} cm: make blocks of at most {:.0f} g, or use a mould with a larger floor.",
                           in_centimetres(needed), in_centimetres(mould), fits_g),
               needed <= mould * heaped ? std::nullopt : std::optional(Severity::stop)};
}

Answer nothing_to_settle(const Facts& f) {
  const auto& asked = setup(f).recipe.starch.remove;
  if (!setup(f).starch_poor || !asked || asked == StarchRemoval::none) return silent;
  return say("This seed holds next to no starch: there is nothing to take out, and the step is left out.");
}

Answer thick_milk(const Facts& f) {
  const Plan& p = f.batch.plan;
  if (p.pressed.whey.of.total_kg() >= 0.1 * p.set.milk.of.total_kg() && p.water.total_to_dry >= 4) return silent;
  return say(fmt::format("{:.1f} kg of water per kg of seed makes a porridge more than a milk: it hardly blends, strains or gives whey. 6 to 10 is usual.", p.water.total_to_dry));
}

Answer close_cooling(const Facts& f) {
  const Cooling& c = f.cooling;
  const CoolingLimits l = cooling_limits(kitchen(f));
  const auto to_first = c.to_first(), to_second = c.to_second();
  if (!c.met || setup(f).chill.ice_water || !to_first || !to_second) return silent;
  const double slower = 1.3;  // measured surface coefficients of foods carry about 30 %
  const bool first = *to_first * slower > l.first_within, second = *to_second * slower > l.second_within;
  if (!first && !second) return silent;
  return say("The cooling clock is met only just, and a fridge may be slower than this: ice water first is surer.");
}

Answer heavy_curd(const Facts& f) {
  const double yield = value(f.batch.plan, Figure::yield);
  if (setup(f).starch_poor || yield <= 3.5) return silent;
  return say(fmt::format("{:.1f} kg per kg of seed is more than a pressed curd of a starchy pulse can weigh: this would be a starch-set block.", yield));
}

Answer oily_milk(const Facts& f) {
  for (const Legume& l : setup(f).legumes)
    if (l.kind == SeedKind::oilseed) return say("The one study that made curd of this seed had to take oil out of the milk first. This plan leaves the oil in: expect a soft block; if you chill the milk and skim it, expect less curd.");
  return silent;
}

Answer old_seed_caution(const Facts& f) {
  for (const LegumeChoice& c : setup(f).recipe.legumes)
    if (c.old()) return say("Old seed swells less and slower: soak longer and weigh it.");
  return silent;
}

// --- extras ---------------------------------------------------------------------------------------

Answer alkaline(const Facts& f) {
  const std::string names = extras_that_call(f, "P20", [](Stage) { return true; });
  if (names.empty()) return silent;
  return say(fmt::format("Alkaline ({}): an acid or GDL then takes more than the dose here, and much of it tastes soapy. Use little, and rinse the seed well.", names));
}

Answer salted_milk(const Facts& f) {
  const std::string names = extras_that_call(f, "P21", [](Stage s) { return s == Stage::blend || s == Stage::cook || s == Stage::coagulate; });
  if (names.empty()) return silent;
  return say(fmt::format("In the milk before it sets ({}): the curd turns out softer, and most of it leaves with the whey. In the pressed curd all of it stays.", names));
}

Answer spice_unboiled(const Facts& f) {
  const std::string names = extras_that_call(f, "P22", [](Stage s) { return s == Stage::press; });
  if (names.empty()) return silent;
  return say(fmt::format("Nothing boils what goes in here ({}): herbs and spices carry spores and germs. Scald them first, keep the curd cold and eat it soon, or cook them with the milk.", names));
}

constexpr std::array rows = {
    Rule{"P20", Stage::soak, warn, when, "alkaline soak or milk", practice, alkaline},
    Rule{"P21", Stage::coagulate, note, when, "salt before the curd sets", "judgement", salted_milk},
    Rule{"P22", Stage::press, warn, when, "herbs and spices after the boil", "memory, high", spice_unboiled},
    Rule{"P2", Stage::soak, warn, when, "too little soak water", "computed", little_soak_water},
    Rule{"P6", Stage::soak, warn, when, "hot soak", "judgement over S1 and S7; gelatinisation 52 to 75 degC", hot_soak},
    Rule{"P10", Stage::soak, note, when, "old seed", practice, old_seed_caution},
    Rule{"K8", Stage::blend, warn, when, "blending hot liquid", practice, hot_blend},
    Rule{"P1", Stage::starch, warn, when, "starch left in", "judgement; Mohamed, Johan and Bakar 1989", starch_set},
    Rule{"P12", Stage::starch, warn, when, "too few settling vessels", "computed", few_vessels},
    Rule{"P14", Stage::starch, note, when, "no starch to take out", "composition of the record", nothing_to_settle},
    Rule{"P15", Stage::blend, warn, when, "too little water for a milk", "custom: about twice the soaked mass", thick_milk},
    Rule{"P16", Stage::chill, warn, when, "cooling close to its limit", "measured coefficients carry about 30 %", close_cooling},
    Rule{"P13", Stage::press, warn, when, "mould too low", "computed", low_mould},
    Rule{"P7", Stage::starch, warn, when, "starchy milk too warm", "gelatinisation 52 to 75 degC", warm_milk_starch},
    Rule{"P11", Stage::starch, note, always, "oil of peanut milk", "Mohamed, Johan and Bakar 1989", oily_milk},
    Rule{"K9", Stage::cook, warn, always, "boiling over", practice, boil_over},
    Rule{"K10", Stage::cook, warn, when, "pressure cooker", "maker guidance, memory, high", pressure_cooking},
    Rule{"K1", Stage::coagulate, warn, always, "food-grade coagulant", "Codex CXS 192-1995, Table 3 and 06.8.3", food_grade, Said::own_place},
    Rule{"K2", Stage::coagulate, stop, when, "hardware salts", "memory, high", hardware_salt},
    Rule{"K3", Stage::coagulate, warn, when, "hemihydrate sets hard", "derived from molar masses", plaster_form},
    Rule{"K4", Stage::coagulate, warn, when, "magnesium", "memory, high", magnesium},
    Rule{"K6", Stage::coagulate, warn, when, "calcium chloride heats", "memory, high", hot_salt},
    Rule{"K12", Stage::coagulate, warn, when, "pots that react", practice, reactive_pot},
    Rule{"G7", Stage::coagulate, warn, when, "sulphites", "Regulation (EU) No 1169/2011, Annex II", sulphites},
    Rule{"G8", Stage::coagulate, warn, when, "malt vinegar", "memory, high", malt},
    Rule{"P4", Stage::coagulate, warn, when, "dose outside the window", "magnesium chloride in soy milk, 2021; Bull. Soc. Sea Water Sci. Jpn. 60(4):302", dose_window},
    Rule{"P5", Stage::coagulate, warn, when, "scale too coarse for the dose", "computed", coarse_scale},
    Rule{"K7", Stage::press, warn, always, "hot milk and curd", "Moritz and Henriques 1947, memory, high", scald},
    Rule{"K11", Stage::press, warn, always, "the press", practice, press_stack},
    Rule{"K13", Stage::press, warn, always, "cloth", practice, boil_cloth, Said::own_place},
    Rule{"P23", Stage::cook, warn, when, "heating time in the recipe too short", "computed", told_heat_up},
    Rule{"P18", Stage::coagulate, note, when, "pour above the boil", "computed", pour_above_boil},
    Rule{"P19", Stage::soak, warn, when, "scale too coarse for the seed", "computed", coarse_for_seed},
    Rule{"P3", Stage::press, warn, when, "pressure beyond what is known", "the table of pressure and moisture is common practice", unknown_pressure},
    Rule{"P9", Stage::press, warn, when, "too few moulds", "judgement with the USDA 2 h rule", few_moulds},
    Rule{"P8", Stage::press, warn, when, "curd heavier than curd can be", "ground beans set whole, by starch, weigh 5.2-5.3 g per g: common practice", heavy_curd},
    Rule{"K14", Stage::chill, note, always, "minerals for a label", "computed", label_calcium, Said::own_place},
};

}  // namespace

std::span<const Rule> gear_rules() { return rows; }

}  // namespace curdwright::rules
