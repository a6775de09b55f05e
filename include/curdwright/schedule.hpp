// SPDX-License-Identifier: MIT
/// \file schedule.hpp
/// The day of a batch: every jarful, pot and filling of the moulds with its start and length, for one pair of
/// hands, one blender, one ring of the hob, and the pots and moulds of the kitchen.
///
///     Timeline t = timeline(batch);
///     add_chill(t, cool(batch, t.handling));
///     for (const Operation& o : t.operations) print(o.start, word(o.work), o.length);
///
/// Waiting times come from the plan. Handling times are judgement: so long for a jarful, a straining, a ladling.
/// Work is placed one piece after another at the earliest time at which its input is there and all that it needs
/// is free: nothing is used twice at once, and no pair of hands is in two places.
#pragma once

#include <vector>

#include "curdwright/cooling.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

/// Steps of the sheet.
enum class Step : std::uint8_t { sort_and_soak, drain, blend, strain, settle, cook, set, press, chill };
template <>
inline constexpr std::array<std::string_view, 9> word_list<Step> = {"soak", "drain", "blend", "strain", "settle", "cook", "set", "press", "chill"};

/// Pieces of a step, in the order of the day.
enum class Work : std::uint8_t {
  sort,
  soak,
  change_water,
  drain,
  blend,
  strain,
  wash_pulp,
  settle,
  ladle,
  strain_gel,
  put_by,
  heat,
  heat_and_stir,
  boil,
  simmer_and_skim,
  simmer,
  pots_in_turn,
  chill_milk,
  fill,
  warm_and_set,
  cool,
  stir_coagulant,
  pour,
  set,
  boil_cloths,
  mould,
  press,
  fillings_in_turn,
  unmould,
  chill
};
template <>
inline constexpr std::array<std::string_view, 30> word_list<Work> = {"sort and rinse",
                                                                     "soak",
                                                                     "change the water",
                                                                     "drain",
                                                                     "blend",
                                                                     "strain",
                                                                     "wash the pulp",
                                                                     "settle",
                                                                     "ladle off",
                                                                     "warm and strain the gel",
                                                                     "waiting milk into ice water",
                                                                     "heat",
                                                                     "heat and stir",
                                                                     "keep at the boil",
                                                                     "simmer and skim",
                                                                     "simmer",
                                                                     "cook and set, pot after pot",
                                                                     "chill the milk",
                                                                     "stir in the coagulant, fill",
                                                                     "warm and set",
                                                                     "cool to the pour",
                                                                     "stir up the coagulant",
                                                                     "pour",
                                                                     "set",
                                                                     "rinse and boil the cloths",
                                                                     "drain and mould",
                                                                     "press",
                                                                     "mould, press and unmould, filling after filling",
                                                                     "unmould",
                                                                     "chill"};
Step step_of(Work work);

/// One piece of work or of waiting, and what it keeps for itself while it lasts.
struct Operation {
  Work work = Work::sort;
  int load = 0;                    ///< which jarful, pot or filling, from 1; 0 when it is of the whole batch
  Duration start;                  ///< from the beginning
  Duration length;
  bool hands = false;              ///< keeps the cook's hands
  bool blender = false, hob = false;
  int moulds = 0;                  ///< how many are taken
  int pot = -1;                    ///< which of the kitchen's pots is taken; -1: none
  std::vector<std::size_t> after;  ///< indices of operations that must have ended
  [[nodiscard]] Duration end() const { return start + length; }
  [[nodiscard]] Step step() const { return step_of(work); }
};

struct Timeline {
  std::vector<Operation> operations;  ///< in the order of their placing, each after those it needs
  Handling handling;
  Duration queue;                     ///< longest time that set curd waits for moulds
  std::optional<Duration> cold;       ///< when the last block is cold; nothing when it never is, or before add_chill
  int fillings = 1;                   ///< times that moulds are filled
  int pots_at_once = 1;               ///< pots of the kitchen that a load fits into, and that are used
  [[nodiscard]] Duration end() const; ///< of the last operation: cold, or else out of the press
};
/// From sorting to the last block out of the press. A batch of very many loads is told as one long piece of each kind.
Timeline timeline(const Batch& batch);
/// Adds the chilling of every filling, until its blocks are cold.
void add_chill(Timeline& timeline, const Cooling& cooling);

/// Jarfuls in which pulp and the water of a wash are blended.
int wash_jarfuls(const Job& job, const Plan& plan, std::size_t wash);

/// The most moulds that are in use at once.
int moulds_at_once(const Batch& batch, const Timeline& timeline);

/// One step of the sheet: all of its operations together.
struct Task {
  Step step = Step::sort_and_soak;
  Duration start;     ///< of the first
  Duration length;    ///< to the end of the last
  Duration hands_on;  ///< sum
};
/// Steps in order; a step that the batch does not need is left out.
std::vector<Task> tasks(const Timeline& timeline);

/// How long raw milk is out of the cold: from the first jarful until the pot passes 60 degC, less the time that
/// it settles in the fridge, where it counts as cold from the first minute as by the two-hour rule. Milk that waits
/// for its round on the hob is chilled in ice water, as the sheet says.
Duration raw_milk_standing(const Batch& batch);
Duration raw_milk_standing(const Job& job, const Plan& plan);
/// How long it may: the two-hour rule of the US Department of Agriculture.
inline constexpr Duration raw_milk_may_stand = hours(2);

/// Tenfold increases of spore-formers from the first hour of the soak to the boil, with one lag for all of it.
double growth_before_boil(const Batch& batch);

}  // namespace curdwright
