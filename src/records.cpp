// SPDX-License-Identifier: MIT
#include "records.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "record_reading.hpp"

namespace curdwright {
namespace {

using json::Fields;

constexpr const auto& part_words = word_list<Component>;

/// What each record of a food or a salt begins with.
template <class Text>
void describe_names(Fields& f, Text& t, std::vector<std::string>& also, std::string_view schema, std::string_view kitchen_name) {
  std::optional<std::string> ignored;
  f.text("$schema", ignored, json::max_text, "where an editor finds the schema");
  text_due(f, "schema", t.schema, schema);
  text_due(f, "id", t.id, "lower case, hyphens; the file's name");
  text_due(f, "name", t.name, "as lists show it");
  text_due(f, "kitchen_name", t.kitchen_name, kitchen_name);
  f.texts("also", also, 32, "other names a user may type, lower case");
}

/// The figures of a legume that live in one object of its record ("soak.k1" in "soak").
void legume_figures(Fields& f, Legume& legume, std::string_view group) {
  for (const ParamInfo& p : all_params()) {
    if (p.scope != Scope::legume || !p.key.starts_with(group) || p.key[group.size()] != '.') continue;
    f.evidence(p.key.substr(group.size() + 1), legume.figures[static_cast<std::size_t>(p.param)], p.unit, p.link,
               p.param == Param::seed_sugars, p.plain);
  }
}

/// The first entry of a list that is not one of the words allowed.
std::optional<Problem> unknown_word(const RecordText& record, std::string_view key, const std::vector<std::string>& list, std::span<const std::string_view> words,
                                    std::string_view why) {
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (std::find(words.begin(), words.end(), list[i]) != words.end()) continue;
    return Problem{"word-unknown", {.file = record.shown_as, .pointer = fmt::format("/{}/{}", key, i)}, fmt::format("\"{}\" is not known in {}", list[i].substr(0, 60), key), std::string(why),
                   fmt::format("the words are {}", fmt::join(words, ", "))};
  }
  return std::nullopt;
}
constexpr std::string_view hidden_allergen = "an allergen that is passed over would be missing on the label";

}  // namespace

Boil boil_of(std::span<const Legume> legumes) {
  const auto any = [&](Hazard h) { return std::any_of(legumes.begin(), legumes.end(), [h](const Legume& l) { return l.has(h); }); };
  return any(Hazard::kidney_lectin) ? Boil::rolling : any(Hazard::lima_cyanide) ? Boil::uncovered : Boil::simmer;
}

bool Legume::has(Hazard h) const { return std::find(hazards.begin(), hazards.end(), h) != hazards.end(); }

void describe_legume(Fields& f, Legume& l, LegumeText& t) {
  describe_names(f, t, l.also, "curdwright.legume/1", "lower case plural, as a sheet says it");
  text_due(f, "latin", t.latin, "botanical name");
  choice_due(f, "form", t.form, "as bought");
  choice_due(f, "kind", t.kind, "which family of figures it follows");
  f.required(), f.group("composition", "per 100 g seed as bought", [&](Fields& g) {
    legume_figures(g, l, "composition");
    g.evidence("carbohydrate", l.carbohydrate, "g/100g", Link::logit, false, "by difference, with fibre");
    g.evidence("sodium", l.sodium, "mg/100g", Link::log, false, "sodium of the seed");
  });
  f.required(), f.group("soak", "how it takes up water", [&](Fields& g) {
    std::optional<Duration> time;
    g.required();
    g.quantity("time", time, hours(1), hours(48), "default soak in the fridge");
    if (time) l.soak_time = *time;
    legume_figures(g, l, "soak");
  });
  f.required(), f.group("release", "what a fine grind sets free", [&](Fields& g) { legume_figures(g, l, "release"); });
  f.required(), f.group("granules", "its starch", [&](Fields& g) { legume_figures(g, l, "granules"); });
  f.required(), f.group("curd", "how it sets", [&](Fields& g) {
    g.evidence("milk_protein", l.milk_protein, "g/100g", Link::logit, false, "protein to aim for in the strained milk");
    legume_figures(g, l, "curd");
    g.required(), g.group("window", "strengths of a divalent salt between which the dose is held", [&](Fields& w) {
      w.required(), w.number("low", t.window_low, {1, 200}, "mmol/l");
      w.required(), w.number("high", t.window_high, {1, 200}, "mmol/l");
      text_due(w, "unit", t.window_unit, "mmol/l");
      choice_due(w, "known", t.window_known, "how it is known");
      text_due(w, "source", t.window_source, "id of a source");
    });
  });
  f.required(), f.group("cook", "how it is cooked", [&](Fields& g) { g.evidence("hold", l.hold, "min", Link::log, false, "time at a full simmer; of kidney, navy, pinto and black beans at a full rolling boil, of lima beans at a hard boil"); });
  f.texts("allergens", l.allergens, 8, "legal allergen names: soybean, peanut, lupin");
  f.texts("hazards", t.hazards, 8, "kidney-lectin, lima-cyanide, favism, lupin-alkaloids, aflatoxin, trypsin-inhibitor");
  f.texts("notes", l.notes, 8, "what is thin or borrowed");
}

