// SPDX-License-Identifier: MIT
// The figures themselves, and the walk through the stages that they stand on.
#include <algorithm>
#include <set>

#include "accounts/book.hpp"

namespace curdwright {
namespace accounts {
namespace {

/// Unit of a figure, by the end of its key.
std::string_view unit_of(std::string_view key, FigureGroup group) {
  if (group == FigureGroup::per_100g) return key.ends_with("_kcal") ? "kcal/100 g" : key.ends_with("_mg") ? "mg/100 g" : "g/100 g";
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> ends = {{{"_g", "g"}, {"_ml", "ml"}, {"_s", "s"}, {"_mm", "mm"}, {"_c", "degC"}, {"_mmol_per_l", "mmol/l"}, {"_count", "1"}, {"_fraction", "1"}}};
  for (const auto& [end, unit] : ends)
    if (key.ends_with(end)) return unit;
  return "1";
}

/// What the figures are made of.
struct Streams {
  Flow soaked, milk, to_settle, cooked, curd;
};

Ex key_of(Book& book, std::string_view key) { return book.find(key) ? name(key) : Ex(); }
Ex grams_of(Book& book, std::string_view key) { return Ex(1000.0) * key_of(book, key); }

Ex carbohydrate(const Flow& c) { return c[Component::starch] + c[Component::sugars] + c[Component::fibre]; }

Ex per_100g_text(Book& book, const Flow& c, Figure f) {
  const auto of = [&](Component part_c) { return Ex(100.0) * c[part_c] / c.mass; };
  switch (f) {
    case Figure::water: return of(Component::water);
    case Figure::protein: return of(Component::protein);
    case Figure::fat: return of(Component::fat);
    case Figure::fibre: return of(Component::fibre);
    case Figure::starch: return of(Component::starch);
    case Figure::salts: return of(Component::salts);
    case Figure::carbohydrate: return Ex(100.0) * carbohydrate(c) / c.mass;
    case Figure::calcium: return Ex(1e5) * c.part[calcium] / c.mass;
    case Figure::magnesium: return Ex(1e5) * c.part[magnesium] / c.mass;
    case Figure::sodium: return Ex(1e5) * c.part[sodium] / c.mass;
    default: break;
  }
  const auto factor = [&](const char* key, double v, const char* what) { return book.constant(key, v, "kcal/g", what, "USDA factors for curd"); };
  return Ex(100.0) * (factor("protein_kcal_g", 3.47, "energy of protein") * c[Component::protein] + factor("fat_kcal_g", 8.37, "energy of fat") * c[Component::fat] + factor("carbohydrate_kcal_g", 4.07, "energy of carbohydrate") * carbohydrate(c)) / c.mass;
}

Ex share_of(const Flow& f, Component c) { return f[c] / f.mass; }

/// Masses and counts of what comes out.
Ex expect_text(Book& book, const Flow& curd, Figure f) {
  switch (f) {
    case Figure::soaked_mass: return grams_of(book, "soaked_kg");
    case Figure::pulp_mass: return grams_of(book, "pulp_kg");
    case Figure::milk_mass: return grams_of(book, "milk_kg");
    case Figure::sediment_mass: return grams_of(book, "sediment_kg");
    case Figure::cooked_milk_mass: return grams_of(book, "cooked_kg");
    case Figure::whey_mass: return grams_of(book, "whey_kg");
    case Figure::curd_mass: return grams_of(book, "curd_kg");
    case Figure::blocks: return curd.mass / name("block_kg");
    case Figure::whole_blocks: return Ex::call("floor", {curd.mass / name("block_kg") + Ex(0.001)});
    case Figure::block_mass: return grams_of(book, "block_kg");
    case Figure::end_piece_mass: return Ex(1000.0) * maximum({Ex(), curd.mass - Ex::call("floor", {curd.mass / name("block_kg") + Ex(0.001)}) * name("block_kg")});
    case Figure::yield: return curd.mass / name("dry_kg");
    case Figure::protein_mass: return Ex(1000.0) * curd[Component::protein];
    default: return {};
  }
}

/// Figures of single stages.
Ex stage_text(Book& book, const Streams& s, Figure f) {
  switch (f) {
    case Figure::dry_mass: return grams_of(book, "dry_kg");
    case Figure::milk_volume: return Ex(1e6) * volume(book, "milk_m3", "the milk", s.milk, book.plan.strained.milk.of);
    case Figure::milk_protein: return share_of(s.milk, Component::protein);
    case Figure::milk_solids: return s.milk.solids / s.milk.mass;
    case Figure::cooked_protein: return share_of(s.cooked, Component::protein);
    case Figure::settled: return key_of(book, "sediment_settling_starch_kg") / s.milk[Component::starch];
    case Figure::settle_depth: return Ex(1000.0) * (key_of(book, "depth_m").zero() ? key_of(book, "depth_m_1") : name("depth_m"));
    case Figure::starch_left: return share_of(s.to_settle, Component::starch);
    case Figure::pulp_moisture: return key_of(book, "pulp_water_kg") / name("pulp_kg");
    case Figure::pulp_solids: return key_of(book, "pulp_solids_kg") / name("pulp_kg");
    case Figure::coagulant_mass: return grams_of(book, "coagulant_kg");
    case Figure::coagulant_strength: return name("strength_mmol_l");
    case Figure::evaporated: return key_of(book, "steam_kg") / s.to_settle.mass;
    case Figure::block_height: return Ex(1000.0) * name("block_height_m");
    case Figure::stored_mass: return Ex(1000.0) * s.curd.mass * (Ex(1.0) - book.param(Param::drip));
    case Figure::curd_solids: return s.curd.solids / s.curd.mass;
    case Figure::milk_brix: return (s.to_settle.solids - s.to_settle[Component::starch]) / s.to_settle.mass / book.param(Param::solids_per_brix);
    default: return {};
  }
}

Ex text_of(Book& book, const Streams& s, const FigureInfo& f) {
  if (f.figure == Figure::settled_milk_mass) return Ex(1000.0) * s.to_settle.mass;
  if (f.group == FigureGroup::per_100g) return per_100g_text(book, s.curd, f.figure);
  return f.group == FigureGroup::expect ? expect_text(book, s.curd, f.figure) : stage_text(book, s, f.figure);
}

}  // namespace

/// Walks through the stages and enters all that they have, and the figures.
void enter_all(Book& book) {
  const Soaking soaking = soak_terms(book);
  const Ground ground = blend_terms(book, soaking);
  Streams s;
  s.soaked = soaking.soaked;
  s.milk = strain_terms(book, ground);
  s.to_settle = starch_terms(book, ground, s.milk);
  s.cooked = cook_terms(book, s.to_settle);
  s.curd = press_terms(book, coagulate_terms(book, ground, s.cooked));
  for (const FigureInfo& f : all_figures())
    if (!book.find(f.key)) book.formula(std::string(f.key), value(book.plan, f.figure), unit_of(f.key, f.group), f.plain, text_of(book, s, f));
}

namespace {

void gather(const Book& book, std::string_view key, std::set<std::string, std::less<>>& seen, std::vector<Term>& to) {
  const Term* t = book.find(key);
  if (!t || !seen.emplace(key).second) return;
  to.push_back(*t);
  for (const std::string& of : t->of) gather(book, of, seen, to);
}

}  // namespace

}  // namespace accounts

std::vector<Account> account_all(const Batch& batch, std::span<const Figure> figures) {
  accounts::Book book(batch);
  accounts::enter_all(book);
  std::vector<Account> all;
  for (Figure f : figures) {
    std::set<std::string, std::less<>> seen;
    std::vector<Term> terms;
    accounts::gather(book, info(f).key, seen, terms);
    all.emplace_back(std::move(terms));
  }
  return all;
}

Account account(const Batch& batch, Figure figure) { return std::move(account_all(batch, std::span(&figure, 1)).front()); }

}  // namespace curdwright
