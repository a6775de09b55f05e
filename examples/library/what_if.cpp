// SPDX-License-Identifier: MIT
// What if the milk stood longer: one recipe over one of its settings, with how sure each figure is.
#include <cstdio>

#include "curdwright/study.hpp"

int main() {
  using namespace curdwright;
  const InputTexts texts{R"({"legume": "chickpea-kabuli", "want": {"blocks": 4}})", "example", {}, "", {}, {}};
  const auto standing = read_factor("/starch/time=10min:50min:20min");
  const auto starch = find_response("starch_fraction");
  if (!standing || !starch) return 1;
  const Catalogue catalogue = Catalogue::shipped();
  const auto v = vary(texts, {*standing}, {*starch}, catalogue);
  if (!v) return 1;
  for (const Run& run : v->runs) {
    const Cell& c = run.cells[0];
    if (c.value && c.range) std::printf("%s: %.2f %% starch (%.2f to %.2f)\n", v->factors[0].levels[run.at[0]].text.c_str(), 100 * *c.value, 100 * c.range->low, 100 * c.range->high);
  }
  return 0;
}
