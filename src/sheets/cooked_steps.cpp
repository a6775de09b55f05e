// SPDX-License-Identifier: MIT
// The steps from the pot to the cold block.
#include <fmt/format.h>

#include <algorithm>

#include "sheets/shares.hpp"
#include "sheets/step_parts.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

constexpr Temperature hot_hold = celsius(63);

/// Of one pot; milk that was warmed for its gel has part of it behind it.
Duration heating(const Kitchenful& k) {
  Duration sum;
  for (const Operation& o : k.timeline.operations)
    if ((o.work == Work::heat || o.work == Work::heat_and_stir) && o.load <= 1) sum += o.length;
  return sum.si() > 0 ? sum : k.plan().cooked.heat_up;
}

/// Boiling milk is weighed in its pot, or not at all where pot and milk are more than the scale takes.
bool weighed_hot(const Kitchenful& k) {
  constexpr Mass usual_pot = kilograms(2.5);  // judgement, where the kitchen does not tell
  const Pot& pot = k.setup().pot;
  return k.plan().cooked.milk.mass() / k.job().cook.pots + (pot.tare.si() > 0 ? pot.tare : usual_pot) <= k.setup().kitchen.coarse_scale.capacity;
}

std::string weighing_hot(const Kitchenful& k) {
  const Pot& pot = k.setup().pot;
  return "Weigh it in the pot, two people and dry gloves, or leave it out: a folded cloth on the scale, the scale to zero, then the hot pot." + (pot.tare.si() > 0 ? fmt::format(" The {} weighs {} empty.", text::harmless(pot.name), k.say.weigh(pot.tare)) : "");
}

/// Where the time begins, how it is held, and when it is done.
void write_boil(const Kitchenful& k, Boil boil, SheetStep& step) {
  const std::string time = duration(k.job().cook.hold), hottest = k.say.no_less_than(celsius(98));
  const std::string skim = fmt::format("Skim the foam{}. Time from a {}, not from the first foam", boil == Boil::rolling ? " into the bin: it is raw" : "", word(boil));
  switch (boil) {
    case Boil::rolling:
      step.actions.push_back(fmt::format("{}; probe the middle of the pot: {} or more at the start and at the end.", skim, hottest));
      step.ready = fmt::format("{} on the timer, {} or more at its start and at its end. A good smell proves nothing.", time, hottest);
      step.if_not = "The boil stopped, or the probe showed less: back to a full rolling boil, and the whole time again.";
      return;
    case Boil::uncovered:
      step.actions.push_back(skim + "; probe the middle of the pot.");
      step.ready = time + " on the timer, boiling hard and lid off all the while. A good smell proves nothing.";
      step.if_not = "The boil stopped, or the lid was on: back to a hard boil, lid off, and the whole time again.";
      return;
    case Boil::simmer:
      step.actions.push_back(skim + "; probe the middle of the pot.");
      step.ready = "The raw, green smell is gone and the foam has fallen back.";
      step.if_not = "Still green: five minutes more.";
  }
}

}  // namespace

SheetStep cook_step(const Kitchenful& k) {
  const CookSettings& c = k.job().cook;
  // A caution of the starch that has no step of its own belongs to the next.
  const bool no_starch_step = k.job().starch.remove == StarchRemoval::none;
  SheetStep step = no_starch_step ? begin(k, Step::cook, Stage::cook, "Cook the milk", {Stage::starch, Stage::cook}) : begin(k, Step::cook, Stage::cook, "Cook the milk", {Stage::cook});
  const Boil boil = boil_of(k.setup().legumes);
  step.amounts.push_back({duration(c.hold), fmt::format("at a {}", word(boil)), fmt::format("{} here", k.say.temperature(c.boil))});
  if (c.pots > 1) {
    step.amounts.push_back({k.say.about(k.plan().destarched.milk.mass() / c.pots), "milk in each pot", fmt::format("{} pots or rounds", c.pots)});
    step.actions.push_back(k.timeline.pots_at_once == 1
                               ? std::string("One pot only: take each round through cooking, setting and moulding before the next.")
                               : fmt::format("{} pots take turns on the ring: while one cools and sets, the next heats.", k.timeline.pots_at_once));
    step.actions.push_back(fmt::format("The milk that waits: in shallow tubs in ice water until it is under {}, then lidded in the fridge, labelled \"{}\".", k.say.temperature(celsius(5)), raw_label(k)));
  }
  if (weighed_hot(k) && k.setup().pot.tare.si() == 0) step.actions.push_back("Weigh the pot empty: ______");
  step.actions.push_back(fmt::format("{} the {} of {}.", k.job().starch.strains_gel() && c.pots == 1 ? "The milk is in" : "Milk into", text::harmless(k.setup().pot.name), k.say.volume(k.setup().pot.volume)));
  if (const std::string extras = extras_here(k, Stage::cook); !extras.empty()) step.actions.push_back(fmt::format("Stir {} into the milk{}.", extras, shared_out(c.pots, "pots")));
  step.actions.push_back(fmt::format("Heat, stirring along the bottom; gently above {}. About {} to the {}.", k.say.temperature(celsius(65)), duration(heating(k)), boil == Boil::simmer ? "simmer" : "boil"));
  write_boil(k, boil, step);
  if (weighed_hot(k)) step.actions.push_back(weighing_hot(k));
  step.if_not += " Scorched: do not scrape; pour into a clean pot.";
  if (weighed_hot(k)) {
    step.expected.push_back(expected(k, Figure::cooked_milk_mass, c.pots > 1 ? "cooked milk, the pots added up" : "cooked milk"));
    step.expected.back().times = std::max(step.expected.back().times, c.pots);
  }
  return step;
}

