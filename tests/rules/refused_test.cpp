// SPDX-License-Identifier: MIT
// Seeds and salts that are refused before there is a batch: rules L8 to L11, L14, K2 and K5.
#include <cctype>
#include <map>

#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

const Catalogue& shipped() {
  static const Catalogue c = Catalogue::shipped();
  return c;
}

/// What asking for a seed or salt by a name gives: the problem, or nothing when a record came back.
std::optional<Problem> ask(const std::string& what, const std::string& name) {
  if (what == "seed") {
    const auto r = shipped().legume(name);
    return r ? std::nullopt : std::optional(r.error().at(0));
  }
  const auto r = shipped().coagulant(name);
  return r ? std::nullopt : std::optional(r.error().at(0));
}

std::string in_capitals(std::string s) {
  for (char& c : s) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return s;
}

}  // namespace

TEST_CASE("the seeds and salts of the rules of care are refused, each by its rule") {
  const std::map<std::string, std::string> by_rule = {
      {"grass-pea", "L8"}, {"lupin-bitter", "L9"}, {"lima-coloured-or-wild", "L10"}, {"jack-bean", "L11"}, {"sword-bean", "L11"}, {"velvet-bean", "L11"},
      {"castor-bean", "L11"}, {"jequirity", "L11"}, {"sweet-pea-flower", "L11"}, {"sowing-seed", "L14"}, {"builders-plaster", "K2"}, {"drywall", "K2"},
      {"garden-gypsum", "K2"}, {"bath-epsom", "K2"}, {"road-salt", "K2"}, {"pool-calcium-chloride", "K2"}, {"home-boiled-bittern", "K5"}};
  std::map<std::string, std::string> found;
  for (const Refused& r : shipped().all_refused()) found[r.id] = r.rule;
  CHECK(found == by_rule);
}

TEST_CASE("a refused seed or salt is refused by its id and by every name, in any case, with rule, reason and a way out") {
  for (const Refused& r : shipped().all_refused()) {
    std::vector<std::string> names = r.also;
    names.push_back(r.id);
    names.push_back(r.name);
    for (const std::string& name : names)
      for (const std::string& written : {name, in_capitals(name)}) {
        INFO(r.id << ": " << written);
        const auto p = ask(r.what, written);
        REQUIRE(p);
        CHECK(p->code == "refused");
        CHECK_THAT(p->what, Catch::Contains("is not planned (rule " + r.rule + ")"));
        CHECK(p->why == r.reason);
        CHECK(p->why.back() == '.');
        CHECK_THAT(p->fix, Catch::Contains(r.instead));
        CHECK_FALSE(r.instead.empty());
      }
  }
}

TEST_CASE("what is named instead of a refused seed or salt can be planned, or is advice on what to buy") {
  for (const Refused& r : shipped().all_refused()) {
    INFO(r.id << " instead " << r.instead);
    if (r.instead.find(' ') != std::string::npos) {
      CHECK(r.instead.rfind("Buy ", 0) == 0);
      CHECK(r.instead.back() == '.');
    } else {
      CHECK_FALSE(ask(r.what, r.instead).has_value());
    }
  }
}

TEST_CASE("no record answers to a refused name, and no refused name hides a record") {
  for (const std::string& id : shipped().legume_ids()) {
    INFO(id);
    const Legume l = must(shipped().legume(id));
    CHECK_FALSE(shipped().refused("seed", id).has_value());
    CHECK_FALSE(shipped().refused("seed", l.name).has_value());
    for (const std::string& also : l.also) CHECK_FALSE(shipped().refused("seed", also).has_value());
  }
  for (const std::string& id : shipped().coagulant_ids()) {
    INFO(id);
    const Coagulant c = must(shipped().coagulant(id));
    CHECK_FALSE(shipped().refused("salt", id).has_value());
    for (const std::string& also : c.also) CHECK_FALSE(shipped().refused("salt", also).has_value());
  }
}

TEST_CASE("a recipe with a refused seed or salt has no batch, also when the rest of a mix is sound") {
  const auto problems_of = [](const Try& t) {
    const Inputs in = must(read_inputs({t.recipe, "test.json", std::nullopt, "", t.set, {}}));
    const auto s = resolve(in.recipe, in.kitchen, shipped());
    return s ? Problems{} : s.error();
  };
  for (const Refused& r : shipped().all_refused()) {
    INFO(r.id);
    const Problems alone = problems_of(r.what == "seed" ? of(r.id) : pea({"/coagulate/with=" + r.id}));
    REQUIRE(alone.size() == 1);
    CHECK(alone[0].code == "refused");
    CHECK(alone[0].place.pointer == (r.what == "seed" ? "/legume" : "/coagulate/with"));
    if (r.what != "seed") continue;
    const Problems mixed = problems_of({"{\"legume\":[{\"id\":\"soybean\"},{\"id\":\"" + r.id + "\"}],\"want\":{\"blocks\":4}}", {}});
    REQUIRE(mixed.size() == 1);
    CHECK(mixed[0].code == "refused");
    CHECK(mixed[0].place.pointer == "/legume/1/id");
  }
}
