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

TEST_CASE("a refused name is refused in capitals too") {
  for (const Refused& r : shipped().all_refused())
    for (const std::string& name : r.also) {
      INFO(r.id << ": " << name);
      const auto p = ask(r.what, in_capitals(name));
      CHECK((p && p->code == "refused"));
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

TEST_CASE("a record of one's own cannot bring a refused seed back, by its id or by a name") {
  const auto own = [](const std::string& id, const std::string& also) {
    std::string text = from_source("data/legumes/pea-split-yellow.json");
    const auto put = [&text](const std::string& from, const std::string& to) { text.replace(text.find(from), from.size(), to); };
    put("\"id\": \"pea-split-yellow\"", "\"id\": \"" + id + "\"");
    put("\"also\": [", "\"also\": [" + also);
    return RecordText{"legumes/" + id + ".json", text, "own.json"};
  };
  Catalogue c = Catalogue::shipped();
  for (const RecordText& r : {own("grass-pea", ""), own("my-pea", "\"Khesari\", ")}) {
    INFO(r.path);
    const auto added = c.add({r});
    REQUIRE_FALSE(added);
    CHECK(added.error().at(0).code == "refused");
    CHECK(c.legume("grass-pea").error().at(0).code == "refused");
    CHECK(c.legume("khesari").error().at(0).code == "refused");
  }
}
