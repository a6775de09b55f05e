// SPDX-License-Identifier: MIT
#include "curdwright/measure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/properties.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

using enum QuantityKind;

/// Per batch, whatever the seed: what the job keeps per kg of seed is set from it.
void set_dry(Setup& s, double kg) {
  Job& j = s.job;
  const double before = j.dry.si();
  j.soak.water_to_dry *= before / kg;
  for (std::size_t i = 0; i < j.strain.wash_count; ++i) j.strain.washes[i].water_to_dry *= before / kg;
  for (std::size_t i = 0; i < j.extra_count; ++i) j.extras[i].to_dry *= before / kg;
  if (j.blend.basis == WaterBasis::grinding_to_dry) j.blend.water *= before / kg;
  j.dry = kilograms(kg);
}

void set_soak_water(Setup& s, double kg) { s.job.soak.water_to_dry = kg / s.job.dry.si() / (1 + s.job.soak.changes); }
void set_soak_time(Setup& s, double si) { s.job.soak.time = seconds(si); }
void set_soak_room(Setup& s, double si) { s.job.soak.surroundings = kelvin(si); }
/// By the seed, so that a part of the batch has its part of the water.
void set_blend_water(Setup& s, double kg) { s.job.blend.basis = WaterBasis::grinding_to_dry, s.job.blend.water = kg / s.job.dry.si(); }
void set_blend_time(Setup& s, double si) { s.job.blend.time = s.job.strain.blend_time = seconds(si); }

double washes_kg(const Setup& s) {
  double sum = 0;
  for (std::size_t i = 0; i < s.job.strain.wash_count; ++i) sum += s.job.strain.washes[i].water_to_dry * s.job.dry.si();
  return sum;
}

/// All washings together, shared as they were planned; one that was not planned is one washing.
void set_wash_water(Setup& s, double kg) {
  StrainSettings& t = s.job.strain;
  const double planned = washes_kg(s);
  if (planned <= 0) {
    t.wash_count = 1;
    t.washes[0] = {kg / s.job.dry.si(), seconds(0)};
    return;
  }
  for (std::size_t i = 0; i < t.wash_count; ++i) t.washes[i].water_to_dry *= kg / planned;
}

void set_stood(Setup& s, double si) { s.job.starch.time = seconds(si); }
void set_depth(Setup& s, double si) { s.job.starch.depth = metres(si); }
void set_hold(Setup& s, double si) { s.job.cook.hold = seconds(si); }
void set_pour(Setup& s, double si) { s.job.coagulate.at = std::min(kelvin(si), s.job.cook.boil); }
void set_coagulant(Setup& s, double kg) { s.job.coagulate.used = kilograms(kg); }
void set_wait(Setup& s, double si) { s.job.coagulate.wait = seconds(si); }
void set_press_time(Setup& s, double si) { s.job.press.time = seconds(si); }
double press_kg(const Setup& s) { return press_weight(s.job.press).si(); }
void set_press_weight(Setup& s, double kg) {
  s.job.press.moisture.reset();
  s.job.press.pressure = pressure_under(kilograms(kg), s.job.press);
}
void set_ph(Setup& s, double ph) { s.recipe.store.ph = ph; }

constexpr double most_kg = 1e5, day_s = 86400;

