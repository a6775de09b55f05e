// SPDX-License-Identifier: MIT
#include "curdwright/cautions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/safety.hpp"

namespace curdwright {
namespace {

using Answer = std::optional<Fired>;
constexpr std::nullopt_t silent = std::nullopt;

Answer say(std::string text) { return Fired{std::move(text), std::nullopt}; }
Answer say(std::string text, Severity severity) { return Fired{std::move(text), severity}; }

const Setup& setup(const Facts& f) { return f.batch.setup; }
const StoreRecipe& store(const Facts& f) { return f.batch.setup.recipe.store; }
const Kitchen& kitchen(const Facts& f) { return f.batch.setup.kitchen; }
bool any(const Facts& f, Hazard h) {
  return std::any_of(setup(f).legumes.begin(), setup(f).legumes.end(), [h](const Legume& l) { return l.has(h); });
}
bool contains(const Facts& f, std::string_view allergen) {
  for (const Legume& l : setup(f).legumes)
    if (std::find(l.allergens.begin(), l.allergens.end(), allergen) != l.allergens.end()) return true;
  return false;
}
bool calls(const Facts& f, std::string_view rule) {
  const auto& list = setup(f).coagulant.cautions;
  return std::find(list.begin(), list.end(), rule) != list.end();
}
bool region(const Facts& f, std::initializer_list<std::string_view> names) {
  return std::find(names.begin(), names.end(), kitchen(f).region) != names.end();
}
double hold_min(const Facts& f) { return in_minutes(setup(f).job.cook.hold); }
double boil_c(const Facts& f) { return in_celsius(setup(f).job.cook.boil); }
double keep_c(const Facts& f) { return in_celsius(store(f).at.value_or(kitchen(f).fridge)); }
bool kept(const Facts& f, std::string_view where) { return store(f).where.value_or("fridge") == where; }
double cold_limit_c(const Facts& f) { return region(f, {"uk", "scotland"}) ? 8.0 : 5.0; }
double hot_limit_c(const Facts& f) { return region(f, {"uk", "scotland"}) ? 63.0 : region(f, {"codex", "canada", "anz"}) ? 60.0 : 57.0; }
std::string hours_of(const std::optional<Duration>& d) { return d ? fmt::format("{:.1f} h", in_hours(*d)) : "never"; }

std::string clock(Duration d) {
  const double m = in_minutes(d);
  return m < 100 ? fmt::format("{:.0f} min", m) : fmt::format("{:.1f} h", m / 60);
}

// --- time and temperature -------------------------------------------------------------------------

Answer cooling_too_slow(const Facts& f, std::string_view rule) {
  const CoolingLimits l = cooling_limits(kitchen(f));
  if (l.rule != rule || f.cooling.met) return silent;
  const auto since = [&](const std::optional<Duration>& d) {
    return d && f.cooling.under_from ? std::optional(*d - *f.cooling.under_from) : std::nullopt;
  };
  std::string text = fmt::format("The centre must fall from {:.0f} under {:.0f} degC within {} and under {:.0f} degC within {}. Planned: {} and {}. Mend: {}.",
                                 in_celsius(l.from), in_celsius(l.first), clock(l.first_within), in_celsius(l.second), clock(l.second_within),
                                 hours_of(since(f.cooling.under_first)), hours_of(since(f.cooling.under_second)), f.cooling.mend);
  return say(std::move(text), kitchen(f).rule_set == "selling" ? Severity::stop : Severity::warn);
}

Answer thick_in_still_fridge(const Facts& f) {
  const double cm = in_centimetres(f.batch.plan.pressed.block_height);
  const bool still = setup(f).chill.id == "still-fridge";
  if (!still || cm <= 4.0) return silent;
  return say(fmt::format("A {:.1f} cm block in a still fridge needs about {} to fall under 5 degC at its centre. Ice water first, or thinner blocks.", cm,
                         hours_of(f.cooling.under_second)));
}

Answer hot_holding(const Facts& f) {
  if (!kept(f, "hot") || (store(f).at && in_celsius(*store(f).at) >= hot_limit_c(f))) return silent;
  return say(fmt::format("Curd kept hot must stay at {:.0f} degC or above.{}", hot_limit_c(f),
                         store(f).at ? fmt::format(" Planned: {:.0f} degC.", in_celsius(*store(f).at)) : " No temperature is given."));
}

Answer fridge_too_warm(const Facts& f) {
  if (!kept(f, "fridge") || keep_c(f) <= cold_limit_c(f)) return silent;
  return say(fmt::format("The fridge is at {:.1f} degC; it must hold {:.0f} degC or colder.", keep_c(f), cold_limit_c(f)));
}

Answer off_the_clock(const Facts& f) {
  if (f.press_uncontrolled_h <= 4.0) return silent;
  return say(fmt::format("The curd stands {:.1f} h warm in the press. After 4 h without heat or cold it is thrown away: press in the fridge.", f.press_uncontrolled_h));
}

Answer counter_limit(const Facts& f) {
  const double limit = kitchen(f).room > celsius(32.2) ? 1.0 : 2.0;
  if (kitchen(f).rule_set != "home" || !region(f, {"us"}) || f.press_uncontrolled_h <= limit) return silent;
  return say(fmt::format("The curd stands {:.1f} h warm in the press; {:.0f} h on the counter is the limit. Press in the fridge.", f.press_uncontrolled_h, limit));
}

Answer reheat_scotland(const Facts& f) {
  if (kitchen(f).region != "scotland" || !(store(f).reheat || kept(f, "hot")) || (store(f).reheat && in_celsius(*store(f).reheat) >= 82)) return silent;
  return say("Scotland: reheat to 82 degC.");
}

Answer long_kept(const Facts& f) {
  if (!kept(f, "fridge")) return silent;
  const int day = last_day(f.batch);
  const int planned = store(f).days.value_or(0) + store(f).days_before_freezing.value_or(0);
  if (planned > day)
    return say(fmt::format("Planned for day {}, but the last day at this temperature is day {} (the making day is day 1).", planned, day), Severity::warn);
  return silent;
}

Answer frozen_days(const Facts& f) {
  if (!store(f).days_before_freezing || *store(f).days_before_freezing < 1) return silent;
  return say(fmt::format("Cold days used before freezing: {} of 7; they go on counting after thawing.", *store(f).days_before_freezing));
}

Answer warm_fridge_short(const Facts& f) {
  if (!kept(f, "fridge") || keep_c(f) <= 5 || region(f, {"uk", "scotland"})) return silent;
  return say(keep_c(f) <= 7 ? "Above 5 degC, plan for 4 days, not 7." : "Above 7 degC the curd is not kept: eat it on the day, or make the fridge colder.");
}

Answer heat_for_holding(const Facts& f) {
  if (!kept(f, "hot") || (store(f).reheat && in_celsius(*store(f).reheat) >= 57)) return silent;
  return say("Heat the curd to 57 degC or more before it is held hot.");
}

Answer reheat_for_holding(const Facts& f) {
  if (!kept(f, "hot") || (store(f).reheat && in_celsius(*store(f).reheat) >= 74)) return silent;
  return say("Curd that was chilled is reheated to 74 degC within 2 h before it is held hot.");
}

Answer kept_warm(const Facts& f) {
  if (!store(f).ferment.value_or(false) && !kept(f, "room")) return silent;
  return say("Curd kept or fermented at room temperature is not planned: it has caused botulism.");
}

Answer claimed_sour(const Facts& f) {
  if (!store(f).ph || *store(f).ph > 4.6) return silent;
  return say("A sour curd is not shelf-stable on a claim: unless its pH is measured and the process validated, keep it cold like any other.");
}

Answer sealed_pack(const Facts& f) {
  if (store(f).pack != "sealed") return silent;
  return say("Sealed without air, chilled curd can grow botulism: keep it at 3 degC or below, or do not seal it for keeping.");
}

// --- soak and standing ----------------------------------------------------------------------------

Answer soak_grows(const Facts& f) {
  if (f.soak_growth <= 1.0) return silent;
  const bool far = f.soak_growth_flat > 2 * hours_to_tenfold(celsius(20)) * growth_rate_log10_per_h(celsius(20));
  return say(fmt::format("Spore-formers may grow about {:.0f}-fold in this soak{}. Soak in the fridge, or shorter, or colder.",
                         std::min(1e6, std::pow(10.0, f.soak_growth)), far ? ", far past the limit of 10" : "; the limit is 10"));
}

Answer long_warm_soak(const Facts& f) {
  const TemperatureHistory& h = f.batch.plan.soaking;
  const Temperature warm = celsius(20.0001);
  const double warm_h = integrate(h, [warm](Temperature t) { return t > warm ? 1.0 : 0.0; }, std::span(&warm, 1)) / 3600.0;
  if (warm_h <= 12.0) return silent;
  return say(fmt::format("{:.0f} h of soaking above 20 degC: use the fridge.", warm_h));
}

Answer boil_no_cure(const Facts& f) { return f.soak_growth > 1.0 ? say("Boiling later does not undo a bad soak: spores and one of their toxins survive it.") : silent; }

Answer bad_water(const Facts& f) {
  if (kitchen(f).water != "untreated") return silent;
  return say("Untreated water: cool, pack and store only in drinking-grade water. Curd packed in spring water made 87 people ill. Boil and cool the water first, then say so in the kitchen file.");
}

Answer stored_wet(const Facts& f) { return store(f).pack == "water" ? say("Stored under water: fresh cold drinking water every day, clean tub.") : silent; }

Answer milk_stands(const Facts& f) {
  if (f.standing_h <= 2.0) return silent;
  return say(fmt::format("Raw milk stands {:.1f} h out of the cold; 2 h is the limit. Settle in the fridge.", f.standing_h));
}

// --- toxins ---------------------------------------------------------------------------------------

Answer kidney_hold(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin)) return silent;
  if (!(hold_min(f) >= 30.0)) return say(fmt::format("These beans are poisonous until boiled hard for 30 min. This plan has {:.0f} min.", hold_min(f)));
  if (setup(f).job.soak.time < hours(5)) return say("Soak these beans 5 h or more and pour the water away.", Severity::warn);
  return silent;
}

