// SPDX-License-Identifier: MIT
// When a rule stops, when it warns, and what only a declaration can stop.
#include "rules/rules.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

Try with(Try t, const std::string& set) {
  t.set.push_back(set);
  return t;
}
/// A mix of a legume and as much yellow pea.
Try mix(std::string_view legume, std::vector<std::string> set = {}) {
  return {"{\"legume\":[{\"id\":\"" + std::string(legume) + "\"},{\"id\":\"pea-split-yellow\"}],\"want\":{\"blocks\":4}}", std::move(set)};
}
bool stopped(const Try& t) { return stops(cautions_of(t)); }
std::vector<std::string> ticks_of(const Try& t) { return ticks(batch_of(t)); }
bool has(const std::vector<std::string>& list, const std::string& part) {
  return std::any_of(list.begin(), list.end(), [&part](const std::string& line) { return line.find(part) != std::string::npos; });
}

double soak_growth(std::vector<std::string> set) {
  const Batch b = batch_of(pea(std::move(set)));
  return facts_of(b).soak_growth;
}

constexpr std::string_view kidney_beans[] = {"kidney-red", "kidney-white", "black-bean", "navy-bean", "pinto-bean"};

}  // namespace

TEST_CASE("severities have the words of the sheet") {
  CHECK(word(Severity::stop) == "stop");
  CHECK(word(Severity::warn) == "warn");
  CHECK(word(Severity::note) == "note");
}

TEST_CASE("a batch is stopped when one of its cautions is a stop") {
  const auto of_severity = [](Severity s) { return Caution{"T1", s, Stage::chill, false, "Text."}; };
  CHECK_FALSE(stops({}));
  const std::vector<Caution> mild = {of_severity(Severity::note), of_severity(Severity::warn)};
  CHECK_FALSE(stops(mild));
  for (const std::size_t at : {0U, 1U, 2U}) {
    std::vector<Caution> list = mild;
    list.insert(list.begin() + static_cast<std::ptrdiff_t>(at), of_severity(Severity::stop));
    CHECK(stops(list));
  }
}

TEST_CASE("a batch is stopped exactly by the rows whose severity is a stop") {
  for (const Row& r : all_rows()) {
    INFO(r.rule << " " << shown(r.fires));
    CHECK(stopped(r.fires) == (r.severity == Severity::stop));
  }
}

TEST_CASE("cooling too slowly warns at home and stops who sells, in every region") {
  struct Clock {
    const char *region, *rule;
  };
  for (const Clock c : {Clock{"us", "T2"}, {"eu", "T2"}, {"uk", "T9"}, {"scotland", "T9"}, {"codex", "T11"}, {"canada", "T12"}, {"anz", "T12"}}) {
    const Try slow = pea({"/press/time=3 h", std::string("/kitchen/region=") + c.region});
    INFO(shown(slow));
    CHECK(answer(with(slow, "/kitchen/rule_set=home"), c.rule) == "warn");
    CHECK(answer(with(slow, "/kitchen/rule_set=selling"), c.rule) == "stop");
    CHECK_FALSE(stopped(with(slow, "/kitchen/rule_set=home")));
    CHECK(stopped(with(slow, "/kitchen/rule_set=selling")));
    for (const char* other : {"T2", "T9", "T11", "T12"})
      if (other != std::string(c.rule)) CHECK(answer(slow, other) == "silent");
  }
}

TEST_CASE("cooling too slowly names a change, and the change mends it") {
  const auto c = caution(pea({"/press/time=3 h"}), "T2");
  REQUIRE(c);
  CHECK_THAT(c->text, Catch::Contains("Mend: press no longer than 30 min, unmould, bag, chill in ice water"));
  CHECK(answer(pea({"/press/time=30 min", "/chill/in=ice-water"}), "T2") == "silent");
  // The first mend is a fan; the fan fridge of the catalogue passes where the still one does not.
  const Try thick = pea({"/block/mass=550 g", "/chill/in=still-fridge"});
  CHECK_THAT(caution(thick, "T2").value_or(Caution{}).text, Catch::Contains("Mend: chill with a fan at 2 degC."));
  CHECK(answer(with(with(thick, "/chill/in=fan-fridge"), "/kitchen/fridge/temperature=2 degC"), "T2") == "silent");
}

