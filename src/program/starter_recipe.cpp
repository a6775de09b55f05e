// SPDX-License-Identifier: MIT
#include "program/starter_recipe.hpp"

#include <fmt/format.h>

#include "curdwright/resolve.hpp"
#include "curdwright/units.hpp"
#include "program/page_table.hpp"

namespace curdwright::program {

Result<std::string> starter_recipe(const Catalogue& c, const Kitchen& k, std::string_view name, int blocks, std::optional<Mass> block) {
  Recipe r;
  r.legumes.resize(1);
  r.legumes[0].id = std::string(name);
  auto s = resolve(r, k, c);
  if (!s) return fail(s.error());
  const Job& j = s->job;
  const auto say = [](auto q, QuantityKind kind) { return write_quantity(q.si(), kind); };
  Json out = {{"schema", "curdwright.recipe/1"}, {"$schema", "recipe.schema.json"}, {"title", fmt::format("Curd of {}", s->legumes[0].kitchen_name)}, {"legume", s->legumes[0].id}};
  out["want"] = {{"blocks", blocks}};
  out["block"] = {{"mass", say(block.value_or(j.press.block), QuantityKind::mass)}};
  out["soak"] = {{"where", word(Where::fridge)}, {"time", say(j.soak.time, QuantityKind::duration)}, {"water_to_dry", j.soak.water_to_dry}};
  if (j.starch.remove == StarchRemoval::settle) out["starch"] = {{"remove", word(StarchRemoval::settle)}, {"time", say(j.starch.time, QuantityKind::duration)}};
  out["cook"] = {{"hold", say(j.cook.hold, QuantityKind::duration)}};
  out["coagulate"] = {{"with", s->coagulant.id}};
  out["press"] = {{"pressure", say(j.press.pressure, QuantityKind::pressure)}, {"time", say(j.press.time, QuantityKind::duration)}, {"where", word(Where::room)}};
  out["chill"] = {{"in", s->chill.id}};
  return dump(out);
}

}  // namespace curdwright::program
