// SPDX-License-Identifier: MIT
// What a reading that cannot be right most likely is.
#include "curdwright/slip.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

Slip slip(const std::string& text, double expected, const std::vector<std::pair<std::string, double>>& others = {}) {
  const Kitchen k = must(read_kitchen(R"({"pots": [{"name": "stockpot", "tare": "1.2 kg"}], "tares": {"bowl": "412 g"}})", "kitchen.json"));
  std::vector<Reading> all;
  for (const auto& [t, si] : others) all.push_back(must(read_reading(t, k, "x")));
  std::vector<Expected> beside;
  for (std::size_t i = 0; i < all.size(); ++i) beside.push_back({&all[i], others[i].second});
  return likely_slip(must(read_reading(text, k, "x")), expected, k, beside);
}

}  // namespace

TEST_CASE("a forgotten tare is found by the vessel that would explain it") {
  CHECK(slip("milk=6.9kg", 5.7).kind == SlipKind::tare);
  CHECK(slip("milk=6.9kg", 5.7).detail == "stockpot");
  CHECK(slip("soaked=1550g", 1.14).detail == "bowl");
  CHECK(slip("soaked=730g", 1.14).kind == SlipKind::tare_taken_twice);
}

TEST_CASE("a wrong unit, a shifted point, swapped digits and swapped figures are told apart") {
  CHECK(slip("pulp=1.3kg", 0.59).kind == SlipKind::unit);
  CHECK(slip("pulp=1.3kg", 0.59).detail == "lb");
  CHECK(slip("height=31cm", 0.031).detail == "mm");
  CHECK(slip("to-95=24h", 1440).detail == "shorter");
  CHECK(slip("pulp=6.1kg", 0.6).kind == SlipKind::point);
  CHECK(slip("curd=1810g", 1.18).kind == SlipKind::digits);
  CHECK(slip("curd=1810g", 1.18).detail == "1180g");
  const Slip swapped = slip("pulp=5.7kg", 0.61, {{"milk=610g", 5.7}});
  CHECK(swapped.kind == SlipKind::swapped);
  CHECK(swapped.detail == "milk");
}

TEST_CASE("a reading that nothing explains stays unexplained") { CHECK(slip("pulp=900g", 0.61).kind == SlipKind::none); }
