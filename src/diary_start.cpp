// SPDX-License-Identifier: MIT
// What the diary keeps of a plan, so that no later version has to plan it again to show, compare or learn.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "curdwright/cautions.hpp"
#include "curdwright/cost.hpp"
#include "curdwright/diary.hpp"
#include "curdwright/properties.hpp"
#include "curdwright/version.hpp"
#include "text/spoken.hpp"

namespace curdwright {
namespace {

using Json = nlohmann::ordered_json;

// --- amounts, figures, beliefs --------------------------------------------------------------------

std::vector<DiaryAmount> planned_of(const Batch& b) {
  const Job& j = b.setup.job;
  const Plan& p = b.plan;
  std::vector<DiaryAmount> all;
  const auto add = [&](std::string word, double value, std::string unit) { all.push_back({std::move(word), "", value, std::move(unit)}); };
  for (std::size_t i = 0; i < b.setup.legumes.size(); ++i) all.push_back(DiaryAmount{"dry", b.setup.legumes[i].id, p.dry.si() * j.seeds[i].share, "kg"});
  add("soak-water", p.dry.si() * j.soak.water_to_dry * (1 + j.soak.changes), "kg");
  add("soak-time", j.soak.time.si(), "s"), add("soak-room", j.soak.surroundings.si(), "K");
  add("blend-water", p.water.grinding_kg, "kg"), add("blend-time", j.blend.time.si(), "s"), add("jarfuls", j.blend.jarfuls, "");
  if (p.strained.wash_kg > 0) add("wash-water", p.strained.wash_kg, "kg");
  if (j.starch.settles()) add("settling-vessels", j.starch.vessels, ""), add("stood", j.starch.time.si(), "s"), add("depth", p.destarched.depth.si(), "m");
  add("pots", j.cook.pots, ""), add("hold", j.cook.hold.si(), "s"), add("pour", j.coagulate.at.si(), "K");
  add("coagulant", p.set.dose.used_kg, "kg"), add("coagulant-made-up", coagulant_made_up(b).si(), "kg"), add("mix-water", mix_water(b).si(), "kg");
  add("wait", j.coagulate.wait.si(), "s");
  if (!j.press.moisture) add("press-weight", press_weight(j.press).si(), "kg");
  add("press-time", j.press.time.si(), "s"), add("block", p.block.si(), "kg");
  return all;
}

/// What can be measured, and what comes out.
bool is_kept(const FigureInfo& f) {
  if (f.group != FigureGroup::stage || f.figure == Figure::settled) return true;
  return std::any_of(all_measurables().begin(), all_measurables().end(), [&](const Measurable& m) { return m.observes == f.figure; });
}

std::vector<DiaryFigure> figures_of(const Batch& b) {
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, sample_for(b.setup.beliefs));
  std::vector<DiaryFigure> all;
  for (const FigureInfo& f : all_figures())
    if (const double v = value(b.plan, f.figure); is_kept(f) && std::isfinite(v)) all.push_back({std::string(f.key), v, r.of(f.figure).low, r.of(f.figure).high});
  return all;
}

std::vector<DiaryBelief> beliefs_of(const Setup& s) {
  std::vector<DiaryBelief> all;
  for (const Belief& b : s.beliefs.all())
    all.push_back({std::string(info(b.param).key), b.scope == Scope::legume ? s.legumes[b.legume].id : "", b.median, b.spread});
  return all;
}

// --- leftovers as records -------------------------------------------------------------------------

/// As many digits as a planned figure is worth.
double six_digits(double v) { return text::to_digits(v, 6); }

/// A range as wide as such a figure may be off, on the scale of its link.
Json figure_json(double value, std::string_view unit, Link link, double by, const std::string& note) {
  const double whole = unit == "g/100g" ? 100 : 1, at = to_link(link, value / whole);
  return {{"value", value}, {"range", {six_digits(from_link(link, at - by) * whole), six_digits(from_link(link, at + by) * whole)}}, {"unit", unit}, {"known", word(Known::derived)}, {"source", "judgement"}, {"note", note}};
}

Json composition_json(const Composition& of) {
  constexpr double least = 0.005, spread = 0.25;  // g per 100 g that are worth telling; of the share's logit: judgement
  Json parts = Json::object();
  for (std::size_t i = 0; i < component_count; ++i)
    if (const double g = six_digits(100 * of.kg[i] / of.total_kg()); g >= least && g < 99.99) parts[std::string(word(all_components[i]))] = figure_json(g, "g/100g", Link::logit, spread, "As the batch was planned.");
  return parts;
}

std::string extra_record(const Batch& b, const Stream& of, std::string_view name, const std::vector<Stage>& stages, std::string note) {
  std::vector<std::string> allergens;
  std::string names;
  for (const Legume& l : b.setup.legumes) {
    names += (names.empty() ? "" : " and ") + l.kitchen_name;
    for (const std::string& a : l.allergens)
      if (std::find(allergens.begin(), allergens.end(), a) == allergens.end()) allergens.push_back(a);
  }
  for (const ChosenExtra& e : b.setup.extras)
    for (const std::string& a : e.extra.allergens)
      if (std::find(allergens.begin(), allergens.end(), a) == allergens.end()) allergens.push_back(a);
  Json j = {{"schema", "curdwright.extra/1"}, {"id", ""}, {"name", ""}, {"kitchen_name", fmt::format("{} of {}", name, names)}, {"also", Json::array()}, {"grade", "left over from a batch of your own"}};
  j["composition"] = composition_json(of.of);
  const double kg = of.mass().si(), room = of.of[Component::ash] + of.of[Component::salts];
  const Minerals& m = of.minerals;
  // Minerals that the salts hardly hold are left out: the reader refuses what does not add up.
  if (m.calcium_kg > 0 && m.calcium_kg + m.sodium_kg < 0.9 * room) j["calcium"] = figure_json(six_digits(1e5 * m.calcium_kg / kg), "mg/100g", Link::log, 0.3, "As the batch was planned.");
  j["allergens"] = allergens, j["stages"] = words_of(stages), j["cautions"] = Json::array(), j["notes"] = {std::move(note)};
  return j.dump();
}

/// The mix as a liquid coagulant, with what it holds in a litre.
std::string mix_record(const Batch& b) {
  const Coagulant& c = b.setup.coagulant;
  const CoagulateSettings& k = b.setup.job.coagulate;
  const double water_kg = k.mix_water_kg_kg;
  Composition solid;
  solid[Component::water] = 1 - k.solute_kg_kg, solid[Component::salts] = k.solute_kg_kg;
  const double own_l = c.density ? 1 / c.density->value : in_litres(volume_at_20(solid));
  const double litres = own_l + 1e3 * water_kg / water_density(celsius(20)).si();
  const auto kept = [](const Evidence& e) { return Json{{"value", e.value}, {"range", {e.low, e.high}}, {"unit", e.unit}, {"known", word(e.known)}, {"source", e.source}}; };
  Json j = {{"schema", "curdwright.coagulant/1"}, {"id", ""}, {"name", ""}, {"kitchen_name", "kept-back mix of " + c.kitchen_name}, {"also", Json::array()}, {"kind", word(c.kind)}, {"form", word(CoagulantForm::liquid)}, {"ion", word(c.ion)}, {"grade", c.grade}, {"e_number", c.e_number}};
  j["molar_mass"] = kept(c.molar_mass);
  constexpr double strength_spread = 0.1, density_spread = 0.03;  // of the logarithm: judgement, for a mix weighed in a kitchen
  j["strength"] = figure_json(six_digits(k.active_mol_kg / litres), "mol/l", Link::log, strength_spread, "As it was mixed.");
  j["density"] = figure_json(six_digits((1 + water_kg) / litres), "kg/l", Link::log, density_spread, "As it was mixed.");
  if (c.dose) j["dose"] = kept(*c.dose);
  j["mix_water"] = figure_json(0.01, "kg/kg", Link::log, 1, "It is mixed already.");
  j["teaspoon"] = figure_json(six_digits(5 * (1 + water_kg) / litres), "g", Link::log, 0.1, "Five millilitres.");
  j["at"] = fmt::format("{:g} degC", in_celsius(c.at)), j["wait"] = fmt::format("{:g} min", in_minutes(c.wait));
  j["make_up"] = 1.0, j["pour"] = word(c.pour), j["metal_reacts"] = c.metal_reacts, j["cautions"] = c.cautions;
  j["notes"] = {c.pour == PourWay::at_once ? "Stir it up before it is weighed: most of it lies on the ground." : "Stir it before it is weighed."};
  return j.dump();
}

// --- leftovers ------------------------------------------------------------------------------------

std::vector<std::string> said(const std::vector<Caution>& all, std::initializer_list<std::string_view> rules) {
  std::vector<std::string> texts;
  for (const Caution& c : all)
    if (std::find(rules.begin(), rules.end(), c.rule) != rules.end()) texts.push_back(c.text);
  return texts;
}

Duration first_start(const Timeline& t, Step step) {
  Duration first = t.end();
  for (const Operation& o : t.operations)
    if (o.step() == step) first = std::min(first, o.start);
  return first;
}

std::vector<DiaryLeftover> leftovers_of(const Batch& b, const Facts& facts, const std::vector<Caution>& care) {
  std::vector<DiaryLeftover> all;
  const Plan& p = b.plan;
  const Duration strained = first_start(facts.timeline, Step::strain), pressed = first_start(facts.timeline, Step::press), set = first_start(facts.timeline, Step::set);
  // A shorter boil in another recipe would leave the poison in it.
  const bool poisonous = raw_is_poisonous(b.setup.legumes);
  const std::string never = poisonous ? "raw it is as poisonous as the bean, and another recipe may boil it for too short a time" : "";
  const auto raw = [&](LeftKind what, const Stream& s, const std::vector<Stage>& stages) {
    if (s.mass() < grams(1)) return;
    std::string record = poisonous ? "" : extra_record(b, s, kitchen_words(what), stages, "Raw: it must go through the boil, within two days or frozen.");
    all.push_back({what, s.mass().si(), strained, raw_leftovers_keep_days, said(care, {"H3", "L13"}), std::move(record), never});
  };
  raw(LeftKind::pulp, p.strained.pulp, {Stage::cook, Stage::blend});
  raw(LeftKind::starch_layer, p.destarched.sediment, {Stage::cook});
  if (p.pressed.whey.mass() >= grams(1))
    all.push_back({LeftKind::whey, p.pressed.whey.mass().si(), pressed, whey_keeps_days, said(care, {"H4"}), extra_record(b, p.pressed.whey, kitchen_words(LeftKind::whey), {Stage::blend, Stage::cook}, "Cooked, and perishable: use it within two days."), ""});
  const CoagulateSettings& k = b.setup.job.coagulate;
  if (const double mix = p.set.dose.used_kg * (k.make_up - 1) * (1 + k.mix_water_kg_kg); mix > 1e-4) {
    const bool lactone = k.kind == CoagulantKind::lactone;
    all.push_back({LeftKind::coagulant, mix, set, coagulant_mix_keeps_days, said(care, {"H5"}), lactone ? "" : mix_record(b), lactone ? "in water it turns to acid by itself, so its strength is not known" : ""});
  }
  return all;
}

}  // namespace

