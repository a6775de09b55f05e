// SPDX-License-Identifier: MIT
// A sheet that leaves everything to the defaults raises no caution that the cook could have avoided.
#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

std::string recipe_of(const std::string& legume, const std::string& want) { return "{\"legume\":\"" + legume + "\",\"want\":" + want + "}"; }

}  // namespace

// Up to what the built-in kitchen holds: two settling vessels and four moulds. Above, P9 and P12 are the cook's to choose.
TEST_CASE("a default recipe of every legume is whole, is not stopped, and raises standing cautions only") {
  const auto ids = Catalogue::shipped().legume_ids();
  CHECK(ids.size() == 26);
  for (const std::string& id : ids)
    for (const std::string want : {R"({"blocks":4})", R"({"blocks":1})", R"({"dry":"500 g"})", R"({"dry":"1 kg"})", R"({"curd":"1 kg"})"}) {
      INFO(id << " " << want);
      const Batch b = batch_of(recipe_of(id, want));
      CHECK(b.plan.whole());
      const auto list = cautions(facts_of(b));
      CHECK_FALSE(stops(list));
      CHECK(avoidable(list) == "");
      CHECK(find(list, "T1").has_value());
    }
}

TEST_CASE("a default recipe passes the clock of every region, for home and for sale") {
  for (const std::string& id : Catalogue::shipped().legume_ids())
    for (const std::string region : {"us", "uk", "scotland", "eu", "canada", "anz", "codex"})
      for (const std::string rules : {"home", "selling"}) {
        const auto list = cautions_of(of(id, {"/kitchen/region=" + region, "/kitchen/rule_set=" + rules}));
        INFO(id << " " << region << " " << rules << "\n" << avoidable(list));
        CHECK_FALSE(stops(list));
        // T13 and L4 are notes that come with the place; the cook has nothing to change.
        for (const Caution& c : list) CHECK((c.standing || (word(c.severity) == "note" && (c.rule == "T13" || c.rule == "L4"))));
      }
}

TEST_CASE("a default mix of two legumes raises standing cautions only") {
  for (const std::string other : {"soybean", "kidney-red", "lima-large-white", "lupin-sweet", "faba-split", "lentil-red-split"}) {
    const Try t = {"{\"legume\":[{\"id\":\"chickpea-kabuli\"},{\"id\":\"" + other + "\"}],\"want\":{\"blocks\":4}}", {}};
    INFO(other);
    CHECK(avoidable(cautions_of(t)) == "");
  }
}

TEST_CASE("every coagulant at its own dose raises no caution but its own and its handling") {
  for (const std::string& id : Catalogue::shipped().coagulant_ids()) {
    const auto list = cautions_of(soy({"/coagulate/with=" + id}));
    const Coagulant c = must(Catalogue::shipped().coagulant(id));
    INFO(id << "\n" << avoidable(list));
    CHECK_FALSE(stops(list));
    for (const Caution& x : list)
      if (!x.standing) CHECK(std::find(c.cautions.begin(), c.cautions.end(), x.rule) != c.cautions.end());
    for (const std::string& own : c.cautions) CHECK(find(list, own).has_value());
  }
}
