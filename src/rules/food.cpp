// SPDX-License-Identifier: MIT
#include "rules/rules.hpp"
#include "curdwright/safety.hpp"

namespace curdwright::rules {
namespace {

// --- time and temperature -------------------------------------------------------------------------

Answer cooling_too_slow(const Facts& f, std::string_view rule) {
  const CoolingLimits l = cooling_limits(kitchen(f));
  if (l.rule != rule || f.cooling.met) return silent;
  std::string text = fmt::format("The centre must fall from {:.0f} under {:.0f} degC within {}. Planned: {}.", in_celsius(l.from), in_celsius(l.first), text::duration(l.first_within),
                                 hours_of(f.cooling.to_first()));
  if (l.second < l.first)
    text += fmt::format(" It must be under {:.0f} degC within {}. Planned: {}.", in_celsius(l.second), text::duration(l.second_within), hours_of(f.cooling.to_second()));
  text += fmt::format(" Mend: {}.", f.cooling.mend);
  return say(std::move(text), kitchen(f).rule_set == RuleSet::selling ? Severity::stop : Severity::warn);
}

Answer thick_in_still_fridge(const Facts& f) {
  const double cm = in_centimetres(f.batch.plan.pressed.block_height);
  const bool still = setup(f).chill.id == "still-fridge";
  if (!still || cm <= 4.0) return silent;
  return say(fmt::format("A {:.1f} cm block in a still fridge needs about {} to fall under {:.0f} degC at its centre. Ice water first, or thinner blocks.", cm,
                         hours_of(f.cooling.under_second), in_celsius(cooling_limits(kitchen(f)).second)));
}

Answer hot_holding(const Facts& f) {
  if (!kept(f, Where::hot) || (store(f).at && in_celsius(*store(f).at) >= hot_limit_c(f))) return silent;
  return say(fmt::format("Curd kept hot must stay at {:.0f} degC or above.{}", hot_limit_c(f),
                         store(f).at ? fmt::format(" Planned: {:.0f} degC.", in_celsius(*store(f).at)) : " No temperature is given."));
}

/// A freezer stops the days, but only a cold one: -12 degC is the warmest at which nothing grows (memory, high).
constexpr double freezer_limit_c = -12;

Answer fridge_too_warm(const Facts& f) {
  if (kept(f, Where::freezer) && store(f).at && !(keep_c(f) <= freezer_limit_c))
    return say(fmt::format("The freezer is at {:.1f} degC; it must hold {:.0f} degC or colder, and -18 degC is usual.", keep_c(f), freezer_limit_c));
  if (!kept(f, Where::fridge) || keep_c(f) <= cold_limit_c(f)) return silent;
  return say(fmt::format("The fridge is at {:.1f} degC; it must hold {:.0f} degC or colder.", keep_c(f), cold_limit_c(f)));
}

Answer off_the_clock(const Facts& f) {
  if (f.uncontrolled_h <= 4.0) return silent;
  return say(fmt::format("The curd stands {} warm in pot and press. After 4 h without heat or cold it is thrown away: press in the fridge.", text::duration(hours(f.uncontrolled_h))));
}

Answer counter_limit(const Facts& f) {
  const double limit = kitchen(f).room > celsius(32.2) ? 1.0 : 2.0;
  if (kitchen(f).rule_set != RuleSet::home || !region(f, {Region::us}) || f.uncontrolled_h <= limit) return silent;
  return say(fmt::format("The curd stands {} warm in pot and press; {:.0f} h on the counter is the limit. Press in the fridge.", text::duration(hours(f.uncontrolled_h)), limit));
}

Answer reheat_scotland(const Facts& f) {
  if (kitchen(f).region != Region::scotland || !(store(f).reheat || kept(f, Where::hot)) || (store(f).reheat && in_celsius(*store(f).reheat) >= 82)) return silent;
  return say("Scotland: reheat to 82 degC.");
}

Answer long_kept(const Facts& f) {
  const bool frozen = kept(f, Where::freezer) && keep_c(f) <= freezer_limit_c;
  const bool unknown_freezer = kept(f, Where::freezer) && !store(f).at;
  if (!kept(f, Where::fridge) && !kept(f, Where::freezer) && !kept(f, Where::hot)) return silent;
  const int day = last_day(f.batch);
  const int before = store(f).days_before_freezing.value_or(0);
  const int planned = frozen || unknown_freezer ? before : store(f).days.value_or(0) + before;
  if (planned > day)
    return say(fmt::format("Planned for day {}, but the last day {} is day {} (the making day is day 1).", planned, kept(f, Where::hot) ? "of curd kept hot" : "at this temperature", day), Severity::warn);
  return silent;
}

Answer frozen_days(const Facts& f) {
  if (!store(f).days_before_freezing || *store(f).days_before_freezing < 1) return silent;
  return say(fmt::format("Cold days used before freezing: {} of 7; they go on counting after thawing.", *store(f).days_before_freezing));
}

Answer warm_fridge_short(const Facts& f) {
  if (!kept(f, Where::fridge) || keep_c(f) <= 5 || region(f, {Region::uk, Region::scotland})) return silent;
  return say(keep_c(f) <= 7 ? "Above 5 degC, plan for 4 days, not 7." : "Above 7 degC the curd is not kept: eat it on the day, or make the fridge colder.");
}

Answer heat_for_holding(const Facts& f) {
  if (!kept(f, Where::hot) || (store(f).reheat && in_celsius(*store(f).reheat) >= 57)) return silent;
  return say("Heat the curd to 57 degC or more before it is held hot.");
}

Answer reheat_for_holding(const Facts& f) {
  if (!kept(f, Where::hot) || (store(f).reheat && in_celsius(*store(f).reheat) >= 74)) return silent;
  return say("Curd that was chilled is reheated to 74 degC within 2 h before it is held hot.");
}

Answer kept_warm(const Facts& f) {
  if (!store(f).ferment.value_or(false) && !kept(f, Where::room)) return silent;
  return say("Curd kept or fermented at room temperature is not planned: it has caused botulism.");
}

Answer claimed_sour(const Facts& f) {
  if (!store(f).ph || *store(f).ph > 4.6) return silent;
  return say("A sour curd is not shelf-stable on a claim: unless its pH is measured and the process validated, keep it cold like any other.");
}

Answer sealed_pack(const Facts& f) {
  if (store(f).pack != Pack::sealed) return silent;
  if (keep_c(f) <= 3) return say("Sealed without air: it must never be warmer than 3 degC, or botulism can grow.");
  return say("Sealed without air, chilled curd can grow botulism: keep it at 3 degC or below, or do not seal it for keeping.");
}

// --- soak and standing ----------------------------------------------------------------------------

Answer soak_grows(const Facts& f) {
  if (f.soak_growth <= 1.0) return silent;
  const bool far = f.soak_growth_flat > 2 * hours_to_tenfold(celsius(20)) * growth_rate_log10_per_h(celsius(20));
  return say(fmt::format("Spore-formers may grow about {:.0f}-fold in this soak{}. Soak in the fridge, or shorter, or colder.",
                         std::min(1000.0, std::pow(10.0, f.soak_growth)), far ? " or more, far past the limit of 10" : "; the limit is 10"));
}

Answer long_warm_soak(const Facts& f) {
  const TemperatureHistory& h = f.batch.plan.soaking;
  const Temperature warm = celsius(20.0001);
  const double warm_h = integrate(h, [warm](Temperature t) { return t > warm ? 1.0 : 0.0; }, std::span(&warm, 1)) / 3600.0;
  if (warm_h <= 12.0) return silent;
  return say(fmt::format("{:.0f} h of soaking above 20 degC: use the fridge.", warm_h));
}

Answer boil_no_cure(const Facts& f) { return !(f.soak_growth <= 1.0) ? say("Boiling later does not undo a bad soak: spores and one of their toxins survive it.") : silent; }

Answer bad_water(const Facts& f) {
  if (kitchen(f).water != WaterGrade::untreated) return silent;
  return say("Untreated water: cool, pack and store only in drinking-grade water. Curd packed in spring water made 87 people ill. Boil and cool the water first, then say so in the kitchen file.");
}

Answer stored_wet(const Facts& f) { return store(f).pack == Pack::water ? say("Stored under water: fresh cold drinking water every day, clean tub.") : silent; }

Answer milk_stands(const Facts& f) {
  if (f.standing_h <= in_hours(raw_milk_may_stand)) {
    if (f.milk_growth <= 1.0 || !(f.soak_growth <= 1.0)) return silent;
    return say(fmt::format("From the soak to the boil spore-formers may grow about {:.0f}-fold; the limit is 10. Use colder water, or let the milk stand for less time.",
                           std::min(1000.0, std::pow(10.0, f.milk_growth))));
  }
  return say(fmt::format("Raw milk stands {} out of the cold, from the first jarful until it is hot; 2 h is the limit. {}.", text::duration(hours(f.standing_h)),
                         setup(f).job.starch.settles() ? "Settle it in the fridge, or make less at a time" : "Chill each bucket as it fills, or make less at a time"));
}

// --- toxins ---------------------------------------------------------------------------------------

Answer kidney_hold(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin)) return silent;
  if (f.batch.plan.cooked.fault != Fault::none)
    return say(fmt::format("These beans are poisonous until they have kept a full rolling boil, and this pot would stop at {:.0f} degC.", in_celsius(f.batch.plan.cooked.reaches)));
  if (!(hold_min(f) >= 30.0)) return say(fmt::format("These beans are poisonous until they have kept a full rolling boil for 30 min. This plan has {:.0f} min.", hold_min(f)));
  if (setup(f).job.soak.time < hours(5)) return say("Soak these beans 5 h or more and pour the water away.", Severity::warn);
  return silent;
}