DiaryStart start_of(const Batch& b, StartInputs in) {
  DiaryStart s;
  const Facts facts = facts_of(b);
  const auto care = cautions(facts);
  s.title = title_of(b.setup);
  for (const Legume& l : b.setup.legumes) s.legumes.push_back(l.id);
  s.program = program_version, s.data = data_version, s.model = model_version;
  s.recipe = std::move(in.recipe), s.recipe_file = std::move(in.recipe_file);
  s.kitchen = std::move(in.kitchen), s.kitchen_file = std::move(in.kitchen_file);
  s.set = std::move(in.set), s.records = std::move(in.records);
  s.beliefs = beliefs_of(b.setup), s.planned = planned_of(b), s.figures = figures_of(b);
  if (const auto c = cost(b, prices_of(b.setup.kitchen)); c && c->sums) s.money = DiaryMoney{c->currency, c->sums->total, c->sums->per_block};
  s.made_after = first_start(facts.timeline, Step::set);
  s.last_day = last_day(b);
  s.leftovers = leftovers_of(b, facts, care);
  return s;
}

LeftRecord left_record(const DiaryBatch& b, const DiaryLeftover& l) {
  if (l.record.empty()) return {};
  Json j = Json::parse(l.record, nullptr, false);
  if (!j.is_object()) return {};
  const std::string id = fmt::format("{}-{}", word(l.what), b.id);
  std::string name(kitchen_words(l.what));
  name[0] = static_cast<char>(name[0] - 'a' + 'A');
  j["id"] = id, j["name"] = fmt::format("{} kept from {}", name, b.id);
  return {fmt::format("{}/{}.json", l.what == LeftKind::coagulant ? "coagulants" : "extras", id), j.dump(2) + "\n"};
}

}  // namespace curdwright
