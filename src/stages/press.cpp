// SPDX-License-Identifier: MIT
#include "curdwright/stages/press.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "curdwright/properties.hpp"
#include "roots.hpp"

namespace curdwright {
namespace {

constexpr double known_low_kpa = 2.0, known_high_kpa = 50.0;

double per_dry(double moisture) { return moisture / (1.0 - moisture); }
double from_per_dry(double w) { return w / (1.0 + w); }

/// Share of the liquid that stands in curd with so much water.
double share_kept(const Composition& liquid, double water_kg) { return liquid[Component::water] > 0 ? std::min(1.0, water_kg / liquid[Component::water]) : 0.0; }

/// Minerals bind to the curd more than the water explains: so much of each stays, the rest leaves.
void share_minerals(const Stream& all, Stream& curd, const Theta& theta) {
  const double water = all.of[Component::water];
  const double in_water = water > 0 ? curd.of[Component::water] / water : 1.0;
  // Never less than what the curd's own water holds, nor less than all when no whey leaves.
  curd.minerals.calcium_kg = all.minerals.calcium_kg * std::max(in_water, theta[Param::calcium_retained]);
  curd.minerals.magnesium_kg = all.minerals.magnesium_kg * std::max(in_water, theta[Param::magnesium_retained]);
  curd.minerals.sodium_kg = all.minerals.sodium_kg * in_water;
}

/// Moisture that pressing reaches, and the drained height it starts from. The two hang together: a drier block
/// of the wanted mass takes more drained curd, which is thicker and presses out more slowly. Both fall into
/// place at the root of reached(M) - M, which falls as M rises.
struct Consolidated {
  double moisture;
  Length drained_height;
};

template <class HeightFor>
Consolidated consolidate(double drained, double limit, Duration time, const Theta& theta, HeightFor height_for) {
  if (limit >= drained) return {drained, height_for(drained)};
  const auto off = [&](double m) { return pressed_moisture(drained, limit, height_for(m), time, theta) - m; };
  // Pressed to its end or not at all, within the last bit: no root lies between.
  const double at_drained = off(drained);
  if (at_drained >= 0) return {drained, height_for(drained)};
  if (off(limit) <= 0) return {limit, height_for(limit)};
  // A step from m to reached(m) comes near.
  const double m = secant_root(off, limit, drained, drained, at_drained, std::max(limit, drained + at_drained), 1e-11).at;
  return {m, height_for(m)};
}

}  // namespace

Composition insoluble_part(const Composition& milk, double curdled_kg, const Theta& theta) {
  Composition c;
  c[Component::protein] = curdled_kg;
  c[Component::fat] = milk[Component::fat] * theta[Param::fat_captured];
  c[Component::starch] = milk[Component::starch];
  c[Component::fibre] = milk[Component::fibre];
  return c;
}

double consolidation_degree(double time_factor) {
  if (time_factor <= 0) return 0.0;
  // For short times the series is slow; its early form sqrt(4 T / pi) is exact to 1e-6 below 0.08.
  if (time_factor < 0.08) return std::sqrt(4.0 * time_factor / std::numbers::pi);
  // Terms 2/k^2 exp(-k^2 T), k = pi/2, 3 pi/2, ...: k^2 grows by 8, 16, 24, ... times the first, so one exponential serves all.
  constexpr double first = std::numbers::pi * std::numbers::pi / 4.0;
  const double q = std::exp(-first * time_factor), q8 = (q * q) * (q * q) * (q * q) * (q * q);
  double left = 0, decay = q, fall = q8;
  for (int m = 0; m < 6 && decay > 1e-17; ++m, decay *= fall, fall *= q8) left += 2.0 / (first * (2 * m + 1) * (2 * m + 1)) * decay;
  return 1.0 - left;
}

Mass press_weight(const PressSettings& s) { return kilograms(in_pascals(s.pressure) * in_metres(s.mould_length) * in_metres(s.mould_width) / gravity_m_s2); }

Pressure pressure_under(Mass weight, const PressSettings& s) { return pascals(in_kilograms(weight) * gravity_m_s2 / (in_metres(s.mould_length) * in_metres(s.mould_width))); }

double moisture_limit(Pressure pressure, const Theta& theta) {
  const double kpa = std::clamp(in_kilopascals(pressure), 0.1, known_high_kpa);
  // The line is drawn on below the pressures that it was fitted to; there it would come to more than all.
  return std::min(1.0, theta[Param::press_intercept] - theta[Param::press_slope] * std::log10(kpa));
}

double pressed_moisture(double drained, double limit, Length drained_height, Duration time, const Theta& theta) {
  if (limit >= drained) return drained;
  const double half_m = 0.5 * in_metres(drained_height);
  const double time_factor = theta[Param::consolidation] * in_seconds(time) / (half_m * half_m);
  const double share = theta[Param::creep_share];
  const double left = (1.0 - share) * (1.0 - consolidation_degree(time_factor)) +
                      share * std::exp(-time_factor / theta[Param::creep_delay]);
  return from_per_dry(per_dry(limit) + (per_dry(drained) - per_dry(limit)) * left);
}

Pressed press(const Stream& milk, double curdled_kg, const PressSettings& s, const Theta& theta) {
  Pressed r;
  const Composition insoluble = insoluble_part(milk.of, curdled_kg, theta);
  const Composition liquid = milk.of - insoluble;
  const double water = liquid[Component::water];
  const double c = water > 0 ? liquid.solids_kg() / water : 0.0;
  r.insoluble_kg = insoluble.total_kg();
  r.whey_solids_per_water = c;

  // Very thick milk has no whey to give: the curd is then all of it.
  const double wettest = water / milk.of.total_kg();
  const double drained = std::min({theta[Param::drained_moisture], wettest, 0.98 / (1.0 + c)});
  r.drained_moisture = drained;
  r.drained_kg = curd_mass_kg(r.insoluble_kg, drained, c);
  r.moisture_limit = moisture_limit(s.pressure, theta);
  r.beyond_known_pressure = in_kilopascals(s.pressure) < known_low_kpa || in_kilopascals(s.pressure) > known_high_kpa;

  const double end = s.moisture ? *s.moisture : std::min(r.moisture_limit, drained);
  const double end_kg = curd_mass_kg(r.insoluble_kg, end, c);
  if (s.moisture && *s.moisture > drained + 1e-12) r.fault = Fault::moisture_too_wet;
  if (!(end_kg > 0) || !(r.drained_kg > 0)) {
    r.fault = r.fault == Fault::none ? Fault::moisture_out_of_reach : r.fault;
    r.whey = milk;
    return r;
  }
  // Height of drained curd that makes one block of the wanted mass at moisture m; its density hardly moves.
  const Area footprint = square_metres(in_metres(s.mould_length) * in_metres(s.mould_width));
  r.drained_density = mixture_density(insoluble + liquid * share_kept(liquid, drained * r.drained_kg), celsius(20));
  const Length height_per_rest = s.block * (r.drained_kg / r.insoluble_kg) / r.drained_density / footprint;
  const auto height_for = [&](double m) { return height_per_rest * (1.0 - m * (1.0 + c)); };  // curd weighs S / (1 - M (1 + c))
  const Consolidated pressed = s.moisture ? Consolidated{end, height_for(end)} : consolidate(drained, end, s.time, theta, height_for);
  r.moisture = pressed.moisture;
  r.drained_height = pressed.drained_height;

  const double mass = curd_mass_kg(r.insoluble_kg, r.moisture, c);
  r.whey_kept = share_kept(liquid, r.moisture * mass);
  r.curd.of = insoluble + liquid * r.whey_kept;
  r.curd.granules = milk.granules;
  share_minerals(milk, r.curd, theta);
  r.whey.of = milk.of - r.curd.of;
  r.whey.minerals = milk.minerals;
  r.whey.minerals -= r.curd.minerals;
  r.trim = r.curd * theta[Param::curd_cling];
  r.curd -= r.trim;
  r.curd.at = r.whey.at = r.trim.at = milk.at;
  r.block_height = s.block / mixture_density(r.curd.of, celsius(20)) / footprint;
  return r;
}

}  // namespace curdwright
