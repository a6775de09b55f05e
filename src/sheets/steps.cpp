// SPDX-License-Identifier: MIT
#include "sheets/steps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/settling.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

/// Rules that the sheet says in its own place: top box, ticks, left-overs, keeping, or the action itself.
constexpr std::array<std::string_view, 14> said_elsewhere = {"H9", "K1", "L13", "H3", "H4", "H5", "K14", "T1", "G1", "G2", "G3", "G4", "G5", "K11"};

bool shown_in_step(const Caution& c) {
  if (!c.standing) return true;
  return std::find(said_elsewhere.begin(), said_elsewhere.end(), c.rule) == said_elsewhere.end();
}

const Task* task_of(const Kitchenful& k, Step step) {
  for (const Task& t : k.tasks)
    if (t.step == step) return &t;
  return nullptr;
}

/// An expected weight, with its range where there is one.
SheetAmount expected(const Kitchenful& k, Figure f, std::string what) {
  std::string note = k.ranges ? k.say.between(grams(k.ranges->of(f).low), grams(k.ranges->of(f).high)) : "";
  return {k.say.about(grams(value(k.plan(), f))), std::move(what), std::move(note)};
}

SheetStep begin(const Kitchenful& k, Step step, Stage stage, std::string verb, std::initializer_list<Stage> cautions_of) {
  SheetStep s;
  s.stage = stage;
  s.of = step;
  s.verb = std::move(verb);
  if (const Task* t = task_of(k, step)) {
    s.start = t->start, s.length = t->length, s.hands_on = t->hands_on;
    s.starts = moment(k.day_clock, t->start);
    s.takes = duration(t->length);
    if (t->hands_on.si() > 0 && t->hands_on < t->length * 0.9) s.takes += fmt::format(", hands on {}", duration(t->hands_on));
  }
  for (Stage of : cautions_of)
    for (const Caution& c : k.cautions)
      if (c.stage == of && shown_in_step(c)) {
        s.before.push_back(c);
        s.before.back().text = k.say.in_units(c.text);
      }
  return s;
}

/// While it is raw, at every step where hands are in it.
void warn_of_raw_poison(const Kitchenful& k, SheetStep& step) {
  if (k.setup().any(Hazard::kidney_lectin)) step.before.push_back({"P17", Severity::warn, step.stage, true, "Raw, these beans are poisonous: taste nothing, and wash hands and board."});
}

/// A caution of another stage whose hazard is here already.
void warn_here_too(const Kitchenful& k, SheetStep& step, std::string_view rule) {
  for (const Caution& c : k.cautions)
    if (c.rule == rule) {
      step.before.push_back(c);
      step.before.back().text = k.say.in_units(c.text);
    }
}

std::string many(int n, std::string_view one, std::string_view more) { return fmt::format("{} {}", n, n == 1 ? one : more); }

/// "12 g salt and 5 g sesame oil": what goes in at a stage, empty when there is nothing.
std::string extras_here(const Kitchenful& k, Stage stage) {
  std::vector<std::string> each;
  for (std::size_t i = 0; i < k.job().extra_count; ++i)
    if (k.job().extras[i].stage == stage) each.push_back(fmt::format("{} {}", extra_amount(k.batch, i, k.say), k.setup().extras[i].extra.kitchen_name));
  std::string all;
  for (std::size_t i = 0; i < each.size(); ++i) all += (i == 0 ? "" : i + 1 == each.size() ? " and " : ", ") + each[i];
  return all;
}

/// ", shared out over 2 pots", or nothing for one.
std::string shared_out(int n, std::string_view over) { return n > 1 ? fmt::format(", shared out over {} {}", n, over) : ""; }