Answer kidney_slow(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin) || setup(f).recipe.cook.in != "slow-cooker") return silent;
  return say("Never in a slow cooker: it does not reach the heat that destroys the poison of these beans, and can make them worse than raw.");
}

Answer kidney_altitude(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin) || setup(f).recipe.cook.in == "slow-cooker" || boil_c(f) >= 98.0) return silent;
  return say(fmt::format("At {:.0f} m water boils at {:.1f} degC: too cool to make this bean safe in an open pot. Pressure-cook the strained milk by its maker's rules, or take another legume.",
                         in_metres(kitchen(f).altitude), boil_c(f)));
}

Answer kidney_uk(const Facts& f) {
  return any(f, Hazard::kidney_lectin) && region(f, {"uk", "scotland"}) ? say("UK advice: soak 5 h, boil hard for at least 10 min. This tool keeps 30 min.") : silent;
}

Answer trypsin(const Facts& f) {
  if (!any(f, Hazard::trypsin_inhibitor) || f.trypsin_left <= 0.20) return silent;
  return say(fmt::format("About {:.0f} % of the trypsin inhibitor would be left; 20 % or less is the aim. Hold a true boil longer; the first foam comes early.", 100 * f.trypsin_left));
}

Answer raw_taste(const Facts&) { return say("Do not taste raw milk."); }

