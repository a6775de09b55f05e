// SPDX-License-Identifier: MIT
#include "curdwright/solve.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "curdwright/properties.hpp"
#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::batch_of;
using curdwright::test::must;
using curdwright::test::setup_of;

namespace {

std::string recipe(const std::string& legume, const std::string& more) { return R"({"legume": ")" + legume + "\", " + more + "}"; }

bool is_multiple(double kg, double step_kg) { return std::abs(kg / step_kg - std::round(kg / step_kg)) < 1e-6; }

/// Everything the cook weighs out, in kg.
std::vector<double> weighed(const Batch& b) {
  const Plan& p = b.plan;
  std::vector<double> all = {p.soak_water_in.of.total_kg(), p.water.grinding_kg / b.setup.job.blend.jarfuls};
  for (std::size_t i = 0; i < b.setup.job.legume_count; ++i) all.push_back(p.dry.si() * b.setup.job.seeds[i].share);
  for (std::size_t i = 0; i < b.setup.job.strain.wash_count; ++i) all.push_back(b.setup.job.strain.washes[i].water_to_dry * p.dry.si());
  return all;
}

}  // namespace

TEST_CASE("the dry seed that is found gives the curd that is wanted") {
  for (const char* id : {"soybean", "chickpea-kabuli", "pea-split-yellow", "kidney-red"})
    for (double wanted : {0.05, 1.2, 5.0, 60.0}) {
      INFO(id << " " << wanted);
      Setup s = setup_of(recipe(id, R"("want": {"blocks": 1})"));
      const Theta theta = s.beliefs.medians();
      s.job.dry = must(dry_for_curd(s.job, theta, kilograms(wanted)));
      CHECK(plan(s.job, theta).pressed.curd.of.total_kg() == Approx(wanted).epsilon(1e-9));
    }
}

TEST_CASE("a recipe that gives no curd is out of reach") {
  Setup s = setup_of(recipe("soybean", R"("want": {"blocks": 1}, "coagulate": {"dose": "0.01 mmol/g"})"));
  const auto r = dry_for_curd(s.job, s.beliefs.medians(), kilograms(1));
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].code == "out-of-reach");
}

TEST_CASE("so much water or coagulant as is told is used exactly, and the wanted curd comes out all the same") {
  const Batch water = batch_of(recipe("chickpea-kabuli", R"("want": {"curd": "1 kg"}, "blend": {"water": "5.123 kg"})"));
  CHECK(water.plan.water.grinding_kg == Approx(5.123));
  CHECK(water.plan.pressed.curd.of.total_kg() == Approx(1).epsilon(0.005));
  const Batch salt = batch_of(recipe("chickpea-kabuli", R"("want": {"curd": "1 kg"}, "coagulate": {"amount": "40 g"})"));
  CHECK(in_grams(kilograms(salt.plan.set.dose.used_kg)) == Approx(40));
  CHECK(salt.plan.pressed.curd.of.total_kg() == Approx(1).epsilon(0.005));
}

TEST_CASE("more curd than so much coagulant can set is out of reach, and says so") {
  const auto r = size_batch(setup_of(recipe("chickpea-kabuli", R"("want": {"curd": "5 kg"}, "coagulate": {"amount": "2 g"})")));
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].what == "no amount of seed gives 5 kg of curd");
  CHECK(r.error()[0].why.find("too little or far too much") != std::string::npos);
}

TEST_CASE("seed is never rounded away, and a batch that grew is told") {
  const Batch b = batch_of(recipe("soybean", R"("want": {"dry": "1 g"})"), {"/kitchen/coarse_scale/step=50 g"});
  CHECK(in_grams(b.plan.dry) == Approx(50));
  CHECK(b.seed_too_coarse);
  CHECK_FALSE(batch_of(recipe("soybean", R"("want": {"dry": "1 kg"})")).seed_too_coarse);
  CHECK(round_up(0.0, 0.05) == 0.0);
}

TEST_CASE("wanted blocks come out whole after all rounding, and with little to spare") {
  for (const char* id : {"soybean", "chickpea-kabuli", "mung-whole", "lentil-red-split"})
    for (int blocks : {1, 4, 12, 100}) {
      INFO(id << " " << blocks);
      const Batch b = batch_of(recipe(id, R"("want": {"blocks": )" + std::to_string(blocks) + "}"));
      REQUIRE(b.plan.whole());
      CHECK(value(b.plan, Figure::whole_blocks) >= blocks);
      CHECK(value(b.plan, Figure::blocks) < blocks + std::max(0.05, 0.01 * blocks));
      CHECK(b.plan.dry == b.setup.job.dry);
    }
}

