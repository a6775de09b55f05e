// SPDX-License-Identifier: MIT
/// \file temperature_history.hpp
/// A temperature over time, made of pieces, and the one integral that every kinetic uses.
///
///     TemperatureHistory h(celsius(20));
///     h.relax(hours(12), celsius(5), hours(2));         // a vessel cooling in the fridge
///     double n = integrate(h, [](Temperature t) { return rate(t); });
///
/// Uptake of water, growth of microbes, loss of trypsin inhibitor and lipoxygenase, hydrolysis of
/// GDL and the settling of starch are each one integral of a rate r(T) along T(t):
///     I = integral of r(T(t)) dt,   in units of r times seconds.
/// The rule is Gauss-Legendre with ten points on panels of at most 20 K; against a 61-point Gauss-Kronrod
/// reference it agrees to 1e-10 relative for the rates of this library
/// (tests/unit/temperature_history_test.cpp).
#pragma once

#include <algorithm>
#include <array>
#include <boost/container/static_vector.hpp>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <cstddef>
#include <span>

#include "curdwright/quantity.hpp"

namespace curdwright {

/// One stretch of a history. From `start` it holds, ramps to `target` in a straight
/// line, or relaxes toward `target` with a time constant: T = target + (start - target) exp(-t/tau).
struct HistoryPiece {
  enum class Shape { hold, ramp, relax };
  Shape shape = Shape::hold;
  Duration length;
  Temperature start;
  Temperature target;
  Duration time_constant;  ///< of relax only

  [[nodiscard]] Temperature at(Duration since_start) const;
  [[nodiscard]] Temperature end() const { return at(length); }
  /// When this piece passes `level`, from its start; negative when it does not.
  [[nodiscard]] Duration passes(Temperature level) const;
};

/// Pieces, joined: enough for a soak with its changes of water. No allocation; a piece too many is merged into a hold, never lost in time.
class TemperatureHistory {
 public:
  static constexpr std::size_t capacity = 14;

  TemperatureHistory() = default;
  explicit TemperatureHistory(Temperature start) : end_(start) {}

  TemperatureHistory& hold(Duration length);
  TemperatureHistory& ramp(Duration length, Temperature to);
  TemperatureHistory& relax(Duration length, Temperature surroundings, Duration time_constant);
  /// A sudden change: the next piece starts at `to`.
  TemperatureHistory& jump(Temperature to);

  [[nodiscard]] std::span<const HistoryPiece> pieces() const { return {pieces_.data(), pieces_.size()}; }
  [[nodiscard]] Duration length() const;
  [[nodiscard]] Temperature at(Duration since_start) const;
  [[nodiscard]] Temperature end() const { return end_; }
  [[nodiscard]] Temperature hottest() const;