Answer favism(const Facts& f) {
  return any(f, Hazard::favism) ? say("Not for anyone with G6PD deficiency (favism), nor for infants of whom it is not known. Cooking does not cure it.") : silent;
}

Answer lupin(const Facts& f) { return any(f, Hazard::lupin_alkaloids) ? say("Only sweet lupin sold as food. A bitter taste means stop.") : silent; }

Answer lima(const Facts& f) {
  if (!any(f, Hazard::lima_cyanide)) return silent;
  if (!(hold_min(f) >= 15.0) || setup(f).recipe.cook.in == "pressure-cooker")
    return say("Lima beans need a hard, uncovered boil of 15 min or more, so that the cyanide leaves with the steam.", Severity::warn);
  return say("Only commercial white lima beans. Pour the soak water away and boil uncovered.");
}

Answer peanut(const Facts& f) { return any(f, Hazard::aflatoxin) ? say("Sound food-grade kernels only: no mouldy, dark or shrivelled nuts.") : silent; }

Answer cook_pulp(const Facts& f) {
  return say(any(f, Hazard::kidney_lectin) ? "The pulp is raw and as poisonous as the bean: boil it hard for 30 min before eating." : "The pulp is still raw: cook it through before eating.");
}

Answer sowing_seed(const Facts& f) {
  for (const LegumeChoice& c : setup(f).recipe.legumes)
    if (c.sold_for == "sowing") return say("Seed sold for sowing may be treated with poison: use food-grade seed only.");
  return silent;
}

// --- hands and leftovers --------------------------------------------------------------------------

Answer clean_hands(const Facts&) { return say("From here on it is cooked food: clean hands, cloth, mould and ladle, boiled or sanitised; keep raw pulp and its tools away."); }
Answer raw_leftovers(const Facts&) { return say("Pulp and starch are raw: chill at once, cook within two days, or freeze."); }
Answer whey_keeps(const Facts&) { return say("Whey keeps two days in the fridge."); }
Answer kept_back(const Facts& f) {
  return setup(f).job.coagulate.make_up > 1.0 ? say("Coagulant kept back: closed, labelled (it looks like milk), in the fridge, one week.") : silent;
}

