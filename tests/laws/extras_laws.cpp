// SPDX-License-Identifier: MIT
// What holds whatever is stirred in, and wherever.
#include "laws/recipes.hpp"
#include "laws/walk.hpp"

using namespace curdwright;
using namespace curdwright::test;

TEST_CASE("every stage balances whatever is stirred in, and no stream is impossible") {
  law(400, [] {
    const Setup s = setup_for(draw::seasoned(Reach::any));
    const Plan p = plan(s.job, s.beliefs.medians());
    check_stages(p);
    for (const auto& [name, stream] : streams_of(p)) {
      double extras = 0;
      for (const Added& a : p.extras) extras += a.of.total_kg();
      RC_LOG() << name << ": " << fault_of(*stream, through(p) + extras) << std::endl;
      RC_ASSERT(fault_of(*stream, through(p) + extras).empty());
    }
  });
}

TEST_CASE("the whole batch balances with extras, by an own sum too") {
  law(300, [] {
    const Setup s = setup_for(draw::seasoned(Reach::sensible));
    const Plan p = plan(s.job, s.beliefs.medians());
    RC_PRE(p.whole());
    RC_ASSERT(balance_error(p) < 1e-9);
    double in = through(p) + p.set.made.total_kg(), out = 0;
    for (std::size_t i = 0; i < s.job.extra_count; ++i) in += s.job.extras[i].mass(s.job.dry).si();
    for (const Stream* left : {&p.soak_water, &p.hulls, &p.ground.spill, &p.strained.pulp, &p.destarched.sediment, &p.destarched.heel, &p.destarched.gel, &p.cooked.steam, &p.cooked.film,
                               &p.pressed.curd, &p.pressed.whey, &p.pressed.trim})
      out += left->of.total_kg();
    RC_ASSERT(std::abs(in - out) < 1e-9 * in);
  });
}

TEST_CASE("a sized and rounded batch with extras balances as well") {
  law(60, [] {
    const auto batch = size_batch(setup_for(draw::seasoned(Reach::sensible, fmt::format("{{\"blocks\": {}}}", whole(1, 40)))));
    RC_PRE(batch.has_value() && batch->plan.whole());
    check_stages(batch->plan);
    RC_ASSERT(balance_error(batch->plan) < 1e-9);
  });
}

TEST_CASE("a plan brings in what the recipe tells of extras, no more and no less") {
  law(100, [] {
    const Setup s = setup_for(draw::seasoned(Reach::sensible));
    const Plan p = plan(s.job, s.beliefs.medians());
    RC_PRE(p.whole());
    double brought = 0, told = 0;
    for (const Added& a : p.extras) brought += a.of.total_kg();
    for (std::size_t i = 0; i < s.job.extra_count; ++i) {
      const ExtraRecipe& e = s.recipe.extras[i];
      told += e.amount ? e.amount->si() : *e.to_dry * s.job.dry.si();
    }
    RC_ASSERT(std::abs(brought - told) < 1e-12 * std::max(1.0, told));
  });
}
