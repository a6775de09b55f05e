// SPDX-License-Identifier: MIT
// Records of a user's own go through the same checks as the shipped ones.
#include <catch2/catch.hpp>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>

#include "curdwright/catalogue.hpp"
#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::from_source;
using curdwright::test::must;
using curdwright::test::shown;
using Json = nlohmann::ordered_json;

namespace {

Json shipped_json(const std::string& path) { return Json::parse(from_source("data/" + path)); }

RecordText record(const std::string& path, const Json& json) { return {path, json.dump(2), "own/" + path}; }

/// The chickpea under a new id, changed by the test.
Json chickpea() {
  Json j = shipped_json("legumes/chickpea-kabuli.json");
  j["id"] = "mine";
  j["name"] = "Mine";
  j["kitchen_name"] = "mine";
  j["also"] = Json::array();
  return j;
}

Result<void> added(const Json& legume) {
  Catalogue c = Catalogue::shipped();
  return c.add({record("legumes/mine.json", legume)});
}

Problems faults(const Json& legume) {
  const auto r = added(legume);
  if (r) FAIL("the record was accepted");
  return r.error();
}

bool has(const Problems& problems, const std::string& code, const std::string& pointer) {
  for (const Problem& p : problems)
    if (p.code == code && p.place.pointer == pointer) return true;
  return false;
}

}  // namespace

TEST_CASE("a record of one's own is added, found, and replaces a shipped one of the same id") {
  Catalogue c = Catalogue::shipped();
  const auto r = c.add({record("legumes/mine.json", chickpea())});
  if (!r) FAIL(shown(r.error()));
  CHECK(c.legume_ids().size() == 27);
  CHECK(must(c.legume("mine")).name == "Mine");
  Json soy = shipped_json("legumes/soybean.json");
  soy["composition"]["protein"] = {{"value", 38}, {"range", {36, 40}}, {"unit", "g/100g"}, {"known", "seen"}, {"source", "judgement"}};
  REQUIRE(c.add({record("legumes/soybean.json", soy)}).has_value());
  CHECK(c.legume_ids().size() == 27);
  CHECK(must(c.legume("soybean")).evidence(Param::seed_protein).value == 38);
  CHECK(must(Catalogue::shipped().legume("soybean")).evidence(Param::seed_protein).value == Approx(36.49));
}

TEST_CASE("a figure without source, range, unit or way of knowing is refused at its place") {
  for (const char* key : {"source", "range", "unit", "known", "value"}) {
    INFO(key);
    Json j = chickpea();
    j["composition"]["protein"].erase(key);
    const Problems p = faults(j);
    CHECK(has(p, "key-missing", "/composition/protein"));
    CHECK(p[0].place.file == "own/legumes/mine.json");
    CHECK(p[0].place.line > 1);
    CHECK(p[0].what == std::string("the key \"") + key + "\" is missing");
  }
}

TEST_CASE("a source that is not listed is refused, and accepted once it is listed") {
  Json j = chickpea();
  j["composition"]["protein"]["source"] = "my-notebook";
  CHECK(has(faults(j), "source-unknown", "/composition/protein"));
  Catalogue c = Catalogue::shipped();
  const Json sources = {{"schema", "curdwright.sources/1"}, {"sources", {{"my-notebook", {{"cite", "Notebook, 2024"}, {"read", "full"}}}}}};
  const auto r = c.add({record("legumes/mine.json", j), record("sources.json", sources)});
  INFO((r ? "" : shown(r.error())));
  CHECK(r.has_value());
  CHECK(c.citations().count("my-notebook") == 1);
  CHECK(c.citations().count("judgement") == 1);
}