TEST_CASE("wanted curd and dry seed come out within the rounding of the scales") {
  const Batch curd = batch_of(recipe("chickpea-kabuli", R"("want": {"curd": "5 kg"})"));
  CHECK(in_grams(curd.plan.pressed.curd.mass()) == Approx(5000).margin(10));
  CHECK(in_grams(curd.plan.pressed.curd.mass()) >= 5000 - 1);
  const Batch dry = batch_of(recipe("chickpea-kabuli", R"("want": {"dry": "500 g"})"));
  CHECK(in_grams(dry.plan.dry) == Approx(500));
  CHECK(in_grams(batch_of(recipe("chickpea-kabuli", R"("want": {"dry": "1 lb"})")).plan.dry) == Approx(454));
}

TEST_CASE("what is weighed out is what the scale can show") {
  const std::string text = R"({"legume": [{"id": "soybean", "share": 0.3}, {"id": "adzuki", "share": 0.7}], "want": {"blocks": 7},
                               "strain": {"washes": [{"water_to_dry": 1.37}]}})";
  for (double step : {1.0, 5.0, 10.0}) {
    INFO(step);
    const Batch b = batch_of(text, {"/kitchen/coarse_scale/step=" + std::to_string(step) + " g"});
    for (double kg : weighed(b)) {
      INFO(kg);
      CHECK(is_multiple(kg, step / 1000));
      CHECK(kg > 0);
    }
    CHECK(value(b.plan, Figure::whole_blocks) >= 7);
  }
}

TEST_CASE("the coagulant is weighed on the fine scale while it can carry it, and on the coarse one beyond") {
  const Batch fine = batch_of(recipe("soybean", R"("want": {"blocks": 4})"));
  const double grams_used = 1e3 * fine.plan.set.dose.used_kg;
  CHECK(is_multiple(grams_used / fine.setup.job.coagulate.pots, 0.1));
  CHECK(grams_used == Approx(in_grams(fine.coagulant_exact)).margin(0.05 * fine.setup.job.coagulate.pots + 1e-9));
  CHECK_FALSE(fine.dose_too_coarse);
  const Batch coarse = batch_of(recipe("soybean", R"("want": {"blocks": 400})"), {"/kitchen/fine_scale/capacity=5 g", "/kitchen/coarse_scale/step=5 g"});
  CHECK(is_multiple(1e3 * coarse.plan.set.dose.used_kg / coarse.setup.job.coagulate.pots, 5));
}

TEST_CASE("a scale too coarse for the dose is noticed") {
  const Batch b = batch_of(recipe("soybean", R"("want": {"dry": "100 g"})"), {"/kitchen/fine_scale/step=1 g"});
  const double error = std::abs(b.plan.set.dose.used_kg - in_kilograms(b.coagulant_exact)) / in_kilograms(b.coagulant_exact);
  CHECK(b.dose_too_coarse == (error > 0.05));
  CHECK(is_multiple(b.plan.set.dose.used_kg, 1e-3));
  const Batch tiny = batch_of(recipe("soybean", R"("want": {"dry": "30 g"})"), {"/kitchen/fine_scale/step=1 g"});
  CHECK(tiny.dose_too_coarse);
  CHECK(in_grams(kilograms(tiny.plan.set.dose.used_kg)) >= 1);
}

TEST_CASE("a scale that hardly shows a jarful rounds all of the grinding water, and does not flood the batch") {
  const std::string seed = recipe("kidney-red", R"("want": {"dry": "1 kg"})");
  const Batch fine = batch_of(seed), coarse = batch_of(seed, {"/kitchen/coarse_scale/step=946 g", "/kitchen/blender/jar=1 l"});
  const double per_kg = coarse.plan.water.grinding_kg / coarse.plan.dry.si();
  CHECK(is_multiple(coarse.plan.water.grinding_kg, 0.946));
  CHECK(std::abs(per_kg - fine.plan.water.grinding_kg / fine.plan.dry.si()) < 0.5);
  CHECK(coarse.setup.job.blend.jarfuls < 30);
}

TEST_CASE("an amount of coagulant or of water that the recipe tells is kept") {
  const Batch b = batch_of(recipe("soybean", R"("want": {"dry": "500 g"}, "coagulate": {"amount": "14 g"}, "blend": {"water": "3.5 kg"})"));
  CHECK(in_grams(kilograms(b.plan.set.dose.used_kg)) == Approx(14));
  CHECK(b.plan.water.grinding_kg == Approx(3.5).margin(0.5e-3 * b.setup.job.blend.jarfuls));
  const Batch sized = batch_of(recipe("soybean", R"("want": {"blocks": 4}, "blend": {"water": "6 kg"})"));
  CHECK(sized.plan.water.grinding_kg == Approx(6).margin(0.5e-3 * sized.setup.job.blend.jarfuls + 0.06));
  CHECK(value(sized.plan, Figure::whole_blocks) >= 4);
}

