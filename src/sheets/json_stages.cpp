// SPDX-License-Identifier: MIT
// The section /stages of the JSON sheet.
#include <algorithm>
#include <array>

#include "sheets/json_parts.hpp"
#include "sheets/steps.hpp"

namespace curdwright::sheets {
namespace {

void write_streams(JsonWriter& w, std::string_view name, const std::array<NamedStream, 4>& list, std::size_t count) {
  w.object(name, [&] {
    for (std::size_t i = 0; i < count; ++i)
      w.object(list[i].name, [&] {
        const Composition& of = list[i].stream->of;
        w.put("mass_g", 1e3 * of.total_kg());
        for (Component c : all_components) w.put(component_key(c), 1e3 * of[c]);
      });
  });
}

void put(JsonWriter& w, std::string_view key, const std::optional<Duration>& d) {
  if (d) w.put(key, in_seconds(*d));
}

void strain_settings(JsonWriter& w, const Batch& b) {
  const Job& j = b.setup.job;
  w.put("strainer", b.setup.strainer.id);
  w.list("washes", [&] {
    for (std::size_t i = 0; i < j.strain.wash_count; ++i)
      w.object([&] { w.put("water_g", 1e3 * j.strain.washes[i].water_to_dry * j.dry.si()), w.put("blend_s", in_seconds(j.strain.washes[i].blend)); });
  });
}

void starch_settings(JsonWriter& w, const StarchSettings& s) {
  w.put("remove", word(s.remove)), w.put("time_s", in_seconds(s.time)), w.put("times_count", s.times);
  w.put("vessels_count", s.vessels), w.put("surroundings_c", in_celsius(s.surroundings));
}

void write_settings(JsonWriter& w, const Batch& b, Stage stage) {
  const Job& j = b.setup.job;
  switch (stage) {
    case Stage::soak:
      w.put("water_temperature_c", in_celsius(j.soak.water_at)), w.put("surroundings_c", in_celsius(j.soak.surroundings)), w.put("time_s", in_seconds(j.soak.time));
      w.put("water_to_dry_fraction", j.soak.water_to_dry), w.put("changes_count", j.soak.changes), w.put("skins_off", j.soak.skins_off);
      break;
    case Stage::blend:
      w.put("total_water_to_dry_fraction", b.plan.water.total_to_dry), w.put("grinding_water_g", 1e3 * b.plan.water.grinding_kg);
      w.put("water_temperature_c", in_celsius(j.blend.water_at)), w.put("time_s", in_seconds(j.blend.time)), w.put("jarfuls_count", j.blend.jarfuls);
      w.put("blender", b.setup.blender.id), w.put("water_chosen", b.setup.water_chosen);
      break;
    case Stage::strain: strain_settings(w, b); break;
    case Stage::starch: starch_settings(w, j.starch); break;
    case Stage::cook:
      w.put("hold_s", in_seconds(j.cook.hold)), w.put("boil_c", in_celsius(j.cook.boil)), w.put("pots_count", j.cook.pots), w.put("hob_w", in_watts(j.cook.hob));
      break;
    case Stage::coagulate:
      w.put("with", b.setup.coagulant.id), w.put("at_c", in_celsius(j.coagulate.at)), w.put("wait_s", in_seconds(j.coagulate.wait));
      w.put("make_up_fraction", j.coagulate.make_up), w.put("mix_water_g", in_grams(mix_water(b)));
      break;
    case Stage::press:
      w.put("pressure_kpa", in_kilopascals(j.press.pressure)), w.put("time_s", in_seconds(j.press.time));
      w.put("surroundings_c", in_celsius(b.setup.press_surroundings)), w.put("rounds_count", b.press_rounds);
      if (j.press.moisture) w.put("moisture_fraction", *j.press.moisture);
      break;
    case Stage::chill: w.put("in", b.setup.chill.id), w.put("medium_c", in_celsius(b.setup.chill_medium)); break;
  }
}

/// What was stirred in at a stage, as weighed.
void write_extras(JsonWriter& w, const Batch& b, Stage stage) {
  const auto& extras = b.setup.extras;
  if (std::none_of(extras.begin(), extras.end(), [stage](const ChosenExtra& e) { return e.stage == stage; })) return;
  w.list("extras", [&] {
    for (std::size_t i = 0; i < extras.size(); ++i)
      if (extras[i].stage == stage) w.object([&] { w.put("what", extras[i].extra.id), w.put("mass_g", in_grams(extra_mass(b, i))); });
  });
}

/// High up, milk boils before it comes to 95 degC, and there is no time to tell.
bool reached(const FigureInfo& f, const Plan& p) { return f.figure != Figure::to_95 || f.of(p) > 0; }

void chill_figures(JsonWriter& w, const Batch& b, const Cooling& c) {
  w.put("start_c", in_celsius(c.start));
  put(w, "first_limit_s", c.under_first), put(w, "second_limit_s", c.under_second);
  w.put("cooling_met", c.met);
  w.put("last_day_number", last_day(b));
}

void write_figures(JsonWriter& w, const Facts& facts, Stage stage, const std::optional<SettlingAdvice>& settling) {
  const Batch& b = facts.batch;
  const Plan& p = b.plan;
  for (const FigureInfo& f : all_figures())
    if (f.group == FigureGroup::stage && f.stage == stage && reached(f, p)) w.put(f.key, f.of(p));
  switch (stage) {
    case Stage::soak: w.put("growth_log10", facts.soak_growth), w.put("uptake_g", 1e3 * p.uptake_kg); break;
    case Stage::starch:
      if (settling) put(w, "settled_90_s", settling->ninety), put(w, "settled_95_s", settling->ninety_five), put(w, "settled_enough_s", settling->enough);
      break;
    case Stage::cook:
      w.put("trypsin_inhibitor_left_fraction", facts.trypsin_left);
      w.put("lipoxygenase_left_fraction", lipoxygenase_left(p.cooked.history, b.theta));
      break;
    case Stage::coagulate:
      w.put("coagulant_made_up_g", in_grams(coagulant_made_up(b)));
      w.put("setting_protein_fraction", p.set.setting_protein);
      if (b.setup.job.coagulate.kind == CoagulantKind::lactone) w.put("hydrolysed_fraction", p.set.hydrolysed);
      break;
    case Stage::press: w.put("drained_curd_g", 1e3 * p.pressed.drained_kg), w.put("moisture_limit_fraction", p.pressed.moisture_limit); break;
    case Stage::chill: chill_figures(w, b, facts.cooling); break;
    default: break;
  }
}

}  // namespace

void write_stages(JsonWriter& w, const Facts& facts, const Sheet& s) {
  const Batch& b = facts.batch;
  const auto write_stage = [&](Stage stage) {
    FlowSpare spare;
    const StageFlows f = flows(b.plan, stage, spare);
    w.put("stage", word(stage));
    write_streams(w, "in", f.in, f.in_count), write_streams(w, "out", f.out, f.out_count), write_streams(w, "aside", f.aside, f.aside_count);
    w.object("settings", [&] { write_settings(w, b, stage), write_extras(w, b, stage); });
    w.object("figures", [&] { write_figures(w, facts, stage, s.settling); });
    w.list("cautions", [&] {
      for (const Caution& c : s.cautions)
        if (c.stage == stage) write_caution(w, c);
    });
  };
  w.list("stages", [&] {
    for (Stage stage : all_stages) w.object([&] { write_stage(stage); });
  });
}

}  // namespace curdwright::sheets
