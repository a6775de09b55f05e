// SPDX-License-Identifier: MIT
#include "curdwright/response_account.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "curdwright/cost.hpp"

namespace curdwright {
namespace {

Term formula(std::string key, double value, std::string unit, std::string plain, std::string text) {
  Term t;
  t.key = std::move(key), t.value = value, t.unit = std::move(unit), t.plain = std::move(plain), t.formula = std::move(text);
  for (const TextPiece& p : pieces_of(t.formula))
    if (p.is_name && std::find(t.of.begin(), t.of.end(), p.text) == t.of.end()) t.of.emplace_back(p.text);
  return t;
}

Term leaf(std::string key, double value, std::string unit, std::string plain, std::string from) {
  Term t;
  t.key = std::move(key), t.value = value, t.unit = std::move(unit), t.plain = std::move(plain), t.kind = TermKind::setting, t.from = std::move(from);
  return t;
}

/// "calcium-sulfate" as a name of a formula.
std::string name_of(std::string id) {
  std::replace(id.begin(), id.end(), '-', '_');
  return id;
}

/// The terms of one line of the bill: what is bought or sold, times its price.
void enter_line(const CostLine& line, const PricedItem& item, const std::string& currency, std::vector<Term>& terms) {
  const std::string id = name_of(line.id), price = "price_" + id, amount = "amount_" + id;
  const bool energy = line.energy_j > 0, by_volume = item.price.basis == PriceBasis::volume;
  const double si = energy ? line.energy_j : line.mass.si(), sign = line.money < 0 ? -1 : 1;
  const double density = by_volume ? item.price.money_per_si * si / std::abs(line.money) : 0;
  terms.push_back(formula("cost_" + id, line.money, currency, line.what, fmt::format("{}{} * {}{}", sign < 0 ? "-1 * " : "", amount, price, by_volume ? fmt::format(" / density_{}", id) : "")));
  terms.push_back(leaf(amount, si, energy ? "J" : "kg", sign < 0 ? "what is sold" : "what is bought", energy ? "heat of cooking over the efficiency of the hob, by the plan" : "the plan; see the sheet"));
  terms.push_back(leaf(price, item.price.money_per_si, fmt::format("{}/{}", currency, energy ? "J" : by_volume ? "m3" : "kg"), fmt::format("price, told as {}", item.text), "kitchen /prices/" + line.id));
  if (by_volume) terms.push_back(leaf("density_" + id, density, "kg/m3", "density", "record or properties of " + line.id));
}

/// The bill, its sum first.
std::vector<Term> bill_of(const Batch& b, const Cost& c) {
  std::string sum;
  std::vector<Term> lines;
  const Prices prices = prices_of(b.setup.kitchen);
  for (const CostLine& line : c.lines) {
    const PricedItem* item = prices.find(line.id);
    if (!item) continue;
    sum += (sum.empty() ? "cost_" : " + cost_") + name_of(line.id);
    enter_line(line, *item, c.currency, lines);
  }
  std::vector<Term> terms = {formula("total_cost", c.sums->total, c.currency, "cost of the batch", sum)};
  terms.insert(terms.end(), lines.begin(), lines.end());
  return terms;
}

/// Adds an account whose terms are not there yet.
void add(std::vector<Term>& to, const Account& a) {
  for (const Term& t : a.terms())
    if (std::none_of(to.begin(), to.end(), [&](const Term& o) { return o.key == t.key; })) to.push_back(t);
}

Result<Account> of_cost(const Batch& b, const Response& r) {
  const auto c = cost(b, prices_of(b.setup.kitchen));
  if (!c || !c->sums) return fail(Problem{"out-of-reach", {}, fmt::format("there is no {}", r.plain), "no price is told for the seed", "tell it with --price, for example --price soybean=3.10/kg"});
  std::vector<Term> terms;
  const auto on_top = [&](const char* key, double v, std::string unit, const char* plain, const char* text) { terms.push_back(formula(key, v, std::move(unit), plain, text)); };
  if (r.key == "protein_per_cost") on_top("protein_per_cost", 10 / c->sums->per_10g_protein, "g/" + c->currency, "protein for one unit of money", "10 / cost_per_10g_protein");
  if (r.key == "protein_per_cost" || r.key == "cost_per_10g_protein") on_top("cost_per_10g_protein", c->sums->per_10g_protein, c->currency, "cost of 10 g of its protein", "10 * total_cost / protein_mass_g");
  if (r.key == "cost_per_block") on_top("cost_per_block", c->sums->per_block, c->currency, "cost of a block", "total_cost * block_mass_g / curd_mass_g");
  if (r.key == "cost_per_100g") on_top("cost_per_100g", c->sums->per_100g, c->currency, "cost of 100 g of curd", "100 * total_cost / curd_mass_g");
  add(terms, Account(bill_of(b, *c)));
  std::vector<Figure> figures;
  if (r.key == "cost_per_block") figures = {Figure::block_mass, Figure::curd_mass};
  if (r.key == "cost_per_100g") figures = {Figure::curd_mass};
  if (r.key == "protein_per_cost" || r.key == "cost_per_10g_protein") figures = {Figure::protein_mass};
  for (const Account& a : account_all(b, figures)) add(terms, a);
  return Account(std::move(terms));
}

}  // namespace

Result<Account> account(const Batch& b, const Response& r) {
  if (r.key.find("cost") != std::string::npos) return of_cost(b, r);
  if (r.figure == Figure::end)
    return fail(Problem{"out-of-reach", {}, fmt::format("{} has no tree of formulas", r.key), "times and growth are reckoned along the operations of the day, which the sheet lists", "ask for a figure or a cost: see `curdwright list responses`"});
  const Account whole = account(b, r.figure);
  if (r.scale == 1) return whole;
  std::vector<Term> terms = {formula(r.key, value(r, b).value_or(0), "1", r.plain, fmt::format("{} / {}", whole.root().key, 1 / r.scale))};
  add(terms, whole);
  return Account(std::move(terms));
}

}  // namespace curdwright