Answer smell_no_proof(const Facts& f) {
  return setup(f).job.press.time > hours(24) || store(f).days.value_or(0) > 3 ? say("Smelling fine proves nothing: count the days. Days in the press count too.") : silent;
}

Answer no_probe(const Facts& f) {
  if (kitchen(f).thermometer == "infrared") return say("An infrared reading is of the surface, and steam and foam mislead it: probe the middle before you trust it.");
  if (kitchen(f).thermometer == "none") return say("Without a probe thermometer neither the pour nor the chilling can be checked: get one.");
  return silent;
}

Answer vulnerable(const Facts& f) {
  return store(f).eaters == "vulnerable" ? say("For babies, pregnant, old or ill eaters: eat freshly made and cooked through again; no aged or long-kept curd.") : silent;
}

Answer sort_seed(const Facts&) { return say("Pick out stones and damaged seed, and rinse."); }
Answer bad_soak(const Facts&) { return say("A sour smell, slime or foam: throw the soak out."); }

// --- allergens ------------------------------------------------------------------------------------

Answer contains_words(const Facts& f, std::initializer_list<std::string_view> listed) {
  std::string names;
  for (std::string_view a : listed)
    if (contains(f, a)) names += (names.empty() ? "" : ", ") + std::string(a == "soybean" ? "soy" : a);
  return names.empty() ? silent : say(fmt::format("Contains: {}.", names));
}

Answer allergens_us(const Facts& f) { return region(f, {"us", "codex"}) ? contains_words(f, {"soybean", "peanut"}) : silent; }
Answer allergens_eu(const Facts& f) { return region(f, {"eu", "uk", "scotland"}) ? contains_words(f, {"soybean", "peanut", "lupin"}) : silent; }
Answer allergens_canada(const Facts& f) { return region(f, {"canada"}) ? contains_words(f, {"soybean", "peanut"}) : silent; }
Answer allergens_anz(const Facts& f) { return region(f, {"anz"}) ? contains_words(f, {"soybean", "peanut", "lupin"}) : silent; }

Answer cross_reaction(const Facts& f) {
  for (const Legume& l : setup(f).legumes)
    if (l.kind == SeedKind::pulse || l.kind == SeedKind::lupin)
      return say("People with peanut or other legume allergy can react to this legume, listed or not.");
  return silent;
}

Answer soy_free(const Facts& f) {
  if (store(f).claim != "soy-free") return silent;
  if (contains(f, "soybean")) return say("This batch is made of soy: do not claim soy-free.", Severity::stop);
  return store(f).shared_gear.value_or(true) ? say("Shared gear: do not claim soy-free unless line, cloth, moulds, coagulant and pans are clean of soy.") : silent;
}

Answer sulphites(const Facts& f) { return calls(f, "G7") ? say("Bottled lemon juice may hold sulphites: check the bottle.") : silent; }
Answer malt(const Facts& f) { return calls(f, "G8") ? say("Malt vinegar contains barley (gluten): use spirit or wine vinegar for those who avoid it.") : silent; }

// --- coagulants and gear --------------------------------------------------------------------------

Answer food_grade(const Facts& f) { return say(fmt::format("Coagulant: {}, from a food seller.", setup(f).coagulant.grade)); }

Answer hardware_salt(const Facts& f) {
  return setup(f).recipe.coagulate.grade == "hardware" ? say("Plaster, bath, road, pool or garden salts are not food. Buy food grade.") : silent;
}

Answer plaster_form(const Facts& f) { return calls(f, "K3") ? say("Hemihydrate sets hard with water: mix it thin and use it at once. It needs 0.84 of the gypsum weight, which this sheet has reckoned.") : silent; }
Answer magnesium(const Facts& f) { return calls(f, "K4") ? say("Never taste or drink the coagulant: magnesium loosens the bowels.") : silent; }
Answer hot_salt(const Facts& f) { return calls(f, "K6") ? say("Anhydrous calcium chloride heats up in water: add it slowly to cold water.") : silent; }
Answer scald(const Facts&) { return say("Scald risk: gloves, and never squeeze a cloth above 60 degC by hand."); }
Answer hot_blend(const Facts& f) { return setup(f).job.blend.water_at > celsius(60) ? say("Hot liquid can blow the lid off: fill to a third, vent the lid, start slow.") : silent; }
Answer boil_over(const Facts&) { return say("Foam climbs before the boil: pot at most half full, stir, stand by."); }
Answer pressure_cooking(const Facts& f) {
  return setup(f).recipe.cook.in == "pressure-cooker" ? say("Foam can block the vent of a pressure cooker: strained milk only, never ground beans, at most half full, by its maker's rules.") : silent;
}
Answer press_stack(const Facts&) { return say("Press on a steady base, away from the stove edge; no more weight than the mould bears."); }

