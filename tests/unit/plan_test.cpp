// SPDX-License-Identifier: MIT
#include "curdwright/plan.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "curdwright/figures.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::plan_of;
using curdwright::test::setup_of;

namespace {

const char* const all_settings = R"({"legume": [{"id": "soybean", "share": 0.4}, {"id": "adzuki", "share": 0.6}],
  "soak": {"changes": 1, "skins_off": true}, "blend": {"total_water_to_dry": 8},
  "strain": {"washes": [{"water_to_dry": 1, "blend": "15 s"}, {"water_to_dry": 0.5}]}, "starch": {"remove": "settle-and-gel", "times": 2},
  "coagulate": {"with": "gdl"}, "press": {"time": "1 h"}})";

Theta seed(double water, double protein, double fat, double ash, double fibre, double sugars, double starch) {
  Theta t;
  t.set(Param::seed_water, 0, water), t.set(Param::seed_protein, 0, protein), t.set(Param::seed_fat, 0, fat), t.set(Param::seed_ash, 0, ash);
  t.set(Param::seed_fibre, 0, fibre), t.set(Param::seed_sugars, 0, sugars), t.set(Param::seed_starch, 0, starch);
  t.set(Param::unassigned_fibre_oily, 0, 0.9), t.set(Param::unassigned_fibre_pulse, 0, 0.5);
  return t;
}

}  // namespace

TEST_CASE("carbohydrate that no table names is mostly fibre in soy and half of it in pulses") {
  // Soy, science.md 1.1: 30.16 by difference, less fibre 9.3, sugars 7.33 and starch 0.82 leaves 12.71 g per 100 g.
  const Theta t = seed(0.0854, 0.3649, 0.1994, 0.0487, 0.093, 0.0733, 0.0082);
  const double unnamed = 1 - 0.0854 - 0.3649 - 0.1994 - 0.0487 - 0.093 - 0.0733 - 0.0082;
  const Composition oily = seed_composition(t, 0, true), pulse = seed_composition(t, 0, false);
  CHECK(oily.total_kg() == Approx(1).epsilon(1e-14));
  CHECK(oily[Component::protein] == Approx(0.3649));
  CHECK(oily[Component::starch] == Approx(0.0082));
  CHECK(oily[Component::fibre] == Approx(0.093 + 0.9 * unnamed));
  CHECK(oily[Component::sugars] == Approx(0.0733 + 0.1 * unnamed));
  CHECK(pulse[Component::fibre] == Approx(0.093 + 0.5 * unnamed));
  CHECK(oily[Component::salts] == 0.0);
}

TEST_CASE("starch that does not fit into the carbohydrate is cut down") {
  const Composition c = seed_composition(seed(0.11, 0.25, 0.02, 0.03, 0.25, 0.08, 0.45), 0, false);
  CHECK(c.total_kg() == Approx(1));
  CHECK(c[Component::starch] == Approx(0.59 - 0.25 - 0.08));
  const Composition over = seed_composition(seed(0.3, 0.5, 0.2, 0.2, 0.25, 0.08, 0.45), 0, false);
  CHECK(over.total_kg() == Approx(1));
  CHECK(over[Component::starch] == 0.0);
  CHECK(over[Component::protein] == Approx(0.5 / 1.2));
}

TEST_CASE("every stage balances in every component, and so does the whole batch") {
  const Plan p = plan_of(all_settings, 2.5);
  REQUIRE(p.whole());
  for (Stage s : all_stages) {
    FlowSpare spare;
    const StageFlows f = flows(p, s, spare);
    INFO(word(s));
    CHECK(balance_error(f) < 1e-12);
    CHECK(f.in_count > 0);
    CHECK(f.out_count == 1);
  }
  CHECK(balance_error(p) < 1e-12);
}

