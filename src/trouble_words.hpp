// SPDX-License-Identifier: MIT
// What the table of troubles may ask of a batch (conditions) and take from it (slots).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "curdwright/trouble.hpp"

namespace curdwright::trouble {

/// A batch as the table looks at it.
struct View {
  const Batch& batch;
  const Troubles& troubles;

  [[nodiscard]] double figure(TroubleFigure f) const { return troubles[f]; }
  [[nodiscard]] const Plan& plan() const { return batch.plan; }
  [[nodiscard]] const Job& job() const { return batch.setup.job; }
  [[nodiscard]] const Setup& setup() const { return batch.setup; }
};

struct Condition {
  std::string_view key, plain;
  bool (*holds)(const View&);
};
std::span<const Condition> all_conditions();
const Condition* find_condition(std::string_view key);
bool all_hold(const std::vector<std::string>& keys, const View& view);

enum class SlotKind { words, mass, temperature, duration };

/// What a slot is filled with: words, and the amount that they tell.
struct Filling {
  std::string words;
  std::optional<Mass> mass;
  std::optional<Temperature> temperature;
  std::optional<Duration> duration;
};

struct Slot {
  std::string_view key;
  SlotKind kind;
  std::string_view plain;                              ///< what stands there without a batch
  std::optional<Filling> (*of_plan)(const View&);      ///< nothing where the plan has no such amount
  std::optional<Filling> (*of_table)(const Troubles&); ///< of a number of the table, which needs no batch

  [[nodiscard]] std::optional<Filling> fill(const View& view) const { return of_table ? of_table(view.troubles) : of_plan(view); }
};
std::span<const Slot> all_slots();
const Slot* find_slot(std::string_view key);

/// Names of the slots of a sentence, in their order.
std::vector<std::string_view> slots_of(std::string_view sentence);
/// The sentence with its slots filled; nothing when the plan cannot fill one.
std::optional<std::string> filled(std::string_view sentence, const View& view);

// --- amounts that conditions and slots share ---

/// Coagulant that the rule asks for the milk of this plan, kg.
double dose_by_rule_kg(const View& view);
/// Most coagulant that this milk may have, kg: the top of the dose window, or of what acid is still pleasant.
double dose_most_kg(const View& view);
/// Coagulant of one top-up for each pot, as the scale shows it; nothing when there is no room for it.
std::optional<Mass> top_up(const View& view);
/// Whether what was made up and not poured is enough for a top-up.
bool kept_back(const View& view);

}  // namespace curdwright::trouble
