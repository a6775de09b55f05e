// SPDX-License-Identifier: MIT
#include "curdwright/kitchen.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

#include "curdwright/recipe.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

/// A kitchen in which no value is the default.
Kitchen unusual() {
  Kitchen k;
  k.name = "mountain hut \"3\"";
  k.blender = "wet-grinder", k.jar = litres(11.5), k.strainer = "hydraulic-press";
  k.pots = {{"big pot", litres(35), kilograms(4.2), Material::aluminium}, {"small pot", litres(3.3), grams(812), Material::enamel}};
  k.hob = "gas", k.hob_power = kilowatts(7.1);
  k.settling_vessels = 5, k.settling_volume = litres(12), k.settling_area = square_centimetres(910);
  k.press = "screw-press", k.mould_length = centimetres(21), k.mould_width = centimetres(17), k.mould_height = centimetres(9), k.moulds = 7;
  k.fridge = celsius(2.5), k.fridge_fan = true, k.thermometer = Thermometer::infrared;
  k.coarse_scale = {grams(5), kilograms(15)}, k.fine_scale = {grams(0.01), grams(200)};
  k.altitude = metres(2150), k.room = celsius(16.5), k.tap_water = celsius(8);
  k.water = WaterGrade::untreated, k.rule_set = RuleSet::selling, k.region = Region::codex, k.label_rules = LabelRules::eu;
  k.currency = "ISK", k.prices = {{"soybean", "310/kg"}, {"electricity", "20/kWh"}};
  return k;
}

void check_same(const Kitchen& a, const Kitchen& b, double within) {
  const auto same = [within](double x, double y) { return Approx(x).epsilon(within).margin(1e-12) == y; };
  CHECK(a.name == b.name);
  CHECK(a.blender == b.blender);
  CHECK(same(a.jar.si(), b.jar.si()));
  CHECK(a.strainer == b.strainer);
  REQUIRE(a.pots.size() == b.pots.size());
  for (std::size_t i = 0; i < a.pots.size(); ++i) {
    CHECK(a.pots[i].name == b.pots[i].name);
    CHECK(same(a.pots[i].volume.si(), b.pots[i].volume.si()));
    CHECK(same(a.pots[i].tare.si(), b.pots[i].tare.si()));
    CHECK(a.pots[i].material == b.pots[i].material);
  }
  CHECK(a.hob == b.hob);
  CHECK(same(a.hob_power.si(), b.hob_power.si()));
  CHECK(a.settling_vessels == b.settling_vessels);
  CHECK(same(a.settling_volume.si(), b.settling_volume.si()));
  CHECK(same(a.settling_area.si(), b.settling_area.si()));
  CHECK(a.press == b.press);
  CHECK(same(a.mould_length.si(), b.mould_length.si()));
  CHECK(same(a.mould_width.si(), b.mould_width.si()));
  CHECK(same(a.mould_height.si(), b.mould_height.si()));
  CHECK(a.moulds == b.moulds);
  CHECK(same(a.fridge.si(), b.fridge.si()));
  CHECK(a.fridge_fan == b.fridge_fan);
  CHECK(a.thermometer == b.thermometer);
  CHECK(same(a.coarse_scale.step.si(), b.coarse_scale.step.si()));
  CHECK(same(a.coarse_scale.capacity.si(), b.coarse_scale.capacity.si()));
  CHECK(same(a.fine_scale.step.si(), b.fine_scale.step.si()));
  CHECK(same(a.fine_scale.capacity.si(), b.fine_scale.capacity.si()));
  CHECK(same(a.altitude.si(), b.altitude.si()));
  CHECK(same(a.room.si(), b.room.si()));
  CHECK(same(a.tap_water.si(), b.tap_water.si()));
  CHECK(a.water == b.water);
  CHECK(a.rule_set == b.rule_set);
  CHECK(a.region == b.region);
  CHECK(a.label_rules == b.label_rules);
  CHECK(a.currency == b.currency);
  CHECK(a.prices == b.prices);
}

Problems faults(const std::string& text) {
  auto r = read_kitchen(text, "k.json");
  if (r) FAIL("accepted: " << text);
  return r.error();
}

}  // namespace