void describe_coagulant(Fields& f, Coagulant& c, CoagulantText& t) {
  describe_names(f, t, c.also, "curdwright.coagulant/1", "as a sheet says it");
  choice_due(f, "kind", t.kind, "what sets the curd");
  choice_due(f, "form", t.form, "as bought");
  choice_due(f, "ion", t.ion, "the divalent ion");
  text_due(f, "grade", t.grade, "what to buy");
  text_due(f, "e_number", t.e_number, "additive number, or none");
  f.evidence("molar_mass", c.molar_mass, "g/mol", Link::log, false, "of the compound as weighed");
  f.evidence("crystal_water", t.crystal_water, "1", Link::logit, true, "share of crystal water");
  f.evidence("purity", t.purity, "1", Link::logit, true, "share of the compound in what is weighed");
  f.evidence("strength", t.strength, "mol/l", Link::log, true, "of a liquid");
  f.evidence("density", t.density, "kg/l", Link::log, true, "of a liquid");
  f.evidence("dose", t.dose, "mmol/g", Link::log, true, "acids: per g of milk protein");
  f.evidence("mix_water", c.mix_water, "kg/kg", Link::log, false, "water to stir it into");
  f.evidence("teaspoon", c.teaspoon, "g", Link::log, false, "weight of a level 5 ml spoon");
  f.required(), f.quantity("at", t.at, celsius(20), celsius(100), "milk temperature at the pour");
  f.required(), f.quantity("wait", t.wait, minutes(1), hours(4), "time left to stand");
  f.required(), f.number("make_up", t.make_up, {1, 4}, "times the expected dose");
  choice_due(f, "pour", t.pour, "how it is poured");
  f.required(), f.flag("metal_reacts", t.metal_reacts, "steel, glass or enamel only");
  f.texts("cautions", c.cautions, 8, "ids of the safety rules it calls up");
  f.texts("notes", c.notes, 8, "what is thin");
}

void describe_extra(Fields& f, Extra& e, ExtraText& t) {
  describe_names(f, t, e.also, "curdwright.extra/1", "as a sheet says it");
  text_due(f, "grade", t.grade, "what to buy");
  f.required(), f.group("composition", "per 100 g; a part that is left out is none", [&](Fields& g) {
    for (std::size_t i = 0; i < component_count; ++i) g.evidence(part_words[i], e.parts[i], "g/100g", Link::logit, true, part_words[i]);
  });
  f.evidence("sodium", t.sodium, "mg/100g", Link::log, true, "none when left out");
  f.evidence("calcium", t.calcium, "mg/100g", Link::log, true, "none when left out");
  f.evidence("teaspoon", t.teaspoon, "g", Link::log, true, "weight of a level 5 ml spoon");
  f.required(), f.texts("allergens", e.allergens, 16, "legal allergen names");
  f.required(), f.texts("stages", t.stages, extra_stages.size(), "where it may go in; the first one unless the recipe tells");
  f.texts("cautions", e.cautions, 8, "ids of the rules it calls up");
  f.texts("notes", e.notes, 8, "what is thin");
}

