// SPDX-License-Identifier: MIT
#include "curdwright/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <limits>
#include <utility>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

/// Blocks over a full set of moulds that make the last one whole after rounding.
constexpr double a_little_over = 0.02;
/// Numbers of batches that are tried from the first that may do: rounding and whole jarfuls ask for a few more.
constexpr int most_tries = 40;

/// A job in one go: one pot, all vessels, jarfuls as many as it takes. Loads are shares of what a piece of gear takes.
struct OneGo {
  const Setup& setup;
  Job job;
  Theta theta;

  explicit OneGo(const Setup& s) : setup(s), job(s.job), theta(s.beliefs.medians()) {
    job.cook.pots = job.coagulate.pots = 1;
    job.starch.vessels = s.kitchen.settling_vessels;
    job.coagulate.used = s.recipe.coagulate.amount;  // of a sized batch it is that batch's
  }
  [[nodiscard]] Plan plan_of(double dry_kg, Stage last) const {
    Job j = job;
    j.dry = kilograms(dry_kg);
    return plan(j, theta, last);
  }
  [[nodiscard]] double pot_load(double dry_kg) const {
    return volume_at_20(plan_of(dry_kg, Stage::starch).destarched.milk.of) / (largest_pot(setup.kitchen).volume * foam_headroom);
  }
  [[nodiscard]] double vessels_load(double dry_kg) const {
    return volume_at_20(plan_of(dry_kg, Stage::strain).strained.milk.of) / (vessel_holds(setup) * setup.kitchen.settling_vessels);
  }
  [[nodiscard]] double moulds_load(double dry_kg) const { return value(plan_of(dry_kg, Stage::chill), Figure::blocks) / (setup.kitchen.moulds + a_little_over); }
  [[nodiscard]] double ring_load(double dry_kg) const { return plan_of(dry_kg, Stage::cook).cooked.fault == Fault::none ? 0.0 : 2.0; }
  /// Hours that raw milk stands, over the two that it may.
  [[nodiscard]] double standing_load(double dry_kg) const {
    Job j = job;
    j.dry = kilograms(dry_kg);
    const Plan p = plan(j, theta, Stage::cook);
    j.blend.jarfuls = jarfuls_for(setup, p);
    return raw_milk_standing(j, p) / raw_milk_may_stand;
  }
};

constexpr double least_dry_kg = 1e-3, most_dry_kg = 1e4;

/// Where a load that grows with the seed comes to 1. Nothing when it never does, or is there from the start.
template <class Load>
std::optional<double> reaches_one(Load load) {
  const auto over = [&](double kg) { return load(kg) - 1; };
  const double at_least = over(least_dry_kg), at_most = over(most_dry_kg);
  if (at_least >= 0 || at_most < 0) return std::nullopt;
  boost::uintmax_t most = 1000;
  return boost::math::tools::toms748_solve(over, least_dry_kg, most_dry_kg, at_least, at_most, boost::math::tools::eps_tolerance<double>(44), most).first;
}

/// The same of a load that goes up by steps, where only halving gets on.
template <class Load>
std::optional<double> steps_to_one(Load load) {
  if (load(least_dry_kg) >= 1 || load(most_dry_kg) < 1) return std::nullopt;
  double low = least_dry_kg, high = most_dry_kg;
  while (high - low > 1e-13 * high) {
    const double middle = std::sqrt(low * high);
    (load(middle) < 1 ? low : high) = middle;
  }
  return low;
}

/// Seed at which the settling vessels are full, and that of which the jarfuls take as long as raw milk may stand.
std::optional<double> vessels_limit(const OneGo& go) {
  return go.setup.job.starch.settles() ? reaches_one([&](double kg) { return go.vessels_load(kg); }) : std::nullopt;
}
std::optional<double> jar_limit(const OneGo& go) {
  return steps_to_one([&](double kg) { return go.standing_load(kg); });
}

/// By how much less seed a figure that is only likely stays under its limit: the ratio of the median to its sure value.
double sure_share(const OneGo& go, Figure figure, double dry_kg, std::optional<double> sure) {
  if (!sure) return 1.0;
  const Beliefs& beliefs = go.setup.beliefs;
  Job j = go.job;
  j.dry = kilograms(dry_kg);
  const std::vector<double> sorted = sampled(j, beliefs, figure, sample_for(beliefs));
  const double high = quantile(sorted, *sure), middle = value(plan(j, go.theta), figure);
  return high > 0 ? middle / high : 1.0;
}

bool vessels_suffice(const Batch& b) { return !b.setup.job.starch.settles() || b.setup.job.starch.vessels <= b.setup.kitchen.settling_vessels; }
bool goes_at_once(const Batch& b) { return b.setup.job.cook.pots == 1 && b.press_rounds == 1 && vessels_suffice(b); }
/// Pots and moulds are filled again; these two are not.
bool fits_as_one(const Batch& b) { return vessels_suffice(b) && raw_milk_standing(b) <= raw_milk_may_stand; }

/// A smaller batch of the same kind, if it fits: of so many whole blocks, else of its share of the seed.
std::optional<Batch> part_of(const Batch& b, double share, std::optional<int> blocks) {
  Setup s = b.setup;
  const std::optional<double> sure = blocks ? s.recipe.want.sure : std::nullopt;
  s.recipe.want = {};
  s.job.dry = b.plan.dry * share;
  if (blocks)
    s.recipe.want.blocks = blocks, s.recipe.want.sure = sure;
  else
    s.recipe.want.dry = s.job.dry;
  s.job.coagulate.used.reset();
  s.job.blend.jarfuls = s.job.starch.vessels = s.job.cook.pots = s.job.coagulate.pots = 1;
  // What was told for the whole is shared out.
  if (s.recipe.blend.water) *s.recipe.blend.water *= share;
  if (s.recipe.coagulate.amount) *s.recipe.coagulate.amount *= share;
  for (Addition& e : s.job.extras) e.fixed *= share;
  auto part = size_batch(std::move(s));
  if (!part || !has_masses(part->plan)) return std::nullopt;
  return fits_as_one(*part) ? std::optional(std::move(*part)) : std::nullopt;
}