Answer reactive_pot(const Facts& f) {
  const std::string& m = setup(f).pot.material;
  return setup(f).coagulant.metal_reacts && (m == "aluminium" || m == "iron") ? say(fmt::format("{} and bare {} do not go together: use steel, glass or enamel.", setup(f).coagulant.kitchen_name, m)) : silent;
}

Answer boil_cloth(const Facts&) { return say("Boil the cloth before it meets cooked curd, and after; no softener."); }

Answer label_calcium(const Facts& f) {
  const Minerals& m = f.batch.plan.set.mix.minerals;
  const double kg = f.batch.plan.set.milk.of.total_kg();
  if (!(m.calcium_kg > 0) || !(kg > 0)) return silent;
  return say(fmt::format("Calcium for a label: about {:.0f} mg per 100 g of curd, most of it from the coagulant.", value(f.batch.plan, Figure::calcium)));
}

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

Answer dose_window(const Facts& f) {
  if (setup(f).job.coagulate.kind != CoagulantKind::salt) return silent;
  const double c = in_millimolar(f.batch.plan.set.dose.strength);
  if (c < 8) return say(fmt::format("Under-dosed: {:.1f} mmol per litre of milk; expect milky whey and soft curd.", c));
  if (c > 50) return say(fmt::format("Over-dosed: {:.0f} mmol per litre of milk; the curd turns grainy and begins to dissolve.", c));
  return silent;
}

Answer coarse_scale(const Facts& f) {
  if (!f.batch.dose_too_coarse) return silent;
  const double g = in_grams(f.batch.coagulant_exact);
  return say(fmt::format("The scale cannot show {:.2f} g closely enough. Use one that shows {:.2g} g, or dissolve {:.0f} g in {:.0f} g of water and weigh out {:.0f} g of that.", g,
                         std::max(0.001, g * 0.02), std::ceil(g * 10), std::ceil(g * 10) * 9, std::round(g * 10)));
}

Answer hot_soak(const Facts& f) {
  if (f.batch.plan.soaking.hottest() <= celsius(55)) return silent;
  return say("A hot soak drifts through the range where spores grow, and heat above 55 degC starts to gelatinise the seed: rinse first, keep it short, finish cold.");
}

Answer warm_milk_starch(const Facts& f) {
  if (setup(f).starch_poor || f.batch.plan.strained.milk.at <= celsius(50)) return silent;
  return say(fmt::format("The milk would be at {:.0f} degC before its starch is out; above 50 it begins to thicken. Use cooler water.", in_celsius(f.batch.plan.strained.milk.at)));
}

Answer few_moulds(const Facts& f) {
  const double waiting_h = in_hours(setup(f).job.press.time) * (f.batch.press_rounds - 1);
  if (waiting_h <= 1.0) return silent;
  return say(fmt::format("{} moulds press these blocks in {} rounds, and the last curd would wait {:.1f} h warm. Make at most {} blocks, or get more moulds.", kitchen(f).moulds,
                         f.batch.press_rounds, waiting_h, kitchen(f).moulds * std::max(1, static_cast<int>(1.0 / in_hours(setup(f).job.press.time)) + 1)));
}

Answer heavy_curd(const Facts& f) {
  const double yield = value(f.batch.plan, Figure::yield);
  if (setup(f).starch_poor || yield <= 3.5) return silent;
  return say(fmt::format("{:.1f} kg per kg of seed is more than a pressed curd of a starchy pulse can weigh: this would be a starch-set block.", yield));
}

Answer oily_milk(const Facts& f) {
  for (const Legume& l : setup(f).legumes)
    if (l.kind == SeedKind::oilseed) return say("The one study that made curd of this seed had to take oil out of the milk first: chill the strained milk, skim the cream, and expect a soft block.");
  return silent;
}

Answer old_seed_caution(const Facts& f) {
  for (const LegumeChoice& c : setup(f).recipe.legumes)
    if (c.age && *c.age > hours(24 * 365 * 2)) return say("Old seed swells less and slower: soak longer and weigh it.");
  return silent;
}

constexpr std::string_view practice = "common practice, no published source";
constexpr auto note = Severity::note, warn = Severity::warn, stop = Severity::stop;
constexpr bool always = true, when = false;

