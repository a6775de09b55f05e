// SPDX-License-Identifier: MIT
// Terms of the soak.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

constexpr std::string_view loss_source = "J. Food Process Eng. 34(4), 2011, chickpea";

Ex arrhenius_text(const Ex& energy, const Ex& t, const Ex& reference) {
  return exponential(Ex() - energy / Ex(gas_constant_kj_mol_k) * (Ex(1.0) / t - Ex(1.0) / reference));
}

/// Arrhenius about 20 degC, with another energy above a kink.
Ex broken_arrhenius_text(double kink_k, const Ex& below, const Ex& above) {
  const Ex t = name("T");
  return arrhenius_text(below, minimum({t, kink_k}), 293.15) * arrhenius_text(above, maximum({t, kink_k}), kink_k);
}

/// The vessel's temperature, stretch by stretch.
struct Vessel {
  std::vector<PieceText> pieces;
  std::vector<Ex> levels;  ///< starts and ends
  Ex end;
};

struct VesselTerms {
  Book& book;
  const Flow& seed;
  Ex water, water_at, water_heat, surroundings, time, tau;

  VesselTerms(Book& b, const Flow& s) : book(b), seed(s) {
    const SoakSettings& k = book.job.soak;
    const SoakRecipe& told = book.setup.recipe.soak;
    water = book.formula("soak_water_each_kg", book.plan.seed.of.total_kg() * k.water_to_dry, "kg", "soak water, each time", seed.mass * book.setting("soak_water_to_dry", k.water_to_dry, "kg/kg", "soak water per kg dry seed", told_or(told.water_to_dry.has_value(), "/soak/water_to_dry", "default: 3, to the step of the scale")));
    water_at = kelvin_term(book, "soak_water_at_k", k.water_at, "soak water as poured", told_or(told.water_temperature.has_value(), "/soak/water_temperature", "kitchen /tap_water"));
    surroundings = kelvin_term(book, "soak_surroundings_k", k.surroundings, "where the seed soaks", told_or(told.room.has_value(), "/soak/room", "kitchen /fridge/temperature or /room, by recipe /soak/where"));
    time = book.setting("soak_time_s", k.time.si(), "s", "time of the soak", told_or(told.time.has_value(), "/soak/time", "default of the legume"));
    Flow poured;
    poured.part[0] = water;
    water_heat = heat_capacity(book, "soak_water_heat_j_k", "the soak water", poured, water_stream(book.plan.seed.mass() * k.water_to_dry, k.water_at), k.water_at, water_at);
  }

  Ex seed_heat(const std::string& key, Temperature at, const Ex& at_k) { return heat_capacity(book, key, "the dry seed", seed, book.plan.seed, at, at_k); }

  Ex start() {
    const Ex at = kelvin_term(book, "room_k", book.job.soak.seed_at, "room", "kitchen /room");
    return mixed(book, "soak_start_k", "seed and soak water just mixed", soak_start(book.plan.seed, book.job.soak), {seed_heat("seed_heat_j_k", book.job.soak.seed_at, at), water_heat}, {at, water_at});
  }

  void time_constant(const Ex& start_k) {
    const SoakSettings& k = book.job.soak;
    const Temperature start = soak_start(book.plan.seed, k);
    const Duration value = soak_time_constant(book.plan.seed, k, start, book.theta[Param::vessel_coefficient]);
    if (k.time_constant) {
      tau = book.setting("soak_time_constant_s", value.si(), "s", "how slowly the vessel takes the temperature around it", "recipe /soak/time_constant");
      return;
    }
    Stream all = book.plan.seed;
    all.of[Component::water] += all.of.total_kg() * k.water_to_dry;
    Flow both = seed;
    both.part[0] = seed[Component::water] + water;
    const Ex heat = heat_capacity(book, "soak_vessel_heat_j_k", "seed and water", both, all, start, start_k);
    tau = book.formula("soak_time_constant_s", value.si(), "s", "how slowly the vessel takes the temperature around it", heat / (book.param(Param::vessel_coefficient) * pot_surface_text(seed.mass + water)));
  }

  /// Seed as it was before the change, in fresh water.
  Ex changed(int stretch, Temperature before, const Ex& before_k) {
    const Ex heat = seed_heat(fmt::format("seed_heat_{}_j_k", stretch), before, before_k);
    return mixed(book, fmt::format("soak_start_{}_k", stretch), "after the water was changed", soak_changed(book.plan.seed, book.job.soak, before), {heat, water_heat}, {before_k, water_at});
  }
};

