// SPDX-License-Identifier: MIT
/// \file stages/starch.hpp
/// Taking the starch out of the milk before it is heated.
///
///     Destarched d = remove_starch(milk, settings, theta);
///
/// Settling: every size of granule falls by Stokes's law, slowed by its neighbours and by the protein,
///     v = (rho_s - rho_f) g d^2 / (18 mu) (1 - phi)^n,
/// and of a size that falls S in the time, min(1, S/H) is below the clear depth H when the milk is
/// ladled off. Hindrance: n = 5.6, the branch of Brzinski and Durian 2018 for Peclet numbers below 1e8.
/// Viscosity: water of that temperature times 1 + 2.5 p + 6.2 p^2 (Batchelor), p the volume share of
/// protein. Gel-and-strain: the milk is warmed just past the end of gelatinisation and the gel strained.
#pragma once

#include <optional>

#include "curdwright/parameters.hpp"
#include "curdwright/stages/stage.hpp"
#include "curdwright/temperature_history.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class StarchRemoval : std::uint8_t { settle, gel_and_strain, settle_and_gel, none };
template <>
inline constexpr std::array<std::string_view, 4> word_list<StarchRemoval> = {"settle", "gel-and-strain", "settle-and-gel", "none"};

struct StarchSettings {
  StarchRemoval remove = StarchRemoval::settle;
  std::optional<Length> depth;       ///< of the standing milk; from the vessel when absent
  Area vessel = square_centimetres(400);  ///< floor of one settling vessel
  int vessels = 1;                   ///< that stand side by side, each with its share
  Duration time = minutes(60);
  int times = 1;                     ///< settled, ladled off, and settled again
  Temperature surroundings = celsius(20);
  Temperature gel_at = celsius(75);  ///< past the end of gelatinisation; the gel is strained off at it

  [[nodiscard]] bool settles() const { return remove == StarchRemoval::settle || remove == StarchRemoval::settle_and_gel; }
  [[nodiscard]] bool strains_gel() const { return remove == StarchRemoval::gel_and_strain || remove == StarchRemoval::settle_and_gel; }
};

struct Destarched {
  Stream milk;
  Stream sediment;  ///< the starch layer with the milk it holds
  Stream heel;      ///< the last cloudy milk, left behind
  Stream gel;       ///< strained off, with the milk it holds
  Length depth;             ///< at the first standing
  double share_settled = 0; ///< of the free starch, over all standings
  TemperatureHistory history;  ///< over all standings; of the gel nothing is known but its end
};

/// Stokes's velocity, m/s. 20 micrometres, 1350 kg/m3, water at 20 degC: 76.6e-6.
double stokes_velocity_m_s(double diameter_m, double granule_kg_m3, double fluid_kg_m3, double viscosity_pa_s);
/// Hindrance (1 - phi)^n. phi 0.05, n 5.6: 0.750.
double hindrance(double volume_fraction, double exponent);
/// Viscosity relative to water of a milk with this volume share of protein (Batchelor).
constexpr double relative_viscosity(double protein_volume_fraction) {
  return 1.0 + 2.5 * protein_volume_fraction + 6.2 * protein_volume_fraction * protein_volume_fraction;
}

/// One standing and ladling, with what it was reckoned from.
struct Standing {
  TemperatureHistory history;
  Duration time_constant;
  double bed_share = 0;        ///< of the depth, that the settled layer would take
  double clear_m = 0;          ///< depth from which the ladle takes
  double crowding = 0;         ///< volume share of swollen granules
  double protein_volume = 0;   ///< volume share of protein
  double fall_in_water = 0;    ///< distance fallen alone in water per diameter squared, 1/m
  double fall_per_square = 0;  ///< slowed by neighbours and protein
};
Standing stand(const Stream& milk, const StarchSettings& settings, Duration time, const Theta& theta);

/// What one standing takes out of the milk.
struct Settled {
  Stream bed;             ///< granules, their water and the milk between them
  Stream heel;            ///< the last cloudy milk
  double between = 0;     ///< share of the milk that stays between the granules
  Standing standing;
};
Settled settle_once(Stream& milk, const StarchSettings& settings, const Theta& theta);

/// The gel with the milk it holds, out of warmed milk.
struct Gelled {
  Stream gel;
  double held = 0;        ///< share of the milk that the gel takes with it
};
Gelled gel_once(Stream& milk, const Theta& theta);

/// What a standing does to granules: falling distance per diameter squared, 1/m.
/// Distance fallen by a granule of diameter d is the result times d^2.
double fall_per_square_m(const Composition& milk, const Granules& granules, const TemperatureHistory& history,
                         const Theta& theta);

/// Share of the settleable granules that is below the clear depth after falling.
double share_settled(const Granules& granules, double fall_per_square, double clear_depth_m);

/// Share of what can settle that is below the ladle's reach after one standing of this length.
double settled_after(const Stream& milk, const StarchSettings& settings, Duration time, const Theta& theta);

/// Depth of milk in its vessels when the recipe does not set one.
Length standing_depth(const Stream& milk, const StarchSettings& settings);

Destarched remove_starch(const Stream& milk, const StarchSettings& settings, const Theta& theta);

}  // namespace curdwright
