// SPDX-License-Identifier: MIT
#include <vector>

#include "curdwright/stages/cook.hpp"
#include "laws/recipes.hpp"
#include "laws/walk.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

/// One standard normal for each belief, by Box and Muller from drawn numbers, cut at four deviations.
std::vector<double> normals(std::size_t count) {
  std::vector<double> z;
  while (z.size() < count) {
    const double u = between(0.0005, 0.9995), v = between(0, 1);
    const double r = std::sqrt(-2 * std::log(u)), a = 2 * 3.14159265358979 * v;
    z.push_back(std::clamp(r * std::cos(a), -4.0, 4.0));
    z.push_back(std::clamp(r * std::sin(a), -4.0, 4.0));
  }
  z.resize(count);
  return z;
}

}  // namespace

TEST_CASE("no stream or figure of any recipe is negative or not a number") {
  law(500, [] {
    const Setup s = setup_for(draw::anything(Reach::any));
    const std::string fault = unsound(plan(s.job, s.beliefs.medians()));
    RC_LOG() << fault << std::endl;
    RC_ASSERT(fault.empty());
  });
}

TEST_CASE("whatever the beliefs turn out to be, a plan stays sound and balanced") {
  int whole_plans = 0;
  law(400, [&] {
    const Setup s = setup_for(draw::anything(Reach::sensible));
    const Plan p = plan(s.job, s.beliefs.at(*rc::gen::exec([&] { return normals(s.beliefs.all().size()); })));
    whole_plans += p.whole();
    const std::string fault = unsound(p);
    RC_LOG() << fault << std::endl;
    RC_ASSERT(fault.empty());
    for (Stage stage : all_stages) {
      if (!ran(p, stage)) continue;
      FlowSpare spare;
      RC_ASSERT(imbalance(flows(p, stage, spare)) < 1e-9);
    }
    RC_ASSERT(trypsin_inhibitor_left(p.cooked.history, s.beliefs.medians()) >= 0);
  });
  CHECK(whole_plans > 250);
}

TEST_CASE("each belief alone at three deviations leaves a plan sound") {
  const Setup s = setup_for({R"({"legume": [{"id": "soybean"}, {"id": "chickpea-kabuli"}], "strain": {"washes": [{"water_to_dry": 1, "blend": "20 s"}]},
                                "starch": {"remove": "settle-and-gel"}})", "{}"});
  std::vector<double> z(s.beliefs.all().size(), 0.0);
  const double usual = value(plan(s.job, s.beliefs.medians()), Figure::curd_mass);
  for (std::size_t i = 0; i < z.size(); ++i)
    for (double far : {-3.0, 3.0}) {
      z[i] = far;
      const Plan p = plan(s.job, s.beliefs.at(z));
      INFO(info(s.beliefs.all()[i].param).key << " at " << far);
      CHECK(unsound(p).empty());
      CHECK(value(p, Figure::curd_mass) < 3 * usual);
      z[i] = 0;
    }
}

TEST_CASE("a sized batch gives at least the blocks that are wanted, and its weights are sound") {
  int sized = 0;
  law(150, [&] {
    const int blocks = whole(1, 80);
    const auto batch = size_batch(setup_for(draw::anything(Reach::sensible, fmt::format("{{\"blocks\": {}}}", blocks))));
    RC_PRE(batch.has_value() && batch->plan.whole());
    ++sized;
    RC_ASSERT(value(batch->plan, Figure::whole_blocks) >= blocks);
    RC_ASSERT(unsound(batch->plan).empty());
    const double steps = batch->setup.job.dry.si() / batch->setup.kitchen.coarse_scale.step.si();
    RC_ASSERT(std::abs(steps - std::round(steps)) < 1e-6);
    RC_ASSERT(batch->plan.dry == batch->setup.job.dry);
  });
  CHECK(sized >= 150);
}
