// SPDX-License-Identifier: MIT
#include "curdwright/cost.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "curdwright/properties.hpp"
#include "json/document.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

constexpr std::array<std::string_view, 3> bought = {"water", "electricity", "gas"};
constexpr std::array<std::string_view, 3> sold = {"pulp", "starch-layer", "whey"};

/// Heat that a kilogram of water takes to boil off at 100 degC: steam tables, 2256.4 kJ/kg (memory, confidence high).
constexpr double boil_off_j_kg = 2256.4e3;

bool among(const auto& list, std::string_view word) { return std::find(list.begin(), list.end(), word) != list.end(); }

/// What a thing may be priced by.
bool sold_by(std::string_view id, PriceBasis basis, const Catalogue& c) {
  if (id == "electricity" || id == "gas") return basis == PriceBasis::energy;
  if (basis == PriceBasis::mass) return true;
  if (basis == PriceBasis::energy) return false;
  if (id == "water" || id == "whey") return true;
  if (!among(c.coagulant_ids(), id)) return false;
  const auto coagulant = c.coagulant(id);
  return coagulant && coagulant->density;
}

std::string ways_to_sell(std::string_view id, const Catalogue& c) {
  std::string words;
  for (const auto& [basis, unit] : {std::pair{PriceBasis::mass, "kg"}, std::pair{PriceBasis::volume, "l"}, std::pair{PriceBasis::energy, "kWh"}})
    if (sold_by(id, basis, c)) words += fmt::format("{}{}", words.empty() ? "" : " or ", unit);
  return words;
}

/// Another name of a legume, coagulant or extra, or the nearest id.
std::string mended_id(std::string_view id, const Catalogue& c) {
  if (const auto l = c.legume(id)) return fmt::format("write \"{}\"", l->id);
  if (const auto s = c.coagulant(id)) return fmt::format("write \"{}\"", s->id);
  if (const auto e = c.extra(id)) return fmt::format("write \"{}\"", e->id);
  std::vector<std::string> ids = c.legume_ids();
  for (std::string& s : c.coagulant_ids()) ids.push_back(std::move(s));
  for (std::string& s : c.extra_ids()) ids.push_back(std::move(s));
  std::vector<std::string_view> known(ids.begin(), ids.end());
  known.insert(known.end(), bought.begin(), bought.end());
  known.insert(known.end(), sold.begin(), sold.end());
  const std::string fix = text::suggest(id, known);
  return fix.empty() ? "see `curdwright list legumes` and `curdwright list coagulants`" : fix;
}

/// Collects what is priced and names what is not.
class Bill {
 public:
  Bill(const Prices& prices, Cost& cost) : prices_(prices), cost_(cost) {}

  /// \param density of what may be sold by volume
  void mass(std::string id, std::string what, Mass m, std::optional<Density> density, bool earns = false) {
    if (m.si() <= 0) return;
    const PricedItem* item = prices_.find(id);
    if (!item) return missing(std::move(id), earns);
    double money = item->price.money_per_si * m.si();
    if (item->price.basis == PriceBasis::volume && density) money /= density->si();
    if (earns) money = -money;
    add({std::move(id), std::move(what), item->text, m, 0, money});
  }
  void energy(std::string id, std::string what, double joules) {
    const PricedItem* item = prices_.find(id);
    if (!item) return missing(std::move(id), false);
    add({std::move(id), std::move(what), item->text, {}, joules, item->price.money_per_si * joules});
  }

 private:
  void missing(std::string id, bool earns) {
    if (!earns) cost_.missing.push_back(std::move(id));
  }
  void add(CostLine line) {
    cost_.lines.push_back(std::move(line));
  }
  const Prices& prices_;
  Cost& cost_;
};

void fill(Bill& bill, const Batch& b) {
  const Plan& p = b.plan;
  const Setup& s = b.setup;
  for (std::size_t i = 0; i < s.legumes.size(); ++i) bill.mass(s.legumes[i].id, "dry " + s.legumes[i].kitchen_name, p.dry * s.job.seeds[i].share, std::nullopt);
  std::optional<Density> density;
  if (s.coagulant.density) density = kilograms_per_cubic_metre(1e3 * s.coagulant.density->value);
  bill.mass(s.coagulant.id, s.coagulant.kitchen_name, coagulant_made_up(b), density);
  for (std::size_t i = 0; i < s.extras.size(); ++i) bill.mass(s.extras[i].extra.id, s.extras[i].extra.kitchen_name, s.job.extras[i].mass(p.dry), std::nullopt);
  bill.mass("water", "water", water_used(b), water_density(celsius(20)));
  bill.energy(s.hob.id == "gas" ? "gas" : "electricity", "cooking", cooking_energy_j(b));
  // Raw, and of these beans poisonous: not for sale.
  if (!raw_is_poisonous(s.legumes)) {
    bill.mass("pulp", "pulp, sold raw: tell the buyer to cook it", p.strained.pulp.mass(), std::nullopt, true);
    bill.mass("starch-layer", "starch layer, sold raw: tell the buyer to cook it", p.destarched.sediment.mass(), std::nullopt, true);
  }
  const Composition& whey = p.pressed.whey.of;
  const double whey_m3 = volume_at_20(whey).si();
  bill.mass("whey", "whey, sold", whey.mass(), whey_m3 > 0 ? std::optional(kilograms_per_cubic_metre(whey.total_kg() / whey_m3)) : std::nullopt, true);
}

