// SPDX-License-Identifier: MIT
/// \file cost.hpp
/// What a batch costs, at the prices that the kitchen tells.
///
///     const std::optional<Cost> c = cost(batch, prices_of(batch.setup.kitchen));
///     if (c && c->sums) print(c->sums->per_block, c->currency);
///
/// What has no price is named and never counted as nothing: the sums leave it out, and there are none without the seed. Work, rent, ice,
/// packing and washing up are not counted.
#pragma once

#include <optional>

#include "curdwright/catalogue.hpp"
#include "curdwright/price.hpp"
#include "curdwright/solve.hpp"

namespace curdwright {

struct PricedItem {
  std::string id;    ///< a legume, a coagulant, an extra, water, electricity, gas; or pulp, starch-layer, whey, which earn
  std::string text;  ///< "3.10/kg"
  Price price;
};

struct Prices {
  std::string currency{no_currency};
  std::vector<PricedItem> items;
  [[nodiscard]] const PricedItem* find(std::string_view id) const;
};

/// The kitchen's prices; its reader has checked how they are written.
Prices prices_of(const Kitchen& kitchen);
/// Ids that nothing has, and prices by a measure that the thing is not sold by. Places are pointers below /kitchen.
Problems check_prices(const Kitchen& kitchen, const Catalogue& catalogue);

struct CostLine {
  std::string id;
  std::string what;   ///< in kitchen words
  std::string price;  ///< as it was written
  Mass mass;          ///< bought or sold; zero for energy
  double energy_j = 0;
  double money = 0;   ///< below zero for what earns
};

struct CostSums {
  double total = 0, per_block = 0, per_100g = 0;
  double per_10g_protein = 0;  ///< of the curd
};

struct Cost {
  std::string currency;
  std::vector<CostLine> lines;
  std::vector<std::string> missing;  ///< ids without a price; the sums leave them out
  bool poisonous_pulp = false;       ///< raw it is no goods, whatever its price
  std::optional<CostSums> sums;      ///< none while a legume has no price: the rest would say too little
};

/// Nothing when nothing that the batch needs or leaves has a price.
std::optional<Cost> cost(const Batch& batch, const Prices& prices);

/// Of the coagulant, with what is kept back.
Mass coagulant_made_up(const Batch& batch);
/// To stir that into.
Mass mix_water(const Batch& batch);
/// Soaking, grinding, washing the pulp and the mix; not washing up.
Mass water_used(const Batch& batch);
/// What the hob takes in, J: heat to bring the milk to the boil, what the pot loses meanwhile and at the simmer, and
/// what boils off, over the hob's efficiency. The same balance that the time to the boil comes from.
double cooking_energy_j(const Batch& batch);

}  // namespace curdwright
