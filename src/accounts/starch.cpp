// SPDX-License-Identifier: MIT
// Terms of taking the starch out.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

/// Milk before a standing, as numbers and as texts.
struct Milk {
  Stream value;
  Flow flow;
  BinMasses bins;
};

std::string name_of(std::string_view stem, int standing, int standings) { return standings == 1 ? std::string(stem) : fmt::format("{}_{}", stem, standing); }

Ex bed_starch(Book& book) {
  return book.param(Param::bed_fraction) * book.param(Param::granule_density) / (Ex(1.0) + book.param(Param::granule_water));
}

/// One standing, its terms entered one by one.
struct StandingTerms {
  Book& book;
  Milk& milk;
  const Settled& settled;
  int n, standings;
  const StarchSettings& settings = book.job.starch;
  const Standing& standing = settled.standing;

  [[nodiscard]] std::string key(std::string_view stem) const { return name_of(stem, n, standings); }

  Ex depth(const Ex& volume) {
    const Length value = standing_depth(milk.value, settings);
    if (settings.depth) return book.setting("depth_m", value.si(), "m", "depth of the standing milk", "recipe /starch/depth");
    const Ex area = book.setting("vessel_area_m2", settings.vessel.si(), "m2", "floor of a settling vessel", "kitchen /settling/area");
    return book.formula(key("depth_m"), value.si(), "m", "depth of the standing milk", volume / (area * vessels()));
  }

  Ex vessels() { return book.setting("vessels", settings.vessels, "1", "settling vessels", "as many as the milk needs"); }

  /// \returns depth that the ladle takes from
  Ex clear(const Ex& volume) {
    const Ex bed = book.formula(key("bed_share"), standing.bed_share, "1", "share of the depth that the settled layer takes", minimum({0.5, milk.flow.part[settling] / bed_starch(book) / volume}));
    return book.formula(key("clear_m"), standing.clear_m, "m", "depth of milk above the ladle's reach", depth(volume) * (Ex(1.0) - book.param(Param::heel) - bed));
  }

  Ex surroundings() {
    return kelvin_term(book, "settle_surroundings_k", settings.surroundings, "where the milk stands", told_or(book.setup.recipe.starch.where.has_value(), "/starch/where", "kitchen /room"));
  }
  Ex time() { return book.setting("settle_time_s", settings.time.si(), "s", "time of a standing", told_or(book.setup.recipe.starch.time.has_value(), "/starch/time", "default: 40 min")); }

  Ex time_constant() {
    const Ex heat = heat_capacity(book, key("standing_heat_j_k"), "the standing milk", milk.flow, milk.value, milk.value.at, milk.flow.at);
    return book.formula(key("settle_time_constant_s"), standing.time_constant.si(), "s", "how slowly the milk takes the room's temperature",
                        heat / vessels() / (book.param(Param::vessel_coefficient) * pot_surface_text(milk.flow.mass / vessels())));
  }

  [[nodiscard]] Ex course(const Ex& tau, const Ex& t) { return surroundings() + (milk.flow.at - surroundings()) * exponential(Ex() - t / tau); }

  Ex fall_in_water(const Ex& tau) {
    const Ex t_c = name("t_c"), viscosity = name("viscosity"), density = name("water_density");
    const std::vector<NamedText> where = {
        {"t_c", "T - 273.15"},
        {"water_density", "(999.83952 + t_c * (16.945176 + t_c * (-0.0079870401 + t_c * (-4.6170461e-05 + t_c * (1.0556302e-07 - 2.8054253e-10 * t_c))))) / (1 + 0.01687985 * t_c)"},
        {"viscosity", "1e-06 * (280.68 * (T / 300)^(-1.9) + 511.45 * (T / 300)^(-7.7) + 61.131 * (T / 300)^(-19.6) + 0.45903 * (T / 300)^(-40))"}};
    return book.integral(key("fall_in_water_per_m"), standing.fall_in_water, "1/m", "how far a granule falls alone in water, over its diameter squared (Stokes; water by Kell 1975 and IAPWS 2008)",
                         (book.param(Param::granule_density) - density) * Ex(gravity_m_s2) / (Ex(18.0) * viscosity), {{time().str(), course(tau, name("t")).str()}}, where);
  }

  Ex fall(const Ex& tau, const Ex& volume) {
    const Ex swollen = milk.flow[Component::starch] * (Ex(1.0) + book.param(Param::granule_water)) / book.param(Param::granule_density) / volume;
    const Ex crowding = book.formula(key("crowding"), standing.crowding, "1", "volume share of the swollen granules", minimum({0.6, swollen}));
    const Ex protein = book.formula(key("protein_volume"), standing.protein_volume, "1", "volume share of the protein", minimum({0.4, book.param(Param::protein_voluminosity) * Ex(0.001) * milk.flow[Component::protein] / volume}));
    const Ex thicker = Ex(1.0) + Ex(2.5) * protein + Ex(6.2) * power(protein, 2.0);
    return book.formula(key("fall_per_m"), standing.fall_per_square, "1/m", "how far a granule falls, over its diameter squared", power(Ex(1.0) - crowding, book.param(Param::hindered_exponent)) / thicker * fall_in_water(tau));
  }

