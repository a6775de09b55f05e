// SPDX-License-Identifier: MIT
#include "curdwright/resolve.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "curdwright/properties.hpp"
#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;
using curdwright::test::setup_of;

namespace {

Problems faults(const std::string& recipe) {
  const Inputs in = must(read_inputs({recipe, "r.json", std::nullopt, "", {}, {}}));
  const auto r = resolve(in.recipe, in.kitchen, Catalogue::shipped());
  if (r) FAIL("resolved: " << recipe);
  return r.error();
}

std::string with(const std::string& id, const std::string& more = "") { return R"({"legume": ")" + id + "\"" + more + "}"; }

}  // namespace

TEST_CASE("nothing is settled from soy, and starch is settled from pulses") {
  const Setup soy = setup_of(with("soybean"));
  CHECK(soy.job.starch.remove == StarchRemoval::none);
  CHECK(soy.starch_poor);
  const Setup pea = setup_of(with("pea-split-yellow"));
  CHECK(pea.job.starch.remove == StarchRemoval::settle);
  CHECK_FALSE(pea.starch_poor);
  CHECK(in_minutes(pea.job.starch.time) == Approx(40));
  CHECK(pea.job.starch.times == 1);
  CHECK_FALSE(pea.job.starch.depth.has_value());
}

TEST_CASE("a kidney bean is held for 35 minutes unless the recipe says otherwise, and so are its kin") {
  for (const char* id : {"kidney-red", "kidney-white", "navy-bean", "pinto-bean", "black-bean"}) {
    INFO(id);
    CHECK(in_minutes(setup_of(with(id)).job.cook.hold) == Approx(35));
  }
  CHECK(in_minutes(setup_of(with("soybean")).job.cook.hold) == Approx(20));
  CHECK(in_minutes(setup_of(with("kidney-red", R"(, "cook": {"hold": "50 min"})")).job.cook.hold) == Approx(50));
}

TEST_CASE("a mix takes the longest soak and hold, and weighs windows and targets by its shares") {
  const Setup s = setup_of(R"({"legume": [{"id": "soybean", "share": 0.25}, {"id": "kidney-red", "share": 0.75}]})");
  REQUIRE(s.job.legume_count == 2);
  CHECK(s.job.seeds[0].share == Approx(0.25));
  CHECK(s.job.seeds[0].oily);
  CHECK_FALSE(s.job.seeds[1].oily);
  CHECK(in_minutes(s.job.cook.hold) == Approx(35));
  CHECK(s.job.soak.time == std::max(s.legumes[0].soak_time, s.legumes[1].soak_time));
  CHECK(in_millimolar(s.job.coagulate.window_low) == Approx(0.25 * 12 + 0.75 * 15));
  CHECK(in_millimolar(s.job.coagulate.window_high) == Approx(0.25 * 30 + 0.75 * 40));
  CHECK(s.job.starch.remove == StarchRemoval::settle);
  CHECK(plan(s.job, s.beliefs.medians()).whole());
  const Setup even = setup_of(R"({"legume": [{"id": "soybean"}, {"id": "adzuki"}, {"id": "cowpea"}]})");
  for (std::size_t i = 0; i < 3; ++i) CHECK(even.job.seeds[i].share == Approx(1.0 / 3));
}

TEST_CASE("defaults are those of a home kitchen") {
  const Setup s = setup_of(with("soybean"));
  CHECK(in_celsius(s.job.soak.surroundings) == Approx(4));
  CHECK(in_celsius(s.job.soak.water_at) == Approx(15));
  CHECK(s.job.soak.water_to_dry == Approx(3));
  CHECK(in_hours(s.job.soak.time) == Approx(16));
  CHECK(s.job.soak.changes == 0);
  CHECK(s.job.blend.time == s.job.blend.full_time);
  CHECK(s.job.blend.fill == Approx(0.667));
  CHECK(s.job.strain.wash_count == 0);
  CHECK(s.coagulant.id == "calcium-sulfate-dihydrate");
  CHECK(s.chill.id == "ice-water");
  CHECK(in_celsius(s.chill_medium) == Approx(1));
  CHECK(in_grams(s.job.press.block) == Approx(300));
  CHECK(in_kilopascals(s.job.press.pressure) == Approx(4));
  CHECK(in_minutes(s.job.press.time) == Approx(30));
  CHECK(in_celsius(s.job.coagulate.at) == Approx(80));
  CHECK(s.job.coagulate.mix_water_kg_kg == Approx(15));
  CHECK(in_kilograms(s.job.dry) == Approx(1));
  CHECK(s.water_chosen);
  CHECK(in_watts(s.job.cook.hob) == Approx(1800));
}

