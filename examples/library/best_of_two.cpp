// SPDX-License-Identifier: MIT
// Two legumes, each at its best settings, and whether they differ by more than what is not known.
#include <array>
#include <cstdio>

#include "curdwright/best.hpp"
#include "curdwright/contrast.hpp"

int main() {
  using namespace curdwright;
  const Catalogue catalogue = Catalogue::shipped();
  const auto aim = read_aim("protein_fraction", true);
  const auto keep = read_condition("time<=26h");
  const auto let = read_room("/starch/time=10min:2h");
  if (!aim || !keep || !let) return 1;
  const auto best_of = [&](const char* recipe) { return best({{recipe, "example", {}, "", {}, {}}, *aim, {*keep}, {*let}}, catalogue); };
  const auto peas = best_of(R"({"legume": "pea-split-yellow", "want": {"dry": "1 kg"}})"), chickpeas = best_of(R"({"legume": "chickpea-kabuli", "want": {"dry": "1 kg"}})");
  if (!peas || !chickpeas) return 1;
  for (const Answer* a : {&*peas, &*chickpeas}) std::printf("%s: %s, %.1f %% protein\n", a->batch.setup.legumes[0].kitchen_name.c_str(), a->settings[0].c_str(), 100 * a->aim);
  const Contrast c = contrasts(std::array{&peas->batch, &chickpeas->batch}, std::array{aim->response})[0];
  const Margin& d = *c.to_first[1];
  std::printf("difference %+.1f (%+.1f to %+.1f): %s\n", 100 * d.median, 100 * d.range.low, 100 * d.range.high, d.clear() ? "clear" : "too near to tell");
  return 0;
}
