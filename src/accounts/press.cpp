// SPDX-License-Identifier: MIT
// Terms of draining and pressing.
#include <fmt/format.h>

#include "accounts/book.hpp"
#include "curdwright/properties.hpp"

namespace curdwright::accounts {
namespace {

/// What the moisture is found from.
struct Drained {
  Flow solid, liquid;   ///< what stays, and what drains
  Ex solid_kg, c, moisture, kg, density, footprint, block, limit;
};

Flow insoluble_terms(Book& book, const Flow& set) {
  Stream value;
  value.of = insoluble_part(book.plan.set.milk.of, book.plan.set.curdled_kg, book.theta);
  value.granules = book.plan.set.milk.granules;
  return book.flow("insoluble", "what stays in the curd", value, [&](std::size_t p) {
    if (p == part(Component::protein)) return name("curdled_kg");
    if (p == part(Component::fat)) return set.part[p] * book.param(Param::fat_captured);
    return p == part(Component::starch) || p == part(Component::fibre) || p == settling ? set.part[p] : Ex();
  });
}

Ex curd_kg(const Drained& d, const Ex& moisture) { return d.solid_kg / (Ex(1.0) - moisture * (Ex(1.0) + d.c)); }

/// Of drained curd: what stays, and liquid with so much water.
Ex density_term(Book& book, const Drained& d) {
  const Ex share = name("share");
  Flow all;
  Ex mass;
  for (Component c : all_components) all.part[part(c)] = d.solid[c] + d.liquid[c] * share, mass = mass + all[c];
  return book.formula("drained_kg_m3", in_kilograms_per_cubic_metre(book.plan.pressed.drained_density), "kg/m3", "density of the drained curd", mass / volume_text(book, all), {{"share", minimum({1.0, d.moisture * d.kg / d.liquid[Component::water]}).str()}});
}

Drained drain_terms(Book& book, const Flow& set) {
  const Pressed& p = book.plan.pressed;
  Drained d;
  d.solid = insoluble_terms(book, set);
  d.solid_kg = d.solid.mass;
  Ex solids;
  for (Component c : all_components) {
    d.liquid.part[part(c)] = set[c] - (d.solid[c].zero() ? Ex() : d.solid[c]);
    if (c == Component::starch || c == Component::fibre) d.liquid.part[part(c)] = Ex();
    if (c != Component::water) solids = solids + d.liquid[c];
  }
  const Ex water = d.liquid[Component::water];
  d.c = book.formula("whey_solids_per_water", p.whey_solids_per_water, "kg/kg", "solids of the whey per kg of its water", solids / water);
  d.moisture = book.formula("drained_moisture_here", p.drained_moisture, "1", "moisture of the drained curd", minimum({book.param(Param::drained_moisture), water / set.mass, Ex(0.98) / (Ex(1.0) + d.c)}));
  d.kg = book.formula("drained_kg", p.drained_kg, "kg", "drained curd", curd_kg(d, d.moisture));
  d.density = density_term(book, d);
  const PressSettings& s = book.job.press;
  d.footprint = book.setting("mould_length_m", s.mould_length.si(), "m", "length of a mould", "kitchen /mould/length") * book.setting("mould_width_m", s.mould_width.si(), "m", "width of a mould", "kitchen /mould/width");
  d.block = book.setting("block_kg", s.block.si(), "kg", "block that is wanted", told_or(book.setup.recipe.block_mass.has_value(), "/block/mass", "default: 300 g"));
  return d;
}

Ex limit_term(Book& book) {
  const PressRecipe& told = book.setup.recipe.press;
  const Ex pressure = book.setting("pressure_kpa", in_kilopascals(book.job.press.pressure), "kPa", "pressure", told.weight ? "recipe /press/weight, over the floor of a mould" : told_or(told.pressure.has_value(), "/press/pressure", fmt::format("press {}", book.setup.press.id)));
  const Ex line = book.param(Param::press_intercept) - book.param(Param::press_slope) * Ex::call("log10", {Ex::call("clamp", {pressure, 0.1, 50.0})});
  const double limit = book.plan.pressed.moisture_limit;
  return book.formula("moisture_limit", limit, "1", "moisture where this pressure ends", limit < 1 ? line : minimum({Ex(1.0), line}));
}

/// Share that is still to be pressed out, after Terzaghi; its series, or the early form of it.
Ex left_text(bool early) {
  const Ex x = name("x");
  if (early) return Ex(1.0) - Ex::call("sqrt", {Ex(4.0) * x / name("pi")});
  std::vector<Ex> terms;
  for (int m = 0; m < 6; ++m) {
    const Ex k = Ex(2.0 * m + 1) * name("pi") / Ex(2.0);
    terms.push_back(Ex(2.0) / power(k, 2.0) * exponential(Ex() - power(k, 2.0) * x));
  }
  return Ex::call("sum", terms);
}

/// A drier block of the wanted mass takes more drained curd, which is thicker and presses out more slowly: the moisture is where the two meet.
Ex pressed_by_time(Book& book, const Drained& d, const Ex& limit) {
  const Pressed& p = book.plan.pressed;
  const PressSettings& s = book.job.press;
  const Ex time = book.setting("press_s", s.time.si(), "s", "time in the press", told_or(book.setup.recipe.press.time.has_value(), "/press/time", fmt::format("press {}", book.setup.press.id)));
  const double half = 0.5 * p.drained_height.si();
  const bool early = book.theta[Param::consolidation] * s.time.si() / (half * half) < 0.08;
  const Ex m = name("M"), w_end = name("w_end"), creep = book.param(Param::creep_share);
  const std::vector<NamedText> where = {{"pi", "3.141592653589793"},
                                        {"height", (d.block * (d.kg / curd_kg(d, m)) / d.density / d.footprint).str()},
                                        {"x", (book.param(Param::consolidation) * time / power(name("height") / Ex(2.0), 2.0)).str()},
                                        {"left", left_text(early).str()},
                                        {"w_start", (d.moisture / (Ex(1.0) - d.moisture)).str()},
                                        {"w_end", (limit / (Ex(1.0) - limit)).str()},
                                        {"w", (w_end + (name("w_start") - w_end) * ((Ex(1.0) - creep) * name("left") + creep * exponential(Ex() - name("x") / book.param(Param::creep_delay)))).str()}};
  return book.root("moisture", p.moisture, "1", "moisture at the end of pressing, before the cloth keeps some", name("w") / (Ex(1.0) + name("w")) - m, "M", where);
}

Ex moisture_term(Book& book, const Drained& d) {
  const Pressed& p = book.plan.pressed;
  if (book.job.press.moisture) return book.setting("moisture", p.moisture, "1", "moisture that is wanted", "recipe /press/moisture");
  const Ex limit = limit_term(book);
  // Nothing is pressed out of curd that drains drier than the pressure would make it; and all of it, or nothing, within the last bit.
  if (p.moisture_limit >= p.drained_moisture || p.moisture == p.drained_moisture) return book.formula("moisture", p.moisture, "1", "moisture at the end of pressing", d.moisture);
  if (p.moisture == p.moisture_limit) return book.formula("moisture", p.moisture, "1", "moisture at the end of pressing: as far as this pressure goes", limit);
  return pressed_by_time(book, d, limit);
}

/// Minerals bind to the curd more than the water explains.
Ex mineral(Book& book, const Flow& set, const Ex& in_water, std::size_t p) {
  if (p == sodium) return set.part[p] * in_water;
  return set.part[p] * maximum({in_water, book.param(p == calcium ? Param::calcium_retained : Param::magnesium_retained)});
}

}  // namespace

Flow press_terms(Book& book, const Flow& set) {
  const Plan& plan = book.plan;
  const Drained d = drain_terms(book, set);
  const Ex moisture = moisture_term(book, d), water = d.liquid[Component::water];
  const Ex kept = book.formula("whey_kept", plan.pressed.whey_kept, "1", "share of the liquid that stands in the pressed curd", minimum({1.0, moisture * curd_kg(d, moisture) / water}));
  const Ex in_water = kept * water / set[Component::water];
  const auto both = [&](std::size_t p) { return p >= calcium ? mineral(book, set, in_water, p) : d.solid.part[p] + (p < component_count ? d.liquid.part[p] * kept : Ex()); };
  const Pressed unseasoned = press(plan.set.milk, plan.set.curdled_kg, book.job.press, book.theta);
  const Ex cling = Ex(1.0) - book.param(Param::curd_cling);
  const bool seasoned = plan.extras[static_cast<std::size_t>(Stage::press)].of.total_kg() > 0;
  Flow curd = book.flow(seasoned ? "pressed" : "curd", "pressed curd", unseasoned.curd, [&](std::size_t p) { return both(p) * cling; });
  book.formula("block_height_m", plan.pressed.block_height.si(), "m", "height of a block", d.block / (curd.mass / volume_text(book, curd)) / d.footprint);
  book.flow("whey", "whey", plan.pressed.whey, [&](std::size_t p) { return p >= calcium ? set.part[p] - mineral(book, set, in_water, p) : p == settling ? Ex() : d.liquid.part[p] * (Ex(1.0) - kept); });
  if (!seasoned) return curd;
  const Flow extras = extras_flow(book, Stage::press);
  return book.flow("curd", "pressed curd, seasoned", plan.pressed.curd, [&](std::size_t p) { return curd.part[p] + extras.part[p]; });
}

}  // namespace curdwright::accounts
