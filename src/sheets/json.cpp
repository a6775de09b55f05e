// SPDX-License-Identifier: MIT
// The sheet as JSON: a contract. Fixed key order, 9 significant digits, units in the keys, absent means absent.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>

#include "curdwright/properties.hpp"
#include "curdwright/settling.hpp"
#include "curdwright/sheet.hpp"
#include "curdwright/version.hpp"
#include "sheets/json_values.hpp"
#include "sheets/steps.hpp"

namespace curdwright {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array<const char*, component_count> component_keys = {"water_g", "protein_g", "starch_g", "sugars_g", "fat_g", "fibre_g", "ash_g", "salts_g"};

Json stream(const Stream& s) {
  Json j = {{"mass_g", number(1e3 * s.of.total_kg())}};
  for (std::size_t i = 0; i < component_count; ++i) j[component_keys[i]] = number(1e3 * s.of.kg[i]);
  return j;
}

Json named_streams(const std::array<NamedStream, 4>& list, std::size_t count) {
  Json j = Json::object();
  for (std::size_t i = 0; i < count; ++i) j[std::string(list[i].name)] = stream(*list[i].stream);
  return j;
}

Json cautions_json(const std::vector<Caution>& list) {
  Json all = Json::array();
  for (const Caution& c : list) all.push_back(caution_json(c));
  return all;
}

void put(Json& j, const char* key, const std::optional<Duration>& d) {
  if (d) j[key] = number(in_seconds(*d));
}

Json settings(const Batch& b, Stage stage) {
  const Job& j = b.setup.job;
  Json s = Json::object();
  switch (stage) {
    case Stage::soak:
      s = {{"water_temperature_c", number(in_celsius(j.soak.water_at))}, {"surroundings_c", number(in_celsius(j.soak.surroundings))}, {"time_s", number(in_seconds(j.soak.time))},
           {"water_to_dry_fraction", number(j.soak.water_to_dry)}, {"changes_count", j.soak.changes}, {"skins_off", j.soak.skins_off}};
      break;
    case Stage::blend:
      s = {{"total_water_to_dry_fraction", number(b.plan.water.total_to_dry)}, {"grinding_water_g", number(1e3 * b.plan.water.grinding_kg)},
           {"water_temperature_c", number(in_celsius(j.blend.water_at))}, {"time_s", number(in_seconds(j.blend.time))}, {"jarfuls_count", j.blend.jarfuls},
           {"blender", b.setup.blender.id}, {"water_chosen", b.setup.water_chosen}};
      break;
    case Stage::strain: {
      s = {{"strainer", b.setup.strainer.id}, {"washes", Json::array()}};
      for (std::size_t i = 0; i < j.strain.wash_count; ++i)
        s["washes"].push_back({{"water_g", number(1e3 * j.strain.washes[i].water_to_dry * j.dry.si())}, {"blend_s", number(in_seconds(j.strain.washes[i].blend))}});
      break;
    }
    case Stage::starch: {
      static constexpr std::array<const char*, 4> ways = {"settle", "gel-and-strain", "settle-and-gel", "none"};
      s = {{"remove", ways[static_cast<std::size_t>(j.starch.remove)]}, {"time_s", number(in_seconds(j.starch.time))}, {"times_count", j.starch.times},
           {"vessels_count", j.starch.vessels}, {"surroundings_c", number(in_celsius(j.starch.surroundings))}};
      break;
    }
    case Stage::cook:
      s = {{"hold_s", number(in_seconds(j.cook.hold))}, {"boil_c", number(in_celsius(j.cook.boil))}, {"pots_count", j.cook.pots}, {"hob_w", number(in_watts(j.cook.hob))}};
      break;
    case Stage::coagulate:
      s = {{"with", b.setup.coagulant.id}, {"at_c", number(in_celsius(j.coagulate.at))}, {"wait_s", number(in_seconds(j.coagulate.wait))},
           {"make_up_fraction", number(j.coagulate.make_up)}, {"mix_water_g", number(in_grams(sheets::mix_water(b)))}};
      break;
    case Stage::press:
      s = {{"pressure_kpa", number(in_kilopascals(j.press.pressure))}, {"time_s", number(in_seconds(j.press.time))}, {"surroundings_c", number(in_celsius(b.setup.press_surroundings))},
           {"rounds_count", b.press_rounds}};
      if (j.press.moisture) s["moisture_fraction"] = number(*j.press.moisture);
      break;
    case Stage::chill:
      s = {{"in", b.setup.chill.id}, {"medium_c", number(in_celsius(b.setup.chill_medium))}};
      break;
  }
  return s;
}

/// What was stirred in at a stage, as weighed.
Json extras_json(const Batch& b, Stage stage) {
  Json all = Json::array();
  for (std::size_t i = 0; i < b.setup.extras.size(); ++i)
    if (b.setup.extras[i].stage == stage) all.push_back({{"what", b.setup.extras[i].extra.id}, {"mass_g", number(in_grams(sheets::extra_mass(b, i)))}});
  return all;
}

/// High up, milk boils before it comes to 95 degC, and there is no time to tell.
bool reached(const FigureInfo& f, const Plan& p) { return f.figure != Figure::to_95 || f.of(p) > 0; }

Json stage_figures(const Batch& b, Stage stage, const Facts& facts) {
  Json j = Json::object();
  for (const FigureInfo& f : all_figures())
    if (f.group == FigureGroup::stage && f.stage == stage && reached(f, b.plan)) j[std::string(f.key)] = number(f.of(b.plan));
  switch (stage) {
    case Stage::soak: j["growth_log10"] = number(facts.soak_growth), j["uptake_g"] = number(1e3 * b.plan.uptake_kg); break;
    case Stage::starch:
      if (const auto a = settling_advice(b)) put(j, "settled_90_s", a->ninety), put(j, "settled_95_s", a->ninety_five), put(j, "settled_enough_s", a->enough);
      break;
    case Stage::cook:
      j["trypsin_inhibitor_left_fraction"] = number(facts.trypsin_left);
      j["lipoxygenase_left_fraction"] = number(lipoxygenase_left(b.plan.cooked.history, b.theta));
      break;
    case Stage::coagulate:
      j["coagulant_made_up_g"] = number(in_grams(sheets::coagulant_made_up(b)));
      j["setting_protein_fraction"] = number(b.plan.set.setting_protein);
      if (b.setup.job.coagulate.kind == CoagulantKind::lactone) j["hydrolysed_fraction"] = number(b.plan.set.hydrolysed);
      break;
    case Stage::press: j["drained_curd_g"] = number(1e3 * b.plan.pressed.drained_kg), j["moisture_limit_fraction"] = number(b.plan.pressed.moisture_limit); break;
    case Stage::chill:
      j["start_c"] = number(in_celsius(facts.cooling.start));
      put(j, "first_limit_s", facts.cooling.under_first), put(j, "second_limit_s", facts.cooling.under_second);
      j["cooling_met"] = facts.cooling.met;
      j["last_day_count"] = last_day(b);
      break;
    default: break;
  }
  return j;
}

Json stages(const Batch& b, const std::vector<Caution>& list, const Facts& facts) {
  Json all = Json::array();
  for (Stage stage : all_stages) {
    FlowSpare spare;
    const StageFlows f = flows(b.plan, stage, spare);
    Json j = {{"stage", key(stage)}, {"in", named_streams(f.in, f.in_count)}, {"out", named_streams(f.out, f.out_count)}, {"aside", named_streams(f.aside, f.aside_count)}};
    j["settings"] = settings(b, stage);
    if (Json extras = extras_json(b, stage); !extras.empty()) j["settings"]["extras"] = std::move(extras);
    j["figures"] = stage_figures(b, stage, facts);
    j["cautions"] = Json::array();
    for (const Caution& c : list)
      if (c.stage == stage) j["cautions"].push_back(caution_json(c));
    all.push_back(std::move(j));
  }
  return all;
}

Json expect(const Batch& b) {
  Json j = Json::object(), hundred = Json::object(), block = Json::object();
  for (const FigureInfo& f : all_figures()) {
    const double v = f.of(b.plan);
    if (f.group == FigureGroup::expect) j[std::string(f.key)] = number(v);
    if (f.group != FigureGroup::per_100g) continue;
    hundred[std::string(f.key)] = number(v);
    block[std::string(f.key)] = number(v * in_grams(b.plan.block) / 100.0);
  }
  j["per_100g"] = std::move(hundred);
  j["per_block"] = std::move(block);
  return j;
}

Json range(const Range& r) { return {{"low", number(r.low)}, {"high", number(r.high)}}; }

Json ranges_json(const Batch& b, const Ranges& r) {
  Json j = Json::object(), hundred = Json::object(), block = Json::object();
  const double per_block = in_grams(b.plan.block) / 100.0;
  for (const FigureInfo& f : all_figures()) {
    const Range of = r.of(f.figure);
    if (f.group == FigureGroup::expect) j[std::string(f.key)] = range(of);
    if (f.group != FigureGroup::per_100g) continue;
    hundred[std::string(f.key)] = range(of);
    block[std::string(f.key)] = range({of.low * per_block, of.high * per_block});
  }
  j["per_100g"] = std::move(hundred);
  j["per_block"] = std::move(block);
  return j;
}

/// How the ranges were found, and what the mass of curd depends on.
Json sample_json(const Batch& b, const Ranges& r) {
  Json j = {{"kind", "shifted Sobol sequence"}, {"plans_count", r.plans}, {"seed_count", r.seed}, {"low_fraction", 0.1}, {"high_fraction", 0.9}};
  if (r.failed > 0) j["failed_count"] = r.failed;
  if (r.index_plans > 0) j["index_plans_count"] = r.index_plans;
  j["curd_mass_depends_on"] = Json::array();
  for (std::size_t i = 0; i < std::max<std::size_t>(3, r.indexed); ++i) {
    const Influence& in = r.influences[i];
    const Belief& belief = b.setup.beliefs.all()[in.belief];
    Json row = {{"parameter", info(belief.param).key}, {"plain", info(belief.param).plain}, {"variance_fraction", number(in.share)}};
    if (belief.scope == Scope::legume) row["legume"] = b.setup.legumes[belief.legume].id;
    if (i < r.indexed) row["first_order_fraction"] = number(in.first_order), row["total_fraction"] = number(in.total);
    j["curd_mass_depends_on"].push_back(std::move(row));
  }
  return j;
}

Json amounts(const std::vector<SheetAmount>& list) {
  Json all = Json::array();
  for (const SheetAmount& a : list) {
    Json j = {{"amount", a.amount}, {"what", a.what}};
    if (!a.note.empty()) j["note"] = a.note;
    all.push_back(std::move(j));
  }
  return all;
}

/// Amounts as they are, what the label says of them, and the share of a day as the label rounds it.
Json label_part(const NutritionLabel& l, bool block) {
  Json j = Json::object(), words = Json::object(), day = Json::object();
  for (const NutritionLine& n : l.lines) {
    const std::string key(n.key), name = key.substr(0, key.rfind('_'));
    if (n.nutrient == Nutrient::energy) j["energy_kj"] = number(block ? l.kj_block : l.kj_100g);
    j[key] = number(block ? n.per_block : n.per_100g);
    words[name] = block ? n.text_block : n.text_100g;
    if (const auto& percent = block ? n.percent_block : n.percent_100g) day[name + "_fraction"] = number(*percent / 100.0);
  }
  j["declared"] = std::move(words);
  j["of_a_day"] = std::move(day);
  return j;
}

Json label_json(const NutritionLabel& l) {
  Json j = {{"rules", word(l.rules)}, {"estimate", true}, {"per_100g", label_part(l, false)}, {"per_block", label_part(l, true)}};
  Json too_little = Json::array(), likely = Json::object();
  for (const NutritionLine& n : l.lines) {
    if (n.likely) likely[std::string(n.key)] = range(*n.likely);
    if (!n.declare) too_little.push_back(n.plain);
  }
  if (!likely.empty()) j["likely_per_100g"] = std::move(likely);
  if (!too_little.empty()) j["too_little_to_declare"] = std::move(too_little);
  j["not_estimated"] = l.not_estimated;
  return j;
}

Json cost_json(const Cost& c) {
  constexpr double joules_per_kwh = 3.6e6;
  Json j = {{"currency", c.currency}, {"complete", c.missing.empty()}};
  if (c.sums)
    j.update({{"total_money", number(c.sums->total)}, {"per_block_money", number(c.sums->per_block)}, {"per_100g_money", number(c.sums->per_100g)}, {"per_10g_protein_money", number(c.sums->per_10g_protein)}});
  j["lines"] = Json::array();
  j["missing"] = c.missing;
  for (const CostLine& l : c.lines) {
    Json line = {{"id", l.id}, {"what", l.what}, {"price", l.price}};
    if (l.energy_j > 0)
      line["energy_kwh"] = number(l.energy_j / joules_per_kwh);
    else
      line["mass_g"] = number(in_grams(l.mass));
    line["line_money"] = number(l.money);
    j["lines"].push_back(std::move(line));
  }
  return j;
}

Json readings_json(const Sheet& s) {
  Json all = Json::array();
  for (const SheetReading& r : s.readings) {
    const auto keyed = [&](std::string_view what) { return fmt::format("{}_{}", what, r.unit); };
    Json j = {{"word", r.word}, {"what", r.plain}, {"stage", key(r.stage)}, {"observed", r.observed}, {keyed("told"), number(r.told)}};
    if (r.planned) j[keyed("planned")] = number(*r.planned);
    if (r.low) j[keyed("low")] = number(*r.low), j[keyed("high")] = number(*r.high);
    if (r.observed) j["weight_fraction"] = number(r.weight);
    if (!r.slip.empty()) j["slip"] = r.slip;
    all.push_back(std::move(j));
  }
  return all;
}

Json moves_json(const Sheet& s) {
  Json all = Json::array();
  for (const SheetMove& m : s.moves) {
    all.push_back({{"seen", m.seen}, {"cause", m.cause}, {"action", m.action}, {"stop", m.stop}, {"known", m.known}, {"likely", m.likely}, {"discard", m.discard}});
    if (!m.before.empty()) all.back()["before"] = m.before;
  }
  return all;
}

Json steps(const Sheet& s) {
  Json all = Json::array();
  for (const SheetStep& st : s.steps) {
    all.push_back({{"number_count", st.number}, {"stage", key(st.stage)}, {"verb", st.verb}, {"starts", st.starts}, {"takes", st.takes}, {"start_s", number(in_seconds(st.start))},
                   {"length_s", number(in_seconds(st.length))}, {"hands_on_s", number(in_seconds(st.hands_on))}, {"before", cautions_json(st.before)}, {"amounts", amounts(st.amounts)},
                   {"actions", st.actions}, {"ready", st.ready}, {"if_not", st.if_not}, {"weigh", amounts(st.expected)}});
    if (st.done) all.back()["done"] = true;
    if (!st.told.empty()) all.back()["told"] = st.told;
  }
  return all;
}

/// Every jarful, pot and filling, in the order of their starts.
Json day(const Timeline& t, const Sheet& s) {
  std::vector<std::size_t> by_start(t.operations.size());
  std::iota(by_start.begin(), by_start.end(), std::size_t{0});
  std::stable_sort(by_start.begin(), by_start.end(), [&](std::size_t a, std::size_t b) { return t.operations[a].start < t.operations[b].start; });
  Json all = Json::array();
  for (std::size_t i : by_start) {
    const Operation& o = t.operations[i];
    Json j = {{"what", o.what}, {"step", key(o.step)}, {"start_s", number(in_seconds(o.start))}, {"length_s", number(in_seconds(o.length))}, {"hands", o.hands}};
    if (o.load > 0) j["load_count"] = o.load;
    if (o.pot >= 0) j["pot_count"] = o.pot + 1;
    if (o.moulds > 0) j["moulds_count"] = o.moulds;
    if (!s.moments.empty()) j["clock"] = s.moments[i];
    all.push_back(std::move(j));
  }
  return all;
}

}  // namespace

