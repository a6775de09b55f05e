// SPDX-License-Identifier: MIT
// What a recipe of a stream costs beside the least that any program must do with it: run by hand, figures in docs/performance.md.
//   ./build/release/tests/bench_each
#define CATCH_CONFIG_MAIN
#define CATCH_CONFIG_ENABLE_BENCHMARKING
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <ctime>
#include <nlohmann/json.hpp>
#include <random>

#include "curdwright/line.hpp"

namespace curdwright {
namespace {

using Json = nlohmann::ordered_json;

/// Recipes that tell most of what a recipe can tell; the same ones on every machine.
std::vector<std::string> recipes(std::size_t count) {
  constexpr std::array legumes = {"soybean", "chickpea-kabuli", "lentil-red-split", "mung-whole", "pea-split-yellow", "faba-split"};
  std::mt19937 draw(20261124);
  const auto below = [&](unsigned n) { return static_cast<unsigned>(draw() % n); };
  std::vector<std::string> all;
  for (std::size_t i = 0; i < count; ++i) {
    const Json recipe = {{"schema", "curdwright.recipe/1"}, {"title", "batch " + std::to_string(i)}, {"legume", legumes[below(legumes.size())]}, {"want", {{"blocks", 1 + below(12)}}}, {"block", {{"mass", "300 g"}}},
                         {"soak", {{"time", std::to_string(10 + below(11)) + " h"}}}, {"blend", {{"total_water_to_dry", 6.5}, {"time", "45 s"}}}, {"strain", {{"washes", {{{"water_to_dry", 1}}}}}},
                         {"starch", {{"remove", "settle"}, {"time", "40 min"}}}, {"cook", {{"hold", "15 min"}}}, {"coagulate", {{"with", "calcium-sulfate-dihydrate"}, {"at", "80 degC"}, {"wait", "15 min"}, {"make_up", 1.5}}},
                         {"press", {{"pressure", "4 kPa"}, {"time", "30 min"}, {"where", "room"}}}, {"chill", {{"in", "ice-water"}}}};
    all.push_back(recipe.dump());
  }
  return all;
}

/// Lines, what they are answered with, and those answers as trees that are ready to be printed.
struct ToldLines {
  Catalogue catalogue = Catalogue::shipped();
  Lines lines{{}, catalogue};
  std::vector<std::string> told = recipes(100);
  std::vector<Json> ready;
  std::size_t bytes_in = 0, bytes_out = 0;

  ToldLines() {
    for (std::size_t i = 0; i < told.size(); ++i) {
      const std::string answer = lines.answer(told[i], i + 1).text;
      ready.push_back(Json::parse(answer));
      CHECK(ready.back()["schema"] == "curdwright.sheet/1");
      bytes_in += told[i].size(), bytes_out += answer.size();
    }
  }
  [[nodiscard]] std::size_t least(std::size_t i) const { return Json::parse(told[i]).size() + ready[i].dump().size(); }
  [[nodiscard]] std::size_t answer(std::size_t i) const { return lines.answer(told[i], i + 1).text.size(); }
};

/// Microseconds of the processor that all lines take, divided by their number.
template <class F>
double processor_us(const ToldLines& s, F f) {
  const auto now = [] {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return 1e6 * static_cast<double>(t.tv_sec) + 1e-3 * static_cast<double>(t.tv_nsec);
  };
  const double start = now();
  std::size_t sum = 0;
  for (std::size_t i = 0; i < s.told.size(); ++i) sum += f(i);
  CHECK(sum > 0);
  return (now() - start) / static_cast<double>(s.told.size());
}

double median(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  return v[v.size() / 2];
}

}  // namespace

TEST_CASE("a line, and the least that any program must do with it") {
  const ToldLines s;
  REQUIRE(s.lines.problems().empty());
  WARN("100 recipes of " << s.bytes_in / 100 << " bytes, answers of " << s.bytes_out / 100 << " bytes; each mean is of one line");
  std::size_t a = 0, b = 0, c = 0;
  BENCHMARK("parse a line, print its ready document") { return s.least(a++ % s.told.size()); };
  BENCHMARK("answer a line") { return s.answer(b++ % s.told.size()); };
  BENCHMARK("parse a line, print its ready document, once more") { return s.least(c++ % s.told.size()); };
}

// Where other work shares the machine: the two in turns, by the seconds of the processor.
TEST_CASE("the same in turns") {
  const ToldLines s;
  std::vector<double> least, answer, ratio;
  for (int round = 0; round < 51; ++round) {
    least.push_back(processor_us(s, [&](std::size_t i) { return s.least(i); }));
    answer.push_back(processor_us(s, [&](std::size_t i) { return s.answer(i); }));
    ratio.push_back(answer.back() / least.back());
  }
  std::sort(ratio.begin(), ratio.end());
  WARN("median of 51 rounds, a line: parse and print " << median(least) << " us, answer " << median(answer) << " us; ratio " << median(ratio) << ", of single rounds " << ratio.front() << " to " << ratio.back());
}

}  // namespace curdwright