  /// Share of each bin that is below the ladle's reach. \returns share of all that can settle
  Ex sunk(const Ex& fall, const Ex& clear, BinMasses& sinks) {
    std::vector<Ex> masses;
    for (std::size_t b = 0; b < Granules::bins; ++b) {
      if (milk.value.granules.kg[b] == 0) continue;
      Granules one;
      one.kg[b] = milk.value.granules.kg[b];
      const Ex diameter = Ex(3e-6) * power(25.0, Ex(static_cast<double>(b) + 0.5) / Ex(static_cast<double>(Granules::bins)));
      sinks[b] = book.formula(key(fmt::format("sunk_bin_{}", b + 1)), share_settled(one, standing.fall_per_square, standing.clear_m), "1", fmt::format("share of the granules of {:.3g} um that sinks out of reach", Granules::diameter_m(b) * 1e6),
                              minimum({1.0, fall * power(diameter, 2.0) / clear}));
      masses.push_back(milk.bins[b] * sinks[b]);
    }
    if (masses.empty()) return {};
    return book.formula(key("sunk_share"), share_settled(milk.value.granules, standing.fall_per_square, standing.clear_m), "1", "share of what can settle that sinks out of reach", Ex::call("sum", masses) / milk.flow.part[settling]);
  }
};

/// Bins of the milk: the grinding's own sizes, as much as came through.
void enter_bins(Book& book, Milk& m, const std::string& stem, const std::function<Ex(std::size_t)>& text) {
  for (std::size_t b = 0; b < Granules::bins; ++b)
    m.bins[b] = book.formula(fmt::format("{}_bin_{}_kg", stem, b + 1), m.value.granules.kg[b], "kg", fmt::format("granules of {:.3g} um in the milk", Granules::diameter_m(b) * 1e6), text(b));
}

/// \returns the layer
Flow stand_terms(Book& book, Milk& milk, int n) {
  const int standings = book.job.starch.times;
  Stream after = milk.value;
  const Settled settled = settle_once(after, book.job.starch, book.theta);
  StandingTerms t{book, milk, settled, n, standings};
  const Ex v = volume(book, n == 1 ? "milk_m3" : t.key("standing_m3"), "the milk", milk.flow, milk.value.of);
  const Ex tau = t.time_constant();
  BinMasses sinks;
  const Ex sunk = t.sunk(t.fall(tau, v), t.clear(v), sinks) * milk.flow.part[settling];
  Flow taken, rest;
  taken.part[settling] = taken.part[part(Component::starch)] = sunk;
  taken.part[0] = sunk.zero() ? Ex() : minimum({sunk * book.param(Param::granule_water), Ex(0.5) * milk.flow[Component::water]});
  for (std::size_t p = 0; p < part_count; ++p) rest.part[p] = milk.flow.part[p] - taken.part[p];
  const Ex between_m3 = sunk / bed_starch(book) * (Ex(1.0) - book.param(Param::bed_fraction));
  const Ex between = sunk.zero() ? Ex() : book.formula(t.key("between_share"), settled.between, "1", "share of the milk that stays between the granules of the layer", minimum({0.9, between_m3 / name("volume")}), {{"volume", liquid_volume_text(book, rest).str()}});
  const Flow bed = book.flow(t.key("layer"), "starch layer of a standing", settled.bed, [&](std::size_t p) { return taken.part[p] + rest.part[p] * between; });
  const Ex left = (Ex(1.0) - between) * (Ex(1.0) - book.param(Param::heel));
  const Ex at = book.formula(t.key("standing_end_k"), after.at.si(), "K", "the milk after its standing", t.course(tau, t.time()));
  milk.value = after;
  milk.flow = book.flow(t.key("ladled"), "milk ladled off", after, [&](std::size_t p) { return rest.part[p] * left; });
  milk.flow.at = at;
  const BinMasses before = milk.bins;
  if (n < standings) enter_bins(book, milk, t.key("ladled"), [&](std::size_t b) { return before[b] * (Ex(1.0) - sinks[b]) * left; });
  return bed;
}

Flow gel_terms(Book& book, const Milk& milk) {
  Stream after = milk.value;
  const Gelled gelled = gel_once(after, book.theta);
  const Ex removed = book.param(Param::gel_removed), gel = removed * milk.flow[Component::starch];
  const Ex held = book.formula("gel_held", gelled.held, "1", "share of the milk that the gel takes with it", minimum({0.6, book.param(Param::gel_holds) * gel / (milk.flow.mass - gel)}));
  Flow f = book.flow("strained", "milk strained off its gel", after, [&](std::size_t p) {
    const bool starch = p == settling || p == part(Component::starch);
    return milk.flow.part[p] * (starch ? Ex(1.0) - removed : Ex(1.0)) * (Ex(1.0) - held);
  });
  f.at = milk.flow.at;
  return f;
}

}  // namespace

Flow starch_terms(Book& book, const Ground& ground, const Flow& strained) {
  Milk milk{book.plan.strained.milk, strained, {}};
  const StarchSettings& s = book.job.starch;
  if (s.settles()) {
    enter_bins(book, milk, "milk", [&](std::size_t b) { return strained.part[settling].zero() ? Ex() : ground.bins[b] * strained.part[settling] / ground.releasable.part[settling]; });
    std::vector<Flow> beds;
    for (int n = 1; n <= s.times; ++n) beds.push_back(stand_terms(book, milk, n));
    book.flow("sediment", "starch layer", book.plan.destarched.sediment, [&](std::size_t p) {
      Ex sum;
      for (const Flow& bed : beds) sum = sum + bed.part[p];
      return sum;
    });
  }
  return s.strains_gel() ? gel_terms(book, milk) : milk.flow;
}

}  // namespace curdwright::accounts