SheetStep soak_step(const Kitchenful& k) {
  const SoakSettings& s = k.job().soak;
  SheetStep step = begin(k, Step::sort_and_soak, Stage::soak, "Sort and soak", {Stage::soak});
  for (std::size_t i = 0; i < k.setup().legumes.size(); ++i)
    step.amounts.push_back({k.say.weigh(k.plan().dry * k.job().seeds[i].share), "dry " + k.setup().legumes[i].kitchen_name, ""});
  step.amounts.push_back({k.say.water(k.plan().dry * s.water_to_dry), fmt::format("water at {}", k.say.temperature(s.water_at)), ""});
  step.actions.push_back("Weigh after picking out stones and damaged seed. Rinse.");
  const std::string where = s.surroundings <= celsius(8) ? "in the fridge" : fmt::format("on the counter, at {} round it", k.say.temperature(s.surroundings));
  step.actions.push_back(fmt::format("Cover with the water in a vessel of at least {} and soak {} {}.", k.say.volume(soak_vessel(k.plan(), s.changes)), duration(s.time), where));
  if (const std::string extras = extras_here(k, Stage::soak); !extras.empty())
    step.actions.push_back(fmt::format("Stir {} into the soak water{}.", extras, shared_out(s.changes + 1, "fillings")));
  if (s.changes > 0) step.actions.push_back(fmt::format("Pour the water off and renew it {} on the way.", many(s.changes, "time", "times")));
  const bool split = k.setup().legumes[0].form == SeedForm::split;
  step.ready = split ? "A piece snaps clean, without a chalky line inside." : "Cut a seed: one colour right through, no dry or hollow core.";
  step.if_not = "Still chalky inside: two to four hours more, cold.";
  return step;
}

SheetStep drain_step(const Kitchenful& k) {
  SheetStep step = begin(k, Step::drain, Stage::soak, "Drain", {});
  step.actions.push_back("Pour the soak water away. Rinse, and let it drip two minutes.");
  if (k.job().soak.skins_off) step.actions.push_back("Rub the skins off in water and skim them away.");
  step.expected.push_back(expected(k, Figure::soaked_mass, "soaked and drained"));
  return step;
}

SheetStep blend_step(const Kitchenful& k) {
  const BlendSettings& b = k.job().blend;
  SheetStep step = begin(k, Step::blend, Stage::blend, "Blend", {Stage::blend});
  warn_of_raw_poison(k, step);
  const double jars = b.jarfuls;
  step.amounts.push_back({k.say.about(k.plan().soaked.mass() / jars), "soaked " + seed_name(k.setup()), b.jarfuls > 1 ? "each jarful" : ""});
  step.amounts.push_back({k.say.water(kilograms(k.plan().water.grinding_kg / jars)), fmt::format("water at {}", k.say.temperature(b.water_at)),
                          b.jarfuls > 1 ? "each jarful" : ""});
  step.amounts.push_back({duration(b.time), "blending", b.jarfuls > 1 ? "each jarful" : ""});
  step.actions.push_back(b.jarfuls > 1 ? fmt::format("{} jarfuls, all alike: share the soaked {} out by weight, add the water, blend.", b.jarfuls, seed_name(k.setup()))
                                       : "One jarful: all the soaked seed, all the water, blend.");
  if (const std::string extras = extras_here(k, Stage::blend); !extras.empty())
    step.actions.push_back(fmt::format("Blend in {}{}.", extras, shared_out(b.jarfuls, "jarfuls")));
  step.ready = "Rub a pinch between two fingers: smooth, no bits.";
  step.if_not = "Bits: blend the jarful again, as long as before.";
  return step;
}