TEST_CASE("a stream that is out by a part in ten thousand is noticed") {
  Plan p = plan_of(all_settings, 2.5);
  p.strained.milk.of[Component::protein] *= 1.01;
  FlowSpare spare;
  CHECK(balance_error(flows(p, Stage::strain, spare)) > 1e-4);
  CHECK(balance_error(flows(p, Stage::soak, spare)) < 1e-12);
  p = plan_of(all_settings, 2.5);
  p.pressed.whey.of[Component::water] += 1e-3;
  CHECK(balance_error(p) > 1e-5);
}

TEST_CASE("each stage hands its stream to the next component by component") {
  const Plan p = plan_of(all_settings, 2.5);
  Composition last;
  bool first = true;
  for (Stage s : all_stages) {
    FlowSpare spare;
    const StageFlows f = flows(p, s, spare);
    INFO(word(s));
    if (!first)
      for (Component c : all_components) CHECK(f.in[0].stream->of[c] == Approx(last[c]).epsilon(1e-12).margin(1e-15));
    last = f.out[0].stream->of;
    first = false;
  }
}

TEST_CASE("streams have names of their own on each side of a stage") {
  const Plan p = plan_of(all_settings, 2.5);
  for (Stage s : all_stages) {
    FlowSpare spare;
    const StageFlows f = flows(p, s, spare);
    INFO(word(s));
    std::set<std::string_view> in, leaving;
    for (std::size_t i = 0; i < f.in_count; ++i) CHECK(in.insert(f.in[i].name).second);
    for (std::size_t i = 0; i < f.out_count; ++i) CHECK(leaving.insert(f.out[i].name).second);
    for (std::size_t i = 0; i < f.aside_count; ++i) CHECK(leaving.insert(f.aside[i].name).second);
  }
}

TEST_CASE("a plan is the same every time, and of the size that was asked for") {
  const Setup s = setup_of(all_settings);
  const Theta t = s.beliefs.medians();
  const Plan a = plan(s.job, t), b = plan(s.job, t);
  CHECK(a.pressed.curd.of == b.pressed.curd.of);
  CHECK(a.dry == s.job.dry);
  CHECK(a.block == s.job.press.block);
  CHECK(a.seed.of.total_kg() == Approx(in_kilograms(s.job.dry)));
}

TEST_CASE("faults stop the plan where they arise and leave what came before") {
  const Plan dry = plan_of(R"({"legume": "soybean", "blend": {"total_water_to_dry": 0.6}})");
  CHECK(dry.fault == Fault::water_below_uptake);
  CHECK(dry.fault_at == Stage::blend);
  CHECK(dry.soaked.of.total_kg() > 1.5);
  CHECK(dry.pressed.curd.of.total_kg() == 0.0);
  const Plan thick = plan_of(R"({"legume": "soybean", "blend": {"total_water_to_dry": 1.4}, "strain": {"by": "cloth-drain"}})");
  CHECK(thick.fault == Fault::pulp_keeps_all);
  CHECK(thick.fault_at == Stage::strain);
  CHECK(thick.strained.pulp.of.total_kg() == Approx(thick.ground.all().of.total_kg()));
  const Plan weak = plan_of(R"({"legume": "soybean"})", 1.0, {"/kitchen/hob/power=60 W"});
  CHECK(weak.fault == Fault::hob_too_weak);
  CHECK(weak.fault_at == Stage::cook);
  CHECK(weak.pressed.curd.of.total_kg() > 1);  // the masses hold all the same
  const Plan none = plan_of(R"({"legume": "soybean", "coagulate": {"dose": "0.01 mmol/g"}})");
  CHECK(none.fault == Fault::no_curd);
  CHECK(none.fault_at == Stage::coagulate);
  const Plan wet = plan_of(R"({"legume": "soybean", "press": {"moisture": 0.94}})");
  CHECK(wet.fault == Fault::moisture_too_wet);
  CHECK(wet.fault_at == Stage::press);
}

