// SPDX-License-Identifier: MIT
#include "curdwright/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

/// Blocks over a full set of moulds that make the last one whole after rounding.
constexpr double a_little_over = 0.02;

/// The job as it is in one go: one pot, all vessels, jarfuls as many as it takes.
Setup in_one_go(Setup s) {
  s.job.cook.pots = s.job.coagulate.pots = 1;
  s.job.starch.vessels = s.kitchen.settling_vessels;
  s.job.coagulate.used = s.recipe.coagulate.amount;  // of a sized batch it is that batch's
  s.pot = *std::max_element(s.kitchen.pots.begin(), s.kitchen.pots.end(), [](const Pot& a, const Pot& b) { return a.volume < b.volume; });
  return s;
}

Plan plan_of(const Setup& s, const Theta& theta, double dry_kg, Stage last = Stage::press) {
  Job j = s.job;
  j.dry = kilograms(dry_kg);
  return plan(j, theta, last);
}

/// Where a load that grows with the seed comes to 1, from below. Nothing when it never does, or is there from the start.
template <class Load>
std::optional<double> reaches_one(Load load) {
  constexpr double least = 1e-3, most = 1e4;
  const auto off = [&](double log_kg) { return load(std::exp(log_kg)) - 1; };
  const double at_least = off(std::log(least)), at_most = off(std::log(most));
  if (at_least >= 0 || at_most < 0) return std::nullopt;
  // Loads that go up in steps have no root, only a place where they pass 1: the bracket closes on that too.
  boost::uintmax_t tries = 100;
  const auto close = [](double a, double b) { return std::abs(a - b) < 1e-13 * std::max(1.0, std::abs(a)); };
  return std::exp(boost::math::tools::toms748_solve(off, std::log(least), std::log(most), at_least, at_most, close, tries).first);
}

/// Hours that raw milk of a batch of this size stands, over the two that it may. The batch is worked in, so that it is not copied each time.
double standing_load(Batch& b, const Theta& theta, double dry_kg) {
  b.setup.job.dry = kilograms(dry_kg);
  b.plan = plan(b.setup.job, theta, Stage::cook);
  b.setup.job.blend.jarfuls = jarfuls_for(b.setup, b.plan);
  return raw_milk_standing(b) / raw_milk_may_stand;
}

/// By how much less seed a figure that is only likely stays under its limit: the ratio of the median to its sure value.
double sure_share(const Setup& s, Figure figure, double dry_kg, std::optional<double> sure) {
  if (!sure) return 1.0;
  Job j = s.job;
  j.dry = kilograms(dry_kg);
  const std::vector<double> sorted = sampled(j, s.beliefs, figure, quick_sample(s.beliefs));
  const double high = quantile(sorted, *sure), middle = value(plan(j, s.beliefs.medians()), figure);
  return high > 0 ? middle / high : 1.0;
}

bool vessels_suffice(const Batch& b) { return !b.setup.job.starch.settles() || b.setup.job.starch.vessels <= b.setup.kitchen.settling_vessels; }
bool goes_at_once(const Batch& b) { return b.setup.job.cook.pots == 1 && b.press_rounds == 1 && vessels_suffice(b); }
/// Pots and moulds are filled again; these two are not.
bool fits_as_one(const Batch& b) { return vessels_suffice(b) && raw_milk_standing(b) <= raw_milk_may_stand; }

/// One of so many equal batches, if it fits.
std::optional<Batch> part_of(const Batch& b, int n) {
  Setup s = b.setup;
  s.recipe.want = {};
  s.recipe.want.dry = s.job.dry = b.plan.dry / n;
  s.job.coagulate.used.reset();
  s.job.blend.jarfuls = s.job.starch.vessels = s.job.cook.pots = s.job.coagulate.pots = 1;
  // What was told for the whole is shared out.
  if (s.recipe.blend.water) *s.recipe.blend.water *= 1.0 / n;
  if (s.recipe.coagulate.amount) *s.recipe.coagulate.amount *= 1.0 / n;
  for (Addition& e : s.job.extras) e.fixed *= 1.0 / n;
  auto each = size_batch(std::move(s));
  if (!each || !has_masses(each->plan)) return std::nullopt;
  return fits_as_one(*each) ? std::optional(std::move(*each)) : std::nullopt;
}

