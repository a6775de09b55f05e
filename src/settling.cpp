// SPDX-License-Identifier: MIT
#include "curdwright/settling.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

namespace curdwright {
namespace {

constexpr double first_min = 1, longest_min = 48 * 60;
constexpr Duration further = minutes(10);
/// What a further while must bring to be worth having: judgement.
constexpr double worth_having = 0.01;

/// First whole minute at which something that rises through zero and stays above has done so; looked for from a guess outward.
template <class F>
std::optional<Duration> first_minute(F over_at, Duration guess) {
  const auto over = [&](double t) { return over_at(minutes(t)); };
  constexpr double step = 2;
  double low = std::clamp(in_minutes(guess), first_min, longest_min), high = low;
  double at_low = over(low), at_high = at_low;
  while (at_high < 0 && high < longest_min) low = high, at_low = at_high, high = std::min(high * step, longest_min), at_high = over(high);
  if (at_high < 0) return std::nullopt;
  while (at_low >= 0 && low > first_min) high = low, at_high = at_low, low = std::max(low / step, first_min), at_low = over(low);
  if (at_low >= 0) return minutes(first_min);
  const auto same_minute = [](double a, double b) { return std::ceil(a) == std::ceil(b); };
  boost::uintmax_t most = 60;
  return minutes(std::ceil(boost::math::tools::toms748_solve(over, low, high, at_low, at_high, same_minute, most).second));
}

}  // namespace

std::optional<SettlingAdvice> settling_advice(const Batch& b) {
  const StarchSettings& s = b.setup.job.starch;
  const Stream& milk = b.plan.strained.milk;
  if (!s.settles() || !(milk.granules.settleable_kg() > 0)) return std::nullopt;
  const auto settled = [&](Duration t) { return settled_after(milk, s, t, b.theta); };
  SettlingAdvice a;
  a.planned = settled(s.time);
  a.ninety = first_minute([&](Duration t) { return settled(t) - 0.90; }, s.time);
  a.ninety_five = first_minute([&](Duration t) { return settled(t) - 0.95; }, a.ninety.value_or(s.time));
  a.enough = first_minute([&](Duration t) { return worth_having - (settled(t + further) - settled(t)); }, s.time);
  return a;
}

}  // namespace curdwright
