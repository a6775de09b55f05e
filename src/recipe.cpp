// SPDX-License-Identifier: MIT
#include "curdwright/recipe.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/catalogue.hpp"
#include "curdwright/parameters.hpp"
#include "curdwright/stages/strain.hpp"
#include "located.hpp"
#include "recipe_fields.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

using json::Fields;

/// What stands before a pointer into the kitchen.

constexpr std::array<std::string_view, 6> kitchen_marks = {"pots", "blender", "hob", "mould", "coarse_scale", "fine_scale"};
constexpr std::array room_or_fridge = {Where::room, Where::fridge};

void describe_legume_choice(Fields& f, LegumeChoice& c) {
  f.required();
  f.text("id", c.id, json::max_text, "see `list legumes`");
  f.share("share", c.share, {0.001, 1.0}, "of the dry seed");
  f.group("label", "figures from the packet, per 100 g; they replace the record's", [&](Fields& g) {
    const auto figure = [&](std::string_view key, std::optional<Mass>& to, std::string_view about) { g.quantity(key, to, grams(0.01), grams(99), about); };
    figure("protein", c.label.protein, "per 100 g");
    figure("fat", c.label.fat, "per 100 g");
    figure("fibre", c.label.fibre, "per 100 g");
    figure("sugars", c.label.sugars, "per 100 g");
    figure("starch", c.label.starch, "per 100 g");
    figure("water", c.label.water, "per 100 g");
  });
  f.quantity("age", c.age, hours(0), hours(24 * 365 * 30), "since harvest");
  f.choice("sold_for", c.sold_for, "what the seed was sold for");
}

void describe_soak(Fields& f, SoakRecipe& s) {
  f.quantity("water_temperature", s.water_temperature, celsius(0), celsius(100), "of the water as poured");
  f.choice("where", s.where, room_or_fridge, "where the vessel stands");
  f.quantity("room", s.room, celsius(-5), celsius(60), "temperature round the vessel, instead of the kitchen's");
  f.quantity("time", s.time, minutes(10), hours(96), "how long");
  f.quantity("time_constant", s.time_constant, minutes(1), hours(100), "of the vessel's drift to its surroundings; reckoned when left out");
  f.number("water_to_dry", s.water_to_dry, {0.5, 20}, "kg of water per kg of dry seed");
  f.count("changes", s.changes, 0, 12, "times the water is poured off and renewed");
  f.flag("skins_off", s.skins_off, "rub the skins off after the soak");
}

void describe_blend(Fields& f, BlendRecipe& b) {
  f.number("total_water_to_dry", b.total_water_to_dry, {0.5, 40}, "soak uptake + grinding water, kg per kg dry seed, without washes");
  f.number("water_to_soaked", b.water_to_soaked, {0.1, 20}, "grinding water, kg per kg drained soaked seed");
  f.quantity("water", b.water, grams(1), kilograms(50000), "grinding water");
  f.quantity("water_temperature", b.water_temperature, celsius(0), celsius(100), "of the grinding and washing water");
  f.quantity("time", b.time, seconds(3), hours(2), "for each jarful");
}

void describe_starch(Fields& f, StarchRecipe& s) {
  f.choice("remove", s.remove, "how the starch is taken out");
  f.choice("where", s.where, room_or_fridge, "where the milk stands");
  f.quantity("depth", s.depth, centimetres(0.5), metres(3), "of the standing milk; from the vessels when left out");
  f.quantity("time", s.time, minutes(1), hours(72), "for each standing");
  f.count("times", s.times, 1, 6, "how often it is settled and ladled off");
}

void describe_coagulate(Fields& f, CoagulateRecipe& c) {
  f.text("with", c.with, json::max_text, "see `list coagulants`");
  f.quantity("at", c.at, celsius(20), celsius(100), "temperature of the milk at the pour");
  f.quantity("wait", c.wait, minutes(1), hours(6), "left to stand");
  f.number("make_up", c.make_up, {1, 4}, "mixed ready, times the expected dose");
  f.quantity("dose", c.dose, millimoles_per_gram(0.01), millimoles_per_gram(10), "per gram of milk protein, instead of the rule");
  f.quantity("amount", c.amount, grams(0.01), kilograms(1000), "used, as weighed, instead of the rule");
  f.share("purity", c.purity, {0.05, 1.0}, "of a solid, from its label");
  f.quantity("strength", c.strength, millimolar(10), millimolar(20000), "of a liquid, from its label");
  f.quantity("label_ion", c.label_ion, kilograms_per_cubic_metre(0.5), kilograms_per_cubic_metre(400), "calcium or magnesium of a liquid, from its label");
  f.choice("grade", c.grade, "what it was sold as");
}