std::string to_json(const Facts& facts, const Sheet& s, const Ranges* ranges, Layout layout) {
  const Batch& b = facts.batch;
  const std::vector<Caution>& list = s.cautions;
  Json j = {{"schema", "curdwright.sheet/1"}, {"title", s.title}, {"summary", s.summary}};
  j["versions"] = {{"program", program_version}, {"data", data_version}, {"model", model_version}};
  if (stops(list)) j["stopped"] = true;
  j["batch"] = {{"dry_mass_g", number(value(b.plan, Figure::dry_mass))}, {"soaked_mass_g", number(value(b.plan, Figure::soaked_mass))}, {"legumes", Json::array()}};
  for (std::size_t i = 0; i < b.setup.legumes.size(); ++i)
    j["batch"]["legumes"].push_back({{"id", b.setup.legumes[i].id}, {"dry_mass_g", number(value(b.plan, Figure::dry_mass) * b.setup.job.seeds[i].share)},
                                     {"soaked_mass_g", number(1e3 * b.plan.soaked_kg[i])}});
  j["batch"]["kitchen"] = b.setup.kitchen.name;
  j["stages"] = stages(b, list, facts);
  if (!s.readings.empty()) j["readings"] = readings_json(s), j["changed"] = s.changed;
  if (!s.moves.empty()) j["moves"] = moves_json(s);
  j["expect"] = expect(b);
  if (b.target) {
    j["target"] = {{"figure", info(b.target->figure).key}, {std::string(info(b.target->figure).key), number(b.target->value)}};
    if (b.setup.recipe.want.sure) j["target"]["sure_fraction"] = number(*b.setup.recipe.want.sure), j["target"]["chance_fraction"] = number(b.chance);
  }
  if (!s.limits.empty()) j["limits"] = amounts(s.limits);
  if (!s.batches.empty()) j["batches"] = {{"why", s.batches}, {"each", amounts(s.each_batch)}};
  j["label"] = label_json(s.label);
  if (s.cost) j["cost"] = cost_json(*s.cost);
  if (ranges) j["ranges"] = ranges_json(b, *ranges), j["sample"] = sample_json(b, *ranges);
  j["cautions"] = cautions_json(list);
  if (!s.allergens.empty()) j["allergens"] = s.allergens;
  j["times"] = {{"total_s", number(in_seconds(s.total_time))}, {"hands_on_s", number(in_seconds(s.hands_on))}};
  if (!s.starts_at.empty()) {
    j["clock"] = {{"start", s.starts_at}};
    if (!s.ready_at.empty()) j["clock"]["ready"] = s.ready_at;
    if (!s.zone.empty()) j["clock"]["time_zone"] = s.zone;
  }
  j["day"] = day(facts.timeline, s);
  j["weigh_out"] = amounts(s.weigh_out);
  j["vessels"] = s.vessels;
  j["ticks"] = s.ticks;
  j["steps"] = steps(s);
  j["left_over"] = amounts(s.left_over);
  j["made_in"] = s.made_in;
  j["standing"] = s.standing;
  j["balance"] = {{"worst_component_fraction", number(balance_error(b.plan))}};
  return printed(j, layout);
}

}  // namespace curdwright
