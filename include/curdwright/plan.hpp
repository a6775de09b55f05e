// SPDX-License-Identifier: MIT
/// \file plan.hpp
/// The one model: a job, all plain numbers, becomes a plan.
///
///     Result<Setup> s = resolve(recipe, kitchen, catalogue);
///     Plan p = plan(s->job, s->beliefs.medians());
///     double grams_of_curd = value(p, Figure::curd_mass);
///
/// plan() is total: it never throws, allocates, or prints; a fault is a field of Plan, and the streams up
/// to it are sound. Scaling, ranges, correction and learning all call it; none has a formula of its own.
#pragma once

#include "curdwright/stages/blend.hpp"
#include "curdwright/stages/chill.hpp"
#include "curdwright/stages/coagulate.hpp"
#include "curdwright/stages/cook.hpp"
#include "curdwright/stages/press.hpp"
#include "curdwright/stages/soak.hpp"
#include "curdwright/stages/starch.hpp"
#include "curdwright/stages/strain.hpp"

namespace curdwright {

/// One legume of a job.
struct SeedLot {
  double share = 1.0;     ///< of the dry seed
  bool oily = false;      ///< soy, lupin, peanut: the carbohydrate that no table names is mostly fibre
  double sodium = 0;      ///< mass fraction
};

/// Salt, oil, herbs and the like, stirred in at one stage.
struct Addition {
  Stage stage = Stage::press;
  Composition of;            ///< per kg
  Minerals minerals;         ///< kg per kg
  double to_dry = 0;         ///< kg per kg of dry seed
  Mass fixed;                ///< whatever the size of the batch
  [[nodiscard]] Mass mass(Mass dry) const { return fixed + dry * to_dry; }
};

/// Everything that a plan depends on, besides the beliefs.
struct Job {
  Mass dry = kilograms(1);
  std::array<SeedLot, max_legumes> seeds{};
  std::size_t legume_count = 1;
  Temperature room = celsius(20);
  SoakSettings soak;
  BlendSettings blend;
  StrainSettings strain;
  StarchSettings starch;
  CookSettings cook;
  CoagulateSettings coagulate;
  PressSettings press;
  std::array<Addition, max_extras> extras{};
  std::size_t extra_count = 0;
};

/// What the extras of one stage bring.
struct Added {
  Composition of;
  Minerals minerals;
};

/// One legume through its soak.
struct LotSoak {
  Stream dry;               ///< as bought
  Soaked soaked;            ///< in plain water
  double taken_up = 0;      ///< share of what is dissolved in the soak water that it takes up
  Stream seed;              ///< soaked, with that
};

struct Plan {
  Fault fault = Fault::none;
  Stage fault_at = Stage::soak;
  Mass dry;
  Mass block;
  double drip = 0;          ///< share lost on the first day in store
  double solids_per_brix = 1;  ///< solids for each degree of a refractometer

  Stream seed;              ///< dry, all legumes
  Stream soak_water_in;
  Stream soaked;            ///< all legumes, drained
  Stream soak_water;
  Stream hulls;
  std::array<double, max_legumes> soaked_kg{};  ///< by legume
  double uptake_kg = 0;
  bool short_of_water = false;
  TemperatureHistory soaking;

  std::array<Added, stage_count> extras{};  ///< by stage
  BlendWater water;
  GroundBeans ground;
  Strained strained;
  Destarched destarched;
  Cooked cooked;
  SetMilk set;
  Pressed pressed;

  [[nodiscard]] bool whole() const { return fault == Fault::none; }
};

/// Composition of one legume's seed as bought, per kg: the seven components add to 1. Carbohydrate that
/// is neither starch, sugars nor fibre in the tables is booked as fibre and sugars by the parameters.
Composition seed_composition(const Theta& theta, std::size_t legume, bool oily);

/// \param history of the soaking vessel \param poured_kg all soak water \param dissolved extras in it \param left share of them that is still in the water
LotSoak soak_lot(const Job& job, const Theta& theta, std::size_t legume, const TemperatureHistory& history, double poured_kg, const Added& dissolved, double left);

/// All that the extras of a stage bring, for a batch of this size.
Added extras_of(const Job& job, Stage stage);
/// A stream with extras stirred in. They take its temperature; their starch is bound and never settles.
void stir_in(const Added& extras, Stream& into);

Plan plan(const Job& job, const Theta& theta);
/// The same up to the end of a stage; what comes later is left empty. For what hangs on the first stages alone.
Plan plan(const Job& job, const Theta& theta, Stage last);

/// Whether all masses hold: a plan without fault, or one whose only fault is a hob that cannot boil it.
inline bool has_masses(const Plan& p) { return p.whole() || p.fault == Fault::hob_too_weak; }

/// Streams of a stage, by the names of the JSON sheet.
struct NamedStream {
  std::string_view name;
  const Stream* stream;
};
struct StageFlows {
  std::array<NamedStream, 4> in{}, out{}, aside{};
  std::size_t in_count = 0, out_count = 0, aside_count = 0;
  Composition made;  ///< by reaction inside the stage; sums to zero
  void add_in(std::string_view name, const Stream& s) { in[in_count++] = {name, &s}; }
  void add_out(std::string_view name, const Stream& s) { out[out_count++] = {name, &s}; }
  void add_aside(std::string_view name, const Stream& s) { if (s.of.total_kg() > 0) aside[aside_count++] = {name, &s}; }
};
/// `spare` holds streams that the plan does not keep; it must outlive the flows.
struct FlowSpare {
  Stream grinding_water, ground, wash_water, extras;
};
StageFlows flows(const Plan& plan, Stage stage, FlowSpare& spare);

/// Largest relative difference, over all components, between what goes into a stage and what comes out.
double balance_error(const StageFlows& flows);
/// The same over the whole batch.
double balance_error(const Plan& plan);

}  // namespace curdwright
