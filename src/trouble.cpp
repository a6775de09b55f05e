// SPDX-License-Identifier: MIT
#include "curdwright/trouble.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/cautions.hpp"
#include "trouble_words.hpp"

namespace curdwright {
namespace {

using trouble::View;

std::vector<std::string> cares_for(const TroubleSight& sight, const View& view) {
  std::vector<std::string> all;
  if (!sight.care.empty()) all.push_back(sight.care);
  for (const TroubleCare& c : view.troubles.cares)
    if (c.from <= sight.stage && sight.stage <= c.to && trouble::all_hold(c.fits, view))
      if (auto text = trouble::filled(c.text, view)) all.push_back(std::move(*text));
  return all;
}

std::optional<trouble::Filling> filling(const std::string& slot, const View& view) {
  return slot.empty() ? std::nullopt : trouble::find_slot(slot)->fill(view);
}

/// Nothing where the plan cannot fill a slot of it.
std::optional<Move> move_for(const TroubleCause& c, const View& view) {
  auto cause = trouble::filled(c.cause, view), action = trouble::filled(c.action, view), stop = trouble::filled(c.stop, view);
  if (!cause || !action || !stop) return std::nullopt;
  Move m;
  m.id = c.id;
  m.cause = std::move(*cause), m.action = std::move(*action), m.stop = std::move(*stop);
  if (const auto f = filling(c.amount, view)) m.amount = f->mass;
  if (const auto f = filling(c.at, view)) m.at = f->temperature;
  if (const auto f = filling(c.wait, view)) m.wait = f->duration;
  m.likely = !c.likely.empty() && trouble::all_hold(c.likely, view);
  m.discard = c.discard;
  m.known = c.known, m.source = c.source, m.note = c.note;
  return m;
}

/// The one move where there is nothing to save.
std::vector<Move> end_of_it(const TroubleSight& sight, std::string cause, std::string action) {
  Move m;
  m.id = stopped_by_rule;
  m.stage = sight.stage;
  m.cause = std::move(cause), m.action = std::move(action);
  m.stop = "No further attempt. In doubt, throw it out.";
  m.likely = m.discard = true;
  m.known = Known::judgement;
  m.source = "judgement";
  return {std::move(m)};
}

std::optional<std::string> first_stop(const Batch& b) {
  for (const Caution& c : cautions(facts_of(b)))
    if (c.severity == Severity::stop) return c.text;
  return std::nullopt;
}

bool any_discards(const std::vector<Move>& moves) {
  return std::any_of(moves.begin(), moves.end(), [](const Move& m) { return m.discard; });
}

std::vector<Move> fitting_moves(const TroubleSight& sight, const View& view) {
  const std::vector<std::string> before = cares_for(sight, view);
  std::vector<Move> moves;
  for (const TroubleCause& c : sight.causes) {
    if (!trouble::all_hold(c.fits, view)) continue;
    if (auto m = move_for(c, view)) {
      m->stage = sight.stage;
      m->before = before;
      moves.push_back(std::move(*m));
    }
  }
  return moves;
}

}  // namespace

std::vector<Move> next_moves(const Batch& batch, const Troubles& troubles, const Sighting& seen) {
  const TroubleSight* sight = troubles.find(seen);
  if (!sight) return {};
  if (!has_masses(batch.plan)) return end_of_it(*sight, "the plan itself does not stand: " + fault_words(batch.plan, batch.setup).what, "Do not go on by it, and eat nothing of it.");
  std::vector<Move> moves = fitting_moves(*sight, View{batch, troubles});
  const bool lost = any_discards(moves);
  // Nobody is offered another way beside the bin.
  if (lost) std::erase_if(moves, [](const Move& m) { return !m.discard; });
  if (const auto stop = first_stop(batch); stop && !lost) return end_of_it(*sight, "a rule of care stops this plan", fmt::format("{} Do not go on with it, and eat nothing of it.", *stop));
  std::stable_sort(moves.begin(), moves.end(), [](const Move& a, const Move& b) { return a.likely && !b.likely; });
  return moves;
}

}  // namespace curdwright
