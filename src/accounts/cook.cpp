// SPDX-License-Identifier: MIT
// Terms of the cooking.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

/// Water boils where the kitchen stands: ISO 2533, and IAPWS-IF97 region 4 backward.
Ex open_boil(Book& book) {
  const Ex altitude = book.setting("altitude_m", book.setup.kitchen.altitude.si(), "m", "altitude", "kitchen /altitude");
  const Ex air = book.formula("air_kpa", in_kilopascals(book.setup.air), "kPa", "pressure of the air (ISO 2533)", Ex(101.325) * power(Ex(1.0) - Ex(2.25577e-5) * altitude, 5.25588));
  const Ex n10 = name("n10"), d = name("d");
  return book.formula("boil_open_k", book.setup.boil.si(), "K", "water boils in an open pot (IAPWS-IF97)", (n10 + d - Ex::call("sqrt", {power(n10 + d, 2.0) - Ex(4.0) * (Ex(-0.23855557567849) + n10 * d)})) / Ex(2.0),
                      {{"n10", "650.17534844798"},
                       {"beta", Ex::call("sqrt", {Ex::call("sqrt", {air / Ex(1000.0)})}).str()},
                       {"ee", "beta^2 - 17.073846940092 * beta + 14.91510861353"},
                       {"ff", "1167.0521452767 * beta^2 + 12020.82470247 * beta - 4823.2657361591"},
                       {"gg", "-724213.16703206 * beta^2 - 3232555.0322333 * beta + 405113.40542057"},
                       {"d", "2 * gg / (-ff - sqrt(ff^2 - 4 * ee * gg))"}});
}

Ex boil_term(Book& book) {
  const Temperature boil = book.job.cook.boil;
  const CookedIn in = book.setup.recipe.cook.in.value_or(CookedIn::open_pot);
  if (in == CookedIn::open_pot) return open_boil(book);
  const Ex of_cooker = book.constant("cooker_k", in == CookedIn::slow_cooker ? 363.15 : 383.15, "K", fmt::format("a {} comes to this", word(in)), "from memory, confidence medium");
  return book.formula("boil_k", boil.si(), "K", "the simmer", in == CookedIn::slow_cooker ? minimum({open_boil(book), of_cooker}) : of_cooker);
}

/// The way to the boil of one pot: at full heat, then gently from 65 degC.
struct Heating {
  Ex start, gentle, boil, reaches, tau, slow_tau, fast, slow;
};

Ex time_to(const Ex& from, const Ex& to, const Ex& end, const Ex& tau) { return tau * logarithm((end - from) / (end - to)); }

void reckon(Book& book, const Flow& in, const Stream& value, const Cooked& cooked, Heating& h) {
  const CookSettings& s = book.job.cook;
  const Ex pots = book.setting("pots", s.pots, "1", "pots, one after another", "as many as the milk needs"), loss = book.param(Param::pot_loss), each = in.mass / pots;
  Stream pot = value * (1.0 / s.pots);
  pot.at = value.at;
  const Ex about = Ex(0.5) * (in.at + h.boil);
  const Temperature about_value = celsius(0.5 * (in_celsius(value.at) + in_celsius(s.boil)));
  const Ex heat = heat_capacity(book, "pot_heat_j_k", "all of the milk", in, value, about_value, about) / pots;
  h.tau = book.formula("heating_time_constant_s", heating_time_constant(pot.of, pot.at, s, book.theta).si(), "s", "how slowly a pot follows the hob", heat / (loss * pot_surface_text(each)));
  const Ex hob = book.setting("hob_w", in_watts(s.hob), "W", "power of the ring", "kitchen /hob/power");
  h.reaches = book.formula("reaches_k", cooked.reaches.si(), "K", "where the pot would stop rising", book.setting("kitchen_k", s.room.si(), "K", "room", "kitchen /room") + hob * book.param(Param::hob_efficiency) / (loss * pot_surface_text(each)));
  h.slow_tau = h.tau * book.param(Param::gentle_heating);
  const std::span<const HistoryPiece> pieces = cooked.history.pieces();
  std::size_t next = 0;
  const bool fast = value.at < celsius(65) && value.at < s.boil;
  if (fast) h.fast = book.formula("heating_fast_s", pieces[next++].length.si(), "s", "to 65 degC, at full heat", time_to(h.start, h.gentle, h.reaches, h.tau));
  if (std::max(value.at, celsius(65)) < s.boil) h.slow = book.formula("heating_gently_s", pieces[next].length.si(), "s", "from there to the boil, gently", time_to(h.gentle, h.boil, h.reaches, h.slow_tau));
}

/// Nothing where the pot never gets there.
Ex to_95(const CookSettings& s, const Heating& h, Temperature from) {
  const Ex level = 368.15;
  if (from >= celsius(95) || s.boil <= celsius(95)) return {};
  if (s.heat_up) return name("heat_up_s") * (level - h.start) / (h.boil - h.start);
  return h.fast + time_to(h.gentle, level, h.reaches, h.slow_tau);
}

void heating_terms(Book& book, const Flow& in, const Stream& value) {
  const CookSettings& s = book.job.cook;
  const Cooked& cooked = book.plan.cooked;
  Heating h;
  h.boil = boil_term(book);
  h.start = minimum({in.at, h.boil});
  h.gentle = Ex::call("clamp", {338.15, h.start, h.boil});
  if (s.heat_up) {
    book.setting("heat_up_s", cooked.heat_up.si(), "s", "time to the boil", "recipe /cook/heat_up");
  } else {
    reckon(book, in, value, cooked, h);
    book.formula("heat_up_s", cooked.heat_up.si(), "s", "time to the boil", h.fast + h.slow);
  }
  book.formula("to_95_s", curdwright::value(book.plan, Figure::to_95), "s", "time to 95 degC", to_95(s, h, std::min(value.at, s.boil)));
}

/// Share of the milk that boils off.
Ex evaporated(Book& book) {
  const CookSettings& s = book.job.cook;
  if (s.evaporated) return book.setting("boiled_off_share", *s.evaporated, "1", "share of the milk that boils off", book.setup.recipe.cook.evaporated ? "recipe /cook/evaporated" : "nothing boils off in a closed cooker");
  const Ex hold = book.setting("hold_s", s.hold.si(), "s", "time at the simmer", told_or(book.setup.recipe.cook.hold.has_value(), "/cook/hold", "default of the legume"));
  return Ex(1.0) - power(Ex(1.0) - book.param(Param::evaporated_per_10_min), hold / Ex(600.0));
}

}  // namespace

Flow cook_terms(Book& book, const Flow& milk) {
  const Flow in = with_extras(book, milk, Stage::cook, "pot");
  Stream value = book.plan.destarched.milk;
  stir_in(book.plan.extras[static_cast<std::size_t>(Stage::cook)], value);
  heating_terms(book, in, value);
  const Ex kept = Ex(1.0) - book.param(Param::film);
  Ex steam;
  if (book.plan.cooked.steam.of.total_kg() > 0)
    steam = book.formula("steam_kg", book.plan.cooked.steam.of.total_kg(), "kg", "water that boils off", minimum({evaporated(book) * in.mass * kept, Ex(0.9) * in[Component::water] * kept}));
  return book.flow("cooked", "cooked milk", book.plan.cooked.milk, [&](std::size_t p) { return in.part[p] * kept - (p == 0 ? steam : Ex()); });
}

}  // namespace curdwright::accounts