TEST_CASE("every common bean is told to keep a full rolling boil and must do so for 30 min, never in a slow cooker, and not where water boils below 98 degC") {
  for (const std::string_view id : kidney_beans) {
    INFO(id);
    CHECK_FALSE(stopped(of(id)));
    for (const char* rule : {"L1", "L2", "L3", "L4"}) CHECK(answer(of(id), rule) == "silent");
    CHECK(caution(of(id), "P17").value_or(Caution{}).standing);
    CHECK(answer(of(id, {"/cook/hold=30 min"}), "L1") == "silent");
    CHECK(answer(of(id, {"/cook/hold=29.9 min"}), "L1") == "stop");
    CHECK(answer(of(id, {"/cook/hold=0 min"}), "L1") == "stop");
    CHECK(answer(of(id, {"/soak/time=4.9 h"}), "L1") == "warn");
    CHECK_FALSE(stopped(of(id, {"/soak/time=4.9 h"})));
    CHECK(answer(of(id, {"/cook/in=slow-cooker", "/cook/hold=6 h"}), "L2") == "stop");
    CHECK(answer(of(id, {"/kitchen/altitude=1500 m"}), "L3") == "stop");
  }
}

TEST_CASE("a pressure cooker is the way out at altitude, with its own caution and the same hold") {
  const Try high = kidney({"/kitchen/altitude=1500 m", "/cook/in=pressure-cooker"});
  CHECK(answer(high, "L3") == "silent");
  CHECK_FALSE(stopped(high));
  CHECK(answer(high, "K10") == "warn");
  CHECK(answer(with(high, "/cook/hold=20 min"), "L1") == "stop");
}

TEST_CASE("a bean in a mix is judged as if it were alone, in whatever place it stands") {
  CHECK(answer(mix("kidney-red"), "L1") == "silent");  // the mix takes the longest hold
  CHECK(answer(mix("kidney-red", {"/cook/hold=15 min"}), "L1") == "stop");
  CHECK(answer(mix("kidney-red", {"/cook/in=slow-cooker"}), "L2") == "stop");
  CHECK(answer(mix("kidney-red", {"/kitchen/altitude=1500 m"}), "L3") == "stop");
  CHECK(answer(mix("soybean", {"/cook/hold=1 min"}), "L5") == "warn");
  CHECK(answer(mix("soybean"), "G1") == "warn");
  for (const char* id : {"faba-whole", "lupin-sweet", "lima-large-white", "peanut"}) {
    const std::string rule = id == std::string("faba-whole") ? "L7" : id == std::string("lupin-sweet") ? "L9" : id == std::string("peanut") ? "L12" : "L10";
    INFO(id << " " << rule);
    CHECK(answer(mix(id), rule) != "silent");
  }
  const Try sown = {R"({"legume":[{"id":"soybean","sold_for":"food"},{"id":"pea-split-yellow","sold_for":"sowing"}],"want":{"blocks":4}})", {}};
  CHECK(answer(sown, "L14") == "stop");
}

TEST_CASE("other legumes may be cooked as the common beans may not") {
  const Try quick = pea({"/cook/hold=10 min", "/cook/in=slow-cooker", "/kitchen/altitude=1500 m", "/soak/time=2 h", "/kitchen/region=uk"});
  for (const char* rule : {"L1", "L2", "L3", "L4", "L5"}) CHECK(answer(quick, rule) == "silent");
}

TEST_CASE("pulp of common beans is called poisonous, other pulp raw") {
  CHECK_THAT(caution(kidney(), "L13").value_or(Caution{}).text, Catch::Contains("as poisonous as the bean: a full rolling boil for at least 30 min"));
  CHECK_THAT(caution(mix("kidney-red"), "L13").value_or(Caution{}).text, Catch::Contains("poisonous"));
  CHECK_THAT(caution(lima(), "L13").value_or(Caution{}).text, Catch::Contains("uncovered"));
  CHECK_THAT(caution(pea(), "L13").value_or(Caution{}).text, !Catch::Contains("poisonous") && !Catch::Contains("uncovered"));
}

