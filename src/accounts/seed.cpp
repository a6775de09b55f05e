// SPDX-License-Identifier: MIT
// Terms of the dry seed.
#include <fmt/format.h>

#include "accounts/book.hpp"

namespace curdwright::accounts {
namespace {

/// Parts of a kilogram of one legume. Carbohydrate by difference: fibre first, then sugars, then starch, each as far as it goes.
Flow fractions(Book& book, std::size_t i) {
  const auto of = [&](Param p) { return book.param(p, i); };
  const bool oily = book.job.seeds[i].oily;
  const Ex tabled = of(Param::seed_water) + of(Param::seed_protein) + of(Param::seed_fat) + of(Param::seed_ash);
  const Ex carbohydrate = name("carbohydrate"), fibre = name("named_fibre"), sugars = name("named_sugars"), starch = name("named_starch"), unnamed = name("unnamed"), total = name("total");
  const Ex to_fibre = book.param(oily ? Param::unassigned_fibre_oily : Param::unassigned_fibre_pulse);
  const std::vector<NamedText> where = {{"total", maximum({1.0, tabled}).str()},
                                        {"carbohydrate", maximum({Ex(), Ex(1.0) - tabled}).str()},
                                        {"named_fibre", minimum({of(Param::seed_fibre), carbohydrate}).str()},
                                        {"named_sugars", minimum({of(Param::seed_sugars), carbohydrate - fibre}).str()},
                                        {"named_starch", minimum({of(Param::seed_starch), carbohydrate - fibre - sugars}).str()},
                                        {"unnamed", (carbohydrate - fibre - sugars - starch).str()}};
  const Composition c = seed_composition(book.theta, i, oily);
  Flow f;
  const auto enter = [&](Component part_c, const Ex& text) {
    if (c[part_c] == 0) return;
    f.part[part(part_c)] = book.formula(fmt::format("seed_{}_fraction{}", part_name(part(part_c)), book.tail(i)), c[part_c], "kg/kg", fmt::format("{} in a kg of dry {}", part_name(part(part_c)), book.setup.legumes[i].kitchen_name), text / total, where);
  };
  enter(Component::water, of(Param::seed_water)), enter(Component::protein, of(Param::seed_protein));
  enter(Component::starch, starch), enter(Component::sugars, sugars + unnamed * (Ex(1.0) - to_fibre));
  enter(Component::fat, of(Param::seed_fat)), enter(Component::fibre, fibre + unnamed * to_fibre), enter(Component::ash, of(Param::seed_ash));
  f.part[calcium] = of(Param::seed_calcium), f.part[magnesium] = of(Param::seed_magnesium);
  f.part[sodium] = book.record("seed_sodium" + book.tail(i), book.setup.legumes[i].sodium, 1e-5, "kg/kg", "sodium of the seed", fmt::format("legume {}, composition.sodium", book.setup.legumes[i].id));
  return f;
}

Ex dry_term(Book& book) {
  const Want& w = book.setup.recipe.want;
  return book.setting("dry_kg", book.job.dry.si(), "kg", "dry seed", w.dry ? "recipe /want/dry, to the step of the scale" : "sized to reach what is wanted, to the step of the scale");
}

}  // namespace

Flow seed_terms(Book& book, std::array<Flow, max_legumes>& lots) {
  const Ex dry = dry_term(book);
  for (std::size_t i = 0; i < book.job.legume_count; ++i) {
    const std::string tail = book.tail(i), what = "dry " + book.setup.legumes[i].kitchen_name;
    const Ex share = book.job.legume_count == 1 ? Ex(1.0) : book.setting("share" + tail, book.job.seeds[i].share, "1", fmt::format("share of {}", what), "recipe /legume, to the step of the scale");
    const LotSoak lot = soak_lot(book.job, book.theta, i, book.plan.soaking, book.plan.soak_water_in.of.total_kg(), {}, 1.0);
    const Flow fraction = fractions(book, i);
    lots[i] = book.flow("seed" + tail, what, lot.dry, [&](std::size_t p) { return dry * share * fraction.part[p]; });
  }
  if (book.job.legume_count == 1) return lots[0];
  return book.flow("seed", "dry seed", book.plan.seed, [&](std::size_t p) {
    Ex sum;
    for (std::size_t i = 0; i < book.job.legume_count; ++i) sum = sum + lots[i].part[p];
    return sum;
  });
}

}  // namespace curdwright::accounts
