// SPDX-License-Identifier: MIT
#include "curdwright/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
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

/// Into how many equal parts a batch must be shared out for a load to stay under 1; 0 for a load that sets no limit.
template <class Load>
int parts_for(Load load, double dry_kg) {
  const auto most = steps_to_one(load);
  return most ? static_cast<int>(std::clamp(std::ceil(dry_kg / *most), 1.0, 1e8)) : 0;
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
  if (setup.job.starch.settles())
    add("settling vessels", fmt::format("{} of them", k.settling_vessels), reaches_one([&](double kg) { return go.vessels_load(kg); }), Figure::milk_mass);
  add("moulds", fmt::format("{} of them, each filled once", k.moulds), reaches_one([&](double kg) { return go.moulds_load(kg); }), Figure::curd_mass);
  add("ring", "it could not boil more than this", steps_to_one([&](double kg) { return go.ring_load(kg); }), Figure::settled_milk_mass);
  add("jar", "jarful by jarful, within the two hours that raw milk may stand", steps_to_one([&](double kg) { return go.standing_load(kg); }), Figure::milk_mass);
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
  const auto vessels = [&](double kg) { return go.vessels_load(kg); };
  const auto jar = [&](double kg) { return go.standing_load(kg); };
  const int by_vessels = b.setup.job.starch.settles() ? parts_for(vessels, b.plan.dry.si()) : 0, by_jar = parts_for(jar, b.plan.dry.si());
  // What takes less seed comes first, and then the other, for fewer parts still.
  const bool jar_first = by_jar > by_vessels || (by_jar > 0 && by_jar == by_vessels && jar(*reaches_one(vessels)) >= 1);
  const std::string_view first = jar_first ? "jar" : "settling vessels", second = jar_first ? "settling vessels" : "jar";
  const int more = std::max(by_vessels, by_jar), fewer = std::min(by_vessels, by_jar);
  // A block too large for one run is shared out by its seed.
  for (bool in_blocks : {true, false}) {
    if (in_blocks && !b.setup.recipe.want.blocks) continue;
    std::optional<Batch> part;
    if (more > 0) part = shared_out(b, first, more, more + most_tries, in_blocks);
    if (!part && fewer > 0) part = shared_out(b, second, fewer, std::min(more, fewer + most_tries), in_blocks);
    if (part) return std::move(*part);
  }
  return b;
}

}  // namespace curdwright
