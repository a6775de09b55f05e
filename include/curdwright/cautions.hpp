// SPDX-License-Identifier: MIT
/// \file cautions.hpp
/// The rules of care, as a table, and which of them a batch calls up.
///
///     for (const Caution& c : cautions(facts_of(batch))) if (c.severity == Severity::stop) refuse(c);
///
/// What the planner computes and cannot evaluate counts as not met. What only the cook knows is a line to
/// tick (`ticks`), and a stop only when recipe or kitchen declares the bad thing. Local food codes and
/// licensed practice come first; none of this is a validated process.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "curdwright/schedule.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class Severity { note, warn, stop };
template <>
inline constexpr std::array<std::string_view, 3> word_list<Severity> = {"note", "warn", "stop"};

/// Where a sheet says what comes with the food. Whatever comes with a choice stands in the step of its stage.
enum class Said {
  in_step,        ///< in the step of its stage, until that is done
  outlasting,     ///< there, and in a step that is done too: only the cook knows whether it was
  own_place,      ///< where it belongs: top box, ticks, left-overs, keeping, or the action itself
  allergen_list,  ///< with the allergens and on the label: the list that the law of a region asks for
};

struct Caution {
  std::string_view rule;   ///< its id
  Severity severity = Severity::note;
  Stage stage = Stage::soak;
  bool standing = false;   ///< comes with the food, not with a choice that could be changed
  std::string text;
  Said said = Said::in_step;
};

/// What the rules look at, reckoned once for a batch.
struct Facts {
  const Batch& batch;
  Timeline timeline;           ///< with the chilling
  Cooling cooling;
  double soak_growth = 0;      ///< tenfold increases, with lag
  double soak_growth_flat = 0; ///< without
  double milk_growth = 0;      ///< with lag, from the soak to the boil
  double standing_h = 0;       ///< hours that raw milk stands above 5 degC
  double trypsin_left = 1;
  double uncontrolled_h = 0;   ///< hours of curd neither hot nor cold, in pot and press
};
Facts facts_of(const Batch& batch);
Facts facts_of(Batch&&) = delete;  // facts look at the batch, which must outlive them

/// What a rule says when it fires: words, and a severity when it is not the rule's usual one. A standing
/// rule that changes its severity answers to a choice, and so is not standing any more.
struct Fired {
  std::string text;
  std::optional<Severity> severity;
};

/// One rule. `fires` answers for a batch.
struct Rule {
  std::string_view id;
  Stage stage;
  Severity severity;
  bool standing;
  std::string_view about;
  std::string_view source;
  std::optional<Fired> (*fires)(const Facts&);
  Said said = Said::in_step;
};
std::span<const Rule> all_rules();

/// Rules that fire, in the order of the stages.
std::vector<Caution> cautions(const Facts& facts);
bool stops(std::span<const Caution> list);
/// Warnings and stops of `now` that no caution of `before` stands for; not what comes with the food.
std::vector<Caution> new_warnings(std::span<const Caution> now, std::span<const Caution> before);

/// Lines for the cook to tick: what the planner cannot know.
std::vector<std::string> ticks(const Batch& batch);

/// Days that leftovers keep in the fridge (rules H3, H4, H5: common practice, no published source).
inline constexpr int raw_leftovers_keep_days = 2, whey_keeps_days = 2, coagulant_mix_keeps_days = 7;

/// Last day on which the curd may be eaten, the making day being day 1: that one, where it is not kept cold.
int last_day(const Batch& batch);

}  // namespace curdwright
