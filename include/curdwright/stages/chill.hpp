// SPDX-License-Identifier: MIT
/// \file stages/chill.hpp
/// Chilling: how long the centre of a block takes to be cold.
///
///     ThermalBlock b = thermal_block(curd.of, centimetres(12), centimetres(10), centimetres(3));
///     Chilled c = chill(b, celsius(75), stations);   // where it lies, one after another
///
/// A box is the product of three slabs. Slab of half thickness L with surface coefficient h on both
/// faces: Bi = h L/k, Fo = alpha t/L^2, z tan z = Bi,
///     (T - T_medium)/(T_start - T_medium) = sum 4 sin z/(2 z + sin 2z) exp(-z^2 Fo) cos(z x/L).
/// The block leaves one surrounding for the next with its centre's temperature throughout, which errs
/// on the slow side.
#pragma once

#include <array>
#include <optional>
#include <span>

#include "curdwright/composition.hpp"
#include "curdwright/quantity.hpp"

namespace curdwright {

/// A block as heat sees it.
struct ThermalBlock {
  Length length, width, height;
  double conductivity_w_m_k = 0.55;
  double diffusivity_m2_s = 1.4e-7;
};
/// With properties of Choi and Okos at 40 degC, the middle of the way.
ThermalBlock thermal_block(const Composition& curd, Length length, Length width, Length height);

/// Surroundings that a block lies in for a while.
struct Surroundings {
  double coefficient_w_m2_k = 8;
  Temperature at = celsius(4);
  Duration time;  ///< how long; the last is taken as endless
};

/// Levels that the centre of a block is to pass: the clock runs from the first.
struct CoolingLevels {
  Temperature from = celsius(57.2), first = celsius(21.1), second = celsius(5.0);
};

/// When the centre passes each level, from the moment the hot block was first laid down.
struct Chilled {
  std::optional<Duration> under_from, under_first, under_second;
  [[nodiscard]] std::optional<Duration> to_first() const;   ///< by the clock, which starts at `under_from`
  [[nodiscard]] std::optional<Duration> to_second() const;
};

/// First roots of z tan z = Bi. Bi 1: 0.8603.
double slab_root(double biot, int n);
/// Centre of a slab: 1 at the start, 0 when all is as cold as the medium.
double slab_centre(double biot, double fourier);
/// Centre of a box after a time, from start to medium.
Temperature box_centre(const ThermalBlock& block, double coefficient_w_m2_k, Temperature start, Temperature medium, Duration after);
/// When the centre of a box passes a level; empty when the medium is not colder.
std::optional<Duration> box_passes(const ThermalBlock& block, double coefficient_w_m2_k, Temperature start, Temperature medium,
                                   Temperature level);

/// \param start temperature of the block throughout \param through one after another; the last is endless
Chilled chill(const ThermalBlock& block, Temperature start, std::span<const Surroundings> through, const CoolingLevels& levels = {});
/// The same for blocks that start from two temperatures: what hangs on block and surroundings alone is found once.
std::array<Chilled, 2> chill(const ThermalBlock& block, std::array<Temperature, 2> starts, std::span<const Surroundings> through, const CoolingLevels& levels = {});

}  // namespace curdwright