// In the order of the work. A mass that is set or observed is at least a gram, but for coagulant.
constexpr std::array table = {
    Measurable{"dry", Stage::soak, mass, std::nullopt, set_dry, [](const Setup& s) { return s.job.dry.si(); }, 1, 1e-3, most_kg, 0, false, "dry=850g", "dry seed that was used"},
    Measurable{"soak-water", Stage::soak, mass, std::nullopt, set_soak_water, [](const Setup& s) { return s.job.soak.water_to_dry * s.job.dry.si() * (1 + s.job.soak.changes); }, 1, 1e-3, most_kg, 0, false, "soak-water=2.5kg", "soak water that was poured, all fillings together"},
    Measurable{"soak-time", Stage::soak, duration, std::nullopt, set_soak_time, [](const Setup& s) { return s.job.soak.time.si(); }, 1, 60, 4 * day_s, 0, true, "soak-time=14h", "how long the seed soaked"},
    Measurable{"soak-room", Stage::soak, temperature, std::nullopt, set_soak_room, [](const Setup& s) { return s.job.soak.surroundings.si(); }, 1, celsius(-5).si(), celsius(100).si(), 0, false, "soak-room=6degC", "how warm it was round the soak"},
    Measurable{"soaked", Stage::soak, mass, Figure::soaked_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 1, true, "soaked=1140g", "seed, soaked and drained"},
    Measurable{"blend-water", Stage::blend, mass, std::nullopt, set_blend_water, [](const Setup& s) { return s.job.blend.water * (s.job.blend.basis == WaterBasis::grinding_mass ? 1.0 : s.job.dry.si()); }, 1, 1e-3, most_kg, 0, false, "blend-water=4.8kg", "grinding water that was used, all jarfuls together"},
    Measurable{"blend-time", Stage::blend, duration, std::nullopt, set_blend_time, [](const Setup& s) { return s.job.blend.time.si(); }, 1, 1, 7200, 0, false, "blend-time=60s", "how long each jarful was blended"},
    Measurable{"wash-water", Stage::strain, mass, std::nullopt, set_wash_water, washes_kg, 1, 1e-3, most_kg, 0, true, "wash-water=600g", "water that the pulp was washed with, all washes together"},
    Measurable{"pulp", Stage::strain, mass, Figure::pulp_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 2, true, "pulp=610g", "pulp, squeezed out"},
    Measurable{"milk", Stage::strain, mass, Figure::milk_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 2, true, "milk=5.7kg", "strained milk, before it settles"},
    Measurable{"milk", Stage::strain, volume, Figure::milk_volume, nullptr, nullptr, 1e6, 1e-6, 1e2, 2, true, "milk=5.6l", "strained milk, by volume"},
    Measurable{"pulp-dry", Stage::strain, fraction, Figure::pulp_solids, nullptr, nullptr, 1, 0.01, 0.9, 15, true, "pulp-dry=24%", "dry matter of the pulp, a sample dried in the oven"},
    Measurable{"stood", Stage::starch, duration, std::nullopt, set_stood, [](const Setup& s) { return s.job.starch.time.si(); }, 1, 60, 3 * day_s, 0, true, "stood=50min", "how long the milk stood for its starch, each time"},
    Measurable{"depth", Stage::starch, length, std::nullopt, set_depth, nullptr, 1, 0.005, 2, 0, false, "depth=12cm", "how deep it stood"},
    Measurable{"starch-layer", Stage::starch, mass, Figure::sediment_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 5, true, "starch-layer=240g", "starch layer, without the last cloudy milk"},
    Measurable{"settled-milk", Stage::starch, mass, Figure::settled_milk_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 2, true, "settled-milk=5.2kg", "milk into the pot, off its starch"},
    Measurable{"brix", Stage::starch, std::nullopt, Figure::milk_brix, nullptr, nullptr, 0.01, 0.2, 40, 2, true, "brix=6.4", "refractometer reading of the settled milk"},
    Measurable{"to-95", Stage::cook, duration, Figure::to_95, nullptr, nullptr, 1, 30, day_s, 1, false, "to-95=24min", "time from setting the pot on to 95 degC in its middle"},
    Measurable{"hold", Stage::cook, duration, std::nullopt, set_hold, [](const Setup& s) { return s.job.cook.hold.si(); }, 1, 0, day_s / 4, 0, true, "hold=12min", "how long it simmered or boiled"},
    Measurable{"cooked-milk", Stage::cook, mass, Figure::cooked_milk_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 3, true, "cooked-milk=9.1kg-stockpot", "cooked milk, before the coagulant"},
    Measurable{"pour", Stage::coagulate, temperature, std::nullopt, set_pour, [](const Setup& s) { return s.job.coagulate.at.si(); }, 1, celsius(0).si(), celsius(125).si(), 0, false, "pour=78degC", "temperature of the milk at pouring"},
    Measurable{"coagulant", Stage::coagulate, mass, std::nullopt, set_coagulant, [](const Setup& s) { return s.job.coagulate.used.value_or(grams(0)).si(); }, 1, 1e-6, 1e3, 0, false, "coagulant=24.1g", "coagulant that went in, dry or as sold"},
    Measurable{"wait", Stage::coagulate, duration, std::nullopt, set_wait, [](const Setup& s) { return s.job.coagulate.wait.si(); }, 1, 0, day_s, 0, true, "wait=15min", "how long it stood to set"},
    Measurable{"press-weight", Stage::press, mass, std::nullopt, set_press_weight, press_kg, 1, 0.01, 1e5, 0, false, "press-weight=4kg", "weight on each block"},
    Measurable{"press-time", Stage::press, duration, std::nullopt, set_press_time, [](const Setup& s) { return s.job.press.time.si(); }, 1, 60, 4 * day_s, 0, true, "press-time=12h", "how long it was pressed"},
    Measurable{"curd", Stage::press, mass, Figure::curd_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 1, true, "curd=1180g", "pressed curd"},
    Measurable{"whey", Stage::press, mass, Figure::whey_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 2, true, "whey=6.9kg-bucket", "whey that ran off"},
    Measurable{"blocks", Stage::press, std::nullopt, Figure::blocks, nullptr, nullptr, 1, 0.05, 1e6, 1, true, "blocks=4", "blocks that were cut, of the planned weight"},
    Measurable{"height", Stage::press, length, Figure::block_height, nullptr, nullptr, 1e3, 0.002, 1, 1, true, "height=31mm", "height of a block"},
    Measurable{"curd-dry", Stage::press, fraction, Figure::curd_solids, nullptr, nullptr, 1, 0.02, 0.7, 15, true, "curd-dry=19.5%", "dry matter of the curd, a sample dried in the oven"},
    Measurable{"ph", Stage::press, std::nullopt, std::nullopt, set_ph, nullptr, 1, 2, 10, 3, true, "ph=5.8", "pH of the curd"},
    Measurable{"chilled", Stage::chill, mass, Figure::stored_mass, nullptr, nullptr, 1e3, 1e-3, most_kg, 1, true, "chilled=1130g", "curd after a day in store"},
};

