// SPDX-License-Identifier: MIT
// Salt, oil, herbs and the like: their records, how a recipe names them, and what they do to a plan.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "curdwright/cost.hpp"
#include "curdwright/fit.hpp"
#include "curdwright/nutrition.hpp"
#include "records.hpp"
#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::test;
using Json = nlohmann::ordered_json;

namespace {

const Catalogue& shipped() {
  static const Catalogue c = Catalogue::shipped();
  return c;
}

/// Soy with water told, so that nothing but the extras differs.
std::string soy_with(const std::string& extras) { return R"({"legume": "soybean", "blend": {"total_water_to_dry": 8}, "extras": [)" + extras + "]}"; }

Json record_of(const std::string& id) { return Json::parse(from_source("data/extras/" + id + ".json")); }

Problem refusal(const Json& record) {
  const auto r = read_extra({"extras/x.json", record.dump(2), "own/extras/x.json"});
  if (r) FAIL("the record was accepted");
  return r.error().at(0);
}

Problems faults(const std::string& recipe) {
  const auto in = read_inputs({recipe, "r.json", std::nullopt, "", {}, {}});
  if (!in) return in.error();
  const auto s = resolve(in->recipe, in->kitchen, shipped());
  return s ? Problems{} : s.error();
}

double salts_kg(const Stream& s) { return s.of[Component::salts]; }

}  // namespace

TEST_CASE("the shipped extras are found by every name, and no name means two of them or a coagulant") {
  std::set<std::string> names;
  CHECK(shipped().extra_ids().size() == 10);
  for (const std::string& id : shipped().extra_ids()) {
    const Extra e = must(shipped().extra(id));
    INFO(id);
    CHECK(e.id == id);
    CHECK_FALSE(e.stages.empty());
    CHECK(e.composition().total_kg() == Approx(1).epsilon(1e-12));
    CHECK(e.teaspoon.has_value());
    std::vector<std::string> all = e.also;
    for (const std::string& n : {e.id, e.name, e.kitchen_name}) all.push_back(n);
    std::set<std::string> own(all.begin(), all.end());
    for (const std::string& n : own) {
      INFO(n);
      CHECK(names.insert(n).second);
      CHECK(must(shipped().extra(n)).id == id);
      CHECK_FALSE(shipped().coagulant(n).has_value());
    }
  }
  CHECK(must(shipped().extra("Baking Soda")).id == "baking-soda");
}

TEST_CASE("sodium of salt and of baking soda follows from the molar masses") {
  // IUPAC abridged weights: Na 22.990, Cl 35.45, H 1.008, C 12.011, O 15.999.
  const auto sodium = [](const char* id) { return must(shipped().extra(id)).minerals().sodium_kg; };
  CHECK(sodium("salt") == Approx(0.995 * 22.990 / (22.990 + 35.45)).epsilon(1e-3));
  CHECK(sodium("baking-soda") == Approx(0.995 * 22.990 / (22.990 + 1.008 + 12.011 + 3 * 15.999)).epsilon(1e-3));
  CHECK(sodium("rapeseed-oil") == 0.0);
}

TEST_CASE("a refused salt or seed is refused as a seasoning too, and an unknown name is answered with the nearest") {
  for (const char* name : {"road-salt", "pool salt", "Bath Salts", "castor bean"}) {
    INFO(name);
    const auto r = shipped().extra(name);
    REQUIRE_FALSE(r.has_value());
    CHECK(r.error()[0].code == "refused");
  }
  const auto r = shipped().extra("baking-sode");
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0] == Problem{"record-unknown", {}, "no extra is called \"baking-sode\"", "`curdwright list extras` shows all", "did you mean \"baking-soda\"?"});
}

