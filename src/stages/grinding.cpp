// SPDX-License-Identifier: MIT
#include "curdwright/stages/grinding.hpp"

#include <algorithm>
#include <cmath>

namespace curdwright {

double grind_extent(Duration time, Duration full_time) {
  return -std::expm1(-3.0 * (time / full_time)) / -std::expm1(-3.0);
}

void set_free(Stream& from, Stream& to, const Stream& part) {
  from.of -= part.of;
  from.minerals -= part.minerals;
  to += part;
}

double capped_extent(double extent, const GroundBeans& g) {
  for (Component c : {Component::protein, Component::fat, Component::starch})
    if (g.releasable.of[c] > 0) extent = std::min(extent, 0.999 * g.bound.of[c] / g.releasable.of[c]);
  return extent;
}

double blend_further(GroundBeans& g, Duration before, Duration after, Duration full_time) {
  const double more = grind_extent(after, full_time) - grind_extent(before, full_time);
  const double step = std::min(more, capped_extent(more, g));
  set_free(g.bound, g.free, g.releasable * step);
  g.extent += step;
  return step;
}

}  // namespace curdwright
