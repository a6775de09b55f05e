// SPDX-License-Identifier: MIT
// Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari and Gelman 2018, arXiv:1804.06788): kitchens drawn from
// the beliefs, cooked and weighed in; then the truth must lie in an 80 % interval eight times of ten.
#include <array>

#include "curdwright/ranges.hpp"
#include "support/kitchens.hpp"

using namespace curdwright;
using namespace curdwright::test;

namespace {

constexpr int kitchens = 1000;

Batch planned(const std::string& recipe) { return must(plan_batch(setup_of(recipe))); }

/// How often the truth lay inside, for each figure.
template <std::size_t n>
struct Coverage {
  std::array<Figure, n> figures;
  std::array<int, n> inside{};
  int all = 0;

  void count(const Plan& truth, const Ranges& r) {
    ++all;
    for (std::size_t i = 0; i < n; ++i) {
      const double v = value(truth, figures[i]);
      inside[i] += v >= r.of(figures[i]).low && v <= r.of(figures[i]).high;
    }
  }
  /// All figures together must keep to 77 to 83 of 100. One of them alone, of 1,000 kitchens, strays by more now and then: its
  /// standard deviation is 1.3 in 100, so each is held to four of those.
  void check() const {
    int together = 0;
    for (std::size_t i = 0; i < n; ++i) {
      INFO(info(figures[i]).key << ": " << inside[i] << " of " << all);
      CHECK(inside[i] >= 0.75 * all);
      CHECK(inside[i] <= 0.855 * all);
      together += inside[i];
    }
    INFO("all figures together: " << together / (static_cast<double>(n) * all));
    CHECK(together >= 0.77 * static_cast<double>(n) * all);
    CHECK(together <= 0.83 * static_cast<double>(n) * all);
  }
};

/// The truth of a batch that gives curd; a kitchen in which none comes out has nothing to weigh.
template <class Draw>
Plan truth_of(const Job& job, const Beliefs& beliefs, Draw draw) {
  for (;;) {
    const Plan p = plan(job, beliefs.at(draw()));
    if (has_masses(p)) return p;
  }
}

}  // namespace

TEST_CASE("in mid-batch an 80 % range holds the truth eight times of ten, and is narrower than before") {
  const Batch b = planned(R"({"legume": "chickpea-kabuli", "want": {"dry": "900 g"}})");
  const Job& job = b.setup.job;
  const Beliefs& beliefs = b.setup.beliefs;
  const Ranges before = ranges(job, beliefs, {.plans = 1024});
  constexpr std::array seen_so_far = {Figure::soaked_mass, Figure::pulp_mass, Figure::milk_mass, Figure::sediment_mass, Figure::to_95};
  // Over 3,000 kitchens the starch comes to 76.6 of 100, for a weighed layer ties what is freed to what never settles along a
  // curve that a Gaussian cuts short; the others to 78 to 82. Written down in docs/unknowns.md.
  Coverage<7> coverage{{Figure::curd_mass, Figure::whey_mass, Figure::cooked_milk_mass, Figure::milk_protein, Figure::protein, Figure::starch, Figure::soaked_mass}};

  double width = 0;
  Normals draw(20261128);
  for (int k = 0; k < kitchens; ++k) {
    const Plan truth = truth_of(job, beliefs, [&] { return normals(draw, beliefs.size()); });
    const Update u = update(beliefs, job, weighed(truth, seen_so_far, draw));
    const Ranges r = ranges(job, u.beliefs, sample_for(u.beliefs));
    coverage.count(truth, r);
    width += (r.of(Figure::curd_mass).high - r.of(Figure::curd_mass).low) / (before.of(Figure::curd_mass).high - before.of(Figure::curd_mass).low) / kitchens;
  }
  coverage.check();
  CHECK(width < 0.8);
}

