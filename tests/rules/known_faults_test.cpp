// SPDX-License-Identifier: MIT
// Where a rule answers otherwise than the rules of care ask, each with its evidence. These cases are expected to
// fail; when one is mended, Catch says so, and its tag goes. Those about a fail-open rule come first.
#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

TEST_CASE("the cooling clock counts the hours that curd cools in the pot before it is pressed") {
  // Six hours of standing: the milk passes 57 degC after 1.6 h and is at 32 when pressed. T2 allows 2 h from 57 to 21.
  CHECK(answer(pea({"/coagulate/wait=6 h", "/kitchen/rule_set=selling"}), "T2") == "stop");
}

TEST_CASE("the cooling clock counts the hours that milk cools in the pot before it is set") {
  // Curdled at 30 degC: the pot stands 2.4 h between 57 and 30 before the coagulant goes in.
  CHECK(answer(pea({"/coagulate/at=30 degC", "/kitchen/rule_set=selling"}), "T2") == "stop");
}

TEST_CASE("growth in the soak and in warm milk that settles for long are taken together") {
  // 12 h at 20 degC are 0.7 log of growth, under the limit; then milk of 41 degC cools in the fridge for 6 h. With the lag
  // over from the soak, the two are 2.9 log. H2 counts none of the hours in the fridge, S1 none of the milk.
  const auto list = cautions_of(pea({"/soak/where=room", "/soak/time=12 h", "/blend/water_temperature=45 degC", "/starch/where=fridge", "/starch/time=6 h"}));
  CHECK((find(list, "S1") || find(list, "H2")));
}

TEST_CASE("facts of a batch that gives no curd come out, with cooling not met") {
  const Batch b = batch_of(R"({"legume":"pea-split-yellow","want":{"dry":"1 kg"}})", {"/coagulate/amount=0.1 g"});
  REQUIRE(b.plan.fault == Fault::no_curd);
  CHECK_FALSE(facts_of(b).cooling.met);  // today an exception of the root finder leaves facts_of
}

TEST_CASE("common beans on a hob that cannot boil them are not called safe") {
  const Try cold = kidney({"/kitchen/hob/power=60 W"});
  CHECK(stops(cautions_of(cold)));  // the program refuses this plan before it comes to cautions; a caller of the library may not
}

TEST_CASE("soy on a hob that cannot boil it keeps its trypsin inhibitor") { CHECK(answer(soy({"/kitchen/hob/power=60 W"}), "L5") == "warn"); }

TEST_CASE("lima beans in a slow cooker are not a hard, uncovered boil") { CHECK(answer(lima({"/cook/in=slow-cooker"}), "L10") == "warn"); }

TEST_CASE("cold days beyond the seventh before freezing are too many") {
  CHECK(answer(pea({"/store/where=freezer", "/store/days_before_freezing=9"}), "T14") == "warn");  // T15 says "9 of 7"
}

TEST_CASE("a freezer that does not freeze is a fridge, and its days count") {
  CHECK(answer(pea({"/store/where=freezer", "/store/at=4 degC", "/store/days=60"}), "T14") == "warn");
}

TEST_CASE("a soak whose growth is unknown is not cured by boiling either") {
  const Batch b = batch_of(pea());
  Facts f = facts_of(b);
  f.soak_growth = unknown;
  CHECK(find(cautions(f), "S4").has_value());  // S1 does fire
}

TEST_CASE("a record of one's own cannot bring a refused seed back under its Latin name") {
  std::string text = from_source("data/legumes/pea-split-yellow.json");
  const auto put = [&text](const std::string& from, const std::string& to) { text.replace(text.find(from), from.size(), to); };
  put("\"id\": \"pea-split-yellow\"", "\"id\": \"my-pea\"");
  const std::string latin = must(Catalogue::shipped().legume("pea-split-yellow")).latin;
  put("\"latin\": \"" + latin + "\"", "\"latin\": \"Lathyrus sativus\"");
  Catalogue c = Catalogue::shipped();
  CHECK_FALSE(c.add({{"legumes/my-pea.json", text, "own.json"}}));
}