void describe_press(Fields& f, PressRecipe& p) {
  f.quantity("pressure", p.pressure, kilopascals(0.1), kilopascals(1000), "on the curd");
  f.quantity("weight", p.weight, grams(10), kilograms(100000), "on each block");
  f.quantity("time", p.time, minutes(1), hours(96), "how long");
  f.share("moisture", p.moisture, {0.3, 0.95}, "wanted, share of water; pressing then goes on until it is reached: no time counts, and the pressure is the least");
  f.choice("where", p.where, room_or_fridge, "where the press stands");
}

void describe_wash(Fields& f, WashRecipe& w) {
  f.required(), f.number("water_to_dry", w.water_to_dry, {0.05, 20}, "kg of water per kg of dry seed");
  f.quantity("blend", w.blend, seconds(1), hours(1), "blend the pulp again for so long");
}

void describe_extra_choice(Fields& f, ExtraRecipe& e) {
  f.required();
  f.text("what", e.what, json::max_text, "see `list extras`");
  f.choice("stage", e.stage, extra_stages, "where it goes in; see `show extra`");
  f.quantity("amount", e.amount, grams(0.01), kilograms(1000), "for the batch, as weighed");
  f.number("to_dry", e.to_dry, {0.00001, 2}, "kg per kg of dry seed, instead of amount");
}

void describe_store(Fields& f, StoreRecipe& s) {
  f.choice("where", s.where, "how the curd is kept");
  f.quantity("at", s.at, celsius(-30), celsius(95), "temperature it is kept at");
  f.quantity("reheat", s.reheat, celsius(30), celsius(100), "temperature it is reheated to");
  f.count("days", s.days, 0, 365, "until it is eaten, the making day being day 1");
  f.count("days_before_freezing", s.days_before_freezing, 0, 365, "cold days that count as well");
  f.choice("pack", s.pack, "open, under water, or sealed without air");
  f.flag("ferment", s.ferment, "fermented at room temperature");
  f.number("ph", s.ph, {1, 9}, "claimed acidity of the curd");
  f.choice("eaters", s.eaters, "who eats it");
  f.choice("claim", s.claim, "what the label says");
  f.flag("shared_gear", s.shared_gear, "gear that also meets soy");
}

/// Tells faults that no single key shows, at the place of the object they belong to.
class Whole {
 public:
  Whole(const json::Document& d, Problems& problems) : d_(d), problems_(problems) {}

  void complain(std::string pointer, std::string_view code, std::string what, std::string why, std::string fix) {
    const json::Node* n = json::node_at(d_, pointer);
    problems_.push_back({std::string(code), d_.place(n ? *n : d_.root, std::move(pointer)), std::move(what), std::move(why), std::move(fix)});
  }

  /// Two keys say the same thing. Where an option set one of them, it is told how it can replace the file's.
  void too_many_ways(const std::string& pointer, std::string what, std::string why, std::string fix) {
    const json::Node* n = json::node_at(d_, pointer);
    const bool by_option = n && std::any_of(n->members.begin(), n->members.end(), [](const json::Member& m) { return !m.value.origin.empty(); });
    if (by_option) fix += fmt::format("; --set '{}={{...}}' replaces all that the recipe holds there", pointer);
    complain(pointer, "one-of", std::move(what), std::move(why), std::move(fix));
  }

 private:
  const json::Document& d_;
  Problems& problems_;
};

void check_shares(Whole& whole, const std::vector<LegumeChoice>& legumes) {
  if (legumes.size() == 1 && legumes[0].share && *legumes[0].share < 0.995)
    whole.complain("/legume", "shares", fmt::format("one legume alone has the share {:.4g}", *legumes[0].share), "the shares of a mix add to 1",
                   "leave the share out, or name the other legume");
  if (legumes.size() < 2) return;
  double sum = 0;
  std::size_t given = 0;
  for (const LegumeChoice& c : legumes) {
    sum += c.share.value_or(0);
    given += c.share.has_value();
  }
  if (given != 0 && given != legumes.size())
    whole.complain("/legume", "shares", "some shares of the mix are given and some not", "", "give every share, or none for an even split");
  else if (given != 0 && (sum < 0.995 || sum > 1.005))
    whole.complain("/legume", "shares", fmt::format("the shares of the mix add to {:.4g}", sum), "they must add to 1", "");
}