TEST_CASE("a kitchen that is written is read back the same") {
  check_same(must(read_kitchen(write_kitchen(default_kitchen()), "k.json")), default_kitchen(), 1e-12);
  check_same(must(read_kitchen(write_kitchen(unusual()), "k.json")), unusual(), 1e-12);
}

TEST_CASE("a kitchen with odd amounts is read back to six digits") {
  Kitchen k = unusual();
  k.pots[0].tare = kilograms(0.45359237 * 3), k.jar = litres(1.892705892), k.altitude = metres(1234.5678), k.room = kelvin(290.9277777);
  check_same(must(read_kitchen(write_kitchen(k), "k.json")), k, 1e-5);
}

TEST_CASE("writing what was read gives the same bytes") {
  const std::string once = write_kitchen(unusual());
  CHECK(write_kitchen(must(read_kitchen(once, "k.json"))) == once);
  CHECK(once.ends_with("}\n"));
}

TEST_CASE("keys that are left out keep the built-in kitchen's values") {
  const Kitchen k = must(read_kitchen(R"({"hob": {"power": "3 kW"}, "pots": [{"volume": "20 l"}, {"name": "wok"}]})", "k.json"));
  CHECK(in_watts(k.hob_power) == Approx(3000));
  CHECK(k.hob == "electric");
  CHECK(k.strainer == "hand-twist");
  REQUIRE(k.pots.size() == 2);
  CHECK(in_litres(k.pots[0].volume) == Approx(20));
  CHECK(k.pots[0].material == Material::steel);
  CHECK(k.pots[1].name == "wok");
  CHECK(in_litres(k.pots[1].volume) == Approx(12));
  check_same(must(read_kitchen("{}", "k.json")), default_kitchen(), 0);
}

TEST_CASE("a kitchen always has a pot to cook in") {
  const auto k = read_kitchen(R"({"pots": []})", "k.json");
  CHECK((!k.has_value() || !k->pots.empty()));
}

TEST_CASE("faults of a kitchen are all reported, with their places") {
  const Problems p = faults("{\n \"blendr\": {},\n \"fridge\": {\"fan\": 1},\n \"altitude\": \"9000 m\",\n \"region\": \"mars\"\n}");
  REQUIRE(p.size() == 4);
  CHECK(p[0].code == "key-unknown");
  CHECK(p[0].fix == "did you mean \"blender\"?");
  CHECK(p[1].code == "type-wrong");
  CHECK(p[1].place.pointer == "/fridge/fan");
  CHECK(p[2].code == "out-of-range");
  CHECK(p[2].what == "9000 m is above 5500 m");
  CHECK(p[3].code == "word-unknown");
  CHECK(p[3].fix == "use one of: us, uk, scotland, eu, canada, anz, codex");
  CHECK(p[0].place.line == 2);
  CHECK(faults("nonsense")[0].code == "json-syntax");
}

TEST_CASE("the schema of a kitchen knows the keys of the written kitchen") {
  const auto schema = nlohmann::json::parse(kitchen_schema());
  const auto written = nlohmann::json::parse(write_kitchen(default_kitchen()));
  CHECK(schema.at("$schema") == "https://json-schema.org/draft/2020-12/schema");
  CHECK(schema.at("additionalProperties") == false);
  for (const auto& [key, value] : written.items()) {
    INFO(key);
    REQUIRE(schema.at("properties").contains(key));
    if (value.is_object())
      for (const auto& [inner, unused] : value.items()) CHECK(schema["properties"][key]["properties"].contains(inner));
  }
}

TEST_CASE("the schema of a recipe asks for the legume and closes its objects") {
  const auto schema = nlohmann::json::parse(recipe_schema());
  CHECK(schema.at("required") == nlohmann::json::array({"legume"}));
  CHECK(schema.at("additionalProperties") == false);
  CHECK(schema["properties"]["soak"]["additionalProperties"] == false);
  CHECK(schema["properties"]["legume"]["oneOf"][1]["maxItems"] == 4);
  CHECK(schema["properties"]["legume"]["oneOf"][1]["minItems"] == 1);
  CHECK(schema["properties"]["soak"]["properties"]["changes"]["maximum"] == 12);
  CHECK(schema["properties"]["strain"]["properties"]["washes"]["items"]["required"] == nlohmann::json::array({"water_to_dry"}));
}
