// SPDX-License-Identifier: MIT
// A drawn recipe as the program answers it: a batch, or problems with their places.
#pragma once

#include "curdwright/study.hpp"
#include "laws/recipes.hpp"
#include "located.hpp"

namespace curdwright::test {

inline Result<Batch> answered(const Drawn& d, std::vector<std::string> set = {}) {
  const InputTexts texts{d.recipe, "recipe.json", d.kitchen, "kitchen.json", std::move(set), {}};
  const Origin from{d.recipe, "recipe.json", d.kitchen, "kitchen.json", texts.set};
  auto in = read_inputs(texts);
  if (!in) return fail(in.error());
  if (in->recipe.want.given() == 0) in->recipe.want.dry = kilograms(1);
  auto batch = plan_inputs(*in, Catalogue::shipped());
  if (!batch) return fail(located(batch.error(), from));
  return batch;
}

/// What a refusal lacks; empty when each problem says what is wrong, and where.
inline std::string refusal_fault(const Problems& problems) {
  if (problems.empty()) return "no problem is told\n";
  std::string all;
  for (const Problem& p : problems) {
    const bool placed = p.place.line > 0 || !p.place.pointer.empty() || p.place.file.starts_with("--set");
    if (p.code.empty() || p.what.empty() || !placed) all += p.code + " has no place or no words: " + p.what + "\n";
  }
  return all;
}

}  // namespace curdwright::test