Result<Legume> read_legume(const RecordText& record) {
  Legume l;
  LegumeText t;
  auto read = read_record(record, "curdwright.legume/1", l, t.schema, [&](Fields& f) { describe_legume(f, l, t); });
  if (!read) return read;
  Legume& r = *read;
  r.id = *t.id, r.name = *t.name, r.kitchen_name = *t.kitchen_name, r.latin = *t.latin;
  r.form = *t.form, r.kind = *t.kind;
  r.window_low_mm = *t.window_low, r.window_high_mm = *t.window_high, r.window_source = *t.window_source;
  const Place place{.file = record.shown_as};
  if (r.window_low_mm >= r.window_high_mm)
    return fail(Problem{"range-wrong", place, "the dose window is empty", "low must be below high", "mend /curd/window"});
  if (auto p = unknown_word(record, "hazards", t.hazards, word_list<Hazard>, "a hazard that is passed over would hide a danger")) return fail(std::move(*p));
  for (const std::string& h : t.hazards) r.hazards.push_back(*from_word<Hazard>(h));
  if (auto p = unknown_word(record, "allergens", r.allergens, known_allergens, hidden_allergen)) return fail(std::move(*p));
  return read;
}

Result<Coagulant> read_coagulant(const RecordText& record) {
  Coagulant c;
  CoagulantText t;
  auto read = read_record(record, "curdwright.coagulant/1", c, t.schema, [&](Fields& f) { describe_coagulant(f, c, t); });
  if (!read) return read;
  Coagulant& r = *read;
  r.id = *t.id, r.name = *t.name, r.kitchen_name = *t.kitchen_name, r.kind = *t.kind, r.form = *t.form, r.ion = *t.ion;
  r.grade = *t.grade, r.e_number = *t.e_number, r.at = *t.at, r.wait = *t.wait, r.make_up = *t.make_up;
  r.pour = *t.pour, r.metal_reacts = *t.metal_reacts;
  const auto given = [](const Evidence& e) { return e.value > 0 ? std::optional(e) : std::nullopt; };
  r.crystal_water = given(t.crystal_water), r.purity = given(t.purity), r.strength = given(t.strength);
  r.density = given(t.density), r.dose = given(t.dose);
  const Place place{.file = record.shown_as};
  const bool liquid = r.form == CoagulantForm::liquid;
  if (liquid != (r.strength.has_value() && r.density.has_value()) || liquid == r.purity.has_value())
    return fail(Problem{"key-missing", place, fmt::format("the strength of {} is not told", r.id), "a liquid needs strength and density, a solid needs purity", "write \"purity\", or \"strength\" and \"density\", with its evidence, and nothing else of the three"});
  if ((r.kind != CoagulantKind::salt) != r.dose.has_value())
    return fail(Problem{"key-missing", place, fmt::format("the dose of {} is not told", r.id), "an acid or lactone needs a dose; a salt takes the legume's", "write \"dose\" for an acid or a lactone, and leave it out for a salt"});
  if ((r.kind == CoagulantKind::salt) == (r.ion == Ion::none))
    return fail(Problem{"word-unknown", place, fmt::format("the ion of {} is \"{}\"", r.id, word(r.ion)), "a salt sets by calcium or magnesium, an acid by none", "write calcium or magnesium for a salt, none for an acid or a lactone"});
  return read;
}

Composition Extra::composition() const {
  Composition c;
  for (std::size_t i = 0; i < component_count; ++i) c.kg[i] = parts[i].source.empty() ? 0.0 : parts[i].value;
  return c * (1.0 / c.total_kg());
}

Minerals Extra::minerals() const {
  constexpr double mg_per_100g = 1e-5;
  Minerals m;
  if (sodium) m.sodium_kg = sodium->value * mg_per_100g;
  if (calcium) m.calcium_kg = calcium->value * mg_per_100g;
  return m;
}

namespace {

/// An extra must be made of as much as it weighs, and no lighter than its minerals.
std::optional<Problem> extra_sum(const RecordText& record, const Extra& e) {
  double sum = 0;
  for (const Evidence& part : e.parts) sum += part.value;
  const Place place{.file = record.shown_as, .pointer = "/composition"};
  if (!(sum > 97 && sum < 103))
    return Problem{"composition-sum", place, fmt::format("the parts add to {:.1f} g of 100 g", sum), "they must add to 97 to 103", "carbohydrate is told as starch, sugars and fibre"};
  const auto part = [&](Component c) { return e.parts[static_cast<std::size_t>(c)].value; };
  const Minerals m = e.minerals();
  const double minerals = 100 * (m.sodium_kg + m.calcium_kg), room = part(Component::ash) + part(Component::salts);
  if (minerals > room)
    return Problem{"composition-sum", place, fmt::format("sodium and calcium weigh {:.2f} g of 100 g, and ash and salts {:.2f}", minerals, room), "the minerals are part of ash and salts", ""};
  return std::nullopt;
}

}  // namespace