TEST_CASE("soy that is held too short keeps its trypsin inhibitor, the more the higher the kitchen") {
  CHECK(answer(soy(), "L5") == "silent");
  CHECK(answer(soy({"/cook/hold=20 min"}), "L5") == "silent");
  CHECK(answer(soy({"/cook/hold=0 min"}), "L5") == "warn");
  CHECK(answer(soy({"/cook/hold=6 min"}), "L5") == "silent");
  CHECK(answer(soy({"/cook/hold=6 min", "/kitchen/altitude=3000 m"}), "L5") == "warn");
  CHECK(answer(pea({"/cook/hold=0 min"}), "L5") == "silent");
}

TEST_CASE("lima beans warn when the boil is short or closed, and are then no longer standing") {
  CHECK(answer(lima(), "L10") == "note");
  CHECK(answer(lima({"/cook/hold=15 min"}), "L10") == "note");
  for (const Try& t : {lima({"/cook/hold=14 min"}), lima({"/cook/in=pressure-cooker"})}) {
    const auto c = caution(t, "L10");
    REQUIRE(c);
    CHECK(word(c->severity) == "warn");
    CHECK_FALSE(c->standing);
  }
  CHECK(caution(lima(), "L10").value_or(Caution{}).standing);
  Batch b = batch_of(lima());
  const Facts f = facts_of(b);
  b.setup.job.cook.hold = minutes(unknown);  // a hold that is not known is too short
  CHECK(word(find(cautions(f), "L10").value_or(Caution{}).severity) == "warn");
}

TEST_CASE("a soy-free claim on soy is a stop, also in a mix, whatever the gear") {
  for (const Try& t : {soy({"/store/claim=soy-free"}), soy({"/store/claim=soy-free", "/store/shared_gear=false"}), mix("soybean", {"/store/claim=soy-free"})})
    CHECK(answer(t, "G6") == "stop");
  CHECK(answer(soy({"/store/claim=none"}), "G6") == "silent");
  CHECK(answer(soy(), "G6") == "silent");
}

TEST_CASE("untreated water, hardware salt, sowing seed and a warm store stop only when declared") {
  // Nothing said, or the good thing said: no stop.
  for (const Try& t : {pea(), pea({"/kitchen/water=drinking", "/coagulate/grade=food", "/store/where=fridge", "/store/ferment=false"}),
                       pea_packet("\"sold_for\":\"food\""), pea({"/store/where=freezer"}), pea({"/store/where=hot", "/store/at=65 degC", "/store/reheat=80 degC"})}) {
    INFO(shown(t));
    CHECK_FALSE(stopped(t));
    for (const char* rule : {"S9", "K2", "L14", "T19"}) CHECK(answer(t, rule) == "silent");
  }
  // Not known: no stop, but a line to tick.
  CHECK(answer(pea({"/coagulate/grade=unknown"}), "K2") == "silent");
  CHECK(answer(pea_packet("\"sold_for\":\"unknown\""), "L14") == "silent");
  for (const Try& t : {pea(), pea({"/coagulate/grade=unknown"}), pea_packet("\"sold_for\":\"unknown\"")}) {
    CHECK(has(ticks_of(t), "seed sold as food, not for sowing"));
    CHECK(has(ticks_of(t), "gypsum of food grade"));
    CHECK(has(ticks_of(t), "drinking water throughout"));
  }
  // The bad thing said: a stop.
  CHECK(answer(pea({"/kitchen/water=untreated"}), "S9") == "stop");
  CHECK(answer(pea({"/coagulate/grade=hardware"}), "K2") == "stop");
  CHECK(answer(pea_packet("\"sold_for\":\"sowing\""), "L14") == "stop");
  CHECK(answer(pea({"/store/where=room"}), "T19") == "stop");
  CHECK(answer(pea({"/store/ferment=true"}), "T19") == "stop");
}