/// Each extra is told by its mass or by its share of the seed.
void check_extras(Whole& whole, const json::Document& d) {
  const json::Node* list = d.root.find("extras");
  if (!list || list->kind != json::Node::Kind::array) return;
  for (std::size_t i = 0; i < list->items.size(); ++i) {
    const json::Node& item = list->items[i];
    if (item.kind != json::Node::Kind::object) continue;
    const bool amount = item.find("amount") != nullptr, to_dry = item.find("to_dry") != nullptr;
    const std::string at = fmt::format("/extras/{}", i);
    if (amount && to_dry) whole.too_many_ways(at, "amount and to_dry are both given", "one would overrule the other", "keep one");
    if (!amount && !to_dry)
      whole.complain(at, "key-missing", "how much of it is not told", "there is no usual amount", "add \"amount\": \"12 g\", or \"to_dry\": 0.01 (kg per kg of dry seed)");
  }
}

/// What no single key can tell.
void check_whole(const json::Document& d, const Recipe& r, Problems& problems) {
  Whole whole(d, problems);
  const int waters = r.blend.total_water_to_dry.has_value() + r.blend.water_to_soaked.has_value() + r.blend.water.has_value();
  if (waters > 1)
    whole.too_many_ways("/blend", fmt::format("the grinding water is given {} ways", waters), "one would overrule the others", "keep one of total_water_to_dry, water_to_soaked, water");
  if (r.want.given() > 1) whole.too_many_ways("/want", fmt::format("{} things are wanted", r.want.given()), "one of blocks, curd, dry, protein, fill", "keep one");
  const int presses = r.press.pressure.has_value() + r.press.weight.has_value();
  if (presses > 1) whole.too_many_ways("/press", "pressure and weight are both given", "the weight makes the pressure", "keep one");
  const int doses = r.coagulate.dose.has_value() + r.coagulate.amount.has_value();
  if (doses > 1) whole.too_many_ways("/coagulate", "dose and amount are both given", "the amount makes the dose", "keep one");
  check_extras(whole, d);
  const json::Node* named = d.root.find("legume");
  if (r.legumes.empty() && named && named->kind == json::Node::Kind::array && named->items.empty())
    whole.complain("/legume", "legume-missing", "no legume is named", "the list is empty or unreadable", "name one, for example \"chickpea-kabuli\"");
  check_shares(whole, r.legumes);
}

/// Both trees as the visitors see them.
struct Descriptions {
  Recipe recipe;
  Kitchen kitchen;
  Fields::Describe of_recipe = [this](Fields& f) { describe_recipe(f, recipe); };
  Fields::Describe of_kitchen = [this](Fields& f) { describe_kitchen(f, kitchen); };
  [[nodiscard]] std::vector<std::string> kitchen_pointers() const {
    std::vector<std::string> all = json::all_pointers(of_kitchen);
    for (std::string& pointer : all) pointer.insert(0, in_kitchen);
    return all;
  }
};

/// Sets the values of the options on the two trees.
void set_values(const std::vector<std::string>& set, json::Document& recipe, json::Document& kitchen, Problems& problems) {
  if (set.empty()) return;
  Descriptions d;
  for (const std::string& s : set) {
    const Way way = way_of(s);
    // The option is named as it was typed, so that its faults point back to it.
    const std::string option = fmt::format("--set {}", text::cut(s, 120));
    const Result<void> done = way.to_kitchen ? json::set_value(kitchen.root, way.below, option, d.of_kitchen, in_kitchen)
                                             : json::set_value(recipe.root, s, option, d.of_recipe, "", [&] { return d.kitchen_pointers(); });
    if (!done) problems.insert(problems.end(), done.error().begin(), done.error().end());
  }
}

/// Reads the kitchen. What an option set is pointed to as the option does, below /kitchen.
void read_tree(const json::Document& kitchen, Kitchen& k, Problems& problems) {
  Problems found;
  json::read_object(kitchen, kitchen.root, found, [&](Fields& f) { describe_kitchen(f, k); });
  for (Problem& p : found)
    if (p.place.line == 0) p.place.pointer.insert(0, in_kitchen);
  problems.insert(problems.end(), std::make_move_iterator(found.begin()), std::make_move_iterator(found.end()));
}

}  // namespace