Result<Extra> read_extra(const RecordText& record) {
  Extra e;
  ExtraText t;
  auto read = read_record(record, "curdwright.extra/1", e, t.schema, [&](Fields& f) { describe_extra(f, e, t); });
  if (!read) return read;
  Extra& r = *read;
  r.id = *t.id, r.name = *t.name, r.kitchen_name = *t.kitchen_name, r.grade = *t.grade;
  const auto given = [](const Evidence& figure) { return figure.source.empty() && figure.borrowed_from.empty() ? std::nullopt : std::optional(figure); };
  r.sodium = given(t.sodium), r.calcium = given(t.calcium), r.teaspoon = given(t.teaspoon);
  for (const auto& [pointer, figure] : evidence_of(r))
    if (!figure->borrowed_from.empty())
      return fail(Problem{"borrow-unknown", {.file = record.shown_as, .pointer = pointer}, fmt::format("\"{}\" cannot lend to an extra", figure->borrowed_from),
                          "only legumes borrow from each other", "write the figure itself"});
  std::vector<std::string_view> stages;
  for (Stage s : extra_stages) stages.push_back(word(s));
  if (auto p = unknown_word(record, "stages", t.stages, stages, "nothing else is planned")) return fail(std::move(*p));
  for (const std::string& s : t.stages) r.stages.push_back(*from_word<Stage>(s));
  if (auto p = unknown_word(record, "allergens", r.allergens, known_allergens, hidden_allergen)) return fail(std::move(*p));
  if (r.stages.empty())
    return fail(Problem{"key-missing", {.file = record.shown_as, .pointer = "/stages"}, fmt::format("where {} goes in is not told", r.id), "it needs one stage or more", "write for example \"stages\": [\"press\"]"});
  if (auto p = extra_sum(record, r)) return fail(std::move(*p));
  return read;
}

std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Legume& l) {
  std::vector<std::pair<std::string, const Evidence*>> all;
  for (const ParamInfo& p : all_params())
    if (p.scope == Scope::legume) {
      std::string pointer = fmt::format("/{}", p.key);
      std::replace(pointer.begin(), pointer.end(), '.', '/');
      all.emplace_back(std::move(pointer), &l.evidence(p.param));
    }
  all.emplace_back("/composition/carbohydrate", &l.carbohydrate);
  all.emplace_back("/composition/sodium", &l.sodium);
  all.emplace_back("/curd/milk_protein", &l.milk_protein);
  all.emplace_back("/cook/hold", &l.hold);
  return all;
}

std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Coagulant& c) {
  std::vector<std::pair<std::string, const Evidence*>> all = {{"/molar_mass", &c.molar_mass}, {"/mix_water", &c.mix_water}, {"/teaspoon", &c.teaspoon}};
  const auto add = [&](const char* pointer, const std::optional<Evidence>& e) {
    if (e) all.emplace_back(pointer, &*e);
  };
  add("/crystal_water", c.crystal_water), add("/purity", c.purity), add("/strength", c.strength), add("/density", c.density), add("/dose", c.dose);
  return all;
}

std::vector<std::pair<std::string, const Evidence*>> evidence_of(const Extra& e) {
  std::vector<std::pair<std::string, const Evidence*>> all;
  const auto add = [&](std::string pointer, const Evidence& figure) {
    if (!figure.source.empty() || !figure.borrowed_from.empty()) all.emplace_back(std::move(pointer), &figure);
  };
  for (std::size_t i = 0; i < component_count; ++i) add(fmt::format("/composition/{}", part_words[i]), e.parts[i]);
  if (e.sodium) add("/sodium", *e.sodium);
  if (e.calcium) add("/calcium", *e.calcium);
  if (e.teaspoon) add("/teaspoon", *e.teaspoon);
  return all;
}

}  // namespace curdwright
