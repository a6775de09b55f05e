// SPDX-License-Identifier: MIT
#include "curdwright/stages/strain.hpp"

#include <algorithm>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

/// Presses once: splits the free liquor into what runs off and what the pulp holds.
/// Returns what runs off; `held` keeps the rest.
Stream press_off(Stream& held, double hold_kg) {
  const double share_held = hold_kg / held.of[Component::water];
  Stream off = held;
  off *= 1.0 - share_held;
  held *= share_held;
  return off;
}

/// Liquor that the pulp keeps when all of it is there to keep.
double held_by(const GroundBeans& pulp, const Theta& theta) { return theta[Param::held_liquor] * pulp.bound.of.solids_kg(); }
/// Some always runs off: a pulp that would keep more than this gives no milk.
double most_held(const GroundBeans& pulp) { return 0.98 * pulp.free.of[Component::water]; }

}  // namespace

Pressing press_ground(GroundBeans& pulp, const Theta& theta) {
  const double held_kg = held_by(pulp, theta);
  return {.off = press_off(pulp.free, held_kg), .held_kg = held_kg, .wash_kg = 0, .set_free = 0};
}

Pressing press_washed(GroundBeans& pulp, const Wash& w, double dry_kg, Duration blended, const StrainSettings& s, const Theta& theta) {
  const Stream wash = water_stream(kilograms(w.water_to_dry * dry_kg), s.wash_at);
  const Temperature mixed = mixed_temperature(pulp.free.of + pulp.bound.of, pulp.free.at, wash.of, wash.at);
  pulp.free.of += wash.of;
  pulp.free.at = mixed;
  const double set_free = w.blend.si() > 0 ? blend_further(pulp, blended, blended + w.blend, s.full_time) : 0.0;
  const double held_kg = std::min(held_by(pulp, theta), most_held(pulp));
  return {.off = press_off(pulp.free, held_kg), .held_kg = held_kg, .wash_kg = wash.of.total_kg(), .set_free = set_free};
}

Strained strain(const GroundBeans& ground, double dry_kg, const StrainSettings& s, const Theta& theta) {
  Strained r;
  GroundBeans pulp = ground;
  r.held_kg = held_by(pulp, theta);
  if (r.held_kg >= most_held(pulp)) {
    r.fault = Fault::pulp_keeps_all;
    r.pulp = ground.all();
    return r;
  }
  r.milk = press_ground(pulp, theta).off;
  Duration blended = s.blend_time;
  for (std::size_t i = 0; i < s.wash_count; ++i) {
    const Pressing washed = press_washed(pulp, s.washes[i], dry_kg, blended, s, theta);
    blended += s.washes[i].blend;
    r.wash_kg += washed.wash_kg;
    r.held_kg = washed.held_kg;
    const Temperature mixed = mixed_temperature(r.milk, washed.off);
    r.milk += washed.off;
    r.milk.at = mixed;
  }
  r.pulp = pulp.free + pulp.bound;
  r.pulp.at = pulp.free.at;
  return r;
}

}  // namespace curdwright