void describe_recipe(Fields& f, Recipe& r) {
  static constexpr std::array<std::string_view, 1> schemas = {"curdwright.recipe/1"};
  std::optional<std::string> ignored, schema, title, legume;
  f.text("$schema", ignored, json::max_text, "where an editor finds the schema");
  f.choice("schema", schema, schemas, "version of this format");
  f.text("title", title, json::max_text, "heading of the sheet");
  f.required();
  f.text_or_list("legume", legume, max_legumes, "one legume, or a mix of up to four", [&](std::size_t n) { r.legumes.resize(n); },
                 [&](Fields& g, std::size_t i) { describe_legume_choice(g, r.legumes[i]); });
  f.group("want", "what is wanted: one of these", [&](Fields& g) {
    g.count("blocks", r.want.blocks, 1, 100000, "whole blocks");
    g.quantity("curd", r.want.curd, grams(1), kilograms(10000), "mass of pressed curd");
    g.quantity("dry", r.want.dry, grams(1), kilograms(10000), "mass of dry seed");
    g.quantity("protein", r.want.protein, grams(1), kilograms(2000), "mass of protein in the pressed curd");
    g.flag("fill", r.want.fill, "as much as the kitchen takes in one go");
    g.share("sure", r.want.sure, {0.05, 0.95}, "chance with which it is to be reached; even odds when left out");
  });
  f.group("block", "the block", [&](Fields& g) { g.quantity("mass", r.block_mass, grams(5), kilograms(50), "of one block"); });
  f.group("soak", "soaking", [&](Fields& g) { describe_soak(g, r.soak); });
  f.group("blend", "blending", [&](Fields& g) { describe_blend(g, r.blend); });
  f.group("strain", "straining", [&](Fields& g) {
    g.text("by", r.strain.by, json::max_text, "see `list strainers`; instead of the kitchen's");
    g.list("washes", r.strain.washes, StrainSettings::max_washes, "washings of the pulp", describe_wash);
  });
  f.group("starch", "taking the starch out", [&](Fields& g) { describe_starch(g, r.starch); });
  f.group("cook", "cooking the milk", [&](Fields& g) {
    g.quantity("hold", r.cook.hold, minutes(0), hours(6), "from a full simmer; for beans with the kidney-bean poison from a full rolling boil, for lima beans from a hard boil, lid off");
    g.quantity("heat_up", r.cook.heat_up, minutes(1), hours(12), "time to the boil; reckoned when left out");
    g.share("evaporated", r.cook.evaporated, {0, 0.8}, "share of the milk boiled off; reckoned when left out");
    g.choice("in", r.cook.in, "what it is cooked in");
  });
  f.group("coagulate", "setting the curd", [&](Fields& g) { describe_coagulate(g, r.coagulate); });
  f.group("press", "draining and pressing", [&](Fields& g) { describe_press(g, r.press); });
  f.group("chill", "chilling", [&](Fields& g) { g.text("in", r.chill_in, json::max_text, "see `list chillers`"); });
  f.list("extras", r.extras, max_extras, "seasoning and other extras", describe_extra_choice);
  f.group("store", "keeping", [&](Fields& g) { describe_store(g, r.store); });
  if (title) r.title = *title;
  if (legume) {
    r.legumes.assign(1, LegumeChoice{});
    r.legumes[0].id = legume;
  }
}

Result<SettingKind> setting_at(std::string_view pointer) {
  Descriptions d;
  const Way way = way_of(pointer);
  const auto found = way.to_kitchen ? json::known_field(way.below, "", d.of_kitchen, in_kitchen) : json::known_field(pointer, "", d.of_recipe, "", [&] { return d.kitchen_pointers(); });
  if (!found) return fail(found.error());
  return SettingKind{found->quantity, found->kind == json::FieldKind::count};
}

namespace {

/// The recipe of a tree on which all settings were put.
void read_tree(const json::Document& recipe, const Want& want, Recipe& r, Problems& problems) {
  json::read_object(recipe, recipe.root, problems, [&](Fields& f) { describe_recipe(f, r); });
  check_whole(recipe, r, problems);
  if (want.given() > 1)
    problems.push_back({"one-of", {.pointer = "/want"}, fmt::format("{} things are wanted beside the recipe", want.given()), "one of blocks, curd, dry, protein, fill", "keep one"});
  if (want.sure) r.want.sure = want.sure;
  if (want.given() == 0) return;
  const auto sure = r.want.sure;
  r.want = want;
  r.want.sure = sure;
}

template <class T>
Result<T> unless(Problems problems, T value) {
  if (problems.empty()) return value;
  json::in_file_order(problems);
  return fail(std::move(problems));
}

}  // namespace

