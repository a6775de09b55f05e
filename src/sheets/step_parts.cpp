// SPDX-License-Identifier: MIT
#include "sheets/step_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace curdwright::sheets {
namespace {

/// Rules that the sheet says in its own place: top box, ticks, left-overs, keeping, or the action itself.
constexpr std::array<std::string_view, 14> said_elsewhere = {"H9", "K1", "L13", "H3", "H4", "H5", "K13", "K14", "T1", "G1", "G2", "G3", "G4", "G5"};

bool shown_in_step(const Caution& c) {
  if (!c.standing) return true;
  return std::find(said_elsewhere.begin(), said_elsewhere.end(), c.rule) == said_elsewhere.end();
}

}  // namespace

const Task* task_of(const Kitchenful& k, Step step) {
  for (const Task& t : k.tasks)
    if (t.step == step) return &t;
  return nullptr;
}

SheetAmount expected(const Kitchenful& k, Figure f, std::string what) {
  const Mass m = grams(value(k.plan(), f));
  std::string note = k.ranges ? k.say.between(grams(k.ranges->of(f).low), grams(k.ranges->of(f).high)) : "";
  if (const std::string more = weighings(m, k.setup().kitchen); !more.empty()) note += (note.empty() ? "" : ", ") + more;
  return {k.say.about(m), std::move(what), std::move(note)};
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
  step.before.push_back({"P17", Severity::warn, step.stage, true, "Raw, these beans are poisonous: taste nothing, and wash hands, jar, cloth and buckets with hot water and soap."});
}

void warn_here_too(const Kitchenful& k, SheetStep& step, std::string_view rule) {
  for (const Caution& c : k.cautions)
    if (c.rule == rule) {
      step.before.push_back(c);
      step.before.back().text = k.say.in_units(c.text);
    }
}

bool names_allergens(const Caution& c) { return c.rule.size() == 2 && c.rule >= "G1" && c.rule <= "G4"; }

std::string many(int n, std::string_view one, std::string_view more) { return fmt::format("{} {}", n, n == 1 ? one : more); }

std::string extras_here(const Kitchenful& k, Stage stage) {
  std::vector<std::string> each;
  for (std::size_t i = 0; i < k.job().extra_count; ++i)
    if (k.job().extras[i].stage == stage) each.push_back(fmt::format("{} {}", extra_amount(k.batch, i, k.say), k.setup().extras[i].extra.kitchen_name));
  std::string all;
  for (std::size_t i = 0; i < each.size(); ++i) all += (i == 0 ? "" : i + 1 == each.size() ? " and " : ", ") + each[i];
  return all;
}

std::string shared_out(int n, std::string_view over) { return n > 1 ? fmt::format(", shared out over {} {}", n, over) : ""; }

std::string weighings(Mass m, const Kitchen& k) {
  const double n = std::ceil(m / k.coarse_scale.capacity - 1e-9);
  return n > 1 ? fmt::format("in {:.0f} weighings", n) : "";
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
