// SPDX-License-Identifier: MIT
#include "curdwright/solve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/units.hpp"

namespace curdwright {
namespace {

/// Foam rises to twice the milk: common practice, no published source.
constexpr double foam_headroom = 0.5;
/// A settling vessel is carried, so it is not filled to the brim: judgement.
constexpr double vessel_fill = 0.9;
constexpr double dose_tolerance = 0.05;
constexpr Mass most_curd = kilograms(10000);
/// Seed never gives so many times its weight of curd, so a search from below begins there.
constexpr double more_than_any_yield = 50.0;
/// Weights of seed that differ less than this from what was reckoned need no word.
constexpr double seed_tolerance = 0.05;
/// Share of a block that fits on top of others: judgement.
constexpr double end_piece_fits = 0.15;

/// Root of f in [low, high], where f changes sign.
template <class F>
double root_between(F f, double low, double high) {
  boost::uintmax_t most = 80;
  const auto r = boost::math::tools::toms748_solve(f, low, high, boost::math::tools::eps_tolerance<double>(46), most);
  return 0.5 * (r.first + r.second);
}

double milk_protein_at(Job job, const Theta& theta, double total_water) {
  job.blend.basis = WaterBasis::total_to_dry;
  job.blend.water = total_water;
  const Plan p = plan(job, theta);
  return p.strained.fault == Fault::none && !p.water.below_uptake ? value(p, Figure::milk_protein) : 1.0;
}

int needed(double amount, double each) { return std::max(1, static_cast<int>(std::ceil(amount / each - 1e-6))); }

bool grow(int& count, int wanted) {
  if (wanted <= count) return false;
  count = wanted;
  return true;
}

double step_for(Mass amount, const Kitchen& k, bool fine) {
  return (fine && amount <= k.fine_scale.capacity ? k.fine_scale : k.coarse_scale).step.si();
}

/// Rounds every weight the cook weighs out, with the dry seed never below `dry_kg`.
void round_weights(Setup& s, const Plan& exact, double dry_kg) {
  Job& j = s.job;
  const double step = s.kitchen.coarse_scale.step.si();
  std::array<double, max_legumes> lots{};
  double dry = 0;
  for (std::size_t i = 0; i < j.legume_count; ++i) {
    lots[i] = round_up(dry_kg * j.seeds[i].share, step);
    dry += lots[i];
  }
  const double old_dry = j.dry.si();
  j.dry = kilograms(dry);
  for (std::size_t i = 0; i < j.legume_count; ++i) j.seeds[i].share = lots[i] / dry;
  j.soak.water_to_dry = round_to(j.soak.water_to_dry * dry, step) / dry;
  if (j.blend.basis != WaterBasis::grinding_mass) {
    // Each jarful gets the same water, so the jarful is what is rounded.
    const double per_jar = exact.water.grinding_kg * (dry / old_dry) / j.blend.jarfuls;
    j.blend.basis = WaterBasis::grinding_to_dry;
    j.blend.water = round_to(per_jar, step) * j.blend.jarfuls / dry;
  }
  for (std::size_t i = 0; i < j.strain.wash_count; ++i)
    j.strain.washes[i].water_to_dry = round_to(j.strain.washes[i].water_to_dry * dry, step) / dry;
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

/// Curd that is wanted, or nothing when the dry seed is what is wanted.
std::optional<Mass> curd_wanted(const Setup& s) {
  if (s.recipe.want.blocks) return s.job.press.block * static_cast<double>(*s.recipe.want.blocks);
  return s.recipe.want.curd;
}

}  // namespace

double round_up(double value, double step) { return value > 0 ? std::max(1.0, std::ceil(value / step - 1e-3)) * step : 0.0; }

double round_to(double value, double step) {
  const double rounded = std::round(value / step) * step;
  return rounded == 0 && value > 0 ? step : rounded;
}

void choose_water(Setup& s) {
  double target = 0;
  for (std::size_t i = 0; i < s.legumes.size(); ++i) target += s.job.seeds[i].share * s.legumes[i].milk_protein.value / 100.0;
  const Theta theta = s.beliefs.medians();
  // A jar will not turn with less water than a thick porridge, thinner milk than this is not worth boiling, and
  // at least as much milk should run off as the pulp keeps.
  constexpr double porridge = 3.0, thinnest = 20.0;
  s.job.blend.basis = WaterBasis::total_to_dry;
  s.job.blend.water = thinnest;
  const Plan thin = plan(s.job, theta);
  const double thickest = std::clamp(2.0 * thin.strained.held_kg / s.job.dry.si(), porridge, thinnest);
  const auto off = [&](double water) { return milk_protein_at(s.job, theta, water) - target; };
  s.job.blend.water = off(thickest) <= 0 ? thickest : off(thinnest) >= 0 ? thinnest : root_between(off, thickest, thinnest);
}

namespace {

using Bracket = std::optional<std::pair<double, double>>;

/// Curd is nearly in proportion to seed, so the first guess brackets closely.
template <class F>
Bracket bracket_near(F off, double guess) {
  double low = guess, high = guess;
  for (double f = 1.02; off(low) > 0 && f < 1e6; f *= f) low /= f;
  for (double f = 1.02; off(high) < 0 && f < 1e6; f *= f) high *= f;
  if (off(low) > 0 || off(high) < 0) return std::nullopt;
  return std::pair(low, high);
}

/// With so much water or coagulant whatever the seed, curd rises with seed and falls again: the least seed is looked for.
template <class F>
Bracket bracket_from_below(F off, double least, double most) {
  constexpr double step = 1.05;
  for (double low = least; low < most; low *= step)
    if (off(low * step) >= 0) return std::pair(low, low * step);
  return std::nullopt;
}

}  // namespace

Result<Mass> dry_for_curd(const Job& job, const Theta& theta, Mass wanted) {
  const auto curd_of = [&](double dry_kg) {
    Job j = job;
    j.dry = kilograms(dry_kg);
    return plan(j, theta).pressed.curd.of.total_kg();
  };
  const auto off = [&](double kg) { return curd_of(kg) - wanted.si(); };
  const bool told = job.blend.basis == WaterBasis::grinding_mass || job.coagulate.used;
  const double dry = job.dry.si(), now = told ? 0.0 : curd_of(dry);
  if (!told && !(now > 0))
    return fail(Problem{"out-of-reach", {}, "no curd comes out of this recipe", "too little water, a pulp that keeps it all, or a coagulant that does not set", "leave water and coagulant to the rule, and see what is planned"});
  const Bracket bracket = told ? bracket_from_below(off, wanted.si() / more_than_any_yield, wanted.si() * 1e3) : bracket_near(off, dry * wanted.si() / now);
  const double root = !bracket ? 0.0 : bracket->first == bracket->second ? bracket->first : root_between(off, bracket->first, bracket->second);
  if (!bracket || !(std::abs(off(root)) <= 1e-6 * wanted.si()))
    return fail(Problem{"out-of-reach", {"", 0, 0, "/want", "", 0}, fmt::format("no amount of seed gives {:.4g} kg of curd", wanted.si()),
                        told ? "the recipe tells how much grinding water or coagulant to use, and there is not enough of it" : "",
                        told ? "tell more, ask for less, or leave water and coagulant to the rule" : "ask for less, or leave the water to the rule"});
  return kilograms(root);
}

namespace {

/// The smallest pot that takes all of the milk with its foam, or the largest there is.
Pot pot_for(const Kitchen& k, double milk_m3) {
  const auto smaller = [](const Pot& a, const Pot& b) { return a.volume < b.volume; };
  const Pot* best = nullptr;
  for (const Pot& p : k.pots)
    if (p.volume.si() * foam_headroom >= milk_m3 && (!best || smaller(p, *best))) best = &p;
  return best ? *best : *std::max_element(k.pots.begin(), k.pots.end(), smaller);
}

}  // namespace

bool fit_loads(Setup& s, const Plan& p) {
  Job& j = s.job;
  const double jar = j.blend.jar.si() * j.blend.fill;
  bool grew = grow(j.blend.jarfuls, needed(volume_at_20(p.ground.all().of).si(), jar));
  if (p.strained.fault != Fault::none) return grew;
  if (j.starch.settles()) {
    const double brim = s.kitchen.settling_volume.si() * vessel_fill;
    const double each = j.starch.depth ? std::min(brim, (s.kitchen.settling_area * *j.starch.depth).si()) : brim;
    grew = grow(j.starch.vessels, needed(volume_at_20(p.strained.milk.of).si(), each)) || grew;
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

/// Finds the seed and the number of loads, each of which may change the other.
Result<void> find_size(Batch& b, std::optional<Mass> wanted) {
  Setup& s = b.setup;
  for (int round = 0; round < 12; ++round) {
    if (wanted) {
      const auto dry = dry_for_curd(s.job, b.theta, *wanted);
      if (!dry) return fail(dry.error());
      s.job.dry = *dry;
    }
    b.plan = plan(s.job, b.theta);
    if (!fit_loads(s, b.plan)) break;
  }
  return {};
}

/// Rounds to the scales, with more seed where rounding took a wanted block away.
void round_batch(Batch& b) {
  Setup& s = b.setup;
  const Setup exact = s;
  const Plan exact_plan = b.plan;
  const double step = s.kitchen.coarse_scale.step.si();
  b.dry_exact = s.job.dry;
  double dry_kg = s.job.dry.si();
  for (int tries = 0; tries < 50; ++tries) {
    s = exact;
    round_weights(s, exact_plan, dry_kg);
    b.plan = plan(s.job, b.theta);
    if (b.plan.fault == Fault::no_curd) break;
    if (!s.recipe.coagulate.amount) round_coagulant(b);
    if (!s.recipe.want.blocks || value(b.plan, Figure::whole_blocks) >= *s.recipe.want.blocks) break;
    // A little more seed, and where rounding took much away, as much more as is missing.
    const double missing = *s.recipe.want.blocks / std::max(1e-9, value(b.plan, Figure::blocks));
    dry_kg = std::max(s.job.dry.si() + step, s.job.dry.si() * std::min(1.1, missing));
  }
  b.seed_too_coarse = s.job.dry > b.dry_exact * (1 + seed_tolerance);
}

}  // namespace

Result<Batch> size_batch(Setup setup) {
  Batch b;
  b.setup = std::move(setup);
  Setup& s = b.setup;
  b.theta = s.beliefs.medians();
  if (s.recipe.want.given() == 0)
    return fail(Problem{"want-missing", {"", 0, 0, "/want", "", 0}, "nothing says how much is wanted", "", "add \"want\": { \"blocks\": 4 }, or use --blocks, --curd or --dry"});
  const auto wanted = curd_wanted(s);
  if (wanted && *wanted > most_curd)
    return fail(Problem{"out-of-reach", {"", 0, 0, "/want/blocks", "", 0}, fmt::format("so many blocks weigh {:.0f} kg", wanted->si()),
                        fmt::format("up to {:.0f} kg of curd can be planned", most_curd.si()), "ask for fewer or lighter blocks"});
  // Whether curd comes out at all does not depend on the size, unless a mass of water or coagulant is told.
  keep_told_masses(s);
  if (const bool told = s.recipe.blend.water || s.recipe.coagulate.amount; !told || !wanted) {
    b.plan = plan(s.job, b.theta);
    if (!has_masses(b.plan)) return b;
  }
  if (const auto found = find_size(b, wanted); !found) return fail(found.error());
  if (!has_masses(b.plan)) return b;
  round_batch(b);
  // A small end piece finds room in a mould that is filled a little higher.
  b.blocks_to_press = needed(value(b.plan, Figure::blocks) - end_piece_fits, 1);
  b.press_rounds = needed(b.blocks_to_press, s.kitchen.moulds);
  return b;
}

namespace {

std::string kg(double kilos) { return kilos >= 1 ? fmt::format("{:.3g} kg", kilos) : fmt::format("{:.3g} g", kilos * 1e3); }

}  // namespace

namespace {

Problem problem(std::string_view pointer, std::string what, std::string why, std::string fix) {
  return {"out-of-reach", {"", 0, 0, std::string(pointer), "", 0}, std::move(what), std::move(why), std::move(fix)};
}

Problem no_curd(const Plan& p, const Setup& s) {
  const std::string fix = "leave the dose to the rule, or check the amount and its unit";
  if (s.job.coagulate.kind != CoagulantKind::salt)
    return problem("/coagulate", fmt::format("nothing sets: {:.0f} % of the acid that it takes is there at the end of the wait", 100 * p.set.acid_to_rule),
                   "an acid needs most of its dose, and GDL its time to turn sour", fix);
  const double strength = in_millimolar(p.set.dose.strength);
  const bool too_much = strength > 50;
  return problem("/coagulate", fmt::format("{}: {:.3g} mmol of coagulant per litre of milk", too_much ? "so much coagulant keeps the curd dissolved" : "nothing sets", strength),
                 "a divalent salt sets all of it from 8 to 50 mmol/l, and nothing below 3 or above 210", fix);
}

}  // namespace

Problem explain(const Plan& p, const Setup& s) {
  switch (p.fault) {
    case Fault::none: break;
    case Fault::water_below_uptake:
      return problem("/blend", fmt::format("the total water, {:.2f} kg per kg dry seed, is less than the {:.2f} kg that the soak takes up", s.job.blend.water,
                                           p.uptake_kg / p.dry.si()),
                     "total water counts the soak", fmt::format("use at least {:.1f}; 6 to 10 is usual", p.uptake_kg / p.dry.si() + 1.5));
    case Fault::pulp_keeps_all:
      return problem("/blend", fmt::format("the pulp would hold all of the water: it asks for {} per kg of seed", kg(p.strained.held_kg / p.dry.si())),
                     fmt::format("{} leaves much milk in the pulp", s.strainer.kitchen_name), "use more water, or squeeze harder (see `list strainers`)");
    case Fault::hob_too_weak:
      return problem("/kitchen/hob", fmt::format("the {} of {:.0f} W cannot boil {} of milk in one pot: it would stop at {:.0f} degC", s.hob.kitchen_name,
                                                 in_watts(s.job.cook.hob), kg(p.destarched.milk.of.total_kg() / s.job.cook.pots), in_celsius(p.cooked.reaches)),
                     fmt::format("water boils at {:.1f} degC here, and the pot loses as much heat as it gets", in_celsius(s.job.cook.boil)),
                     "cook less at a time, use a stronger ring, or a lid until the foam comes");
    case Fault::no_curd: return no_curd(p, s);
    case Fault::moisture_too_wet:
      return problem("/press/moisture", fmt::format("a moisture of {:.1f} % is wetter than the drained curd", 100 * s.job.press.moisture.value_or(0)),
                     fmt::format("unpressed, this curd drains to {:.1f} %", 100 * s.beliefs.medians()[Param::drained_moisture]), "ask for a drier curd, or do not press");
    case Fault::moisture_out_of_reach:
      return problem("/press/moisture", "this moisture leaves no room for the solids of the whey", "", "ask for a drier curd");
  }
  return problem("", "the plan is whole", "", "");
}

}  // namespace curdwright
