// SPDX-License-Identifier: MIT
#include "curdwright/diary_plan.hpp"

#include <algorithm>
#include <cmath>

#include "curdwright/cautions.hpp"
#include "curdwright/correct.hpp"
#include "curdwright/trouble.hpp"
#include "curdwright/version.hpp"

namespace curdwright {
namespace {

double planned_dry_kg(const DiaryStart& start) {
  double all = 0;
  for (const DiaryAmount& a : start.planned)
    if (a.word == "dry") all += a.value;
  return all;
}

/// Dry seed and how it was shared out.
void put_seed(Setup& s, const DiaryStart& start) {
  const double all = planned_dry_kg(start);
  if (!(all > 0)) return;
  for (std::size_t i = 0; i < s.legumes.size(); ++i)
    for (const DiaryAmount& a : start.planned)
      if (a.word == "dry" && a.legume == s.legumes[i].id) s.job.seeds[i].share = a.value / all;
  s.job.dry = kilograms(all);  // what goes by the seed goes with it
}

/// Whether a batch began as one of several: with seed that is nearer to a part's than to that of all.
bool began_as_part(const DiaryStart& start, const Batch& part) { return planned_dry_kg(start) < std::sqrt(part.plan.dry.si() * part.shared->dry.si()); }

/// What was to be set, in the order of the work.
void put_amounts(Setup& s, const DiaryStart& start) {
  put_seed(s, start);
  const auto put_count = [&](std::string_view word, int& count) {
    for (const DiaryAmount& a : start.planned)
      if (a.word == word && a.value >= 1) count = static_cast<int>(a.value);
  };
  put_count("jarfuls", s.job.blend.jarfuls), put_count("settling-vessels", s.job.starch.vessels), put_count("pots", s.job.cook.pots);
  s.job.coagulate.pots = s.job.cook.pots;
  for (const Measurable& m : all_measurables())
    for (const DiaryAmount& a : start.planned)
      if (m.set && a.word == m.word && m.word != "dry" && m.word != "depth") m.set(s, a.value);
}

/// How far a plan may pass what a reading may tell: a recipe has wider limits, and a batch of tonnes. Numerical.
double beyond_a_reading(const Measurable& m) { return m.kind == QuantityKind::mass ? 1e5 : m.kind == QuantityKind::duration ? 10 : 1; }

/// Jarfuls, vessels and pots of one batch: numerical.
constexpr double most_loads = 1e6;

bool absurd(const DiaryAmount& a) {
  const auto outside = [&](double most) { return !(a.value >= 0 && a.value <= most); };
  if (a.word == "jarfuls" || a.word == "settling-vessels" || a.word == "pots") return outside(most_loads);
  const auto measures = all_measurables();
  return std::any_of(measures.begin(), measures.end(), [&](const Measurable& m) { return m.set && a.word == m.word && m.word != "depth" && outside(m.high * beyond_a_reading(m)); });
}

/// Amounts that no plan has, though the line's checksum fits. The depth is not taken from the line, but follows from the vessels again.
std::optional<Problem> absurd_amount(const DiaryBatch& b) {
  for (const DiaryAmount& a : b.start.planned)
    if (absurd(a))
      return Problem{"diary-line", {}, "the planned " + a.word + " of " + b.id + " cannot be", "the line that starts it holds an amount out of all limits", "begin the batch anew"};
  return std::nullopt;
}

bool of_this_version(const DiaryStart& start) { return start.data == data_version && start.model == model_version; }

/// Medians and spreads as they were.
void put_beliefs(Setup& s, const DiaryStart& start) {
  for (std::size_t i = 0; i < s.beliefs.size(); ++i) {
    const Belief b = s.beliefs.all()[i];
    const std::string legume = b.scope == Scope::legume ? s.legumes[b.legume].id : "";
    for (const DiaryBelief& then : start.beliefs)
      if (then.parameter == info(b.param).key && then.legume == legume && then.median > 0 && then.spread > 0 && std::isfinite(to_link(b.link, then.median))) s.beliefs.replace(i, then.median, then.spread);
  }
}

}  // namespace

Result<Batch> planned_then(const DiaryBatch& b, Catalogue catalogue, Believed believed) {
  if (!b.start.records.empty())
    if (auto added = catalogue.add(b.start.records); !added) return fail(added.error());
  if (auto absurd = absurd_amount(b)) return fail(std::move(*absurd));
  auto inputs = read_inputs(texts_of(b));
  if (!inputs) return fail(inputs.error());
  // What a kitchen had learned from other records is kept in the medians and spreads that were stored.
  if (believed == Believed::shipped || !of_this_version(b.start)) inputs->kitchen.learned.reset();
  if (inputs->recipe.want.given() == 0) inputs->recipe.want.dry = kilograms(1);
  auto setup = resolve(inputs->recipe, inputs->kitchen, catalogue);
  if (!setup) return fail(setup.error());
  if (believed == Believed::then && !of_this_version(b.start)) put_beliefs(*setup, b.start);
  auto batch = plan_batch(std::move(*setup));
  if (!batch) return fail(batch.error());
  if (Batch part = one_run(*batch); part.shared && began_as_part(b.start, part)) *batch = std::move(part);
  Setup then = batch->setup;
  put_amounts(then, b.start);
  Batch again = replan(*batch, std::move(then), Stage::chill);
  if (!again.plan.whole()) return fail(fault_words(again.plan, again.setup));
  return again;
}

Verdict verdict_of(const DiaryBatch& b, const Catalogue& catalogue) {
  Verdict v;
  const auto cannot = [&](const Problems& why) {
    v.stops.push_back("It cannot be checked against the rules: " + why[0].what + ".");
    return v;
  };
  auto planned = planned_then(b, catalogue, Believed::then);
  if (!planned) return cannot(planned.error());
  const std::vector<Caution> before = cautions(facts_of(*planned));
  Batch now = *planned;
  const std::vector<Reading> readings = readings_of(b);
  if (!readings.empty()) {
    auto c = correct(*planned, readings);
    if (!c) return cannot(c.error());
    now = std::move(c->batch);
  }
  const std::vector<Caution> all = cautions(facts_of(now));
  for (const Caution& c : all)
    if (c.severity == Severity::stop) v.stops.push_back(c.text);
  for (const Caution& c : new_warnings(all, before))
    if (c.severity == Severity::warn) v.cares.push_back(c.text);
  const Troubles table = shipped_troubles();
  for (const DiarySighting& s : b.sightings)
    for (const Move& m : next_moves(now, table, {s.what, s.how}))
      if (m.discard && m.id != stopped_by_rule) {
        v.stops.push_back(s.what + " " + s.how + ": " + m.action);
        break;
      }
  return v;
}

}  // namespace curdwright