namespace {

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
      step.actions.push_back(fmt::format("Chill the cooked milk under {} in ice water, half an hour or more.", k.say.temperature(celsius(15))));
      step.actions.push_back(fmt::format("Only then stir the {} into its water, and at once into the milk: it turns sour standing. Fill {}.", k.setup().coagulant.kitchen_name, tubs_words(k.batch, k.say)));
      step.actions.push_back("Meanwhile boil the press cloths and moulds five minutes in another pan.");
      step.actions.push_back(fmt::format("Warm the filled tubs in a water bath to {}, about half an hour, and hold {}.", at, duration(k.job().coagulate.wait)));
      return;
  }
  step.actions.push_back(fmt::format("Lid on, {} without touching. Meanwhile make the {} ready.", duration(k.job().coagulate.wait), k.setup().chill.ice_water ? "ice water" : "place to chill in"));
}

/// The milk on its way from the boil to the pour.
std::string cooling_words(const Kitchenful& k) {
  const auto pieces = k.plan().set.history.pieces();
  const Duration wait = pieces.size() > 1 ? pieces[0].length : seconds(0);
  std::string words = wait > minutes(2) ? fmt::format("Off the heat, lid off, stir now and then: about {} to {}.", duration(wait), k.say.temperature(k.job().coagulate.at)) : std::string("Off the heat.");
  words += " Meanwhile boil the press cloths, moulds and ladle five minutes in another pan.";
  return words;
}

/// What to make ready of the coagulant, and how much of it to pour.
void write_mix(const Kitchenful& k, SheetStep& step) {
  const CoagulateSettings& c = k.job().coagulate;
  const bool more = c.make_up > 1.01;
  step.actions.push_back(fmt::format("Stir the {} into the water{}.", k.setup().coagulant.kitchen_name, more ? ", and label the jug" : ""));
  if (more)
    step.actions.push_back(fmt::format("That is {:.2g} times the dose: stir it up, weigh off {}{} to pour ({} of {} in it), and keep the rest back.", c.make_up, k.say.about(mix_to_pour(k.batch) / c.pots), c.pots > 1 ? " for each pot" : "",
                                       k.say.grams_fine(kilograms(k.plan().set.dose.used_kg / c.pots)), k.setup().coagulant.kitchen_name));
}

}  // namespace

// Common practice, no published source.
bool whey_clears(const Setup& s) {
  return std::all_of(s.legumes.begin(), s.legumes.end(), [](const Legume& l) { return l.kind == SeedKind::soy; });
}

std::string more_coagulant(const Batch& b, Mass dry, Mass in_jug, const Amounts& say) {
  const double water = b.setup.job.coagulate.mix_water_kg_kg;
  if (const Mass mix = dry * (1 + water); in_jug >= mix * 0.98) return fmt::format("{} more of the mix", say.about(mix));
  return fmt::format("stir {} more {} into {} of water, and pour it", say.weigh_fine(dry, b.setup.coagulant.teaspoon.value), b.setup.coagulant.kitchen_name, say.about(dry * water));
}

