// SPDX-License-Identifier: MIT
#include "sheets/step_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace curdwright::sheets {
namespace {

bool shown_in_step(const Caution& c) { return !c.standing || c.said == Said::in_step || c.said == Said::outlasting; }

}  // namespace

const Task* task_of(const Kitchenful& k, Step step) {
  for (const Task& t : k.tasks)
    if (t.step == step) return &t;
  return nullptr;
}

SheetWeighing expected(const Kitchenful& k, Figure f, std::string what) {
  const Mass m = grams(value(k.plan(), f));
  std::string note = k.ranges ? k.say.between(grams(k.ranges->of(f).low), grams(k.ranges->of(f).high)) : "";
  if (const std::string more = weighings(m, k.setup().kitchen); !more.empty()) note += (note.empty() ? "" : ", ") + more;
  const auto measures = all_measurables();
  const auto measure = std::find_if(measures.begin(), measures.end(), [f](const Measurable& of) { return of.observes == f; });
  return {{k.say.about(m), std::move(what), std::move(note)}, measure != measures.end() ? measure->word : std::string_view(), times_weighed(m, k.setup().kitchen)};
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

void warn_of_raw_poison(const Kitchenful& k, SheetStep& step) {
  if (!k.setup().any(Hazard::kidney_lectin)) return;
  // It forbids to taste, too.
  std::erase_if(step.before, [](const Caution& c) { return c.rule == "L6"; });
  step.before.push_back({"P17", Severity::warn, step.stage, true, "Raw, these beans are poisonous: taste nothing, and wash hands, jar, cloth and buckets with hot water and soap.", Said::outlasting});
}

void warn_here_too(const Kitchenful& k, SheetStep& step, std::string_view rule) {
  for (const Caution& c : k.cautions)
    if (c.rule == rule) {
      step.before.push_back(c);
      step.before.back().text = k.say.in_units(c.text);
    }
}

bool names_allergens(const Caution& c) { return c.said == Said::allergen_list; }

std::string extras_here(const Kitchenful& k, Stage stage) {
  std::vector<std::string> each;
  for (std::size_t i = 0; i < k.job().extra_count; ++i)
    if (k.job().extras[i].stage == stage) each.push_back(fmt::format("{} {}", extra_amount(k.batch, i, k.say), k.setup().extras[i].extra.kitchen_name));
  std::string all;
  for (std::size_t i = 0; i < each.size(); ++i) all += (i == 0 ? "" : i + 1 == each.size() ? " and " : ", ") + each[i];
  return all;
}

std::string shared_out(int n, std::string_view over) { return n > 1 ? fmt::format(", shared out over {} {}", n, over) : ""; }

int times_weighed(Mass m, const Kitchen& k) { return static_cast<int>(std::clamp(std::ceil(m / k.coarse_scale.capacity - 1e-9), 1.0, 1e9)); }

std::string weighings(Mass m, const Kitchen& k) {
  const int n = times_weighed(m, k);
  return n > 1 ? fmt::format("in {} weighings", n) : "";
}

std::string_view raw_label(const Kitchenful& k) {
  switch (boil_of(k.setup().legumes)) {
    case Boil::rolling: return "RAW BEAN, POISONOUS: rolling boil 30 min or more, or bin";
    case Boil::uncovered: return "RAW LIMA BEAN: boil hard 15 min or more, lid off";
    case Boil::simmer: break;
  }
  return "raw, cook first";
}

}  // namespace curdwright::sheets
