// SPDX-License-Identifier: MIT
#include "curdwright/plan.hpp"

#include <algorithm>
#include <boost/container/static_vector.hpp>
#include <cmath>

#include "curdwright/properties.hpp"

namespace curdwright {
namespace {

Stream dry_seed(const Job& job, const Theta& theta, std::size_t i) {
  const SeedLot& lot = job.seeds[i];
  const double kg = in_kilograms(job.dry) * lot.share;
  Stream s;
  s.of = seed_composition(theta, i, lot.oily) * kg;
  s.minerals = Minerals{theta.of(Param::seed_calcium, i), theta.of(Param::seed_magnesium, i), lot.sodium} * kg;
  s.at = job.room;
  return s;
}

/// Soaked seed of each legume, side by side until it is ground.
struct SoakedLots {
  boost::container::static_vector<Stream, max_legumes> seed;
  std::array<SoakedLot, max_legumes> view;
};

/// Adds seed, or what leaves it in the soak: no granule is free yet.
void add_unground(Stream& to, const Stream& part) {
  to.of += part.of;
  to.minerals += part.minerals;
}

/// Stirs the extras of a stage in, and keeps them.
void stir_in(const Job& job, Stage stage, Stream& into, Plan& p) {
  const Added a = extras_of(job, stage);
  p.extras[static_cast<std::size_t>(stage)] = a;
  stir_in(a, into);
}

/// Puts a share of what is dissolved in the soak water into a stream.
void take_up(Stream& into, const Added& dissolved, double share) {
  into.of += dissolved.of * share;
  into.minerals += dissolved.minerals * share;
}

LotSoak soak_dry(const Stream& dry, const Job& job, const Theta& theta, std::size_t i, const TemperatureHistory& history, double poured_kg, const Added& dissolved, double left) {
  LotSoak r{.dry = dry, .soaked = soak(dry, job.soak, history, theta, i), .taken_up = 0, .seed = r.soaked.seed};
  if (job.extra_count == 0) return r;
  r.taken_up = std::min(left, r.soaked.uptake_kg / poured_kg);
  if (r.taken_up > 0) take_up(r.seed, dissolved, r.taken_up);
  return r;
}

void soak_all(const Job& job, const Theta& theta, SoakedLots& lots, Plan& p) {
  for (std::size_t i = 0; i < job.legume_count; ++i) {
    lots.seed.push_back(dry_seed(job, theta, i));
    add_unground(p.seed, lots.seed[i]);
  }
  p.seed.at = job.room;
  p.soaking = soak_history(p.seed, job.soak, theta[Param::vessel_coefficient]);
  p.soak_water_in = water_stream(job.dry * (job.soak.water_to_dry * (1 + job.soak.changes)), job.soak.water_at);
  // Extras are dissolved in all the water that is poured: the seed takes up its share of it, the rest is poured away.
  const Added dissolved = job.extra_count > 0 ? extras_of(job, Stage::soak) : Added{};
  double poured_away = 1.0;
  for (std::size_t i = 0; i < job.legume_count; ++i) {
    const LotSoak lot = soak_dry(lots.seed[i], job, theta, i, p.soaking, p.soak_water_in.of.total_kg(), dissolved, poured_away);
    poured_away -= lot.taken_up;
    lots.seed[i] = lot.seed;
    lots.view[i] = {&lots.seed[i], i, dissolved.minerals * lot.taken_up};
    add_unground(p.soaked, lot.seed);
    add_unground(p.soak_water, lot.soaked.soak_water);
    add_unground(p.hulls, lot.soaked.hulls);
    p.soaked_kg[i] = lot.seed.of.total_kg();
    p.uptake_kg += lot.soaked.uptake_kg;
    p.short_of_water = p.short_of_water || lot.soaked.short_of_water;
  }
  if (job.extra_count > 0) {
    take_up(p.soak_water, dissolved, poured_away);
    p.extras[static_cast<std::size_t>(Stage::soak)] = dissolved;
  }
  p.soaked.at = p.soak_water.at = p.hulls.at = p.soaking.end();
}

bool stopped(Plan& p, Fault fault, Stage at) {
  if (fault == Fault::none) return false;
  if (p.fault == Fault::none) {
    p.fault = fault;
    p.fault_at = at;
  }
  return true;
}

/// Difference between two compositions relative to the larger mass, at its worst component.
double worst_difference(const Composition& in, const Composition& out) {
  const double scale = std::max({in.total_kg(), out.total_kg(), 1e-300});
  double worst = 0;
  for (std::size_t i = 0; i < component_count; ++i) worst = std::max(worst, std::abs(in.kg[i] - out.kg[i]) / scale);
  return worst;
}

}  // namespace

Added extras_of(const Job& job, Stage stage) {
  Added a;
  for (std::size_t i = 0; i < job.extra_count; ++i) {
    const Addition& e = job.extras[i];
    if (e.stage != stage) continue;
    const double kg = in_kilograms(e.mass(job.dry));
    a.of += e.of * kg;
    a.minerals += e.minerals * kg;
  }
  return a;
}

void stir_in(const Added& a, Stream& into) {
  into.of += a.of;
  into.minerals += a.minerals;
  into.granules.never_settles_kg += a.of[Component::starch];
}

LotSoak soak_lot(const Job& job, const Theta& theta, std::size_t i, const TemperatureHistory& history, double poured_kg, const Added& dissolved, double left) {
  return soak_dry(dry_seed(job, theta, i), job, theta, i, history, poured_kg, dissolved, left);
}

Composition seed_composition(const Theta& theta, std::size_t i, bool oily) {
  const auto of = [&](Param p) { return theta.of(p, i); };
  Composition c;
  c[Component::water] = of(Param::seed_water);
  c[Component::protein] = of(Param::seed_protein);
  c[Component::fat] = of(Param::seed_fat);
  c[Component::ash] = of(Param::seed_ash);
  // Carbohydrate by difference; fibre first, then sugars, then starch, each as far as it goes.
  const double carbohydrate = std::max(0.0, 1.0 - c.total_kg());
  c[Component::fibre] = std::min(of(Param::seed_fibre), carbohydrate);
  const double available = carbohydrate - c[Component::fibre];
  c[Component::sugars] = std::min(of(Param::seed_sugars), available);
  c[Component::starch] = std::min(of(Param::seed_starch), available - c[Component::sugars]);
  const double unnamed = available - c[Component::sugars] - c[Component::starch];
  const double to_fibre = theta[oily ? Param::unassigned_fibre_oily : Param::unassigned_fibre_pulse];
  c[Component::fibre] += unnamed * to_fibre;
  c[Component::sugars] += unnamed * (1.0 - to_fibre);
  return c * (1.0 / c.total_kg());
}

Plan plan(const Job& job, const Theta& theta) { return plan(job, theta, Stage::chill); }

Plan plan(const Job& job, const Theta& theta, Stage last) {
  Plan p;
  p.dry = job.dry;
  p.block = job.press.block;
  p.drip = theta[Param::drip];
  p.solids_per_brix = theta[Param::solids_per_brix];
  const double dry_kg = in_kilograms(job.dry);

  SoakedLots lots;
  soak_all(job, theta, lots, p);
  if (last == Stage::soak) return p;
  Stream seasoned;
  const auto with_extras = [&](Stage stage, const Stream& plain) -> const Stream& {
    if (job.extra_count == 0) return plain;
    seasoned = plain;
    stir_in(job, stage, seasoned, p);
    return seasoned;
  };

  p.water = blend_water(job.blend, dry_kg, p.uptake_kg, p.soaked.of.total_kg());
  if (p.water.below_uptake && stopped(p, Fault::water_below_uptake, Stage::blend)) return p;
  p.ground = blend(std::span(lots.view.data(), job.legume_count), job.blend, kilograms(p.water.grinding_kg), theta);
  if (job.extra_count > 0) stir_in(job, Stage::blend, p.ground.free, p);
  if (last == Stage::blend) return p;

  p.strained = strain(p.ground, dry_kg, job.strain, theta);
  if (stopped(p, p.strained.fault, Stage::strain) || last == Stage::strain) return p;
  p.destarched = remove_starch(p.strained.milk, job.starch, theta);
  if (last == Stage::starch) return p;
  p.cooked = cook(with_extras(Stage::cook, p.destarched.milk), job.cook, theta);
  stopped(p, p.cooked.fault, Stage::cook);  // the masses hold all the same
  if (last == Stage::cook) return p;
  p.set = coagulate(with_extras(Stage::coagulate, p.cooked.milk), p.ground.dose_mmol_g, p.ground.coagulable, job.coagulate, theta);
  if (stopped(p, p.set.fault, Stage::coagulate) || last == Stage::coagulate) return p;
  p.pressed = press(p.set.milk, p.set.curdled_kg, job.press, theta);
  stopped(p, p.pressed.fault, Stage::press);
  if (job.extra_count > 0 && p.pressed.curd.of.total_kg() > 0) stir_in(job, Stage::press, p.pressed.curd, p);
  return p;
}

StageFlows flows(const Plan& p, Stage stage, FlowSpare& spare) {
  StageFlows f;
  switch (stage) {
    case Stage::soak:
      f.add_in("seed", p.seed), f.add_in("soak_water", p.soak_water_in);
      f.add_out("soaked_seed", p.soaked);
      f.add_aside("soak_water", p.soak_water), f.add_aside("hulls", p.hulls);
      break;
    case Stage::blend:
      spare.grinding_water = water_stream(kilograms(p.water.grinding_kg), p.ground.free.at);
      spare.ground = p.ground.all();
      f.add_in("soaked_seed", p.soaked), f.add_in("grinding_water", spare.grinding_water);
      f.add_out("ground_beans", spare.ground);
      f.add_aside("spill", p.ground.spill);
      break;
    case Stage::strain:
      spare.ground = p.ground.all();
      spare.wash_water = water_stream(kilograms(p.strained.wash_kg), p.ground.free.at);
      f.add_in("ground_beans", spare.ground);
      if (p.strained.wash_kg > 0) f.add_in("wash_water", spare.wash_water);
      f.add_out("milk", p.strained.milk);
      f.add_aside("pulp", p.strained.pulp);
      break;
    case Stage::starch:
      f.add_in("milk", p.strained.milk), f.add_out("milk", p.destarched.milk);
      f.add_aside("starch_sediment", p.destarched.sediment), f.add_aside("cloudy_milk", p.destarched.heel);
      f.add_aside("starch_gel", p.destarched.gel);
      break;
    case Stage::cook:
      f.add_in("milk", p.destarched.milk), f.add_out("milk", p.cooked.milk);
      f.add_aside("steam", p.cooked.steam), f.add_aside("film", p.cooked.film);
      break;
    case Stage::coagulate:
      f.add_in("milk", p.cooked.milk), f.add_in("coagulant_mix", p.set.mix);
      f.add_out("set_milk", p.set.milk);
      f.made = p.set.made;
      break;
    case Stage::press:
      f.add_in("set_milk", p.set.milk), f.add_out("curd", p.pressed.curd);
      f.add_aside("whey", p.pressed.whey), f.add_aside("trim", p.pressed.trim);
      break;
    case Stage::chill:
      f.add_in("curd", p.pressed.curd), f.add_out("curd", p.pressed.curd);
      break;
  }
  if (const Added& added = p.extras[static_cast<std::size_t>(stage)]; added.of.total_kg() > 0) {
    spare.extras.of = added.of;
    spare.extras.minerals = added.minerals;
    f.add_in("extras", spare.extras);
  }
  return f;
}

double balance_error(const StageFlows& f) {
  Composition in = f.made, out;
  for (std::size_t i = 0; i < f.in_count; ++i) in += f.in[i].stream->of;
  for (std::size_t i = 0; i < f.out_count; ++i) out += f.out[i].stream->of;
  for (std::size_t i = 0; i < f.aside_count; ++i) out += f.aside[i].stream->of;
  return worst_difference(in, out);
}

double balance_error(const Plan& p) {
  Composition in = p.set.made, out = p.pressed.curd.of;
  in += p.seed.of + p.soak_water_in.of + p.set.mix.of;
  in[Component::water] += p.water.grinding_kg + p.strained.wash_kg;
  for (const Added& added : p.extras) in += added.of;
  for (const Stream* s : {&p.soak_water, &p.hulls, &p.ground.spill, &p.strained.pulp, &p.destarched.sediment, &p.destarched.heel, &p.destarched.gel,
                          &p.cooked.steam, &p.cooked.film, &p.pressed.whey, &p.pressed.trim})
    out += s->of;
  return worst_difference(in, out);
}

}  // namespace curdwright
