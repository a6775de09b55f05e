// SPDX-License-Identifier: MIT
// The sheet as JSON: a contract. Fixed key order, 9 significant digits, units in the keys, absent means absent.
#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "curdwright/sheet.hpp"
#include "curdwright/version.hpp"
#include "sheets/json_parts.hpp"

namespace curdwright {
namespace {

using sheets::write_caution;

void write_cautions(JsonWriter& w, std::string_view name, const std::vector<Caution>& list) {
  w.list(name, [&] {
    for (const Caution& c : list) write_caution(w, c);
  });
}

void write_amount(JsonWriter& w, const SheetAmount& a) {
  w.put("amount", a.amount), w.put("what", a.what);
  if (!a.note.empty()) w.put("note", a.note);
}

void write_amounts(JsonWriter& w, std::string_view name, const std::vector<SheetAmount>& list) {
  w.list(name, [&] {
    for (const SheetAmount& a : list) w.object([&] { write_amount(w, a); });
  });
}

void write_batch(JsonWriter& w, const Batch& b) {
  const double dry_g = value(b.plan, Figure::dry_mass);
  w.put("dry_mass_g", dry_g), w.put("soaked_mass_g", value(b.plan, Figure::soaked_mass));
  w.list("legumes", [&] {
    for (std::size_t i = 0; i < b.setup.legumes.size(); ++i)
      w.object([&] {
        w.put("id", b.setup.legumes[i].id), w.put("dry_mass_g", dry_g * b.setup.job.seeds[i].share), w.put("soaked_mass_g", 1e3 * b.plan.soaked_kg[i]);
      });
  });
  w.put("kitchen", b.setup.kitchen.name);
}

/// The figures of a group, each by its key.
template <class Write>
void each_figure(FigureGroup group, Write write) {
  for (const FigureInfo& f : all_figures())
    if (f.group == group) write(f);
}

void write_expect(JsonWriter& w, const Batch& b) {
  each_figure(FigureGroup::expect, [&](const FigureInfo& f) { w.put(f.key, f.of(b.plan)); });
  w.object("per_100g", [&] { each_figure(FigureGroup::per_100g, [&](const FigureInfo& f) { w.put(f.key, f.of(b.plan)); }); });
  w.object("per_block", [&] { each_figure(FigureGroup::per_100g, [&](const FigureInfo& f) { w.put(f.key, f.of(b.plan) * in_grams(b.plan.block) / 100.0); }); });
}

void write_range(JsonWriter& w, std::string_view name, const Range& r) {
  w.object(name, [&] { w.put("low", r.low), w.put("high", r.high); });
}

void write_ranges(JsonWriter& w, const Batch& b, const Ranges& r) {
  const double per_block = in_grams(b.plan.block) / 100.0;
  const auto block = [&](const Range& of) { return Range{of.low * per_block, of.high * per_block}; };
  each_figure(FigureGroup::expect, [&](const FigureInfo& f) { write_range(w, f.key, r.of(f.figure)); });
  w.object("per_100g", [&] { each_figure(FigureGroup::per_100g, [&](const FigureInfo& f) { write_range(w, f.key, r.of(f.figure)); }); });
  w.object("per_block", [&] { each_figure(FigureGroup::per_100g, [&](const FigureInfo& f) { write_range(w, f.key, block(r.of(f.figure))); }); });
}

void write_influence(JsonWriter& w, const Batch& b, const Influence& in, bool indexed) {
  const Belief& belief = b.setup.beliefs.all()[in.belief];
  w.put("parameter", info(belief.param).key), w.put("plain", info(belief.param).plain), w.put("variance_fraction", in.share);
  if (belief.scope == Scope::legume) w.put("legume", b.setup.legumes[belief.legume].id);
  if (indexed) w.put("first_order_fraction", in.first_order), w.put("total_fraction", in.total);
}

/// How the ranges were found, and what the mass of curd depends on.
void write_sample(JsonWriter& w, const Batch& b, const Ranges& r) {
  w.put("kind", "shifted Sobol sequence"), w.put("plans_count", r.plans), w.put("seed_number", r.seed), w.put("low_fraction", 0.1), w.put("high_fraction", 0.9);
  if (r.failed > 0) w.put("failed_count", r.failed);
  if (r.index_plans > 0) w.put("index_plans_count", r.index_plans);
  w.list("curd_mass_depends_on", [&] {
    for (std::size_t i = 0; i < std::max<std::size_t>(3, r.indexed); ++i) w.object([&] { write_influence(w, b, r.influences[i], i < r.indexed); });
  });
}

/// Amounts as they are, what the label says of them, and the share of a day as the label rounds it.
void write_label_part(JsonWriter& w, const NutritionLabel& l, bool block) {
  const auto name = [](const NutritionLine& n) { return n.key.substr(0, n.key.rfind('_')); };
  for (const NutritionLine& n : l.lines) {
    if (n.nutrient == Nutrient::energy) w.put("energy_kj", block ? l.kj_block : l.kj_100g);
    w.put(n.key, block ? n.per_block : n.per_100g);
  }
  w.object("declared", [&] {
    for (const NutritionLine& n : l.lines) w.put(name(n), block ? n.text_block : n.text_100g);
  });
  w.object("of_a_day", [&] {
    for (const NutritionLine& n : l.lines)
      if (const auto& percent = block ? n.percent_block : n.percent_100g) w.put(std::string(name(n)) + "_fraction", *percent / 100.0);
  });
}

void write_label(JsonWriter& w, const NutritionLabel& l) {
  w.put("rules", word(l.rules)), w.put("estimate", true);
  w.object("per_100g", [&] { write_label_part(w, l, false); });
  w.object("per_block", [&] { write_label_part(w, l, true); });
  const auto any = [&](auto says) { return std::any_of(l.lines.begin(), l.lines.end(), says); };
  if (any([](const NutritionLine& n) { return n.likely.has_value(); }))
    w.object("likely_per_100g", [&] {
      for (const NutritionLine& n : l.lines)
        if (n.likely) write_range(w, n.key, *n.likely);
    });
  if (any([](const NutritionLine& n) { return !n.declare; }))
    w.list("too_little_to_declare", [&] {
      for (const NutritionLine& n : l.lines)
        if (!n.declare) w.item(n.plain);
    });
  w.put("not_estimated", l.not_estimated);
}

void write_cost(JsonWriter& w, const Cost& c) {
  w.put("currency", c.currency), w.put("complete", c.missing.empty());
  if (c.sums) w.put("total_money", c.sums->total), w.put("per_block_money", c.sums->per_block), w.put("per_100g_money", c.sums->per_100g), w.put("per_10g_protein_money", c.sums->per_10g_protein);
  w.list("lines", [&] {
    for (const CostLine& l : c.lines)
      w.object([&] {
        w.put("id", l.id), w.put("what", l.what), w.put("price", l.price);
        if (l.energy_j > 0)
          w.put("energy_kwh", l.energy_j / joules_per_kwh);
        else
          w.put("mass_g", in_grams(l.mass));
        w.put("line_money", l.money);
      });
  });
  w.put("missing", c.missing);
}

void write_reading(JsonWriter& w, const SheetReading& r) {
  const auto keyed = [&](std::string_view what) { return fmt::format("{}_{}", what, r.unit); };
  w.put("word", r.word), w.put("what", r.plain), w.put("stage", word(r.stage)), w.put("observed", r.observed), w.put(keyed("told"), r.told);
  if (r.planned) w.put(keyed("planned"), *r.planned);
  if (r.low) w.put(keyed("low"), *r.low), w.put(keyed("high"), *r.high);
  if (r.observed) w.put("weight_fraction", r.weight);
  if (!r.slip.empty()) w.put("slip", r.slip);
}

void write_move(JsonWriter& w, const SheetMove& m) {
  w.put("seen", m.seen), w.put("cause", m.cause), w.put("action", m.action), w.put("stop", m.stop), w.put("known", m.known), w.put("likely", m.likely), w.put("discard", m.discard);
  if (!m.before.empty()) w.put("before", m.before);
}

void write_weighing(JsonWriter& w, const SheetWeighing& e) {
  write_amount(w, e);
  if (!e.measure.empty()) w.put("measure", e.measure);
  if (e.times > 1) w.put("weighings_count", e.times);
}

void write_step(JsonWriter& w, const SheetStep& s) {
  w.put("step_number", s.number), w.put("stage", word(s.stage)), w.put("verb", s.verb), w.put("starts", s.starts), w.put("takes", s.takes);
  w.put("start_s", in_seconds(s.start)), w.put("length_s", in_seconds(s.length)), w.put("hands_on_s", in_seconds(s.hands_on));
  write_cautions(w, "before", s.before);
  write_amounts(w, "amounts", s.amounts);
  w.put("actions", s.actions), w.put("ready", s.ready), w.put("if_not", s.if_not);
  w.list("weigh", [&] {
    for (const SheetWeighing& e : s.expected) w.object([&] { write_weighing(w, e); });
  });
  if (s.done) w.put("done", true);
  if (!s.told.empty()) w.put("told", s.told);
}

void write_operation(JsonWriter& w, const Operation& o, const std::string* clock) {
  w.put("what", word(o.work)), w.put("step", word(o.step())), w.put("start_s", in_seconds(o.start)), w.put("length_s", in_seconds(o.length)), w.put("hands", o.hands);
  if (o.load > 0) w.put("load_number", o.load);
  if (o.pot >= 0) w.put("pot_number", o.pot + 1);
  if (o.moulds > 0) w.put("moulds_count", o.moulds);
  if (clock) w.put("clock", *clock);
}

/// Every jarful, pot and filling, in the order of their starts.
void write_day(JsonWriter& w, const Timeline& t, const Sheet& s) {
  std::vector<std::size_t> by_start(t.operations.size());
  std::iota(by_start.begin(), by_start.end(), std::size_t{0});
  std::stable_sort(by_start.begin(), by_start.end(), [&](std::size_t a, std::size_t b) { return t.operations[a].start < t.operations[b].start; });
  w.list("day", [&] {
    for (std::size_t i : by_start) w.object([&] { write_operation(w, t.operations[i], s.moments.empty() ? nullptr : &s.moments[i]); });
  });
}

/// The document is of one of them.
void write_sharing(JsonWriter& w, const Sharing& all, std::string_view why) {
  w.put("batches_count", all.batches), w.put("why", why), w.put("dry_mass_g", in_grams(all.dry));
  if (all.last_blocks > 0) w.put("last_blocks_count", all.last_blocks);
}

void write_target(JsonWriter& w, const Batch& b) {
  const FigureInfo& figure = info(b.target->figure);
  w.put("figure", figure.key), w.put(figure.key, b.target->value);
  if (const auto& sure = b.setup.recipe.want.sure) w.put("sure_fraction", *sure), w.put("chance_fraction", b.chance);
}

/// What was told of a batch in hand, and the next moves.
void write_told(JsonWriter& w, const Sheet& s) {
  if (!s.readings.empty()) {
    w.list("readings", [&] {
      for (const SheetReading& r : s.readings) w.object([&] { write_reading(w, r); });
    });
    w.put("changed", s.changed);
  }
  if (!s.moves.empty())
    w.list("moves", [&] {
      for (const SheetMove& m : s.moves) w.object([&] { write_move(w, m); });
    });
}

/// What comes out, whether it fits, what it holds and costs, and how sure that is.
void write_outcome(JsonWriter& w, const Batch& b, const Sheet& s, const Ranges* ranges) {
  w.object("expect", [&] { write_expect(w, b); });
  if (b.target) w.object("target", [&] { write_target(w, b); });
  if (!s.limits.empty()) write_amounts(w, "limits", s.limits);
  if (b.shared) w.object("batches", [&] { write_sharing(w, *b.shared, s.batches); });
  w.object("label", [&] { write_label(w, s.label); });
  if (s.cost) w.object("cost", [&] { write_cost(w, *s.cost); });
  if (!ranges) return;
  w.object("ranges", [&] { write_ranges(w, b, *ranges); });
  w.object("sample", [&] { write_sample(w, b, *ranges); });
}

void write_times(JsonWriter& w, const Timeline& t, const Sheet& s) {
  w.object("times", [&] { w.put("total_s", in_seconds(s.total_time)), w.put("hands_on_s", in_seconds(s.hands_on)); });
  if (!s.starts_at.empty())
    w.object("clock", [&] {
      w.put("start", s.starts_at);
      if (!s.ready_at.empty()) w.put("ready", s.ready_at);
      if (!s.zone.empty()) w.put("time_zone", s.zone);
    });
  write_day(w, t, s);
}

void write_sheet(JsonWriter& w, const Facts& facts, const Sheet& s, const Ranges* ranges) {
  const Batch& b = facts.batch;
  w.put("schema", "curdwright.sheet/1"), w.put("title", s.title), w.put("summary", s.summary);
  w.object("versions", [&] { w.put("program", program_version), w.put("data", data_version), w.put("model", model_version); });
  if (stops(s.cautions)) w.put("stopped", true);
  w.object("batch", [&] { write_batch(w, b); });
  sheets::write_stages(w, facts, s);
  write_told(w, s);
  write_outcome(w, b, s, ranges);
  write_cautions(w, "cautions", s.cautions);
  if (!s.allergens.empty()) w.put("allergens", s.allergens);
  write_times(w, facts.timeline, s);
  write_amounts(w, "weigh_out", s.weigh_out);
  w.put("vessels", s.vessels), w.put("ticks", s.ticks);
  w.list("steps", [&] {
    for (const SheetStep& step : s.steps) w.object([&] { write_step(w, step); });
  });
  write_amounts(w, "leftovers", s.leftovers);
  w.put("made_in", s.made_in), w.put("standing", s.standing);
  w.object("balance", [&] { w.put("worst_component_fraction", balance_error(b.plan)); });
}

}  // namespace

std::string to_json(const Facts& facts, const Sheet& s, const Ranges* ranges, Layout layout) {
  JsonWriter w(layout);
  w.object([&] { write_sheet(w, facts, s, ranges); });
  return std::move(w).text();
}

}  // namespace curdwright