TEST_CASE("figures that contradict themselves are refused") {
  const auto with = [](auto change) {
    Json j = chickpea();
    change(j);
    return faults(j);
  };
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["unit"] = "g/kg"; }), "unit-wrong", "/composition/protein"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["range"] = {30, 40}; }), "range-wrong", "/composition/protein"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["range"] = {40, 10}; }), "range-wrong", "/composition/protein"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["range"] = {-1, 40}; }), "range-wrong", "/composition/protein"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["range"] = {10}; }), "type-wrong", "/composition/protein/range"));
  CHECK(has(with([](Json& j) { j["curd"]["coagulable"]["range"] = {0.5, 1.0}; }), "range-wrong", "/curd/coagulable"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["known"] = "heard"; }), "word-unknown", "/composition/protein/known"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["value"] = "20"; }), "type-wrong", "/composition/protein/value"));
  CHECK(has(with([](Json& j) { j["composition"]["protein"]["why"] = "x"; }), "key-unknown", "/composition/protein/why"));
  CHECK(has(with([](Json& j) { j["composition"].erase("fat"); }), "key-missing", "/composition"));
  CHECK(has(with([](Json& j) { j.erase("latin"); }), "key-missing", ""));
  CHECK(has(with([](Json& j) { j["schema"] = "curdwright.legume/2"; }), "schema-unknown", "/schema"));
  CHECK(has(with([](Json& j) { j["id"] = "other"; }), "id-wrong", "/id"));
  CHECK(with([](Json& j) { j["curd"]["window"]["low"] = 50; })[0].what == "the dose window is empty");
  CHECK(with([](Json& j) { j["hazards"] = {"bites"}; })[0].what == "\"bites\" is not known in hazards");
}

TEST_CASE("a seed that does not add up is refused") {
  Json j = chickpea();
  j["composition"]["carbohydrate"]["value"] = 40;
  j["composition"]["carbohydrate"]["range"] = {35, 45};
  const Problems p = faults(j);
  REQUIRE(p.size() == 1);
  CHECK(p[0].code == "composition-sum");
  CHECK(p[0].why == "they must add to 97 to 103");
  // The chickpea's other figures and this carbohydrate, a little inside and outside of both ends.
  const Legume l = must(Catalogue::shipped().legume("chickpea-kabuli"));
  const double others = l.evidence(Param::seed_water).value + l.evidence(Param::seed_protein).value + l.evidence(Param::seed_fat).value +
                        l.evidence(Param::seed_ash).value;
  for (const auto& [sum, accepted] : {std::pair(96.9, false), std::pair(97.1, true), std::pair(102.9, true), std::pair(103.1, false)}) {
    INFO(sum);
    j["composition"]["carbohydrate"]["value"] = sum - others;
    j["composition"]["carbohydrate"]["range"] = {sum - others - 5, sum - others + 5};
    CHECK(added(j).has_value() == accepted);
  }
}

TEST_CASE("a borrowed figure keeps the median and is 1.5 times as wide on its link scale") {
  Json j = chickpea();
  j["soak"]["k1"] = {{"borrow", "soybean"}, {"note", "much alike"}};
  j["curd"]["coagulable"] = {{"borrow", "soybean"}};
  j["composition"]["calcium"] = {{"borrow", "soybean"}};
  Catalogue c = Catalogue::shipped();
  const auto r = c.add({record("legumes/mine.json", j)});
  if (!r) FAIL(shown(r.error()));
  const Legume mine = must(c.legume("mine")), soy = must(c.legume("soybean"));
  for (Param p : {Param::soak_k1, Param::coagulable, Param::seed_calcium}) {
    INFO(info(p).key);
    const Belief lent = belief_from(p, 0, soy.evidence(p)), own = belief_from(p, 0, mine.evidence(p));
    CHECK(own.median == Approx(lent.median).epsilon(1e-12));
    CHECK(own.spread == Approx(1.5 * lent.spread).epsilon(1e-9));
    CHECK(mine.evidence(p).borrowed_from == "soybean");
    CHECK(mine.evidence(p).source == soy.evidence(p).source);
  }
  CHECK(mine.evidence(Param::soak_k1).note == "much alike");
}

TEST_CASE("a share that is borrowed stays below all of it") {
  Catalogue c = Catalogue::shipped();
  const Legume desi = must(c.legume("chickpea-desi")), kabuli = must(c.legume("chickpea-kabuli"));
  const Belief own = belief_from(Param::seed_starch, 0, desi.evidence(Param::seed_starch));
  CHECK(own.spread == Approx(1.5 * belief_from(Param::seed_starch, 0, kabuli.evidence(Param::seed_starch)).spread).epsilon(1e-9));
  CHECK(desi.evidence(Param::seed_starch).high < 100);
}

TEST_CASE("what is no single figure cannot be borrowed, and that is one problem") {
  Json window = chickpea();
  window["curd"]["window"] = {{"borrow", "navy-bean"}};
  const Problems p = faults(window);
  REQUIRE(p.size() == 1);
  CHECK(p[0].what == "window cannot be borrowed");
  CHECK(p[0].place.pointer == "/curd/window");
}

