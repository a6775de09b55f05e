// SPDX-License-Identifier: MIT
#include "curdwright/recipe.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>

#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;
using curdwright::test::shown;

namespace {

Recipe read(const std::string& text) { return must(read_inputs({text, "r.json", std::nullopt, "", {}, {}})).recipe; }

Problems faults(const std::string& text) {
  auto r = read_inputs({text, "r.json", std::nullopt, "", {}, {}});
  if (r) FAIL("accepted: " << text);
  return r.error();
}

}  // namespace

TEST_CASE("the recipe of the design page is read with every value") {
  const Recipe r = read(R"({
    "schema": "curdwright.recipe/1", "title": "Canteen chickpea blocks", "legume": "chickpea-kabuli", "want": { "blocks": 12 },
    "block": { "mass": "340 g" }, "soak": { "water_temperature": "5 degC", "room": "4 degC", "time": "16 h", "water_to_dry": 3 },
    "blend": { "total_water_to_dry": 8, "time": "45 s" }, "strain": { "washes": [ { "water_to_dry": 1.5 } ] },
    "starch": { "remove": "settle", "depth": "12 cm", "time": "50 min", "times": 1 }, "cook": { "hold": "12 min" },
    "coagulate": { "with": "calcium-sulfate-dihydrate", "at": "80 degC", "wait": "15 min", "make_up": 2 },
    "press": { "pressure": "4 kPa", "time": "12 h", "where": "fridge" }, "chill": { "in": "still-fridge" } })");
  CHECK(r.title == "Canteen chickpea blocks");
  REQUIRE(r.legumes.size() == 1);
  CHECK(r.legumes[0].id == "chickpea-kabuli");
  CHECK(r.want.blocks == 12);
  CHECK(r.want.given() == 1);
  CHECK(in_grams(*r.block_mass) == Approx(340));
  CHECK(in_celsius(*r.soak.water_temperature) == Approx(5));
  CHECK(in_celsius(*r.soak.room) == Approx(4));
  CHECK(in_hours(*r.soak.time) == Approx(16));
  CHECK(r.soak.water_to_dry == Approx(3));
  CHECK(r.blend.total_water_to_dry == Approx(8));
  CHECK(in_seconds(*r.blend.time) == Approx(45));
  REQUIRE(r.strain.washes.size() == 1);
  CHECK(r.strain.washes[0].water_to_dry == Approx(1.5));
  CHECK(r.starch.remove == StarchRemoval::settle);
  CHECK(in_centimetres(*r.starch.depth) == Approx(12));
  CHECK(in_minutes(*r.starch.time) == Approx(50));
  CHECK(r.starch.times == 1);
  CHECK(in_minutes(*r.cook.hold) == Approx(12));
  CHECK(r.coagulate.with == "calcium-sulfate-dihydrate");
  CHECK(in_celsius(*r.coagulate.at) == Approx(80));
  CHECK(r.coagulate.make_up == Approx(2));
  CHECK(in_kilopascals(*r.press.pressure) == Approx(4));
  CHECK(r.press.where == Where::fridge);
  CHECK(r.chill_in == "still-fridge");
  CHECK_FALSE(r.soak.skins_off.has_value());
  CHECK_FALSE(r.store.days.has_value());
}

TEST_CASE("a mix is read with its shares, packet labels and ages") {
  const Recipe r = read(R"({"$schema": "x", "legume": [
    {"id": "soybean", "share": "40 %", "label": {"protein": "34 g", "water": "9 g"}, "age": "400 d", "sold_for": "food"},
    {"id": "adzuki", "share": 0.6}]})");
  REQUIRE(r.legumes.size() == 2);
  CHECK(r.legumes[0].share == Approx(0.4));
  CHECK(in_grams(*r.legumes[0].label.protein) == Approx(34));
  CHECK_FALSE(r.legumes[0].label.fat.has_value());
  CHECK(in_hours(*r.legumes[0].age) == Approx(9600));
  CHECK(r.legumes[1].id == "adzuki");
  CHECK(r.want.given() == 0);
}

