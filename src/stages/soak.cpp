// SPDX-License-Identifier: MIT
#include "curdwright/stages/soak.hpp"

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

constexpr Temperature reference = celsius(20);
constexpr Temperature uptake_break = celsius(60);

// Loss of solids from chickpea, J. Food Process Eng. 34(4), 2011: 59.5 kJ/mol below 61 degC and 22.6
// above (printed the other way round; only this order gives the rise that the paper saw). What can be
// lost ends at 2.3 % at 20 degC and 10.2 % at 100 degC, that is 1.13 and 5.0 times the loss of 12 h at 20.
constexpr Temperature loss_break = celsius(61);
constexpr double loss_energy = 59.5;
constexpr double loss_energy_hot = 22.6;
constexpr double loss_end_20 = 2.3 / 2.03;
constexpr double loss_end_100 = 10.2 / 2.03;

// Shares of the lost solids: protein 12-25 % (Korean soy study, 1987), the rest a guess.
constexpr double lost_protein = 0.20, lost_sugars = 0.62, lost_ash = 0.18;

// Skins are mostly fibre; the split is a guess.
constexpr double hull_fibre = 0.85, hull_protein = 0.06, hull_ash = 0.03, hull_sugars = 0.06;

double broken_arrhenius(Temperature t, Temperature kink, double below, double above) {
  if (t <= kink) return arrhenius(t, reference, below);
  return arrhenius(kink, reference, below) * arrhenius(t, kink, above);
}

double loss_seconds(const TemperatureHistory& history) {
  return integrate(history, [](Temperature t) { return broken_arrhenius(t, loss_break, loss_energy, loss_energy_hot); }, std::span(&loss_break, 1));
}

double fraction_lost(const TemperatureHistory& history, double seconds_at_20, double lost_in_12_h) {
  const double hours_at_20 = seconds_at_20 / 3600.0;
  const double warmth = std::max(0.0, (in_celsius(history.hottest()) - 20.0) / 80.0);
  const double end = lost_in_12_h * (loss_end_20 + (loss_end_100 - loss_end_20) * warmth);
  return std::min(lost_in_12_h * hours_at_20 / 12.0, end);
}

/// Takes `solids` apart by the given shares, but never more than there is.
Composition take(const Composition& from, double solids, double protein, double sugars, double fibre, double ash) {
  Composition out;
  out[Component::protein] = std::min(from[Component::protein], solids * protein);
  out[Component::sugars] = std::min(from[Component::sugars], solids * sugars);
  out[Component::fibre] = std::min(from[Component::fibre], solids * fibre);
  out[Component::ash] = std::min(from[Component::ash], solids * ash);
  return out;
}

void move_minerals_with_ash(Stream& from, Stream& to, double ash_before) {
  const double share = ash_before > 0 ? to.of[Component::ash] / ash_before : 0.0;
  to.minerals = from.minerals * share;
  from.minerals -= to.minerals;
}

Stream take_hulls(Stream& seed, double hull_solids) {
  Stream hulls;
  hulls.at = seed.at;
  const double ash_before = seed.of[Component::ash];
  const double wetness = seed.of[Component::water] / seed.of.solids_kg();
  hulls.of = take(seed.of, hull_solids, hull_protein, hull_sugars, hull_fibre, hull_ash);
  hulls.of[Component::water] = wetness * hulls.of.solids_kg();
  seed.of -= hulls.of;
  move_minerals_with_ash(seed, hulls, ash_before);
  return hulls;
}

}  // namespace

double soak_speed(Temperature t, double energy, double energy_hot) {
  return broken_arrhenius(t, uptake_break, energy, energy_hot);
}

namespace {

Stream poured_once(const Stream& seed, const SoakSettings& s) { return water_stream(kilograms(seed.of.total_kg() * s.water_to_dry), s.water_at); }

}  // namespace

Temperature soak_start(const Stream& seed, const SoakSettings& s) {
  const Stream water = poured_once(seed, s);
  return mixed_temperature(seed.of, s.seed_at, water.of, water.at);
}

Duration soak_time_constant(const Stream& seed, const SoakSettings& s, Temperature start, double vessel_coefficient) {
  return s.time_constant ? *s.time_constant : pot_time_constant(seed.of + poured_once(seed, s).of, start, vessel_coefficient);
}

Temperature soak_changed(const Stream& seed, const SoakSettings& s, Temperature before) {
  const Stream water = poured_once(seed, s);
  return mixed_temperature(seed.of, before, water.of, water.at);
}

TemperatureHistory soak_history(const Stream& seed, const SoakSettings& s, double vessel_coefficient) {
  const Temperature start = soak_start(seed, s);
  const Duration tau = soak_time_constant(seed, s, start, vessel_coefficient);
  TemperatureHistory history(start);
  if (s.changes == 0) return history.relax(s.time, s.surroundings, tau);
  // Each change brings the vessel back to the temperature of the water.
  const int stretches = s.changes + 1;
  for (int i = 0; i < stretches; ++i) {
    if (i > 0) history.jump(soak_changed(seed, s, history.end()));
    history.relax(s.time / stretches, s.surroundings, tau);
  }
  return history;
}

Soaked soak(const Stream& seed, const SoakSettings& s, const TemperatureHistory& history, const Theta& theta,
            std::size_t legume) {
  Soaked r;
  const auto of = [&](Param p) { return theta.of(p, legume); };
  const double dry_kg = seed.of.total_kg();
  const double dry_matter_kg = seed.of.solids_kg();
  const double poured_kg = dry_kg * s.water_to_dry;

  const double energy = of(Param::soak_activation_energy), energy_hot = of(Param::soak_activation_energy_hot);
  r.warm_seconds = integrate(history, [&](Temperature t) { return soak_speed(t, energy, energy_hot); }, std::span(&uptake_break, 1));
  r.gain = peleg_gain(r.warm_seconds / of(Param::soak_k1), of(Param::soak_k2));
  r.loss_seconds = loss_seconds(history);
  r.solids_lost = fraction_lost(history, r.loss_seconds, of(Param::solids_lost));

  r.seed = seed;
  r.seed.at = history.end();
  r.soak_water.at = history.end();
  const double ash_before = r.seed.of[Component::ash];
  r.soak_water.of = take(seed.of, r.solids_lost * dry_matter_kg, lost_protein, lost_sugars, 0, lost_ash);
  r.seed.of -= r.soak_water.of;
  move_minerals_with_ash(r.seed, r.soak_water, ash_before);

  // Moisture is reckoned on the dry matter that is left, so a leached seed holds a little less.
  const double moisture = seed.of[Component::water] / dry_matter_kg + r.gain;
  const double wanted_kg = std::max(0.0, moisture * r.seed.of.solids_kg() - seed.of[Component::water]) + of(Param::clinging_water) * dry_kg;
  r.short_of_water = wanted_kg > poured_kg;
  r.uptake_kg = std::min(wanted_kg, poured_kg);
  r.seed.of[Component::water] += r.uptake_kg;
  r.soak_water.of[Component::water] += poured_kg * (1 + s.changes) - r.uptake_kg;
  if (s.skins_off) {
    r.hull_solids_kg = of(Param::hull) * theta[Param::hull_removed] * r.seed.of.solids_kg();
    r.hulls = take_hulls(r.seed, r.hull_solids_kg);
  }
  return r;
}

}  // namespace curdwright