/// The first part that fits, from the larger ones down: of the whole shared out into `from` batches, up to before `to`.
std::optional<Batch> shared_out(const Batch& b, std::string_view gear, int from, int to, bool in_blocks) {
  const int blocks = in_blocks ? *b.setup.recipe.want.blocks : 0;
  for (int n = std::max(2, from), tried = blocks; n < to; ++n) {
    const int each = (blocks + n - 1) / n;
    if (in_blocks && each == std::exchange(tried, each)) continue;
    auto part = in_blocks ? part_of(b, static_cast<double>(each) / blocks, each) : part_of(b, 1.0 / n, std::nullopt);
    if (!part) continue;
    const int batches = in_blocks ? (blocks + each - 1) / each : n, last = in_blocks ? blocks - each * (batches - 1) : each;
    Mass dry = part->plan.dry * batches;
    if (last != each)
      if (const auto end = part_of(b, static_cast<double>(last) / blocks, last)) dry = part->plan.dry * (batches - 1) + end->plan.dry;
    part->shared = Sharing{batches, gear, last == each ? 0 : last, dry, b.setup.job.blend.jarfuls, raw_milk_standing(b)};
    return part;
  }
  return std::nullopt;
}

}  // namespace

std::vector<Limit> limits(const Setup& setup, std::optional<double> sure) {
  const OneGo go(setup);
  const Kitchen& k = setup.kitchen;
  std::vector<Limit> all;
  const auto add = [&](std::string_view gear, std::string words, const std::optional<double>& dry_kg, Figure by) {
    if (dry_kg) all.push_back({gear, std::move(words), kilograms(*dry_kg * sure_share(go, by, *dry_kg, sure))});
  };
  add("pot", "half full for the foam", reaches_one([&](double kg) { return go.pot_load(kg); }), Figure::settled_milk_mass);
  add("settling vessels", fmt::format("{} of them", k.settling_vessels), vessels_limit(go), Figure::milk_mass);
  add("moulds", fmt::format("{} of them, each filled once", k.moulds), reaches_one([&](double kg) { return go.moulds_load(kg); }), Figure::curd_mass);
  add("ring", "it could not boil more than this", steps_to_one([&](double kg) { return go.ring_load(kg); }), Figure::settled_milk_mass);
  add("jar", "jarful by jarful, within the two hours that raw milk may stand", jar_limit(go), Figure::milk_mass);
  std::sort(all.begin(), all.end(), [](const Limit& a, const Limit& b) { return a.dry < b.dry; });
  return all;
}

Result<Batch> plan_batch(Setup setup, Rounding rounding) {
  if (!setup.recipe.want.fill.value_or(false)) return size_batch(std::move(setup), rounding);
  if (setup.recipe.blend.water || setup.recipe.coagulate.amount)
    return fail(Problem{"out-of-reach", {.pointer = "/want/fill"}, "a recipe that tells how much water or coagulant to use cannot be filled up", "the amounts hold for one size only",
                        "leave water and coagulant to the rule, or ask for blocks, curd or seed"});
  const std::vector<Limit> all = limits(setup, setup.recipe.want.sure);
  if (setup.job.starch.settles()) setup.job.starch.vessels = setup.kitchen.settling_vessels;
  const bool rounded = rounding == Rounding::to_scales;
  const double step = setup.kitchen.coarse_scale.step.si();
  // What just fits may spill over once jarfuls are rounded, so a little less is tried.
  for (double share = 1.0; !all.empty() && share > 0.95; share -= 0.002) {
    const double dry = rounded ? std::floor(all.front().dry.si() * share / step) * step : all.front().dry.si() * share;
    if (!(dry > 0)) break;
    Setup s = setup;
    s.recipe.want.dry = s.job.dry = kilograms(dry);
    auto b = size_batch(std::move(s), rounding);
    if (!b || goes_at_once(*b)) return b;
  }
  return fail(Problem{"out-of-reach", {.pointer = "/want/fill"}, "this kitchen cannot be filled: nothing limits the batch, or the smallest one does not fit", "", "ask for blocks, curd or seed instead"});
}

Batch one_run(Batch b) {
  if (!has_masses(b.plan) || fits_as_one(b)) return b;
  const OneGo go(b.setup);
  struct Gear {
    std::string_view name;
    double dry_kg;
  };
  std::vector<Gear> gear;
  if (const auto kg = jar_limit(go)) gear.push_back(Gear{"jar", *kg});
  if (const auto kg = vessels_limit(go)) gear.push_back(Gear{"settling vessels", *kg});
  // What takes less seed comes first, and then the other, for fewer batches still.
  std::stable_sort(gear.begin(), gear.end(), [](const Gear& one, const Gear& other) { return one.dry_kg < other.dry_kg; });
  // A block too large for one run is shared out by its seed.
  for (bool in_blocks : {true, false}) {
    if (in_blocks && !b.setup.recipe.want.blocks) continue;
    int to = std::numeric_limits<int>::max();
    for (const Gear& g : gear) {
      const int from = static_cast<int>(std::clamp(std::ceil(b.plan.dry.si() / g.dry_kg), 1.0, 1e8));
      if (auto part = shared_out(b, g.name, from, std::min(to, from + most_tries), in_blocks)) return std::move(*part);
      to = from;
    }
  }
  return b;
}

}  // namespace curdwright
