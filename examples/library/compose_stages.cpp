// SPDX-License-Identifier: MIT
// Stages are plain functions: takes three of them apart and puts one question to each.
#include <cstdio>

#include "curdwright/resolve.hpp"

int main() {
  using namespace curdwright;
  Recipe recipe;
  recipe.legumes.resize(1);
  recipe.legumes[0].id = "pea-split-yellow";
  Result<Setup> setup = resolve(recipe, default_kitchen(), Catalogue::shipped());
  if (!setup) return 1;
  const Theta theta = setup->beliefs.medians();

  Stream seed;
  seed.of = seed_composition(theta, 0, false);  // one kilogram
  SoakSettings in_fridge = setup->job.soak;
  for (double h : {4.0, 8.0, 12.0}) {
    in_fridge.time = hours(h);
    const Soaked s = soak(seed, in_fridge, soak_history(seed, in_fridge, theta[Param::vessel_coefficient]), theta, 0);
    std::printf("%4.0f h in the fridge: %.2f kg\n", h, s.seed.of.total_kg());
  }

  const Plan p = plan(setup->job, theta);
  StarchSettings standing = setup->job.starch;
  for (double m : {20.0, 40.0, 60.0}) {
    standing.time = minutes(m);
    const Destarched d = remove_starch(p.strained.milk, standing, theta);
    std::printf("%4.0f min standing: %.0f %% of the starch below\n", m, 100 * d.share_settled);
  }
  return 0;
}
