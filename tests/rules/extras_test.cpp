// SPDX-License-Identifier: MIT
// What extras bring to the label, and to the rules.
#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

Try pea_with(const std::string& what, std::vector<std::string> set = {}) {
  set.insert(set.begin(), {"/extras/-/what=" + what, "/extras/0/amount=10 g"});
  return pea(std::move(set));
}

std::string label(const Batch& b) {
  for (const Caution& c : cautions(facts_of(b)))
    if (c.rule >= "G1" && c.rule <= "G4") return c.text;
  return "";
}

/// A batch whose one extra holds these allergens.
Batch holding(const std::string& region, std::vector<std::string> allergens) {
  Batch b = batch_of(pea_with("salt", {"/kitchen/region=" + region}));
  b.setup.extras[0].extra.allergens = std::move(allergens);
  return b;
}

}  // namespace

TEST_CASE("allergens of extras are on the label, each law naming its own") {
  for (const std::string region : {"us", "codex", "uk", "scotland", "eu", "canada", "anz"}) {
    INFO(region);
    CHECK(label(batch_of(pea_with("sesame-oil", {"/kitchen/region=" + region}))) == "Contains: sesame.");
    CHECK(label(batch_of(pea_with("soy-sauce", {"/kitchen/region=" + region}))) == "Contains: soy, wheat.");
    CHECK(label(batch_of(pea_with("salt", {"/kitchen/region=" + region}))).empty());
  }
}

TEST_CASE("each law names as many allergens as it lists") {
  // Nine; fourteen with four cereals of gluten; Canada without celery and lupin; Australia and New Zealand without celery and mustard.
  const std::vector<std::string> all(known_allergens.begin(), known_allergens.end());
  const auto named = [&](const std::string& region) { return std::ranges::count(label(holding(region, all)), ',') + 1; };
  CHECK(named("us") == 9);
  CHECK(named("eu") == 17);
  CHECK(named("uk") == 17);
  CHECK(named("canada") == 15);
  CHECK(named("anz") == 15);
  CHECK(label(holding("us", {"mustard", "celery", "lupin", "molluscs", "sulphites"})).empty());
  CHECK(label(holding("canada", {"celery", "lupin"})).empty());
  CHECK(label(holding("anz", {"celery", "mustard"})).empty());
  CHECK(label(holding("anz", {"lupin", "tree nuts"})) == "Contains: lupin, tree nuts.");
}

TEST_CASE("a soy-free claim over soy sauce is a stop") {
  CHECK(answer(pea_with("soy-sauce", {"/store/claim=soy-free", "/store/shared_gear=false"}), "G6") == "stop");
  CHECK(answer(pea_with("sesame-oil", {"/store/claim=soy-free", "/store/shared_gear=false"}), "G6") == "silent");
}

TEST_CASE("an extra raises the rules of its record and no others") {
  const auto rules = all_rules();
  for (const std::string& id : Catalogue::shipped().extra_ids()) {
    const Extra e = must(Catalogue::shipped().extra(id));
    for (const std::string& own : e.cautions) CHECK(std::any_of(rules.begin(), rules.end(), [&](const Rule& r) { return r.id == own; }));
    for (const std::string& stage : words_of(e.stages)) {
      const auto list = cautions_of(pea_with(id, {"/extras/0/stage=" + stage}));
      INFO(id << " " << stage << "\n" << avoidable(list));
      CHECK_FALSE(stops(list));
      for (const Caution& c : list) CHECK((c.standing || std::find(e.cautions.begin(), e.cautions.end(), c.rule) != e.cautions.end()));
    }
  }
}

TEST_CASE("an additive among the extras is a line to tick") {
  const auto has_tick = [](const std::string& what, const std::string& line) {
    const auto all = ticks(batch_of(pea_with(what)));
    return std::find(all.begin(), all.end(), line) != all.end();
  };
  CHECK(has_tick("antifoam", "antifoam of food grade"));
  CHECK(has_tick("baking-soda", "baking soda of food grade"));
  CHECK_FALSE(has_tick("salt", "salt of food grade"));
}
