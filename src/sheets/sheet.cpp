// SPDX-License-Identifier: MIT
#include "curdwright/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/version.hpp"
#include "sheets/advice.hpp"
#include "sheets/corrected.hpp"
#include "sheets/day.hpp"
#include "sheets/sharing.hpp"
#include "sheets/step_parts.hpp"
#include "sheets/steps.hpp"
#include "sheets/tables.hpp"

namespace curdwright {
namespace {

using namespace sheets;

std::string summary_of(const Batch& b, const Amounts& say) {
  double whole = value(b.plan, Figure::whole_blocks);
  Mass end = grams(value(b.plan, Figure::end_piece_mass));
  if (end > b.plan.block * 0.985) whole += 1, end = {};
  std::string made = whole > 0 ? fmt::format("{} of {}", many(static_cast<int>(whole), "block", "blocks"), say.weigh(b.plan.block)) : say.about(b.plan.pressed.curd.mass());
  if (whole > 0 && end > b.plan.block * 0.95)
    made += fmt::format(" and one a little lighter, about {},", say.about(end));
  else if (whole > 0 && end > b.plan.block * 0.05)
    made += fmt::format(" and an end piece of about {}", say.about(end));
  return fmt::format("{} of curd from {} of dry {}", made, say.weigh(b.plan.dry), legume_names(b.setup));
}

/// Ice for chilling curd from 75 degC to 5 by melting, with as much again for the tub: 70 x 3.8 / 334, doubled (derived).
constexpr double ice_per_curd = 1.6;

/// Ice for chilling milk from 100 degC to 15 by melting: 85 x 4.0 / 334 (derived).
constexpr double ice_per_milk = 1.0;

/// The same for raw milk from 20 degC to 5, with half as much again to float: 15 x 4.0 / 334, times 1.5 (derived). Milk that was
/// warmed to 82 degC for its gel: 77 x 4.0 / 334, times 1.5.
constexpr double ice_per_waiting_milk = 0.3, ice_per_warmed_milk = 1.4;

std::string_view goes_into(Stage s) {
  switch (s) {
    case Stage::soak: return "into the soak water";
    case Stage::blend: return "into the blender";
    case Stage::cook: return "into the raw milk";
    case Stage::coagulate: return "into the cooked milk";
    default: return "into the drained curd";
  }
}

void list_extras(std::vector<SheetAmount>& list, const Batch& b, std::optional<Stage> done, const Amounts& say) {
  for (std::size_t i = 0; i < b.setup.extras.size(); ++i)
    if (!done || *done < b.setup.extras[i].stage) list.push_back({extra_amount(b, i, say), b.setup.extras[i].extra.kitchen_name, std::string(goes_into(b.setup.extras[i].stage))});
}

/// \param done the last stage whose amounts are used up, of a batch in hand
void write_weigh_out(Sheet& s, const Batch& b, std::optional<Stage> done, const Amounts& say) {
  const Job& j = b.setup.job;
  const auto to_come = [&](Stage stage) { return !done || *done < stage; };
  const auto add = [&](Mass m, std::string amount, std::string what) { s.weigh_out.push_back({std::move(amount), std::move(what), weighings(m, b.setup.kitchen)}); };
  const auto water = [&](Mass m, std::string what) { add(m, say.water(m), std::move(what)); };
  for (std::size_t i = 0; to_come(Stage::soak) && i < b.setup.legumes.size(); ++i)
    add(b.plan.dry * j.seeds[i].share, say.weigh(b.plan.dry * j.seeds[i].share), "dry " + b.setup.legumes[i].kitchen_name);
  if (to_come(Stage::soak)) water(b.plan.dry * (j.soak.water_to_dry * (1 + j.soak.changes)), "soak water");
  if (to_come(Stage::blend)) water(kilograms(b.plan.water.grinding_kg), "grinding water");
  if (b.plan.strained.wash_kg > 0 && to_come(Stage::strain)) water(kilograms(b.plan.strained.wash_kg), "wash water");
  list_extras(s.weigh_out, b, done, say);
  if (!to_come(Stage::coagulate)) return;
  s.weigh_out.push_back({say.weigh_fine(coagulant_made_up(b), b.setup.coagulant.teaspoon.value), b.setup.coagulant.kitchen_name, "to make up"});
  water(mix_water(b), fmt::format("water for the {}", b.setup.coagulant.kitchen_name));
}

/// \param done the last stage whose vessels are washed up, of a batch in hand
void write_vessels(Sheet& s, const Facts& facts, std::optional<Stage> done, const Amounts& say) {
  const Batch& b = facts.batch;
  const Job& j = b.setup.job;
  const auto to_come = [&](Stage stage) { return !done || *done < stage; };
  if (to_come(Stage::soak)) s.vessels.push_back(fmt::format("soak vessel {}", say.volume(soak_vessel(b.plan, j.soak.changes))));
  if (to_come(Stage::strain)) s.vessels.push_back(fmt::format("2 buckets of {}", say.volume(volume_at_20(b.plan.ground.all().of) * 1.15)));
  if (j.starch.settles() && to_come(Stage::starch))
    s.vessels.push_back(fmt::format("{} settling {} of {}", j.starch.vessels, j.starch.vessels == 1 ? "vessel" : "vessels", say.volume(volume_at_20(b.plan.strained.milk.of) * (1.15 / j.starch.vessels))));
  if (j.starch.strains_gel() && to_come(Stage::starch)) s.vessels.emplace_back("a coarse cloth");
  if (to_come(Stage::cook)) s.vessels.push_back(fmt::format("{} {} of at least {}", j.cook.pots, j.cook.pots == 1 ? "pot" : "pots or rounds", say.volume(volume_at_20(b.plan.destarched.milk.of) * (2.0 / j.cook.pots))));
  const int moulds = moulds_at_once(b, facts.timeline);
  s.vessels.push_back(fmt::format("{} {}", moulds, moulds == 1 ? "mould" : "moulds"));
  const Mass p_milk = b.plan.cooked.milk.mass();
  if (b.setup.press.id == "weight-on-mould") s.vessels.push_back(j.press.moisture ? fmt::format("{} of {} for pressing", many(moulds, "weight", "weights"), say.load(press_weight(j.press)))
                                       : fmt::format("{} of {} for pressing and {} of {} to add to them", many(moulds, "weight", "weights"), say.load(press_weight(j.press) / 3), moulds, say.load(press_weight(j.press) * (2.0 / 3))));
  else if (!lies_under_its_own_weight(b.setup)) s.vessels.push_back(b.setup.press.kitchen_name);
  s.vessels.push_back(b.setup.chill.ice_water ? fmt::format("ice {} in a tub of cold drinking water", say.about(b.plan.pressed.curd.mass() * ice_per_curd)) : "room in the fridge");
  if (j.cook.pots > 1 && to_come(Stage::cook)) s.vessels.push_back(fmt::format("ice {} and shallow tubs for the milk that waits", say.about(b.plan.destarched.milk.mass() * ((j.starch.strains_gel() ? ice_per_warmed_milk : ice_per_waiting_milk) * (j.cook.pots - 1) / j.cook.pots))));
  const bool gel = j.coagulate.kind == CoagulantKind::lactone;
  if (gel)
    for (const std::string& v : {many(b.blocks_to_press, "watertight tub", "watertight tubs"), std::string("a water bath"), fmt::format("ice {} for the milk", say.about(p_milk * ice_per_milk))}) s.vessels.push_back(v);
  for (const char* small : {"a pan for boiling cloths", "straining cloth", "press cloths", "a rack and tray for the whey", "ladle", "jug", "probe", "gloves", "lidded tubs", "bags for the blocks", "labels", "scale and timer"}) s.vessels.emplace_back(small);
}

std::string allergens_of(const std::vector<Caution>& list) {
  std::string words;
  for (const Caution& c : list)
    if (names_allergens(c)) words = c.text;
  // Favism is no allergy, but who must not eat it looks here.
  for (std::string_view rule : {"L7", "G5"})
    for (const Caution& c : list)
      if (c.rule == rule) words += (words.empty() ? "" : " ") + c.text;
  return words;
}

/// An end piece is told from 20 g.
std::string end_piece_words(const Plan& p, const Amounts& say) {
  const Mass end = grams(value(p, Figure::end_piece_mass));
  const std::string whole = fmt::format("{} whole", fixed(value(p, Figure::whole_blocks), 0));
  return end > grams(20) ? fmt::format("{}, end piece {}", whole, say.about(end)) : whole;
}

std::string chance_words(const Batch& b, const Ranges* ranges) {
  if (!b.target || (!ranges && !(b.chance > 0))) return "";
  if (b.chance > 0) return fmt::format("{:.0f} %", 100 * b.chance);
  if (b.target->figure != Figure::curd_mass) return "";
  return fmt::format("{:.0f} %", 100 * ranges->chance_of_curd(grams(b.target->value)));
}

std::string chance_of_what(const Batch& b, const Amounts& say) {
  const Want& w = b.setup.recipe.want;
  if (w.blocks) return fmt::format("of batches like this give {} or more", many(*w.blocks, "block", "blocks"));
  return fmt::format("of batches like this give {} of {} or more", say.about(grams(b.target->value)), b.target->figure == Figure::protein_mass ? "protein" : "curd");
}

void write_expect(Sheet& s, const Batch& b, const Amounts& say, const SheetOptions& options) {
  const Ranges* const ranges = options.ranges;
  const Plan& p = b.plan;
  const auto likely = [&](Figure f, auto words) { return ranges ? fmt::format(", likely {}", words(ranges->of(f))) : std::string(); };
  const auto masses = [&](const Range& r) { return say.between(grams(r.low), grams(r.high)); };
  const auto plain = [](int digits) { return [digits](const Range& r) { return fmt::format("{} to {}", fixed(r.low, digits), fixed(r.high, digits)); }; };
  s.expect.push_back({say.about(p.pressed.curd.mass()), "pressed curd" + likely(Figure::curd_mass, masses), fmt::format("{} % water", fixed(value(p, Figure::water), 0))});
  s.expect.push_back({fixed(value(p, Figure::blocks), 1), fmt::format("blocks of {}", say.weigh(p.block)) + likely(Figure::blocks, plain(1)),
                      end_piece_words(p, say)});
  if (ranges && ranges->failed > 0) s.expect.push_back({fmt::format("{} of {}", ranges->failed, ranges->plans), "likely plans give no curd at all; the ranges leave them out", ""});
  const bool weighed = options.correction && options.correction->done >= Stage::press;
  if (const auto chance = chance_words(b, ranges); !chance.empty() && !weighed) s.expect.push_back({chance, chance_of_what(b, say), b.setup.recipe.want.sure ? fmt::format("planned for {:.0f} %", 100 * *b.setup.recipe.want.sure) : options.publish || options.correction ? "even odds" : "even odds; --sure 80% plans more seed"});
  s.expect.push_back({fixed(value(p, Figure::starch), 1) + " g", "starch left in 100 g" + likely(Figure::starch, plain(1)), fmt::format("{} g in a block", fixed(value(p, Figure::starch) * in_grams(p.block) / 100, 1))});
}

/// The three beliefs that move the yield most, in words, with what can be done about each.
void write_depends_on(Sheet& s, const Batch& b, const Ranges& r) {
  const auto beliefs = b.setup.beliefs.all();
  for (std::size_t i = 0; i < std::min<std::size_t>(3, r.influences.size()); ++i) {
    const Belief& belief = beliefs[r.influences[i].belief];
    std::string what(info(belief.param).plain);
    if (belief.scope == Scope::legume && b.setup.legumes.size() > 1) what += fmt::format(" ({})", b.setup.legumes[belief.legume].kitchen_name);
    s.depends_on.push_back({fmt::format("{}", i + 1), std::move(what), std::string(advice(belief.param))});
  }
}

/// Dry seed that each piece of gear takes; the first is the one that limits.
void write_limits(Sheet& s, const Batch& b, const Amounts& say) {
  for (const Limit& l : limits(b.setup, b.setup.recipe.want.sure)) s.limits.push_back({say.about(l.dry), fmt::format("{}{}", l.gear, s.limits.empty() ? ", which limits this batch" : ""), l.words});
}

std::string made_of(const Stream& s) {
  const double starch = 100 * s.of.fraction(Component::starch);
  return fmt::format("{} % water, {} % protein{}", fixed(100 * s.of.fraction(Component::water), 0), fixed(100 * s.of.fraction(Component::protein), 1),
                     starch < 0.05 ? "" : fmt::format(", {} % starch", fixed(starch, 1)));
}

/// As it was weighed, else as it is planned.
Mass weighed_or(const Correction* correction, std::string_view word, Mass planned) {
  const Told* told = correction ? trusted(*correction, word) : nullptr;
  return told ? kilograms(told->reading.si) : planned;
}

void write_leftovers(Sheet& s, const Batch& b, const Amounts& say, const std::vector<Caution>& list, const Correction* correction) {
  const Plan& p = b.plan;
  const auto rule = [&](std::string_view id) {
    for (const Caution& c : list)
      if (c.rule == id) return c.text;
    return std::string();
  };
  const Boil boil = boil_of(b.setup.legumes);
  const bool poisonous = boil == Boil::rolling;
  const std::string_view cooked = poisonous ? "kept at a full rolling boil for at least 30 min" : boil == Boil::uncovered ? "boiled hard and uncovered for at least 15 min" : "cooked through";
  s.leftovers.push_back({say.about(weighed_or(correction, "pulp", p.strained.pulp.mass())), poisonous ? "pulp, raw, poisonous" : "pulp, raw", fmt::format("{}. {} {}", made_of(p.strained.pulp), rule("L13"), rule("H3"))});
  if (p.destarched.sediment.of.total_kg() > 0)
    s.leftovers.push_back({say.about(p.destarched.sediment.mass()), "starch layer, raw", fmt::format("{}. Treat it as the pulp. It thickens soups once it is {}.", made_of(p.destarched.sediment), cooked)});
  if (p.destarched.heel.of.total_kg() > 0)
    s.leftovers.push_back({say.about(p.destarched.heel.mass()), "cloudy milk, raw", "Treat it as the pulp."});
  if (p.destarched.gel.of.total_kg() > 0)
    s.leftovers.push_back({say.about(p.destarched.gel.mass()), poisonous ? "starch gel, raw, poisonous" : "starch gel, half cooked", fmt::format("{}. {}", made_of(p.destarched.gel), boil == Boil::simmer ? "Boil it before eating." : fmt::format("Treat it as the pulp: eaten only once it is {}.", cooked))});
  s.leftovers.push_back({say.about(weighed_or(correction, "whey", p.pressed.whey.mass())), "whey, cooked", fmt::format("{}. For soup or bread. {}", made_of(p.pressed.whey), rule("H4"))});
  if (const Mass rest = correction ? mix_in_jug(*correction) : mix_kept_back(b); rest > grams(1))
    s.leftovers.push_back({say.about(rest), "coagulant mix", fmt::format("{} g {} in 100 g. {}", fixed(100 / (1 + b.setup.job.coagulate.mix_water_kg_kg), 1), b.setup.coagulant.kitchen_name, rule("H5"))});
}

void write_made_in(Sheet& s, const Batch& b, const Amounts& say, const Ranges* ranges) {
  const Setup& u = b.setup;
  s.made_in.push_back(fmt::format("Kitchen: {}, {} m, boils at {}. {}, {}, {} of {:.0f} W.", u.kitchen.name, fixed(in_metres(u.kitchen.altitude), 0), say.temperature(u.boil),
                                  u.blender.kitchen_name, u.strainer.kitchen_name, u.hob.kitchen_name, in_watts(u.kitchen.hob_power)));
  s.made_in.push_back(fmt::format("Rules: {}, {}. curdwright {}, data {}, model {}.", word(u.kitchen.rule_set), word(u.kitchen.region), program_version, data_version, model_version));
  if (u.kitchen.learned) s.made_in.push_back(fmt::format("This kitchen has learned from {} {}.", u.kitchen.learned->batches, u.kitchen.learned->batches == 1 ? "batch" : "batches"));
  if (ranges) s.made_in.push_back(fmt::format("\"Likely\": the middle eight of ten of {} plans over what is not known.", ranges->plans));
}

}  // namespace

Sheet make_sheet(const Facts& facts, const SheetOptions& options) {
  const Batch& b = facts.batch;
  Sheet s;
  const Amounts say(options.units, b.setup.kitchen, options.publish);
  s.cautions = cautions(facts);
  const std::vector<Caution>& list = s.cautions;
  const std::vector<Task> steps = tasks(facts.timeline);
  s.title = title_of(b.setup);
  s.allergens = allergens_of(list);
  write_made_in(s, b, say, options.ranges);
  s.standing = {"Local food codes and licensed practice come first.", "All figures are estimates, not a validated process. Weigh, and trust the scale."};
  std::copy_if(list.begin(), list.end(), std::back_inserter(s.stops), [](const Caution& c) { return c.severity == Severity::stop; });
  for (Caution& c : s.stops) c.text = say.in_units(c.text);
  s.summary = summary_of(b, say);
  // Of a batch in hand they are ticked, and what is used up is not weighed out again.
  const bool in_hand = options.correction && !options.publish;
  if (!in_hand) s.ticks = ticks(b);
  write_day(s, facts.timeline, options.clock);
  s.total_time = facts.timeline.end();
  s.gets_cold = facts.timeline.cold.has_value();
  for (const Task& t : steps) s.hands_on += t.hands_on;
  write_weigh_out(s, b, in_hand ? std::optional(options.correction->done) : std::nullopt, say);
  // A pot that is told of may not be the last one.
  const auto washed_up = [&](Stage done) { return b.setup.job.cook.pots > 1 && done < Stage::chill ? std::min(done, Stage::starch) : done; };
  write_vessels(s, facts, in_hand ? std::optional(washed_up(options.correction->done)) : std::nullopt, say);
  s.settling = settling_advice(b);
  // What was told of one pot is no instruction for the milk of another.
  Batch shown = b;
  if (in_hand && b.setup.job.cook.pots > 1) shown.setup.job.cook.hold = options.correction->planned.setup.job.cook.hold;
  s.steps = write_steps({shown, facts.cooling, facts.timeline, say, list, steps, s.settling, options.ranges, options.clock});
  if (options.correction) write_correction(s, *options.correction, options, say);
  write_expect(s, b, say, options);
  s.label = nutrition(b.plan, {label_rules(b.setup.kitchen), b.setup.job.coagulate.kind != CoagulantKind::salt, options.ranges});
  s.cost = cost(b, prices_of(b.setup.kitchen));
  if (s.cost) s.costs = cost_table(*s.cost, say);
  s.nutrition = nutrition_table(s.label, say.weigh(b.plan.block));
  if (options.ranges) write_depends_on(s, b, *options.ranges);
  write_leftovers(s, b, say, list, options.correction);
  if (b.setup.recipe.want.fill.value_or(false)) write_limits(s, b, say);
  if (b.shared) s.batches = sharing_words(b, say);
  for (const Caution& c : list)
    if (c.rule == "T1" && s.stops.empty()) s.standing.push_back(c.text);
  return s;
}

}  // namespace curdwright
