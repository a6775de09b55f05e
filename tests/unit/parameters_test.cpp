// SPDX-License-Identifier: MIT
#include "curdwright/parameters.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>

using namespace curdwright;

namespace {

constexpr double z90 = 1.2815515655446004;  // 90 % quantile of the standard normal, tables

Evidence evidence(double value, double low, double high) { return {value, low, high, "1", Known::seen, "somewhere", "", ""}; }

}  // namespace

TEST_CASE("the table of parameters stands in the order of Param, and no key or name is used twice within a record") {
  std::set<std::string> keys, names;
  std::size_t i = 0;
  for (const ParamInfo& row : all_params()) {
    CHECK(static_cast<std::size_t>(row.param) == i++);
    CHECK(&info(row.param) == &row);
    CHECK((row.scope == Scope::legume) == (row.param < Param::legume_end));
    CHECK(row.to_si > 0);
    CHECK_FALSE(row.plain.empty());
    CHECK(keys.insert(std::string(row.key)).second);
    names.insert(std::string(row.plain));
  }
  CHECK(i == param_count);
  CHECK(names.size() + 1 >= param_count);  // one phrase may serve both heat lives
}

TEST_CASE("a value survives the way to its link scale and back") {
  for (double v : {1e-9, 0.1, 1.0, 37.0, 1e6}) CHECK(from_link(Link::log, to_link(Link::log, v)) == Approx(v).epsilon(1e-14));
  for (double v : {1e-6, 0.01, 0.5, 0.88, 0.999999}) CHECK(from_link(Link::logit, to_link(Link::logit, v)) == Approx(v).epsilon(1e-9));
  CHECK(to_link(Link::log, 1.0) == 0.0);
  CHECK(to_link(Link::logit, 0.5) == 0.0);
  CHECK(to_link(Link::logit, 0.9) == Approx(std::log(9.0)));
  for (double x : {-700.0, -40.0, 0.0, 40.0, 700.0}) {
    const double share = from_link(Link::logit, x);
    CHECK((share >= 0 && share <= 1));
  }
}

TEST_CASE("the spread makes the range hold the middle 80 percent of belief") {
  CHECK(evidence(2, 1, 4).spread(Link::log) == Approx(std::log(4.0) / (2 * z90)));
  CHECK(evidence(0.5, 0.1, 0.9).spread(Link::logit) == Approx(2 * std::log(9.0) / (2 * z90)));
  const Belief b = belief_from(Param::film, 0, evidence(0.01, 0.005, 0.02));
  CHECK(from_link(b.link, to_link(b.link, b.median) + z90 * b.spread) == Approx(0.02).epsilon(0.01));
  CHECK(from_link(b.link, to_link(b.link, b.median) - z90 * b.spread) == Approx(0.005).epsilon(0.01));
}

TEST_CASE("widened evidence keeps its median and moves both ends on the link scale") {
  const Evidence wide = evidence(2, 1, 8).widened(Link::log, 1.5);
  CHECK(wide.value == 2);
  CHECK(wide.low == Approx(2 / std::pow(2, 1.5)));
  CHECK(wide.high == Approx(2 * std::pow(4, 1.5)));
  CHECK(wide.spread(Link::log) == Approx(1.5 * evidence(2, 1, 8).spread(Link::log)));
  const Evidence share = evidence(0.9, 0.8, 0.95).widened(Link::logit, 10);
  CHECK((share.low > 0 && share.high < 1));
  CHECK(share.spread(Link::logit) == Approx(10 * evidence(0.9, 0.8, 0.95).spread(Link::logit)));
}

TEST_CASE("scaled evidence is the same figure in another unit") {
  const Evidence e = evidence(20, 10, 40).scaled(0.01);
  CHECK(e.value == Approx(0.2));
  CHECK(e.low == Approx(0.1));
  CHECK(e.high == Approx(0.4));
  CHECK(e.spread(Link::log) == Approx(evidence(20, 10, 40).spread(Link::log)));
  CHECK(e.source == "somewhere");
}

TEST_CASE("a belief is in the unit of the code") {
  const Belief water = belief_from(Param::seed_water, 2, evidence(10, 8, 12));
  CHECK(water.median == Approx(0.10));
  CHECK(water.spread == Approx((to_link(Link::logit, 0.12) - to_link(Link::logit, 0.08)) / (2 * z90)));
  CHECK(water.legume == 2);
  CHECK(water.scope == Scope::legume);
  CHECK(water.source == "somewhere");
  CHECK(belief_from(Param::soak_k1, 0, evidence(2.41, 1.8, 3.2)).median == Approx(2.41 * 3600));
  CHECK(belief_from(Param::granule_median, 0, evidence(22, 18, 26)).median == Approx(22e-6));
  CHECK(belief_from(Param::seed_calcium, 0, evidence(277, 222, 332)).median == Approx(2.77e-3));
}

TEST_CASE("beliefs at nought are the medians, and one standard normal moves one belief by its spread") {
  Beliefs beliefs;
  beliefs.add(belief_from(Param::seed_protein, 0, evidence(36, 33, 39)));
  beliefs.add(belief_from(Param::seed_protein, 1, evidence(22, 20, 24)));
  beliefs.add(belief_from(Param::film, 0, evidence(0.01, 0.005, 0.02)));
  beliefs.add(belief_from(Param::press_slope, 0, evidence(0.118, 0.085, 0.155)));
  const Theta m = beliefs.medians();
  CHECK(m.of(Param::seed_protein, 0) == Approx(0.36));
  CHECK(m.of(Param::seed_protein, 1) == Approx(0.22));
  CHECK(m[Param::film] == Approx(0.01));
  const double z[] = {0.0, 0.0, 1.0, -2.0};
  const Theta t = beliefs.at(z);
  CHECK(t.of(Param::seed_protein, 0) == m.of(Param::seed_protein, 0));
  CHECK(t[Param::film] == Approx(from_link(Link::logit, to_link(Link::logit, 0.01) + beliefs.all()[2].spread)));
  CHECK(t[Param::press_slope] == Approx(0.118 * std::exp(-2 * beliefs.all()[3].spread)));
  const double shorter[] = {1.0};
  const Theta first = beliefs.at(shorter);
  CHECK(first.of(Param::seed_protein, 0) > 0.36);
  CHECK(first[Param::film] == m[Param::film]);
}

TEST_CASE("figures of a legume and shared ones are kept apart") {
  Theta t;
  t.set(Param::coagulable, 0, 0.9);
  t.set(Param::coagulable, 3, 0.7);
  t.set(Param::blender_protein, 0, 0.99);
  CHECK(t.of(Param::coagulable, 0) == 0.9);
  CHECK(t.of(Param::coagulable, 3) == 0.7);
  CHECK(t.of(Param::coagulable, 1) == 0.0);
  CHECK(t[Param::blender_protein] == 0.99);
}

TEST_CASE("every way of knowing has a word of its own") {
  std::set<std::string_view> words;
  for (Known k : {Known::standard, Known::seen, Known::fitted, Known::derived, Known::memory, Known::common_practice, Known::judgement, Known::guess})
    CHECK(words.insert(word(k)).second);
  CHECK(word(Known::common_practice) == "common-practice");
}
