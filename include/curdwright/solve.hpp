// SPDX-License-Identifier: MIT
/// \file solve.hpp
/// From what is wanted to what is weighed: a bracketed root find on the same plan, at a fixed number of
/// jarfuls, vessels and pots, then rounding to what the scales can show, then planning again.
///
///     Result<Batch> b = size_batch(*setup);       // by the recipe's want
///     const Plan& p = b->plan;                    // of b->setup.job.dry
#pragma once

#include "curdwright/figures.hpp"
#include "curdwright/ranges.hpp"
#include "curdwright/resolve.hpp"

namespace curdwright {

/// A figure and the value that it is to reach.
struct Target {
  Figure figure = Figure::curd_mass;
  double value = 0;  ///< in the unit of the figure's key
};

/// How a batch too large for one run is shared out: into batches all alike, but that the last may be smaller.
struct Sharing {
  int batches = 2;
  std::string_view because;   ///< gear of the limit: settling vessels or jar
  int last_blocks = 0;        ///< whole blocks of the last one; 0 where it is as the others
  Mass dry;                   ///< seed of all together, as they are planned
  int jarfuls = 1;            ///< were it one batch
  Duration raw_milk_standing; ///< likewise
};

/// A job at its final size, rounded to the scales, with its plan.
struct Batch {
  Setup setup;
  Theta theta;   ///< medians
  Plan plan;
  std::optional<Target> target;  ///< what is wanted, unless it is seed
  double chance = 0;             ///< of the target, over the sample of the ranges; reckoned only where `sure` is told
  int blocks_to_press = 1;  ///< mould by mould; a small end piece shares one
  int press_rounds = 1;     ///< fillings that all moulds together need
  Mass dry_exact, coagulant_exact;  ///< before rounding
  bool seed_too_coarse = false;     ///< rounding made the batch more than 5 % larger
  bool dose_too_coarse = false;     ///< rounding changed the dose by more than 5 %
  std::optional<Sharing> shared;    ///< this is one of several batches that a larger one is shared out into
};

/// Sets the total water so that the strained milk has the protein that the legumes like.
void choose_water(Setup& setup);

/// Dry seed with which a plan reaches a target, at the job's numbers of jarfuls, vessels and pots. The figure must grow
/// with the seed.
Result<Mass> dry_for(const Job& job, const Theta& theta, const Target& target);
/// The same for a mass of pressed curd.
Result<Mass> dry_for_curd(const Job& job, const Theta& theta, Mass curd);

/// Foam rises to twice the milk: common practice, no published source.
inline constexpr double foam_headroom = 0.5;
/// What one settling vessel takes: not to the brim, since it is carried, and no deeper than the recipe asks.
Volume vessel_holds(const Setup& setup);
int jarfuls_for(const Setup& setup, const Plan& plan);

/// Number of jarfuls, settling vessels and pots that the plan needs. Returns true when any grew.
bool fit_loads(Setup& setup, const Plan& plan);

/// Whether what is weighed out is rounded to what the scales can show. A search goes without: steps would hide its slopes.
enum class Rounding { to_scales, none };

/// What is wanted, sized, fitted to the kitchen, rounded and planned again.
Result<Batch> size_batch(Setup setup, Rounding rounding = Rounding::to_scales);

/// A batch in hand: what is used up by the end of `done` stays as it is in `setup`, and the rest follows the recipe's own
/// rules again at the medians of its beliefs, rounded to the scales.
/// \param setup of a batch that was sized, with other beliefs or settings
Batch replan(const Batch& planned, Setup setup, std::optional<Stage> done);

/// Explains a fault of a plan in words, with the number that is out and what would mend it.
Problem fault_words(const Plan& plan, const Setup& setup);

/// Step of the scale that weighs an amount. \param fine whether the fine scale is used as far as it goes
double step_for(Mass amount, const Kitchen& kitchen, bool fine);
/// Rounds up to a multiple of a step, forgiving a thousandth of it.
double round_up(double value, double step);
/// Rounds to the nearest multiple of a step; never to zero what is more than zero.
double round_to(double value, double step);

}  // namespace curdwright
