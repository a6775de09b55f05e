// SPDX-License-Identifier: MIT
// Pressing.
#include <boost/math/tools/toms748_solve.hpp>

#include "published/published.hpp"

namespace curdwright::test {
namespace {

/// Time factors at which the printed degrees of consolidation are reached.
Json time_factors(const Json& c) {
  std::vector<double> factors;
  for (double degree : all_given(c, "U")) {
    boost::uintmax_t most = 80;
    const auto r = boost::math::tools::toms748_solve([degree](double t) { return consolidation_degree(t) - degree; }, 1e-9, 5.0,
                                                     boost::math::tools::eps_tolerance<double>(40), most);
    factors.push_back(0.5 * (r.first + r.second));
  }
  return {{"Tv", factors}};
}

/// Pressure of a weight as the recipe tells it, on the kitchen's mould.
Json weight_on_mould(const Json& c) {
  const auto mould = c.at("set").get<std::vector<std::string>>();
  std::vector<double> kpa;
  for (const Json& recipe : c.at("recipe")) kpa.push_back(in_kilopascals(setup_of(recipe.dump(), mould).job.press.pressure));
  return {{"pressure", kpa}};
}

}  // namespace

Checkers press_checkers() { return {{"time_factors", time_factors}, {"weight_on_mould", weight_on_mould}}; }

TEST_CASE("published pressing figures come out as printed, or miss as recorded") { check_published(press_checkers()); }

}  // namespace curdwright::test
