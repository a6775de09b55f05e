// SPDX-License-Identifier: MIT
// What can be told in mid-batch, and how it is read.
#include <algorithm>

#include "curdwright/measure.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;
using curdwright::test::setup_of;

namespace {

Kitchen with_vessels() {
  return must(read_kitchen(R"({"pots": [{"name": "stockpot", "tare": "1.2 kg"}, {"name": "saucepan"}], "tares": {"bowl": "412 g", "long-handled pan": "1 lb"}})", "kitchen.json"));
}

Problem fault(const std::string& text, const Kitchen& k = with_vessels()) {
  const auto r = read_reading(text, k, "--measured");
  REQUIRE_FALSE(r);
  return r.error()[0];
}

}  // namespace

TEST_CASE("a mass is read with and without its vessel, by name or by weight, and weighings are added") {
  const Kitchen k = with_vessels();
  const auto grams_of = [&](const char* text) { return 1e3 * must(read_reading(text, k, "--measured")).si; };
  CHECK(grams_of("soaked=1140g") == Approx(1140));
  CHECK(grams_of("soaked=1552g-bowl") == Approx(1140));
  CHECK(grams_of("soaked=1552 g - bowl") == Approx(1140));
  CHECK(grams_of("milk=7.2kg-stockpot") == Approx(6000));
  CHECK(grams_of("milk=1552g-412g") == Approx(1140));
  CHECK(grams_of("milk=3.1kg-bowl+2kg") == Approx(4688));
  CHECK(grams_of("curd=2lb-long-handled pan") == Approx(453.59237));
  CHECK(must(read_reading("milk=3kg+2kg+1kg", k, "--measured")).weighings == 3);
}

TEST_CASE("milk is told by mass or by volume, and each is its own figure") {
  const Kitchen k;
  CHECK(must(read_reading("milk=5.7kg", k, "--measured")).what->observes == Figure::milk_mass);
  const Reading by_volume = must(read_reading("milk=5.6l", k, "--measured"));
  CHECK(by_volume.what->observes == Figure::milk_volume);
  CHECK(by_volume.figure_value() == Approx(5600));
}

TEST_CASE("every word of the table reads its own example, and settings and observations are told apart") {
  Kitchen k;
  k.tares = {{"stockpot", "1 kg"}, {"bucket", "300 g"}};
  for (const Measurable& m : all_measurables()) {
    INFO(m.word);
    const Reading r = must(read_reading(m.example, k, "--measured"));
    CHECK(r.what->word == m.word);
    CHECK(r.si > 0);
    CHECK(m.observes.has_value() != (m.set != nullptr));
    CHECK(observed(r, k).has_value() == m.observes.has_value());
    if (m.observes) CHECK(m.minutes > 0);
  }
}

TEST_CASE("a setting as done is put into the job, and told beside what was planned") {
  const Setup s = setup_of(R"({"legume": "pea-split-yellow", "want": {"dry": "800 g"}, "strain": {"washes": [{"water_to_dry": 1}, {"water_to_dry": 0.5}]}})");
  for (const Measurable& m : all_measurables()) {
    if (!m.set || !m.planned) continue;
    INFO(m.word);
    Setup other = s;
    const double wanted = m.word == "pour" ? celsius(72).si() : m.kind == QuantityKind::temperature ? celsius(9).si() : std::max(m.low, 1.5 * m.planned(s) + 0.01);
    m.set(other, wanted);
    CHECK(m.planned(other) == Approx(wanted));
  }
}

TEST_CASE("more seed than planned leaves the water that was poured as it was") {
  Setup s = setup_of(R"({"legume": "pea-split-yellow", "want": {"dry": "800 g"}})");
  const double water = s.job.soak.water_to_dry * s.job.dry.si();
  for (const Measurable& m : all_measurables())
    if (m.word == "dry") m.set(s, 0.9);
  CHECK(s.job.soak.water_to_dry * s.job.dry.si() == Approx(water));
  CHECK(in_grams(s.job.dry) == Approx(900));
}

TEST_CASE("the error of a reading holds the step of the scale and what the figure is known to vary by") {
  Kitchen k;
  k.coarse_scale.step = grams(50);
  const Observation o = *observed(must(read_reading("pulp=400g", k, "--measured")), k);
  CHECK(o.value == Approx(400));
  CHECK(o.spread == Approx(std::hypot(0.03, 50 / std::sqrt(12.0) / 400)));
}

TEST_CASE("what cannot be read says what to write") {
  CHECK(fault("pulb=610g").fix == "did you mean \"pulp\"?");
  CHECK(fault("pulp").what == "pulp has no value");
  CHECK(fault("pulp=").fix == "write for example pulp=610g");
  CHECK(fault("pulp=610").why == "a mass needs its unit");
  CHECK(fault("pulp=610s").what == "\"s\" measures time, not mass");
  CHECK(fault("soaked=300g-bowl").what == "300 g is no more than its vessel weighs, 412 g");
  CHECK(fault("soaked=1552g-bowll").fix == "did you mean \"bowl\"?");
  CHECK(fault("milk=5kg-saucepan").what == "the kitchen does not tell what \"saucepan\" weighs empty");
  CHECK(fault("soaked=1552g-bowl", Kitchen{}).fix == "write the weight itself: soaked=1552g-412g");
  CHECK(fault("hold=9h").code == "out-of-range");
  CHECK(fault("brix=nan").place.file == "--measured brix=nan");
  CHECK(fault("").what == "\"\" tells nothing");
}

TEST_CASE("all faults come in one go, and a word told twice is one of them") {
  const std::vector<std::string> texts = {"pulp=610", "milk=5kg", "milk=5l", "curt=1kg"};
  const auto r = read_readings(texts, Kitchen{}, "--measured");
  REQUIRE_FALSE(r);
  CHECK(r.error().size() == 3);
  CHECK(std::any_of(r.error().begin(), r.error().end(), [](const Problem& p) { return p.what == "milk is told twice"; }));
}