TEST_CASE("a chain of borrowing, and borrowing from nobody, are refused") {
  Json chain = chickpea();
  chain["soak"]["k1"] = {{"borrow", "chickpea-desi"}};  // which borrows it itself
  const Problems p = faults(chain);
  REQUIRE(p.size() == 1);
  CHECK(p[0].code == "borrow-unknown");
  CHECK(p[0].what == "\"chickpea-desi\" cannot lend soak.k1");
  CHECK(p[0].fix == "borrow from \"chickpea-kabuli\", or give a figure");
  Json nobody = chickpea();
  nobody["soak"]["k1"] = {{"borrow", "moon-bean"}};
  CHECK(faults(nobody)[0].code == "borrow-unknown");
  Json itself = chickpea();
  itself["soak"]["k1"] = {{"borrow", "mine"}};
  CHECK(faults(itself)[0].code == "borrow-unknown");
}

TEST_CASE("sugars may be left out, and then are a guess") {
  Json j = chickpea();
  j["composition"].erase("sugars");
  Catalogue c = Catalogue::shipped();
  REQUIRE(c.add({record("legumes/mine.json", j)}).has_value());
  CHECK(must(c.legume("mine")).evidence(Param::seed_sugars).known == Known::guess);
}

TEST_CASE("a failed addition leaves the catalogue as it was") {
  Catalogue c = Catalogue::shipped();
  Json bad = chickpea();
  bad["composition"]["protein"].erase("source");
  CHECK_FALSE(c.add({record("legumes/mine.json", bad)}).has_value());
  CHECK(c.legume_ids().size() == 26);
  CHECK_FALSE(c.add({{"legumes/mine.json", "{", "mine.json"}}).has_value());
  CHECK(c.legume_ids().size() == 26);
}

TEST_CASE("coagulants must tell their strength, dose and ion") {
  const auto fault = [](const char* id, auto change) {
    Json j = shipped_json(std::string("coagulants/") + id + ".json");
    change(j);
    Catalogue c = Catalogue::shipped();
    const auto r = c.add({record(std::string("coagulants/") + id + ".json", j)});
    if (r) FAIL("accepted");
    return r.error()[0];
  };
  CHECK(fault("nigari-liquid", [](Json& j) { j.erase("density"); }).what == "the strength of nigari-liquid is not told");
  CHECK(fault("calcium-sulfate-dihydrate", [](Json& j) { j.erase("purity"); }).code == "key-missing");
  CHECK(fault("citric-acid", [](Json& j) { j.erase("dose"); }).what == "the dose of citric-acid is not told");
  CHECK(fault("calcium-sulfate-dihydrate", [](Json& j) { j["ion"] = "none"; }).code == "word-unknown");
}

TEST_CASE("equipment must say what it is and bring its figures") {
  const auto fault = [](auto change) {
    Json j = shipped_json("equipment/hand-twist.json");
    change(j);
    Catalogue c = Catalogue::shipped();
    const auto r = c.add({record("equipment/hand-twist.json", j)});
    if (r) FAIL("accepted");
    return r.error()[0];
  };
  CHECK(fault([](Json& j) { j["kind"] = "spoon"; }).code == "word-unknown");
  CHECK(fault([](Json& j) { j.erase("held_liquor"); }).code == "key-missing");
  CHECK(fault([](Json& j) { j["held_liquor"]["unit"] = "kg"; }).code == "unit-wrong");
}

namespace {

/// A shipped record under its own id, changed by the test, and what is wrong with it then.
Problems faults_of(const std::string& path, const std::function<void(Json&)>& change) {
  Json j = shipped_json(path);
  change(j);
  Catalogue c = Catalogue::shipped();
  const auto r = c.add({record(path, j)});
  return r ? Problems{} : r.error();
}

Json of_species(const char* latin, std::vector<std::string> hazards = {}, std::vector<std::string> allergens = {}) {
  Json j = chickpea();
  j["latin"] = latin;
  j["hazards"] = hazards;
  j["allergens"] = allergens;
  return j;
}

}  // namespace

