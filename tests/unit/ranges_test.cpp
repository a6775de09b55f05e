// SPDX-License-Identifier: MIT
#include "curdwright/ranges.hpp"

#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <numbers>
#include <random>
#include <set>

#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

constexpr const char* pea = R"({"legume":"pea-split-yellow","want":{"blocks":4}})";

/// Ishigami and Homma 1990, a = 7, b = 0.1, on uniforms over (-pi, pi).
double ishigami(std::span<const double> z) {
  std::array<double, 3> x{};
  for (std::size_t i = 0; i < 3; ++i) x[i] = std::numbers::pi * (std::erfc(-z[i] / std::numbers::sqrt2) - 1.0);
  return std::sin(x[0]) + 7 * std::pow(std::sin(x[1]), 2) + 0.1 * std::pow(x[2], 4) * std::sin(x[0]);
}

}  // namespace

TEST_CASE("every dimension of the sample visits each stratum exactly once") {
  constexpr int n = 128;
  constexpr std::size_t dimensions = 80;
  const auto z = sobol_normals(n, dimensions, 7);
  const boost::math::normal_distribution<double> normal;
  for (std::size_t d = 0; d < dimensions; ++d) {
    std::set<int> strata;
    for (std::size_t k = 0; k < n; ++k) strata.insert(static_cast<int>(std::floor(cdf(normal, z[k * dimensions + d]) * n)));
    CHECK(strata.size() == n);
    CHECK(*strata.begin() == 0);
    CHECK(*strata.rbegin() == n - 1);
  }
}

TEST_CASE("two dimensions of the first 64 points fill each quarter alike, as a digital net does") {
  // Sobol' 1967: the first two dimensions form a (0,2)-sequence, so each of 4 x 4 boxes holds 64/16 points.
  const auto z = sobol_normals(64, 2, 3);
  const boost::math::normal_distribution<double> normal;
  std::array<int, 16> boxes{};
  for (std::size_t k = 0; k < 64; ++k) {
    const auto at = [&](std::size_t d) { return static_cast<std::size_t>(std::floor(cdf(normal, z[k * 2 + d]) * 4)); };
    ++boxes[at(0) * 4 + at(1)];
  }
  for (int b : boxes) CHECK(b == 4);
}

TEST_CASE("Sobol indices of the Ishigami function are the published ones") {
  // Analytic values for a = 7, b = 0.1 (Saltelli et al., Global Sensitivity Analysis, 2008): S 0.3139, 0.4424, 0; T 0.5576, 0.4424, 0.2437.
  const std::array<std::size_t, 3> all = {0, 1, 2};
  const auto indices = sobol_indices(ishigami, 3, all, 8192, 1);
  const std::array<double, 3> first = {0.3139, 0.4424, 0.0}, total = {0.5576, 0.4424, 0.2437};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(indices[i].first_order == Approx(first[i]).margin(0.01));
    CHECK(indices[i].total == Approx(total[i]).margin(0.01));
  }
}

TEST_CASE("quantiles lie between the ordered numbers") {
  const std::array<double, 10> ten = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10};
  CHECK(quantile(ten, 0.5) == Approx(5.5));
  CHECK(quantile(ten, 0.1) == Approx(1.5));
  CHECK(quantile(ten, 0.9) == Approx(9.5));
  CHECK(quantile(ten, 0.0) == 1.0);
  CHECK(quantile(ten, 1.0) == 10.0);
}

TEST_CASE("ranges hold the expected figure, and the same beliefs give the same ranges") {
  const Batch b = batch_of(pea);
  const Ranges once = ranges(b.setup.job, b.setup.beliefs, {}), twice = ranges(b.setup.job, b.setup.beliefs, {});
  for (Figure f : {Figure::soaked_mass, Figure::pulp_mass, Figure::milk_mass, Figure::curd_mass, Figure::protein, Figure::starch, Figure::energy}) {
    INFO(info(f).key);
    CHECK(once.of(f).low < value(b.plan, f));
    CHECK(once.of(f).high > value(b.plan, f));
    CHECK(once.of(f).low == twice.of(f).low);
    CHECK(once.of(f).high == twice.of(f).high);
  }
  CHECK(once.plans == 128);
  CHECK(once.of(Figure::block_mass).low == Approx(once.of(Figure::block_mass).high));
}