 private:
  TemperatureHistory& add(HistoryPiece piece);
  boost::container::static_vector<HistoryPiece, capacity> pieces_;  // copies what there is, not what there may be
  Temperature end_ = celsius(20);
};

namespace detail {

/// Gauss-Legendre, ten points: integral of f over [-1, 1].
template <class F>
double gauss_panel(F f) {
  using Rule = boost::math::quadrature::gauss<double, 10>;
  double sum = 0;
  for (std::size_t i = 0; i < Rule::abscissa().size(); ++i) sum += Rule::weights()[i] * (f(Rule::abscissa()[i]) + f(-Rule::abscissa()[i]));
  return sum;
}

/// Integral of rate(T(t)) over [from, to] of one smooth panel.
template <class Rate>
double integrate_panel(const HistoryPiece& piece, double from_s, double to_s, Rate& rate) {
  const double middle = 0.5 * (from_s + to_s);
  const double half = 0.5 * (to_s - from_s);
  return half * gauss_panel([&](double x) { return rate(piece.at(seconds(middle + half * x))); });
}

/// A panel spans at most so many K, so that even the steepest rate stays smooth on it.
inline constexpr double panel_span_k = 20.0;

/// The end of a relaxation, close to its target. With u = exp(-t/tau) the temperature is target + gap u, and
///     integral of r dt = r(target) t + tau * integral over u of (r(target + gap u) - r(target)) / u,
/// whose integrand is as smooth as the rate: one panel, however long the stretch.
template <class Rate>
double integrate_near_target(const HistoryPiece& piece, double gap_k, double length_s, Rate& rate) {
  const double tau_s = in_seconds(piece.time_constant);
  const double half = -0.5 * std::expm1(-length_s / tau_s), middle = 1.0 - half;
  const double flat = rate(piece.target);
  return flat * length_s + tau_s * half * gauss_panel([&](double x) {
    const double u = middle + half * x;
    return (rate(piece.target + kelvins(gap_k * u)) - flat) / u;
  });
}

/// Panels along a relaxation; it flattens, so they grow.
/// \param to_target whether the rate is smooth from here to the target
template <class Rate>
double integrate_relaxing(const HistoryPiece& piece, double from_s, double to_s, bool to_target, Rate& rate) {
  double sum = 0, stretch = 1.0;
  while (from_s < to_s) {
    const double gap_k = (piece.at(seconds(from_s)) - piece.target).si();
    if (to_target && std::abs(gap_k) <= panel_span_k) return sum + integrate_near_target(piece, gap_k, to_s - from_s, rate);
    const double panel_s = stretch * in_seconds(piece.time_constant) * std::min(1.0, panel_span_k / std::max(std::abs(gap_k), 1e-9));
    const double next = std::min(from_s + panel_s, to_s);
    sum += integrate_panel(piece, from_s, next, rate);
    if (next <= from_s) break;
    if (std::abs(gap_k) <= panel_span_k) stretch *= 1.6;
    from_s = next;
  }
  return sum;
}

/// \param to_target of a relaxation: whether no kink lies between its end and its target
template <class Rate>
double integrate_smooth(const HistoryPiece& piece, double from_s, double to_s, bool to_target, Rate& rate) {
  if (piece.shape == HistoryPiece::Shape::hold) return (to_s - from_s) * rate(piece.start);
  if (piece.shape == HistoryPiece::Shape::relax) return integrate_relaxing(piece, from_s, to_s, to_target, rate);
  double sum = 0;
  for (int i = 0; i < 4; ++i) sum += integrate_panel(piece, from_s + (to_s - from_s) * i / 4, from_s + (to_s - from_s) * (i + 1) / 4, rate);
  return sum;
}

}  // namespace detail

/// Integral of rate(Temperature) -> double along a history, in the rate's unit times seconds.
/// \param breaks temperatures at which the rate has a kink; panels end there
template <class Rate>
double integrate(const TemperatureHistory& history, Rate rate, std::span<const Temperature> breaks = {}) {
  constexpr std::size_t most = 8;
  double sum = 0;
  for (const HistoryPiece& piece : history.pieces()) {
    std::array<double, most> cut{};
    std::size_t cuts = 0;
    bool to_target = true;
    const Temperature end = breaks.empty() ? piece.start : piece.end();
    for (Temperature level : breaks) {
      const double t = in_seconds(piece.passes(level));
      if (t > 0 && cuts < most) cut[cuts++] = t;
      if ((end - level).si() * (piece.target - level).si() <= 0) to_target = false;
    }
    for (std::size_t i = 1; i < cuts; ++i)  // few and mostly sorted
      for (std::size_t j = i; j > 0 && cut[j] < cut[j - 1]; --j) std::swap(cut[j], cut[j - 1]);
    double from = 0;
    for (std::size_t i = 0; i < cuts; ++i) {
      sum += detail::integrate_smooth(piece, from, cut[i], false, rate);
      from = cut[i];
    }
    sum += detail::integrate_smooth(piece, from, in_seconds(piece.length), to_target, rate);
  }
  return sum;
}

}  // namespace curdwright