Answer kidney_boil(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin)) return silent;
  return say(fmt::format("These beans are poisonous until fully boiled. Keep a full rolling boil, 98 degC or more in the middle, for {:.0f} min, never under 30. If the boil stops, start the time again. Taste nothing before.",
                         hold_min(f)));
}

Answer kidney_slow(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin) || setup(f).recipe.cook.in != CookedIn::slow_cooker) return silent;
  return say("Never in a slow cooker: it does not reach the heat that destroys the poison of these beans, and can make them worse than raw.");
}

Answer kidney_altitude(const Facts& f) {
  if (!any(f, Hazard::kidney_lectin) || setup(f).recipe.cook.in == CookedIn::slow_cooker || boil_c(f) >= 98.0) return silent;
  return say(fmt::format("At {:.0f} m water boils at {:.{}f} degC: too cool to make this bean safe in an open pot. Pressure-cook the strained milk by its maker's rules, or take another legume.",
                         in_metres(kitchen(f).altitude), boil_c(f), boil_c(f) > 97.9 ? 2 : 1));
}

Answer kidney_uk(const Facts& f) {
  return any(f, Hazard::kidney_lectin) && region(f, {Region::uk, Region::scotland}) ? say("UK advice: soak 5 h, then a vigorous boil for at least 10 min. This tool keeps 30 min.") : silent;
}

