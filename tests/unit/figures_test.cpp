// SPDX-License-Identifier: MIT
#include "curdwright/figures.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>

#include "curdwright/properties.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::plan_of;

namespace {

constexpr std::array<std::string_view, 9> unit_endings = {"_g", "_ml", "_c", "_s", "_mm", "_mg", "_kcal", "_fraction", "_count"};

Composition food(double water, double protein, double fat, double carbohydrate) {
  Composition c;
  c[Component::water] = water / 1e3, c[Component::protein] = protein / 1e3, c[Component::fat] = fat / 1e3, c[Component::sugars] = carbohydrate / 1e3;
  return c;
}

}  // namespace

TEST_CASE("the table of figures stands in order, with keys of its own that end in their unit") {
  std::set<std::string_view> keys;
  std::size_t i = 0;
  for (const FigureInfo& f : all_figures()) {
    INFO(f.key);
    CHECK(static_cast<std::size_t>(f.figure) == i++);
    CHECK(&info(f.figure) == &f);
    CHECK(keys.insert(f.key).second);
    CHECK((f.key.find("_per_") != std::string_view::npos ||
           std::any_of(unit_endings.begin(), unit_endings.end(), [&](std::string_view e) { return f.key.ends_with(e); })));
    CHECK((f.typical_error >= 0 && f.typical_error < 0.5));
    CHECK_FALSE(f.plain.empty());
  }
  CHECK(i == figure_count);
}

TEST_CASE("figures read the plan that they are asked of") {
  const Plan p = plan_of(R"({"legume": "chickpea-kabuli", "block": {"mass": "100 g"}})", 2.0);
  CHECK(value(p, Figure::dry_mass) == Approx(2000));
  CHECK(value(p, Figure::soaked_mass) == Approx(1e3 * p.soaked.of.total_kg()));
  CHECK(value(p, Figure::pulp_mass) == Approx(1e3 * p.strained.pulp.of.total_kg()));
  CHECK(value(p, Figure::milk_mass) == Approx(1e3 * p.strained.milk.of.total_kg()));
  CHECK(value(p, Figure::milk_volume) == Approx(1e6 * volume_at_20(p.strained.milk.of).si()));
  CHECK(value(p, Figure::sediment_mass) == Approx(1e3 * p.destarched.sediment.of.total_kg()));
  CHECK(value(p, Figure::settled_milk_mass) == Approx(1e3 * p.destarched.milk.of.total_kg()));
  CHECK(value(p, Figure::cooked_milk_mass) == Approx(1e3 * p.cooked.milk.of.total_kg()));
  CHECK(value(p, Figure::whey_mass) == Approx(1e3 * p.pressed.whey.of.total_kg()));
  const double curd = 1e3 * p.pressed.curd.of.total_kg();
  CHECK(value(p, Figure::curd_mass) == Approx(curd));
  CHECK(value(p, Figure::yield) == Approx(curd / 2000));
  CHECK(value(p, Figure::blocks) == Approx(curd / 100));
  CHECK(value(p, Figure::whole_blocks) == std::floor(curd / 100 + 1e-3));
  CHECK(value(p, Figure::end_piece_mass) == Approx(curd - 100 * value(p, Figure::whole_blocks)).margin(1e-9));
  CHECK(value(p, Figure::coagulant_mass) == Approx(1e3 * p.set.dose.used_kg));
  CHECK(value(p, Figure::coagulant_strength) == Approx(in_millimolar(p.set.dose.strength)));
  CHECK(value(p, Figure::stored_mass) == Approx(curd * (1 - p.drip)));
  CHECK(value(p, Figure::heat_up) == Approx(in_seconds(p.cooked.heat_up)));
  CHECK(value(p, Figure::evaporated) == Approx(p.cooked.steam.of.total_kg() / p.destarched.milk.of.total_kg()));
  CHECK(value(p, Figure::settle_depth) == Approx(in_millimetres(p.destarched.depth)));
  CHECK(value(p, Figure::block_height) == Approx(in_millimetres(p.pressed.block_height)));
}

TEST_CASE("the parts of 100 g of curd add up") {
  const Plan p = plan_of(R"({"legume": "chickpea-kabuli"})");
  const double ash = 100 * p.pressed.curd.of.fraction(Component::ash);
  CHECK(value(p, Figure::water) + value(p, Figure::protein) + value(p, Figure::fat) + value(p, Figure::carbohydrate) + value(p, Figure::salts) + ash ==
        Approx(100));
  CHECK(value(p, Figure::carbohydrate) >= value(p, Figure::starch) + value(p, Figure::fibre));
}

TEST_CASE("the minerals of the curd come from seed and coagulant") {
  const Plan calcium = plan_of(R"({"legume": "soybean"})"), magnesium = plan_of(R"({"legume": "soybean", "coagulate": {"with": "nigari-flakes"}})");
  CHECK(value(calcium, Figure::calcium) > value(magnesium, Figure::calcium) + 50);
  CHECK(value(magnesium, Figure::magnesium) > value(calcium, Figure::magnesium) + 10);
  CHECK(value(calcium, Figure::sodium) == Approx(value(magnesium, Figure::sodium)).epsilon(0.05));
}

TEST_CASE("energy meets the printed rows of curd") {
  // USDA SR Legacy curd rows with the food factors 3.47, 8.37, 4.07 (science.md 8.3 and 11).
  CHECK(energy_kcal(food(87.3, 7.17, 3.69, 1.18)) == Approx(60.57).margin(0.006));
  CHECK(energy_kcal(food(84.55, 8.08, 4.78, 1.87)) == Approx(75.66).margin(0.006));
  CHECK(energy_kcal(food(50, 18.82, 20.18, 8.86)) == Approx(270.27).margin(0.006));
  CHECK(energy_kcal(food(6, 52.43, 30.34, 8.30)) == Approx(469.66).margin(0.006));
}

TEST_CASE("a block is whole when no more than a thousandth of it is missing") {
  CHECK(whole_blocks(4.0) == 4);
  CHECK(whole_blocks(3.9995) == 4);
  CHECK(whole_blocks(3.99) == 3);
  CHECK(whole_blocks(0.2) == 0);
}

TEST_CASE("a plan without curd has no figures that are not numbers") {
  const Plan p = plan_of(R"({"legume": "soybean", "blend": {"total_water_to_dry": 0.6}})");
  REQUIRE_FALSE(p.whole());
  for (const FigureInfo& f : all_figures()) {
    INFO(f.key);
    CHECK(std::isfinite(f.of(p)));
  }
}