namespace {

/// What a file is by its own word, else by keys that only the one or the other has.
bool is_kitchen(const json::Node& root) {
  if (const json::Node* schema = root.find("schema")) return schema->text.starts_with("curdwright.kitchen/");
  return !root.find("legume") && std::any_of(kitchen_marks.begin(), kitchen_marks.end(), [&](std::string_view key) { return root.find(key) != nullptr; });
}
bool is_recipe(const json::Node& root) {
  const json::Node* schema = root.find("schema");
  return schema ? schema->text.starts_with("curdwright.recipe/") : root.find("legume") != nullptr;
}

/// One where the other is due would be a fault for each of its keys.
Problems exchanged(const json::Document& recipe, const json::Document& kitchen) {
  Problems all;
  if (is_kitchen(recipe.root)) all.push_back({"wrong-file", {.file = recipe.file}, "this is a kitchen, and a recipe is due", "", "name the recipe first, and the kitchen with --kitchen"});
  if (is_recipe(kitchen.root)) all.push_back({"wrong-file", {.file = kitchen.file}, "this is a recipe, and a kitchen is due", "", "name the kitchen's file; `curdwright new kitchen -o kitchen.json` writes one"});
  return all;
}

}  // namespace

PartInputs read_part_inputs(InputTexts texts) {
  PartInputs in;
  auto recipe = json::parse(std::move(texts.recipe), texts.recipe_file);
  auto kitchen = json::parse(texts.kitchen ? std::move(*texts.kitchen) : "{}", texts.kitchen_file);
  if (!recipe || !kitchen) {
    if (!recipe) in.problems = recipe.error();
    if (!kitchen) in.problems.insert(in.problems.end(), kitchen.error().begin(), kitchen.error().end());
    return in;
  }
  if (in.problems = exchanged(*recipe, *kitchen); !in.problems.empty()) return in;
  set_values(texts.set, *recipe, *kitchen, in.problems);
  read_tree(*recipe, texts.want, in.inputs.recipe, in.problems);
  read_tree(*kitchen, in.inputs.kitchen, in.problems);
  json::in_file_order(in.problems);
  return in;
}

Result<Inputs> read_inputs(InputTexts texts) {
  PartInputs in = read_part_inputs(std::move(texts));
  return unless(std::move(in.problems), std::move(in.inputs));
}

Result<Recipe> read_recipe(InputTexts texts) {
  auto recipe = json::parse(std::move(texts.recipe), texts.recipe_file);
  if (!recipe) return fail(recipe.error());
  std::erase_if(texts.set, [](const std::string& s) { return way_of(s).to_kitchen; });
  Problems problems;
  json::Document none;
  set_values(texts.set, *recipe, none, problems);
  Recipe r;
  read_tree(*recipe, texts.want, r, problems);
  return unless(std::move(problems), std::move(r));
}

namespace {

void flatten(const json::Node& n, const std::string& at, std::vector<std::pair<std::string, std::string>>& out) {
  using enum json::Node::Kind;
  for (const json::Member& m : n.members) flatten(m.value, at + json::pointer_step(m.key), out);
  for (std::size_t i = 0; i < n.items.size(); ++i) flatten(n.items[i], fmt::format("{}/{}", at, i), out);
  if (n.kind == boolean) out.emplace_back(at, n.boolean ? "true" : "false");
  if (n.kind == number || n.kind == string) out.emplace_back(at, n.text);
}

}  // namespace

std::vector<std::pair<std::string, std::string>> told_values(const InputTexts& texts) {
  auto recipe = json::parse(texts.recipe, texts.recipe_file), kitchen = json::parse(texts.kitchen.value_or("{}"), texts.kitchen_file);
  if (!recipe || !kitchen) return {};
  Problems ignored;
  set_values(texts.set, *recipe, *kitchen, ignored);
  std::vector<std::pair<std::string, std::string>> all;
  flatten(recipe->root, "", all);
  flatten(kitchen->root, std::string(in_kitchen), all);
  return all;
}

std::string recipe_schema() {
  Recipe r;
  return json::schema_text("https://curdwright.invalid/schema/recipe-1.json", "Recipe of curdwright", [&](Fields& f) { describe_recipe(f, r); });
}

}  // namespace curdwright
