// SPDX-License-Identifier: MIT
#include "planner.hpp"

#include <algorithm>
#include <utility>

namespace curdwright {
namespace {

constexpr double hair = 1e-6;  // what ends and what begins at the same second do not meet

}  // namespace

std::optional<double> Bookings::full_at(double moment, int amount) const {
  int sum = amount;
  double first_end = 1e300;
  for (const Taken& t : taken_)
    if (t.from <= moment + hair && t.to > moment + hair) sum += t.amount, first_end = std::min(first_end, t.to);
  return sum > capacity_ ? std::optional(first_end) : std::nullopt;
}

std::optional<double> Bookings::blocked_until(double from, double to, int amount) const {
  // What is taken only grows where something begins, so those moments are enough.
  if (const auto end = full_at(from, amount)) return end;
  for (const Taken& t : taken_)
    if (t.from > from && t.from < to - hair)
      if (const auto end = full_at(t.from, amount)) return end;
  return std::nullopt;
}

Planner::Planner(Timeline& out, const Kitchen& k) : out_(out), hands_(1), blender_(1), hob_(1), moulds_(k.moulds), pots_(static_cast<std::size_t>(out.pots_at_once), Bookings(1)) {}

std::size_t Planner::place(std::vector<Operation> chain, std::vector<std::size_t> after) {
  Duration start;
  for (std::size_t i : after) start = std::max(start, out_.operations[i].end());
  while (const auto later = conflict(chain, start)) start = seconds(*later);
  for (Operation& o : chain) {
    o.start = start;
    o.after = after;
    start += o.length;
    take(o);
    out_.operations.push_back(std::move(o));
    after = {out_.operations.size() - 1};
  }
  return out_.operations.size() - 1;
}

int Planner::pot_for(const std::vector<Operation>& chain, Duration ready) const {
  int best = 0;
  double soonest = 1e300;
  for (int p = 0; p < out_.pots_at_once; ++p) {
    std::vector<Operation> in_it = chain;
    for (Operation& o : in_it) o.pot = p;
    Duration start = ready;
    while (const auto later = conflict(in_it, start)) start = seconds(*later);
    if (start.si() < soonest - hair) soonest = start.si(), best = p;
  }
  return best;
}

std::optional<double> Planner::conflict(const std::vector<Operation>& chain, Duration start) const {
  double from = start.si();
  for (const Operation& o : chain) {
    const double to = from + o.length.si();
    const auto blocked = [&](bool used, const Bookings& c, int amount) { return used ? c.blocked_until(from, to, amount) : std::nullopt; };
    for (const auto& b : {blocked(o.hands, hands_, 1), blocked(o.blender, blender_, 1), blocked(o.hob, hob_, 1), blocked(o.moulds > 0, moulds_, o.moulds),
                          o.pot >= 0 ? pots_[static_cast<std::size_t>(o.pot)].blocked_until(from, to, 1) : std::nullopt})
      if (b) return start.si() + (*b - from);
    from = to;
  }
  return std::nullopt;
}

void Planner::take(const Operation& o) {
  if (o.hands) hands_.take(o.start, o.end(), 1);
  if (o.blender) blender_.take(o.start, o.end(), 1);
  if (o.hob) hob_.take(o.start, o.end(), 1);
  if (o.moulds > 0) moulds_.take(o.start, o.end(), o.moulds);
  if (o.pot >= 0) pots_[static_cast<std::size_t>(o.pot)].take(o.start, o.end(), 1);
}

}  // namespace curdwright
