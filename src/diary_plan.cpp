// SPDX-License-Identifier: MIT
#include "curdwright/diary_plan.hpp"

#include <algorithm>

#include "curdwright/version.hpp"

namespace curdwright {
namespace {

/// Dry seed and how it was shared out.
void put_seed(Setup& s, const DiaryStart& start) {
  double all = 0;
  for (const DiaryAmount& a : start.planned)
    if (a.word == "dry") all += a.value;
  if (!(all > 0)) return;
  for (std::size_t i = 0; i < s.legumes.size(); ++i)
    for (const DiaryAmount& a : start.planned)
      if (a.word == "dry" && a.legume == s.legumes[i].id) s.job.seeds[i].share = a.value / all;
  for (const Measurable& m : all_measurables())
    if (m.word == "dry") m.set(s, all);
}

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

/// Medians and spreads as they were; of a kitchen that had learned, the file that was stored holds more than that.
void put_beliefs(Setup& s, const DiaryStart& start) {
  if (!s.beliefs.factor().empty() || (start.data == data_version && start.model == model_version)) return;
  for (std::size_t i = 0; i < s.beliefs.size(); ++i) {
    const Belief b = s.beliefs.all()[i];
    const std::string legume = b.scope == Scope::legume ? s.legumes[b.legume].id : "";
    for (const DiaryBelief& then : start.beliefs)
      if (then.parameter == info(b.param).key && then.legume == legume && then.median > 0 && then.spread > 0) s.beliefs.replace(i, then.median, then.spread);
  }
}

}  // namespace

Result<Batch> planned_then(const DiaryBatch& b, Catalogue catalogue, Believed believed) {
  if (!b.start.records.empty())
    if (auto added = catalogue.add(b.start.records); !added) return fail(added.error());
  auto inputs = read_inputs(texts_of(b));
  if (!inputs) return fail(inputs.error());
  if (believed == Believed::shipped) inputs->kitchen.learned.reset();
  if (inputs->recipe.want.given() == 0) inputs->recipe.want.dry = kilograms(1);
  auto setup = resolve(inputs->recipe, inputs->kitchen, catalogue);
  if (!setup) return fail(setup.error());
  if (believed == Believed::then) put_beliefs(*setup, b.start);
  auto batch = plan_batch(std::move(*setup));
  if (!batch) return fail(batch.error());
  put_amounts(batch->setup, b.start);
  batch->plan = plan(batch->setup.job, batch->theta);
  if (!batch->plan.whole()) return fail(explain(batch->plan, batch->setup));
  return batch;
}

}  // namespace curdwright
