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
        const auto parts = split(b);
        if (!parts) {
          ++fitted;
          continue;
        }
        ++shared;
        const auto all = limits(b.setup);
        const auto first = std::find_if(all.begin(), all.end(), [](const Limit& l) { return l.gear == "settling vessels" || l.gear == "jar"; });
        REQUIRE(first != all.end());
        CHECK(parts->because == first->gear);
        CHECK(parts->batches >= std::max(2.0, std::ceil(b.plan.dry / first->dry)));
        CHECK_FALSE(split(parts->each));
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
