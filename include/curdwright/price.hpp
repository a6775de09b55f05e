// SPDX-License-Identifier: MIT
/// \file price.hpp
/// A price as a kitchen writes it, "3.10/kg" or "4.50/500 g", and the codes of currencies.
///
///     Result<Price> p = parse_price("0.31/kWh");
///     double money = p->money_per_si * 3.6e6;   // 0.31
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "curdwright/problem.hpp"
#include "curdwright/words.hpp"

namespace curdwright {

enum class PriceBasis { mass, volume, energy };
template <>
inline constexpr std::array<std::string_view, 3> word_list<PriceBasis> = {"mass", "volume", "energy"};

struct Price {
  double money_per_si = 0;  ///< for 1 kg, 1 m3 or 1 J
  PriceBasis basis = PriceBasis::mass;
};

inline constexpr double joules_per_kwh = 3.6e6;

/// Money, a slash, and a unit of mass, volume or energy (kWh, MJ), or an amount of it. Nothing is told as 0, never left out.
Result<Price> parse_price(std::string_view text);

/// Stands for no currency in ISO 4217: what a kitchen has until it says otherwise.
inline constexpr std::string_view no_currency = "XXX";

/// Codes of ISO 4217 that are money in hand: funds, metals and codes for tests are left out.
std::span<const std::string_view> currencies();
/// Digits that such money is counted to: 2, with the standard's own exceptions.
int minor_digits(std::string_view currency);
/// The code itself, or what is wrong with it, without a place.
Result<std::string> parse_currency(std::string_view text);

}  // namespace curdwright