Answer trypsin(const Facts& f) {
  if (!any(f, Hazard::trypsin_inhibitor) || f.trypsin_left <= 0.20) return silent;
  return say(fmt::format("About {:.0f} % of the trypsin inhibitor would be left; 20 % or less is the aim. Hold a true boil longer; the first foam comes early.", 100 * f.trypsin_left));
}

Answer raw_taste(const Facts&) { return say("Do not taste raw milk."); }

Answer favism(const Facts& f) {
  return any(f, Hazard::favism) ? say("Not for anyone with G6PD deficiency (favism), nor for infants of whom it is not known. Cooking does not cure it.") : silent;
}

Answer lupin(const Facts& f) { return any(f, Hazard::lupin_alkaloids) ? say("Only sweet lupin sold as food. Once the milk has boiled, taste a drop and spit it out: bitter, throw all of it out.") : silent; }

Answer lima(const Facts& f) {
  if (!any(f, Hazard::lima_cyanide)) return silent;
  if (!(hold_min(f) >= 15.0) || setup(f).recipe.cook.in == CookedIn::pressure_cooker || setup(f).recipe.cook.in == CookedIn::slow_cooker)
    return say("Lima beans need a hard, uncovered boil of 15 min or more, so that the cyanide leaves with the steam.", Severity::warn);
  return say("Lima beans: boil uncovered, so that the cyanide leaves with the steam.");
}

Answer peanut(const Facts& f) { return any(f, Hazard::aflatoxin) ? say("Sound food-grade kernels only: no mouldy, dark or shrivelled nuts.") : silent; }