TEST_CASE("without a word about it, the water is chosen for the milk's protein") {
  for (const char* id : {"soybean", "chickpea-kabuli", "mung-whole"}) {
    INFO(id);
    const Setup s = setup_of(with(id));
    const Plan p = plan(s.job, s.beliefs.medians());
    CHECK(p.strained.milk.of.fraction(Component::protein) == Approx(s.legumes[0].milk_protein.value / 100).epsilon(1e-9));
  }
  const Setup told = setup_of(with("soybean", R"(, "blend": {"total_water_to_dry": 9})"));
  CHECK_FALSE(told.water_chosen);
  CHECK(told.job.blend.water == Approx(9));
  const Setup soaked = setup_of(with("soybean", R"(, "blend": {"water_to_soaked": 2.5})"));
  CHECK(soaked.job.blend.basis == WaterBasis::grinding_to_soaked);
}

TEST_CASE("where things stand decides how cold they are") {
  CHECK(in_celsius(setup_of(with("soybean", R"(, "soak": {"where": "room"})")).job.soak.surroundings) == Approx(20));
  CHECK(in_celsius(setup_of(with("soybean", R"(, "soak": {"where": "room", "room": "28 degC"})")).job.soak.surroundings) == Approx(28));
  CHECK(in_celsius(setup_of(with("adzuki", R"(, "starch": {"where": "fridge"})")).job.starch.surroundings) == Approx(4));
  CHECK(in_celsius(setup_of(with("soybean", R"(, "press": {"where": "fridge"})")).press_surroundings) == Approx(4));
  const Setup fan = setup_of(with("soybean", R"(, "press": {"where": "fridge"})"), {"/kitchen/fridge/fan=true"});
  CHECK(fan.press_coefficient_w_m2_k == Approx(20));
}

TEST_CASE("milk boils where the kitchen stands, in its pot") {
  const auto boil = [](const std::string& more, std::vector<std::string> set = {}) {
    return in_celsius(setup_of(with("soybean", more), std::move(set)).job.cook.boil);
  };
  CHECK(boil("") == Approx(99.97).margin(0.01));                                      // ITS-90, sea level
  CHECK(boil("", {"/kitchen/altitude=2000 m"}) == Approx(93.32).margin(0.01));        // science.md 5.3
  CHECK(boil(R"(, "cook": {"in": "slow-cooker"})") == Approx(90));
  CHECK(boil(R"(, "cook": {"in": "slow-cooker"})", {"/kitchen/altitude=4000 m"}) == Approx(86.62).margin(0.01));
  CHECK(boil(R"(, "cook": {"in": "pressure-cooker"})") == Approx(110));
  CHECK(setup_of(with("soybean", R"(, "cook": {"in": "pressure-cooker"})")).job.cook.evaporated == 0.0);
  const Setup high = setup_of(with("soybean", R"(, "coagulate": {"at": "95 degC"})"), {"/kitchen/altitude=4000 m"});
  CHECK(in_celsius(high.job.coagulate.at) == Approx(86.62).margin(0.01));
}

TEST_CASE("the weight on a block makes its pressure") {
  const Setup s = setup_of(with("soybean", R"(, "press": {"weight": "5 kg"})"));
  CHECK(in_kilopascals(s.job.press.pressure) == Approx(4.086).epsilon(2e-4));  // science.md 8.4: 5 kg on 10 x 12 cm
}

TEST_CASE("salts are reckoned by their ion and acids by their acid") {
  const Setup gypsum = setup_of(with("soybean", R"(, "coagulate": {"purity": "100 %"})"));
  // science.md 7.1: 3.443 g gypsum hold 20 mmol; crystal water 20.93 %.
  CHECK(gypsum.job.coagulate.active_mol_kg == Approx(0.020 / 3.443e-3).epsilon(2e-4));
  CHECK(gypsum.job.coagulate.solute_kg_kg == Approx(1 - 0.20928).epsilon(1e-4));
  CHECK(setup_of(with("soybean")).job.coagulate.active_mol_kg == Approx(0.98 / 0.172164).epsilon(1e-6));
  const Setup bottle = setup_of(with("soybean", R"(, "coagulate": {"with": "nigari-liquid", "label_ion": "5588 mg/100 ml"})"));
  // science.md 7.1: 5588 mg Mg per 100 mL is 2.30 M.
  CHECK(bottle.job.coagulate.active_mol_kg * bottle.coagulant.density->value == Approx(2.299).epsilon(1e-3));
  CHECK(bottle.job.coagulate.ion == Ion::magnesium);
  const Setup gdl = setup_of(with("soybean", R"(, "coagulate": {"with": "gdl"})"));
  CHECK(gdl.job.coagulate.kind == CoagulantKind::lactone);
  CHECK(gdl.job.coagulate.active_mol_kg == Approx(0.99 / 0.17814).epsilon(1e-6));
  CHECK(setup_of(with("soybean", R"(, "coagulate": {"with": "citric-acid"})")).job.coagulate.kind == CoagulantKind::acid);
}

