// SPDX-License-Identifier: MIT
// What measurements do to beliefs, and to the batch in hand.
#include "curdwright/correct.hpp"
#include "support/kitchens.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

Batch chickpeas(std::vector<std::string> set = {}) {
  return must(plan_batch(setup_of(R"({"legume": "chickpea-kabuli", "want": {"blocks": 4}})", std::move(set))));
}

std::vector<Reading> told(const std::vector<std::string>& texts, const Kitchen& k = {}) { return must(read_readings(texts, k, "--measured")); }

double width(const Job& j, const Beliefs& b, Figure f) {
  const Ranges r = ranges(j, b, {});
  return r.of(f).high - r.of(f).low;
}

const Told& told_of(const Correction& c, std::string_view word) {
  for (const Told& t : c.told)
    if (t.reading.what->word == word) return t;
  FAIL("nothing told of it");
  return c.told[0];
}

}  // namespace

TEST_CASE("with one reading of a nearly linear figure the update is the textbook's: precisions add") {
  const Batch b = chickpeas();
  // The evaporated share moves the cooked milk almost alone when the recipe tells nothing of it.
  Beliefs narrow;
  for (Belief belief : b.setup.beliefs.all()) {
    belief.spread *= belief.param == Param::soak_k2 ? 0.3 : 1e-6;
    narrow.add(belief);
  }
  const double h = value(plan(b.setup.job, narrow.medians()), Figure::soaked_mass);
  const Observation seen{Figure::soaked_mass, h * 1.01, 0.005};
  const Update u = update(narrow, b.setup.job, {&seen, 1});
  std::size_t at = 0;
  while (narrow.all()[at].param != Param::soak_k2) ++at;
  const Belief &before = narrow.all()[at], &after = u.beliefs.all()[at];
  // Slope of the logarithm of the soaked mass by the logarithm of k2, by a difference of this test's own.
  std::vector<double> z(narrow.size());
  z[at] = 0.5;
  const double up = value(plan(b.setup.job, narrow.at(z)), Figure::soaked_mass);
  z[at] = -0.5;
  const double slope = std::log(up / value(plan(b.setup.job, narrow.at(z)), Figure::soaked_mass)) / before.spread;
  const double precision = 1 / (before.spread * before.spread) + slope * slope / (seen.spread * seen.spread);
  CHECK(after.spread == Approx(1 / std::sqrt(precision)).epsilon(0.02));
  CHECK(std::log(after.median / before.median) == Approx(slope * std::log(1.01) / (seen.spread * seen.spread) / precision).epsilon(0.05));
}

TEST_CASE("the updated plan follows the scale, its balances close, and its ranges are narrower") {
  const Batch b = chickpeas();
  const double planned = value(b.plan, Figure::pulp_mass);
  const std::vector<Observation> seen = {{Figure::soaked_mass, value(b.plan, Figure::soaked_mass) * 1.03, 0.02}, {Figure::pulp_mass, planned * 1.22, 0.03}};
  const Update u = update(b.setup.beliefs, b.setup.job, seen);
  const Plan p = plan(b.setup.job, u.beliefs.medians());
  CHECK(u.converged);
  CHECK(value(p, Figure::pulp_mass) == Approx(planned * 1.22).epsilon(0.02));
  CHECK(balance_error(p) < 1e-9);
  CHECK(width(b.setup.job, u.beliefs, Figure::pulp_mass) < 0.3 * width(b.setup.job, b.setup.beliefs, Figure::pulp_mass));
  CHECK(width(b.setup.job, u.beliefs, Figure::curd_mass) < width(b.setup.job, b.setup.beliefs, Figure::curd_mass));
}

TEST_CASE("without a reading nothing changes") {
  const Batch b = chickpeas();
  const Update u = update(b.setup.beliefs, b.setup.job, {});
  CHECK(u.beliefs.factor().empty());
  for (std::size_t i = 0; i < u.beliefs.size(); ++i) CHECK(u.beliefs.all()[i].median == b.setup.beliefs.all()[i].median);
}