TEST_CASE("the remaining keys are read into their fields") {
  const Recipe r = read(R"({"legume": "soybean", "want": {"curd": "2 lb"},
    "soak": {"where": "room", "time_constant": "2 h", "changes": 2, "skins_off": true},
    "blend": {"water_to_soaked": 2, "water_temperature": "90 degC"}, "strain": {"by": "cloth-drain", "washes": [{"water_to_dry": 1, "blend": "20 s"}]},
    "starch": {"where": "fridge"}, "cook": {"heat_up": "25 min", "evaporated": "6 %", "in": "slow-cooker"},
    "coagulate": {"with": "nigari-liquid", "amount": "40 g", "strength": "2 mol/l", "label_ion": "5588 mg/100 ml", "grade": "food"},
    "press": {"weight": "5 kg", "moisture": "80 %"},
    "store": {"where": "freezer", "at": "-18 degC", "days": 3, "days_before_freezing": 2, "pack": "sealed", "ferment": false, "ph": 6.5,
              "eaters": "vulnerable", "claim": "soy-free", "shared_gear": true, "reheat": "75 degC"}})");
  CHECK(in_kilograms(*r.want.curd) == Approx(0.90718474));
  CHECK(r.soak.where == Where::room);
  CHECK(r.soak.changes == 2);
  CHECK(r.soak.skins_off == true);
  CHECK(in_hours(*r.soak.time_constant) == Approx(2));
  CHECK(r.blend.water_to_soaked == Approx(2));
  CHECK(in_celsius(*r.blend.water_temperature) == Approx(90));
  CHECK(r.strain.by == "cloth-drain");
  CHECK(in_seconds(*r.strain.washes[0].blend) == Approx(20));
  CHECK(r.starch.where == Where::fridge);
  CHECK(r.cook.evaporated == Approx(0.06));
  CHECK(r.cook.in == CookedIn::slow_cooker);
  CHECK(in_grams(*r.coagulate.amount) == Approx(40));
  CHECK(in_millimolar(*r.coagulate.strength) == Approx(2000));
  CHECK(in_kilograms_per_cubic_metre(*r.coagulate.label_ion) == Approx(55.88));
  CHECK(r.coagulate.grade == SoldAs::food);
  CHECK(in_kilograms(*r.press.weight) == Approx(5));
  CHECK(r.press.moisture == Approx(0.8));
  CHECK(in_celsius(*r.store.at) == Approx(-18));
  CHECK(r.store.days == 3);
  CHECK(r.store.days_before_freezing == 2);
  CHECK(r.store.pack == Pack::sealed);
  CHECK(r.store.ferment == false);
  CHECK(r.store.ph == Approx(6.5));
  CHECK(r.store.eaters == Eaters::vulnerable);
  CHECK(r.store.claim == Claim::soy_free);
  CHECK(r.store.shared_gear == true);
}

TEST_CASE("what an option wants replaces what the recipe wants") {
  InputTexts texts{R"({"legume": "soybean", "want": {"blocks": 4}})", "r.json", std::nullopt, "", {}, {}};
  texts.want.dry = grams(500);
  const Recipe r = must(read_inputs(texts)).recipe;
  CHECK_FALSE(r.want.blocks.has_value());
  CHECK(in_grams(*r.want.dry) == Approx(500));
}

TEST_CASE("two things wanted beside the recipe are refused, whatever the recipe wants") {
  InputTexts texts{R"({"legume": "soybean", "want": {"blocks": 4}})", "r.json", std::nullopt, "", {}, {}};
  texts.want.dry = grams(500);
  texts.want.curd = kilograms(1);
  const auto r = read_inputs(texts);
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error() == Problems{{"one-of", {"", 0, 0, "/want", "", 0}, "2 things are wanted beside the recipe", "one of blocks, curd, dry, protein, fill", "keep one"}});
}

TEST_CASE("what an option sets beside the recipe's own is told how to replace it") {
  const auto fix = [](const char* recipe, const char* set) {
    const auto r = read_inputs({recipe, "r.json", std::nullopt, "", {set}, {}});
    if (r) FAIL("accepted: " << set);
    REQUIRE(r.error().size() == 1);
    CHECK(r.error()[0].code == "one-of");
    return r.error()[0].fix;
  };
  CHECK(fix(R"({"legume": "soybean", "press": {"weight": "5 kg"}})", "/press/pressure=4 kPa") == "keep one; --set '/press={...}' replaces all that the recipe holds there");
  CHECK(fix(R"({"legume": "soybean", "want": {"dry": "5 kg"}})", "/want/blocks=4") == "keep one; --set '/want={...}' replaces all that the recipe holds there");
}

TEST_CASE("faults come in the order of the file") {
  const Problems p = faults(R"({"soke": {}, "title": 5, "legume": "soybean", "press": {"time": 4}, "chill": {"im": "x"}, "cook": 1})");
  std::vector<int> columns;
  for (const Problem& each : p) columns.push_back(each.place.column);
  CHECK(columns.size() == 5);
  CHECK(std::is_sorted(columns.begin(), columns.end()));
}