SheetStep strain_step(const Kitchenful& k) {
  SheetStep step = begin(k, Step::strain, Stage::strain, "Strain", {Stage::strain});
  const StrainSettings& s = k.job().strain;
  step.actions.push_back("Pour the ground beans into the wet cloth over a bucket.");
  step.actions.push_back(k.setup().strainer.how);
  for (std::size_t i = 0; i < s.wash_count; ++i) {
    step.amounts.push_back({k.say.water(k.plan().dry * s.washes[i].water_to_dry), "wash water", s.wash_count > 1 ? fmt::format("washing {}", i + 1) : ""});
    step.actions.push_back(s.washes[i].blend.si() > 0 ? fmt::format("Blend the pulp with the wash water for {} and squeeze again into the same bucket.", duration(s.washes[i].blend))
                                                      : "Stir the wash water into the pulp, wait five minutes, and squeeze again into the same bucket.");
  }
  step.actions.push_back(k.setup().any(Hazard::kidney_lectin) ? "Pulp into a lidded tub, labelled \"RAW BEAN, POISONOUS: boil hard 30 min, or bin\", into the fridge now."
                                          : "Pulp into a lidded tub, labelled \"raw, cook first\", into the fridge now.");
  step.ready = "The pulp is fine, clumps in the fist and crumbles when rubbed.";
  step.if_not = fmt::format("Bits in the pulp: back into the jar with {} of water for each jarful, and strain again. A cloth that blocks: scrape it and rinse it.", k.say.water(grams(200)));
  step.expected.push_back(expected(k, Figure::pulp_mass, "pulp"));
  step.expected.push_back(expected(k, Figure::milk_mass, "milk"));
  return step;
}

void write_gel(const Kitchenful& k, SheetStep& step) {
  step.actions.push_back(fmt::format("Warm the milk gently, stirring the floor of the pot, to {}; keep it there two minutes until it thickens.", k.say.temperature(k.job().starch.gel_at)));
  step.actions.push_back("Strain the gel off through a coarse cloth while it is warm; gloves, and do not force it. Threads cling to the spoon, thin milk runs through.");
}

/// How long is long enough, in this vessel.
std::string settling_words(const SettlingAdvice& a) {
  const auto after = [](const std::optional<Duration>& d) { return d ? duration(*d) : std::string("more than two days"); };
  return fmt::format("Of what can settle, {} % is down by then. 90 % takes {} and 95 % takes {}; past {} waiting gains next to nothing.", fixed(100 * a.planned, 0), after(a.ninety),
                     after(a.ninety_five), after(a.enough));
}

SheetStep starch_step(const Kitchenful& k) {
  const StarchSettings& s = k.job().starch;
  const bool settles = s.settles();
  SheetStep step = begin(k, Step::settle, Stage::starch, settles ? "Let the starch settle" : "Thicken and strain the starch", {Stage::starch});
  warn_of_raw_poison(k, step);
  if (settles) {
    const std::string depth = k.say.length(k.plan().destarched.depth);
    step.amounts.push_back({duration(s.time), s.times > 1 ? fmt::format("standing, {} times", s.times) : "standing", ""});
    step.amounts.push_back({depth, "deep", s.vessels > 1 ? fmt::format("in {} vessels", s.vessels) : "in one vessel"});
    step.actions.push_back(fmt::format("Let the milk stand {}; do not move it.", s.surroundings <= celsius(8) ? "in the fridge" : "at room temperature"));
    if (k.settling) step.actions.push_back(settling_words(*k.settling));
    step.actions.push_back("Ladle from the top. Stop at the first white swirls: the last cloudy milk stays behind with the starch. Milk to the pot. Starch and cloudy milk: lid, label" + std::string(k.setup().any(Hazard::kidney_lectin) ? " \"RAW BEAN, POISONOUS\"" : "") + ", fridge.");
    if (s.times > 1) step.actions.push_back("Rinse the vessels and let the ladled milk settle again in the same way.");
    step.ready = "A firm white layer on the floor, milk above it of one even colour.";
    step.if_not = "No layer, or it swirls at a touch: twenty minutes more, in the fridge. Raw milk may be out of the cold two hours in all.";
    step.expected.push_back(expected(k, Figure::sediment_mass, "starch layer"));
  }
  if (s.strains_gel()) {
    write_gel(k, step);
    if (!settles) step.ready = "Thick threads that cling to the spoon, and thin milk through the cloth.";
    if (!settles) step.if_not = "The cloth clogs: scrape it, and pour less at a time.";
    step.expected.push_back({k.say.about(k.plan().destarched.gel.mass()), "starch gel", ""});
  }
  step.expected.push_back(expected(k, Figure::settled_milk_mass, "milk into the pot"));
  return step;
}