Vessel vessel_terms(Book& book, const Flow& seed) {
  VesselTerms v(book, seed);
  Vessel r;
  Ex start = v.start();
  v.time_constant(start);
  const int stretches = book.job.soak.changes + 1;
  const Ex changes = book.setting("soak_changes", book.job.soak.changes, "1", "changes of the soak water", "recipe /soak/changes");
  const Ex length = v.time / (changes + Ex(1.0));
  int n = 0;
  for (const HistoryPiece& p : book.plan.soaking.pieces()) {
    if (++n > 1) start = v.changed(n, book.plan.soaking.pieces()[static_cast<std::size_t>(n) - 2].end(), r.end);
    const Ex course = v.surroundings + (start - v.surroundings) * exponential(Ex() - name("t") / v.tau);
    r.pieces.push_back({length.str(), course.str()});
    r.end = book.formula(stretches == 1 ? "soak_end_k" : fmt::format("soak_end_{}_k", n), p.end().si(), "K", "the vessel at the end", v.surroundings + (start - v.surroundings) * exponential(Ex() - length / v.tau));
    r.levels.push_back(start), r.levels.push_back(r.end);
  }
  return r;
}

/// Solids that leach out of one legume, as a share of its dry matter.
Ex lost_share(Book& book, const Vessel& vessel, const Soaked& s, std::size_t i) {
  const Ex below = book.constant("loss_energy_kj_mol", 59.5, "kJ/mol", "how much warmth speeds the loss of solids, below 61 degC", loss_source);
  const Ex above = book.constant("loss_energy_hot_kj_mol", 22.6, "kJ/mol", "the same above 61 degC", loss_source);
  const Ex end_20 = book.constant("loss_end_20", 2.3 / 2.03, "1", "what can be lost at 20 degC, in losses of 12 h", loss_source);
  const Ex end_100 = book.constant("loss_end_100", 10.2 / 2.03, "1", "what can be lost at 100 degC, in losses of 12 h at 20", loss_source);
  const Ex seconds = book.integral("loss_seconds", s.loss_seconds, "s", "time at 20 degC that would leach as much", broken_arrhenius_text(334.15, below, above), vessel.pieces);
  const Ex hottest = book.formula("soak_hottest_k", book.plan.soaking.hottest().si(), "K", "hottest that the soak gets", Ex::call("max", vessel.levels));
  const Ex in_12_h = book.param(Param::solids_lost, i), warmth = name("warmth");
  return book.formula("solids_lost_share" + book.tail(i), s.solids_lost, "kg/kg", "solids lost to the soak water, of the dry matter", minimum({in_12_h * seconds / Ex(43200.0), in_12_h * (end_20 + (end_100 - end_20) * warmth)}),
                      {{"warmth", maximum({Ex(), (hottest - Ex(293.15)) / Ex(80.0)}).str()}});
}

Ex gain_term(Book& book, const Vessel& vessel, const Soaked& s, std::size_t i) {
  const Ex below = book.param(Param::soak_activation_energy, i), above = book.param(Param::soak_activation_energy_hot, i);
  const Ex seconds = book.integral("warm_seconds" + book.tail(i), s.warm_seconds, "s", "time at 20 degC in which the seed would drink as much", broken_arrhenius_text(333.15, below, above), vessel.pieces);
  const Ex x = name("x");
  return book.formula("uptake_gain" + book.tail(i), s.gain, "kg/kg", "water drunk per kg of dry matter (Peleg 1988)", x / (Ex(1.0) + book.param(Param::soak_k2, i) * x), {{"x", (seconds / book.param(Param::soak_k1, i)).str()}});
}

/// Shares of the solids that leach out or rub off.
struct Shares {
  std::array<double, component_count> of{};
};
constexpr Shares lost_shares{{0, 0.20, 0, 0.62, 0, 0, 0.18, 0}};
constexpr Shares hull_shares{{0, 0.06, 0, 0.06, 0, 0.85, 0.03, 0}};

Ex share_term(Book& book, std::string_view what, double value, std::size_t p) {
  if (value == 0) return {};
  return book.constant(fmt::format("{}_{}_share", what, part_name(p)), value, "1", fmt::format("{} among the solids of what is {}", part_name(p), what), what == "lost" && p == 1 ? "soy study, 1987: 12 to 25 %" : "guess");
}