/// Pots, moulds and the ring are used again and again; settling vessels and the clock of raw milk are not.
enum class Gears { all, once_only };

std::vector<Limit> limits_of(const Setup& setup, std::optional<double> sure, Gears gears) {
  const Setup s = in_one_go(setup);
  const Theta theta = s.beliefs.medians();
  const Kitchen& k = s.kitchen;
  Batch scratch;
  scratch.setup = s;
  std::vector<Limit> all;
  const auto add = [&](std::string_view gear, std::string words, const std::optional<double>& dry_kg, Figure by) {
    if (dry_kg) all.push_back({gear, std::move(words), kilograms(*dry_kg * sure_share(s, by, *dry_kg, sure))});
  };
  if (gears == Gears::all) add("pot", "half full for the foam", reaches_one([&](double kg) { return volume_at_20(plan_of(s, theta, kg, Stage::starch).destarched.milk.of) / (s.pot.volume * foam_headroom); }), Figure::settled_milk_mass);
  if (s.job.starch.settles())
    add("settling vessels", fmt::format("{} of them", k.settling_vessels),
        reaches_one([&](double kg) { return volume_at_20(plan_of(s, theta, kg, Stage::strain).strained.milk.of) / (vessel_holds(s) * k.settling_vessels); }), Figure::milk_mass);
  if (gears == Gears::all) add("moulds", fmt::format("{} of them, each filled once", k.moulds), reaches_one([&](double kg) { return value(plan_of(s, theta, kg), Figure::blocks) / (k.moulds + a_little_over); }), Figure::curd_mass);
  if (gears == Gears::all) add("ring", "it could not boil more than this", reaches_one([&](double kg) { return plan_of(s, theta, kg, Stage::cook).cooked.fault == Fault::none ? 0.0 : 2.0; }), Figure::settled_milk_mass);
  add("jar", "jarful by jarful, within the two hours that raw milk may stand", reaches_one([&](double kg) { return standing_load(scratch, theta, kg); }), Figure::milk_mass);
  std::sort(all.begin(), all.end(), [](const Limit& a, const Limit& b) { return a.dry < b.dry; });
  return all;
}

}  // namespace

std::vector<Limit> limits(const Setup& setup, std::optional<double> sure) { return limits_of(setup, sure, Gears::all); }

Result<Batch> plan_batch(Setup setup, Rounding rounding) {
  if (!setup.recipe.want.fill.value_or(false)) return size_batch(std::move(setup), rounding);
  if (setup.recipe.blend.water || setup.recipe.coagulate.amount)
    return fail(Problem{"out-of-reach", {"", 0, 0, "/want/fill", "", 0}, "a recipe that tells how much water or coagulant to use cannot be filled up", "the amounts hold for one size only",
                        "leave water and coagulant to the rule, or ask for blocks, curd or seed"});
  const std::vector<Limit> all = limits(setup, setup.recipe.want.sure);
  if (setup.job.starch.settles()) setup.job.starch.vessels = setup.kitchen.settling_vessels;
  const double step = setup.kitchen.coarse_scale.step.si();
  // What just fits may spill over once jarfuls are rounded, so a little less is tried.
  for (double share = 1.0; !all.empty() && share > 0.95; share -= 0.002) {
    const double dry = std::floor(all.front().dry.si() * share / step) * step;
    if (!(dry > 0)) break;
    Setup s = setup;
    s.recipe.want.dry = s.job.dry = kilograms(dry);
    auto b = size_batch(std::move(s));
    if (!b || goes_at_once(*b)) return b;
  }
  return fail(Problem{"out-of-reach", {"", 0, 0, "/want/fill", "", 0}, "this kitchen cannot be filled: nothing limits the batch, or the smallest one does not fit", "", "ask for blocks, curd or seed instead"});
}

std::optional<Split> split(const Batch& b) {
  if (!has_masses(b.plan) || fits_as_one(b)) return std::nullopt;
  for (const Limit& l : limits_of(b.setup, std::nullopt, Gears::once_only)) {
    for (int n = std::max(2, static_cast<int>(std::ceil(b.plan.dry / l.dry))); n <= 20; ++n)
      if (auto each = part_of(b, n)) return Split{n, l.gear, std::move(*each)};
  }
  return std::nullopt;
}

}  // namespace curdwright
