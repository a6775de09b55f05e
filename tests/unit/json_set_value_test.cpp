// SPDX-License-Identifier: MIT
#include <catch2/catch.hpp>
#include <string>

#include "recipe_fields.hpp"
#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;
using json::Node;

namespace {

struct Tried {
  json::Document document;
  Result<void> result;
};

/// Sets values one after another on a recipe text; the first failure ends it.
Tried set(const std::string& text, const std::vector<std::string>& assignments) {
  Tried t{must(json::parse(text, "r.json")), {}};
  Recipe recipe;
  for (const std::string& a : assignments) {
    t.result = json::set_value(t.document.root, a, "--set " + a, [&](json::Fields& f) { describe_recipe(f, recipe); });
    if (!t.result) break;
  }
  return t;
}

const Node& at(const Tried& t, std::string_view pointer) {
  const Node* n = &t.document.root;
  for (const std::string& step : must(json::split_pointer(pointer))) {
    n = n->kind == Node::Kind::array ? &n->items.at(std::stoul(step)) : n->find(step);
    if (n == nullptr) FAIL("nothing stands at " << pointer);
  }
  return *n;
}

Problem refusal(const std::string& assignment, const std::string& text = "{}") {
  const Tried t = set(text, {assignment});
  if (t.result) FAIL(assignment << " was accepted");
  REQUIRE(t.result.error().size() == 1);
  return t.result.error()[0];
}

}  // namespace

TEST_CASE("a set value takes the type that its field asks for") {
  const Tried t = set("{}", {"/soak/time=12 h", "/soak/water_to_dry=3.5", "/soak/changes=2", "/soak/skins_off=true", "/press/moisture=0.8", "/title=007"});
  REQUIRE(t.result.has_value());
  CHECK(at(t, "/soak/time").text == "12 h");
  CHECK(at(t, "/soak/water_to_dry").kind == Node::Kind::number);
  CHECK(at(t, "/soak/water_to_dry").number == 3.5);
  CHECK(at(t, "/soak/changes").whole);
  CHECK(at(t, "/soak/skins_off").boolean);
  CHECK(at(t, "/press/moisture").number == 0.8);
  CHECK(at(t, "/title").text == "007");
  CHECK(at(set("{}", {"/press/moisture=80 %"}), "/press/moisture").text == "80 %");
}

TEST_CASE("a set value replaces what the file holds and leaves the rest") {
  const Tried t = set(R"({"soak": {"time": "8 h", "changes": 1}, "title": "x"})", {"/soak/time=12 h", "/soak/time=14 h"});
  REQUIRE(t.result.has_value());
  CHECK(at(t, "/soak/time").text == "14 h");
  CHECK(at(t, "/soak/changes").number == 1);
  CHECK(at(t, "/title").text == "x");
  CHECK(at(t, "/soak").members.size() == 2);
}

TEST_CASE("list entries are set by number, the next number, or a dash") {
  const Tried t = set(R"({"strain": {"washes": [{"water_to_dry": 1}]}})",
                      {"/strain/washes/0/water_to_dry=2", "/strain/washes/1/water_to_dry=3", "/strain/washes/-/water_to_dry=4"});
  REQUIRE(t.result.has_value());
  CHECK(at(t, "/strain/washes").items.size() == 3);
  CHECK(at(t, "/strain/washes/0/water_to_dry").number == 2);
  CHECK(at(t, "/strain/washes/1/water_to_dry").number == 3);
  CHECK(at(t, "/strain/washes/2/water_to_dry").number == 4);
  const Problem gap = refusal("/strain/washes/1/water_to_dry=3");
  CHECK(gap.what == "entry 1 would leave a gap");
  CHECK(gap.why == "the list has 0 entries");
}

TEST_CASE("a whole list may be set as JSON, and a legume as a name") {
  const Tried t = set("{}", {R"(/strain/washes=[{"water_to_dry": 1.5}])", "/legume=soybean"});
  REQUIRE(t.result.has_value());
  CHECK(at(t, "/strain/washes/0/water_to_dry").number == 1.5);
  CHECK(at(t, "/legume").text == "soybean");
  const Tried mix = set("{}", {R"(/legume=[{"id": "soybean"}, {"id": "adzuki"}])"});
  REQUIRE(mix.result.has_value());
  CHECK(at(mix, "/legume/1/id").text == "adzuki");
  CHECK(refusal("/strain/washes=[{").code == "json-syntax");
  CHECK(refusal("/strain/washes=[{").place.file == "--set /strain/washes=[{");
}

TEST_CASE("every node that an option sets names the option") {
  const Tried t = set("{}", {R"(/strain/washes=[{"water_to_dry": 1.5}])", "/soak/time=12 h"});
  CHECK(at(t, "/strain/washes/0/water_to_dry").origin == R"(--set /strain/washes=[{"water_to_dry": 1.5}])");
  CHECK(at(t, "/soak/time").origin == "--set /soak/time=12 h");
  CHECK(at(t, "/soak").origin == "--set /soak/time=12 h");
}

