// SPDX-License-Identifier: MIT
// The root of a function that is nearly a straight line.
#pragma once

#include <cmath>

namespace curdwright {

struct Root {
  double at = 0;
  bool found = false;
};

/// Secants from x0, where f is f0, and the guess x1; halving where one leaves [low, high] or where a few do not settle.
/// \param f rises or falls through zero once in [low, high]; f0 tells which, x0 lying on the side of `low` or of `high`
/// \param tolerance of a step, relative to x \param close_enough what |f| may be at a root; without it a step that small ends the search
template <class F>
Root secant_root(F f, double low, double high, double x0, double f0, double x1, double tolerance, double close_enough = 0) {
  const bool from_low = x0 < x1;  // f keeps the sign of f0 on the side of x0
  double before = x0, f_before = f0, at = x1;
  for (int i = 0; i < 80; ++i) {
    const double f_at = f(at);
    if (std::abs(f_at) <= close_enough) return {at, true};
    (((f_at > 0) == (f0 > 0)) == from_low ? low : high) = at;
    double next = at - f_at * (at - before) / (f_at - f_before);
    if (i > 12 || !(next >= low && next <= high)) next = 0.5 * (low + high);
    before = at, f_before = f_at;
    at = next;
    if (std::abs(at - before) <= tolerance * std::abs(at)) return {at, close_enough == 0};
  }
  return {at, false};
}

}  // namespace curdwright
