// SPDX-License-Identifier: MIT
#include "sheets/corrected.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/cautions.hpp"
#include "sheets/measures.hpp"
#include "sheets/steps.hpp"
#include "text/width.hpp"

namespace curdwright::sheets {
namespace {

/// A reading this near to the plan is as planned.
constexpr double as_planned = 0.02;
/// A belief that moved by so much of its spread is told of.
constexpr double worth_telling = 0.5;
/// A setting three times what was planned, or a third of it, is asked about.
constexpr double far_off = 1.1;

/// Its word on the command line, as people say it: "starch layer".
std::string spoken(const Measurable& m) {
  std::string word(m.word);
  std::replace(word.begin(), word.end(), '-', ' ');
  return word;
}

std::string shown(const Measurable& m, double si, const Amounts& say) {
  return m.word == "coagulant" ? say.grams_fine(kilograms(si)) : spoken_measure(measure_of(m, si), say);
}

std::string expected_shown(const Told& t, const Amounts& say) {
  const Measurable& m = *t.reading.what;
  if (t.no_figure || !(t.planned > 0)) return "";
  return m.kind == QuantityKind::mass && m.observes ? say.about(kilograms(t.planned)) : shown(m, t.planned, say);
}

std::string likely_shown(const Told& t, const Amounts& say) {
  if (!t.likely || t.no_figure) return "";
  const Measurable& m = *t.reading.what;
  if (m.kind == QuantityKind::mass) return say.between(kilograms(t.likely->low), kilograms(t.likely->high));
  return fmt::format("{} to {}", shown(m, t.likely->low, say), shown(m, t.likely->high, say));
}

SheetReading reading_of(const Told& t) {
  const Measurable& m = *t.reading.what;
  const auto number = [&](double si) { return measure_of(m, si).value; };
  SheetReading r;
  r.word = m.word, r.plain = m.about, r.unit = measure_of(m, 0).unit, r.stage = m.stage, r.observed = m.observes.has_value();
  r.told = number(t.reading.si);
  if (!t.no_figure && t.planned > 0) r.planned = number(t.planned);
  if (t.likely && !t.no_figure) r.low = number(t.likely->low), r.high = number(t.likely->high);
  r.weight = t.residual.weight;
  if (t.no_figure)
    r.slip = "this batch is planned without it";
  else if (t.residual.weight < suspect_below)
    r.slip = slip_words(t.slip);
  return r;
}

std::string difference(const Told& t) {
  const double off = t.reading.si / t.planned - 1;
  const std::string_view more = t.reading.what->kind == QuantityKind::mass ? (off > 0 ? "heavier" : "lighter") : off > 0 ? "more" : "less";
  return fmt::format("{} {} % {} than planned.", spoken(*t.reading.what), fixed(100 * std::abs(off), 0), more);
}

void write_readings(std::vector<std::string>& lines, const Correction& c, const Amounts& say) {
  for (const Told& t : c.told) {
    if (!t.reading.what->observes && t.planned > 0 && t.reading.what->kind != QuantityKind::temperature && std::abs(std::log(std::max(1e-12, t.reading.si) / t.planned)) > far_off)
      lines.push_back(fmt::format("{} {} is far from the {} planned. Was it meant?", spoken(*t.reading.what), shown(*t.reading.what, t.reading.si, say), shown(*t.reading.what, t.planned, say)));
    const std::string what = fmt::format("{}={}", t.reading.what->word, text::harmless(text::cut(t.reading.told, 40)));
    if (t.no_figure) {
      lines.push_back(fmt::format("{} counts for nothing: this batch is planned without it.", what));
    } else if (t.residual.weight < suspect_below) {
      const std::string slip = slip_words(t.slip);
      lines.push_back(fmt::format("{} does not go with the rest: about {} was to be expected{} Weigh again; until then it counts for {}.", what, shown(*t.reading.what, t.reading.si / t.residual.ratio, say),
                                  slip.empty() ? "." : ". " + slip, t.residual.weight < counts_for_nothing ? "nothing" : "little"));
    } else if (t.reading.what->observes && std::abs(t.reading.si / t.planned - 1) > as_planned) {
      lines.push_back(difference(t));
    }
  }
  if (!c.converged) lines.push_back("The calculation did not settle on these readings: take what follows with care, and weigh again.");
  if (c.gain) lines.push_back(gain_words(*c.gain));
}

/// What follows for the batch, from all readings together.
void write_consequences(std::vector<std::string>& lines, const Correction& c, const Amounts& say) {
  const Plan &then = c.planned.plan, &now = c.batch.plan;
  const auto more = [&](double kg, std::string_view what) {
    if (std::abs(kg) * 1e3 >= 10) lines.push_back(fmt::format("So {} {} {}.", say.about(kilograms(std::abs(kg))), kg > 0 ? "more" : "less", what));
  };
  more(now.uptake_kg - then.uptake_kg, "water is in the seed");
  if (c.done == Stage::soak && c.over && now.uptake_kg < 0.9 * then.uptake_kg) lines.push_back("Cut a seed before you blend: chalky inside, let it soak two to four hours more, in the fridge.");
  if (c.done < Stage::strain) return;
  more(now.strained.pulp.of[Component::water] - then.strained.pulp.of[Component::water], "water stayed in the pulp");
  more(now.strained.milk.of.total_kg() - then.strained.milk.of.total_kg(), "milk ran off");
  if (std::abs(value(now, Figure::starch) - value(then, Figure::starch)) >= 0.3)
    lines.push_back(fmt::format("So {} g of starch in 100 g of curd, {} g planned.", fixed(value(now, Figure::starch), 1), fixed(value(then, Figure::starch), 1)));
  if (c.done >= Stage::press && std::abs(value(now, Figure::water) - value(then, Figure::water)) >= 1)
    lines.push_back(fmt::format("So {} g of water in 100 g of curd, {} g planned.", fixed(value(now, Figure::water), 0), fixed(value(then, Figure::water), 0)));
}

/// What to do about a dose that is too small.
std::string missing_words(const Correction& c, const Amounts& say) {
  const Batch& b = c.planned;
  const CoagulateSettings& k = b.setup.job.coagulate;
  const Mass dry = *c.coagulant_missing;
  if (k.kind == CoagulantKind::lactone)
    return fmt::format("Not warmed yet: stir {} more {} into {} of cold water, at once into the cold milk, and only then fill the tubs. Once it is warm, nothing mixes in.", say.weigh_fine(dry, b.setup.coagulant.teaspoon.value), b.setup.coagulant.kitchen_name, say.about(dry * k.mix_water_kg_kg));
  return fmt::format("{} whey: {} over the cloudy places, wait five minutes.", whey_clears(b.setup) ? "Milky" : "Still milk-white", more_coagulant(b, dry, mix_in_jug(c), say));
}

/// Amounts to come that differ from what was planned.
void write_amounts(std::vector<std::string>& lines, const Correction& c, const Amounts& say) {
  const Batch &then = c.planned, &now = c.batch;
  const auto differ = [](double a, double b) { return std::abs(a - b) > 1e-9 + 1e-6 * std::abs(b); };
  if (c.done < Stage::blend && differ(now.plan.water.grinding_kg, then.plan.water.grinding_kg))
    lines.push_back(fmt::format("Grinding water: {}, {} planned.", say.water(kilograms(now.plan.water.grinding_kg)), say.water(kilograms(then.plan.water.grinding_kg))));
  if (c.done < Stage::coagulate && differ(now.plan.set.dose.used_kg, then.plan.set.dose.used_kg)) {
    const double protein = now.plan.cooked.milk.of[Component::protein] / then.plan.cooked.milk.of[Component::protein] - 1;
    lines.push_back(fmt::format("Coagulant to pour: {}, {} planned, for there is {} % {} protein in the milk.", say.grams_fine(kilograms(now.plan.set.dose.used_kg)), say.grams_fine(kilograms(then.plan.set.dose.used_kg)),
                                fixed(100 * std::abs(protein), 0), protein > 0 ? "more" : "less"));
  }
  if (c.coagulant_missing) lines.push_back(fmt::format("Coagulant: {} short of the dose. {} Then tell the sum.", say.grams_fine(*c.coagulant_missing), missing_words(c, say)));
  const Mass made_up = coagulant_made_up(then);
  if (const Told* in = trusted(c, "coagulant"); in && in->reading.si > made_up.si() * 1.02)
    lines.push_back(fmt::format("coagulant {} is more than the {} that were made up. Is the figure right?", say.grams_fine(kilograms(in->reading.si)), say.grams_fine(made_up)));
}

/// A boil that was broken off: what is still to be done, while nothing is poured.
void write_boil(std::vector<std::string>& lines, const Correction& c) {
  const Told* hold = trusted(c, "hold");
  if (!hold || c.done != Stage::cook || hold->reading.si >= hold->planned * (1 - as_planned)) return;
  const bool whole_again = boil_of(c.batch.setup.legumes) != Boil::simmer;
  lines.push_back(fmt::format("It boiled {} of {}: {}, before anything is poured.", duration(seconds(hold->reading.si)), duration(seconds(hold->planned)),
                              whole_again ? "back to the boil as told, and the whole time again" : fmt::format("back to the simmer for {}", duration(seconds(hold->planned - hold->reading.si)))));
}

void write_outcome(std::vector<std::string>& lines, const Correction& c, const Ranges* ranges, const Amounts& say) {
  const Mass then = c.planned.plan.pressed.curd.mass(), now = c.batch.plan.pressed.curd.mass();
  const std::string likely = ranges ? fmt::format(" ({})", say.between(grams(ranges->of(Figure::curd_mass).low), grams(ranges->of(Figure::curd_mass).high))) : "";
  if (const Told* curd = trusted(c, "curd"))
    lines.push_back(fmt::format("Curd weighed: {}, {} planned.", say.weigh(kilograms(curd->reading.si)), say.about(then)));
  else
    lines.push_back(fmt::format("Curd to expect now: {}{}, {} planned.", say.about(now), likely, say.about(then)));
  if (c.wash)
    lines.push_back(fmt::format("One more washing of the pulp with {} of water gains about {} of curd. If you wash, tell it: wash-water=, with the water of all washings, and milk=.", say.water(c.wash->water), say.about(c.wash->curd)));
}

/// The beliefs that the readings moved most.
void write_beliefs(std::vector<std::string>& lines, const Correction& c) {
  const auto then = c.planned.setup.beliefs.all(), now = c.batch.setup.beliefs.all();
  std::vector<std::pair<double, std::size_t>> moved;
  for (std::size_t i = 0; i < now.size(); ++i) {
    const double by = std::abs(to_link(now[i].link, now[i].median) - to_link(then[i].link, then[i].median)) / then[i].spread;
    if (by > worth_telling) moved.emplace_back(-by, i);
  }
  std::sort(moved.begin(), moved.end());
  for (std::size_t k = 0; k < std::min<std::size_t>(2, moved.size()); ++k) {
    const Belief &a = then[moved[k].second], &b = now[moved[k].second];
    lines.push_back(fmt::format("It points to {}: {} now, {} believed before.", info(b.param).plain, param_amount(b.param, b.median), param_amount(a.param, a.median)));
  }
}

bool was_told(const Correction& c, std::string_view word) {
  return std::any_of(c.told.begin(), c.told.end(), [&](const Told& t) { return t.reading.what->word == word; });
}

/// Pots and fillings in turn: one may be told of, and the milk of another be raw still, until the blocks are cold.
bool in_turn(const SheetStep& step, const Correction& c) {
  if (was_told(c, "curd") || was_told(c, "blocks")) return false;  // these are of all of it
  const bool pots = c.batch.setup.job.cook.pots > 1 && (step.stage == Stage::cook || step.stage == Stage::coagulate);
  const bool fillings = (c.batch.press_rounds > 1 || c.batch.setup.job.cook.pots > 1) && step.stage == Stage::press;
  return (pots || fillings) && c.done < Stage::chill;
}

/// Whatever it asks to weigh was told: the other weight may be still to come.
bool all_told(const SheetStep& step, const Correction& c) {
  return std::all_of(step.expected.begin(), step.expected.end(), [&](const SheetWeighing& w) { return w.measure.empty() || was_told(c, w.measure); });
}

bool is_done(const SheetStep& step, const Correction& c) {
  if (step.stage > c.done || in_turn(step, c)) return false;
  return step.stage < c.done || (c.over && all_told(step, c));
}

/// Once the mix is in, nothing of it is made up or poured again.
void close_pour(SheetStep& step, const Correction& c, const Amounts& say) {
  const CoagulateSettings& k = c.batch.setup.job.coagulate;
  const bool lactone = k.kind == CoagulantKind::lactone;
  const std::string in = fmt::format("{} of {}", say.grams_fine(kilograms(c.batch.plan.set.dose.used_kg)), c.batch.setup.coagulant.kitchen_name);
  const std::string wait = lactone ? fmt::format("Fill the tubs at once; in a water bath to {}, and hold {} without touching.", say.temperature(k.at), duration(k.wait)) : fmt::format("Lid on, {} without touching.", duration(k.wait));
  step.amounts.clear();
  if (!lactone) step.if_not = milky_words(c.planned, mix_in_jug(c), say);
  const CoagulateSettings& then = c.planned.setup.job.coagulate;
  if (k.pots > 1) {
    step.actions = {fmt::format("Told: {}, in all {} pots together. {}", in, k.pots, wait)};
    // As much as was planned for all of them: none is raw.
    if (c.batch.plan.set.dose.used_kg < 0.95 * c.planned.plan.set.dose.used_kg)
      step.actions.push_back(fmt::format("Is the milk of a pot raw still? Its whole boil first, {}; then {} of the mix for it. Then tell the sum of all pots.", duration(c.planned.setup.job.cook.hold), say.about(mix_to_pour(c.planned) / then.pots)));
    return;
  }
  step.actions = {fmt::format("{} is in. {}", in, wait)};
  if (c.coagulant_missing) step.if_not = missing_words(c, say);
  if (k.kind == CoagulantKind::salt && c.batch.plan.set.dose.strength > k.window_high * 0.999) step.if_not = "No more coagulant: there is as much as is of use, or more.";
}

/// One of its weights is told, and so all that comes before the other.
void leave_weighing(SheetStep& step) {
  step.amounts.clear();
  const auto last = std::find_if(step.actions.rbegin(), step.actions.rend(), [](const std::string& a) { return a.starts_with("Weigh "); });
  step.actions.erase(step.actions.begin(), last == step.actions.rend() ? step.actions.end() : std::prev(last.base()));
}

/// What stands in a step of a batch in hand.
/// \param whole for other cooks, who have it all before them
void mark(SheetStep& step, const Correction& c, bool whole, const Amounts& say) {
  step.done = is_done(step, c);
  // What makes the food safe is said again: only the cook knows whether it was done.
  if (step.done && !whole) std::erase_if(step.before, [](const Caution& b) { return b.said != Said::outlasting; });
  bool poured = false;
  for (const Told& t : c.told) {
    const Measurable& m = *t.reading.what;
    poured = poured || m.word == "coagulant" || m.word == "wait";
    const bool here = m.stage == step.stage && (step.stage != Stage::soak || (step.of == Step::sort_and_soak) != m.observes.has_value());
    if (!here) continue;
    const std::string planned = expected_shown(t, say);
    step.told.push_back(fmt::format("{} {}{}", spoken(m), shown(m, t.reading.si, say), planned.empty() ? "" : fmt::format(" ({} planned)", planned)));
  }
  if (whole) return;
  const auto weighed = [&](const SheetWeighing& w) { return !w.measure.empty() && was_told(c, w.measure); };
  if (!step.done && step.stage == c.done && !in_turn(step, c) && std::any_of(step.expected.begin(), step.expected.end(), weighed)) leave_weighing(step);
  std::erase_if(step.expected, weighed);
  if (step.of == Step::set && poured && !step.done) close_pour(step, c, say);
}

SheetTable table_of(const Correction& c, const Amounts& say) {
  SheetTable t;
  t.heading = "Measured so far";
  t.columns = {"measured", "planned", "likely"};
  for (const Told& told : c.told) t.rows.push_back({spoken(*told.reading.what), {shown(*told.reading.what, told.reading.si, say), expected_shown(told, say), likely_shown(told, say)}});
  t.note = "Likely: the middle eight of ten before anything was measured. Measurements change the estimates; settings as they were done replace the plan.";
  return t;
}

}  // namespace

Mass mix_in_jug(const Correction& c) {
  const CoagulateSettings& k = c.planned.setup.job.coagulate;
  const double planned = c.planned.plan.set.dose.used_kg, now = c.batch.plan.set.dose.used_kg;
  const double gone = trusted(c, "coagulant") ? k.pots > 1 ? std::max(now, planned) : now : planned;
  return kilograms(std::max(0.0, coagulant_made_up(c.planned).si() - gone) * (1 + k.mix_water_kg_kg));
}

const Told* trusted(const Correction& c, std::string_view word) {
  for (const Told& t : c.told)
    if (t.reading.what->word == word && t.residual.weight >= suspect_below && !t.no_figure) return &t;
  return nullptr;
}

std::string slip_words(const Slip& s) {
  switch (s.kind) {
    case SlipKind::none: return "";
    case SlipKind::swapped: return fmt::format("Was it swapped with {}?", s.detail);
    case SlipKind::tare: return fmt::format("Was it weighed with the {}?", text::harmless(s.detail));
    case SlipKind::tare_taken_twice: return fmt::format("Was the {} taken off twice?", text::harmless(s.detail));
    case SlipKind::unit: return s.detail == "shorter" || s.detail == "longer" ? fmt::format("Was a {} unit of time meant?", s.detail) : fmt::format("Was the unit {}?", s.detail);
    case SlipKind::point: return fmt::format("Is the point {}?", s.detail);
    case SlipKind::digits: return fmt::format("Was it {}?", text::harmless(s.detail));
  }
  return "";
}

std::string gain_words(const MassGain& g) { return fmt::format("{} together weigh {} % more than what went in: one of them, or an amount before, is wrong.", g.readings, fixed(100 * g.share, 0)); }

std::string param_amount(Param p, double value) {
  const ParamInfo& i = info(p);
  const double in_record = value / i.to_si;
  const bool share = (i.unit == "1" && i.link == Link::logit) || i.unit == "g/100g";
  const double shown = i.unit == "1" && share ? 100 * in_record : in_record;
  const double size = std::abs(shown);
  std::string number = size >= 100 ? fixed(shown, 0) : size >= 10 ? fixed(shown, 1) : size >= 1 ? fixed(shown, 2) : fmt::format("{:#.2g}", shown);
  const std::string unit = i.unit == "um" ? "µm" : i.unit == "W/m2K" ? "W/m²K" : std::string(i.unit);
  return share ? number + " %" : i.unit == "1" ? number : number + " " + unit;
}

void write_correction(Sheet& s, const Correction& c, const SheetOptions& options, const Amounts& say) {
  for (const Told& t : c.told) s.readings.push_back(reading_of(t));
  s.measured = table_of(c, say);
  for (const Caution& n : new_warnings(s.cautions, cautions(facts_of(c.planned)))) s.changed.push_back(fmt::format("CARE: {}", say.in_units(n.text)));
  write_readings(s.changed, c, say);
  write_consequences(s.changed, c, say);
  write_amounts(s.changed, c, say);
  write_boil(s.changed, c);
  write_outcome(s.changed, c, options.ranges, say);
  write_beliefs(s.changed, c);
  for (SheetStep& step : s.steps) mark(step, c, options.publish, say);
}

}  // namespace curdwright::sheets