TEST_CASE("a packet replaces the record's figure, and old seed is less sure to swell") {
  const Setup told = setup_of(R"({"legume": [{"id": "soybean", "label": {"protein": "34 g"}}]})"), plain = setup_of(with("soybean"));
  CHECK(told.beliefs.medians().of(Param::seed_protein, 0) == Approx(0.34));
  CHECK(plain.beliefs.medians().of(Param::seed_protein, 0) == Approx(0.3649));
  const auto spread = [](const Setup& s, Param p) {
    for (const Belief& b : s.beliefs.all())
      if (b.param == p && b.legume == 0) return b.spread;
    return 0.0;
  };
  const Setup old = setup_of(R"({"legume": [{"id": "soybean", "age": "1000 d"}]})"), young = setup_of(R"({"legume": [{"id": "soybean", "age": "100 d"}]})");
  CHECK(spread(old, Param::soak_k1) == Approx(1.5 * spread(plain, Param::soak_k1)));
  CHECK(spread(young, Param::soak_k1) == Approx(spread(plain, Param::soak_k1)));
  CHECK(spread(old, Param::hull) == Approx(spread(plain, Param::hull)));
}

TEST_CASE("every parameter that a plan reads has exactly one belief") {
  const Setup s = setup_of(R"({"legume": [{"id": "soybean"}, {"id": "adzuki"}], "coagulate": {"with": "gdl"}})");
  for (const ParamInfo& row : all_params())
    for (std::uint8_t legume = 0; legume < (row.scope == Scope::legume ? 2 : 1); ++legume) {
      INFO(row.key << " " << int{legume});
      const auto all = s.beliefs.all();
      CHECK(std::count_if(all.begin(), all.end(), [&](const Belief& b) { return b.param == row.param && b.legume == legume; }) == 1);
    }
}

TEST_CASE("hot grinding fills the jar less") {
  const Setup hot = setup_of(with("soybean", R"(, "blend": {"water_temperature": "90 degC"})"));
  CHECK(hot.job.blend.fill == Approx(0.333));
  CHECK(in_celsius(hot.job.strain.wash_at) == Approx(90));
}

TEST_CASE("every name that is not found is reported, with its place") {
  const Problems p = faults(R"({"legume": "grass-pea", "strain": {"by": "sieve"}, "chill": {"in": "pond"}, "coagulate": {"with": "drywall"}})");
  REQUIRE(p.size() == 4);
  CHECK(p[0].code == "refused");
  CHECK(p[0].place.pointer == "/legume");
  CHECK(p[1].code == "refused");
  CHECK(p[1].place.pointer == "/coagulate/with");
  CHECK(p[2].code == "record-unknown");
  CHECK(p[2].place.pointer == "/strain/by");
  CHECK(p[3].what == "no way to chill is called \"pond\"");
  CHECK(faults(R"({"legume": [{"id": "soybean"}, {"id": "x"}]})")[0].place.pointer == "/legume/1/id");
}

TEST_CASE("a legume that stands twice in a mix is refused, under any of its names") {
  const Problems p = faults(R"({"legume": [{"id": "soybean"}, {"id": "soya"}]})");
  REQUIRE(p.size() == 1);
  CHECK(p[0] == Problem{"shares", {"", 0, 0, "/legume/1/id", "", 0}, "soybean stands twice in the mix", "", "give it once, with its whole share"});
}

TEST_CASE("what is told of the coagulant must suit it") {
  CHECK(faults(with("soybean", R"(, "coagulate": {"with": "nigari-liquid", "purity": 0.9})"))[0].what == "liquid nigari has no purity");
  CHECK(faults(with("soybean", R"(, "coagulate": {"strength": "2 mol/l"})"))[0].why == "a solid is told by purity");
  CHECK(faults(with("soybean", R"(, "coagulate": {"with": "lemon-juice", "label_ion": "5 g/l"})"))[0].why == "an acid is told by strength");
}

TEST_CASE("a recipe made by hand with no legume, or with too many, is refused") {
  const Catalogue c = Catalogue::shipped();
  Recipe none;
  const auto refused = resolve(none, default_kitchen(), c);
  REQUIRE_FALSE(refused.has_value());
  CHECK(refused.error()[0].code == "legume-missing");
  Recipe many;
  many.legumes.resize(max_legumes + 1);
  for (LegumeChoice& l : many.legumes) l.id = "soybean";
  CHECK_FALSE(resolve(many, default_kitchen(), c).has_value());
  Recipe one;
  one.legumes.resize(1);
  one.legumes[0].id = "soybean";
  Kitchen bare = default_kitchen();
  bare.pots.clear();
  CHECK(resolve(one, bare, c).has_value());
}