TEST_CASE("an unknown pointer is refused with the nearest one") {
  CHECK(refusal("/sok/time=12 h") == Problem{"pointer-unknown",
                                             {"--set /sok/time=12 h", 0, 0, "", "", 0},
                                             "nothing is known at /sok/time",
                                             "see `curdwright schema recipe` and `curdwright schema kitchen`",
                                             "did you mean /soak/time?"});
  CHECK(refusal("/soak/tim=12 h").fix == "did you mean /soak/time?");
  CHECK(refusal("/strain/washes/0/water_todry=2").fix == "did you mean /strain/washes/0/water_to_dry?");
  CHECK(refusal("/legume/2/shar=0.5").code == "pointer-unknown");
  CHECK(refusal("/qqqqqqqqqqqqqqqqqqqqqqqqqq=1").fix.empty());
  CHECK(refusal("=1").code == "pointer-unknown");
  CHECK(refusal("/soak/-=1").code == "pointer-unknown");
}

TEST_CASE("the number of a list entry has no leading zeros") {
  const Problem p = refusal("/strain/washes/01/water_to_dry=2");
  CHECK(p.code == "pointer-unknown");
  CHECK(p.what == "nothing is known at /strain/washes/01/water_to_dry");
  CHECK(p.why == "the number of a list entry has no leading zeros");
  CHECK(p.fix == "write /strain/washes/1/water_to_dry");
  CHECK(refusal("/legume/00/id=x").fix == "write /legume/0/id");
}

TEST_CASE("an option that is not UTF-8 is refused") {
  for (const char* bytes : {"\xff", "\xc0\x80", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\xe2\x82"}) {
    CHECK(refusal(std::string("/title=a") + bytes).code == "set-unreadable");
    CHECK(refusal(std::string("/ti") + bytes + "tle=a").what == "this option holds a byte that is not UTF-8");
  }
  CHECK(set("{}", {"/title=豆腐 \xF0\x9F\x8C\xB1"}).result.has_value());
}

TEST_CASE("a slip in the word kitchen is answered with the pointer into the kitchen") {
  const auto r = read_inputs({R"({"legume": "soybean"})", "r.json", std::nullopt, "", {"/kitchn/hob/power=5 W"}, {}});
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].fix == "did you mean /kitchen/hob/power?");
}

TEST_CASE("a fault of the kitchen that an option set is pointed to below /kitchen, one of its file is not") {
  const auto r = read_inputs({R"({"legume": "soybean"})", "r.json", R"({"room": 5})", "k.json", {"/kitchen/hob/power=5"}, {}});
  REQUIRE_FALSE(r.has_value());
  REQUIRE(r.error().size() == 2);
  CHECK(r.error()[0].place.pointer == "/kitchen/hob/power");
  CHECK(r.error()[1].place.pointer == "/room");
}

TEST_CASE("an assignment that is none, or whose pointer is none, is refused") {
  CHECK(refusal("/soak/time").code == "set-unreadable");
  CHECK(refusal("/soak/time").fix == "write for example --set /soak/time=12h");
  CHECK(refusal("soak/time=12 h").code == "pointer-unreadable");
  CHECK(refusal("/soak/~2=12 h").why == "~ must be written ~0, and / inside a key ~1");
}

TEST_CASE("only the first equals sign divides pointer and value") {
  const Tried t = set("{}", {"/title=a=b"});
  REQUIRE(t.result.has_value());
  CHECK(at(t, "/title").text == "a=b");
}

TEST_CASE("the list of pointers holds every level once, and each can be found again") {
  Recipe recipe;
  const auto describe = [&](json::Fields& f) { describe_recipe(f, recipe); };
  const auto all = json::all_pointers(describe);
  CHECK(all.size() > 60);
  for (const char* wanted : {"/legume", "/legume/0", "/legume/0/label/protein", "/soak/time", "/strain/washes/0/blend", "/store/ferment"})
    CHECK(std::find(all.begin(), all.end(), wanted) != all.end());
  for (const std::string& pointer : all) {
    INFO(pointer);
    CHECK(std::count(all.begin(), all.end(), pointer) == 1);
    CHECK(json::find_field(must(json::split_pointer(pointer)), describe).kind != json::FieldKind::none);
  }
}

TEST_CASE("a kitchen option that is mistyped is answered in the spelling that would work") {
  const auto r = read_inputs({R"({"legume": "soybean"})", "r.json", std::nullopt, "", {"/kitchen/altitud=900 m"}, {}});
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].fix == "did you mean /kitchen/altitude?");
}

TEST_CASE("values that an option sets are checked like those of the file") {
  const auto r =
      read_inputs({R"({"legume": "soybean"})", "r.json", std::nullopt, "", {"/soak/changes=2.5", "/soak/skins_off=yes", "/soak/time=12", "/title="}, {}});
  REQUIRE_FALSE(r.has_value());
  REQUIRE(r.error().size() == 3);
  CHECK(r.error()[0].code == "unit-missing");
  CHECK(r.error()[0].place == Place{"--set /soak/time=12", 0, 0, "/soak/time", "", 0});
  CHECK(r.error()[1].code == "not-whole");
  CHECK(r.error()[1].what == "2.5 is not a whole number");
  CHECK(r.error()[2].code == "type-wrong");
  CHECK(r.error()[2].place.file == "--set /soak/skins_off=yes");
}

TEST_CASE("not-a-number and infinity set by an option are refused") {
  for (const char* bad : {"/soak/water_to_dry=nan", "/soak/water_to_dry=inf", "/soak/changes=nan", "/press/moisture=nan", "/soak/water_to_dry=1e999"}) {
    INFO(bad);
    const auto r = read_inputs({R"({"legume": "soybean"})", "r.json", std::nullopt, "", {bad}, {}});
    CHECK_FALSE(r.has_value());
  }
}