Answer cook_pulp(const Facts& f) {
  if (any(f, Hazard::kidney_lectin)) return say("Pulp, starch and cloudy milk are raw and as poisonous as the bean: a full rolling boil for at least 30 min, or throw away. Not for baking or pancakes as they are.");
  if (any(f, Hazard::lima_cyanide)) return say("Pulp, starch and cloudy milk are raw: boil hard and uncovered for at least 15 min before eating.");
  if (setup(f).job.starch.remove == StarchRemoval::none) return say("The pulp is raw: cook it through before eating.");
  return say("Pulp, starch and cloudy milk are raw: cook them through before eating.");
}

Answer sowing_seed(const Facts& f) {
  for (const LegumeChoice& c : setup(f).recipe.legumes)
    if (c.sold_for == SeedUse::sowing) return say("Seed sold for sowing may be treated with poison: use food-grade seed only.");
  return silent;
}

// --- hands and leftovers --------------------------------------------------------------------------

Answer clean_hands(const Facts&) { return say("From here on it is cooked food: clean hands, cloth, mould and ladle, boiled or sanitised; keep raw pulp and its tools away."); }
Answer raw_leftovers(const Facts& f) {
  return say(fmt::format("Chill raw pulp{} at once; cook within two days, or freeze.", setup(f).job.starch.remove == StarchRemoval::none ? "" : " and starch"));
}
Answer whey_keeps(const Facts&) { return say("Whey to keep: chilled like the curd, labelled, two days in the fridge."); }
Answer kept_back(const Facts& f) {
  if (setup(f).job.coagulate.make_up <= 1.0) return silent;
  const bool milky = setup(f).coagulant.pour == PourWay::at_once, acid = setup(f).job.coagulate.kind == CoagulantKind::acid;
  return say(fmt::format("Coagulant kept back looks like {}: closed, labelled \"coagulant, not for drinking\", in the fridge, one week.", milky ? "milk" : acid ? "a drink" : "water"));
}

Answer smell_no_proof(const Facts& f) {
  return setup(f).job.press.time > hours(24) || store(f).days.value_or(0) > 3 ? say("Smelling fine proves nothing: count the days. Days in the press count too.") : silent;
}

Answer no_probe(const Facts& f) {
  if (kitchen(f).thermometer == Thermometer::infrared) return say("An infrared reading is of the surface, and steam and foam mislead it: probe the middle before you trust it.");
  if (kitchen(f).thermometer == Thermometer::none) return say("Without a probe thermometer neither the pour nor the chilling can be checked: get one.");
  return silent;
}

Answer vulnerable(const Facts& f) {
  return store(f).eaters == Eaters::vulnerable ? say("For babies, pregnant, old or ill eaters: eat freshly made and cooked through again; no aged or long-kept curd.") : silent;
}

Answer sort_seed(const Facts&) { return say("Pick out stones and damaged seed, and rinse."); }
Answer bad_soak(const Facts&) { return say("A sour smell, slime or foam: throw out seed and water. Boiling does not save them."); }

// --- allergens ------------------------------------------------------------------------------------

using Listed = std::span<const std::string_view>;
// What the laws name, by the sources of the rules; each cereal and nut by its own name. Canada lists gluten cereals beside its priority allergens.
constexpr std::array<std::string_view, 9> us_names = {"soybean", "peanut", "sesame", "wheat", "milk", "egg", "fish", "crustaceans", "tree nuts"};
constexpr std::array<std::string_view, 17> eu_names = {"soybean", "peanut", "lupin", "sesame", "mustard", "celery", "wheat", "barley", "rye", "oats", "milk", "egg", "fish", "crustaceans", "molluscs", "tree nuts", "sulphites"};
constexpr std::array<std::string_view, 15> canada_names = {"soybean", "peanut", "sesame", "mustard", "wheat", "barley", "rye", "oats", "milk", "egg", "fish", "crustaceans", "molluscs", "tree nuts", "sulphites"};
constexpr std::array<std::string_view, 15> anz_names = {"soybean", "peanut", "lupin", "sesame", "wheat", "barley", "rye", "oats", "milk", "egg", "fish", "crustaceans", "molluscs", "tree nuts", "sulphites"};

Answer contains_words(const Facts& f, Listed listed) {
  std::string names;
  for (std::string_view a : listed)
    if (contains(f, a)) names += (names.empty() ? "" : ", ") + std::string(a == "soybean" ? "soy" : a);
  return names.empty() ? silent : say(fmt::format("Contains: {}.", names));
}