constexpr std::array rules = {
    Rule{"H9", Stage::soak, warn, always, "sort and rinse the seed", practice, sort_seed},
    Rule{"L14", Stage::soak, stop, when, "seed sold for sowing", practice, sowing_seed},
    Rule{"L9", Stage::soak, warn, always, "lupin must be sweet", "BfR Opinion 003/2017; EFSA CONTAM 2019", lupin},
    Rule{"L12", Stage::soak, warn, always, "aflatoxin in peanuts", "memory, high", peanut},
    Rule{"L7", Stage::soak, warn, always, "faba and favism", "Luzzatto, review; Nutrients 2023, 15(2):343", favism},
    Rule{"S1", Stage::soak, warn, when, "growth in the soak", "from the USDA ARS model for B. cereus; Benedict et al. 1993, J. Food Prot. 56:211-214", soak_grows},
    Rule{"S2", Stage::soak, warn, when, "long soak above 20 degC", "as S1", long_warm_soak},
    Rule{"S4", Stage::soak, warn, when, "a boil does not cure a bad soak", "Hong Kong Centre for Food Safety, Food Safety Focus 174; toxin from memory, high", boil_no_cure},
    Rule{"S8", Stage::soak, warn, always, "a spoilt soak", practice, bad_soak},
    Rule{"S9", Stage::soak, stop, when, "untreated water", "Am. J. Epidemiol. 1985, 121:705-711; CDC MMWR 1982", bad_water},
    Rule{"P2", Stage::soak, warn, when, "too little soak water", "computed", little_soak_water},
    Rule{"P6", Stage::soak, warn, when, "hot soak", "judgement over S1 and S7; gelatinisation 52 to 75 degC", hot_soak},
    Rule{"P10", Stage::soak, note, when, "old seed", practice, old_seed_caution},
    Rule{"G1", Stage::soak, warn, always, "allergens, US label", "US FASTER Act of 2021", allergens_us},
    Rule{"G2", Stage::soak, warn, always, "allergens, EU and GB label", "Regulation (EU) No 1169/2011, Annex II", allergens_eu},
    Rule{"G3", Stage::soak, warn, always, "allergens, Canadian label", "Health Canada priority allergens", allergens_canada},
    Rule{"G4", Stage::soak, warn, always, "allergens, Australian and New Zealand label", "memory, high", allergens_anz},
    Rule{"G5", Stage::soak, warn, always, "legumes that no list names", "Abu Risha et al. 2024, DOI 10.1007/s11882-024-01165-7", cross_reaction},
    Rule{"K8", Stage::blend, warn, when, "blending hot liquid", practice, hot_blend},
    Rule{"L6", Stage::strain, warn, always, "raw milk is not tasted", practice, raw_taste},
    Rule{"L13", Stage::strain, warn, always, "pulp is raw", "judgement", cook_pulp},
    Rule{"H3", Stage::strain, warn, always, "raw leftovers", practice, raw_leftovers},
    Rule{"H2", Stage::starch, warn, when, "raw milk standing", "judgement with the USDA 2 h rule", milk_stands},
    Rule{"P1", Stage::starch, warn, when, "starch left in", "judgement; Mohamed, Johan and Bakar 1989", starch_set},
    Rule{"P7", Stage::starch, warn, when, "starchy milk too warm", "gelatinisation 52 to 75 degC", warm_milk_starch},
    Rule{"P11", Stage::starch, note, always, "oil of peanut milk", "Mohamed, Johan and Bakar 1989", oily_milk},
    Rule{"L1", Stage::cook, stop, when, "kidney-bean lectin", "US FDA Bad Bug Book, phytohaemagglutinin", kidney_hold},
    Rule{"L2", Stage::cook, stop, when, "kidney beans in a slow cooker", "US FDA Bad Bug Book; Sygo 2014", kidney_slow},
    Rule{"L3", Stage::cook, stop, when, "kidney beans at altitude", "judgement over the boiling table", kidney_altitude},
    Rule{"L4", Stage::cook, note, when, "UK advice on kidney beans", "UK Public Health Laboratory Service, second-hand", kidney_uk},
    Rule{"L5", Stage::cook, warn, when, "trypsin inhibitor of soy", "Johnson et al. 1980, Cereal Chem. 57:376-379; Yuan et al. 2008", trypsin},
    Rule{"L10", Stage::cook, note, always, "cyanide of lima beans", "range 15-500 mg HCN/kg, second-hand", lima},
    Rule{"K9", Stage::cook, warn, always, "boiling over", practice, boil_over},
    Rule{"K10", Stage::cook, warn, when, "pressure cooker", "maker guidance, memory, high", pressure_cooking},
    Rule{"K1", Stage::coagulate, warn, always, "food-grade coagulant", "Codex CXS 192-1995, Table 3 and 06.8.3", food_grade},
    Rule{"K2", Stage::coagulate, stop, when, "hardware salts", "memory, high", hardware_salt},
    Rule{"K3", Stage::coagulate, warn, when, "hemihydrate sets hard", "derived from molar masses", plaster_form},
    Rule{"K4", Stage::coagulate, warn, when, "magnesium", "memory, high", magnesium},
    Rule{"K6", Stage::coagulate, warn, when, "calcium chloride heats", "memory, high", hot_salt},
    Rule{"K12", Stage::coagulate, warn, when, "pots that react", practice, reactive_pot},
    Rule{"G7", Stage::coagulate, warn, when, "sulphites", "Regulation (EU) No 1169/2011, Annex II", sulphites},
    Rule{"G8", Stage::coagulate, warn, when, "malt vinegar", "memory, high", malt},
    Rule{"P4", Stage::coagulate, warn, when, "dose outside the window", "magnesium chloride in soy milk, 2021; Bull. Soc. Sea Water Sci. Jpn. 60(4):302", dose_window},
    Rule{"P5", Stage::coagulate, warn, when, "scale too coarse for the dose", "computed", coarse_scale},
    Rule{"H1", Stage::coagulate, warn, always, "clean from here on", "Listeria after cooking: FDA, EFSA; memory, high", clean_hands},
    Rule{"H5", Stage::coagulate, warn, always, "coagulant kept back", practice, kept_back},
    Rule{"H7", Stage::coagulate, warn, when, "thermometer", practice, no_probe},
    Rule{"K7", Stage::press, warn, always, "hot milk and curd", "Moritz and Henriques 1947, memory, high", scald},
    Rule{"K11", Stage::press, warn, always, "the press", practice, press_stack},
    Rule{"K13", Stage::press, warn, always, "cloth", practice, boil_cloth},
    Rule{"H4", Stage::press, warn, always, "whey", practice, whey_keeps},
    Rule{"T7", Stage::press, warn, when, "out of temperature control", "FDA Food Code 2022 numbering, 3-501.19", off_the_clock},
    Rule{"T8", Stage::press, warn, when, "two hours on the counter", "US Department of Agriculture, danger-zone advice", counter_limit},
    Rule{"P3", Stage::press, warn, when, "pressure beyond what is known", "the table of pressure and moisture is common practice", unknown_pressure},
    Rule{"P9", Stage::press, warn, when, "too few moulds", "judgement with the USDA 2 h rule", few_moulds},
    Rule{"P8", Stage::press, warn, when, "curd heavier than curd can be", "whole slurry set by starch weighs 5.2-5.3 g per g: common practice", heavy_curd},
    Rule{"T1", Stage::chill, warn, always, "fresh curd keeps only cold", "FDA Food Code 2022 numbering, 1-201.10(B)",
         [](const Facts&) -> Answer { return say("Fresh curd keeps only cold: count the hours from the moment it leaves the heat."); }},
    Rule{"T2", Stage::chill, warn, when, "two-stage cooling", "FDA Food Code 2022 numbering, 3-501.14(A)", [](const Facts& f) { return cooling_too_slow(f, "T2"); }},
    Rule{"T4", Stage::chill, warn, when, "thick block in a still fridge", "computed; FDA Food Code 3-501.15, memory, high", thick_in_still_fridge},
    Rule{"T5", Stage::chill, warn, when, "holding hot", "FDA Food Code 2022 numbering, 3-501.16(A)(1)", hot_holding},
    Rule{"T6", Stage::chill, warn, when, "holding cold", "FDA Food Code 2022 numbering, 3-501.16(A)(2)", fridge_too_warm},
    Rule{"T9", Stage::chill, warn, when, "UK cooling", "UK food hygiene regulations, 8 and 63 degC rules", [](const Facts& f) { return cooling_too_slow(f, "T9"); }},
    Rule{"T10", Stage::chill, warn, when, "reheating in Scotland", "Scottish food hygiene regulations", reheat_scotland},
    Rule{"T11", Stage::chill, warn, when, "Codex cooling", "Codex CXC 39-1993, memory, high", [](const Facts& f) { return cooling_too_slow(f, "T11"); }},
    Rule{"T12", Stage::chill, warn, when, "Canadian, Australian and New Zealand cooling", "CFIA and Health Canada; FSANZ Standard 3.2.2; memory, high",
         [](const Facts& f) { return cooling_too_slow(f, "T12"); }},
    Rule{"T13", Stage::chill, note, when, "EU sets no clock", "Regulation (EC) No 852/2004, Annex II, IX(5-6), memory, high",
         [](const Facts& f) -> Answer { return region(f, {"eu"}) ? say("EU law sets no single cooling clock; the 2 h and 6 h one is used here.") : silent; }},
    Rule{"T14", Stage::chill, warn, when, "kept too long", "FDA Food Code 2022 numbering, 3-501.17", long_kept},
    Rule{"T15", Stage::chill, warn, when, "days before freezing", "Minnesota rule 4626.0400 (2014)", frozen_days},
    Rule{"T16", Stage::chill, warn, when, "fridge at 5 to 7 degC", "older FDA Food Code editions, low", warm_fridge_short},
    Rule{"T17", Stage::chill, warn, when, "heating for hot holding", "FDA Food Code 3-401.13, memory, high", heat_for_holding},
    Rule{"T18", Stage::chill, warn, when, "reheating for hot holding", "FDA Food Code 3-403.11, memory, high", reheat_for_holding},
    Rule{"T19", Stage::chill, stop, when, "kept or fermented warm", "CDC, New York cases of 2012, memory, high", kept_warm},
    Rule{"T20", Stage::chill, warn, when, "claimed acidity", "FDA Food Code 1-201.10(B), tables A and B", claimed_sour},
    Rule{"T21", Stage::chill, warn, when, "sealed pack", "FDA Food Code 3-502.12; UK Food Standards Agency, memory, high", sealed_pack},
    Rule{"S10", Stage::chill, warn, when, "stored under water", practice, stored_wet},
    Rule{"H6", Stage::chill, warn, when, "smell is no proof", "judgement", smell_no_proof},
    Rule{"H8", Stage::chill, warn, when, "vulnerable eaters", "agency advice on Listeria, memory, high", vulnerable},
    Rule{"G6", Stage::chill, warn, when, "soy-free claim", "judgement", soy_free},
    Rule{"K14", Stage::chill, note, always, "minerals for a label", "computed", label_calcium},
};

}  // namespace