TEST_CASE("a record of an extra that hides an allergen, or does not add up, is refused") {
  const auto with = [](auto change) {
    Json j = record_of("soy-sauce");
    change(j);
    return refusal(j);
  };
  const Problem hidden = with([](Json& j) { j["allergens"] = {"soy"}; });
  CHECK(hidden.code == "word-unknown");
  CHECK(hidden.place.pointer == "/allergens/0");
  CHECK(hidden.place.file == "own/extras/x.json");
  CHECK_THAT(hidden.fix, Catch::Contains("soybean") && Catch::Contains("tree nuts"));
  CHECK(with([](Json& j) { j["stages"] = {"press", "chill"}; }).place.pointer == "/stages/1");
  CHECK(with([](Json& j) { j["stages"] = Json::array(); }).code == "key-missing");
  CHECK(with([](Json& j) { j.erase("allergens"); }).code == "key-missing");
  CHECK(with([](Json& j) { j["composition"].erase("water"); }).code == "composition-sum");
  CHECK(with([](Json& j) { j["composition"]["salts"]["borrow"] = "salt"; }).code != "composition-sum");
  CHECK(with([](Json& j) { j["composition"]["fat"] = {{"borrow", "sesame-oil"}}; }).code == "borrow-unknown");
  const Problem heavy = with([](Json& j) { j["sodium"] = {{"value", 20000}, {"range", {19000, 21000}}, {"unit", "mg/100g"}, {"known", "guess"}, {"source", "guess"}}; });
  CHECK_THAT(heavy.what, Catch::Contains("weigh 20.00 g of 100 g"));
}

TEST_CASE("an extra of one's own is added and checked like any record") {
  Json mustard = record_of("black-pepper");
  mustard["id"] = "mustard-powder", mustard["name"] = "Mustard powder", mustard["kitchen_name"] = "mustard powder", mustard["also"] = Json::array();
  mustard["allergens"] = {"mustard"};
  Catalogue c = shipped();
  REQUIRE(c.add({{"extras/mustard-powder.json", mustard.dump(), "mine.json"}}).has_value());
  CHECK(must(c.extra("mustard powder")).allergens == std::vector<std::string>{"mustard"});
  mustard["id"] = "road-salt";
  const auto r = c.add({{"extras/road-salt.json", mustard.dump(), "mine.json"}});
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].code == "refused");
  Json soy = Json::parse(from_source("data/legumes/soybean.json"));
  soy["allergens"] = {"soya"};
  CHECK_FALSE(c.add({{"legumes/soybean.json", soy.dump(), "soy.json"}}).has_value());
}

TEST_CASE("an extra goes in at the first stage of its record unless the recipe tells another that the record allows") {
  CHECK(setup_of(soy_with(R"({"what": "salt", "amount": "12 g"})")).job.extras[0].stage == Stage::press);
  const Setup s = setup_of(soy_with(R"({"what": "table salt", "stage": "cook", "to_dry": 0.01}, {"what": "bicarb", "amount": "5 g"})"));
  REQUIRE(s.job.extra_count == 2);
  CHECK(s.job.extras[0].stage == Stage::cook);
  CHECK(s.job.extras[1].stage == Stage::soak);
  CHECK(in_grams(s.job.extras[0].mass(kilograms(2))) == Approx(20));
  CHECK(in_grams(s.job.extras[1].mass(kilograms(2))) == Approx(5));
  const Problems wrong = faults(soy_with(R"({"what": "baking-soda", "stage": "press", "amount": "5 g"})"));
  REQUIRE(wrong.size() == 1);
  CHECK(wrong[0].place.pointer == "/extras/0/stage");
  CHECK(wrong[0].what == "baking soda is not planned at the stage \"press\"");
  CHECK(wrong[0].fix == "use one of: soak");
}

TEST_CASE("an extra is told by exactly one of amount and to_dry, and every fault is told in one run") {
  const Problems p = faults(soy_with(R"({"what": "salt"}, {"what": "salt", "amount": "1 g", "to_dry": 0.1}, {"amount": "1 g"}, {"what": "salt", "stage": "chill", "amount": 5})"));
  std::set<std::string> found;
  for (const Problem& x : p) {
    found.insert(x.code + " " + x.place.pointer);
    CHECK(x.place.line == 1);
  }
  CHECK(found == std::set<std::string>{"key-missing /extras/0", "one-of /extras/1", "key-missing /extras/2", "word-unknown /extras/3/stage", "unit-missing /extras/3/amount"});
  std::string nine;
  for (int i = 0; i < 9; ++i) nine += std::string(i ? "," : "") + R"({"what": "salt", "amount": "1 g"})";
  CHECK(faults(soy_with(nine)).at(0).code == "too-many");
  Recipe by_hand;
  by_hand.legumes.resize(1);
  by_hand.legumes[0].id = "soybean";
  by_hand.extras.resize(9);
  CHECK(resolve(by_hand, default_kitchen(), shipped()).error().at(0).code == "too-many");
  by_hand.extras.resize(2);
  CHECK(resolve(by_hand, default_kitchen(), shipped()).error().at(1).place.pointer == "/extras/1/what");
}