std::optional<CostSums> sums_of(const std::vector<CostLine>& lines, const Plan& p) {
  const double curd_g = in_grams(p.pressed.curd.mass()), protein_g = curd_g * value(p, Figure::protein) / 100;
  if (curd_g <= 0 || protein_g <= 0) return std::nullopt;
  CostSums s;
  for (const CostLine& l : lines) s.total += l.money;
  s.per_block = s.total * in_grams(p.block) / curd_g;
  s.per_100g = 100 * s.total / curd_g;
  s.per_10g_protein = 10 * s.total / protein_g;
  return s;
}

}  // namespace

const PricedItem* Prices::find(std::string_view id) const {
  for (const PricedItem& i : items)
    if (i.id == id) return &i;
  return nullptr;
}

Prices prices_of(const Kitchen& kitchen) {
  Prices prices;
  prices.currency = kitchen.currency;
  for (const auto& [id, text] : kitchen.prices)
    if (const auto price = parse_price(text)) prices.items.push_back({id, text, *price});
  return prices;
}

Problems check_prices(const Kitchen& kitchen, const Catalogue& c) {
  Problems problems;
  for (const PricedItem& i : prices_of(kitchen).items) {
    Place at;
    at.pointer = "/kitchen/prices" + json::pointer_step(i.id);
    if (!among(bought, i.id) && !among(sold, i.id) && !among(c.legume_ids(), i.id) && !among(c.coagulant_ids(), i.id) && !among(c.extra_ids(), i.id))
      problems.push_back({"word-unknown", at, fmt::format("nothing is called {}", text::quoted(i.id)), "a price belongs to a legume, a coagulant, an extra, water, electricity, gas, pulp, starch-layer or whey", mended_id(i.id, c)});
    else if (!sold_by(i.id, i.price.basis, c))
      problems.push_back({"unit-wrong-kind", at, fmt::format("{} has a price by {}", i.id, word(i.price.basis)), "", fmt::format("write its price for a {}", ways_to_sell(i.id, c))});
  }
  return problems;
}

Mass coagulant_made_up(const Batch& b) { return kilograms(b.plan.set.dose.used_kg * b.setup.job.coagulate.make_up); }
Mass mix_water(const Batch& b) { return coagulant_made_up(b) * b.setup.job.coagulate.mix_water_kg_kg; }

Mass water_used(const Batch& b) {
  const SoakSettings& soak = b.setup.job.soak;
  return b.plan.dry * (soak.water_to_dry * (1 + soak.changes)) + kilograms(b.plan.water.grinding_kg + b.plan.strained.wash_kg) + mix_water(b);
}

double cooking_energy_j(const Batch& b) {
  const CookSettings& s = b.setup.job.cook;
  const Stream pot = b.plan.destarched.milk * (1.0 / s.pots);
  const TemperatureHistory& h = b.plan.cooked.history;
  const Temperature start = std::min(b.plan.destarched.milk.at, s.boil), about = celsius(0.5 * (in_celsius(b.plan.destarched.milk.at) + in_celsius(s.boil)));
  const double loss_w_k = b.theta[Param::pot_loss] * in_square_metres(pot_surface(pot.mass()));
  const double lost_j = loss_w_k * integrate(h, [&](Temperature t) { return (t - s.room).si(); });  // cold milk gains from the room
  const double stored_j = pot.of.total_kg() * heat_capacity_j_kg_k(pot.of, about) * (h.hottest() - start).si();
  const double steam_j = b.plan.cooked.steam.of.total_kg() * boil_off_j_kg;
  // Milk for GDL is warmed a second time, in its bath.
  const TemperatureHistory& set = b.plan.set.history;
  double bath_j = 0;
  if (b.setup.job.coagulate.kind == CoagulantKind::lactone && !set.pieces().empty())
    bath_j = b.plan.cooked.milk.of.total_kg() * heat_capacity_j_kg_k(b.plan.cooked.milk.of, about) * (set.hottest() - set.pieces().front().start).si();
  return ((lost_j + stored_j) * s.pots + steam_j + bath_j) / b.theta[Param::hob_efficiency];
}

std::optional<Cost> cost(const Batch& b, const Prices& prices) {
  Cost c;
  c.currency = prices.currency;
  c.poisonous_pulp = raw_is_poisonous(b.setup.legumes) && (prices.find("pulp") || prices.find("starch-layer"));
  Bill bill(prices, c);
  fill(bill, b);
  if (c.lines.empty()) return std::nullopt;
  const auto priced = [&](const Legume& l) { return prices.find(l.id) != nullptr; };
  if (std::all_of(b.setup.legumes.begin(), b.setup.legumes.end(), priced)) c.sums = sums_of(c.lines, b.plan);
  return c;
}

}  // namespace curdwright
