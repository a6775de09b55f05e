// SPDX-License-Identifier: MIT
// Benchmarks, not tests: run by hand, figures in docs/performance.md.
//   ./build/release/tests/bench_plan
#define CATCH_CONFIG_MAIN
#define CATCH_CONFIG_ENABLE_BENCHMARKING
#include <catch2/catch.hpp>

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
  BENCHMARK("size, fit and round a batch") { return size_batch(s); };
  const Batch batch = *size_batch(s);
  BENCHMARK("facts and cautions") { return cautions(facts_of(batch)); };
  const Facts facts = facts_of(batch);
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

}  // namespace curdwright
