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

/// A response of cost: how it follows from the sums of the bill, and from what is further down its tree.
struct CostFormula {
  std::string_view key, plain, text;
  double (*of)(const CostSums&);
  std::string_view per = "";            ///< what stands before the currency in its unit
  std::string_view over = "";           ///< key of the formula that it stands on, when that is another of these
  std::array<Figure, 2> figures = {Figure::end, Figure::end};
};
constexpr std::array cost_formulas = {
    CostFormula{"protein_per_cost", "protein for one unit of money", "10 / cost_per_10g_protein", [](const CostSums& s) { return 10 / s.per_10g_protein; }, "g/", "cost_per_10g_protein"},
    CostFormula{"cost_per_10g_protein", "cost of 10 g of its protein", "10 * total_cost / protein_mass_g", [](const CostSums& s) { return s.per_10g_protein; }, "", "", {Figure::protein_mass, Figure::end}},
    CostFormula{"cost_per_block", "cost of a block", "total_cost * block_mass_g / curd_mass_g", [](const CostSums& s) { return s.per_block; }, "", "", {Figure::block_mass, Figure::curd_mass}},
    CostFormula{"cost_per_100g", "cost of 100 g of curd", "100 * total_cost / curd_mass_g", [](const CostSums& s) { return s.per_100g; }, "", "", {Figure::curd_mass, Figure::end}},
};

/// None for the total, which is the bill itself.
const CostFormula* cost_formula(std::string_view key) {
  const auto f = std::find_if(cost_formulas.begin(), cost_formulas.end(), [key](const CostFormula& row) { return row.key == key; });
  return f == cost_formulas.end() ? nullptr : &*f;
}

Result<Account> of_cost(const Batch& b, const Response& r) {
  const auto c = cost(b, prices_of(b.setup.kitchen));
  if (!c || !c->sums) return fail(without_price(r));
  std::vector<Term> terms;
  std::vector<Figure> figures;
  for (const CostFormula* f = cost_formula(r.key); f; f = cost_formula(f->over)) {
    terms.push_back(formula(std::string(f->key), f->of(*c->sums), fmt::format("{}{}", f->per, c->currency), std::string(f->plain), std::string(f->text)));
    figures.assign(f->figures.begin(), std::find(f->figures.begin(), f->figures.end(), Figure::end));
  }
  add(terms, Account(bill_of(b, *c)));
  for (const Account& a : account_all(b, figures)) add(terms, a);
  return Account(std::move(terms));
}

}  // namespace

Result<Account> account(const Batch& b, const Response& r) {
  if (r.key.find("cost") != std::string::npos) return of_cost(b, r);
  if (r.figure == Figure::end)
    return fail(Problem{"out-of-reach", {}, fmt::format("{} has no tree of formulas", r.key), "it is reckoned from the whole batch and its day, and not kept as formulas", "ask for a mass, a share of the curd or a cost, for example curd_mass_g"});
  const Account whole = account(b, r.figure);
  if (r.scale == 1) return whole;
  std::vector<Term> terms = {formula(r.key, value(r, b).value_or(0), "1", r.plain, fmt::format("{} / {}", whole.root().key, 1 / r.scale))};
  add(terms, whole);
  return Account(std::move(terms));
}

}  // namespace curdwright
