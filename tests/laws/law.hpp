// SPDX-License-Identifier: MIT
// Runs a law over many generated cases, always the same ones: the seed stands here, so that a run can be repeated
// anywhere. A failure is shrunk by rapidcheck and shown with its case.
#pragma once

#include <catch2/catch.hpp>
#include <rapidcheck.h>
#include <sstream>
#include <string>
#include <unordered_map>
#include <utility>

namespace curdwright::test {

/// Says nothing while a law runs; the outcome is reported through Catch.
struct QuietListener : rc::detail::TestListener {
  void onTestCaseFinished(const rc::detail::CaseDescription&) override {}
  void onShrinkTried(const rc::detail::CaseDescription&, bool) override {}
  void onTestFinished(const rc::detail::TestMetadata&, const rc::detail::TestResult&) override {}
};

/// A longer search: build with -DCURDWRIGHT_LAW_SEED=... -DCURDWRIGHT_LAW_TIMES=... (times as many cases).
#ifndef CURDWRIGHT_LAW_SEED
#define CURDWRIGHT_LAW_SEED 20'240'917
#endif
#ifndef CURDWRIGHT_LAW_TIMES
#define CURDWRIGHT_LAW_TIMES 1
#endif

/// Whether a case that fails is made smaller before it is shown. Not worth the wait where each case is a whole answer.
enum class Shrink { yes, no };

template <class Property>
void law(int cases, Property&& property, Shrink shrink = Shrink::yes) {
  rc::detail::TestParams params;
  params.seed = CURDWRIGHT_LAW_SEED;
  params.maxSuccess = cases * CURDWRIGHT_LAW_TIMES;
  params.maxDiscardRatio = 20;
  params.disableShrinking = shrink == Shrink::no;
  QuietListener quiet;
  const std::unordered_map<std::string, rc::detail::Reproduce> nothing_to_reproduce;
  const auto result = rc::detail::checkTestable(std::forward<Property>(property), rc::detail::TestMetadata{}, params, quiet, nothing_to_reproduce);
  std::ostringstream told;
  rc::detail::printResultMessage(result, told);
  INFO(told.str());
  REQUIRE(result.template is<rc::detail::SuccessResult>());
  CHECK(result.template get<rc::detail::SuccessResult>().numSuccess == params.maxSuccess);
}

/// A number in [low, high], in steps of a thousandth of the span; shrinks toward `low`.
inline double between(double low, double high) {
  return low + (high - low) * *rc::gen::resize(100, rc::gen::inRange(0, 1001)) / 1000.0;
}
inline int whole(int low, int high) { return *rc::gen::resize(100, rc::gen::inRange(low, high + 1)); }
/// True once in `n`.
inline bool once_in(int n) { return whole(0, n - 1) == n - 1; }

}  // namespace curdwright::test
