// SPDX-License-Identifier: MIT
// What the questions cost, each beside the plans or ranges that a user would otherwise ask for one by one: run by hand, figures in
// docs/performance.md.
//   ./build/release/tests/bench_what_if
#define CATCH_CONFIG_MAIN
#define CATCH_CONFIG_ENABLE_BENCHMARKING
#include <catch2/catch.hpp>

#include <array>

#include "curdwright/account.hpp"
#include "curdwright/best.hpp"
#include "curdwright/contrast.hpp"
#include "curdwright/rank.hpp"
#include "support/support.hpp"

namespace curdwright {
namespace {

using test::must;

const InputTexts peas{R"({"legume": "pea-split-yellow", "want": {"blocks": 4}})", "bench", {}, "", {}, {}};
const InputTexts chickpeas{R"({"legume": "chickpea-kabuli", "want": {"blocks": 4}})", "bench", {}, "", {}, {}};

/// A hundred batches that one by one would be planned.
std::vector<InputTexts> hundred() {
  std::vector<InputTexts> all;
  for (int i = 0; i < 100; ++i) {
    InputTexts t = peas;
    t.set = {"/starch/time=" + std::to_string(10 + i) + " min"};
    all.push_back(t);
  }
  return all;
}

}  // namespace

TEST_CASE("a table of a hundred runs, beside a hundred batches planned one by one") {
  const Catalogue catalogue = Catalogue::shipped();
  const std::vector<InputTexts> all = hundred();
  const Factor standing = must(read_factor("/starch/time=10min:109min:1min"));
  const std::vector<const Response*> told = {must(find_response("starch_fraction")), must(find_response("curd_mass_g"))};
  REQUIRE(must(vary(peas, {standing}, told, catalogue, {.depth = Depth::off, .go_on = {}})).runs.size() == all.size());
  BENCHMARK("a hundred batches one by one") {
    double sum = 0;
    for (const InputTexts& t : all) sum += plan_texts(t, catalogue)->plan.dry.si();
    return sum;
  };
  BENCHMARK("vary, without ranges") { return vary(peas, {standing}, told, catalogue, {.depth = Depth::off, .go_on = {}})->runs.size(); };
  BENCHMARK("vary, with ranges of 128 plans") { return vary(peas, {standing}, told, catalogue)->runs.size(); };
}

TEST_CASE("the other questions") {
  const Catalogue catalogue = Catalogue::shipped();
  const Question question{peas, must(read_aim("protein_per_cost", true)), {must(read_condition("starch_fraction<=0.03"))},
                          {must(read_room("/blend/total_water_to_dry=4:10")), must(read_room("/starch/time=10min:2h"))}};
  Question priced = question;
  priced.texts.kitchen = R"({"currency": "EUR", "prices": {"pea-split-yellow": "2.10/kg"}})";
  const Batch one = must(plan_texts(peas, catalogue)), other = must(plan_texts(chickpeas, catalogue));
  const std::array<const Batch*, 2> both = {&one, &other};
  const std::vector<const Response*> told = {must(find_response("protein_fraction")), must(find_response("curd_mass_g"))};
  WARN("best looks at " << must(best(priced, catalogue)).plans << " plans");
  BENCHMARK("best of two settings under a condition") { return best(priced, catalogue)->aim; };
  BENCHMARK("two batches on 512 shared beliefs") { return contrasts(both, told).size(); };
  RankQuestion rank{peas, told[0], false, {}, {}, {}, {}};
  WARN("ranked: " << rank_legumes(rank, catalogue).ranked.size() << " legumes");
  BENCHMARK("rank all legumes") { return rank_legumes(rank, catalogue).ranked.size(); };
  BENCHMARK("account of the curd") { return account(one, Figure::curd_mass).terms().size(); };
}

}  // namespace curdwright