std::string milky_words(const Batch& b, Mass in_jug, const Amounts& say) {
  const CoagulateSettings& c = b.setup.job.coagulate;
  const bool clears = whey_clears(b.setup);
  const Mass quarter = kilograms(b.plan.set.dose.used_kg) * (0.25 / c.pots), mix = quarter * (1 + c.mix_water_kg_kg), in_turn = in_jug / c.pots;
  const std::string_view often = in_turn >= mix * 0.98 && in_turn < mix * 1.9 ? "once, for the jug holds no more" : "twice at most";
  return fmt::format("{} whey: {}{} over the cloudy places, wait five minutes; {}.{}", clears ? "Milky" : "Still milk-white", more_coagulant(b, quarter, in_turn, say), c.pots > 1 ? " in each pot" : "", often, clears ? " Stop when the whey is clear." : "");
}

SheetStep set_step(const Kitchenful& k) {
  const CoagulateSettings& c = k.job().coagulate;
  SheetStep step = begin(k, Step::set, Stage::coagulate, "Set the curd", {Stage::coagulate});
  warn_here_too(k, step, "K7");
  const bool lactone = c.kind == CoagulantKind::lactone;
  const std::string pots = c.pots > 1 && lactone ? fmt::format("{} for each pot, made up fresh for each: it turns sour standing", k.say.weigh_fine(coagulant_made_up(k.batch) / c.pots, k.setup().coagulant.teaspoon.value)) : c.pots > 1 ? fmt::format("one jug for {} pots; stir it up each time", c.pots == 2 ? std::string("both") : fmt::format("all {}", c.pots)) : "";
  step.amounts.push_back({k.say.weigh_fine(coagulant_made_up(k.batch), k.setup().coagulant.teaspoon.value), k.setup().coagulant.kitchen_name, pots});
  step.amounts.push_back({k.say.water(mix_water(k.batch)), "water to stir it into", c.pots > 1 && lactone ? fmt::format("{} for each pot", k.say.water(mix_water(k.batch) / c.pots)) : ""});
  if (c.kind != CoagulantKind::lactone) {
    step.actions.push_back(cooling_words(k));
    write_mix(k, step);
  }
  if (const std::string extras = extras_here(k, Stage::coagulate); !extras.empty())
    step.actions.push_back(fmt::format("Stir {} into the cooked milk{}.", extras, shared_out(c.pots, "pots")));
  write_pour(k, step);
  if (c.make_up > 1.01) step.actions.push_back(fmt::format("When {}{}, the kept-back mix: lid and label, fridge.", whey_clears(k.setup()) ? "the whey is clear" : "the curds stand apart", c.pots > 1 ? " in every pot" : ""));
  step.ready = lactone ? "A smooth, shaking gel that leaves the side of the tub." : fmt::format("{}, at about {}.", whey_clears(k.setup()) ? "Curds in clear, pale whey" : "Curds that stand apart; the whey between them is pale, no longer white as milk, but not clear", k.say.temperature(k.plan().set.after_pouring));
  step.if_not = lactone ? "Still liquid: warm it a little more and wait ten minutes." : milky_words(k.batch, mix_kept_back(k.batch), k.say);
  return step;
}

