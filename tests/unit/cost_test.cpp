// SPDX-License-Identifier: MIT
#include "curdwright/cost.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/properties.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::batch_of;
using curdwright::test::must;

namespace {

const char* const soy = R"({"legume": "soybean", "want": {"blocks": 4}})";

Prices prices(std::vector<std::pair<std::string, std::string>> list) {
  Kitchen k;
  k.currency = "EUR", k.prices = std::move(list);
  return prices_of(k);
}

const CostLine& line(const Cost& c, std::string_view id) {
  for (const CostLine& l : c.lines)
    if (l.id == id) return l;
  throw std::out_of_range("no such line");
}

double per_kg(std::string_view text) { return must(parse_price(text)).money_per_si; }
std::string fault(std::string_view text) {
  const auto p = parse_price(text);
  return p ? "accepted" : p.error()[0].code;
}

}  // namespace

TEST_CASE("a price is money for a unit, or for an amount of it") {
  CHECK(per_kg("3.10/kg") == Approx(3.10));
  CHECK(per_kg("3.10 / kg") == Approx(3.10));
  CHECK(per_kg("4.50/500 g") == Approx(9.0));
  CHECK(per_kg("0.02/g") == Approx(20));
  CHECK(per_kg("2/lb") == Approx(2 / 0.45359237));
  CHECK(per_kg("1/oz") == Approx(16 / 0.45359237));
  CHECK(per_kg("0/kg") == 0);
  CHECK(must(parse_price("2/l")).basis == PriceBasis::volume);
  CHECK(must(parse_price("2/l")).money_per_si == Approx(2000));
  CHECK(must(parse_price("5/100 ml")).money_per_si == Approx(50000));
  CHECK(must(parse_price("0.36/kWh")).basis == PriceBasis::energy);
  CHECK(must(parse_price("0.36/kWh")).money_per_si == Approx(1e-7));
  CHECK(must(parse_price("1/100 MJ")).money_per_si == Approx(1e-8));
}

TEST_CASE("what is no price is refused") {
  for (const char* text : {"", "3.10", "3.10 kg", "/kg", "3,10/kg", "nan/kg", "inf/kg", "1e999/kg", "3.10/", "3.10/degC", "3.10/piece", "3/0 g", "3/-1 kg", "x/kg", "EUR 3/kg", "3/kg/kg", "1/0 kWh", "1/1e-400 kg"}) {
    INFO(text);
    CHECK(fault(text) == "price-unreadable");
  }
  CHECK(fault("-1/kg") == "out-of-range");
  CHECK(fault("1e10/kg") == "out-of-range");
}

TEST_CASE("a currency is a code of ISO 4217") {
  CHECK(must(parse_currency("EUR")) == "EUR");
  CHECK(must(parse_currency("XXX")) == "XXX");
  CHECK(parse_currency("EUX").error()[0].fix == "did you mean \"EUR\"?");
  CHECK(parse_currency("eur").error()[0].fix == "write \"EUR\"");
  CHECK_FALSE(parse_currency("Euro"));
  CHECK_FALSE(parse_currency(""));
  CHECK(std::is_sorted(currencies().begin(), currencies().end()));
  CHECK(std::adjacent_find(currencies().begin(), currencies().end()) == currencies().end());
  for (std::string_view c : currencies()) CHECK(c.size() == 3);
  CHECK(minor_digits("EUR") == 2);
  CHECK(minor_digits("JPY") == 0);
  CHECK(minor_digits("KWD") == 3);
}

TEST_CASE("without a price that matters there is no cost, and none of nothing") {
  const Batch b = batch_of(soy);
  CHECK_FALSE(cost(b, prices({})));
  CHECK_FALSE(cost(b, prices({{"chickpea-kabuli", "3/kg"}, {"gas", "0.1/kWh"}})));
  const auto c = cost(b, prices({{"soybean", "3/kg"}}));
  REQUIRE(c);
  CHECK(c->lines.size() == 1);
  CHECK(c->missing == std::vector<std::string>{b.setup.coagulant.id, "water", "electricity"});
  CHECK(c->sums);
  const auto no_seed = cost(b, prices({{"water", "3/m3"}, {"pulp", "1/kg"}}));  // would look as if the curd earned money
  REQUIRE(no_seed);
  CHECK(no_seed->lines.size() == 2);
  CHECK_FALSE(no_seed->sums);
}

TEST_CASE("a cost reckoned by hand") {
  const Batch b = batch_of(soy);
  const std::string salt = b.setup.coagulant.id;
  const auto c = cost(b, prices({{"soybean", "3/kg"}, {salt, "2/100 g"}, {"water", "4/m3"}, {"electricity", "0.36/kWh"}, {"pulp", "0.5/kg"}, {"whey", "0.1/l"}}));
  REQUIRE(c);
  CHECK(c->currency == "EUR");
  CHECK(c->missing.empty());
  const double dry = b.plan.dry.si(), made_up = b.plan.set.dose.used_kg * b.setup.job.coagulate.make_up;
  CHECK(line(*c, "soybean").money == Approx(3 * dry));
  CHECK(line(*c, salt).money == Approx(20 * made_up));
  const double water = dry * b.setup.job.soak.water_to_dry + b.plan.water.grinding_kg + b.plan.strained.wash_kg + made_up * b.setup.job.coagulate.mix_water_kg_kg;
  CHECK(line(*c, "water").mass.si() == Approx(water));
  CHECK(line(*c, "water").money == Approx(4 * water / 998.204));
  CHECK(line(*c, "electricity").money == Approx(1e-7 * cooking_energy_j(b)));
  CHECK(line(*c, "pulp").money == Approx(-0.5 * b.plan.strained.pulp.of.total_kg()));
  CHECK(line(*c, "whey").money == Approx(-0.1 * in_litres(volume_at_20(b.plan.pressed.whey.of))));
  double sum = 0;
  for (const CostLine& l : c->lines) sum += l.money;
  REQUIRE(c->sums);
  CHECK(c->sums->total == Approx(sum));
  const double curd_g = value(b.plan, Figure::curd_mass);
  CHECK(c->sums->per_100g == Approx(100 * sum / curd_g));
  CHECK(c->sums->per_block == Approx(sum / value(b.plan, Figure::blocks)));
  CHECK(c->sums->per_10g_protein == Approx(c->sums->per_100g * 10 / value(b.plan, Figure::protein)));
}

