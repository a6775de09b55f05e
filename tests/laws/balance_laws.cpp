// SPDX-License-Identifier: MIT
#include <vector>

#include "laws/recipes.hpp"
#include "laws/walk.hpp"

using namespace curdwright;
using namespace curdwright::test;

TEST_CASE("every stage of any recipe balances in every component and mineral") {
  int whole_plans = 0;
  law(500, [&] {
    const Setup s = setup_for(draw::anything(Reach::any));
    const Plan p = plan(s.job, s.beliefs.medians());
    whole_plans += p.whole();
    check_stages(p);
  });
  CHECK(whole_plans > 200);  // else the law would speak of faults only
}

TEST_CASE("the whole batch of any recipe that can be cooked balances") {
  law(500, [] {
    const Setup s = setup_for(draw::anything(Reach::sensible));
    const Plan p = plan(s.job, s.beliefs.medians());
    RC_PRE(p.whole());
    RC_ASSERT(balance_error(p) < closed);
    double in = p.set.made.total_kg(), out = 0;
    in += p.seed.of.total_kg() + p.soak_water_in.of.total_kg() + p.water.grinding_kg + p.strained.wash_kg + p.set.mix.of.total_kg();
    for (const Stream* left : {&p.soak_water, &p.hulls, &p.ground.spill, &p.strained.pulp, &p.destarched.sediment, &p.destarched.heel, &p.destarched.gel,
                               &p.cooked.steam, &p.cooked.film, &p.pressed.curd, &p.pressed.whey, &p.pressed.trim})
      out += left->of.total_kg();
    RC_ASSERT(std::abs(in - out) < closed * in);
  });
}

TEST_CASE("a sized and rounded batch balances as well") {
  law(100, [] {
    const auto batch = size_batch(setup_for(draw::anything(Reach::sensible, fmt::format("{{\"blocks\": {}}}", whole(1, 60)))));
    RC_PRE(batch.has_value() && batch->plan.whole());
    check_stages(batch->plan);
    RC_ASSERT(balance_error(batch->plan) < closed);
  });
}

TEST_CASE("the free granules of the milk are its starch") {
  law(300, [] {
    const Setup s = setup_for(draw::anything(Reach::any));
    const Plan p = plan(s.job, s.beliefs.medians());
    RC_PRE(ran(p, Stage::starch));
    for (const Stream* milk : {&p.strained.milk, &p.destarched.milk, &p.cooked.milk})
      RC_ASSERT(std::abs(milk->of[Component::starch] - milk->granules.total_kg()) < closed * std::max(milk->of.total_kg(), 1e-12));
  });
}

TEST_CASE("each stage hands its stream on whole") {
  law(200, [] {
    const Setup s = setup_for(draw::anything(Reach::sensible));
    const Plan p = plan(s.job, s.beliefs.medians());
    RC_PRE(p.whole());
    Composition before;
    for (Stage stage : all_stages) {
      FlowSpare spare;
      const StageFlows f = flows(p, stage, spare);
      if (stage != Stage::soak)
        for (Component c : all_components) RC_ASSERT(std::abs(f.in[0].stream->of[c] - before[c]) <= 1e-12 * before.total_kg());
      before = f.out[0].stream->of;
    }
  });
}
