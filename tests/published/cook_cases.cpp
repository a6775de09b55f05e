// SPDX-License-Identifier: MIT
// Cooking: trypsin inhibitor and lipoxygenase.
#include <cmath>

#include "published/published.hpp"

namespace curdwright::test {
namespace {

Duration held_for(const Json& c, std::size_t i) {
  const Json& hold = c.at("inputs").at("hold");
  const double value = all_given(c, "hold").at(i);
  return hold.at("unit") == "s" ? seconds(value) : minutes(value);
}

/// Held at one temperature, for each pair of temperature and time.
std::vector<TemperatureHistory> holds(const Json& c) {
  std::vector<TemperatureHistory> all;
  const std::vector<double> t = all_given(c, "temperature");
  const std::size_t times = all_given(c, "hold").size();
  for (std::size_t i = 0; i < std::max(t.size(), times); ++i)
    all.push_back(TemperatureHistory(celsius(t.size() > 1 ? t[i] : t[0])).hold(held_for(c, times > 1 ? i : 0)));
  return all;
}

Json inhibitor(const Json& c) {
  std::vector<double> left, lost;
  for (const TemperatureHistory& h : holds(c)) {
    left.push_back(100.0 * trypsin_inhibitor_left(h, model_medians()));
    lost.push_back(100.0 - left.back());
  }
  return {{"residual", one_or_all(left)}, {"inhibitor_lost", one_or_all(lost)}};
}

/// The slow part alone, with the printed constants; the fast part is set to be gone at once.
Json slow_inhibitor(const Json& c) {
  Theta theta = model_medians();
  theta.set(Param::inhibitor_labile, 0, 1.0 - given(c, "share_stable"));
  theta.set(Param::inhibitor_d_fast, 0, 1.0);
  theta.set(Param::inhibitor_d_slow, 0, 60.0 * std::log(10.0) / given(c, "k_stable"));
  std::vector<double> left;
  for (const TemperatureHistory& h : holds(c)) left.push_back(100.0 * trypsin_inhibitor_left(h, theta));
  return {{"residual", one_or_all(left)}};
}

/// How the rate rises with temperature.
Json inhibitor_rise(const Json& c) {
  const double z = model_medians()[Param::inhibitor_z];
  const auto rate = [z](double t) { return decimal_reductions(TemperatureHistory(celsius(t)).hold(minutes(1)), celsius(100), 60.0, z); };
  return {{"rate_multiplier", rate(100 + given(c, "rise")) / rate(100)}, {"z_value", z}};
}

Json lipoxygenase(const Json& c) {
  const TemperatureHistory minute = TemperatureHistory(celsius(given(c, "temperature"))).hold(minutes(1));
  const double reductions_per_minute = -std::log10(lipoxygenase_left(minute, model_medians()));
  return {{"D", 1.0 / reductions_per_minute}, {"half_life", std::log10(2.0) / reductions_per_minute}};
}

}  // namespace

Checkers cook_checkers() {
  return {{"inhibitor", inhibitor}, {"slow_inhibitor", slow_inhibitor}, {"inhibitor_rise", inhibitor_rise}, {"lipoxygenase", lipoxygenase}};
}

TEST_CASE("published losses on cooking come out as printed, or miss as recorded") { check_published(cook_checkers()); }

}  // namespace curdwright::test
