// SPDX-License-Identifier: MIT
#include "curdwright/price.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "curdwright/units.hpp"
#include "text/letters.hpp"
#include "text/nearest.hpp"
#include "text/width.hpp"

namespace curdwright {
namespace {

// ISO 4217, active codes (from memory, as of 2025; confidence high).
constexpr std::array<std::string_view, 156> codes = {
    "AED", "AFN", "ALL", "AMD", "AOA", "ARS", "AUD", "AWG", "AZN", "BAM", "BBD", "BDT", "BGN", "BHD", "BIF", "BMD", "BND", "BOB", "BRL", "BSD",
    "BTN", "BWP", "BYN", "BZD", "CAD", "CDF", "CHF", "CLP", "CNY", "COP", "CRC", "CUP", "CVE", "CZK", "DJF", "DKK", "DOP", "DZD", "EGP", "ERN",
    "ETB", "EUR", "FJD", "FKP", "GBP", "GEL", "GHS", "GIP", "GMD", "GNF", "GTQ", "GYD", "HKD", "HNL", "HTG", "HUF", "IDR", "ILS", "INR", "IQD",
    "IRR", "ISK", "JMD", "JOD", "JPY", "KES", "KGS", "KHR", "KMF", "KPW", "KRW", "KWD", "KYD", "KZT", "LAK", "LBP", "LKR", "LRD", "LSL", "LYD",
    "MAD", "MDL", "MGA", "MKD", "MMK", "MNT", "MOP", "MRU", "MUR", "MVR", "MWK", "MXN", "MYR", "MZN", "NAD", "NGN", "NIO", "NOK", "NPR", "NZD",
    "OMR", "PAB", "PEN", "PGK", "PHP", "PKR", "PLN", "PYG", "QAR", "RON", "RSD", "RUB", "RWF", "SAR", "SBD", "SCR", "SDG", "SEK", "SGD", "SHP",
    "SLE", "SOS", "SRD", "SSP", "STN", "SVC", "SYP", "SZL", "THB", "TJS", "TMT", "TND", "TOP", "TRY", "TTD", "TWD", "TZS", "UAH", "UGX", "USD",
    "UYU", "UZS", "VED", "VES", "VND", "VUV", "WST", "XAF", "XCD", "XCG", "XOF", "XPF", "XXX", "YER", "ZAR", "ZMW"};
constexpr std::array<std::string_view, 16> no_minor_unit = {"BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"};
constexpr std::array<std::string_view, 7> thousandths = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"};

constexpr double most_money = 1e9;  // numerical: more than any bean costs in any currency

bool among(std::span<const std::string_view> list, std::string_view word) { return std::find(list.begin(), list.end(), word) != list.end(); }

Problem unreadable(std::string_view text, std::string_view found) {
  return {"price-unreadable", {}, fmt::format("{} {}", text::quoted(text), found), "a price is money for a mass, a volume or an energy", "write for example \"3.10/kg\", \"4.50/500 g\", \"2/l\" or \"0.31/kWh\""};
}

constexpr double joules_per_mj = 1e6;

/// "kWh", "100 MJ": joules; nothing when it is no energy.
std::optional<double> energy_of(std::string_view amount) {
  for (const auto& [unit, joules] : {std::pair{std::string_view("kWh"), joules_per_kwh}, std::pair{std::string_view("MJ"), joules_per_mj}}) {
    if (!amount.ends_with(unit)) continue;
    const auto number = parse_number(text::trimmed(amount.substr(0, amount.size() - unit.size())));
    if (number) return *number * joules;
  }
  return std::nullopt;
}

}  // namespace

Result<Price> parse_price(std::string_view text) {
  const auto slash = text.find('/');
  if (slash == std::string_view::npos || text.size() > max_quantity_text) return fail(unreadable(text, "is not a price"));
  const auto money = parse_number(text::trimmed(text.substr(0, slash)));
  if (!money) return fail(unreadable(text, "does not begin with a number"));
  if (*money < 0 || *money > most_money)
    return fail(Problem{"out-of-range", {}, fmt::format("a price of {:.10g} is {}", *money, *money < 0 ? "below 0" : "above 1000000000"), "what costs nothing has the price 0; what is sold stands under pulp, starch-layer or whey", "write an amount from 0, for example 3.10/kg"});
  const std::string_view unit = text::trimmed(text.substr(slash + 1));
  const bool counted = !unit.empty() && unit.front() >= '0' && unit.front() <= '9';
  const std::string amount = counted ? std::string(unit) : fmt::format("1 {}", unit);
  Price p;
  double si = 0;
  if (const auto joules = energy_of(amount)) {
    p.basis = PriceBasis::energy, si = *joules;
  } else if (const auto mass = parse_quantity(amount, QuantityKind::mass)) {
    si = *mass;
  } else if (const auto volume = parse_quantity(amount, QuantityKind::volume)) {
    p.basis = PriceBasis::volume, si = *volume;
  } else {
    return fail(unreadable(text, "ends in no unit of mass, volume or energy"));
  }
  p.money_per_si = si > 0 ? *money / si : -1;
  if (si <= 0 || !std::isfinite(p.money_per_si)) return fail(unreadable(text, "is a price for nothing"));
  constexpr double most_per_si = 1e9;  // of a kilogram, a cubic metre or a joule
  if (p.money_per_si > most_per_si) return fail(unreadable(text, "is a price beyond reason"));
  return p;
}

std::span<const std::string_view> currencies() { return codes; }

int minor_digits(std::string_view currency) { return among(no_minor_unit, currency) ? 0 : among(thousandths, currency) ? 3 : 2; }

Result<std::string> parse_currency(std::string_view text) {
  if (among(codes, text)) return std::string(text);
  std::string upper(text.substr(0, 60));
  std::transform(upper.begin(), upper.end(), upper.begin(), [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
  const std::string fix = among(codes, upper) ? fmt::format("write \"{}\"", upper) : text::suggest(upper, codes);
  return fail(Problem{"word-unknown", {}, fmt::format("{} is not a currency", text::quoted(text)), "it is a code of ISO 4217, three capital letters", fix});
}

}  // namespace curdwright