/// What is taken from a seed takes minerals with its ash.
Flow taken(Book& book, const std::string& prefix, std::string_view plain, std::string_view what, const Stream& s, const Flow& from, const Ex& solids, const Shares& shares, const Ex& wetness) {
  Flow f;
  const PartFormula text = [&](std::size_t p) {
    if (p == 0) return wetness * f.solids;
    if (p >= calcium) return from.part[p] * f[Component::ash] / from[Component::ash];
    return p < component_count ? minimum({from.part[p], solids * share_term(book, what, shares.of[p], p)}) : Ex();
  };
  Stream dry = s;
  dry.of[Component::water] = 0, dry.minerals = {};
  f = book.flow(prefix + "_dry", plain, dry, text);
  Stream rest;
  rest.of[Component::water] = s.of[Component::water], rest.minerals = s.minerals;
  const Flow more = book.flow(prefix, plain, rest, text);
  for (std::size_t p : {std::size_t{0}, calcium, magnesium, sodium}) f.part[p] = more.part[p];
  return f;
}

Flow lot_terms(Book& book, const Vessel& vessel, const Flow& seed, const LotSoak& lot, std::size_t i, const Flow& extras, Ex& left, Ex& uptake) {
  const Soaked& s = lot.soaked;
  const std::string tail = book.tail(i), what = book.setup.legumes[i].kitchen_name;
  const Ex lost_solids = lost_share(book, vessel, s, i) * seed.solids;
  Stream leached_out = s.soak_water;
  leached_out.of[Component::water] = 0;
  const Flow lost = taken(book, "lost" + tail, "solids lost to the soak water", "lost", leached_out, seed, lost_solids, lost_shares, {});
  Flow rest;
  for (std::size_t p = 0; p < part_count; ++p) rest.part[p] = seed.part[p] - lost.part[p];
  rest.solids = seed.solids - lost.mass;
  const Ex water = seed[Component::water], moisture = water / seed.solids + gain_term(book, vessel, s, i);
  const Ex wanted = maximum({Ex(), moisture * rest.solids - water}) + book.param(Param::clinging_water, i) * seed.mass;
  uptake = book.formula("uptake_kg" + tail, s.uptake_kg, "kg", fmt::format("water that {} takes up, with what clings", what), minimum({wanted, seed.mass * name("soak_water_to_dry")}));
  Flow hulls;
  if (s.hull_solids_kg > 0) {
    const Ex solids = book.formula("hull_solids_kg" + tail, s.hull_solids_kg, "kg", "solids of the skins that are rubbed off", book.param(Param::hull, i) * book.param(Param::hull_removed) * rest.solids);
    hulls = taken(book, "hulls" + tail, "skins", "hull", s.hulls, rest, solids, hull_shares, (water + uptake) / rest.solids);
  }
  Ex share;
  if (lot.taken_up > 0) share = book.formula("extras_taken_up" + tail, lot.taken_up, "1", fmt::format("share of the soak's extras that {} takes up", what), minimum({left, uptake / name("soak_water_all_kg")}));
  left = left - share;
  return book.flow("soaked" + tail, "soaked " + what, lot.seed, [&](std::size_t p) { return rest.part[p] + (p == 0 ? uptake : Ex()) - hulls.part[p] + share * extras.part[p]; });
}

}  // namespace

Soaking soak_terms(Book& book) {
  std::array<Flow, max_legumes> dry;
  Soaking r;
  const Flow seed = seed_terms(book, dry);
  const Vessel vessel = vessel_terms(book, seed);
  const std::size_t n = book.job.legume_count;
  const Flow extras = extras_flow(book, Stage::soak);
  const Added& dissolved = book.plan.extras[0];
  const double poured = book.plan.soak_water_in.of.total_kg();
  book.formula("soak_water_all_kg", poured, "kg", "all soak water", name("dry_kg") * name("soak_water_to_dry") * (Ex(1.0) + (book.job.soak.changes > 0 ? name("soak_changes") : Ex())));
  double left = 1;
  Ex left_text = 1.0;
  std::array<Ex, max_legumes> uptake;
  for (std::size_t i = 0; i < n; ++i) {
    r.lots[i] = soak_lot(book.job, book.theta, i, book.plan.soaking, poured, dissolved, left);
    left -= r.lots[i].taken_up;
    r.seed[i] = lot_terms(book, vessel, dry[i], r.lots[i], i, extras, left_text, uptake[i]);
    if (r.lots[i].taken_up > 0) r.dissolved[i] = name("extras_taken_up" + book.tail(i));
    r.uptake = r.uptake + uptake[i];
  }
  r.soaked = n == 1 ? r.seed[0] : book.flow("soaked", "soaked seed", book.plan.soaked, [&](std::size_t p) {
    Ex sum;
    for (std::size_t i = 0; i < n; ++i) sum = sum + r.seed[i].part[p];
    return sum;
  });
  r.soaked.at = vessel.end;
  return r;
}

}  // namespace curdwright::accounts
