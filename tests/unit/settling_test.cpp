// SPDX-License-Identifier: MIT
#include "curdwright/settling.hpp"

#include <cmath>
#include <utility>

#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::batch_of;

namespace {

constexpr const char* pea = R"({"legume": "pea-split-yellow", "want": {"dry": "1 kg"}})";

/// What the plan itself settles when told to stand so long.
double planned_share(const Batch& b, Duration t) {
  Job j = b.setup.job;
  j.starch.time = t;
  const Plan p = plan(j, b.theta);
  return p.destarched.sediment.granules.settleable_kg() / p.strained.milk.granules.settleable_kg();
}

}  // namespace

TEST_CASE("after the advised times the plan itself has settled nine and nineteen parts in ten and twenty") {
  const Batch b = batch_of(pea);
  const auto a = settling_advice(b);
  REQUIRE((a && a->ninety && a->ninety_five && a->enough));
  // A whole minute may bring a hundredth, and the layer holds milk with a few granules.
  CHECK(planned_share(b, *a->ninety) == Approx(0.90).margin(0.012));
  CHECK(planned_share(b, *a->ninety_five) == Approx(0.95).margin(0.012));
  CHECK(planned_share(b, *a->enough + minutes(10)) - planned_share(b, *a->enough) == Approx(0.01).margin(0.001));
  CHECK(*a->ninety < *a->ninety_five);
  CHECK(a->planned == Approx(planned_share(b, b.setup.job.starch.time)).margin(0.003));  // the layer holds milk, and that a few granules
}

TEST_CASE("the advised times are the first whole minutes, wherever the search begins") {
  for (const char* time : {"1 min", "20 min", "40 min", "5 h", "47 h"}) {
    const Batch b = batch_of(pea, {std::string("/starch/time=") + time});
    const auto a = settling_advice(b);
    const auto settled = [&](Duration t) { return settled_after(b.plan.strained.milk, b.setup.job.starch, t, b.theta); };
    REQUIRE((a && a->ninety && a->ninety_five && a->enough));
    for (const auto& [share, at] : {std::pair(0.90, *a->ninety), std::pair(0.95, *a->ninety_five)}) {
      CHECK(in_minutes(at) == Approx(std::round(in_minutes(at))).epsilon(1e-12));
      CHECK(settled(at) >= share);
      CHECK(settled(at - minutes(1)) < share);
    }
    CHECK(settled(*a->enough + minutes(10)) - settled(*a->enough) <= 0.01);
    CHECK(settled(*a->enough + minutes(9)) - settled(*a->enough - minutes(1)) > 0.01);
  }
}

TEST_CASE("in the trade's bowl, 10 cm deep, pea starch is nine tenths down in 40 minutes") {
  // The trade's own rule, as 68 % in 20 min, 91 % in 40, 97 % in 60 (common practice, no published source).
  const Batch b = batch_of(pea, {"/starch/depth=10 cm"});
  const auto a = settling_advice(b);
  REQUIRE((a && a->ninety));
  CHECK(in_minutes(*a->ninety) == Approx(40).epsilon(0.25));
}

TEST_CASE("deeper milk takes longer, and what does not settle has no advice") {
  const auto ninety = [](const char* depth) { return settling_advice(batch_of(pea, {std::string("/starch/depth=") + depth}))->ninety.value(); };
  CHECK(ninety("12 cm") > ninety("6 cm") * 1.5);
  CHECK_FALSE(settling_advice(batch_of(R"({"legume": "soybean", "want": {"dry": "1 kg"}})")));
  CHECK_FALSE(settling_advice(batch_of(pea, {"/starch/remove=gel-and-strain"})));
}