/// Which pot, and how full at most.
std::string pot_words(const Kitchenful& k) {
  return fmt::format("Use the {} of {}, never more than half full", text::harmless(k.setup().pot.name), k.say.volume(k.setup().pot.volume));
}

/// Of one pot; milk that was warmed for its gel has part of it behind it.
Duration heating(const Kitchenful& k) {
  Duration sum;
  for (const Operation& o : k.timeline.operations)
    if (o.step == Step::cook && o.load <= 1 && o.what.starts_with("heat")) sum += o.length;
  return sum.si() > 0 ? sum : k.plan().cooked.heat_up;
}

SheetStep cook_step(const Kitchenful& k) {
  const CookSettings& c = k.job().cook;
  // A caution of the starch that has no step of its own belongs to the next.
  const bool no_starch_step = k.job().starch.remove == StarchRemoval::none;
  SheetStep step = no_starch_step ? begin(k, Step::cook, Stage::cook, "Cook the milk", {Stage::starch, Stage::cook}) : begin(k, Step::cook, Stage::cook, "Cook the milk", {Stage::cook});
  const bool hard = k.setup().any(Hazard::kidney_lectin);
  const std::string_view boiling = hard ? "boil" : "simmer";
  step.amounts.push_back({duration(c.hold), hard ? "at a full rolling boil" : "at a full simmer", fmt::format("{} here", k.say.temperature(c.boil))});
  if (c.pots > 1) {
    step.amounts.push_back({k.say.about(k.plan().destarched.milk.mass() / c.pots), "milk in each pot", fmt::format("{} pots or rounds", c.pots)});
    step.actions.push_back(k.timeline.pots_at_once == 1
                               ? "One pot only: take each round through cooking and setting before the next, and keep set curd covered at 63 °C or hotter."
                               : fmt::format("{} pots take turns on the ring: while one cools and sets, the next heats.", k.timeline.pots_at_once));
    step.actions.push_back(fmt::format("The milk that waits: in shallow tubs in ice water until it is under {}, then lidded in the fridge.", k.say.temperature(celsius(5))));
  }
  if (const std::string extras = extras_here(k, Stage::cook); !extras.empty()) step.actions.push_back(fmt::format("Stir {} into the milk{}.", extras, shared_out(c.pots, "pots")));
  step.actions.push_back(fmt::format("{}. Heat, stirring along the floor; gently above {}. About {} to the {}.",
                                     pot_words(k), k.say.temperature(celsius(65)), duration(heating(k)), boiling));
  step.actions.push_back(hard ? fmt::format("Skim the foam. Time from a full rolling boil, not from the first foam; probe the middle of the pot: {} or more at the start and at the end.", k.say.temperature(celsius(98)))
                              : std::string("Skim the foam. Time from a full simmer, not from the first foam; probe the middle of the pot."));
  const Pot& pot = k.setup().pot;
  if (pot.tare.si() > 0) step.actions.push_back(fmt::format("The {} weighs {} empty.", text::harmless(pot.name), k.say.weigh(pot.tare)));
  step.ready = hard ? fmt::format("{} on the timer, {} or more at its start and at its end. A good smell proves nothing.", duration(c.hold), k.say.temperature(celsius(98))) : std::string("The raw, green smell is gone and the foam has fallen back.");
  step.if_not = "Still green: five minutes more. Scorched: do not scrape; pour into a clean pot.";
  step.expected.push_back(expected(k, Figure::cooked_milk_mass, "cooked milk"));
  return step;
}

