// SPDX-License-Identifier: MIT
/// \file stages/grinding.hpp
/// Ground beans, as blending makes them and washing blends them on: what both stages share.
///
/// Grinding breaks a share of the cells and sets free what is in them. What is free moves with the
/// liquor; what is bound stays with the undissolved solids until it is blended again:
///     free_i = e_i g(t) m_i,   g(t) = (1 - exp(-3 t/t_full)) / (1 - exp(-3))
/// with e_i the share that a full blend sets free and t_full the blender's full time. The shape of g is
/// a guess.
#pragma once

#include "curdwright/stages/stage.hpp"

namespace curdwright {

/// How far blending has come: 0 at the start, 1 at the full time, at most 1.05.
double grind_extent(Duration time, Duration full_time);

struct GroundBeans {
  Stream free;        ///< liquor: water, what is dissolved, and what floats in it
  Stream bound;       ///< undissolved solids with what is still locked in them
  Stream releasable;  ///< what a full blend sets free and time governs: protein, fat, starch
  double extent = 0;  ///< g(t) so far
  Stream spill;       ///< left on jar and bucket
  double coagulable = 0;   ///< share of the milk protein that curdles, weighted by protein
  double dose_mmol_g = 0;  ///< coagulant per gram of milk protein, weighted by protein
  [[nodiscard]] Stream all() const { return free + bound; }
};

/// Moves a part of `from` to `to`. Granules count only once they are free, so `from` keeps none.
void set_free(Stream& from, Stream& to, const Stream& part);

/// Most that time can set free of what is bound: some part of every component stays bound.
double capped_extent(double extent, const GroundBeans& ground);

/// Blends longer: sets free what the added time allows. \returns the share of the releasable
double blend_further(GroundBeans& ground, Duration before, Duration after, Duration full_time);

}  // namespace curdwright