/// Half a step either way is all the same to a scale.
double step_error(const Reading& r, const Kitchen& k) { return k.coarse_scale.step.si() / std::sqrt(12.0) * std::sqrt(r.weighings) / r.si; }

Problem complaint(std::string what, std::string why, std::string fix) { return {"measured", {}, std::move(what), std::move(why), std::move(fix)}; }

/// Empty weight of a vessel, by its name or written out.
Result<double> tare_of(std::string_view name, const Kitchen& k) {
  for (const Pot& p : k.pots)
    if (p.name == name && p.tare.si() > 0) return p.tare.si();
  for (const auto& [vessel, text] : k.tares)
    if (vessel == name) return parse_quantity(text, mass);
  if (!name.empty() && name[0] >= '0' && name[0] <= '9') return parse_quantity(name, mass);
  std::vector<std::string_view> known;
  for (const Pot& p : k.pots)
    if (p.tare.si() > 0) known.push_back(p.name);
  for (const auto& t : k.tares) known.push_back(t.first);
  const bool pot = std::any_of(k.pots.begin(), k.pots.end(), [&](const Pot& p) { return p.name == name; });
  if (pot) return fail(complaint(fmt::format("the kitchen does not tell what {} weighs empty", text::quoted(name)), "", "weigh it, and add its \"tare\" to the kitchen file"));
  return fail(complaint(fmt::format("the vessel {} is not known", text::quoted(name)), "its empty weight stands in the kitchen file, under pots or tares",
                        known.empty() ? "write the weight itself: soaked=1552g-412g" : text::suggest(name, known)));
}

/// One weighing: "1552g-bowl".
Result<double> net_of(std::string_view term, const Kitchen& k) {
  const auto minus = term.find('-');
  const auto full = parse_quantity(text::trimmed(term.substr(0, minus)), mass);
  if (!full || minus == std::string_view::npos) return full;
  const auto tare = tare_of(text::trimmed(term.substr(minus + 1)), k);
  if (!tare) return tare;
  if (*tare >= *full)
    return fail(complaint(fmt::format("{} is no more than its vessel weighs, {}", write_quantity(*full, mass), write_quantity(*tare, mass)), "the first figure is vessel and contents together",
                          "if the scale was set to zero with the vessel on it, leave the vessel out"));
  return *full - *tare;
}

Result<double> mass_of(std::string_view text, const Kitchen& k, int& weighings) {
  double sum = 0;
  int terms = 0;
  for (bool more = true; more;) {
    const auto plus = text.find('+');
    const auto net = net_of(text::trimmed(text.substr(0, plus)), k);
    if (!net) return net;
    sum += *net;
    ++terms;
    more = plus != std::string_view::npos;
    if (more) text.remove_prefix(plus + 1);
  }
  weighings = terms;
  return sum;
}

Result<double> value_of(const Measurable& m, std::string_view text, const Kitchen& k, Reading& r) {
  if (!m.kind) return parse_number(text);
  if (m.kind == mass) return mass_of(text, k, r.weighings);
  return parse_quantity(text, *m.kind);
}

