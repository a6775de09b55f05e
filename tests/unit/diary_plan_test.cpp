// SPDX-License-Identifier: MIT
// A batch of the diary, planned again as it was planned then, and judged as it was told.
#include "curdwright/correct.hpp"
#include "curdwright/diary_plan.hpp"
#include "support/kitchens.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

DiaryBatch started(const std::string& recipe, std::optional<std::string> kitchen = std::nullopt) {
  const Inputs in = must(read_inputs({recipe, "r.json", kitchen, "k.json", {}, {}}));
  const Batch b = must(plan_batch(must(resolve(in.recipe, in.kitchen, Catalogue::shipped()))));
  DiaryBatch d;
  d.id = "beans-1";
  d.start = start_of(b, {recipe, "r.json", kitchen, "k.json", {}, {}});
  return d;
}

DiaryAmount& planned(DiaryBatch& b, std::string_view word) {
  for (DiaryAmount& a : b.start.planned)
    if (a.word == word) return a;
  FAIL("nothing planned of it");
  return b.start.planned[0];
}

void tell(DiaryBatch& b, const std::string& text) {
  const Reading r = must(read_reading(text, Kitchen{}, "x"));
  b.readings.push_back({std::string(r.what->word), r.told, r.si, r.what->kind == QuantityKind::volume ? "m3" : "kg", r.weighings, {}, false});
}

constexpr const char* salted = R"({"legume": "chickpea-kabuli", "want": {"blocks": 4}, "strain": {"washes": [{"water_to_dry": 1}]}, "extras": [{"what": "salt", "to_dry": 0.02}]})";

}  // namespace

TEST_CASE("a batch is planned again with the amounts that were planned then") {
  DiaryBatch d = started(salted);
  const Batch again = must(planned_then(d, Catalogue::shipped(), Believed::then));
  for (const char* word : {"soak-water", "blend-water", "wash-water", "coagulant"}) {
    INFO(word);
    for (const Measurable& m : all_measurables())
      if (m.word == word) CHECK(m.planned(again.setup) == Approx(planned(d, word).value));
  }
  CHECK(again.plan.dry.si() == Approx(planned(d, "dry").value));
}

TEST_CASE("amounts of the diary hold whatever would be planned today, and extras follow the seed") {
  DiaryBatch d = started(salted);
  const double curd = must(planned_then(d, Catalogue::shipped(), Believed::then)).plan.pressed.curd.of.total_kg();
  const double salt = in_grams(must(planned_then(d, Catalogue::shipped(), Believed::then)).setup.job.extras[0].mass(kilograms(planned(d, "dry").value)));
  for (const char* word : {"dry", "soak-water", "blend-water", "wash-water", "coagulant"}) planned(d, word).value *= 2;
  const Batch twice = must(planned_then(d, Catalogue::shipped(), Believed::then));
  // More than twice: the milk stands deeper in the same vessels, and keeps more of its starch.
  CHECK(twice.plan.pressed.curd.of.total_kg() > 1.9 * curd);
  CHECK(in_grams(twice.setup.job.extras[0].mass(twice.plan.dry)) == Approx(2 * salt));
  CHECK(twice.blocks_to_press >= 8);
}

TEST_CASE("a batch of an older data version keeps its own medians, even from a kitchen that had learned") {
  const Setup s = setup_of(R"({"legume": "chickpea-kabuli", "want": {"dry": "900 g"}})");
  Kitchen k = default_kitchen();
  k.learned = learn(std::vector<BatchSeen>{{"b", s, {{Figure::pulp_mass, 1.3 * value(plan(s.job, s.beliefs.medians()), Figure::pulp_mass), 0.03}}}}).learned;
  DiaryBatch d = started(salted, write_kitchen(k));
  double stored = 0;
  for (DiaryBelief& b : d.start.beliefs)
    if (b.parameter == "held_liquor") stored = b.median;
  d.start.data = "1999.01";
  // The kitchen that was stored then names the version of then.
  d.start.kitchen = [&] {
    std::string text = *d.start.kitchen;
    const auto at = text.find("\"data\": \"");
    return text.replace(at, 16, "\"data\": \"1999.01");
  }();
  const auto again = planned_then(d, Catalogue::shipped(), Believed::then);
  REQUIRE(again);
  CHECK(again->theta[Param::held_liquor] == Approx(stored));
  CHECK(must(planned_then(d, Catalogue::shipped(), Believed::shipped)).theta[Param::held_liquor] < stored);
}

TEST_CASE("what a recipe may tell is planned again, though no reading may tell so much") {
  // Two hours in the jar, milk deeper than two metres, and soak water by the hundred tonnes.
  const DiaryBatch d = started(R"({"legume": "soybean", "want": {"dry": "9000 kg"}, "soak": {"water_to_dry": 20}, "blend": {"time": "2 h"}, "starch": {"remove": "settle", "depth": "3 m"}})");
  CHECK(must(planned_then(d, Catalogue::shipped(), Believed::then)).plan.dry.si() == Approx(9000));
}

TEST_CASE("an amount that no kitchen has is refused, though its line was sealed") {
  DiaryBatch d = started(salted);
  planned(d, "dry").value = 1e11;
  const auto again = planned_then(d, Catalogue::shipped(), Believed::then);
  REQUIRE_FALSE(again);
  CHECK(again.error()[0].code == "diary-line");
  tell(d, "pulp=1kg");
  d.readings[0].value = -1;
  CHECK(readings_of(d).empty());
}

TEST_CASE("what was told is judged by the rules: stops, new warnings, and what was seen that is thrown out") {
  const Catalogue c = Catalogue::shipped();
  DiaryBatch kidney = started(R"({"legume": "kidney-white", "want": {"blocks": 3}})");
  CHECK(verdict_of(kidney, c).stops.empty());
  tell(kidney, "hold=20min");
  REQUIRE(verdict_of(kidney, c).stops.size() == 1);
  CHECK(verdict_of(kidney, c).stops[0].find("poisonous") != std::string::npos);

  DiaryBatch chickpea = started(salted);
  tell(chickpea, "stood=16h");
  CHECK(verdict_of(chickpea, c).stops.empty());
  CHECK_FALSE(verdict_of(chickpea, c).cares.empty());
  chickpea.sightings.push_back({"soak", "sour", {}});
  CHECK(verdict_of(chickpea, c).stops.size() == 1);

  DiaryBatch lost = started(salted);
  lost.start.recipe = "{}";
  CHECK(verdict_of(lost, c).stops.size() == 1);
}