void write_pour(const Kitchenful& k, SheetStep& step) {
  const std::string at = k.say.temperature(k.job().coagulate.at);
  const int pots = k.job().coagulate.pots;
  const std::string poured = k.say.about(mix_to_pour(k.batch) / pots) + (pots > 1 ? " of the mix for each pot" : " of the mix");
  const bool wisps = std::none_of(k.setup().legumes.begin(), k.setup().legumes.end(), [](const Legume& l) { return l.kind == SeedKind::soy; });
  switch (k.setup().coagulant.pour) {
    case PourWay::at_once:
      step.actions.push_back(fmt::format("Milk at {}, probed in the middle. Stir the mix up again, stir the milk once round, pour in {} in one go, two slow turns{}.", at, poured, wisps ? ", then very gently for two minutes, for this legume sets in fine wisps; stop" : ", stop"));
      break;
    case PourWay::thirds:
      step.actions.push_back(fmt::format("Milk at {}, probed in the middle. Pour {} over a ladle in thirds, a minute apart, one slow turn after each{}.", at, poured, wisps ? "; then very gently for two minutes, for this legume sets in fine wisps" : ""));
      break;
    case PourWay::drizzle:
      step.actions.push_back(fmt::format("Milk at {}, probed in the middle. Drizzle in {} a little at a time over five minutes, stirring slowly; stop when the milk breaks.", at, poured));
      break;
    case PourWay::mix_cold:
      step.actions.push_back(fmt::format("Chill the cooked milk under {} in ice water, about half an hour.", k.say.temperature(celsius(15))));
      step.actions.push_back(fmt::format("Only then stir the {} into its water, and at once into the milk: it turns sour standing. Fill watertight tubs.", k.setup().coagulant.kitchen_name));
      step.actions.push_back("Meanwhile boil the press cloths and moulds five minutes in another pan.");
      step.actions.push_back(fmt::format("Warm the filled tubs in a water bath to {}, about half an hour, and hold {}.", at, duration(k.job().coagulate.wait)));
      return;
  }
  step.actions.push_back(fmt::format("Lid on, {} without touching. Meanwhile make the chilling ready.", duration(k.job().coagulate.wait)));
}

/// The milk on its way from the boil to the pour.
std::string cooling_words(const Kitchenful& k) {
  const auto pieces = k.plan().set.history.pieces();
  const Duration wait = pieces.size() > 1 ? pieces[0].length : seconds(0);
  std::string words = wait > minutes(2) ? fmt::format("Off the heat, lid off, stir now and then: about {} to {}.", duration(wait), k.say.temperature(k.job().coagulate.at)) : std::string("Off the heat.");
  words += " Meanwhile boil the press cloths, moulds and ladle five minutes in another pan.";
  return words + fmt::format(" The mix will cool it to about {}.", k.say.temperature(k.plan().set.after_pouring));
}

SheetStep set_step(const Kitchenful& k) {
  const CoagulateSettings& c = k.job().coagulate;
  SheetStep step = begin(k, Step::set, Stage::coagulate, "Set the curd", {Stage::coagulate});
  warn_here_too(k, step, "K7");
  const std::string pots = c.pots > 1 ? fmt::format("one jug for all {} pots; stir it up each time", c.pots) : "";
  step.amounts.push_back({k.say.weigh_fine(coagulant_made_up(k.batch), k.setup().coagulant.teaspoon.value), k.setup().coagulant.kitchen_name, pots});
  step.amounts.push_back({k.say.water(mix_water(k.batch)), "water to stir it into", ""});
  if (c.kind != CoagulantKind::lactone) {
    step.actions.push_back(cooling_words(k));
    step.actions.push_back(fmt::format("Stir the {} into its water{}.", k.setup().coagulant.kitchen_name, c.make_up > 1.01 ? ", and label the jug" : ""));
  }
  if (c.make_up > 1.01)
    step.actions.push_back(fmt::format("That is {:.2g} times the dose. {} is poured; the rest is kept back.", c.make_up, k.say.about(mix_to_pour(k.batch)) + (c.pots > 1 ? " in all" : "")));
  if (const std::string extras = extras_here(k, Stage::coagulate); !extras.empty())
    step.actions.push_back(fmt::format("Stir {} into the cooked milk{}.", extras, shared_out(c.pots, "pots")));
  write_pour(k, step);
  if (c.make_up > 1.01) step.actions.push_back(fmt::format("When the whey is clear{}, the kept-back mix: lid and label, fridge.", c.pots > 1 ? " in every pot" : ""));
  step.ready = c.kind == CoagulantKind::lactone ? "A smooth, shaking gel that leaves the side of the mould." : "Curds in clear, pale whey.";
  step.if_not = c.kind == CoagulantKind::lactone
                    ? "Still liquid: warm it a little more and wait ten minutes."
                    : fmt::format("Milky whey: {} more of the mix{} over the cloudy places, wait five minutes. Stop when the whey is clear.", k.say.about(mix_to_pour(k.batch) * (0.25 / c.pots)), c.pots > 1 ? " in each pot" : "");
  return step;
}