std::string limits_of(const Measurable& m) {
  if (m.kind) return fmt::format("{} to {} can be told", write_quantity(m.low, *m.kind), write_quantity(m.high, *m.kind));
  return fmt::format("{:g} to {:g} can be told", m.low, m.high);
}

}  // namespace

std::span<const Measurable> all_measurables() { return table; }

std::string_view Measurable::si_unit() const {
  if (!kind) return "";
  switch (*kind) {
    case mass: return "kg";
    case volume: return "m3";
    case temperature: return "K";
    case duration: return "s";
    case length: return "m";
    default: return "";
  }
}

std::optional<Observation> observed(const Reading& r, const Kitchen& kitchen) {
  if (!r.what->observes) return std::nullopt;
  // Whole blocks are counted without the end piece, or with it as one: a third of a block either way (judgement).
  const double counted = r.what->observes == Figure::blocks ? 0.35 / r.si : 0.0;
  const double scale = r.what->kind == mass ? step_error(r, kitchen) : counted;
  return Observation{*r.what->observes, r.figure_value(), std::hypot(info(*r.what->observes).typical_error, scale)};
}

Result<Reading> read_reading(std::string_view written, const Kitchen& kitchen, std::string_view option) {
  const Place place{.file = fmt::format("{} {}", option, text::harmless(text::cut(written, 120)))};
  const auto wrong = [&](Problem p) {
    p.place = place;
    if (p.code.empty()) p.code = "measured";
    return fail(std::move(p));
  };
  const auto equals = written.find('=');
  const std::string_view word = text::trimmed(written.substr(0, equals));
  std::vector<std::string_view> known;
  const Measurable* first = nullptr;
  for (const Measurable& m : table) {
    if (known.empty() || known.back() != m.word) known.push_back(m.word);
    if (m.word == word && !first) first = &m;
  }
  if (equals == std::string_view::npos && !first) return wrong(complaint(fmt::format("{} tells nothing", text::quoted(written)), is_unit(written) ? "an amount is one word to a shell" : "it needs what was measured, =, and the value", is_unit(written) ? fmt::format("write it together, as soaked=450{}, or in quotes, as \"soaked=450 {}\"", written, written) : "write for example soaked=1140g"));
  if (!first) return wrong(complaint(fmt::format("{} is not a measure", text::quoted(word)), "see `curdwright list measures`", text::suggest(word, known)));
  if (equals == std::string_view::npos || text::trimmed(written.substr(equals + 1)).empty()) return wrong(complaint(fmt::format("{} has no value", word), std::string(first->about), fmt::format("write for example {}", first->example)));
  const std::string_view value = text::trimmed(written.substr(equals + 1));
  Reading r;
  r.told = value;
  std::optional<Problem> fault;
  for (const Measurable& m : table) {
    if (m.word != word) continue;
    const auto si = value_of(m, value, kitchen, r);
    if (!si) {
      if (!fault) fault = si.error()[0];
      continue;
    }
    if (!(*si >= m.low && *si <= m.high)) return wrong({"out-of-range", {}, fmt::format("{} cannot be {}", word, text::quoted(value)), limits_of(m), "check the unit"});
    r.what = &m;
    r.si = *si;
    return r;
  }
  if (fault->fix.empty()) fault->fix = fmt::format("write for example {}", first->example);
  return wrong(std::move(*fault));
}

Result<std::vector<Reading>> read_readings(std::span<const std::string> texts, const Kitchen& kitchen, std::string_view option) {
  std::vector<Reading> all;
  Problems problems;
  for (const std::string& t : texts) {
    auto r = read_reading(t, kitchen, option);
    if (!r) {
      problems.insert(problems.end(), r.error().begin(), r.error().end());
      continue;
    }
    const bool twice = std::any_of(all.begin(), all.end(), [&](const Reading& o) { return o.what->word == r->what->word; });
    if (twice) problems.push_back({"measured", {.file = fmt::format("{} {}", option, text::harmless(text::cut(t, 120)))}, fmt::format("{} is told twice", r->what->word), "", "keep one; several weighings of one thing are added: milk=3.1kg+2.9kg"});
    all.push_back(std::move(*r));
  }
  if (!problems.empty()) return fail(std::move(problems));
  // In the order of the work.
  std::stable_sort(all.begin(), all.end(), [](const Reading& a, const Reading& b) { return a.what < b.what; });
  return all;
}

}  // namespace curdwright