std::string_view word(Severity s) { return s == Severity::stop ? "stop" : s == Severity::warn ? "warn" : "note"; }

std::span<const Rule> all_rules() { return rules; }

Facts facts_of(const Batch& b) {
  Facts f{b, cool(b), 0, 0, 0, 1, 0};
  f.soak_growth = growth_log10(b.plan.soaking);
  f.soak_growth_flat = growth_log10_without_lag(b.plan.soaking);
  const Temperature cold = celsius(5);
  const double once = integrate(b.plan.destarched.history, [cold](Temperature t) { return t > cold ? 1.0 : 0.0; }, std::span(&cold, 1));
  f.standing_h = once * b.setup.job.starch.times / 3600.0;
  f.trypsin_left = trypsin_inhibitor_left(b.plan.cooked.history, b.theta);
  f.press_uncontrolled_h = in_hours(out_of_control_in_press(b));
  return f;
}

std::vector<Caution> cautions(const Facts& facts) {
  std::vector<Caution> all;
  for (const Rule& r : rules)
    if (auto fired = r.fires(facts)) all.push_back({r.id, fired->severity.value_or(r.severity), r.stage, r.standing && !fired->severity, std::move(fired->text)});
  std::stable_sort(all.begin(), all.end(), [](const Caution& a, const Caution& c) { return a.stage < c.stage; });
  return all;
}

bool stops(std::span<const Caution> list) {
  return std::any_of(list.begin(), list.end(), [](const Caution& c) { return c.severity == Severity::stop; });
}

std::vector<std::string> ticks(const Batch& b) {
  std::vector<std::string> lines = {"seed sold as food, not for sowing", fmt::format("{} of food grade", b.setup.coagulant.kitchen_name), "drinking water throughout"};
  for (const Legume& l : b.setup.legumes) {
    if (l.has(Hazard::lupin_alkaloids)) lines.emplace_back("lupin sold as sweet");
    if (l.has(Hazard::lima_cyanide)) lines.emplace_back("lima beans white, from a shop");
    if (l.has(Hazard::aflatoxin)) lines.emplace_back("kernels sound, none mouldy");
  }
  return lines;
}

int last_day(const Batch& b) {
  const double t = in_celsius(b.setup.recipe.store.at.value_or(b.setup.kitchen.fridge));
  if (t <= 5) return 7;
  return t <= 7 ? 4 : 1;
}

}  // namespace curdwright
