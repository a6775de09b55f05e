// SPDX-License-Identifier: MIT
#include "curdwright/solve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "curdwright/properties.hpp"
#include "curdwright/units.hpp"

namespace curdwright {
namespace {

/// A settling vessel is carried, so it is not filled to the brim: judgement.
constexpr double vessel_fill = 0.9;
constexpr double dose_tolerance = 0.05;
constexpr Mass most_curd = kilograms(10000);
/// Weights of seed that differ less than this from what was reckoned need no word.
constexpr double seed_tolerance = 0.05;
/// What rounding may take from a mass of curd or protein that is wanted.
constexpr double rounding_tolerance = 1e-3;
/// How much seed is added at most for what rounding took away.
constexpr double most_growth = 1.25;
/// Share of a block that fits on top of others: judgement.
constexpr double end_piece_fits = 0.15;
/// By so much each block may come out higher, for its share of an end piece: judgement.
constexpr double a_little_higher = 0.1;

/// Loads of a size that an amount fills. What passes all counting stays at a thousand million.
int needed(double amount, double each) { return static_cast<int>(std::clamp(std::ceil(amount / each - 1e-6), 1.0, 1e9)); }

bool grow(int& count, int wanted) {
  if (wanted <= count) return false;
  count = wanted;
  return true;
}

/// Each jarful gets the same water, so the jarful is what is rounded. Where the scale hardly shows a jarful, all of it is: a step
/// more in each would overfill the jars, which would take more jarfuls, and so on without end.
void round_water(Setup& s, double grinding_kg) {
  BlendSettings& b = s.job.blend;
  if (b.basis == WaterBasis::grinding_mass) return;
  b.basis = WaterBasis::grinding_to_dry;
  const double step = s.kitchen.coarse_scale.step.si(), each = grinding_kg / b.jarfuls;
  b.water = (each < 2 * step ? round_to(grinding_kg, step) : round_to(each, step) * b.jarfuls) / s.job.dry.si();
}

void round_washes(Setup& s) {
  const double dry = s.job.dry.si(), step = s.kitchen.coarse_scale.step.si();
  for (std::size_t i = 0; i < s.job.strain.wash_count; ++i) s.job.strain.washes[i].water_to_dry = round_to(s.job.strain.washes[i].water_to_dry * dry, step) / dry;
}

void round_extra(Setup& s, std::size_t i) {
  const double dry = s.job.dry.si(), kg = s.job.extras[i].to_dry * dry;
  s.job.extras[i].to_dry = round_to(kg, step_for(kilograms(kg), s.kitchen, true)) / dry;
}

/// Rounds every weight the cook weighs out. Seed that is told is all there is: the nearest step. Else it is never below `dry_kg`.
void round_weights(Setup& s, const Plan& exact, double dry_kg) {
  Job& j = s.job;
  const double step = s.kitchen.coarse_scale.step.si();
  std::array<double, max_legumes> lots{};
  double dry = 0;
  for (std::size_t i = 0; i < j.legume_count; ++i) {
    lots[i] = (s.recipe.want.dry ? round_to : round_up)(dry_kg * j.seeds[i].share, step);
    dry += lots[i];
  }
  const double old_dry = j.dry.si();
  j.dry = kilograms(dry);
  for (std::size_t i = 0; i < j.legume_count; ++i) j.seeds[i].share = lots[i] / dry;
  j.soak.water_to_dry = round_to(j.soak.water_to_dry * dry, step) / dry;
  round_water(s, exact.water.grinding_kg * (dry / old_dry));
  round_washes(s);
  for (std::size_t i = 0; i < j.extra_count; ++i) round_extra(s, i);
}

/// The dose of the rounded batch, rounded in its turn.
void round_coagulant(Batch& b) {
  Job& j = b.setup.job;
  const double exact = b.plan.set.dose.used_kg;
  b.coagulant_exact = kilograms(exact);
  const double per_pot = exact / j.coagulate.pots;
  const double rounded = round_to(per_pot, step_for(kilograms(per_pot), b.setup.kitchen, true)) * j.coagulate.pots;
  b.dose_too_coarse = exact > 0 && std::abs(rounded - exact) > dose_tolerance * exact;
  j.coagulate.used = kilograms(rounded);
  b.plan = plan(j, b.theta);
}

/// A small end piece finds room in a mould that is filled a little higher; a larger one over all of them, before it takes a
/// filling of its own.
void count_moulds(Batch& b) {
  const double blocks = value(b.plan, Figure::blocks), whole = value(b.plan, Figure::whole_blocks);
  const auto rounds = [&](int moulds) { return needed(moulds, b.setup.kitchen.moulds); };
  b.blocks_to_press = needed(blocks - end_piece_fits, 1);
  const int over_all = needed(whole, 1);
  if (rounds(over_all) < rounds(b.blocks_to_press) && blocks - whole <= whole * a_little_higher) b.blocks_to_press = over_all;
  b.press_rounds = rounds(b.blocks_to_press);
}

/// What is wanted of the curd, or nothing when the dry seed is what is wanted.
std::optional<Target> target_of(const Setup& s) {
  const Want& w = s.recipe.want;
  if (w.blocks) return Target{Figure::curd_mass, in_grams(s.job.press.block) * static_cast<double>(*w.blocks)};
  if (w.curd) return Target{Figure::curd_mass, in_grams(*w.curd)};
  if (w.protein) return Target{Figure::protein_mass, in_grams(*w.protein)};
  return std::nullopt;
}

}  // namespace

double step_for(Mass amount, const Kitchen& k, bool fine) {
  return (fine && amount <= k.fine_scale.capacity ? k.fine_scale : k.coarse_scale).step.si();
}

double round_up(double value, double step) { return value > 0 ? std::max(1.0, std::ceil(value / step - 1e-3)) * step : 0.0; }

double round_to(double value, double step) {
  const double rounded = std::round(value / step) * step;
  return rounded == 0 && value > 0 ? step : rounded;
}

namespace {

/// The smallest pot that takes all of the milk with its foam, or the largest there is.
Pot pot_for(const Kitchen& k, double milk_m3) {
  const Pot* best = nullptr;
  for (const Pot& p : k.pots)
    if (p.volume.si() * foam_headroom >= milk_m3 && (!best || p.volume < best->volume)) best = &p;
  return best ? *best : largest_pot(k);
}

}  // namespace

Volume vessel_holds(const Setup& s) {
  const Volume brim = s.kitchen.settling_volume * vessel_fill;
  return s.job.starch.depth ? std::min(brim, s.kitchen.settling_area * *s.job.starch.depth) : brim;
}

int jarfuls_for(const Setup& s, const Plan& p) {
  return needed(volume_at_20(p.ground.all().of).si(), s.job.blend.jar.si() * s.job.blend.fill);
}

bool fit_loads(Setup& s, const Plan& p) {
  Job& j = s.job;
  bool grew = grow(j.blend.jarfuls, jarfuls_for(s, p));
  if (p.strained.fault != Fault::none) return grew;
  if (j.starch.settles()) {
    grew = grow(j.starch.vessels, needed(volume_at_20(p.strained.milk.of).si(), vessel_holds(s).si())) || grew;
  }
  const double milk = volume_at_20(p.destarched.milk.of).si();
  s.pot = pot_for(s.kitchen, milk);
  const int pots = needed(milk, s.pot.volume.si() * foam_headroom);
  grew = grow(j.cook.pots, pots) || grew;
  j.coagulate.pots = j.cook.pots;
  return grew;
}

namespace {

/// Masses that the recipe tells hold whatever the size of the batch.
void keep_told_masses(Setup& s) {
  if (s.recipe.blend.water) s.job.blend.basis = WaterBasis::grinding_mass, s.job.blend.water = s.recipe.blend.water->si();
  s.job.coagulate.used = s.recipe.coagulate.amount;
}

/// Finds the seed and the number of loads, each of which may change the other, so that a plan at the medians gives `aim`.
Result<void> find_size(Batch& b, const std::optional<Target>& aim) {
  Setup& s = b.setup;
  for (int round = 0; round < 12; ++round) {
    if (aim) {
      const auto dry = dry_for(s.job, b.theta, *aim);
      if (!dry) return fail(dry.error());
      s.job.dry = *dry;
    }
    b.plan = plan(s.job, b.theta);
    if (!fit_loads(s, b.plan)) break;
  }
  return {};
}

/// Share of the sample that reaches the target.
double chance_now(const Batch& b) { return b.target ? chance_of(sampled(b.setup.job, b.setup.beliefs, b.target->figure, sample_for(b.setup.beliefs)), b.target->value) : 0.0; }

/// The numbers of jarfuls, vessels and pots of another job.
void take_loads(Job& to, const Job& from) {
  to.blend.jarfuls = from.blend.jarfuls;
  to.starch.vessels = from.starch.vessels;
  to.cook.pots = to.coagulate.pots = from.cook.pots;
}

/// Aims higher, or lower, until the target is reached with the chance that is wanted.
Result<void> find_sure_size(Batch& b, double sure) {
  Target aim = *b.target;
  const Job loads = b.setup.job;
  for (int tries = 0; tries < 8; ++tries) {
    // Loads only grow, so each try begins with those of the start.
    take_loads(b.setup.job, loads);
    if (auto found = find_size(b, aim); !found) return found;
    const std::vector<double> sorted = sampled(b.setup.job, b.setup.beliefs, aim.figure, sample_for(b.setup.beliefs));
    // The value that a share `sure` of the sample reaches.
    const auto k = static_cast<std::size_t>(std::floor((1 - sure) * static_cast<double>(sorted.size()) + 1e-9));
    const double reached = sorted[std::min(k, sorted.size() - 1)];
    if (!(reached > 0))
      return fail(Problem{"out-of-reach", {.pointer = "/want/sure"}, fmt::format("in more than {:.0f} of 100 likely kitchens this recipe gives no curd", 100 * (1 - sure)), "",
                          "leave water and coagulant to the rule, or ask for less certainty"});
    if (std::abs(reached / b.target->value - 1) < 1e-4) break;
    aim.value *= b.target->value / reached;
  }
  return {};
}

/// By how many times a rounded batch falls short of what must not be rounded away: whole blocks, the target, the chance.
double missing_by(Batch& b) {
  const Want& w = b.setup.recipe.want;
  if (!b.target) return 1.0;
  if (w.sure) {
    b.chance = chance_now(b);
    return b.chance >= *w.sure - 1e-9 ? 1.0 : 1.002;
  }
  if (w.blocks) return value(b.plan, Figure::whole_blocks) >= *w.blocks ? 1.0 : *w.blocks / std::max(1e-9, value(b.plan, Figure::blocks));
  const double reached = value(b.plan, b.target->figure);
  return reached >= b.target->value * (1 - rounding_tolerance) ? 1.0 : b.target->value / std::max(1e-9, reached);
}

/// Rounds to the scales, with more seed where rounding took away what is wanted.
Result<void> round_batch(Batch& b) {
  Setup& s = b.setup;
  Job exact = s.job;  // all that a try changes, besides the pot
  Pot pot = s.pot;
  const Plan exact_plan = b.plan;
  const double step = s.kitchen.coarse_scale.step.si();
  b.dry_exact = s.job.dry;
  const double most = b.dry_exact.si() * most_growth + 2 * step * static_cast<double>(s.job.legume_count);
  double dry_kg = s.job.dry.si(), missing = 1;
  for (int tries = 0; tries < 80; ++tries) {
    s.job = exact, s.pot = pot;
    round_weights(s, exact_plan, dry_kg);
    b.plan = plan(s.job, b.theta);
    if (fit_loads(s, b.plan)) {
      take_loads(exact, s.job);
      pot = s.pot;
      continue;
    }
    if (b.plan.fault == Fault::no_curd) break;
    if (!s.recipe.coagulate.amount) round_coagulant(b);
    missing = missing_by(b);
    if (missing <= 1) break;
    // A little more seed, and where rounding took much away, as much more as is missing.
    dry_kg = std::max(s.job.dry.si() + step, s.job.dry.si() * std::min(1.1, missing));
    if (dry_kg > most) break;
  }
  b.seed_too_coarse = s.job.dry > b.dry_exact * (1 + seed_tolerance);
  if (missing > 1.05 && b.dose_too_coarse)
    return fail(Problem{"out-of-reach", {.pointer = "/kitchen/fine_scale/step"}, fmt::format("the fine scale cannot weigh the dose of {:.6g} g: its step is {:.6g} g", in_grams(b.coagulant_exact), in_grams(s.kitchen.fine_scale.step)),
                        "rounded to the step, the dose no longer sets the curd", "use a finer scale, or tell the amount of coagulant"});
  return {};
}

}  // namespace

Result<Batch> size_batch(Setup setup, Rounding rounding) {
  Batch b;
  b.setup = std::move(setup);
  Setup& s = b.setup;
  b.theta = s.beliefs.medians();
  if (s.recipe.want.given() == 0)
    return fail(Problem{"want-missing", {.pointer = "/want"}, "nothing says how much is wanted", "", "add \"want\": { \"blocks\": 4 }, or use --blocks, --curd, --dry, --protein or --fill"});
  // A batch that fills the kitchen has the seed that fit.hpp found for it.
  if (s.recipe.want.fill.value_or(false) && !s.recipe.want.dry)
    return fail(Problem{"out-of-reach", {.pointer = "/want/fill"}, "a size is needed before a batch is planned", "", "let plan_batch() find how much fills the kitchen"});
  b.target = target_of(s);
  const auto too_much = [&](double kg) {
    return fail(Problem{"out-of-reach", {.pointer = s.recipe.want.blocks ? "/want/blocks" : "/want"}, fmt::format("so much curd weighs {:.0f} kg", kg),
                        fmt::format("up to {:.0f} kg of curd can be planned", most_curd.si()), "ask for fewer or lighter blocks"});
  };
  if (b.target && b.target->figure == Figure::curd_mass && grams(b.target->value) > most_curd) return too_much(b.target->value / 1e3);
  // Whether curd comes out at all does not depend on the size, unless a mass of water or coagulant is told.
  keep_told_masses(s);
  if (const bool told = s.recipe.blend.water || s.recipe.coagulate.amount; !told || !b.target) {
    b.plan = plan(s.job, b.theta);
    if (!has_masses(b.plan)) return b;
  }
  const bool sure = s.recipe.want.sure && b.target;
  if (const auto found = sure ? find_sure_size(b, *s.recipe.want.sure) : find_size(b, b.target); !found) return fail(found.error());
  if (!has_masses(b.plan)) return b;
  if (b.target && b.plan.pressed.curd.mass() > most_curd * 1.01) return too_much(b.plan.pressed.curd.of.total_kg());
  if (rounding == Rounding::none)
    b.dry_exact = s.job.dry, b.coagulant_exact = kilograms(b.plan.set.dose.used_kg);
  else if (auto rounded = round_batch(b); !rounded)
    return fail(rounded.error());
  count_moulds(b);
  return b;
}

namespace {

/// The water by the recipe's rule, for a jar to come.
void reset_water(Setup& s) {
  if (s.recipe.blend.water) return;
  if (s.water_chosen) {
    const std::size_t extras = std::exchange(s.job.extra_count, 0);  // chosen for the plain milk
    choose_water(s);
    s.job.extra_count = extras;
  }
  if (const auto w = s.recipe.blend.total_water_to_dry) s.job.blend.basis = WaterBasis::total_to_dry, s.job.blend.water = *w;
  if (const auto w = s.recipe.blend.water_to_soaked) s.job.blend.basis = WaterBasis::grinding_to_soaked, s.job.blend.water = *w;
}

/// Washes and extras of stages to come, by the recipe's own shares of the seed.
void reset_by_seed(Setup& s, std::optional<Stage> done) {
  const auto to_come = [&](Stage stage) { return !done || *done < stage; };
  for (std::size_t i = 0; to_come(Stage::strain) && i < s.job.strain.wash_count && i < s.recipe.strain.washes.size(); ++i) s.job.strain.washes[i].water_to_dry = s.recipe.strain.washes[i].water_to_dry.value_or(1.0);
  if (to_come(Stage::strain)) round_washes(s);
  for (std::size_t i = 0; i < s.job.extra_count; ++i) {
    if (!to_come(s.job.extras[i].stage)) continue;
    s.job.extras[i].to_dry = s.recipe.extras[i].to_dry.value_or(0.0);
    round_extra(s, i);
  }
}

/// More loads where a stage is still to come.
void fit_loads_to_come(Setup& s, const Plan& p, std::optional<Stage> done) {
  const Job before = s.job;
  const Pot pot = s.pot;
  fit_loads(s, p);
  const auto is_done = [&](Stage stage) { return done && *done >= stage; };
  if (is_done(Stage::blend)) s.job.blend.jarfuls = before.blend.jarfuls;
  if (is_done(Stage::starch)) s.job.starch.vessels = before.starch.vessels;
  if (is_done(Stage::cook)) s.job.cook.pots = s.job.coagulate.pots = before.cook.pots, s.pot = pot;
}

}  // namespace

Batch replan(const Batch& planned, Setup setup, std::optional<Stage> done) {
  Batch b = planned;
  b.setup = std::move(setup);
  Setup& s = b.setup;
  b.theta = s.beliefs.medians();
  const bool water_to_come = !done || *done < Stage::blend, dose_to_come = !done || *done < Stage::coagulate;
  reset_by_seed(s, done);
  if (water_to_come) reset_water(s);
  if (dose_to_come) s.job.coagulate.used = s.recipe.coagulate.amount;
  b.plan = plan(s.job, b.theta);
  if (!has_masses(b.plan)) return b;
  fit_loads_to_come(s, b.plan, done);
  if (water_to_come) round_water(s, b.plan.water.grinding_kg);
  b.plan = plan(s.job, b.theta);
  if (dose_to_come && !s.recipe.coagulate.amount && has_masses(b.plan)) round_coagulant(b);
  if (!dose_to_come) b.coagulant_exact = kilograms(b.plan.set.dose.used_kg), b.dose_too_coarse = false;
  b.seed_too_coarse = false, b.dry_exact = s.job.dry;
  b.chance = b.chance > 0 ? chance_now(b) : 0.0;
  count_moulds(b);
  return b;
}

}  // namespace curdwright