TEST_CASE("jarfuls, vessels and pots are enough for the batch, and never one too many") {
  for (int blocks : {2, 10, 60}) {
    INFO(blocks);
    const Batch b = batch_of(recipe("chickpea-kabuli", R"("want": {"blocks": )" + std::to_string(blocks) + "}"));
    const Job& j = b.setup.job;
    const double ground = in_litres(volume_at_20(b.plan.ground.all().of)), milk = in_litres(volume_at_20(b.plan.strained.milk.of)),
                 boiled = in_litres(volume_at_20(b.plan.destarched.milk.of));
    const double jar = in_litres(j.blend.jar) * j.blend.fill;
    // Rounding after fitting may fill a vessel by a few grams more.
    CHECK(ground <= j.blend.jarfuls * jar * 1.01);
    CHECK((j.blend.jarfuls == 1 || ground > (j.blend.jarfuls - 1) * jar * 0.99));
    CHECK(milk <= j.starch.vessels * 5.0);
    CHECK(boiled <= j.cook.pots * 6.0 * 1.01);  // foam: half of the 12 l pot
    CHECK((j.cook.pots == 1 || boiled > (j.cook.pots - 1) * 5.0 * 0.99));
    CHECK(j.coagulate.pots == j.cook.pots);
    // Four moulds; an end piece of up to 0.15 of a block finds room in one of them.
    CHECK(b.press_rounds == static_cast<int>(std::ceil((value(b.plan, Figure::blocks) - 0.15) / 4)));
  }
}

TEST_CASE("fitting grows loads, never shrinks them, and says whether it did") {
  Setup s = setup_of(recipe("soybean", R"("want": {"dry": "3 kg"})"));
  const Plan p = plan(s.job, s.beliefs.medians());
  CHECK(fit_loads(s, p));
  const int jarfuls = s.job.blend.jarfuls, pots = s.job.cook.pots;
  CHECK(jarfuls > 1);
  CHECK(pots > 1);
  CHECK_FALSE(fit_loads(s, p));
  s.job.blend.jarfuls = 99;
  fit_loads(s, p);
  CHECK(s.job.blend.jarfuls == 99);
  CHECK(s.job.starch.vessels == 1);  // soy does not settle
}

TEST_CASE("rounding goes up or to the nearest, and never to nothing") {
  CHECK(round_up(0.4501, 0.001) == Approx(0.451));
  CHECK(round_up(0.450, 0.001) == Approx(0.450));
  CHECK(round_up(0.4500005, 0.001) == Approx(0.450));  // a thousandth of a step is forgiven
  CHECK(round_up(0.0002, 0.005) == Approx(0.005));
  CHECK(round_to(0.4544, 0.001) == Approx(0.454));
  CHECK(round_to(0.4546, 0.001) == Approx(0.455));
  CHECK(round_to(1e-5, 0.001) == Approx(0.001));
  CHECK(round_to(0.0, 0.001) == 0.0);
}

TEST_CASE("a recipe that wants nothing is asked what it wants") {
  const auto r = size_batch(setup_of(recipe("soybean", R"("title": "x")")));
  REQUIRE_FALSE(r.has_value());
  CHECK(r.error()[0].code == "want-missing");
  CHECK(r.error()[0].place.pointer == "/want");
}

TEST_CASE("water that is drunk up by the soak is explained, whatever is wanted") {
  for (const char* want : {R"("dry": "1 kg")", R"("blocks": 4)", R"("curd": "1 kg")"}) {
    INFO(want);
    const Setup s = setup_of(recipe("soybean", std::string(R"("blend": {"total_water_to_dry": 0.6}, "want": {)") + want + "}"));
    const auto b = size_batch(s);
    const Problem p = b ? fault_words(b->plan, b->setup) : b.error()[0];
    CHECK(p.code == "out-of-reach");
    CHECK(p.place.pointer == "/blend");
    CHECK(p.what.find("less than the 1.10 kg that the soak takes up") != std::string::npos);
  }
}

TEST_CASE("every other fault of a plan is explained with its numbers and its place") {
  const auto explained = [](const std::string& more, std::vector<std::string> set = {}) {
    const Batch b = batch_of(recipe("soybean", R"("want": {"blocks": 4})" + more), std::move(set));
    CHECK_FALSE(b.plan.whole());
    return fault_words(b.plan, b.setup);
  };
  const Problem weak = explained("", {"/kitchen/hob/power=60 W"});
  CHECK(weak.place.pointer == "/kitchen/hob");
  CHECK(weak.what.find("60 W cannot boil") != std::string::npos);
  CHECK(explained(R"(, "coagulate": {"dose": "0.01 mmol/g"})").place.pointer == "/coagulate");
  const Problem wet = explained(R"(, "press": {"moisture": 0.94})");
  CHECK(wet.place.pointer == "/press/moisture");
  CHECK(wet.what == "a moisture of 94.0 % is wetter than the drained curd");
  CHECK(wet.why == "unpressed, this curd drains to 88.0 %");
  CHECK(explained(R"(, "blend": {"total_water_to_dry": 1.4}, "strain": {"by": "cloth-drain"})").place.pointer == "/blend");
}
