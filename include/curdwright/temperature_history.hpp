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
/// The rule is Gauss-Legendre on panels no longer than one time constant; against a 61-point
/// Gauss-Kronrod reference it agrees to 1e-8 relative for the rates of this library
/// (tests/unit/temperature_history_test.cpp).
#pragma once

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <cstddef>
#include <span>

#include "curdwright/quantity.hpp"

namespace curdwright {

/// One stretch of a history. From `start` it holds (target = start), ramps to `target` in a straight
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

  [[nodiscard]] std::span<const HistoryPiece> pieces() const { return {pieces_.data(), count_}; }
  [[nodiscard]] Duration length() const;
  [[nodiscard]] Temperature at(Duration since_start) const;
  [[nodiscard]] Temperature end() const { return end_; }
  [[nodiscard]] Temperature hottest() const;

 private:
  TemperatureHistory& add(HistoryPiece piece);
  std::array<HistoryPiece, capacity> pieces_{};
  std::size_t count_ = 0;
  Temperature end_ = celsius(20);
};

namespace detail {

/// Integral of rate(T(t)) over [from, to] of one smooth panel.
template <class Rate>
double integrate_panel(const HistoryPiece& piece, double from_s, double to_s, Rate& rate) {
  using Rule = boost::math::quadrature::gauss<double, 7>;
  const double middle = 0.5 * (from_s + to_s);
  const double half = 0.5 * (to_s - from_s);
  const auto value = [&](double x) { return rate(piece.at(seconds(middle + half * x))); };
  double sum = Rule::weights()[0] * value(0.0);
  for (std::size_t i = 1; i < Rule::abscissa().size(); ++i)
    sum += Rule::weights()[i] * (value(Rule::abscissa()[i]) + value(-Rule::abscissa()[i]));
  return sum * half;
}

/// Panels of a smooth stretch: a relaxing piece is flat after a few time constants, so panels grow.
template <class Rate>
double integrate_smooth(const HistoryPiece& piece, double from_s, double to_s, Rate& rate) {
  if (piece.shape == HistoryPiece::Shape::hold) return (to_s - from_s) * rate(piece.start);
  double panel_s = (to_s - from_s) / 4.0;
  if (piece.shape == HistoryPiece::Shape::relax) {
    // A panel spans at most some 20 K, so that even the steepest rate stays smooth on it.
    const double span_k = std::abs((piece.at(seconds(from_s)) - piece.target).si());
    panel_s = in_seconds(piece.time_constant) * std::min(1.0, 20.0 / std::max(span_k, 1e-9));
  }
  double sum = 0;
  while (from_s < to_s) {
    const double next = from_s + panel_s < to_s ? from_s + panel_s : to_s;
    sum += integrate_panel(piece, from_s, next, rate);
    if (piece.shape == HistoryPiece::Shape::relax) panel_s *= 1.6;
    if (next <= from_s) break;
    from_s = next;
  }
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
    for (Temperature level : breaks) {
      const double t = in_seconds(piece.passes(level));
      if (t > 0 && cuts < most) cut[cuts++] = t;
    }
    for (std::size_t i = 1; i < cuts; ++i)  // few and mostly sorted
      for (std::size_t j = i; j > 0 && cut[j] < cut[j - 1]; --j) std::swap(cut[j], cut[j - 1]);
    double from = 0;
    for (std::size_t i = 0; i < cuts; ++i) {
      sum += detail::integrate_smooth(piece, from, cut[i], rate);
      from = cut[i];
    }
    sum += detail::integrate_smooth(piece, from, in_seconds(piece.length), rate);
  }
  return sum;
}

}  // namespace curdwright
