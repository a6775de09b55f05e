// SPDX-License-Identifier: MIT
#include "curdwright/stages/coagulate.hpp"

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"
#include "gdl.hpp"

namespace curdwright {
namespace {

/// GDL goes into cold milk, which is then heated: trade temperatures, from memory (medium).
constexpr Temperature gdl_mixed_at = celsius(15);
constexpr Duration gdl_heating = minutes(30);
/// How near to the room standing milk is let come: judgement.
constexpr TemperatureRise nearly = kelvins(0.5);

Stream mix_of(double used_kg, const CoagulateSettings& s, double active_mol) {
  Stream mix;
  mix.at = s.mix_at;
  mix.of[Component::salts] = used_kg * s.solute_kg_kg;
  mix.of[Component::water] = used_kg * (1.0 - s.solute_kg_kg) + used_kg * s.mix_water_kg_kg;
  if (s.ion == Ion::calcium) mix.minerals.calcium_kg = active_mol * calcium_kg_mol;
  if (s.ion == Ion::magnesium) mix.minerals.magnesium_kg = active_mol * magnesium_kg_mol;
  return mix;
}

TemperatureHistory pot_history(const Stream& cooked, const CoagulateSettings& s, const Theta& theta) {
  TemperatureHistory h(cooked.at);
  // Off the hob the pot stands open and is stirred, so it loses heat as it did while heating.
  const Duration tau = pot_time_constant(cooked.of * (1.0 / s.pots), s.at, theta[Param::pot_loss]);
  if (s.kind == CoagulantKind::lactone) return h.jump(gdl_mixed_at).ramp(gdl_heating, s.at).hold(s.wait);
  if (s.at >= cooked.at) return h.jump(s.at);
  // Standing never brings it quite to the room, let alone below: so close, and the rest is done at once.
  const Temperature by_standing = std::min(std::max(s.at, s.room + nearly), cooked.at);
  if (by_standing < cooked.at) h.relax(tau * std::log((cooked.at.si() - s.room.si()) / (by_standing.si() - s.room.si())), s.room, tau);
  return h.jump(s.at);
}

double rule_mmol_g(double legume_dose, const CoagulateSettings& s, const Theta& theta) {
  return s.kind == CoagulantKind::salt ? legume_dose : theta[Param::acid_dose];
}

}  // namespace

CoagulantDose coagulant_dose(const Stream& milk, double dose_mmol_g, const CoagulateSettings& s, const Theta& theta) {
  CoagulantDose d;
  const double litres_of_milk = in_litres(volume_at_20(milk.of));
  // The cook weighs by the label; what is in it may differ.
  const double true_mol_kg = s.active_mol_kg * theta[Param::coagulant_strength];
  if (s.used) {
    d.used_kg = in_kilograms(*s.used);
  } else {
    double mol = (s.dose ? in_millimoles_per_gram(*s.dose) : rule_mmol_g(dose_mmol_g, s, theta)) * milk.of[Component::protein];
    if (s.kind == CoagulantKind::salt && !s.dose) {
      const double low = in_millimolar(s.window_low) * litres_of_milk * 1e-3;
      const double high = in_millimolar(s.window_high) * litres_of_milk * 1e-3;
      d.held_low = mol < low;
      d.held_high = mol > high;
      mol = std::clamp(mol, low, high);
    }
    d.used_kg = mol / s.active_mol_kg;
  }
  d.active_mol = d.used_kg * true_mol_kg;
  d.strength = millimolar(litres_of_milk > 0 ? d.active_mol / litres_of_milk * 1e3 : 0.0);
  return d;
}

double salt_sets(Concentration strength) {
  const double c = in_millimolar(strength);
  const double rising = (c - 3.0) / (8.0 - 3.0);
  const double falling = (210.0 - c) / (210.0 - 50.0);
  return std::clamp(std::min(rising, falling), 0.0, 1.0);
}

double gdl_seconds_at_25(const TemperatureHistory& history, const Theta& theta) {
  const double energy = theta[Param::gdl_activation_energy];
  return integrate(history, [&](Temperature t) { return arrhenius(t, celsius(25), energy); });
}

double gdl_hydrolysed(const TemperatureHistory& history, const Theta& theta) { return -std::expm1(-theta[Param::gdl_rate] * gdl_seconds_at_25(history, theta)); }

double acid_sets(double acid_to_rule) { return std::clamp((acid_to_rule - 0.3) / 0.4, 0.0, 1.0); }

SetMilk coagulate(const Stream& cooked, double dose_mmol_g, double coagulable, const CoagulateSettings& s, const Theta& theta) {
  SetMilk r;
  r.dose = coagulant_dose(cooked, dose_mmol_g, s, theta);
  r.history = pot_history(cooked, s, theta);
  r.mix = mix_of(r.dose.used_kg, s, r.dose.active_mol);
  r.milk = cooked + r.mix;
  r.after_pouring = mixed_temperature(cooked.of, s.at, r.mix.of, r.mix.at);
  if (s.kind == CoagulantKind::lactone) {
    r.hydrolysed = gdl_hydrolysed(r.history, theta);
    const double bound_water = r.hydrolysed * r.mix.of[Component::salts] * water_kg_mol / gdl_kg_mol;
    r.made[Component::water] = -bound_water;
    r.made[Component::salts] = bound_water;
    r.milk.of += r.made;
    r.after_pouring = s.at;
  } else {
    const Duration tau = pot_time_constant(r.milk.of * (1.0 / s.pots), s.at, theta[Param::vessel_coefficient]);
    r.history.jump(r.after_pouring).relax(s.wait, s.room, tau);
  }
  r.milk.at = r.history.end();

  const double protein = cooked.of[Component::protein];
  const double rule = rule_mmol_g(dose_mmol_g, s, theta) * protein;
  if (s.kind != CoagulantKind::salt && rule > 0) r.acid_to_rule = r.dose.active_mol * (s.kind == CoagulantKind::lactone ? r.hydrolysed : 1.0) / rule;
  const double extent = s.kind == CoagulantKind::salt ? salt_sets(r.dose.strength) : acid_sets(r.acid_to_rule);
  r.setting_protein = coagulable * extent;
  r.curdled_kg = protein * r.setting_protein;
  if (!(r.curdled_kg > 0)) r.fault = Fault::no_curd;
  return r;
}

}  // namespace curdwright
