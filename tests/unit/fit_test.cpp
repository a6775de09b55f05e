// SPDX-License-Identifier: MIT
#include "curdwright/fit.hpp"

#include <algorithm>
#include <cmath>

#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::test;

TEST_CASE("a batch is shared out by the gear that is not filled again, into as many parts as its limit asks for") {
  int shared = 0, fitted = 0;
  for (const char* legume : {"pea-split-yellow", "chickpea-kabuli", "soybean"})
    for (const char* vessels : {"1", "3", "20"})
      for (const char* blocks : {"2", "6", "12", "25", "60"}) {
        const Batch b = batch_of(std::string(R"({"legume": ")") + legume + R"(", "want": {"blocks": )" + blocks + "}}", {std::string("/kitchen/settling/vessels=") + vessels});
        INFO(legume << ", " << vessels << " vessels, " << blocks << " blocks");
        const Batch part = one_run(b);
        if (!part.shared) {
          ++fitted;
          continue;
        }
        ++shared;
        const auto all = limits(b.setup);
        const auto first = std::find_if(all.begin(), all.end(), [](const Limit& l) { return l.gear == "settling vessels" || l.gear == "jar"; });
        REQUIRE(first != all.end());
        CHECK(part.shared->because == first->gear);
        CHECK(part.shared->batches >= std::max(2.0, std::floor(b.plan.dry / first->dry)));  // that each fits is looked at below
        // Whole blocks, and as many as are wanted: all batches but the last are alike.
        const int wanted = *b.setup.recipe.want.blocks, each = *part.setup.recipe.want.blocks, last = part.shared->last_blocks > 0 ? part.shared->last_blocks : each;
        CHECK(each * (part.shared->batches - 1) + last == wanted);
        CHECK((last > 0 && last <= each));
        CHECK(value(part.plan, Figure::blocks) >= each * 0.999);
        CHECK(raw_milk_standing(part) <= raw_milk_may_stand);
        CHECK(part.setup.job.starch.vessels <= part.setup.kitchen.settling_vessels);
        const Batch end = batch_of(std::string(R"({"legume": ")") + legume + R"(", "want": {"blocks": )" + std::to_string(last) + "}}", {std::string("/kitchen/settling/vessels=") + vessels});
        CHECK(part.shared->dry.si() == Approx(part.plan.dry.si() * (part.shared->batches - 1) + end.plan.dry.si()).epsilon(1e-3));
        const Batch again = one_run(part);
        CHECK(again.shared->batches == part.shared->batches);
        CHECK(again.plan.dry == part.plan.dry);
      }
  CHECK(shared > 5);
  CHECK(fitted > 5);
}

TEST_CASE("a piece of gear is full at its limit and not before") {
  const Batch b = batch_of(R"({"legume": "pea-split-yellow", "want": {"blocks": 6}})");
  for (const Limit& l : limits(b.setup)) {
    if (l.gear != "settling vessels") continue;
    Job j = b.setup.job;
    j.dry = l.dry;
    const double milk = plan(j, b.theta).strained.milk.of.total_kg();
    const Volume room = vessel_holds(b.setup) * b.setup.kitchen.settling_vessels;
    CHECK(in_litres(room) == Approx(milk).epsilon(0.05));  // milk is a little heavier than water
  }
}

TEST_CASE("seed that is wanted is shared out evenly, and a block too large for one run by its seed") {
  const Batch seed = batch_of(R"({"legume": "pea-split-yellow", "want": {"dry": "6 kg"}})"), part = one_run(seed);
  REQUIRE(part.shared);
  CHECK(part.shared->last_blocks == 0);
  CHECK(part.plan.dry.si() * part.shared->batches == Approx(seed.plan.dry.si()).epsilon(2e-3));
  const Batch block = batch_of(R"({"legume": "pea-split-yellow", "block": {"mass": "6 kg"}, "want": {"blocks": 1}})"), piece = one_run(block);
  REQUIRE(piece.shared);
  CHECK_FALSE(piece.setup.recipe.want.blocks);
  CHECK(piece.shared->batches > 1);
}

TEST_CASE("what fills the kitchen is found on unrounded seed where nothing is to be rounded, and is no size by itself") {
  const Setup setup = setup_of(R"({"legume": "pea-split-yellow", "want": {"fill": true}})");
  const auto rounded = plan_batch(setup), exact = plan_batch(setup, Rounding::none);
  REQUIRE((rounded && exact));
  const double step = setup.kitchen.coarse_scale.step.si();
  const auto off_the_step = [&](const Batch& b) { return std::abs(b.plan.dry.si() / step - std::round(b.plan.dry.si() / step)); };
  CHECK(off_the_step(*rounded) < 1e-6);
  CHECK(off_the_step(*exact) > 1e-6);
  const auto alone = size_batch(setup);
  REQUIRE_FALSE(alone);
  CHECK(alone.error()[0].place.pointer == "/want/fill");
}
