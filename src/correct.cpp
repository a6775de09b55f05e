// SPDX-License-Identifier: MIT
#include "curdwright/correct.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace curdwright {
namespace {

/// A washing is told of when it brings at least this share of the curd.
constexpr double worth_washing = 0.01;

/// Less of the dose than this is missing by the spoon, not by mistake.
constexpr double worth_pouring = 0.05;

const Reading* reading_of(std::span<const Reading> readings, std::string_view word) {
  for (const Reading& r : readings)
    if (r.what->word == word) return &r;
  return nullptr;
}

Stage last_stage(std::span<const Reading> readings) {
  Stage last = Stage::soak;
  for (const Reading& r : readings) last = std::max(last, r.what->stage);
  return last;
}

/// A setting of a stage that this batch does not have.
bool passed_over(const Reading& r, const Setup& s) { return r.what->stage == Stage::starch && !r.what->observes && !s.job.starch.settles(); }

Told told_of(const Reading& r, const Batch& planned, const Ranges& before) {
  Told t;
  t.reading = r;
  if (!r.what->observes) {
    t.no_figure = passed_over(r, planned.setup);
    t.planned = r.what->planned ? r.what->planned(planned.setup) : 0.0;
    return t;
  }
  const Figure f = *r.what->observes;
  t.planned = value(planned.plan, f) / r.what->to_figure;
  t.likely = Range{before.of(f).low / r.what->to_figure, before.of(f).high / r.what->to_figure};
  return t;
}

void find_slips(Correction& c) {
  std::vector<Expected> all;
  for (const Told& t : c.told)
    if (t.reading.what->observes && !t.no_figure) all.push_back({&t.reading, t.reading.si / t.residual.ratio});
  for (const Expected& e : all)
    for (Told& t : c.told)
      if (&t.reading == e.reading && t.residual.weight < suspect_below) t.slip = likely_slip(t.reading, e.si, c.batch.setup.kitchen, all);
}

/// Of the readings that count, with the settings as they were done.
std::optional<MassGain> gain_of(const Correction& c, const Setup& done) {
  std::vector<const Reading*> count;
  for (const Told& t : c.told)
    if (t.residual.weight >= counts_for_nothing) count.push_back(&t.reading);
  return mass_gain(plan(done.job, c.planned.theta), count);
}

/// What one more washing with the pulp's own weight of water would bring.
std::optional<WashAdvice> wash_advice(const Correction& c, std::span<const Reading> readings) {
  const Reading* pulp = reading_of(readings, "pulp");
  if (!pulp || c.done != Stage::strain || c.batch.setup.job.strain.wash_count >= StrainSettings::max_washes) return std::nullopt;
  for (const Told& t : c.told)
    if (t.reading.what == pulp->what && t.residual.weight < suspect_below) return std::nullopt;
  Job j = c.batch.setup.job;
  // The dose follows the milk that the washing adds.
  if (!c.batch.setup.recipe.coagulate.amount) j.coagulate.used.reset();
  const Mass now = plan(j, c.batch.theta).pressed.curd.mass();
  const Mass water = kilograms(std::max(0.1, std::round(pulp->si * 10) / 10));
  j.strain.washes[j.strain.wash_count++] = {water / j.dry, seconds(0)};
  const Plan washed = plan(j, c.batch.theta);
  // Milk that would need another round is not worth its hours.
  Setup fitted = c.batch.setup;
  fitted.job = j;
  fit_loads(fitted, washed);
  if (fitted.job.cook.pots > c.batch.setup.job.cook.pots || fitted.job.starch.vessels > c.batch.setup.kitchen.settling_vessels) return std::nullopt;
  const Mass gained = washed.pressed.curd.mass() - now;
  return gained > now * worth_washing ? std::optional(WashAdvice{water, gained}) : std::nullopt;
}

/// The dose for the milk as it is now believed, less what was poured. With several pots what was told may be of the first ones.
std::optional<Mass> coagulant_missing(const Correction& c, std::span<const Reading> readings) {
  const Reading* poured = reading_of(readings, "coagulant");
  const Setup& s = c.batch.setup;
  if (!poured || c.done != Stage::coagulate || c.over || s.job.coagulate.pots > 1) return std::nullopt;
  Job j = s.job;
  j.coagulate.used = s.recipe.coagulate.amount;
  const Mass dose = kilograms(plan(j, c.batch.theta, Stage::coagulate).set.dose.used_kg), missing = dose - kilograms(poured->si);
  return missing > dose * worth_pouring ? std::optional(missing) : std::nullopt;
}

}  // namespace

Setup as_done(const Setup& planned, std::span<const Reading> readings) {
  Setup s = planned;
  // In the order of the work: the seed before what is reckoned by it.
  for (const Measurable& m : all_measurables())
    for (const Reading& r : readings)
      if (r.what == &m && m.set && !passed_over(r, planned)) m.set(s, r.si);
  return s;
}

Result<Correction> correct(const Batch& planned, std::span<const Reading> readings) {
  Correction c;
  c.planned = planned;
  c.done = last_stage(readings);
  c.over = std::any_of(readings.begin(), readings.end(), [&](const Reading& r) { return r.what->stage == c.done && r.what->over; });
  const Ranges before = ranges(planned.setup.job, planned.setup.beliefs, sample_for(planned.setup.beliefs));
  for (const Reading& r : readings) c.told.push_back(told_of(r, planned, before));

  Setup done = as_done(planned.setup, readings);
  std::vector<Observation> seen;
  std::vector<Told*> seen_of;
  for (Told& t : c.told)
    if (const auto o = observed(t.reading, planned.setup.kitchen)) seen.push_back(*o), seen_of.push_back(&t);
  const Update u = update(done.beliefs, done.job, seen);
  for (std::size_t i = 0; i < seen.size(); ++i) seen_of[i]->residual = u.residuals[i], seen_of[i]->no_figure = u.residuals[i].weight == 0;
  c.converged = u.converged;
  c.gain = gain_of(c, done);
  done.beliefs = u.beliefs;
  c.batch = replan(planned, std::move(done), c.done);
  // Curd that lies in its moulds stays there, whatever is thought of it now.
  if (c.done >= Stage::press) c.batch.blocks_to_press = planned.blocks_to_press, c.batch.press_rounds = planned.press_rounds;
  if (!c.batch.plan.whole()) return fail(fault_words(c.batch.plan, c.batch.setup));
  find_slips(c);
  c.wash = wash_advice(c, readings);
  c.coagulant_missing = coagulant_missing(c, readings);
  return c;
}

}  // namespace curdwright
