// SPDX-License-Identifier: MIT
// Benchmarks, not tests: run by hand, figures in docs/performance.md.
//   ./build/release/tests/bench_plan
#define CATCH_CONFIG_MAIN
#define CATCH_CONFIG_ENABLE_BENCHMARKING
#include <catch2/catch.hpp>

#include <cmath>

#include "curdwright/learn.hpp"
#include "curdwright/sheet.hpp"

namespace curdwright {
namespace {

Setup setup_of(const char* recipe) { return *resolve(read_inputs({.recipe = recipe, .recipe_file = "bench", .kitchen = {}, .kitchen_file = {}, .set = {}, .want = {}})->recipe, default_kitchen(), Catalogue::shipped()); }

constexpr const char* soy = R"({"legume":"soybean","want":{"dry":"1 kg"},"blend":{"total_water_to_dry":8}})";
constexpr const char* pea = R"({"legume":"pea-split-yellow","want":{"blocks":4},"blend":{"total_water_to_dry":6},"strain":{"washes":[{"water_to_dry":1}]}})";
constexpr const char* mix = R"({"legume":[{"id":"pea-split-yellow"},{"id":"faba-split"}],"want":{"blocks":4},"blend":{"total_water_to_dry":6}})";

}  // namespace

TEST_CASE("one plan") {
  for (const auto& [name, recipe] : {std::pair{"soy, nothing settles", soy}, std::pair{"split pea, settled, one wash", pea}, std::pair{"two legumes, settled", mix}}) {
    const Setup s = setup_of(recipe);
    const Theta theta = s.beliefs.medians();
    CHECK(plan(s.job, theta).whole());
    BENCHMARK(name) { return plan(s.job, theta); };
  }
}

TEST_CASE("around the plan") {
  const Setup s = setup_of(pea);
  BENCHMARK("read and resolve a recipe") { return setup_of(pea); };
  const Inputs in = *read_inputs({.recipe = pea, .recipe_file = "bench", .kitchen = {}, .kitchen_file = {}, .set = {}, .want = {}});
  const Inputs free = *read_inputs({.recipe = R"({"legume":"pea-split-yellow","want":{"blocks":4}})", .recipe_file = "bench", .kitchen = {}, .kitchen_file = {}, .set = {}, .want = {}});
  const Catalogue catalogue = Catalogue::shipped();
  BENCHMARK("read a recipe") { return read_inputs({.recipe = pea, .recipe_file = "bench", .kitchen = {}, .kitchen_file = {}, .set = {}, .want = {}}); };
  BENCHMARK("resolve, the records known") { return resolve(in.recipe, in.kitchen, catalogue); };
  BENCHMARK("resolve, the records known, the water to be chosen") { return resolve(free.recipe, free.kitchen, catalogue); };
  BENCHMARK("size, fit and round a batch") { return size_batch(s); };
  const Batch batch = *size_batch(s);
  BENCHMARK("facts") { return facts_of(batch); };
  BENCHMARK("facts and cautions") { return cautions(facts_of(batch)); };
  const Facts facts = facts_of(batch);
  BENCHMARK("sheet, not laid out") { return make_sheet(facts, {}); };
  BENCHMARK("sheet as JSON") { return to_json(facts, make_sheet(facts, {})); };
  BENCHMARK("sheet as text") { return to_text(make_sheet(facts, {}), {}); };
  CHECK(batch.plan.whole());
}

TEST_CASE("how sure a plan is") {
  const Batch batch = *size_batch(setup_of(pea));
  const Setup& s = batch.setup;
  BENCHMARK("ranges of 128 plans") { return ranges(s.job, s.beliefs, {}); };
  BENCHMARK("ranges of 4,096 plans") { return ranges(s.job, s.beliefs, {.plans = 4096}); };
  BENCHMARK("the same and 3,584 plans for Sobol indices") { return ranges(s.job, s.beliefs, {.plans = 4096, .index_base = 256}); };
  Setup sure = setup_of(pea);
  sure.recipe.want.sure = 0.8;
  BENCHMARK("size a batch that is to be sure") { return size_batch(sure); };
  CHECK(batch.plan.whole());
}

TEST_CASE("measuring and learning") {
  const Batch batch = *size_batch(setup_of(pea));
  const Setup& s = batch.setup;
  const std::vector<std::string> told = {"soaked=1.2kg", "pulp=1.1kg", "milk=4.2kg", "starch-layer=400g", "to-95=25min"};
  const std::vector<Reading> readings = *read_readings(told, s.kitchen, "bench");
  BENCHMARK("a batch in hand, five readings, with the ranges before and after") {
    const auto c = correct(batch, readings);
    return ranges(c->batch.setup.job, c->batch.setup.beliefs, sample_for(c->batch.setup.beliefs));
  };
  constexpr std::array figures = {Figure::soaked_mass, Figure::pulp_mass, Figure::milk_mass, Figure::sediment_mass, Figure::to_95, Figure::cooked_milk_mass, Figure::curd_mass, Figure::whey_mass, Figure::block_height, Figure::curd_solids};
  std::vector<BatchSeen> batches;
  // Batches that differ in size, and readings about ten in a hundred off the plan.
  for (int k = 0; k < 1000; ++k) {
    BatchSeen b{"batch", s, {}};
    b.setup.job.dry *= 1 + 0.001 * (k % 97);
    const Plan p = plan(b.setup.job, b.setup.beliefs.medians());
    for (std::size_t i = 0; i < figures.size(); ++i) b.seen.push_back({figures[i], value(p, figures[i]) * std::exp(0.1 * std::sin(1.0 + 7.0 * k + 3.0 * static_cast<double>(i))), info(figures[i]).typical_error + 0.05});
    batches.push_back(std::move(b));
  }
  BENCHMARK("learn from 10 batches of 10 readings") { return learn(std::span(batches).first(10)); };
  BENCHMARK("learn from 1,000 batches of 10 readings") { return learn(batches); };
  CHECK(learn(batches).converged);
}

}  // namespace curdwright
