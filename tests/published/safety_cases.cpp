// SPDX-License-Identifier: MIT
// Growth of spore-formers.
#include <algorithm>

#include "curdwright/safety.hpp"
#include "published/published.hpp"

namespace curdwright::test {
namespace {

/// The planner's own rate, log10 of numbers per hour.
Json growth_rate(const Json& c) {
  std::vector<double> rates;
  for (double t : all_given(c, "T")) rates.push_back(growth_rate_log10_per_h(celsius(t)));
  const double fastest = *std::max_element(rates.begin(), rates.end());
  Json words = Json::array();
  for (double r : rates) words.push_back(r == 0 ? "none" : r == fastest ? "fastest" : r < 0.1 * fastest ? "slow" : "between");
  return {{"growth_rate", one_or_all(rates)}, {"growth", words}};
}

}  // namespace

Checkers safety_checkers() { return {{"growth_rate", growth_rate}}; }

TEST_CASE("published growth comes out as printed, or misses as recorded") { check_published(safety_checkers()); }

}  // namespace curdwright::test
