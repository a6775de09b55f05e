// SPDX-License-Identifier: MIT
// What is wanted: blocks, curd, protein, a full kitchen, each with a chance.
#include <boost/math/distributions/normal.hpp>
#include <random>

#include "curdwright/fit.hpp"
#include "curdwright/properties.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::batch_of;
using curdwright::test::must;
using curdwright::test::setup_of;

namespace {

Batch planned(const std::string& recipe, std::vector<std::string> set = {}) { return must(plan_batch(setup_of(recipe, std::move(set)))); }

constexpr const char* pea = R"({"legume": "pea-split-yellow"})";

/// Kitchens drawn by plain random numbers, not by the sequence that the plan looked at.
double share_that_reaches(const Batch& b, Figure f, double value_wanted) {
  std::mt19937_64 random(20261125);
  const boost::math::normal_distribution<double> normal;
  constexpr int draws = 3000;
  int reached = 0;
  std::vector<double> z(b.setup.beliefs.all().size());
  for (int k = 0; k < draws; ++k) {
    for (double& x : z) x = quantile(normal, (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53);
    reached += value(plan(b.setup.job, b.setup.beliefs.at(z)), f) >= value_wanted;
  }
  return reached / static_cast<double>(draws);
}

}  // namespace

TEST_CASE("wanted protein is the protein of the pressed curd") {
  const Batch b = planned(pea, {"/want/protein=100 g"});
  CHECK(value(b.plan, Figure::protein_mass) == Approx(100).epsilon(0.01));
  CHECK(value(b.plan, Figure::protein_mass) == Approx(1e3 * b.plan.pressed.curd.of[Component::protein]));
}

TEST_CASE("a target that is to be sure is reached in as many kitchens drawn at random") {
  // 128 plans that fill the space evenly put the edge within some 4 % of where 3,000 draws see it.
  for (const auto& [sure, set] : {std::pair{0.8, "/want/curd=1 kg"}, {0.9, "/want/blocks=4"}, {0.5, "/want/curd=1 kg"}, {0.7, "/want/protein=120 g"}}) {
    INFO(set << " " << sure);
    const Batch b = planned(pea, {set, "/want/sure=" + std::to_string(sure)});
    REQUIRE(b.target);
    CHECK(b.chance >= sure);
    CHECK(b.chance < sure + 0.04);
    CHECK(share_that_reaches(b, b.target->figure, b.target->value) == Approx(sure).margin(0.05));
  }
}

TEST_CASE("more certainty takes more seed, and even odds take what no word of certainty takes") {
  const auto dry = [](std::vector<std::string> set) { return planned(pea, std::move(set)).plan.dry; };
  CHECK(dry({"/want/curd=1 kg", "/want/sure=90 %"}) > dry({"/want/curd=1 kg", "/want/sure=70 %"}));
  CHECK(dry({"/want/curd=1 kg", "/want/sure=70 %"}) > dry({"/want/curd=1 kg"}));
  CHECK(dry({"/want/curd=1 kg", "/want/sure=20 %"}) < dry({"/want/curd=1 kg"}));
}

TEST_CASE("a full kitchen is one pot, the vessels that there are, and every mould once") {
  const Batch b = planned(pea, {"/want/fill=true"});
  CHECK(b.setup.job.cook.pots == 1);
  CHECK(b.setup.job.starch.vessels <= b.setup.kitchen.settling_vessels);
  CHECK(value(b.plan, Figure::blocks) <= b.setup.kitchen.moulds + 0.05);
  CHECK(in_hours(raw_milk_standing(b)) <= 2.0);
  const auto all = limits(b.setup);
  REQUIRE(all.size() >= 3);
  for (std::size_t i = 1; i < all.size(); ++i) CHECK(all[i - 1].dry <= all[i].dry);
  CHECK(b.plan.dry <= all[0].dry);
  CHECK(b.plan.dry > all[0].dry * 0.98);  // jarfuls and vessels are whole
}

TEST_CASE("what limits the full kitchen is the gear that is small") {
  const auto first = [](std::vector<std::string> set) {
    set.emplace_back("/want/fill=true");
    return std::string(limits(setup_of(pea, std::move(set))).front().gear);
  };
  CHECK(first({"/kitchen/pots/0/volume=3 l"}) == "pot");
  CHECK(first({"/kitchen/mould/count=1", "/kitchen/pots/0/volume=50 l"}) == "moulds");
  CHECK(first({"/kitchen/settling/vessels=1", "/kitchen/settling/volume=2 l"}) == "settling vessels");
  CHECK(first({"/kitchen/hob/power=150 W", "/kitchen/mould/count=100", "/kitchen/pots/0/volume=200 l", "/kitchen/settling/volume=200 l", "/kitchen/blender/jar=50 l", "/starch/time=5 min"}) == "ring");
}

TEST_CASE("each limit is where its gear is just full") {
  Setup s = setup_of(pea, {"/want/fill=true"});
  for (const Limit& l : limits(s)) {
    if (l.gear != "pot" && l.gear != "moulds") continue;
    Job j = s.job;
    j.starch.vessels = s.kitchen.settling_vessels;
    j.dry = l.dry;
    const Plan p = plan(j, s.beliefs.medians());
    if (l.gear == "pot") CHECK(in_litres(volume_at_20(p.destarched.milk.of)) == Approx(6.0).epsilon(1e-3));
    if (l.gear == "moulds") CHECK(value(p, Figure::blocks) == Approx(4).epsilon(0.01));
  }
}

TEST_CASE("a full kitchen that is to be sure holds less, so that it does not run over") {
  const Batch even = planned(pea, {"/want/fill=true"}), sure = planned(pea, {"/want/fill=true", "/want/sure=90 %"});
  CHECK(sure.plan.dry < even.plan.dry);
}

TEST_CASE("a batch that overflows what cannot be used again is shared out, with the amounts of each") {
  const Batch large = planned(pea, {"/want/dry=6 kg"});
  const Batch part = one_run(large);
  REQUIRE(part.shared);
  CHECK(part.shared->batches >= 2);
  CHECK(part.plan.dry.si() == Approx(6.0 / part.shared->batches).epsilon(0.01));
  CHECK(part.setup.job.starch.vessels <= large.setup.kitchen.settling_vessels);
  CHECK_FALSE(one_run(planned(pea, {"/want/dry=500 g"})).shared);
  const Batch told = one_run(planned(pea, {"/want/dry=6 kg", "/coagulate/amount=200 g"}));
  REQUIRE(told.shared);
  CHECK(in_grams(kilograms(told.plan.set.dose.used_kg)) == Approx(200.0 / told.shared->batches));
}

TEST_CASE("a ring that is too weak is told with the power and the rounds that would do") {
  const Setup s = setup_of(pea, {"/want/blocks=4", "/kitchen/hob/power=60 W"});
  const Batch b = must(size_batch(s));
  REQUIRE(b.plan.fault == Fault::hob_too_weak);
  const Problem p = fault_words(b.plan, b.setup);
  INFO(p.fix);
  CHECK(p.fix.find(" W or more") != std::string::npos);
  // The power that is named boils it.
  Job j = b.setup.job;
  j.cook.hob = watts(std::stod(p.fix.substr(std::string("use a ring of ").size())));
  CHECK(plan(j, b.theta).fault == Fault::none);
}

TEST_CASE("a kitchen is not filled with amounts that hold for one size only") {
  for (const char* told : {"/blend/water=3 kg", "/coagulate/amount=10 g"}) {
    const auto r = plan_batch(setup_of(pea, {"/want/fill=true", told}));
    REQUIRE_FALSE(r.has_value());
    CHECK(r.error()[0].what.find("cannot be filled up") != std::string::npos);
  }
}

TEST_CASE("every part of a batch that is shared out fits by itself") {
  for (const char* dry : {"2 kg", "3 kg", "5 kg", "9 kg"}) {
    INFO(dry);
    const Batch part = one_run(planned(pea, {std::string("/want/dry=") + dry}));
    REQUIRE(part.shared);
    CHECK(part.setup.job.starch.vessels <= part.setup.kitchen.settling_vessels);
    CHECK(in_hours(raw_milk_standing(part)) <= 2.0);
  }
}

TEST_CASE("loads fit the batch as it is rounded") {
  for (const char* step : {"1 g", "50 g", "200 g"}) {
    const Batch b = planned(pea, {"/want/blocks=7", std::string("/kitchen/coarse_scale/step=") + step});
    Setup again = b.setup;
    CHECK_FALSE(fit_loads(again, b.plan));
  }
}

TEST_CASE("a fine scale that cannot weigh the dose is told, and seed is not poured after it") {
  const auto r = plan_batch(setup_of(R"({"legume": "lupin-sweet"})", {"/want/blocks=207", "/kitchen/fine_scale/step=1000 g"}));
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].place.pointer == "/kitchen/fine_scale/step");
}

TEST_CASE("seed that is told is all there is") {
  const Batch b = planned(pea, {"/want/dry=1 kg", "/kitchen/coarse_scale/step=300 g"});
  CHECK(in_grams(b.plan.dry) == Approx(900));
}

TEST_CASE("a packet and the record must leave room for each other") {
  const Inputs in = must(read_inputs({R"({"legume": [{"id": "soybean", "label": {"protein": "60 g", "fat": "60 g"}}]})", "test.json", std::nullopt, "", {}, {}}));
  const auto r = resolve(in.recipe, in.kitchen, Catalogue::shipped());
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].code == "composition-sum");
}
