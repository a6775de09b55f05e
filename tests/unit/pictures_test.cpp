// SPDX-License-Identifier: MIT
#include "curdwright/pictures.hpp"

#include <cmath>

#include "curdwright/sheet.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::batch_of;

namespace {
constexpr const char* pea = R"({"legume": "pea-split-yellow", "want": {"blocks": 4}, "strain": {"washes": [{"water_to_dry": 1}]}})";
}

TEST_CASE("what the pictures show is what the plan says") {
  const Batch b = batch_of(pea);
  const Facts f = facts_of(b);
  const Pictures p = pictures_of(f, nullptr);
  REQUIRE(p.soak.chosen);
  CHECK(p.soak.chosen->at == Approx(in_hours(b.setup.job.soak.time)));
  CHECK(p.soak.chosen->value == Approx(b.plan.uptake_kg / b.plan.dry.si()).epsilon(1e-9));
  REQUIRE((p.settling && p.settling->chosen));
  CHECK(p.settling->chosen->value == Approx(settled_after(b.plan.strained.milk, b.setup.job.starch, b.setup.job.starch.time, b.theta)).epsilon(1e-12));
  CHECK(p.bars.empty());
}

TEST_CASE("each stage of the flow gives out what it takes in, and hands on to the next") {
  const Batch b = batch_of(pea);
  const Facts f = facts_of(b);
  const Pictures p = pictures_of(f, nullptr);
  REQUIRE(p.flow.size() >= 6);
  for (std::size_t i = 0; i < p.flow.size(); ++i) {
    const FlowStep& s = p.flow[i];
    double in = s.main_in.of.total_kg(), out = s.main_out.of.total_kg();
    for (const FlowBranch& j : s.joins) in += j.of.total_kg();
    for (const FlowBranch& l : s.leaves) out += l.of.total_kg();
    CHECK(in == Approx(out).epsilon(1e-9));
    if (i > 0) CHECK(s.main_in.of.total_kg() == Approx(p.flow[i - 1].main_out.of.total_kg()).epsilon(1e-12));
  }
  CHECK(p.flow.front().main_in.of.total_kg() == Approx(b.plan.dry.si()));
  CHECK(p.flow.back().main_out.of.total_kg() == Approx(b.plan.pressed.curd.of.total_kg()));
}

TEST_CASE("the temperature boils, pours, and passes the limits when the cooling clock says so") {
  const Batch b = batch_of(pea);
  const Facts f = facts_of(b);
  const Pictures p = pictures_of(f, nullptr);
  double most = 0, before = 0, crossed = 0;
  for (std::size_t i = 0; i < p.temperature.points.size(); ++i) {
    const auto& at = p.temperature.points[i];
    CHECK(std::isfinite(at.value));
    CHECK(at.at >= before - 1e-12);
    most = std::max(most, at.value), before = at.at;
    if (i > 0 && at.value < 5.0 && p.temperature.points[i - 1].value >= 5.0) crossed = at.at;
  }
  CHECK(most == Approx(in_celsius(b.setup.job.cook.boil)).margin(0.1));
  REQUIRE(f.cooling.under_second);
  // From the press on the picture has a point for each hundredth or so of the way.
  const double end = p.temperature.points.back().at, laid = end - 1.15 * in_hours(*f.cooling.under_second);
  CHECK(crossed - laid == Approx(in_hours(*f.cooling.under_second)).epsilon(0.02));
  // The clock tells the slower of the first and the last block; the picture shows the last.
  const auto centre = [&](double share) { return in_celsius(block_centre(b, f.timeline.handling, *f.cooling.under_second * share)); };
  CHECK(centre(1.0) <= in_celsius(p.limits.back().at) + 1e-6);
  CHECK(centre(0.9) > in_celsius(p.limits.back().at));
}

TEST_CASE("bars stand where the ranges are") {
  const Batch b = batch_of(pea);
  const Facts f = facts_of(b);
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {});
  const Pictures p = pictures_of(f, &r);
  REQUIRE(p.bars.size() >= 5);
  for (const RangeBar& bar : p.bars) {
    CHECK(bar.range.low <= bar.range.high);
    CHECK(bar.value == Approx(value(b.plan, bar.figure)));
    CHECK(bar.range.low == Approx(r.of(bar.figure).low));
  }
}

TEST_CASE("a page holds what it is given as words, never as markup") {
  const Batch b = batch_of(R"({"title": "<img src=x onerror=alert(1)>&\"'", "legume": "soybean", "want": {"blocks": 2}})");
  const Facts f = facts_of(b);
  const std::string page = to_html(make_sheet(f, {}), pictures_of(f, nullptr));
  CHECK(page.find("<img") == std::string::npos);
  CHECK(page.find("&lt;img src=x onerror=alert(1)&gt;&amp;&quot;&#39;") != std::string::npos);
  CHECK(page.find("<script") == std::string::npos);
  CHECK(page.rfind("<!DOCTYPE html>", 0) == 0);
}