TEST_CASE("after five batches an 80 % interval holds the truth eight times of ten: of the next batch, and of what the kitchen is") {
  const std::array kinds = {planned(R"({"legume": "chickpea-kabuli", "want": {"dry": "900 g"}})"), planned(R"({"legume": "chickpea-kabuli", "want": {"dry": "600 g"}, "blend": {"total_water_to_dry": 9}})"),
                            planned(R"({"legume": "pea-split-yellow", "want": {"dry": "700 g"}})")};
  Coverage<5> coverage{{Figure::curd_mass, Figure::cooked_milk_mass, Figure::pulp_mass, Figure::starch, Figure::soaked_mass}};
  long offsets = 0, inside = 0;
  Normals draw(20261129);
  for (int k = 0; k < kitchens; ++k) {
    TrueKitchen kitchen(draw);
    std::vector<BatchSeen> batches;
    for (std::size_t i = 0; i < 5; ++i) {
      const Setup& s = kinds[i % kinds.size()].setup;
      const Plan truth = truth_of(s.job, s.beliefs, [&] { return kitchen.cook(s); });
      batches.push_back({"batch", s, weighed(truth, all_weighed, draw)});
    }
    const Setup& next = kinds[0].setup;
    const Plan truth = truth_of(next.job, next.beliefs, [&] { return kitchen.cook(next); });
    const Lesson l = learn(batches);
    Setup taught = next;
    REQUIRE(apply_learned(taught, l.learned).empty());
    coverage.count(truth, ranges(next.job, taught.beliefs, sample_for(taught.beliefs)));
    for (std::size_t i = 0; i < l.names.size(); ++i) {
      const double spread = std::sqrt(l.covariance[i * l.names.size() + i]);
      // An offset of which nothing was learned is covered as it was drawn, and would hide the others.
      if (spread > 0.9) continue;
      ++offsets;
      inside += std::abs(kitchen.offset(l.names[i]) - l.offsets[i]) < 1.2815515655446004 * spread;
    }
  }
  coverage.check();
  INFO(inside << " of " << offsets << " offsets");
  CHECK(static_cast<double>(inside) >= 0.77 * static_cast<double>(offsets));
  CHECK(static_cast<double>(inside) <= 0.83 * static_cast<double>(offsets));
}

TEST_CASE("with every batch the next one is foretold better, and after three much better than by the shipped beliefs") {
  const Batch b = planned(R"({"legume": "chickpea-kabuli", "want": {"dry": "900 g"}})");
  const Setup& s = b.setup;
  constexpr int cooks = 150;
  constexpr std::array<std::size_t, 5> after = {0, 1, 3, 6, 12};
  std::array<double, after.size()> error{};
  Normals draw(20261130);
  for (int k = 0; k < cooks; ++k) {
    TrueKitchen kitchen(draw);
    std::vector<BatchSeen> all;
    for (std::size_t i = 0; i < after.back(); ++i) {
      const Plan truth = truth_of(s.job, s.beliefs, [&] { return kitchen.cook(s); });
      all.push_back({"batch", s, weighed(truth, all_weighed, draw)});
    }
    const double truth = value(truth_of(s.job, s.beliefs, [&] { return kitchen.cook(s); }), Figure::curd_mass);
    for (std::size_t i = 0; i < after.size(); ++i) {
      Setup taught = s;
      REQUIRE(apply_learned(taught, learn(std::span(all).first(after[i])).learned).empty());
      const double told = value(plan(s.job, taught.beliefs.medians()), Figure::curd_mass);
      error[i] += std::pow(std::log(told / truth), 2) / cooks;
    }
  }
  for (std::size_t i = 1; i < after.size(); ++i) {
    INFO(std::sqrt(error[i - 1]) << " after " << after[i - 1] << " batches, " << std::sqrt(error[i]) << " after " << after[i]);
    CHECK(error[i] < error[i - 1] * 1.02);
  }
  CHECK(std::sqrt(error[2]) < 0.75 * std::sqrt(error[0]));
}