Answer allergens_us(const Facts& f) { return region(f, {Region::us, Region::codex}) ? contains_words(f, us_names) : silent; }
Answer allergens_eu(const Facts& f) { return region(f, {Region::eu, Region::uk, Region::scotland}) ? contains_words(f, eu_names) : silent; }
Answer allergens_canada(const Facts& f) { return region(f, {Region::canada}) ? contains_words(f, canada_names) : silent; }
Answer allergens_anz(const Facts& f) { return region(f, {Region::anz}) ? contains_words(f, anz_names) : silent; }

Answer cross_reaction(const Facts& f) {
  std::string names;
  for (const Legume& l : setup(f).legumes)
    if (l.kind == SeedKind::pulse || l.kind == SeedKind::lupin)
      names += (names.empty() ? "" : " and ") + (l.kind == SeedKind::lupin ? std::string("lupin (a listed allergen in the EU, the UK, Australia and New Zealand)") : l.kitchen_name);
  return names.empty() ? silent : say(fmt::format("People with peanut or other legume allergy can react to {}, listed or not.", names));
}

Answer soy_free(const Facts& f) {
  if (store(f).claim != Claim::soy_free) return silent;
  if (contains(f, "soybean")) return say("There is soy in this batch: do not claim soy-free.", Severity::stop);
  return store(f).shared_gear.value_or(true) ? say("Shared gear: do not claim soy-free unless line, cloth, moulds, coagulant and pans are clean of soy.") : silent;
}

