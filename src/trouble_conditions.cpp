// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>

#include "curdwright/properties.hpp"
#include "curdwright/safety.hpp"
#include "curdwright/settling.hpp"
#include "trouble_words.hpp"

namespace curdwright::trouble {
namespace {

using F = TroubleFigure;

bool is_salt(const View& v) { return v.job().coagulate.kind == CoagulantKind::salt; }
bool is_gdl(const View& v) { return v.job().coagulate.kind == CoagulantKind::lactone; }
bool has_room(const View& v) { return top_up(v).has_value(); }
bool low(const View& v) { return v.plan().set.dose.used_kg < v.figure(F::dose_short) * dose_by_rule_kg(v); }
bool high(const View& v) { return v.plan().set.dose.used_kg > v.figure(F::dose_over) * dose_by_rule_kg(v); }
bool dissolves(const View& v) {
  const Concentration c = v.plan().set.dose.strength;
  return is_salt(v) && c > v.job().coagulate.window_high && salt_sets(c) < v.figure(F::dissolved_below);
}
bool gdl_is_slow(const View& v) { return is_gdl(v) && v.plan().set.hydrolysed < v.figure(F::gdl_done); }
bool starch_high(const View& v) { return value(v.plan(), Figure::starch_left) > v.figure(F::starch_thickens); }
bool settles(const View& v) { return v.job().starch.settles(); }
bool longer_helps(const View& v) {
  const auto advice = settling_advice(v.batch);
  return advice && advice->ninety_five && *advice->ninety_five > v.job().starch.time;
}
bool settles_short(const View& v) {
  const auto advice = settling_advice(v.batch);
  return advice && advice->planned < v.figure(F::settled_enough);
}
bool soak_is_short(const View& v) {
  Job j = v.job();
  j.soak.time *= 2;
  return plan(j, v.batch.theta).uptake_kg > v.plan().uptake_kg * (1 + v.figure(F::soak_gain));
}
bool pot_nearly_full(const View& v) {
  const Volume milk = volume_at_20(v.plan().destarched.milk.of) / v.job().cook.pots;
  return milk / v.setup().pot.volume > v.figure(F::pot_near);
}
bool none_is_soy(const View& v) {
  return std::none_of(v.setup().legumes.begin(), v.setup().legumes.end(), [](const Legume& l) { return l.kind == SeedKind::soy; });
}
bool by_moisture(const View& v) { return v.job().press.moisture.has_value(); }

constexpr std::array table = {
    Condition{"always", "", [](const View&) { return true; }},
    Condition{"kidney", "with beans that hold the kidney-bean poison", [](const View& v) { return v.setup().any(Hazard::kidney_lectin); }},
    Condition{"no-lectin", "with other legumes", [](const View& v) { return !v.setup().any(Hazard::kidney_lectin); }},
    Condition{"lima", "with lima beans", [](const View& v) { return v.setup().any(Hazard::lima_cyanide); }},
    Condition{"salt", "with a salt", is_salt},
    Condition{"gdl", "with GDL", is_gdl},
    Condition{"not-gdl", "with a salt or an acid", [](const View& v) { return !is_gdl(v); }},
    Condition{"kept-back", "with mix kept back", kept_back},
    Condition{"nothing-kept", "with no mix kept back", [](const View& v) { return !kept_back(v); }},
    Condition{"dose-room", "where more coagulant is still useful", has_room},
    Condition{"dose-top", "where the dose is at its top", [](const View& v) { return !is_gdl(v) && !has_room(v) && !dissolves(v); }},
    Condition{"dose-low", "where the dose is below the rule", low},
    Condition{"dose-high", "where the dose is above the rule", high},
    Condition{"dose-dissolves", "where so much salt dissolves curd", dissolves},
    Condition{"milk-cool", "where the pour leaves the milk cool", [](const View& v) { return !is_gdl(v) && v.plan().set.after_pouring < celsius(v.figure(F::cool_below)); }},
    Condition{"milk-hot", "where the milk is poured very hot", [](const View& v) { return v.job().coagulate.at > celsius(v.figure(F::hot_above)); }},
    Condition{"milk-thin", "where the milk holds little protein", [](const View& v) { return 100 * value(v.plan(), Figure::cooked_protein) < v.figure(F::thin_below); }},
    Condition{"wait-short", "where the wait is short", [](const View& v) { return v.job().coagulate.wait < minutes(v.figure(F::usual_wait)); }},
    Condition{"gdl-slow", "where GDL is not through", gdl_is_slow},
    Condition{"starchy", "with a starchy seed", [](const View& v) { return !v.setup().starch_poor; }},
    Condition{"starch-high", "where much starch is left in the milk", starch_high},
    Condition{"starch-low", "where little starch is left in the milk", [](const View& v) { return !starch_high(v); }},
    Condition{"settles", "where starch settles", settles},
    Condition{"no-settling", "where nothing settles", [](const View& v) { return !settles(v); }},
    Condition{"settle-short", "where the milk stands for a short time", settles_short},
    Condition{"settle-longer", "where longer standing brings more", longer_helps},
    Condition{"no-settle-longer", "where longer standing brings no more", [](const View& v) { return !longer_helps(v); }},
    Condition{"gel-strained", "where the starch is gelled and strained off", [](const View& v) { return v.job().starch.strains_gel(); }},
    Condition{"pulse", "with legumes other than soy", none_is_soy},
    Condition{"one-piece", "with soy", [](const View& v) { return !none_is_soy(v); }},
    Condition{"soak-short", "where a longer soak takes up more", soak_is_short},
    Condition{"soak-risky", "where germs can grow in the soak", [](const View& v) { return !(growth_log10(v.plan().soaking) <= 1.0); }},
    Condition{"blend-short", "where the blending is short", [](const View& v) { return v.job().blend.time < v.job().blend.full_time; }},
    Condition{"blend-long", "where the blending is long", [](const View& v) { return v.job().blend.time > v.job().blend.full_time * v.figure(F::blend_long); }},
    Condition{"blend-hot", "where the blending is warm", [](const View& v) { return v.plan().strained.milk.at > celsius(v.figure(F::warm_grind)); }},
    Condition{"wash-room", "unless four washes are planned", [](const View& v) { return v.job().strain.wash_count < StrainSettings::max_washes; }},
    Condition{"pot-full", "where the pot is nearly as full as it may be", pot_nearly_full},
    Condition{"press-by-time", "when pressed for a time", [](const View& v) { return !by_moisture(v); }},
    Condition{"press-by-moisture", "when pressed to a weight", by_moisture},
    Condition{"press-hard", "where the press is hard", [](const View& v) { return v.job().press.pressure > kilopascals(v.figure(F::press_hard)); }},
    Condition{"magnesium", "with magnesium", [](const View& v) { return v.job().coagulate.ion == Ion::magnesium; }},
};

}  // namespace

std::span<const Condition> all_conditions() { return table; }

const Condition* find_condition(std::string_view key) {
  const auto* c = std::find_if(table.begin(), table.end(), [key](const Condition& x) { return x.key == key; });
  return c == table.end() ? nullptr : c;
}

bool all_hold(const std::vector<std::string>& keys, const View& view) {
  return std::all_of(keys.begin(), keys.end(), [&](const std::string& key) { return find_condition(key)->holds(view); });
}

}  // namespace curdwright::trouble

namespace curdwright {

std::string_view condition_words(std::string_view key) {
  const auto* c = trouble::find_condition(key);
  return c ? c->plain : std::string_view{};
}

}  // namespace curdwright