TEST_CASE("a record in place of a shipped one may add hazards and allergens, and take none away") {
  const Problems p = faults_of("legumes/soybean.json", [](Json& j) { j["hazards"] = Json::array(), j["allergens"] = {"peanut"}; });
  INFO(shown(p));
  REQUIRE(p.size() == 2);
  CHECK(p[0].code == "hazard-missing");
  CHECK(p[0].place.file == "own/legumes/soybean.json");
  CHECK(p[0].place.line > 1);
  CHECK(p[0].place.pointer == "/hazards");
  CHECK(p[0].what == "\"trypsin-inhibitor\" is missing from hazards");
  CHECK(p[0].why == "the shipped soybean holds it; a record may add a warning and never take one away");
  CHECK(p[0].fix == "add \"trypsin-inhibitor\" to hazards");
  CHECK(p[1].place.pointer == "/allergens");
  CHECK(p[1].fix == "add \"soybean\" to allergens");
  CHECK(faults_of("legumes/soybean.json", [](Json& j) { j["hazards"].push_back("favism"), j["allergens"].push_back("lupin"); }).empty());
}

TEST_CASE("a record of a shipped species holds what all shipped records of that species warn of") {
  for (const char* latin : {"Phaseolus vulgaris", "PHASEOLUS VULGARIS", "  phaseolus  vulgaris L.", "Phaseolus vulgaris var. nanus", "Vigna mungo, Phaseolus vulgaris"}) {
    INFO(latin);
    CHECK(has(faults(of_species(latin)), "hazard-missing", "/hazards"));
    CHECK(added(of_species(latin, {"kidney-lectin"})).has_value());
  }
  CHECK(faults(of_species("Lupinus angustifolius")).size() == 2);
  CHECK(added(of_species("Lupinus angustifolius", {"lupin-alkaloids"}, {"lupin"})).has_value());
  CHECK(faults(of_species("Arachis hypogaea", {"aflatoxin"}))[0].place.pointer == "/allergens");
  CHECK(added(of_species("Phaseolus coccineus")).has_value());
  CHECK(added(of_species("Vulgaris")).has_value());
}

TEST_CASE("a record of a coagulant keeps its rules and what it does to metal") {
  CHECK(has(faults_of("coagulants/nigari-flakes.json", [](Json& j) { j["cautions"] = Json::array(); }), "hazard-missing", "/cautions"));
  CHECK(has(faults_of("coagulants/nigari-flakes.json", [](Json& j) { j["metal_reacts"] = false; }), "hazard-missing", "/metal_reacts"));
  CHECK(faults_of("coagulants/calcium-lactate-pentahydrate.json", [](Json& j) { j["metal_reacts"] = true, j["cautions"] = {"K4"}; }).empty());
}

TEST_CASE("a record may not take a name of a shipped record with another id") {
  const auto named = [](const char* key, const Json& value) {
    Json j = chickpea();
    j[key] = value;
    return j;
  };
  for (const Json& j : {named("name", "Soybean"), named("kitchen_name", "soybeans"), named("also", {"mine too", "GARBANZO"})}) {
    const Problems p = faults(j);
    REQUIRE(p.size() == 1);
    CHECK(p[0].code == "name-taken");
    CHECK(p[0].place.file == "own/legumes/mine.json");
    CHECK(p[0].place.line > 1);
  }
  CHECK(faults(named("also", {"garbanzo"}))[0].fix == "give it another name, or replace chickpea-kabuli by a record of that id");
  CHECK(has(faults_of("coagulants/gdl.json", [](Json& j) { j["also"].push_back("Nigari"); }), "name-taken", "/id"));
  CHECK(has(faults_of("equipment/hand-twist.json", [](Json& j) { j["also"].push_back("cloth-drain"); }), "name-taken", "/id"));
  CHECK(faults_of("equipment/hand-twist.json", [](Json& j) { j["also"].push_back("high-speed"); }).empty());  // a blender's: not asked for by the same key
}

TEST_CASE("where a record in place of a lender no longer lends, it is blamed and not the borrowers") {
  const Problems p = faults_of("legumes/chickpea-kabuli.json", [](Json& j) { j["soak"]["k1"] = {{"borrow", "soybean"}}; });
  REQUIRE_FALSE(p.empty());
  for (const Problem& each : p) {
    INFO(shown({each}));
    CHECK(each.code == "borrow-unknown");
    CHECK(each.place.file == "own/legumes/chickpea-kabuli.json");
    CHECK(each.what == "\"chickpea-kabuli\" must hold soak.k1 itself");
  }
}

TEST_CASE("faults of tools and sources are told at their line") {
  const Problems p = faults_of("equipment/hand-twist.json", [](Json& j) { j["held_liquor"]["source"] = "nowhere"; });
  REQUIRE(p.size() == 1);
  CHECK(p[0].code == "source-unknown");
  CHECK(p[0].place.file == "own/equipment/hand-twist.json");
  CHECK(p[0].place.line > 1);
}