TEST_CASE("a liquid may be sold by volume, and costs the same by mass") {
  const Batch b = batch_of(R"({"legume": "soybean", "want": {"blocks": 4}, "coagulate": {"with": "vinegar-5"}})");
  REQUIRE(b.setup.coagulant.density);
  const double by_volume = cost(b, prices({{"vinegar-5", "2/l"}}))->lines[0].money;
  const double by_mass = cost(b, prices({{"vinegar-5", fmt::format("{}/kg", 2 / b.setup.coagulant.density->value)}}))->lines[0].money;
  CHECK(by_volume == Approx(by_mass));
}

TEST_CASE("a gas hob burns gas") {
  const Batch b = batch_of(soy, {"/kitchen/hob/kind=gas", "/kitchen/hob/power=3 kW"});
  const auto c = cost(b, prices({{"gas", "0.1/kWh"}, {"electricity", "9/kWh"}}));
  REQUIRE(c);
  CHECK(c->lines.size() == 1);
  CHECK(c->lines[0].money == Approx(0.1 * cooking_energy_j(b) / 3.6e6));
}

TEST_CASE("at full power and without a simmer the hob takes its power for as long as the pot heats") {
  Batch b = batch_of(soy);
  b.theta.set(Param::gentle_heating, 0, 1.0);
  b.setup.job.cook.hold = seconds(0);
  b.plan = plan(b.setup.job, b.theta);
  REQUIRE(b.plan.whole());
  CHECK(cooking_energy_j(b) == Approx(in_watts(b.setup.job.cook.hob) * in_seconds(b.plan.cooked.heat_up) * b.setup.job.cook.pots).epsilon(1e-6));
}

TEST_CASE("the simmer takes what boils off and what the pot loses") {
  Batch b = batch_of(soy);
  const double with = cooking_energy_j(b), steam_kg = b.plan.cooked.steam.of.total_kg(), hold_s = in_seconds(b.setup.job.cook.hold);
  const double loss_w = b.theta[Param::pot_loss] * in_square_metres(pot_surface(b.plan.destarched.milk.mass() * (1.0 / b.setup.job.cook.pots))) * (b.setup.job.cook.boil - b.setup.job.cook.room).si();
  b.setup.job.cook.hold = seconds(0);
  b.plan = plan(b.setup.job, b.theta);
  const double simmer = (with - cooking_energy_j(b)) * b.theta[Param::hob_efficiency];
  CHECK(simmer == Approx(2256.4e3 * steam_kg + loss_w * hold_s * b.setup.job.cook.pots).epsilon(1e-6));
}

TEST_CASE("ids that nothing has and prices by the wrong measure are named with what to write") {
  const Catalogue c = Catalogue::shipped();
  Kitchen k;
  k.prices = {{"soybeen", "3/kg"}, {"soy", "3/kg"}, {"soybean", "3/l"}, {"electricity", "1/kg"}, {"water", "2/l"}, {"whey", "1/kWh"}, {"vinegar-5", "2/l"}, {"gdl", "2/l"}, {"starch-layer", "1/kg"}};
  const Problems p = check_prices(k, c);
  REQUIRE(p.size() == 6);
  CHECK(p[0].code == "word-unknown");
  CHECK(p[0].fix == "did you mean \"soybean\"?");
  CHECK(p[0].place.pointer == "/kitchen/prices/soybeen");
  CHECK(p[1].fix == "write \"soybean\"");
  CHECK(p[2].code == "unit-wrong-kind");
  CHECK(p[2].fix == "write its price for a kg");
  CHECK(p[3].fix == "write its price for a kWh");
  CHECK(p[4].fix == "write its price for a kg or l");
  CHECK(p[5].what == "gdl has a price by volume");
}

TEST_CASE("faults of prices are found while a kitchen is read") {
  const auto k = read_kitchen("{\n \"currency\": \"EURO\",\n \"prices\": {\"soybean\": 3, \"water\": \"2\", \"a/b\": \"-1/kg\"}\n}", "k.json");
  REQUIRE_FALSE(k);
  const Problems& p = k.error();
  REQUIRE(p.size() == 4);
  CHECK(p[0].code == "word-unknown");
  CHECK(p[0].place.line == 2);
  CHECK(p[1].code == "type-wrong");
  CHECK(p[1].place.pointer == "/prices/soybean");
  CHECK(p[2].code == "price-unreadable");
  CHECK(p[2].place.pointer == "/prices/water");
  CHECK(p[3].code == "out-of-range");
  CHECK(p[3].place.pointer == "/prices/a~1b");
}