TEST_CASE("the worked examples of the science page are met within fifteen percent") {
  // science.md 8.9: hand twist holding 3.8, starch release 0.55, 5 % boiled off, curd pressed to 80 % water. Seed 1 kg.
  // The page calls its table an orientation, reckoned by hand with fewer losses, hence the tolerance.
  const auto chain = [](const std::string& id, double water, const std::string& more) {
    Setup s = setup_of(R"({"legume": ")" + id + R"(", "blend": {"total_water_to_dry": )" + std::to_string(water) +
                       R"(}, "starch": {"time": "90 min"}, "cook": {"evaporated": "5 %"}, "press": {"moisture": "80 %"})" + more + "}");
    Theta t = s.beliefs.medians();
    t.set(Param::held_liquor, 0, 3.8);
    return plan(s.job, t);
  };
  const Plan soy = chain("soybean", 8, "");
  CHECK(soy.soaked.of.total_kg() == Approx(2.15).epsilon(0.15));
  CHECK(soy.strained.pulp.of.total_kg() == Approx(1.34).epsilon(0.15));
  CHECK(soy.destarched.milk.of.total_kg() == Approx(7.66).epsilon(0.15));
  CHECK(soy.set.dose.used_kg == Approx(0.025).epsilon(0.15));
  CHECK(soy.pressed.curd.of.total_kg() == Approx(2.30).epsilon(0.15));
  CHECK(value(soy, Figure::protein) == Approx(11.2).epsilon(0.15));
  const Plan chickpea = chain("chickpea-kabuli", 6, "");
  CHECK(chickpea.strained.pulp.of.total_kg() == Approx(1.93).epsilon(0.15));
  CHECK(chickpea.destarched.milk.of.total_kg() == Approx(4.60).epsilon(0.15));
  CHECK(chickpea.set.dose.used_kg == Approx(0.0161).epsilon(0.15));
  CHECK(chickpea.pressed.curd.of.total_kg() == Approx(0.95).epsilon(0.15));
  const Plan washed = chain("pea-split-yellow", 6, R"(, "strain": {"washes": [{"water_to_dry": 1.5}]})");
  CHECK(washed.destarched.milk.of.total_kg() == Approx(6.00).epsilon(0.15));
  CHECK(washed.pressed.curd.of.total_kg() == Approx(0.96).epsilon(0.15));
}

namespace {

bool same(const Stream& a, const Stream& b) { return a.of == b.of && a.minerals == b.minerals && a.granules == b.granules && a.at == b.at; }
bool is_empty(const Stream& s) { return s.of == Composition{}; }

/// Streams of a plan in the order of the process, with the stage that makes them.
std::vector<std::pair<Stage, const Stream*>> made(const Plan& p) {
  return {{Stage::soak, &p.soaked},           {Stage::soak, &p.soak_water},   {Stage::soak, &p.hulls},           {Stage::blend, &p.ground.free},  {Stage::blend, &p.ground.bound},
          {Stage::blend, &p.ground.spill},    {Stage::strain, &p.strained.milk}, {Stage::strain, &p.strained.pulp}, {Stage::starch, &p.destarched.milk}, {Stage::starch, &p.destarched.sediment},
          {Stage::cook, &p.cooked.milk},      {Stage::cook, &p.cooked.steam}, {Stage::coagulate, &p.set.milk},   {Stage::coagulate, &p.set.mix},  {Stage::press, &p.pressed.curd},
          {Stage::press, &p.pressed.whey}};
}

}  // namespace

TEST_CASE("a plan up to a stage is the whole plan's beginning, bit by bit, and nothing more") {
  const Setup s = setup_of(all_settings);
  const Theta theta = s.beliefs.medians();
  const Plan whole = plan(s.job, theta);
  REQUIRE(whole.whole());
  for (Stage last : all_stages) {
    const Plan part = plan(s.job, theta, last);
    INFO(word(last));
    const auto all = made(whole), some = made(part);
    for (std::size_t i = 0; i < all.size(); ++i) CHECK((all[i].first <= last ? same(*all[i].second, *some[i].second) : is_empty(*some[i].second)));
    CHECK(part.uptake_kg == whole.uptake_kg);
    CHECK(part.water.grinding_kg == (last < Stage::blend ? 0.0 : whole.water.grinding_kg));
    CHECK(part.pressed.moisture == (last < Stage::press ? 0.0 : whole.pressed.moisture));
  }
}
