// SPDX-License-Identifier: MIT
#include "curdwright/stages/strain.hpp"

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

}  // namespace

Strained strain(const GroundBeans& ground, double dry_kg, const StrainSettings& s, const Theta& theta) {
  Strained r;
  const double ratio = theta[Param::held_liquor];
  GroundBeans pulp = ground;
  r.held_kg = ratio * pulp.bound.of.solids_kg();
  if (r.held_kg >= 0.98 * pulp.free.of[Component::water]) {
    r.fault = Fault::pulp_keeps_all;
    r.pulp = ground.all();
    return r;
  }
  r.milk = press_off(pulp.free, r.held_kg);
  Duration blended = s.blend_time;
  for (std::size_t i = 0; i < s.wash_count; ++i) {
    const Stream wash = water_stream(kilograms(s.washes[i].water_to_dry * dry_kg), s.wash_at);
    const Temperature wet = mixed_temperature(pulp.free.of + pulp.bound.of, pulp.free.at, wash.of, wash.at);
    pulp.free.of += wash.of;
    pulp.free.at = wet;
    r.wash_kg += wash.of.total_kg();
    if (s.washes[i].blend.si() > 0) {
      blend_further(pulp, blended, blended + s.washes[i].blend, s.full_time);
      blended += s.washes[i].blend;
    }
    const double water = pulp.free.of[Component::water];
    r.held_kg = std::min(ratio * pulp.bound.of.solids_kg(), 0.98 * water);
    const Stream off = press_off(pulp.free, r.held_kg);
    const Temperature mixed = mixed_temperature(r.milk, off);
    r.milk += off;
    r.milk.at = mixed;
  }
  r.pulp = pulp.free + pulp.bound;
  r.pulp.at = pulp.free.at;
  return r;
}

}  // namespace curdwright
