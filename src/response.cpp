// SPDX-License-Identifier: MIT
#include "curdwright/response.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "curdwright/cautions.hpp"
#include "curdwright/cost.hpp"
#include "curdwright/units.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

template <double CostSums::*part>
std::optional<double> of_cost(const Batch& b) {
  const auto c = cost(b, prices_of(b.setup.kitchen));
  return c && c->sums ? std::optional(*(c->sums).*part) : std::nullopt;
}

/// Grams of protein for one unit of money.
std::optional<double> protein_per_cost(const Batch& b) {
  const auto per_10g = of_cost<&CostSums::per_10g_protein>(b);
  return per_10g && *per_10g > 0 ? std::optional(10 / *per_10g) : std::nullopt;
}

std::optional<double> protein_recovery(const Batch& b) {
  const double seed = b.plan.seed.of[Component::protein];
  return seed > 0 ? std::optional(b.plan.pressed.curd.of[Component::protein] / seed) : std::nullopt;
}

std::optional<double> whole_time(const Batch& b) {
  const Timeline t = facts_of(b).timeline;
  return t.cold ? std::optional(in_seconds(t.end())) : std::nullopt;
}

std::optional<double> hands_on(const Batch& b) {
  Duration sum;
  for (const Task& t : tasks(timeline(b))) sum += t.hands_on;
  return in_seconds(sum);
}

std::optional<double> trypsin_left(const Batch& b) { return trypsin_inhibitor_left(b.plan.cooked.history, b.theta); }
std::optional<double> raw_standing(const Batch& b) { return in_seconds(raw_milk_standing(b)); }
std::optional<double> growth(const Batch& b) { return growth_before_boil(b); }

/// Unit of people for the end of a key, with its factor.
struct Unit {
  std::string_view end, unit;
  double factor;
};
constexpr std::array units = {Unit{"_g", "g", 1},        Unit{"_ml", "ml", 1},          Unit{"_mm", "mm", 1},   Unit{"_c", "degC", 1},          Unit{"_fraction", "%", 100},
                              Unit{"_kcal", "kcal", 1},  Unit{"_mg", "mg", 1},          Unit{"_s", "min", 1.0 / 60}, Unit{"_mmol_per_l", "mmol/l", 1}, Unit{"_log10", "tenfold", 1}};

void give_unit(Response& r) {
  for (const Unit& u : units)
    if (r.key.ends_with(u.end)) r.unit = u.unit, r.to_unit = u.factor;
  // Curd is more than the seed by times, not by parts of a hundred.
  if (r.figure == Figure::yield) r.unit = "kg/kg", r.to_unit = 1;
}

/// Figures per 100 g of curd: grams are told as a share, what is no mass keeps its name.
Response of_figure(const FigureInfo& f) {
  Response r{std::string(f.key), std::string(f.plain), "", 1, f.figure, 1, nullptr, false};
  if (f.group == FigureGroup::per_100g) {
    const bool grams = r.key.ends_with("_g");
    r.key = grams ? r.key.substr(0, r.key.size() - 2) + "_fraction" : r.key + "_per_100g";
    r.plain += " in the curd";
    r.scale = grams ? 0.01 : 1;
    // A share of water is what food analysis calls moisture.
    if (f.figure == Figure::water) r.key = "moisture_fraction", r.plain = "moisture of the curd";
    if (!grams) r.unit = f.key.ends_with("_kcal") ? "kcal/100g" : "mg/100g";
  }
  give_unit(r);
  return r;
}

/// What is spent, waited for, or to be got rid of; of all else more is better, or it is a matter of taste.
constexpr std::array<std::string_view, 14> less_is_better = {"carbohydrate_fraction", "starch_fraction", "starch_left_fraction", "heat_up_s", "to_95_s",
                                                             "time_s", "hands_on_s", "raw_milk_standing_s", "growth_before_boil_log10", "trypsin_inhibitor_left_fraction",
                                                             "total_cost", "cost_per_block", "cost_per_100g", "cost_per_10g_protein"};