void write_moulding(const Kitchenful& k, SheetStep& step) {
  if (k.job().coagulate.kind == CoagulantKind::lactone) {
    step.actions.push_back("Lay boiled cloth on the gel in its tub, turn it over into a lined mould, and let it run ten minutes.");
    step.actions.push_back(fmt::format("Lid on. About {} for five minutes, then all of it.", k.say.about(press_weight(k.job().press) / 3)));
  } else if (k.job().press.moisture) {
    step.actions.push_back("Line the moulds with boiled cloth, ladle the curd in, draw it back from the cloth and let it run.");
    step.actions.push_back(fmt::format("Press lightly for five minutes, then with {} or more; weigh a block after half an hour, then every quarter, and stop when it has its weight.", k.say.about(press_weight(k.job().press))));
  } else {
    step.actions.push_back("Line the moulds with boiled cloth, ladle the curd in, draw it back from the cloth and let it run ten minutes.");
    step.actions.push_back(fmt::format("Fold the cloth over, lid on. About {} for five minutes, then all of it.", k.say.about(press_weight(k.job().press) / 3)));
  }
}

SheetStep press_step(const Kitchenful& k) {
  const PressSettings& s = k.job().press;
  SheetStep step = begin(k, Step::press, Stage::press, "Drain and press", {Stage::press});
  const double blocks = std::max(1e-9, value(k.plan(), Figure::blocks));
  step.amounts.push_back({k.say.about(kilograms(k.plan().pressed.drained_kg / blocks)), "drained curd in each mould", fmt::format("{} by {}", k.say.length(s.mould_length), k.say.length(s.mould_width))});
  if (s.moisture) {
    step.amounts.push_back({k.say.about(s.block), "is a finished block", fmt::format("{} % water", fixed(100 * *s.moisture, 1))});
  } else {
    step.amounts.push_back({k.say.about(press_weight(k.job().press)), "on each block", fmt::format("{} kPa", fixed(in_kilopascals(s.pressure), 1))});
    step.amounts.push_back({duration(s.time), k.setup().press_surroundings <= celsius(8) ? "in the press, in the fridge" : "in the press", ""});
  }
  write_moulding(k, step);
  // The curd has run off by then, so that no more whey takes it away.
  if (const std::string extras = extras_here(k, Stage::press); !extras.empty())
    step.actions.insert(step.actions.begin() + 1, k.job().coagulate.kind == CoagulantKind::lactone
                                                      ? fmt::format("Spread {} over the gel{}.", extras, shared_out(k.batch.blocks_to_press, "blocks"))
                                                      : fmt::format("Fold {} through the curd{}.", extras, shared_out(k.batch.blocks_to_press, "moulds")));
  if (k.batch.press_rounds > 1) step.actions.push_back(fmt::format("{} moulds at a time: {} fillings. Keep the waiting curd covered in whey at 63 °C or hotter, and chill each block as it leaves the press.", k.setup().kitchen.moulds, k.timeline.fillings));
  step.ready = fmt::format("Whey has stopped running; the block is about {} high and springs back.", k.say.length(k.plan().pressed.block_height));
  step.if_not = "Wet and soft: as long again. Crumbles at the edge: less weight, longer.";
  step.expected.push_back(expected(k, Figure::curd_mass, "pressed curd"));
  return step;
}

