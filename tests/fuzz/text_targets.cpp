// SPDX-License-Identifier: MIT
// Whole texts of the user's: recipe, kitchen, settings, own records.
#include <array>

#include "curdwright/catalogue.hpp"
#include "curdwright/recipe.hpp"
#include "fuzz/fuzz.hpp"

namespace curdwright::fuzz {
namespace {

InputTexts recipe_text(std::string_view recipe) {
  InputTexts texts;
  texts.recipe = recipe, texts.recipe_file = "recipe.json";
  return texts;
}

/// What the schema says of an accepted recipe must hold of what was read.
void check_recipe(const Recipe& r) {
  hold(!r.legumes.empty() && r.legumes.size() <= 4, "a recipe without a legume, or of too many");
  hold(r.title.size() <= 4 * 200, "a title that is too long");
  hold(r.want.given() <= 1, "more than one thing wanted");
  hold(!r.soak.time || (*r.soak.time >= minutes(0) && *r.soak.time <= hours(200)), "a soak without end");
}

/// Writing and reading must come to rest: what was written once is written so again.
void check_kept(const Kitchen& kitchen) {
  const std::string written = write_kitchen(kitchen);
  check_json(written);
  const auto again = read_kitchen(written, "written.json");
  if (!again) throw Broken("a kitchen that is not read back: " + again.error()[0].place.pointer + ": " + again.error()[0].what);
  hold(write_kitchen(*again) == written, "a kitchen that changes when it is written again");
}

/// The record of a kind that a fuzzed text takes the place of, and whether it can be read then.
struct Place {
  std::string_view path;
  Problems (*read)(const Catalogue&);
};
template <class T>
Problems problems_of(const Result<T>& r) { return r ? Problems{} : r.error(); }

constexpr std::array<Place, 8> places = {{
    {"legumes/soybean.json", [](const Catalogue& c) { return problems_of(c.legume("soybean")); }},
    {"coagulants/gdl.json", [](const Catalogue& c) { return problems_of(c.coagulant("gdl")); }},
    {"extras/salt.json", [](const Catalogue& c) { return problems_of(c.extra("salt")); }},
    {"equipment/hand-twist.json", [](const Catalogue& c) { return problems_of(c.equipment(EquipmentKind::strainer, "hand-twist")); }},
    {"equipment/high-speed.json", [](const Catalogue& c) { return problems_of(c.equipment(EquipmentKind::blender, "high-speed")); }},
    {"model.json", [](const Catalogue& c) { return problems_of(c.model()); }},
    {"refused.json", [](const Catalogue& c) { return static_cast<void>(c.all_refused()), Problems{}; }},
    {"sources.json", [](const Catalogue& c) { return static_cast<void>(c.citations()), Problems{}; }},
}};

}  // namespace

void try_recipe(std::string_view bytes) {
  const auto recipe = read_recipe(recipe_text(bytes));
  if (!recipe) return check_problems(recipe.error(), "recipe.json");
  check_recipe(*recipe);
  for (const auto& [pointer, value] : told_values(recipe_text(bytes))) hold(pointer.starts_with('/'), "a value without a pointer", value);
}

void try_kitchen(std::string_view bytes) {
  const auto kitchen = read_kitchen(std::string(bytes), "kitchen.json");
  if (!kitchen) return check_problems(kitchen.error(), "kitchen.json");
  hold(!kitchen->pots.empty(), "a kitchen without a pot");
  check_kept(*kitchen);
}

/// Each line is a --set, on top of the same recipe.
void try_pointer(std::string_view bytes) {
  InputTexts texts = recipe_text(R"({"legume":[{"id":"soybean","share":0.5},{"id":"mung-whole","share":0.5}],"want":{"blocks":2},"strain":{"washes":[{"water_to_dry":1}]}})");
  texts.kitchen = R"({"pots":[{"name":"pot","volume":"12 l"}],"prices":{"soybean":"3/kg"}})", texts.kitchen_file = "kitchen.json";
  while (!bytes.empty() && texts.set.size() < 8) texts.set.emplace_back(take_line(bytes));
  const auto inputs = read_inputs(texts);
  if (inputs) {
    check_recipe(inputs->recipe);
    check_kept(inputs->kitchen);
  } else {
    check_problems(inputs.error(), "");
    for (const Problem& p : inputs.error()) hold(!p.place.file.empty(), "a problem of no option", p.what);
  }
  if (texts.set.empty()) return;
  const std::string_view first = texts.set[0];
  if (const auto kind = setting_at(first.substr(0, first.find('='))); !kind) check_problems(kind.error(), "");
  static_cast<void>(told_values(texts));
}

void try_record(std::string_view bytes) {
  const Place& place = places[take_choice(bytes, places.size())];
  Catalogue catalogue = Catalogue::shipped();
  const auto added = catalogue.add({{std::string(place.path), std::string(bytes), "own/record.json"}});
  if (!added) return check_problems(added.error(), "");
  const Problems problems = place.read(catalogue);
  if (!problems.empty()) check_problems(problems, "");
}

}  // namespace curdwright::fuzz