std::vector<Response> make_table() {
  std::vector<Response> all;
  for (const FigureInfo& f : all_figures()) all.push_back(of_figure(f));
  const auto add = [&](const char* key, const char* plain, std::optional<double> (*of)(const Batch&)) {
    all.push_back({key, plain, "", 1, Figure::end, 1, of, false});
    give_unit(all.back());
  };
  add("protein_recovery_fraction", "protein of the seed that ends in the curd", protein_recovery);
  add("time_s", "time until the last block is cold", whole_time);
  add("hands_on_s", "work of the hands", hands_on);
  add("raw_milk_standing_s", "raw milk out of the cold", raw_standing);
  add("growth_before_boil_log10", "growth before the boil", growth);
  add("trypsin_inhibitor_left_fraction", "trypsin inhibitor left", trypsin_left);
  const std::size_t first_money = all.size();
  add("total_cost", "cost of the batch", of_cost<&CostSums::total>);
  add("cost_per_block", "cost of a block", of_cost<&CostSums::per_block>);
  add("cost_per_100g", "cost of 100 g of curd", of_cost<&CostSums::per_100g>);
  add("cost_per_10g_protein", "cost of 10 g of its protein", of_cost<&CostSums::per_10g_protein>);
  for (std::size_t i = first_money; i < all.size(); ++i) all[i].unit = "money";
  add("protein_per_cost", "protein for one unit of money", protein_per_cost);
  all.back().unit = "g";
  for (Response& r : all) r.less_is_better = std::find(less_is_better.begin(), less_is_better.end(), r.key) != less_is_better.end();
  return all;
}

/// "yield" of "yield_fraction"; the key itself where it has no such end.
std::string_view without_unit(std::string_view key) {
  for (const Unit& u : units)
    if (key.ends_with(u.end)) return key.substr(0, key.size() - u.end.size());
  return key.ends_with("_count") ? key.substr(0, key.size() - 6) : key;
}

}  // namespace

std::span<const Response> all_responses() {
  static const std::vector<Response> table = make_table();
  return table;
}

Result<const Response*> find_response(std::string_view key) {
  std::vector<std::string_view> known;
  for (const Response& r : all_responses()) {
    if (r.key == key) return &r;
    known.push_back(r.key);
  }
  for (const Response& r : all_responses())
    if (without_unit(r.key) == key || (r.figure != Figure::end && info(r.figure).key == key)) return &r;
  const std::string fix = text::suggest(key, known);
  return fail(Problem{"word-unknown", {}, fmt::format("nothing that a batch can be asked for is called {}", text::quoted(key)), "", fix.empty() ? "see `curdwright list figures`" : fix});
}

Result<double> read_amount(const Response& r, std::string_view text) {
  if (const auto plain = parse_number(text)) return *plain;
  struct Kind {
    std::string_view end;
    QuantityKind kind;
    double si;  ///< of the key's unit
  };
  constexpr std::array kinds = {Kind{"_fraction", QuantityKind::fraction, 1}, Kind{"_g", QuantityKind::mass, 1e-3}, Kind{"_s", QuantityKind::duration, 1},
                                Kind{"_ml", QuantityKind::volume, 1e-6},      Kind{"_mm", QuantityKind::length, 1e-3}};
  for (const Kind& k : kinds) {
    if (!r.key.ends_with(k.end)) continue;
    const auto si = parse_quantity(text, k.kind);
    if (!si) return fail(si.error());
    return *si / k.si;
  }
  return fail(Problem{"number-unreadable", {}, fmt::format("{} is no number", text::quoted(text)), "", fmt::format("write {} as a plain number in the unit of its key", r.key)});
}

std::optional<double> value(const Response& r, const Batch& b) {
  if (!has_masses(b.plan)) return std::nullopt;
  const std::optional<double> v = r.of ? r.of(b) : std::optional(value(b.plan, r.figure) * r.scale);
  // A temperature that is never reached has no time.
  if (!v || !std::isfinite(*v) || (r.figure == Figure::to_95 && !(*v > 0))) return std::nullopt;
  return v;
}

Problem without_price(const Response& cost) {
  return {"out-of-reach", {}, fmt::format("there is no {}", cost.plain), "no price is told for the seed", "tell it with --price, for example --price soybean=3.10/kg"};
}

std::vector<std::optional<Range>> response_ranges(const Batch& batch, std::span<const Response* const> responses, const Sample& sample) {
  const Beliefs& beliefs = batch.setup.beliefs;
  const std::vector<double> z = sobol_normals(sample.plans, beliefs.size(), sample.seed);
  std::vector<std::vector<double>> values(responses.size());
  Batch b = batch;
  for (std::size_t k = 0; k < static_cast<std::size_t>(sample.plans); ++k) {
    b.theta = beliefs.at(std::span(z).subspan(k * beliefs.size(), beliefs.size()));
    b.plan = plan(b.setup.job, b.theta);
    for (std::size_t i = 0; i < responses.size(); ++i)
      if (const auto v = value(*responses[i], b)) values[i].push_back(*v);
  }
  std::vector<std::optional<Range>> out;
  for (std::vector<double>& v : values) {
    std::sort(v.begin(), v.end());
    out.push_back(2 * v.size() >= static_cast<std::size_t>(sample.plans) ? std::optional(Range{quantile(v, 0.1), quantile(v, 0.9)}) : std::nullopt);
  }
  return out;
}

}  // namespace curdwright