TEST_CASE("salt in the pressed curd stays in it, whole, and changes nothing else") {
  const Plan plain = plan_of(soy_with("")), salted = plan_of(soy_with(R"({"what": "salt", "amount": "20 g"})"));
  const Extra salt = must(shipped().extra("salt"));
  const Composition more = salted.pressed.curd.of - plain.pressed.curd.of;
  for (Component c : all_components) CHECK(more[c] == Approx(0.020 * salt.composition()[c]).margin(1e-15));
  CHECK(salted.pressed.whey.of == plain.pressed.whey.of);
  // 20 g of 39.14 % sodium, in mg per 100 g of curd.
  const double curd_kg = salted.pressed.curd.of.total_kg();
  const double own = value(plain, Figure::sodium) * plain.pressed.curd.of.total_kg() / curd_kg;
  CHECK(value(salted, Figure::sodium) - own == Approx(20 * 391.4 / (10 * curd_kg)).epsilon(1e-9));
}

TEST_CASE("salt in the milk is shared by curd and whey as the water is") {
  const Plan plain = plan_of(soy_with("")), salted = plan_of(soy_with(R"({"what": "salt", "stage": "cook", "amount": "20 g"})"));
  const auto brought = [&](const Stream& with, const Stream& without) { return salts_kg(with) - salts_kg(without); };
  const double all = 0.020 * must(shipped().extra("salt")).composition()[Component::salts];
  const double curd = brought(salted.pressed.curd, plain.pressed.curd), whey = brought(salted.pressed.whey, plain.pressed.whey);
  CHECK(curd + whey == Approx(all).epsilon(0.02));  // film and cloth take the rest
  CHECK(whey > curd);
  // One liquor: as strong in the curd as in the whey.
  CHECK(salts_kg(salted.pressed.curd) / salted.pressed.curd.of[Component::water] == Approx(salts_kg(salted.pressed.whey) / salted.pressed.whey.of[Component::water]).epsilon(1e-9));
  CHECK(salted.set.curdled_kg == Approx(plain.set.curdled_kg).epsilon(1e-3));
}

TEST_CASE("what is dissolved in the soak water enters the seed with the water it takes up, and grinding sets it free") {
  for (const int changes : {0, 2}) {
    const std::string soak = R"("soak": {"changes": )" + std::to_string(changes) + "}, ";
    const Plan p = plan_of("{" + soak + soy_with(R"({"what": "baking-soda", "to_dry": 0.02})").substr(1));
    const double all = salts_kg(p.soaked) + salts_kg(p.soak_water);
    CHECK(all == Approx(0.02 * must(shipped().extra("baking-soda")).composition()[Component::salts]).epsilon(1e-12));
    CHECK(salts_kg(p.soaked) / all == Approx(p.uptake_kg / p.soak_water_in.of.total_kg()).epsilon(1e-12));
    CHECK(salts_kg(p.ground.bound) == 0.0);
    // All of its sodium goes with it, though a quarter of the seed's own minerals stays bound.
    const Plan plain = plan_of("{" + soak + soy_with("").substr(1));
    const double sodium = p.ground.free.minerals.sodium_kg - plain.ground.free.minerals.sodium_kg, taken = p.soaked.minerals.sodium_kg - plain.soaked.minerals.sodium_kg;
    CHECK(sodium / taken == Approx(1 - 0.005).epsilon(1e-9));  // less the spill
  }
}

TEST_CASE("each seed of a mix takes up by what it drinks") {
  const Plan p = plan_of(R"({"legume": [{"id": "soybean", "share": 0.7}, {"id": "adzuki", "share": 0.3}], "blend": {"total_water_to_dry": 8},
    "extras": [{"what": "salt", "stage": "soak", "amount": "30 g"}]})");
  double sum = 0;
  for (double kg : p.soaked_kg) sum += kg;
  CHECK(sum == Approx(p.soaked.of.total_kg()).epsilon(1e-12));
  CHECK(balance_error(p) < 1e-12);
}