TEST_CASE("a kitchen text is read along, and without one the built-in kitchen is used") {
  InputTexts texts{R"({"legume": "soybean"})", "r.json", R"({"altitude": "900 m"})", "k.json", {"/kitchen/room=25 degC", "/kitchen/mould/count=6"}, {}};
  const Kitchen k = must(read_inputs(texts)).kitchen;
  CHECK(in_metres(k.altitude) == Approx(900));
  CHECK(in_celsius(k.room) == Approx(25));
  CHECK(k.moulds == 6);
  CHECK(k.name == default_kitchen().name);
  texts.kitchen.reset();
  texts.set.clear();
  CHECK(in_metres(must(read_inputs(texts)).kitchen.altitude) == Approx(0));
}

TEST_CASE("every fault of recipe and kitchen is reported in one run") {
  InputTexts texts{R"({
  "titel": "x",
  "want": {"blocks": 4, "curd": "1 kg"},
  "soak": {"time": 12, "where": "fridg", "changes": 1.5, "water_to_dry": "3", "skins_off": "yes"},
  "blend": {"total_water_to_dry": 8, "water_to_soaked": 2, "time": "1 cup"},
  "strain": {"washes": [{}, {"water_to_dry": 99}, 5]},
  "press": {"pressure": "2000 kPa", "weight": "1 kg"}
})", "r.json", R"({"room": "80 degC"})", "k.json", {}, {}};
  const auto r = read_inputs(texts);
  REQUIRE_FALSE(r.has_value());
  std::multiset<std::string> found;
  for (const Problem& p : r.error()) found.insert(p.code + " " + p.place.pointer + " " + p.place.file + ":" + std::to_string(p.place.line));
  const std::multiset<std::string> due = {"key-unknown /titel r.json:2", "key-missing  r.json:1", "one-of /want r.json:3", "unit-missing /soak/time r.json:4",
                                          "word-unknown /soak/where r.json:4", "not-whole /soak/changes r.json:4", "type-wrong /soak/water_to_dry r.json:4",
                                          "type-wrong /soak/skins_off r.json:4", "one-of /blend r.json:5", "unit-unknown /blend/time r.json:5",
                                          "key-missing /strain/washes/0 r.json:6", "out-of-range /strain/washes/1/water_to_dry r.json:6",
                                          "type-wrong /strain/washes/2 r.json:6", "out-of-range /press/pressure r.json:7", "out-of-range /room k.json:1"};
  INFO(shown(r.error()));
  CHECK(found == due);
}

TEST_CASE("recipes without a usable legume are refused") {
  CHECK(faults("{}")[0].code == "key-missing");
  CHECK(faults(R"({"legume": []})").size() == 1);
  CHECK(faults(R"({"legume": [{}]})")[0].place.pointer == "/legume/0");
  CHECK(faults(R"({"legume": 5})")[0].code == "type-wrong");
  CHECK(faults(R"({"legume": [{"id":"a"},{"id":"b"},{"id":"c"},{"id":"d"},{"id":"e"}]})")[0].code == "too-many");
  CHECK(faults("[]")[0] == Problem{"type-wrong", {"r.json", 1, 1, "", "[]", 1}, "the file holds a list", "it must hold one object in braces { }",
                                   "start from one that `curdwright new recipe` writes"});
}

TEST_CASE("the shares of a mix must be all there and make a whole") {
  const auto mix = [](const std::string& a, const std::string& b) { return R"({"legume": [{"id": "soybean")" + a + R"(}, {"id": "adzuki")" + b + "}]}"; };
  CHECK(faults(mix(R"(, "share": 0.5)", R"(, "share": 0.4)"))[0].what == "the shares of the mix add to 0.9");
  CHECK(faults(mix(R"(, "share": 0.5)", ""))[0].what == "some shares of the mix are given and some not");
  CHECK(read(mix("", "")).legumes.size() == 2);
  CHECK(read(mix(R"(, "share": 0.333)", R"(, "share": 0.667)")).legumes.size() == 2);
}

TEST_CASE("amounts that exclude each other are refused") {
  const auto fault = [](const std::string& part) { return faults(R"({"legume": "soybean", )" + part + "}")[0]; };
  CHECK(fault(R"("blend": {"water": "3 kg", "water_to_soaked": 2, "total_water_to_dry": 8})").what == "the grinding water is given 3 ways");
  CHECK(fault(R"("press": {"pressure": "4 kPa", "weight": "5 kg"})").fix == "keep one");
  CHECK(fault(R"("coagulate": {"dose": "0.5 mmol/g", "amount": "5 g"})").code == "one-of");
  CHECK(fault(R"("want": {"dry": "1 kg", "blocks": 4})").what == "2 things are wanted");
}
