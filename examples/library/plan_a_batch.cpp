// SPDX-License-Identifier: MIT
// Plans a batch with the library, in twenty lines.
#include <cstdio>

#include "curdwright/solve.hpp"

int main() {
  using namespace curdwright;
  const auto show = [](const Problems& problems) {
    for (const Problem& p : problems) std::printf("%s: %s %s\n", p.place.pointer.c_str(), p.what.c_str(), p.fix.c_str());
    return 1;
  };
  const char* recipe = R"({ "legume": "chickpea-kabuli", "want": { "blocks": 4 } })";

  const Result<Inputs> inputs = read_inputs({.recipe = recipe, .recipe_file = "example", .kitchen = {}, .kitchen_file = {}, .set = {}, .want = {}});
  if (!inputs) return show(inputs.error());
  Result<Setup> setup = resolve(inputs->recipe, inputs->kitchen, Catalogue::shipped());
  if (!setup) return show(setup.error());
  const Result<Batch> batch = size_batch(std::move(*setup));
  if (!batch) return show(batch.error());

  for (Figure f : {Figure::dry_mass, Figure::soaked_mass, Figure::pulp_mass, Figure::milk_mass, Figure::curd_mass})
    std::printf("%-16s %8.0f g\n", info(f).plain.data(), value(batch->plan, f));
  return 0;
}