TEST_CASE("what a legume asks of its seed is a line to tick") {
  CHECK(has(ticks_of(of("lupin-sweet")), "lupin sold as sweet"));
  CHECK(has(ticks_of(lima()), "lima beans white, from a shop"));
  CHECK(has(ticks_of(of("peanut")), "kernels sound, none mouldy"));
  CHECK(ticks_of(pea()).size() == 3);
}

TEST_CASE("a soak far past the limit is called so") {
  const auto near = caution(pea({"/soak/where=room", "/soak/time=14 h"}), "S1"), far = caution(pea({"/soak/where=room", "/soak/time=48 h"}), "S1");
  REQUIRE(near);
  REQUIRE(far);
  CHECK_THAT(near->text, Catch::Contains("; the limit is 10"));
  CHECK_THAT(far->text, Catch::Contains("far past the limit of 10"));
}

TEST_CASE("in a US home curd may stand warm for two hours, one in a hot kitchen") {
  const Try two = pea({"/press/time=2 h"});
  CHECK(answer(two, "T8") == "silent");
  CHECK(answer(with(two, "/kitchen/room=33 degC"), "T8") == "warn");
  CHECK(answer(with(two, "/kitchen/room=32 degC"), "T8") == "silent");
  CHECK(answer(pea({"/press/time=3 h", "/press/where=fridge"}), "T8") == "silent");
  for (const char* elsewhere : {"/kitchen/region=uk", "/kitchen/region=eu", "/kitchen/rule_set=selling"}) CHECK(answer(pea({"/press/time=3 h", elsewhere}), "T8") == "silent");
}

TEST_CASE("under the press in a fridge that is not cold, curd is out of control all the same") {
  CHECK(answer(pea({"/press/time=6 h", "/press/where=fridge"}), "T7") == "silent");
  CHECK(answer(pea({"/press/time=6 h", "/press/where=fridge", "/kitchen/fridge/temperature=12 degC"}), "T7") == "warn");
}

TEST_CASE("a salt is over-dosed above 50 mmol per litre and an acid is not judged by that window") {
  CHECK_THAT(caution(pea({"/coagulate/dose=2 mmol/g"}), "P4").value_or(Caution{}).text, Catch::Contains("Over-dosed: 6"));
  CHECK(answer(soy({"/coagulate/with=gdl"}), "P4") == "silent");
}

TEST_CASE("an acid is judged by its own rule, and GDL by the acid it has turned into") {
  const auto text = [](const Try& t) { return caution(t, "P4").value_or(Caution{}).text; };
  CHECK_THAT(text(soy({"/coagulate/with=citric-acid", "/coagulate/dose=0.1 mmol/g"})), Catch::Contains("Under-dosed: ") && Catch::Contains("of the acid"));
  CHECK_THAT(text(soy({"/coagulate/with=citric-acid", "/coagulate/dose=2 mmol/g"})), Catch::Contains("times the acid that is usual"));
  CHECK(answer(soy({"/coagulate/with=citric-acid"}), "P4") == "silent");
  CHECK_THAT(text(soy({"/coagulate/with=gdl", "/coagulate/at=25 degC", "/coagulate/wait=50 min"})), Catch::Contains("of the acid that is usual"));
}

TEST_CASE("curd that waits for its round in the press is on the clock, once it has cooled in the pot") {
  const Try few = pea({"/want/blocks=2", "/kitchen/mould/count=1", "/press/time=4 h", "/press/where=fridge", "/kitchen/rule_set=selling"});
  CHECK(answer(few, "T2") == "stop");
  CHECK_THAT(caution(few, "T2").value_or(Caution{}).text, Catch::Contains("get the curd into moulds sooner"));
  CHECK(answer(with(few, "/kitchen/mould/count=8"), "T2") == "silent");
}