TEST_CASE("kitchens drawn at random from the beliefs fall inside the range eight times in ten") {
  // An independent sample: plain random numbers, not the sequence that made the ranges. 2,000 draws put
  // the share within 0.8 +- 0.027 in 99.7 of 100 runs; the ends of a 4,096-plan range add little.
  const Batch b = batch_of(pea);
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {.plans = 4096});
  std::mt19937_64 random(20261124);
  const boost::math::normal_distribution<double> normal;
  constexpr int draws = 2000;
  std::array<int, 3> inside{};
  const std::array figures = {Figure::curd_mass, Figure::pulp_mass, Figure::starch};
  std::vector<double> z(b.setup.beliefs.all().size());
  for (int k = 0; k < draws; ++k) {
    for (double& x : z) x = quantile(normal, (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53);
    const Plan p = plan(b.setup.job, b.setup.beliefs.at(z));
    for (std::size_t i = 0; i < figures.size(); ++i) inside[i] += value(p, figures[i]) >= r.of(figures[i]).low && value(p, figures[i]) <= r.of(figures[i]).high;
  }
  for (int n : inside) CHECK(n / static_cast<double>(draws) == Approx(0.8).margin(0.03));
}

TEST_CASE("a belief that is made sure narrows the range and drops out of what the yield depends on") {
  Batch b = batch_of(pea);
  const Ranges before = ranges(b.setup.job, b.setup.beliefs, {.plans = 1024});
  const Param strongest = b.setup.beliefs.all()[before.influences[0].belief].param;
  Beliefs surer;
  for (Belief belief : b.setup.beliefs.all()) {
    if (belief.param == strongest) belief.spread *= 0.01;
    surer.add(belief);
  }
  const Ranges after = ranges(b.setup.job, surer, {.plans = 1024});
  const auto width = [](const Ranges& r) { return r.of(Figure::curd_mass).high - r.of(Figure::curd_mass).low; };
  CHECK(width(after) < 0.95 * width(before));
  for (std::size_t i = 0; i < 3; ++i) CHECK(surer.all()[after.influences[i].belief].param != strongest);
}

TEST_CASE("full indices of a batch are shares that add up to what one belief at a time explains") {
  const Batch b = batch_of(pea);
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {.plans = 4096, .index_base = 256});
  REQUIRE(r.indexed == 12);
  CHECK(r.index_plans == 256 * 14);
  double sum = 0;
  for (std::size_t i = 0; i < r.indexed; ++i) {
    CHECK(r.influences[i].total > -0.01);
    CHECK(r.influences[i].total < 1.0);
    sum += r.influences[i].first_order;
  }
  CHECK(sum > 0.6);
  CHECK(sum < 1.1);
  CHECK(r.influences[0].share >= r.influences[1].share);
}

TEST_CASE("plans that come to nothing are counted, and are not zeros in the ranges") {
  // Close to the edge where the dose no longer sets, some of the sample falls over it.
  const Batch b = batch_of(R"({"legume": "pea-split-yellow", "want": {"dry": "1 kg"}, "coagulate": {"dose": "0.1 mmol/g"}})");
  REQUIRE(has_masses(b.plan));
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {});
  REQUIRE(r.failed > 0);
  CHECK(r.failed < r.plans / 2);
  CHECK(r.of(Figure::milk_mass).low > 0);
  CHECK(r.of(Figure::curd_mass).low > 0);
  CHECK(r.curd_kg.size() == 128);
  CHECK(r.chance_of_curd(grams(0.001)) == Approx(1 - r.failed / 128.0));
}

TEST_CASE("the chance of a mass of curd falls as more is asked") {
  const Batch b = batch_of(pea);
  const Ranges r = ranges(b.setup.job, b.setup.beliefs, {});
  CHECK(r.chance_of_curd(grams(1)) == 1.0);
  CHECK(r.chance_of_curd(kilograms(100)) == 0.0);
  CHECK(r.chance_of_curd(grams(r.of(Figure::curd_mass).low)) == Approx(0.9).margin(0.02));
}
