// SPDX-License-Identifier: MIT
// Heat, volume and temperature of streams as terms.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

Ex quadratic(const Quadratic& q, const Ex& t) { return q.c == 0 ? Ex(q.a) + t * Ex(q.b) : Ex(q.a) + t * (Ex(q.b) + t * Ex(q.c)); }

Ex density_20(Book& book, Component c) {
  return book.formula(fmt::format("density_{}_20", part_name(part(c))), component_density(c).at(20), "kg/m3", fmt::format("density of {} at 20 degC (Choi and Okos 1986)", part_name(part(c))),
                      quadratic(component_density(c), 20.0));
}

Ex volumes(Book& book, const Flow& f, const Ex& water_density) {
  Ex sum = f[Component::water] / water_density;
  for (Component c : all_components)
    if (c != Component::water && !f[c].zero()) sum = sum + f[c] / density_20(book, c);
  return sum;
}

}  // namespace

Ex heat_capacity(Book& book, const std::string& key, std::string_view plain, const Flow& f, const Stream& s, Temperature at, const Ex& at_k) {
  Ex sum;
  for (Component c : all_components) sum = sum + f[c] * quadratic(component_heat(c), name("t_c"));
  return book.formula(key, heat_capacity_j_k(s.of, at), "J/K", fmt::format("heat that warms {} by a kelvin (Choi and Okos 1986)", plain), Ex(1000.0) * sum, {{"t_c", (at_k - Ex(273.15)).str()}});
}

Ex mixed(Book& book, const std::string& key, std::string_view plain, Temperature value, const std::array<Ex, 2>& heats, const std::array<Ex, 2>& temperatures) {
  return book.formula(key, value.si(), "K", plain, (heats[0] * temperatures[0] + heats[1] * temperatures[1]) / (heats[0] + heats[1]));
}

Ex volume_text(Book& book, const Flow& f) { return volumes(book, f, density_20(book, Component::water)); }

Ex liquid_volume_text(Book& book, const Flow& f) {
  const Ex water = book.constant("water_density_20", in_kilograms_per_cubic_metre(water_density(celsius(20))), "kg/m3", "density of water at 20 degC", "Kell 1975, J. Chem. Eng. Data 20:97, at 20 degC");
  return volumes(book, f, water);
}

Ex volume(Book& book, const std::string& key, std::string_view plain, const Flow& f, const Composition& c) {
  return book.formula(key, volume_at_20(c).si(), "m3", fmt::format("volume of {} at 20 degC", plain), liquid_volume_text(book, f));
}

Ex pot_surface_text(const Ex& mass) { return Ex(0.2) * power(mass / Ex(10.0), Ex(2.0) / Ex(3.0)); }

Ex kelvin_term(Book& book, const std::string& key, Temperature t, std::string_view plain, std::string from) { return book.setting(key, t.si(), "K", plain, std::move(from)); }

}  // namespace curdwright::accounts
