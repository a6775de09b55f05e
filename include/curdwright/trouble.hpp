// SPDX-License-Identifier: MIT
/// \file trouble.hpp
/// What the cook sees when something is wrong, and the next move.
///
///     Troubles t = shipped_troubles();
///     Result<Sighting> seen = read_sighting("whey=milky", t);
///     for (const Move& m : next_moves(batch, t, *seen)) say(m.before, m.cause, m.action, m.stop);
///
/// Causes are data (data/troubles.json) with how each is known. A cause names conditions, which are asked
/// of the batch, and its move names slots ("{top_up}"), which are filled from the plan: what a longer
/// pressing or another rinse would bring is always the difference of two plans. When in doubt the move is to
/// throw it out, and then there is no other.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "curdwright/solve.hpp"

namespace curdwright {

/// Numbers behind the moves, each with its evidence.
enum class TroubleFigure : std::uint8_t {
  top_up, top_up_wait, tries, acid_most, dose_short, dose_over, dissolved_below, cool_below, hot_above, thin_below, starch_thickens, usual_wait, longer_wait, stir_again,
  drain_rest, again_water, blend_long, warm_grind, pot_near, press_hard, light, longer, gdl_warmer, gdl_top, gdl_wait, gdl_done, soak_gain,
  settled_enough, settle_more, cube, hot_hold, warm_curd,
  end
};
inline constexpr std::size_t trouble_figure_count = static_cast<std::size_t>(TroubleFigure::end);

struct TroubleFigureInfo {
  TroubleFigure figure;
  std::string_view key, unit;
  Link link;
  std::string_view plain;
};
std::span<const TroubleFigureInfo> trouble_figures();

/// Something to look at, and how it looks: "whey", "milky".
struct Sighting {
  std::string what, looks;
  bool operator==(const Sighting&) const = default;
};

/// Why it may look so, and what to do then.
struct TroubleCause {
  std::string id, cause;
  std::vector<std::string> fits;    ///< conditions that must all hold, or the move is not offered
  std::vector<std::string> likely;  ///< conditions that, all together, make it the likely one
  std::string action, stop;         ///< sentences with slots
  std::string amount, at, wait;     ///< the slots that the move is made of; may be empty
  bool discard = false;             ///< the batch, or what is left of it, is thrown out
  Known known = Known::guess;
  std::string source, note;
};

struct TroubleSight {
  Sighting sighting;
  Stage stage = Stage::soak;
  std::string plain;  ///< what it looks like, in a sentence
  std::string care;   ///< what comes before every move; may be empty
  std::vector<TroubleCause> causes;
};

/// What is said before the moves of some stages.
struct TroubleCare {
  std::string id, text;
  std::vector<std::string> fits;
  Stage from = Stage::soak, to = Stage::chill;
  Known known = Known::guess;
  std::string source, note;
};

struct Troubles {
  std::array<Evidence, trouble_figure_count> figures;
  std::vector<TroubleCare> cares;
  std::vector<TroubleSight> sights;

  [[nodiscard]] double operator[](TroubleFigure f) const { return figures[static_cast<std::size_t>(f)].value; }
  [[nodiscard]] const TroubleSight* find(const Sighting& seen) const;
};

/// Reads a table of troubles. Every figure must be there, and every condition and slot known.
Result<Troubles> read_troubles(std::string text, std::string file);
/// The table of data/troubles.json, as compiled in. A user's folder cannot replace it: a move may be to throw it out.
Troubles shipped_troubles();

/// "whey=milky". What is not in the table gives the problem "seen-unknown".
Result<Sighting> read_sighting(std::string_view text, const Troubles& troubles);

struct Move {
  std::string id;                   ///< of its cause
  Stage stage = Stage::soak;
  std::vector<std::string> before;  ///< what to mind first: the same for all moves of a sighting
  std::string cause, action, stop;  ///< sentences; temperatures are written "80 degC"
  std::optional<Mass> amount;       ///< in each pot, or on each block
  std::optional<Temperature> at;
  std::optional<Duration> wait;
  bool likely = false;              ///< the plan itself points to this cause
  bool discard = false;
  Known known = Known::guess;
  std::string source, note;
};

/// Moves for what is seen in this batch: the causes that the plan points to, then the others as the table has them.
/// Where one of them is to throw it out, only such moves are left. Else a plan that a rule stops, or that does not stand,
/// has one move, of the id `stopped_by_rule`: not to go on.
inline constexpr std::string_view stopped_by_rule = "plan-stopped";
std::vector<Move> next_moves(const Batch& batch, const Troubles& troubles, const Sighting& seen);

/// A condition in plain words: "where the dose is below the rule". Empty when it is not known.
std::string_view condition_words(std::string_view key);
/// A sentence without a batch: slots of the table's own numbers are filled, the others told in plain words in brackets.
std::string unfilled(std::string_view sentence, const Troubles& troubles);

}  // namespace curdwright