TEST_CASE("starch of an extra never settles, and oil in the blender goes where fat goes") {
  const Plan p = plan_of(R"({"legume": "pea-split-yellow", "extras": [{"what": "pepper", "stage": "cook", "amount": "10 g"}, {"what": "rapeseed-oil", "amount": "30 g"}]})");
  CHECK(p.cooked.milk.of[Component::starch] == Approx(p.cooked.milk.granules.total_kg()).epsilon(1e-12));
  const Plan plain = plan_of(R"({"legume": "pea-split-yellow"})");
  const double oil = p.pressed.curd.of[Component::fat] - plain.pressed.curd.of[Component::fat];
  CHECK(oil > 0.010);
  CHECK(oil < 0.030);
}

TEST_CASE("extras that are told by the seed are rounded to the scale, and told masses are kept") {
  const Batch b = batch_of(R"({"legume": "soybean", "want": {"blocks": 4}, "extras": [{"what": "salt", "to_dry": 0.0123}, {"what": "sugar", "amount": "7.77 g"}]})");
  const double salt_g = in_grams(b.setup.job.extras[0].mass(b.plan.dry));
  CHECK(std::abs(salt_g * 10 - std::round(salt_g * 10)) < 1e-6);
  CHECK(salt_g == Approx(0.0123 * in_grams(b.plan.dry)).margin(0.06));
  CHECK(in_grams(b.setup.job.extras[1].mass(b.plan.dry)) == Approx(7.77));
  CHECK(value(b.plan, Figure::whole_blocks) == 4);
}

TEST_CASE("extras do not change the water that is chosen") {
  const Setup plain = setup_of(R"({"legume": "soybean"})"), rich = setup_of(R"({"legume": "soybean", "extras": [{"what": "rapeseed-oil", "amount": "500 g"}]})");
  CHECK(plain.job.blend.water == rich.job.blend.water);
}

TEST_CASE("salt beside an acid has no energy on the label") {
  const std::string acid = R"({"legume": "soybean", "blend": {"total_water_to_dry": 8}, "coagulate": {"with": "citric-acid", "dose": "0.21 mmol/g"}, "extras": [)";
  const auto kj = [](const Plan& p) { return nutrition(p, {.rules = LabelRules::eu, .acid_set = true}).kj_100g * p.pressed.curd.of.total_kg(); };
  const Plan plain = plan_of(acid + "]}");
  CHECK(kj(plan_of(acid + R"({"what": "salt", "amount": "50 g"}]})")) == Approx(kj(plain)).epsilon(2e-3));
  CHECK(kj(plan_of(acid + R"({"what": "salt", "stage": "cook", "amount": "50 g"}]})")) == Approx(kj(plain)).epsilon(5e-3));
}

TEST_CASE("an extra has a price like the rest, or is named as having none") {
  const Batch b = batch_of(R"({"legume": "soybean", "want": {"blocks": 4}, "extras": [{"what": "salt", "amount": "20 g"}, {"what": "sugar", "amount": "5 g"}]})");
  Kitchen k;
  k.prices = {{"soybean", "3/kg"}, {"salt", "0.50/kg"}};
  CHECK(check_prices(k, shipped()).empty());
  const auto c = cost(b, prices_of(k));
  REQUIRE(c);
  REQUIRE(c->lines.size() == 2);
  CHECK(c->lines[1].id == "salt");
  CHECK(c->lines[1].money == Approx(0.01));
  CHECK(std::count(c->missing.begin(), c->missing.end(), "sugar") == 1);
  k.prices = {{"table salt", "0.50/kg"}};
  CHECK(check_prices(k, shipped()).at(0).fix == "write \"salt\"");
}

TEST_CASE("a batch that is split shares out what was told for the whole") {
  const Batch b = batch_of(R"({"legume": "pea-split-yellow", "want": {"blocks": 24}, "extras": [{"what": "salt", "amount": "90 g"}]})");
  const Batch part = one_run(b);
  REQUIRE(part.shared);
  CHECK(in_grams(part.setup.job.extras[0].mass(part.plan.dry)) == Approx(90.0 * *part.setup.recipe.want.blocks / 24));
}

TEST_CASE("where no curd comes out no extras are stirred into it") {
  const Plan none = plan_of(R"({"legume": "soybean", "coagulate": {"dose": "0.01 mmol/g"}, "extras": [{"what": "salt", "amount": "20 g"}]})");
  CHECK(none.fault == Fault::no_curd);
  CHECK(none.pressed.curd.of.total_kg() == 0.0);
}
