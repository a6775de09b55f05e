// SPDX-License-Identifier: MIT
// What reaches a wanted figure: the water, and the dry seed.
#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <optional>
#include <utility>

#include "curdwright/solve.hpp"
#include "roots.hpp"

namespace curdwright {
namespace {

/// Seed never gives so many times its weight of curd, so a search from below begins there.
constexpr double more_than_any_yield = 50.0;

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
  const Plan p = plan(job, theta, Stage::strain);
  return p.whole() ? value(p, Figure::milk_protein) : 1.0;
}

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
  if (off(least) >= 0) return std::nullopt;
  double low = least;
  while (low < most && off(low * step) < 0) low *= step;
  return low < most ? Bracket(std::pair(low, low * step)) : std::nullopt;
}

}  // namespace

void choose_water(Setup& s) {
  double target = 0;
  for (std::size_t i = 0; i < s.legumes.size(); ++i) target += s.job.seeds[i].share * s.legumes[i].milk_protein.value / 100.0;
  const Theta theta = s.beliefs.medians();
  // A jar will not turn with less water than a thick porridge, thinner milk than this is not worth boiling, and
  // at least as much milk should run off as the pulp keeps.
  constexpr double porridge = 3.0, thinnest = 20.0;
  s.job.blend.basis = WaterBasis::total_to_dry;
  s.job.blend.water = thinnest;
  const Plan thin = plan(s.job, theta, Stage::strain);
  const double thickest = std::clamp(2.0 * thin.strained.held_kg / s.job.dry.si(), porridge, thinnest);
  // Milk thins in proportion to its water, so the reciprocal of its protein is nearly a straight line.
  const auto off = [&](double water) { return 1.0 / milk_protein_at(s.job, theta, water) - 1.0 / target; };
  const double at_thickest = off(thickest), at_thinnest = off(thinnest);
  if (at_thickest >= 0 || at_thinnest <= 0) {
    s.job.blend.water = at_thickest >= 0 ? thickest : thinnest;
    return;
  }
  const double guess = thickest - at_thickest * (thinnest - thickest) / (at_thinnest - at_thickest);
  s.job.blend.water = secant_root(off, thickest, thinnest, thickest, at_thickest, guess, 1e-13).at;
}

Result<Mass> dry_for(const Job& job, const Theta& theta, const Target& target) {
  const auto reached = [&](double dry_kg) {
    Job j = job;
    j.dry = kilograms(dry_kg);
    const Plan p = plan(j, theta);
    return has_masses(p) ? value(p, target.figure) : 0.0;
  };
  const auto off = [&](double kg) { return reached(kg) - target.value; };
  const bool told = job.blend.basis == WaterBasis::grinding_mass || job.coagulate.used;
  const double dry = job.dry.si(), now = told ? 0.0 : reached(dry), wanted_kg = target.value / 1e3;
  if (!told && !(now > 0))
    return fail(Problem{"out-of-reach", {.pointer = "/want"}, "no curd comes out of this recipe", "too little water, a pulp that keeps it all, or a coagulant that does not set", "leave water and coagulant to the rule, and see what is planned"});
  if (!told) {
    // Curd is nearly in proportion to seed, so a straight line comes close at once.
    const double close_enough = 1e-10 * target.value, guess = dry * target.value / now;
    if (std::abs(now - target.value) <= close_enough) return job.dry;
    const Root near = secant_root(off, 0.0, 1e6 * guess, dry, now - target.value, guess, 0.0, close_enough);
    if (near.found) return kilograms(near.at);
  }
  const Bracket bracket = told ? bracket_from_below(off, wanted_kg / more_than_any_yield, wanted_kg * 1e3) : bracket_near(off, dry * target.value / now);
  const double root = !bracket ? 0.0 : bracket->first == bracket->second ? bracket->first : root_between(off, bracket->first, bracket->second);
  if (!bracket || !(std::abs(off(root)) <= 1e-6 * target.value))
    return fail(Problem{"out-of-reach", {.pointer = "/want"}, fmt::format("no amount of seed gives {:.6g} kg of {}", wanted_kg, target.figure == Figure::protein_mass ? "protein" : "curd"),
                        told ? "the recipe tells how much grinding water or coagulant to use, and that much is too little or far too much for it" : "",
                        told ? "leave water and coagulant to the rule, or tell amounts that go with what is wanted" : "ask for less, or leave the water to the rule"});
  return kilograms(root);
}

Result<Mass> dry_for_curd(const Job& job, const Theta& theta, Mass wanted) { return dry_for(job, theta, {Figure::curd_mass, in_grams(wanted)}); }

}  // namespace curdwright