TEST_CASE("two updates, one after the other, come to about what one with both readings comes to") {
  const Batch b = chickpeas();
  const Observation soaked{Figure::soaked_mass, value(b.plan, Figure::soaked_mass) * 1.04, 0.02}, pulp{Figure::pulp_mass, value(b.plan, Figure::pulp_mass) * 1.15, 0.03};
  const std::vector<Observation> both = {soaked, pulp};
  const Update first = update(b.setup.beliefs, b.setup.job, {&soaked, 1}), then = update(first.beliefs, b.setup.job, {&pulp, 1}), once = update(b.setup.beliefs, b.setup.job, both);
  for (std::size_t i = 0; i < once.beliefs.size(); ++i) {
    const Belief &x = then.beliefs.all()[i], &y = once.beliefs.all()[i];
    INFO(info(x.param).key);
    CHECK(to_link(x.link, x.median) == Approx(to_link(y.link, y.median)).margin(0.02 * b.setup.beliefs.all()[i].spread));
    CHECK(x.spread == Approx(y.spread).epsilon(0.01));
  }
}

TEST_CASE("a reading that cannot be right counts for next to nothing, and the others keep their weight") {
  const Batch b = chickpeas();
  std::vector<Observation> seen;
  for (Figure f : {Figure::soaked_mass, Figure::pulp_mass, Figure::milk_mass, Figure::cooked_milk_mass}) seen.push_back({f, value(b.plan, f), info(f).typical_error});
  const Update clean = update(b.setup.beliefs, b.setup.job, seen);
  seen[2].value *= 1.6;
  const Update slipped = update(b.setup.beliefs, b.setup.job, seen);
  CHECK(slipped.residuals[2].weight < 0.01);
  CHECK(slipped.residuals[2].ratio == Approx(1.6).epsilon(0.05));
  for (std::size_t i : {0U, 1U, 3U}) CHECK(slipped.residuals[i].weight > 0.95);
  const auto curd = [&](const Update& u) { return value(plan(b.setup.job, u.beliefs.medians()), Figure::curd_mass); };
  CHECK(curd(slipped) == Approx(curd(clean)).epsilon(0.01));
}

TEST_CASE("a figure that the plan has not is passed over") {
  const Batch b = chickpeas({"/starch/remove=none"});
  const Observation layer{Figure::sediment_mass, 300, 0.08};
  const Update u = update(b.setup.beliefs, b.setup.job, {&layer, 1});
  CHECK(u.residuals[0].weight == 0);
  const Correction c = must(correct(b, told({"starch-layer=300g"})));
  CHECK(c.told[0].no_figure);
}

TEST_CASE("what is used up is never solved again, and what is to come follows the scale") {
  const Batch b = chickpeas();
  const Correction soaked = must(correct(b, told({"soaked=2.1kg"})));
  CHECK(soaked.batch.plan.dry == b.plan.dry);
  CHECK(soaked.batch.setup.job.soak.water_to_dry == b.setup.job.soak.water_to_dry);
  CHECK(soaked.batch.plan.water.grinding_kg != b.plan.water.grinding_kg);
  const Correction pulp = must(correct(b, told({"pulp=2.2kg"})));
  CHECK(pulp.batch.plan.water.grinding_kg == Approx(b.plan.water.grinding_kg).epsilon(1e-12));
  CHECK(pulp.batch.setup.job.blend.jarfuls == b.setup.job.blend.jarfuls);
  CHECK(pulp.batch.plan.set.dose.used_kg < b.plan.set.dose.used_kg);
  // To what the fine scale shows.
  const double steps = pulp.batch.plan.set.dose.used_kg / b.setup.kitchen.fine_scale.step.si();
  CHECK(steps == Approx(std::round(steps)).epsilon(1e-9));
  const Correction curd = must(correct(b, told({"curd=1kg"})));
  CHECK(curd.batch.plan.set.dose.used_kg == Approx(b.plan.set.dose.used_kg).epsilon(1e-12));
  CHECK(value(curd.batch.plan, Figure::curd_mass) == Approx(1000).epsilon(0.03));
}

TEST_CASE("settings as done are taken as they were") {
  const Batch b = chickpeas();
  const Correction c = must(correct(b, told({"coagulant=30g", "pour=74degC", "wait=20min", "hold=15min", "stood=70min", "ph=5.9"})));
  const Job& j = c.batch.setup.job;
  CHECK(in_grams(*j.coagulate.used) == Approx(30));
  CHECK(in_celsius(j.coagulate.at) == Approx(74));
  CHECK(in_minutes(j.cook.hold) == Approx(15));
  CHECK(in_minutes(j.starch.time) == Approx(70));
  CHECK(c.batch.setup.recipe.store.ph == 5.9);
  CHECK(told_of(c, "coagulant").planned == Approx(b.plan.set.dose.used_kg));
  // Every stage up to pressing is in what was told: nothing observed, so nothing is believed otherwise.
  CHECK(c.batch.setup.beliefs.factor().empty());
}

