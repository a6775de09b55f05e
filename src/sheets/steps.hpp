// SPDX-License-Identifier: MIT
// The steps of a sheet, one function each, in kitchen words.
#pragma once

#include "sheets/day.hpp"

namespace curdwright::sheets {

/// What the writers of steps share.
struct Kitchenful {
  const Batch& batch;
  const Cooling& cooling;
  const Timeline& timeline;
  const Amounts& say;
  const std::vector<Caution>& cautions;
  const std::vector<Task>& tasks;
  const std::optional<SettlingAdvice>& settling;
  const Ranges* ranges = nullptr;
  const DayClock* day_clock = nullptr;

  [[nodiscard]] const Plan& plan() const { return batch.plan; }
  [[nodiscard]] const Job& job() const { return batch.setup.job; }
  [[nodiscard]] const Setup& setup() const { return batch.setup; }
};

std::vector<SheetStep> write_steps(const Kitchenful& k);

/// "dry chickpeas", "soaked chickpeas", or "soaked beans" of a mix.
std::string seed_name(const Setup& s);
/// How often a scale is filled for it.
int times_weighed(Mass m, const Kitchen& k);
/// "in 3 weighings" when the scale cannot take it in one.
std::string weighings(Mass m, const Kitchen& k);
/// Water that holds a batch of soaking seed, with headroom.
Volume soak_vessel(const Plan& plan, int changes);
/// Nothing lies on the curd but its lid.
bool lies_under_its_own_weight(const Setup& s);
/// Of what is made ready, poured.
Mass mix_to_pour(const Batch& b);
/// Of what is made ready, kept back.
Mass mix_kept_back(const Batch& b);
/// So much coagulant, dry, as it goes into the pot after the dose: "58 g more of the mix" where the jug holds enough, else made up for it.
std::string more_coagulant(const Batch& b, Mass dry, Mass in_jug, const Amounts& say);
/// Whey of pulses stays cloudy, so that clear whey is no sign to wait for.
bool whey_clears(const Setup& s);
/// What to do about whey that stays milky; by the dose of the batch.
std::string milky_words(const Batch& b, Mass in_jug, const Amounts& say);
/// An extra to be weighed: its mass, and that in words.
Mass extra_mass(const Batch& b, std::size_t i);
std::string extra_amount(const Batch& b, std::size_t i, const Amounts& say);
using curdwright::coagulant_made_up;
using curdwright::mix_water;

}  // namespace curdwright::sheets
