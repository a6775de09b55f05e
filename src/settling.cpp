// SPDX-License-Identifier: MIT
#include "curdwright/settling.hpp"

#include <utility>
#include <vector>

namespace curdwright {
namespace {

constexpr Duration longest = hours(48), further = minutes(10);
/// What a further while must bring to be worth having: judgement.
constexpr double worth_having = 0.01;

/// First time at which something that turns true and stays so is true.
template <class F>
std::optional<Duration> first_time(F is_true) {
  if (!is_true(longest)) return std::nullopt;
  double low = 0, high = longest.si();
  while (high - low > 5) {  // seconds
    const double middle = 0.5 * (low + high);
    (is_true(seconds(middle)) ? high : low) = middle;
  }
  return seconds(high);
}

}  // namespace

std::optional<SettlingAdvice> settling_advice(const Batch& b) {
  const StarchSettings& s = b.setup.job.starch;
  const Stream& milk = b.plan.strained.milk;
  if (!s.settles() || !(milk.granules.settleable_kg() > 0)) return std::nullopt;
  // The three searches begin with the same moments.
  std::vector<std::pair<double, double>> known;
  const auto settled = [&](Duration t) {
    for (const auto& [moment, share] : known)
      if (moment == t.si()) return share;
    return known.emplace_back(t.si(), settled_after(milk, s, t, b.theta)).second;
  };
  SettlingAdvice a;
  a.planned = settled(s.time);
  a.ninety = first_time([&](Duration t) { return settled(t) >= 0.90; });
  a.ninety_five = first_time([&](Duration t) { return settled(t) >= 0.95; });
  a.enough = first_time([&](Duration t) { return t.si() > 0 && settled(t + further) - settled(t) < worth_having; });
  return a;
}

}  // namespace curdwright