TEST_CASE("filling and emptying many moulds counts as time that curd is warm") {
  // Sixty moulds: 130 minutes to fill them and 120 to empty them.
  const Try many = {R"({"legume":"chickpea-kabuli","want":{"blocks":60}})",
                    {"/kitchen/mould/count=60", "/kitchen/pots/0/volume=200 l", "/kitchen/hob/power=50 kW", "/kitchen/settling/vessels=64", "/kitchen/blender/jar=40 l"}};
  CHECK(answer(many, "T8") == "warn");
  CHECK(answer(with(many, "/kitchen/rule_set=selling"), "T2") == "stop");
}

TEST_CASE("growth goes on through every change of the soak water") {
  // Warm water, changed again and again, never lets the vessel cool.
  const auto grown = [](const char* changes) { return soak_growth({"/soak/water_temperature=30 degC", "/soak/time=10 h", std::string("/soak/changes=") + changes}); };
  CHECK(grown("8") > grown("3"));
}

TEST_CASE("a pour above the boil is planned at the boil, and said") {
  CHECK_THAT(caution(pea({"/kitchen/altitude=3000 m", "/coagulate/at=95 degC"}), "P18").value_or(Caution{}).text, Catch::Contains("set at 95.0 degC"));
}

TEST_CASE("a stock solution is advised only for what dissolves, and can be weighed out") {
  const auto text = [](const Try& t) { return caution(t, "P5").value_or(Caution{}).text; };
  CHECK_THAT(text(pea({"/block/mass=20 g", "/want/blocks=1", "/kitchen/fine_scale/step=0.5 g"})), Catch::Contains("larger batch") && !Catch::Contains("dissolve"));
  CHECK_THAT(text(pea({"/block/mass=20 g", "/want/blocks=1", "/coagulate/with=calcium-chloride-dihydrate", "/kitchen/fine_scale/step=0.15 g"})), Catch::Contains("dissolve 8 g in 160 g"));
}

TEST_CASE("curd in surroundings that never cool it below 57 degC is out of control as long as it lies there") {
  Batch b = batch_of(pea());
  b.setup.press_surroundings = celsius(60);
  CHECK(in_minutes(out_of_control(b, {})) == Approx(in_minutes(b.setup.job.press.time)));
  b.setup.press_surroundings = celsius(5);
  CHECK(in_minutes(out_of_control(b, {})) == 0);
}

TEST_CASE("a mould that is far too low refuses the block, and the block that it names fits") {
  const Try low = pea({"/kitchen/mould/height=2.5 cm"});
  const auto c = caution(low, "P13");
  REQUIRE(c);
  CHECK(c->severity == Severity::stop);
  const auto at = c->text.find("at most ");
  REQUIRE(at != std::string::npos);
  const int grams_that_fit = std::stoi(c->text.substr(at + 8));
  CHECK(answer(with(low, "/block/mass=" + std::to_string(grams_that_fit) + " g"), "P13") == "silent");
  CHECK(answer(with(low, "/block/mass=" + std::to_string(grams_that_fit + 25) + " g"), "P13") == "warn");
}

TEST_CASE("acids and chlorides do not go with aluminium or iron, gypsum goes with any pot") {
  for (const char* material : {"steel", "enamel", "glass", "aluminium", "iron"}) {
    const std::string m = material, pot = "/kitchen/pots/0/material=" + m;
    INFO(m);
    CHECK(answer(pea({"/coagulate/with=citric-acid", pot}), "K12") == (m == "aluminium" || m == "iron" ? "warn" : "silent"));
    CHECK(answer(pea({pot}), "K12") == "silent");
  }
}

TEST_CASE("raw milk may stand for hours in the fridge but not in the kitchen") {
  for (const char* time : {"/starch/time=3 h", "/starch/time=12 h"}) {
    CHECK(answer(pea({time, "/starch/where=fridge"}), "H2") == "silent");
    CHECK(answer(pea({time, "/starch/where=room"}), "H2") == "warn");
    CHECK(answer(pea({time, "/starch/where=fridge", "/kitchen/fridge/temperature=9 degC"}), "H2") == "warn");
  }
}