namespace {

/// A press is told by what its plate does, not by what hangs on its arm.
std::string plate_words(const Kitchenful& k) {
  const std::string& press = k.setup().press.id;
  const bool lever = press == "lever-press";
  if (!lever && press != "screw-press") return "";
  // A piece that is lower than the blocks beside it would not feel the plate.
  const int blocks = std::min(largest_filling(k.batch, k.timeline), block_shares(k.batch, grams(1)).whole);
  const bool end_piece = block_shares(k.batch, grams(1)).last.si() > 0;
  const std::string over_all = blocks > 1 ? fmt::format(" on one block, {} with {} blocks of one height under it{}", k.say.load(press_weight(k.job().press) * blocks), blocks, end_piece ? ", the lower end piece by itself" : "") : "";
  return fmt::format("; the plate's push{}{}", over_all, lever ? ": on the arm hang that divided by the arm's ratio" : "");
}

void write_moulding(const Kitchenful& k, SheetStep& step) {
  if (k.job().coagulate.kind == CoagulantKind::lactone) {
    step.actions.push_back("Lay boiled cloth on the gel in its tub, turn it over into a lined mould on a rack over a tray, and let it run ten minutes.");
  } else {
    step.actions.push_back("Line the moulds with boiled cloth and stand them on a rack over a tray. Ladle off the whey, then the curd into the moulds; draw it back from the cloth and let it run ten minutes.");
  }
  if (k.job().press.moisture) {
    const CoolingLimits limits = cooling_limits(k.setup().kitchen);
    step.actions.push_back(fmt::format("Fold the cloth over, lid on. Press lightly for five minutes, then with {} or more{}; weigh a block after half an hour, then every quarter of an hour, and stop when it has its weight.", k.say.load(press_weight(k.job().press)), plate_words(k)));
    step.actions.push_back(fmt::format("The middle falls under {} at ______. {} later at the latest unmould and chill it, whatever it weighs: it must be under {} within {}.", k.say.temperature(limits.from), duration(limits.first_within * 0.5), k.say.temperature(limits.first), duration(limits.first_within)));
  } else {
    step.actions.push_back("Fold the cloth over. " + k.setup().press.how);
  }
}

/// What lies on each block, and for how long.
void write_load(const Kitchenful& k, SheetStep& step) {
  const PressSettings& s = k.job().press;
  if (s.moisture) {
    step.amounts.push_back({k.say.about(s.block), "is a finished block", fmt::format("{} % water", fixed(100 * *s.moisture, 0))});
    return;
  }
  const std::string where = k.setup().press_in == Where::fridge ? ", in the fridge" : "";
  if (lies_under_its_own_weight(k.setup())) {
    step.amounts.push_back({duration(s.time), "in the mould, under its own weight" + where, ""});
    return;
  }
  step.amounts.push_back({k.say.load(press_weight(s) / 3), "on each block for the first five minutes", ""});
  step.amounts.push_back({k.say.load(press_weight(s)), "on each block from then on", fmt::format("{}{}", k.say.pressure(s.pressure), plate_words(k))});
  step.amounts.push_back({duration(s.time), "in the press" + where, ""});
}

/// When the middle gets to where the cooling clock begins.
std::string pressing_record(const Kitchenful& k) {
  const std::string from = k.say.temperature(cooling_limits(k.setup().kitchen).from);
  if (k.timeline.fillings == 1) return fmt::format("For the record: probe the middle of a block as it is moulded and as it leaves the press; under {} at ______.", from);
  return fmt::format("For the record: probe the middle of a block of each filling as it is moulded and as it leaves the press. When it falls under {} is written down with the chilling.", from);
}

}  // namespace

SheetStep press_step(const Kitchenful& k) {
  const PressSettings& s = k.job().press;
  SheetStep step = begin(k, Step::press, Stage::press, "Drain and press", {Stage::press});
  const BlockShares moulds = block_shares(k.batch, kilograms(k.plan().pressed.drained_kg));
  const std::string last = moulds.last.si() > 0 ? fmt::format("; the last takes the rest, about {}", k.say.about(moulds.last)) : moulds.uneven ? "; share what each pot gives evenly over its moulds" : "";
  step.amounts.push_back({k.say.about(moulds.each), k.batch.blocks_to_press > 1 ? "curd in each mould once it has run" : "curd in the mould once it has run", fmt::format("{} by {}{}", k.say.length(s.mould_length), k.say.length(s.mould_width), last)});
  write_load(k, step);
  write_moulding(k, step);
  // The curd has run off by then, so that no more whey takes it away.
  if (const std::string extras = extras_here(k, Stage::press); !extras.empty())
    step.actions.insert(step.actions.begin() + 1, k.job().coagulate.kind == CoagulantKind::lactone
                                                      ? fmt::format("Spread {} over the gel{}.", extras, shared_out(k.batch.blocks_to_press, "blocks"))
                                                      : fmt::format("Fold {} through the curd{}.", extras, shared_out(k.batch.blocks_to_press, "moulds")));
  if (k.timeline.fillings > 1)
    step.actions.push_back(fmt::format("{}. {}, {} or hotter, probed. Chill each block as it leaves the press.", fillings_words(k.batch, k.timeline),
                                                      k.job().coagulate.kind == CoagulantKind::lactone ? "Gel that waits: in its tubs in the bath" : "Curd that waits: in its whey, lid on, low heat", k.say.no_less_than(hot_hold)));
  step.actions.push_back("Whey to keep: as it runs off, into shallow pans in ice water, then the fridge.");
  step.actions.push_back(k.timeline.fillings > 1 ? "Between fillings and at the end rinse the cloths cold and boil them; no softener." : "Afterwards rinse the cloths cold, boil them and dry them; no softener.");
  if (k.setup().kitchen.rule_set == RuleSet::selling) step.actions.push_back(pressing_record(k));
  if (s.moisture) {
    step.ready = fmt::format("A block weighs {}.", k.say.about(s.block));
    step.if_not = "Heavier, but it loses no more: stop all the same.";
  } else {
    step.ready = fmt::format("Whey has stopped running; the block is about {} high and springs back.", k.say.length(k.plan().pressed.block_height));
    step.if_not = "Wet and soft: as long again, in the fridge. Crumbles at the edge: less weight, longer.";
  }
  step.expected.push_back(expected(k, Figure::curd_mass, "pressed curd"));
  return step;
}