std::string chill_way(const Kitchenful& k) {
  const Equipment& c = k.setup().chill;
  if (c.ice_water) return "Unmould under cold drinking water, bag the blocks and lay them in stirred ice water. Keep ice floating.";
  return fmt::format("Unmould and lay the blocks apart, open, {}.", c.kitchen_name.starts_with("in ") ? c.kitchen_name : "in the " + c.kitchen_name);
}

SheetStep chill_step(const Kitchenful& k) {
  SheetStep step = begin(k, Step::chill, Stage::chill, "Chill", {Stage::chill});
  const Cooling& c = k.cooling;
  const CoolingLimits limits = cooling_limits(k.setup().kitchen);
  const Task* press = task_of(k, Step::press);
  const Duration laid = press ? press->start + press->length - k.job().press.time : seconds(0);  // of the last filling
  step.actions.push_back(chill_way(k));
  const auto by = [&](const std::optional<Duration>& when, Temperature level) {
    return when ? fmt::format("under {} by {}", k.say.temperature(level), moment(k.day_clock, laid + *when)) : fmt::format("under {}: never in this medium", k.say.temperature(level));
  };
  const bool two = limits.second < limits.first;
  step.actions.push_back(fmt::format("Probe the thickest place{}. Expect {}{}.", k.timeline.fillings > 1 ? " of the last filling" : "", by(c.under_first, limits.first), two ? ", " + by(c.under_second, limits.second) : ""));
  step.actions.push_back(fmt::format("Limit: from {} under {} within {}{}. Past that, throw it out.", k.say.temperature(limits.from), k.say.temperature(limits.first), duration(limits.first_within),
                                     two ? fmt::format(", under {} within {}", k.say.temperature(limits.second), duration(limits.second_within)) : ""));
  const int day = last_day(k.batch);
  const Temperature keep = k.setup().recipe.store.at.value_or(k.setup().kitchen.fridge);
  step.actions.push_back(day > 1 ? fmt::format("Keep at {} or colder. Label it: what, made, use by. The day you cook is day 1: eat or freeze by day {}.", k.say.temperature(std::max(keep, celsius(4))), day)
                                 : std::string("This fridge is too warm to keep curd: eat it on the day."));
  step.ready = "Cold right through.";
  step.if_not = c.mend.empty() ? (k.setup().chill.ice_water ? "Still warm: more ice, stir, thinner pieces." : "Still warm: into ice water now.") : fmt::format("To meet the cooling clock: {}.", c.mend);
  step.expected.push_back(expected(k, Figure::stored_mass, "after a day (it drips)"));
  return step;
}

}  // namespace

std::string seed_name(const Setup& s) { return s.legumes.size() == 1 ? s.legumes[0].kitchen_name : "beans"; }

Volume soak_vessel(const Plan& p, int changes) {
  constexpr double headroom = 1.2;
  const double seed = p.seed.of.total_kg() / in_kilograms_per_cubic_metre(mixture_density(p.seed.of, celsius(20)));
  return Volume::from_si((seed + p.soak_water_in.of.total_kg() / (1 + changes) / 998.0) * headroom);
}

Mass mix_to_pour(const Batch& b) { return b.plan.set.mix.mass(); }
Mass extra_mass(const Batch& b, std::size_t i) { return b.setup.job.extras[i].mass(b.plan.dry); }
std::string extra_amount(const Batch& b, std::size_t i, const Amounts& say) {
  const auto& spoon = b.setup.extras[i].extra.teaspoon;
  return spoon ? say.weigh_fine(extra_mass(b, i), spoon->value) : say.grams_fine(extra_mass(b, i));
}

std::vector<SheetStep> write_steps(const Kitchenful& k) {
  std::vector<SheetStep> steps = {soak_step(k), drain_step(k), blend_step(k), strain_step(k)};
  if (k.job().starch.remove != StarchRemoval::none) steps.push_back(starch_step(k));
  for (auto* write : {cook_step, set_step, press_step, chill_step}) steps.push_back(write(k));
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i].number = static_cast<int>(i) + 1;
  return steps;
}

}  // namespace curdwright::sheets
