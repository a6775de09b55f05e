// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/schedule.hpp"
#include "curdwright/settling.hpp"
#include "text/spoken.hpp"
#include "trouble_words.hpp"

namespace curdwright::trouble {
namespace {

using F = TroubleFigure;
using Answer = std::optional<Filling>;

/// Judgements: a top-up that is kept back but for so much is there, for the dose poured was rounded too; room for less
/// than so much of one is none; a scale that misses it by more is passed over.
constexpr double rounding = 0.05, worth_pouring = 0.2, scale_may_miss = 0.25;

// --- in words ---------------------------------------------------------------------------------------

const Scale& scale_for(const View& v, Mass m) { return m <= v.setup().kitchen.fine_scale.capacity ? v.setup().kitchen.fine_scale : v.setup().kitchen.coarse_scale; }

/// Expected, or not so particular.
Answer about(Mass m) { return Filling{text::about(m), m, {}, {}}; }

/// To be weighed: as the scale shows it, if it can.
Answer weighed(const View& v, Mass m) {
  const double steps = m / scale_for(v, m).step;
  if (std::abs(steps - std::round(steps)) > 1e-6) return about(m);
  return Filling{text::fixed(in_grams(m), text::digits_of(in_grams(scale_for(v, m).step))) + " g", m, {}, {}};
}

Answer at(Temperature t) { return Filling{fmt::format("{:.0f} degC", in_celsius(t)), {}, t, {}}; }

Answer lasting(Duration d) {
  return Filling{text::duration(d), {}, {}, d};
}

Answer told(std::string text) { return Filling{std::move(text), {}, {}, {}}; }
Answer percent(double share) { return told(fmt::format("{:.{}f} %", 100 * share, share < 0.095 ? 1 : 0)); }

// --- other plans ------------------------------------------------------------------------------------

/// The same job with a dose by the rule, unless the recipe tells its amount.
Job dosed_anew(const View& v) {
  Job j = v.job();
  j.coagulate.used = v.setup().recipe.coagulate.amount;
  return j;
}

Mass again_water(const View& v) { return grams(v.figure(F::again_water)) * v.job().blend.jarfuls; }

/// The plan with one more washing of the pulp.
std::optional<Plan> washed(const View& v, Duration blend) {
  Job j = dosed_anew(v);
  if (j.strain.wash_count >= StrainSettings::max_washes) return std::nullopt;
  j.strain.washes[j.strain.wash_count++] = {again_water(v) / j.dry, blend};
  const Plan p = plan(j, v.batch.theta);
  return has_masses(p) ? std::optional(p) : std::nullopt;
}

Answer gained(const View& v, Duration blend, Figure f) {
  const auto more = washed(v, blend);
  return more ? about(grams(std::max(0.0, value(*more, f) - value(v.plan(), f)))) : std::nullopt;
}

Answer protein_gained(const View& v, Duration blend) {
  const auto more = washed(v, blend);
  const auto in_milk = [](const Plan& p) { return p.strained.milk.of[Component::protein]; };
  return more ? about(kilograms(std::max(0.0, in_milk(*more) - in_milk(v.plan())))) : std::nullopt;
}

Answer dose_then(const View& v, Duration blend) {
  const auto more = washed(v, blend);
  if (!more) return std::nullopt;
  const Mass m = kilograms(more->set.dose.used_kg);
  return weighed(v, grams(round_to(in_grams(m), in_grams(scale_for(v, m).step))));
}

/// Water of the block when pressed for longer, under a share of the pressure.
Answer moisture_then(const View& v, double pressure) {
  Job j = v.job();
  j.press.time *= v.figure(F::longer);
  j.press.pressure *= pressure;
  const Plan p = plan(j, v.batch.theta);
  return has_masses(p) ? percent(p.pressed.moisture) : std::nullopt;
}

Temperature gdl_bath(const View& v) {
  const Temperature now = v.job().coagulate.at;
  return std::max(now, std::min({now + kelvins(v.figure(F::gdl_warmer)), celsius(v.figure(F::gdl_top)), v.setup().boil}));
}

Answer hydrolysed_then(const View& v) {
  Job j = v.job();
  j.coagulate.at = gdl_bath(v);
  j.coagulate.wait += minutes(v.figure(F::gdl_wait));
  return percent(plan(j, v.batch.theta).set.hydrolysed);
}

Answer water_for_better_milk(const View& v) {
  Setup s = v.setup();
  choose_water(s);
  return told(fmt::format("{:.1f} kg", s.job.blend.water));
}

Answer ninety_five(const View& v) {
  const auto advice = settling_advice(v.batch);
  return advice && advice->ninety_five ? lasting(*advice->ninety_five) : std::nullopt;
}

// --- amounts of this plan ---------------------------------------------------------------------------

double per_pot(const View& v, double kg) { return kg / v.job().coagulate.pots; }

/// Down to what the scale shows, so that a limit is never passed; as it is where the scale is too coarse for that.
Mass shown_below(const View& v, double kg) {
  const double step = scale_for(v, kilograms(kg)).step.si(), shown = std::floor(kg / step + 1e-6) * step;
  return kilograms(shown >= kg * (1 - scale_may_miss) ? shown : kg);
}

Answer most_in_all(const View& v) {
  const double used = v.plan().set.dose.used_kg;
  const double tried = used * (1 + v.figure(F::tries) * v.figure(F::top_up));
  const double most = per_pot(v, std::min(tried, dose_most_kg(v)));
  const auto once = trouble::top_up(v);
  const Mass shown = shown_below(v, most), least = kilograms(per_pot(v, used)) + once.value_or(kilograms(0));
  return weighed(v, shown >= least * (1 - 1e-9) ? shown : kilograms(most));
}

Answer mix_of(const View& v, double more_water) {
  const auto m = top_up(v);
  return m ? about(*m * (more_water + v.job().coagulate.mix_water_kg_kg)) : std::nullopt;
}

Answer share_of_dose(const View& v) {
  const double kg = v.plan().cooked.milk.of.total_kg();
  return kg > 0 ? told(fmt::format("{:.3g} g", 1e3 * v.plan().set.dose.used_kg / kg)) : std::nullopt;
}

/// What the cooking time is counted from.
Answer boiling(const View& v) {
  return told(std::string(word(boil_of(v.setup().legumes))));
}

Duration full_blend(const View& v) { return v.job().blend.full_time; }

using enum SlotKind;
constexpr std::array table = {
    Slot{"coagulant", words, "coagulant", [](const View& v) { return told(v.setup().coagulant.kitchen_name); }, nullptr},
    Slot{"each_pot", words, "", [](const View& v) { return told(v.job().coagulate.pots > 1 ? " in each pot" : ""); }, nullptr},
    Slot{"tries", words, "", nullptr, [](const Troubles& t) { return told(fmt::format("{:.0f}", t[F::tries])); }},
    // blending and straining
    Slot{"again_water", mass, "", nullptr, [](const Troubles& t) { return about(grams(t[F::again_water])); }},
    Slot{"again_water_all", mass, "as much for every jarful", [](const View& v) { return about(again_water(v)); }, nullptr},
    Slot{"again_blend", duration, "as long as a full blending", [](const View& v) { return lasting(full_blend(v)); }, nullptr},
    Slot{"again_protein", mass, "some", [](const View& v) { return protein_gained(v, full_blend(v)); }, nullptr},
    Slot{"again_curd", mass, "some", [](const View& v) { return gained(v, full_blend(v), Figure::curd_mass); }, nullptr},
    Slot{"again_dose", mass, "more", [](const View& v) { return dose_then(v, full_blend(v)); }, nullptr},
    Slot{"rinse_protein", mass, "some", [](const View& v) { return protein_gained(v, seconds(0)); }, nullptr},
    Slot{"rinse_curd", mass, "some", [](const View& v) { return gained(v, seconds(0), Figure::curd_mass); }, nullptr},
    Slot{"rinse_dose", mass, "more", [](const View& v) { return dose_then(v, seconds(0)); }, nullptr},
    Slot{"warm_grind", temperature, "", nullptr, [](const Troubles& t) { return at(celsius(t[F::warm_grind])); }},
    Slot{"drain_rest", duration, "", nullptr, [](const Troubles& t) { return lasting(minutes(t[F::drain_rest])); }},
    Slot{"raw_stand", duration, "", nullptr, [](const Troubles&) { return lasting(raw_milk_may_stand); }},
    // starch
    Slot{"settle_longer", duration, "until 95 % of what can settle is down", ninety_five, nullptr},
    Slot{"settle_more", duration, "", nullptr, [](const Troubles& t) { return lasting(minutes(t[F::settle_more])); }},
    Slot{"starch_left", words, "a share", [](const View& v) { return percent(value(v.plan(), Figure::starch_left)); }, nullptr},
    // cooking
    Slot{"hold", duration, "planned time", [](const View& v) { return lasting(v.job().cook.hold); }, nullptr},
    Slot{"boiling", words, "full simmer or boil", boiling, nullptr},
    Slot{"milk_cooked", mass, "a weight", [](const View& v) { return about(v.plan().cooked.milk.mass()); }, nullptr},
    Slot{"dose_per_kg", words, "the dose", share_of_dose, nullptr},
    Slot{"pot_fill", words, "a share", [](const View& v) { return percent(volume_at_20(v.plan().destarched.milk.of) / v.job().cook.pots / v.setup().pot.volume); }, nullptr},
    // setting
    Slot{"top_up", mass, "a quarter of the dose", [](const View& v) { const auto m = top_up(v); return m ? weighed(v, *m) : std::nullopt; }, nullptr},
    Slot{"top_up_mix", mass, "a quarter of what was poured", [](const View& v) { return mix_of(v, 1); }, nullptr},
    Slot{"top_up_water", mass, "its share", [](const View& v) { return mix_of(v, 0); }, nullptr},
    Slot{"top_up_wait", duration, "", nullptr, [](const Troubles& t) { return lasting(minutes(t[F::top_up_wait])); }},
    Slot{"most_dose", mass, "the top of the dose window", most_in_all, nullptr},
    Slot{"rule_dose", mass, "the dose of the rule", [](const View& v) { return weighed(v, shown_below(v, per_pot(v, dose_by_rule_kg(v)))); }, nullptr},
    Slot{"strength", words, "a strength", [](const View& v) { return told(fmt::format("{:.0f} mmol per litre", in_millimolar(v.plan().set.dose.strength))); }, nullptr},
    Slot{"pour_temperature", temperature, "the temperature of the pour", [](const View& v) { return at(v.job().coagulate.at); }, nullptr},
    Slot{"cool_below", temperature, "", nullptr, [](const Troubles& t) { return at(celsius(t[F::cool_below])); }},
    Slot{"wait", duration, "the planned wait", [](const View& v) { return lasting(v.job().coagulate.wait); }, nullptr},
    Slot{"longer_wait", duration, "", nullptr, [](const Troubles& t) { return lasting(minutes(t[F::longer_wait])); }},
    Slot{"stir_again", duration, "", nullptr, [](const Troubles& t) { return lasting(minutes(t[F::stir_again])); }},
    Slot{"milk_protein", words, "a share", [](const View& v) { return percent(value(v.plan(), Figure::cooked_protein)); }, nullptr},
    Slot{"better_water", words, "less", water_for_better_milk, nullptr},
    Slot{"unset", words, "a share", [](const View& v) { return percent(1 - v.plan().set.setting_protein); }, nullptr},
    Slot{"gdl_warmer", temperature, "5 degC more", [](const View& v) { return at(gdl_bath(v)); }, nullptr},
    Slot{"gdl_wait", duration, "", nullptr, [](const Troubles& t) { return lasting(minutes(t[F::gdl_wait])); }},
    Slot{"hydrolysed", words, "a share", [](const View& v) { return percent(v.plan().set.hydrolysed); }, nullptr},
    Slot{"hydrolysed_then", words, "more", hydrolysed_then, nullptr},
    Slot{"cube", words, "", nullptr, [](const Troubles& t) { return told(fmt::format("{:.0f} cm", t[F::cube])); }},
    Slot{"hot_hold", temperature, "", nullptr, [](const Troubles& t) { return at(celsius(t[F::hot_hold])); }},
    Slot{"warm_curd", duration, "", nullptr, [](const Troubles& t) { return lasting(hours(t[F::warm_curd])); }},
    // pressing
    Slot{"press_weight", mass, "the planned weight", [](const View& v) { return about(press_weight(v.job().press)); }, nullptr},
    Slot{"light_weight", mass, "half the planned weight", [](const View& v) { return about(press_weight(v.job().press) * v.figure(F::light)); }, nullptr},
    Slot{"longer_press", duration, "twice the planned time", [](const View& v) { return lasting(v.job().press.time * v.figure(F::longer)); }, nullptr},
    Slot{"moisture", words, "a share", [](const View& v) { return percent(v.plan().pressed.moisture); }, nullptr},
    Slot{"longer_moisture", words, "less", [](const View& v) { return moisture_then(v, 1); }, nullptr},
    Slot{"light_moisture", words, "a share", [](const View& v) { return moisture_then(v, v.figure(F::light)); }, nullptr},
    Slot{"block", mass, "the weight of a block", [](const View& v) { return weighed(v, v.plan().block); }, nullptr},
};

/// Calls `text` for what stands between slots and `slot` for each name.
template <class Text, class Name>
void walk(std::string_view sentence, Text text, Name name) {
  for (;;) {
    const auto open = sentence.find('{');
    const auto close = open == std::string_view::npos ? open : sentence.find('}', open);
    text(sentence.substr(0, close == std::string_view::npos ? sentence.size() : open));
    if (close == std::string_view::npos) return;
    name(sentence.substr(open + 1, close - open - 1));
    sentence.remove_prefix(close + 1);
  }
}

}  // namespace

double dose_by_rule_kg(const View& v) {
  CoagulateSettings s = v.job().coagulate;
  s.used.reset();
  s.dose.reset();
  return coagulant_dose(v.plan().cooked.milk, v.plan().ground.dose_mmol_g, s, v.batch.theta).used_kg;
}

double dose_most_kg(const View& v) {
  if (v.job().coagulate.kind != CoagulantKind::salt) return v.figure(F::acid_most) * dose_by_rule_kg(v);
  CoagulateSettings s = v.job().coagulate;
  s.used.reset();
  s.dose.reset();
  constexpr double beyond_any_window = 1e6;  // mmol/g: the rule then holds it at the top
  return coagulant_dose(v.plan().cooked.milk, beyond_any_window, s, v.batch.theta).used_kg;
}

std::optional<Mass> top_up(const View& v) {
  if (v.job().coagulate.kind == CoagulantKind::lactone) return std::nullopt;
  const double used = v.plan().set.dose.used_kg;
  const Mass quarter = kilograms(per_pot(v, used * v.figure(F::top_up))), room = kilograms(per_pot(v, dose_most_kg(v) - used));
  const Mass wanted = std::min(quarter, room);
  if (!(wanted.si() > 0) || wanted < quarter * worth_pouring) return std::nullopt;
  const Mass nearest = grams(round_to(in_grams(wanted), in_grams(scale_for(v, quarter).step)));
  const Mass shown = nearest <= room ? nearest : shown_below(v, room.si());
  return std::abs(shown / wanted - 1) <= scale_may_miss ? shown : wanted;
}

bool kept_back(const View& v) {
  const double made_up = v.job().coagulate.make_up, spare_kg = (made_up - 1) * v.plan().set.dose.used_kg;
  const auto due = top_up(v);
  return due ? spare_kg >= due->si() * v.job().coagulate.pots * (1 - rounding) : made_up > 1;
}

std::span<const Slot> all_slots() { return table; }

const Slot* find_slot(std::string_view key) {
  const auto* s = std::find_if(table.begin(), table.end(), [key](const Slot& x) { return x.key == key; });
  return s == table.end() ? nullptr : s;
}

std::vector<std::string_view> slots_of(std::string_view sentence) {
  std::vector<std::string_view> all;
  walk(sentence, [](std::string_view) {}, [&](std::string_view name) { all.push_back(name); });
  return all;
}

std::optional<std::string> filled(std::string_view sentence, const View& view) {
  std::string all;
  bool whole = true;
  walk(sentence, [&](std::string_view text) { all += text; }, [&](std::string_view name) {
    const Slot* slot = find_slot(name);
    const auto filling = slot ? slot->fill(view) : std::nullopt;
    whole = whole && filling;
    if (filling) all += filling->words;
  });
  return whole ? std::optional(all) : std::nullopt;
}

}  // namespace curdwright::trouble

namespace curdwright {

std::string unfilled(std::string_view sentence, const Troubles& troubles) {
  std::string all;
  trouble::walk(sentence, [&](std::string_view text) { all += text; }, [&](std::string_view name) {
    const trouble::Slot* slot = trouble::find_slot(name);
    if (slot && slot->of_table) all += slot->of_table(troubles)->words;
    if (slot && !slot->plain.empty()) all += fmt::format("[{}]", slot->plain);
  });
  return all;
}

}  // namespace curdwright
