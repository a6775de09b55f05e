// SPDX-License-Identifier: MIT
#include "curdwright/stages/cook.hpp"

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

/// Milk sticks above this, so it is heated gently: common practice, no published source.
constexpr Temperature gentle_from = celsius(65);
/// Time constants after which a pot has stopped rising.
constexpr double settled = 3.0;

/// Time for a relaxation to pass a level.
Duration time_to(Temperature from, Temperature to, Temperature end, Duration tau) {
  return tau * std::log((end.si() - from.si()) / (end.si() - to.si()));
}

void heat(Cooked& r, const Composition& pot, Temperature at, const CookSettings& s, const Theta& theta) {
  const double loss_w_k = theta[Param::pot_loss] * in_square_metres(pot_surface(pot.mass()));
  const Duration tau = heating_time_constant(pot, at, s, theta);
  r.reaches = s.room + kelvins(in_watts(s.hob) * theta[Param::hob_efficiency] / loss_w_k);
  r.history = TemperatureHistory(std::min(at, s.boil));
  // A told time does not make a weak ring strong: below the boil it stays below.
  if (r.reaches < s.boil + boiling_margin) {
    r.fault = Fault::hob_too_weak;
    r.heat_up = s.heat_up.value_or(tau * settled);
    r.history.relax(r.heat_up, r.reaches, tau);
    return;
  }
  if (s.heat_up) {
    r.history.ramp(*s.heat_up, s.boil);
    r.heat_up = *s.heat_up;
    return;
  }
  // Milk that comes in hotter than the boil (hot water, high up) needs no heating.
  const Temperature start = std::min(at, s.boil);
  const Temperature gentle = std::clamp(gentle_from, start, s.boil);
  const Duration slow_tau = tau * theta[Param::gentle_heating];
  const Duration fast = start < gentle ? time_to(start, gentle, r.reaches, tau) : seconds(0);
  const Duration slow = gentle < s.boil ? time_to(gentle, s.boil, r.reaches, slow_tau) : seconds(0);
  r.history.relax(fast, r.reaches, tau).relax(slow, r.reaches, slow_tau);
  r.heat_up = fast + slow;
}

}  // namespace

Duration heating_time_constant(const Composition& pot, Temperature at, const CookSettings& s, const Theta& theta) {
  const Temperature about = celsius(0.5 * (in_celsius(at) + in_celsius(s.boil)));
  return pot_time_constant(pot, about, theta[Param::pot_loss]);
}

Cooked cook(const Stream& in, const CookSettings& s, const Theta& theta) {
  Cooked r;
  heat(r, in.of * (1.0 / s.pots), in.at, s, theta);
  if (r.fault == Fault::none) r.history.jump(s.boil);
  r.history.hold(s.hold);
  r.milk = in;
  r.film = in * theta[Param::film];
  r.milk -= r.film;
  const double share =
      s.evaporated ? *s.evaporated : -std::expm1(std::log1p(-theta[Param::evaporated_per_10_min]) * in_minutes(s.hold) / 10.0);
  r.steam = water_stream(kilograms(std::min(share * r.milk.of.total_kg(), 0.9 * r.milk.of[Component::water])), s.boil);
  r.milk.of -= r.steam.of;
  r.milk.at = r.film.at = r.history.end();
  return r;
}

double decimal_reductions(const TemperatureHistory& history, Temperature reference, double d, double z) {
  const double rate = std::log(10.0) / z;
  return integrate(history, [&](Temperature t) { return std::exp(rate * (t.si() - reference.si())); }) / d;
}

double trypsin_inhibitor_left(const TemperatureHistory& history, const Theta& theta) {
  // Both parts share z, so one integral serves both.
  const double at_100 = decimal_reductions(history, celsius(100), 1.0, theta[Param::inhibitor_z]);
  const double labile = theta[Param::inhibitor_labile];
  return labile * std::pow(10.0, -at_100 / theta[Param::inhibitor_d_fast]) +
         (1.0 - labile) * std::pow(10.0, -at_100 / theta[Param::inhibitor_d_slow]);
}

double lipoxygenase_left(const TemperatureHistory& history, const Theta& theta) {
  const double n = decimal_reductions(history, celsius(60), theta[Param::lipoxygenase_d60], theta[Param::lipoxygenase_z]);
  return std::pow(10.0, -n);
}

}  // namespace curdwright