constexpr std::array rows = {
    Rule{"H9", Stage::soak, warn, always, "sort and rinse the seed", practice, sort_seed, Said::own_place},
    Rule{"L14", Stage::soak, stop, when, "seed sold for sowing", practice, sowing_seed, Said::outlasting},
    Rule{"L9", Stage::soak, warn, always, "lupin must be sweet", "BfR Opinion 003/2017; EFSA CONTAM 2019", lupin, Said::outlasting},
    Rule{"L12", Stage::soak, warn, always, "aflatoxin in peanuts", "memory, high", peanut, Said::outlasting},
    Rule{"L7", Stage::soak, warn, always, "faba and favism", "Luzzatto, review; Nutrients 2023, 15(2):343", favism, Said::outlasting},
    Rule{"S1", Stage::soak, warn, when, "growth in the soak", "from the USDA ARS model for B. cereus; Benedict et al. 1993, J. Food Prot. 56:211-214", soak_grows},
    Rule{"S2", Stage::soak, warn, when, "long soak above 20 degC", "as S1", long_warm_soak},
    Rule{"S4", Stage::soak, warn, when, "a boil does not cure a bad soak", "Hong Kong Centre for Food Safety, Food Safety Focus 174; toxin from memory, high", boil_no_cure},
    Rule{"S8", Stage::soak, warn, always, "a spoilt soak", practice, bad_soak},
    Rule{"S9", Stage::soak, stop, when, "untreated water", "Am. J. Epidemiol. 1985, 121:705-711; CDC MMWR 1982", bad_water},
    Rule{"G1", Stage::soak, warn, always, "allergens, US label", "US FASTER Act of 2021", allergens_us, Said::allergen_list},
    Rule{"G2", Stage::soak, warn, always, "allergens, EU and GB label", "Regulation (EU) No 1169/2011, Annex II", allergens_eu, Said::allergen_list},
    Rule{"G3", Stage::soak, warn, always, "allergens, Canadian label", "Health Canada priority allergens", allergens_canada, Said::allergen_list},
    Rule{"G4", Stage::soak, warn, always, "allergens, Australian and New Zealand label", "memory, high", allergens_anz, Said::allergen_list},
    Rule{"G5", Stage::soak, warn, always, "legumes that no list names", "Abu Risha et al. 2024, DOI 10.1007/s11882-024-01165-7", cross_reaction, Said::own_place},
    Rule{"L6", Stage::strain, warn, always, "raw milk is not tasted", practice, raw_taste, Said::outlasting},
    Rule{"L13", Stage::strain, warn, always, "pulp is raw", "judgement", cook_pulp, Said::own_place},
    Rule{"H3", Stage::strain, warn, always, "raw leftovers", practice, raw_leftovers, Said::own_place},
    Rule{"H2", Stage::starch, warn, when, "raw milk standing", "judgement with the USDA 2 h rule", milk_stands},
    Rule{"L1", Stage::cook, stop, when, "kidney-bean lectin", "US FDA Bad Bug Book, phytohaemagglutinin", kidney_hold, Said::outlasting},
    Rule{"P17", Stage::cook, warn, always, "kidney beans keep a full rolling boil", "US FDA Bad Bug Book, phytohaemagglutinin", kidney_boil, Said::outlasting},
    Rule{"L2", Stage::cook, stop, when, "kidney beans in a slow cooker", "US FDA Bad Bug Book; Sygo 2014", kidney_slow, Said::outlasting},
    Rule{"L3", Stage::cook, stop, when, "kidney beans at altitude", "judgement over the boiling table", kidney_altitude, Said::outlasting},
    Rule{"L4", Stage::cook, note, always, "UK advice on kidney beans", "UK Public Health Laboratory Service, second-hand", kidney_uk, Said::outlasting},
    Rule{"L5", Stage::cook, warn, when, "trypsin inhibitor of soy", "Johnson et al. 1980, Cereal Chem. 57:376-379; Yuan et al. 2008", trypsin, Said::outlasting},
    Rule{"L10", Stage::cook, note, always, "cyanide of lima beans", "range 15-500 mg HCN/kg, second-hand", lima, Said::outlasting},
    Rule{"H1", Stage::coagulate, warn, always, "clean from here on", "Listeria after cooking: FDA, EFSA; memory, high", clean_hands},
    Rule{"H5", Stage::coagulate, warn, always, "coagulant kept back", practice, kept_back, Said::own_place},
    Rule{"H7", Stage::coagulate, warn, when, "thermometer", practice, no_probe},
    Rule{"H4", Stage::press, warn, always, "whey", practice, whey_keeps, Said::own_place},
    Rule{"T7", Stage::press, warn, when, "out of temperature control", "FDA Food Code 2022 numbering, 3-501.19", off_the_clock},
    Rule{"T8", Stage::press, warn, when, "two hours on the counter", "US Department of Agriculture, danger-zone advice", counter_limit},
    Rule{"T1", Stage::chill, warn, always, "fresh curd keeps only cold", "FDA Food Code 2022 numbering, 1-201.10(B)",
         [](const Facts&) -> Answer { return say("Fresh curd keeps only cold: the cooling clock runs from the moment its middle falls under the hot limit, in pot, mould or press, not from the fridge door."); }, Said::own_place},
    Rule{"T2", Stage::chill, warn, when, "two-stage cooling", "FDA Food Code 2022 numbering, 3-501.14(A)", [](const Facts& f) { return cooling_too_slow(f, "T2"); }},
    Rule{"T4", Stage::chill, warn, when, "thick block in a still fridge", "computed; FDA Food Code 3-501.15, memory, high", thick_in_still_fridge},
    Rule{"T5", Stage::chill, warn, when, "holding hot", "FDA Food Code 2022 numbering, 3-501.16(A)(1)", hot_holding},
    Rule{"T6", Stage::chill, warn, when, "holding cold", "FDA Food Code 2022 numbering, 3-501.16(A)(2); a freezer's -12 degC from memory, high", fridge_too_warm},
    Rule{"T9", Stage::chill, warn, when, "UK cooling", "UK food hygiene regulations, 8 and 63 degC rules", [](const Facts& f) { return cooling_too_slow(f, "T9"); }},
    Rule{"T10", Stage::chill, warn, when, "reheating in Scotland", "Scottish food hygiene regulations", reheat_scotland},
    Rule{"T11", Stage::chill, warn, when, "Codex cooling", "Codex CXC 39-1993, memory, high", [](const Facts& f) { return cooling_too_slow(f, "T11"); }},
    Rule{"T12", Stage::chill, warn, when, "Canadian, Australian and New Zealand cooling", "CFIA and Health Canada; FSANZ Standard 3.2.2; memory, high",
         [](const Facts& f) { return cooling_too_slow(f, "T12"); }},
    Rule{"T13", Stage::chill, note, always, "EU sets no clock", "Regulation (EC) No 852/2004, Annex II, IX(5-6), memory, high",
         [](const Facts& f) -> Answer { return region(f, {Region::eu}) ? say("EU law sets no single cooling clock; the 2 h and 6 h one is used here.") : silent; }},
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
};

}  // namespace

std::span<const Rule> food_rules() { return rows; }

}  // namespace curdwright::rules