TEST_CASE("heavy pulp asks for a washing, whose gain is the difference of two plans") {
  const Batch b = chickpeas();
  const Correction c = must(correct(b, told({"pulp=2.4kg"})));
  REQUIRE(c.wash);
  Job j = c.batch.setup.job;
  j.coagulate.used.reset();
  const double without = plan(j, c.batch.theta).pressed.curd.of.total_kg();
  j.strain.washes[j.strain.wash_count++] = {c.wash->water / j.dry, seconds(0)};
  CHECK(c.wash->curd.si() == Approx(plan(j, c.batch.theta).pressed.curd.of.total_kg() - without));
  CHECK_FALSE(must(correct(b, told({"pulp=2.4kg", "starch-layer=400g"}))).wash);
}

TEST_CASE("more out of a stage than went in is told") {
  const Batch b = chickpeas();
  const double in = b.plan.soaked.of.total_kg() + b.plan.water.grinding_kg, milk = b.plan.strained.milk.of.total_kg();
  const Correction c = must(correct(b, told({"pulp=" + std::to_string(1.06 * in - milk) + "kg", "milk=" + std::to_string(milk) + "kg"})));
  CHECK(c.gain->share == Approx(0.06).margin(0.001));
  CHECK(c.gain->readings == "pulp and milk");
  CHECK_FALSE(must(correct(b, told({"pulp=1.5kg", "milk=4.2kg"}))).gain);
}

TEST_CASE("what is still to come follows the seed that was used") {
  const Batch b = chickpeas({"/strain/washes/0/water_to_dry=1", "/extras/0/what=salt", "/extras/0/to_dry=0.02"});
  const Correction c = must(correct(b, told({"dry=430g"})));
  const Job& j = c.batch.setup.job;
  CHECK(in_grams(j.dry) == Approx(430));
  CHECK(j.strain.washes[0].water_to_dry * j.dry.si() == Approx(0.43).margin(0.001));
  CHECK(in_grams(j.extras[0].mass(j.dry)) == Approx(8.6).margin(0.1));
  CHECK(c.batch.plan.set.dose.used_kg == Approx(b.plan.set.dose.used_kg * 0.43 / b.plan.dry.si()).epsilon(0.05));
}

TEST_CASE("the pot that the milk was cooked in stays the pot, and the chance of a target is that of now") {
  const Batch b = chickpeas({"/want/sure=80 %", "/kitchen/pots/0/name=small", "/kitchen/pots/0/volume=13 l", "/kitchen/pots/1/name=big", "/kitchen/pots/1/volume=25 l"});
  REQUIRE(b.chance >= 0.8);
  const Correction c = must(correct(b, told({"cooked-milk=" + std::to_string(1.3 * b.plan.cooked.milk.of.total_kg()) + "kg", "curd=900g"})));
  CHECK(c.batch.setup.pot.name == b.setup.pot.name);
  CHECK(c.batch.chance < 0.05);
}

TEST_CASE("extras and settings as done are part of what went in") {
  const Batch b = chickpeas({"/extras/0/what=rapeseed-oil", "/extras/0/stage=blend", "/extras/0/to_dry=0.35"});
  const auto kg = [](double v) { return std::to_string(v) + "kg"; };
  const Correction as_planned = must(correct(b, told({"pulp=" + kg(b.plan.strained.pulp.of.total_kg()), "milk=" + kg(b.plan.strained.milk.of.total_kg())})));
  CHECK(!as_planned.gain);
}

TEST_CASE("a reading of what the recipe sets moves nothing and breaks nothing") {
  const Batch b = chickpeas({"/press/moisture=80 %"});
  for (const char* dry : {"curd-dry=7%", "curd-dry=20%", "curd-dry=50%"}) {
    const Correction c = must(correct(b, told({dry})));
    CHECK(c.batch.setup.beliefs.factor().empty());
  }
}

TEST_CASE("a time that is never reached has no part in a range") {
  const Batch b = chickpeas({"/kitchen/hob/power=650 W"});
  REQUIRE(has_masses(b.plan));
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {});
  CHECK((r.of(Figure::to_95).low > 0 || r.of(Figure::to_95).high == 0));
}

TEST_CASE("settings of a stage that the batch has not are passed over") {
  const Batch b = must(plan_batch(setup_of(R"({"legume": "soybean", "want": {"blocks": 4}})")));
  const Correction c = must(correct(b, told({"stood=1h"})));
  CHECK(c.told[0].no_figure);
  CHECK(c.batch.setup.job.starch.time == b.setup.job.starch.time);
}
