// SPDX-License-Identifier: MIT
// The table that every rule stands in: a recipe that calls it up, one that does not, and what happens when
// something is missing. Values are set as the command line sets them, so a row reads like an option list.
#pragma once

#include <algorithm>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/cautions.hpp"
#include "support/support.hpp"

namespace curdwright::test {

struct Try {
  std::string recipe;
  std::vector<std::string> set;
};

/// Four blocks of one legume.
inline Try of(std::string_view legume, std::vector<std::string> set = {}) {
  return {"{\"legume\":\"" + std::string(legume) + "\",\"want\":{\"blocks\":4}}", std::move(set)};
}
/// Starchy pulse without a hazard of its own.
inline Try pea(std::vector<std::string> set = {}) { return of("pea-split-yellow", std::move(set)); }
inline Try soy(std::vector<std::string> set = {}) { return of("soybean", std::move(set)); }
inline Try kidney(std::vector<std::string> set = {}) { return of("kidney-red", std::move(set)); }
inline Try lima(std::vector<std::string> set = {}) { return of("lima-large-white", std::move(set)); }
/// A pea with something told of the packet.
inline Try pea_packet(std::string_view told, std::vector<std::string> set = {}) {
  return {"{\"legume\":[{\"id\":\"pea-split-yellow\"," + std::string(told) + "}],\"want\":{\"blocks\":4}}", std::move(set)};
}

/// A recipe for which the rule is silent, or why there is none.
struct Silence {
  std::optional<Try> with;
  std::string_view never;
};
inline Silence silent(Try with) { return {std::move(with), {}}; }
inline Silence never_silent(std::string_view why) { return {std::nullopt, why}; }

/// How the rule is made to lack what it looks at; it must then fire. Or why nothing can be missing.
struct Missing {
  std::optional<Try> left_out;          ///< a recipe that leaves it out, or one for which it has no value
  void (*batch)(Batch&) = nullptr;      ///< the silent recipe, with a figure of the batch made unknown
  void (*facts)(Facts&) = nullptr;      ///< the silent recipe, with a fact made unknown
  std::string_view nothing;
  std::string_view unknown_is;          ///< what is made unknown, for the page
};
inline Missing left_out(Try with) { return {std::move(with), nullptr, nullptr, {}, {}}; }
inline Missing unknown_in_batch(std::string_view what, void (*spoil)(Batch&)) { return {std::nullopt, spoil, nullptr, {}, what}; }
inline Missing unknown_fact(std::string_view what, void (*spoil)(Facts&)) { return {std::nullopt, nullptr, spoil, {}, what}; }
inline Missing nothing_missing(std::string_view why) { return {std::nullopt, nullptr, nullptr, why, {}}; }

inline constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
inline constexpr std::string_view no_condition = "it has no condition";
inline constexpr std::string_view from_record = "it comes with the record of the legume, coagulant or extra, and without a record there is no batch";
inline constexpr std::string_view declared = "only the cook knows: what is not declared is a line to tick, not a caution";
inline constexpr std::string_view asked = "it answers a wish of the recipe; without the wish there is nothing to warn of";

struct Row {
  std::string_view rule;
  Severity severity;        ///< for the recipe that calls it up, by safety.md: BLOCK stop, HIGH and MED warn, INFO note
  std::string_view says;    ///< part of the text
  Try fires;
  Silence silent;
  Missing missing;
};

std::vector<Row> time_rows();       ///< T
std::vector<Row> soak_rows();       ///< S
std::vector<Row> toxin_rows();      ///< L
std::vector<Row> hand_rows();       ///< H
std::vector<Row> allergen_rows();   ///< G
std::vector<Row> gear_rows();       ///< K
std::vector<Row> plan_rows();       ///< P
const std::vector<Row>& all_rows();

inline Batch batch_of(const Try& t) { return batch_of(t.recipe, t.set); }
inline std::vector<Caution> cautions_of(const Try& t) {
  const Batch b = batch_of(t);
  return cautions(facts_of(b));
}

inline std::optional<Caution> find(const std::vector<Caution>& list, std::string_view rule) {
  const auto c = std::find_if(list.begin(), list.end(), [rule](const Caution& x) { return x.rule == rule; });
  return c == list.end() ? std::nullopt : std::optional(*c);
}
inline std::optional<Caution> caution(const Try& t, std::string_view rule) { return find(cautions_of(t), rule); }
/// "stop", "warn", "note", or "silent".
inline std::string answer(const Try& t, std::string_view rule) {
  const auto c = caution(t, rule);
  return c ? std::string(word(c->severity)) : "silent";
}

/// What the command line would set, for messages.
inline std::string shown(const Try& t) {
  std::string all = t.recipe;
  for (const std::string& s : t.set) all += " " + s;
  return all;
}
/// Cautions that a choice of the cook brought, for messages.
inline std::string avoidable(const std::vector<Caution>& list) {
  std::string all;
  for (const Caution& c : list)
    if (!c.standing) all += std::string(c.rule) + " " + std::string(word(c.severity)) + ": " + c.text + "\n";
  return all;
}

}  // namespace curdwright::test