namespace {

std::string chill_way(const Kitchenful& k) {
  const Equipment& c = k.setup().chill;
  if (c.ice_water) return "Unmould under cold drinking water, bag the blocks and lay them in stirred ice water. Keep ice floating.";
  return fmt::format("Unmould and lay the blocks apart, open, {}.", c.kitchen_name.starts_with("in ") ? c.kitchen_name : "in the " + c.kitchen_name);
}

/// What stands on a label, what the rules name of it in their words.
std::string label_words(const Kitchenful& k) {
  std::string words = "what, made, use by";
  for (const Caution& c : k.cautions)
    if (names_allergens(c)) words += fmt::format(", \"{}\"", c.text.substr(0, c.text.find_last_not_of('.') + 1));
  return words + (k.setup().any(Hazard::favism) ? ", \"Not for people with G6PD deficiency\"" : "");
}

/// Where the blocks go once they are cold, and until when they are eaten.
std::string keeping_words(const Kitchenful& k, Temperature keep) {
  const int day = last_day(k.batch);
  const Where where = k.setup().recipe.store.where.value_or(Where::fridge);
  if (where == Where::hot) return fmt::format("What is kept hot: {} or hotter from the press on, probed, and eaten on the day. The rest is chilled as told here.", k.say.no_less_than(k.setup().recipe.store.at.value_or(hot_hold)));
  if (day <= 1) return "This fridge is too warm to keep curd: eat it on the day.";
  const Task* set = task_of(k, Step::set);
  std::string by = fmt::format("day {}", day);
  if (k.day_clock && set) by += fmt::format(", {}", dated(k.day_clock->at(set->start + hours(24.0 * (day - 1)))));
  const std::string label = fmt::format("Label it: {}. The day you cook is day 1", label_words(k));
  if (where == Where::freezer) return fmt::format("Once cold, freeze it flat. {}: frozen by {}.", label, by);
  return fmt::format("Keep at {} or colder. {}: eat or freeze by {}.", k.say.temperature(std::max(keep, celsius(4))), label, by);
}

/// Each filling comes out of the press at its own time, and is cold at its own.
void write_record(const Kitchenful& k, const CoolingLimits& limits, SheetStep& step) {
  constexpr int most_lines = 4;
  const int fillings = std::max(1, k.timeline.fillings);
  std::string blanks = fmt::format("under {} at ______", k.say.temperature(limits.first));
  if (limits.second < limits.first) blanks += fmt::format(", under {} at ______", k.say.temperature(limits.second));
  if (fillings == 1) return step.actions.push_back(fmt::format("For the record: {}.", blanks));
  for (int i = 1; i <= std::min(fillings, most_lines); ++i) step.actions.push_back(fmt::format("For the record, filling {}: under {} at ______, {}.", i, k.say.temperature(limits.from), blanks));
  if (fillings > most_lines) step.actions.push_back(fmt::format("Write the same of each of the {} fillings.", fillings));
}

}  // namespace

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
                                     two ? fmt::format(", under {} within {} in all", k.say.temperature(limits.second), duration(limits.second_within)) : ""));
  if (k.setup().kitchen.rule_set == RuleSet::selling) write_record(k, limits, step);
  const Temperature keep = k.setup().recipe.store.at.value_or(k.setup().kitchen.fridge);
  step.actions.push_back(keeping_words(k, keep));
  step.ready = "Cold right through.";
  step.if_not = c.mend.empty() ? (k.setup().chill.ice_water ? "Still warm: more ice, stir, thinner pieces." : "Still warm: into ice water now.") : fmt::format("To meet the cooling clock: {}.", c.mend);
  const Where where = k.setup().recipe.store.where.value_or(Where::fridge);
  if (where == Where::fridge || where == Where::freezer) step.expected.push_back(expected(k, Figure::stored_mass, "blocks after a day in store"));
  return step;
}

}  // namespace curdwright::sheets
