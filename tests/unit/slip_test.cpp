// SPDX-License-Identifier: MIT
// What a reading that cannot be right most likely is.
#include "curdwright/slip.hpp"
#include <fmt/format.h>

#include "curdwright/study.hpp"
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

TEST_CASE("a unit that was told is not asked for") {
  CHECK(slip("milk=9kg", 19.84).kind == SlipKind::none);
  CHECK(slip("milk=9lb", 9).detail == "kg");
}

TEST_CASE("no more can come out of the press than went in, and what went in is no less than the milk before it was cooked") {
  const Batch b = must(plan_texts({R"({"legume":"chickpea-kabuli","want":{"blocks":4}})", "r.json"}, Catalogue::shipped()));
  const auto gain = [&](const std::vector<std::string>& told) {
    std::vector<Reading> all;
    for (const std::string& t : told) all.push_back(must(read_reading(t, b.setup.kitchen, "x")));
    std::vector<const Reading*> counted;
    for (const Reading& r : all) counted.push_back(&r);
    return mass_gain(b.plan, counted);
  };
  const double mix = b.plan.set.mix.of.total_kg();
  CHECK_FALSE(gain({"settled-milk=8kg", "curd=1kg", fmt::format("whey={:.3f}kg", 7 + mix)}));
  CHECK(gain({"settled-milk=8kg", "curd=1kg", fmt::format("whey={:.3f}kg", 7.5 + mix)}));
  CHECK(gain({"settled-milk=8kg", "cooked-milk=7kg", "curd=1kg", fmt::format("whey={:.3f}kg", 7 + mix)}));
  const double before = b.plan.destarched.milk.of.total_kg();
  CHECK_FALSE(gain({"curd=1kg", fmt::format("whey={:.3f}kg", before + mix - 1)}));
}

TEST_CASE("a reading that nothing explains stays unexplained") { CHECK(slip("pulp=900g", 0.61).kind == SlipKind::none); }
