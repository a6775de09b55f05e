// SPDX-License-Identifier: MIT
// Faults of a plan in words.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "curdwright/properties.hpp"
#include "curdwright/solve.hpp"

namespace curdwright {
namespace {

std::string kg(double kilos) { return kilos >= 1 ? fmt::format("{:.3g} kg", kilos) : fmt::format("{:.3g} g", kilos * 1e3); }

Problem problem(std::string_view pointer, std::string what, std::string why, std::string fix) {
  return {"out-of-reach", {.pointer = std::string(pointer)}, std::move(what), std::move(why), std::move(fix)};
}

/// Power with which the pot would just boil: its loss at the boil over the share of the heat that reaches it.
double watts_to_boil(const Setup& s, const Plan& p) {
  const CookSettings& c = s.job.cook;
  const double above_room = (p.cooked.reaches - c.room).si();
  return in_watts(c.hob) * (c.boil - c.room + boiling_margin).si() / std::max(1.0, above_room);
}

/// Into how many rounds the milk must be shared until each boils; 0 when none of up to 20 does.
int rounds_to_boil(const Setup& s) {
  const Theta theta = s.beliefs.medians();
  Job j = s.job;
  for (int n = j.cook.pots + 1; n <= 20; ++n) {
    j.cook.pots = j.coagulate.pots = n;
    if (plan(j, theta).cooked.fault == Fault::none) return n;
  }
  return 0;
}

Problem no_curd(const Plan& p, const Setup& s) {
  const std::string fix = "leave the dose to the rule, or check the amount and its unit";
  if (s.job.coagulate.kind != CoagulantKind::salt)
    return problem("/coagulate", fmt::format("nothing sets: {:.0f} % of the acid that it takes is there at the end of the wait", 100 * p.set.acid_to_rule),
                   "an acid needs most of its dose, and GDL its time to turn sour", fix);
  const double strength = in_millimolar(p.set.dose.strength);
  const bool too_much = strength > 50;
  return problem("/coagulate", fmt::format("{}: {:.3g} mmol of coagulant per litre of milk", too_much ? "so much coagulant keeps the curd dissolved" : "nothing sets", strength),
                 "a divalent salt sets all of it from 8 to 50 mmol/l, and nothing below 3 or above 210", fix);
}

}  // namespace

Problem fault_words(const Plan& p, const Setup& s) {
  switch (p.fault) {
    case Fault::none: break;
    case Fault::water_below_uptake:
      return problem("/blend", fmt::format("the total water, {:.2f} kg per kg dry seed, is less than the {:.2f} kg that the soak takes up", s.job.blend.water,
                                           p.uptake_kg / p.dry.si()),
                     "total water counts the soak", fmt::format("use at least {:.1f}; 6 to 10 is usual", p.uptake_kg / p.dry.si() + 1.5));
    case Fault::pulp_keeps_all:
      return problem("/blend", fmt::format("the pulp would hold all of the water: it asks for {} per kg of seed", kg(p.strained.held_kg / p.dry.si())),
                     fmt::format("{} leaves much milk in the pulp", s.strainer.kitchen_name), "use more water, or squeeze harder (see `list strainers`)");
    case Fault::hob_too_weak: {
      const int rounds = rounds_to_boil(s);
      return problem("/kitchen/hob", fmt::format("the {} of {:.0f} W cannot boil {} of milk in one pot: it would stop at {:.0f} degC", s.hob.kitchen_name,
                                                 in_watts(s.job.cook.hob), kg(p.destarched.milk.of.total_kg() / s.job.cook.pots), in_celsius(p.cooked.reaches)),
                     fmt::format("water boils at {:.1f} degC here, and the pot loses as much heat as it gets", in_celsius(s.job.cook.boil)),
                     fmt::format("use a ring of {:.0f} W or more{}", std::ceil(watts_to_boil(s, p) / 50) * 50, rounds > 0 ? fmt::format(", or cook it in {} rounds (ask for that much less)", rounds) : ""));
    }
    case Fault::no_curd: return no_curd(p, s);
    case Fault::moisture_too_wet:
      return problem("/press/moisture", fmt::format("a moisture of {:.1f} % is wetter than the drained curd", 100 * s.job.press.moisture.value_or(0)),
                     fmt::format("unpressed, this curd drains to {:.1f} %", 100 * s.beliefs.medians()[Param::drained_moisture]), "ask for a drier curd, or do not press");
    case Fault::moisture_out_of_reach:
      return problem("/press/moisture", "this moisture leaves no room for the solids of the whey", "", "ask for a drier curd");
  }
  return problem("", "the plan is whole", "", "");
}

}  // namespace curdwright
