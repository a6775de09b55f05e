// SPDX-License-Identifier: MIT
// The whole text of messages, since people read them and programs match their codes.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "recipe_fields.hpp"
#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;
using curdwright::test::shown;

namespace {

Result<Inputs> tried(const std::string& text, std::vector<std::string> set = {}) { return read_inputs({text, "r.json", std::nullopt, "", std::move(set), {}}); }

Problem fault(const std::string& part) {
  const auto r = tried(R"({"legume":"soybean",)" + part + "}");
  if (r) FAIL("accepted: " << part);
  INFO(shown(r.error()));
  REQUIRE(r.error().size() == 1);
  return r.error()[0];
}

Place place(int column, std::string pointer, std::string part, int caret = 0) {
  return {"r.json", 1, column, std::move(pointer), R"({"legume":"soybean",)" + std::move(part) + "}", caret ? caret : column};
}

}  // namespace

TEST_CASE("an unknown key names the nearest known one") {
  const std::string part = R"("soak":{"tme":"12 h"})";
  CHECK(fault(part) == Problem{"key-unknown", place(29, "/soak/tme", part), "the key \"tme\" is not known here",
                               "a key that is passed over in silence would leave its default in force", "did you mean \"time\"?"});
}

TEST_CASE("a missing unit says what to write") {
  const std::string part = R"("soak":{"time":12})";
  CHECK(fault(part) == Problem{"unit-missing", place(36, "/soak/time", part), "12 has no unit", "a time needs its unit, in double quotes",
                               "write for example \"40 min\""});
}

TEST_CASE("a value beyond its bounds names both bounds") {
  const std::string part = R"("soak":{"time":"99 h"})";
  CHECK(fault(part) ==
        Problem{"out-of-range", place(36, "/soak/time", part), "99 h is above 96 h", "time may be 10 min to 96 h", ""});
  CHECK(fault(R"("soak":{"time":"1 min"})").what == "1 min is below 10 min");
  CHECK(fault(R"("soak":{"changes":13})").why == "changes may be 0 to 12");
  CHECK(fault(R"("soak":{"water_to_dry":0.1})").why == "water_to_dry may be 0.5 to 20");
  CHECK(fault(R"("press":{"moisture":0.2})").what == "20 % is below 30 %");
}

TEST_CASE("a wrong word lists the words") {
  const std::string part = R"("press":{"where":"fride"})";
  CHECK(fault(part) == Problem{"word-unknown", place(38, "/press/where", part), "\"fride\" is not one of the words for where", "allowed: room, fridge",
                               "did you mean \"fridge\"?"});
  CHECK(fault(R"("schema":"curdwright.recipe/9")").code == "word-unknown");
}

TEST_CASE("a wrong type says what it is and what it must be") {
  const std::string part = R"("title":5)";
  CHECK(fault(part) == Problem{"type-wrong", place(29, "/title", part), "title is a number", "it must be a text in double quotes", ""});
  CHECK(fault(R"("soak":{"skins_off":"yes"})").why == "it must be true or false, without quotes");
  CHECK(fault(R"("soak":{"time":true})").why == "it must be a time in double quotes, for example \"40 min\"");
  CHECK(fault(R"("soak":[])").why == "it must be an object in braces { }");
  CHECK(fault(R"("strain":{"washes":{}})").why == "it must be a list in brackets [ ]");
  CHECK(fault(R"("soak":{"water_to_dry":null})").what == "water_to_dry is null");
  CHECK(fault(R"("want":{"blocks":"4"})").why == "it must be a whole number, for example 2");
}

TEST_CASE("a fraction in a count is named") {
  const std::string part = R"("want":{"blocks":2.5})";
  CHECK(fault(part) == Problem{"not-whole", place(38, "/want/blocks", part), "2.5 is not a whole number", "a count has no fraction", "write a whole number"});
  CHECK(fault(R"("want":{"blocks":1e2})").code == "not-whole");
  CHECK(fault(R"("want":{"blocks":99999999999999999999})").code == "out-of-range");
}

TEST_CASE("texts that are too long or hold control characters are refused with the limit") {
  const Problem p = fault(R"("title":")" + std::string(201, 'x') + "\"");
  CHECK(p.code == "text-too-long");
  CHECK(p.what == "this text has 201 characters");
  CHECK(p.why == "at most 200 are read");
  std::string accents;
  for (int i = 0; i < 200; ++i) accents += "é";
  CHECK(tried(R"({"legume":"soybean","title":")" + accents + "\"}").has_value());
  CHECK(fault(R"("title":"a\tb")").code == "text-control");
  CHECK(fault(R"("title":"a\u007fb")").code == "text-control");
}

TEST_CASE("too many entries are refused with the limit") {
  const std::string wash = R"({"water_to_dry":1})";
  const Problem p = fault(R"("strain":{"washes":[)" + wash + "," + wash + "," + wash + "," + wash + "," + wash + "]}");
  CHECK(p.code == "too-many");
  CHECK(p.what == "5 entries");
  CHECK(p.why == "washes may have at most 4");
}

TEST_CASE("a mistyped word is shown cut and without control characters") {
  const Problem p = fault(R"("press":{"where":"fr\n)" + std::string(80, 'x') + R"("})");
  CHECK(p.what.starts_with("\"fr xxx"));
  CHECK(p.what.find("...\" is not one of") != std::string::npos);
  CHECK(p.what.size() < 110);
}

TEST_CASE("every bound that a message prints is itself accepted") {
  Recipe recipe;
  const auto all = json::all_pointers([&](json::Fields& f) { describe_recipe(f, recipe); });
  int bounds = 0;
  for (const std::string& pointer : all) {
    for (const char* wild : {"-1e9", "-300 degC", "1e12 kg", "1e12 h", "1e12 m", "1e12 kPa", "1e12 degC", "1e12 mol/l", "1e12 g/l", "1e12 mmol/g", "1e12 %"}) {
      const auto refused = tried(R"({"legume":[{"id":"soybean"}]})", {pointer + "=" + wild});
      if (refused) continue;
      const Problems& found = refused.error();
      const auto range = std::find_if(found.begin(), found.end(), [](const Problem& p) { return p.code == "out-of-range"; });
      if (range == found.end()) continue;
      const auto may = range->why.find(" may be "), to = range->why.find(" to ");
      REQUIRE((may != std::string::npos && to != std::string::npos));
      for (const std::string& bound : {range->why.substr(may + 8, to - may - 8), range->why.substr(to + 4)}) {
        ++bounds;
        CHECK(bound.find("e+") == std::string::npos);
        const auto again = tried(R"({"legume":[{"id":"soybean"}]})", {pointer + "=" + bound});
        INFO(pointer << "=" << bound << ": " << (again ? std::string() : shown(again.error())));
        CHECK((again || std::none_of(again.error().begin(), again.error().end(), [](const Problem& p) { return p.code == "out-of-range"; })));
      }
    }
  }
  CHECK(bounds > 100);
}
