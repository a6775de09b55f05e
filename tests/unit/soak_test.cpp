// SPDX-License-Identifier: MIT
#include "curdwright/stages/soak.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "curdwright/plan.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::plan_of;
using curdwright::test::setup_of;

namespace {

/// Gain in kg per kg dry matter by the closed form along a history.
double gain(const TemperatureHistory& h, double k1_h, double k2, double energy) {
  const Temperature kink = celsius(60);
  const double theta = integrate(h, [energy](Temperature t) { return soak_speed(t, energy, 9.34); }, std::span(&kink, 1)) / (k1_h * 3600);
  return peleg_gain(theta, k2);
}

TemperatureHistory held(double t, double h) { return TemperatureHistory(celsius(t)).hold(hours(h)); }

}  // namespace

TEST_CASE("Peleg's equation meets the worked curve of chickpea and its inverse") {
  // science.md 2.6 item 1: k1 2.674 h, k2 0.745, M0 0.12.
  const double at[] = {1, 2, 4, 8, 12, 16, 24}, m[] = {0.412, 0.600, 0.827, 1.047, 1.153, 1.216, 1.288};
  for (int i = 0; i < 7; ++i) CHECK(0.12 + peleg_gain(at[i] / 2.674, 0.745) == Approx(m[i]).margin(6e-4).epsilon(0));
  for (double theta : {0.1, 1.0, 10.0}) CHECK(peleg_theta(peleg_gain(theta, 0.745), 0.745) == Approx(theta));
}

TEST_CASE("uptake along a changing temperature meets the worked checks") {
  // science.md 2.6 items 2, 5, 7, 8, 9 and 10.
  CHECK(0.10 + gain(held(20, 12), 2.41, 0.588, 32) == Approx(1.368).margin(6e-4).epsilon(0));
  CHECK((1 + 0.10 + gain(held(5, 16), 2.41, 0.588, 32)) / 1.10 == Approx(2.017).margin(1.5e-3).epsilon(0));
  CHECK(0.13 + gain(held(35, 6), 1.67, 0.75, 40) == Approx(1.273).margin(6e-4).epsilon(0));
  CHECK(gain(TemperatureHistory(celsius(40)).hold(hours(2)).jump(celsius(20)).hold(hours(6)), 2.41, 0.588, 32) == Approx(1.227).margin(6e-4).epsilon(0));
  CHECK(gain(TemperatureHistory(celsius(20)).relax(hours(12), celsius(5), hours(2)), 2.41, 0.588, 32) == Approx(1.0597).margin(6e-5).epsilon(0));
  CHECK(gain(TemperatureHistory(celsius(90)).relax(hours(4), celsius(22), hours(1.5)), 2.3, 0.95, 32) == Approx(0.875).margin(6e-4).epsilon(0));
}

TEST_CASE("the speed of drinking has no step at 60 degC, only a kink") {
  CHECK(soak_speed(celsius(20), 32, 9.34) == 1.0);
  CHECK(soak_speed(celsius(60.0001), 32, 9.34) == Approx(soak_speed(celsius(59.9999), 32, 9.34)).epsilon(1e-5));
  const double below = std::log(soak_speed(celsius(59), 32, 9.34) / soak_speed(celsius(58), 32, 9.34));
  const double above = std::log(soak_speed(celsius(62), 32, 9.34) / soak_speed(celsius(61), 32, 9.34));
  CHECK(below / above == Approx(32 / 9.34).epsilon(0.03));
}

TEST_CASE("the vessel starts at the mixture and drifts to its surroundings") {
  Stream seed;
  seed.of[Component::starch] = 1;
  SoakSettings s;
  s.water_at = celsius(60), s.seed_at = celsius(20), s.surroundings = celsius(4), s.time = hours(16), s.water_to_dry = 3;
  const TemperatureHistory h = soak_history(seed, s, 10);
  CHECK(h.at(seconds(0)) > celsius(50));
  CHECK(h.at(seconds(0)) < celsius(60));
  CHECK(h.length() == hours(16));
  CHECK(in_celsius(h.end()) == Approx(4).margin(2));
  s.time_constant = hours(2);
  const TemperatureHistory told = soak_history(seed, s, 10);
  CHECK((told.at(hours(2)) - celsius(4)) / (told.at(seconds(0)) - celsius(4)) == Approx(std::exp(-1.0)));
}

TEST_CASE("renewed water brings the vessel back to the temperature of the water") {
  Stream seed;
  seed.of[Component::starch] = 1;
  SoakSettings s;
  s.water_at = celsius(40), s.surroundings = celsius(4), s.time = hours(12), s.changes = 1, s.time_constant = minutes(30);
  const TemperatureHistory h = soak_history(seed, s, 10);
  CHECK(h.pieces().size() == 2);
  CHECK(in_hours(h.length()) == Approx(12));
  CHECK(in_celsius(h.pieces()[1].start) > 30);
  s.changes = 12;
  CHECK(in_hours(soak_history(seed, s, 10).length()) == Approx(12));
}

TEST_CASE("the drained seed holds uptake and clinging water, and the vessel keeps the rest") {
  Setup setup = setup_of(R"({"legume": "soybean"})");
  const Theta t = setup.beliefs.medians();
  Stream seed;
  seed.of = seed_composition(t, 0, true);
  SoakSettings s = setup.job.soak;
  const TemperatureHistory h = held(20, 12);
  const Soaked r = soak(seed, s, h, t, 0);
  CHECK(r.gain == Approx(gain(h, 2.41, 0.588, 32)).epsilon(1e-9));
  const double m0 = seed.of[Component::water] / seed.of.solids_kg(), solids = r.seed.of.solids_kg();
  CHECK(r.seed.of[Component::water] == Approx((m0 + r.gain) * solids + 0.05));
  CHECK(r.uptake_kg == Approx(r.seed.of[Component::water] - seed.of[Component::water]));
  CHECK(r.soak_water.of[Component::water] == Approx(3 - r.uptake_kg));
  CHECK(solids == Approx(seed.of.solids_kg() * (1 - r.solids_lost)).epsilon(1e-9));
  CHECK(r.seed.of.total_kg() == Approx(2.15 + 0.05).margin(0.03));  // science.md 2.6 item 2, and the water that clings
  CHECK_FALSE(r.short_of_water);
  CHECK(r.hulls.of.total_kg() == 0.0);
}

TEST_CASE("seed cannot drink more than was poured") {
  const Plan p = plan_of(R"({"legume": "soybean", "soak": {"water_to_dry": 0.6, "time": "24 h", "where": "room"}, "blend": {"total_water_to_dry": 8}})");
  CHECK(p.short_of_water);
  CHECK(p.uptake_kg == Approx(0.6));
  CHECK(p.soak_water.of[Component::water] == Approx(0).margin(1e-12));
}

TEST_CASE("the loss of solids is that of twelve hours at 20 degC, grows with time and warmth, and has an end") {
  Setup setup = setup_of(R"({"legume": "chickpea-kabuli"})");
  Theta t = setup.beliefs.medians();
  t.set(Param::solids_lost, 0, 0.0203);
  Stream seed;
  seed.of = seed_composition(t, 0, false);
  const auto lost = [&](double celsius_, double h) { return soak(seed, setup.job.soak, held(celsius_, h), t, 0).solids_lost; };
  // science.md 2.5: 12 h at 20 degC 2.03 %, the end of 2.3 % after 13.6 h; 10.2 % after 71 min at 100 degC.
  CHECK(lost(20, 12) == Approx(0.0203));
  CHECK(lost(20, 6) == Approx(0.01015));
  CHECK(lost(20, 13.5) < 0.023);
  CHECK(lost(20, 13.7) == Approx(0.023).epsilon(1e-6));
  CHECK(lost(20, 96) == Approx(0.023).epsilon(1e-6));
  CHECK(lost(100, 71.0 / 60) == Approx(0.102).epsilon(0.15));
  CHECK(lost(100, 4) == Approx(0.102).epsilon(1e-6));
  const Soaked s = soak(seed, setup.job.soak, held(20, 12), t, 0);
  CHECK(s.soak_water.of[Component::protein] / s.soak_water.of.solids_kg() == Approx(0.20));
  CHECK(s.soak_water.of[Component::sugars] / s.soak_water.of.solids_kg() == Approx(0.62));
}

TEST_CASE("every change of water is a stretch of the history") {
  Setup setup = setup_of(R"({"legume": "chickpea-kabuli", "soak": {"time": "12 h", "changes": 11}})");
  Stream seed;
  seed.of = seed_composition(setup.beliefs.medians(), 0, false);
  const TemperatureHistory h = soak_history(seed, setup.job.soak, 10);
  CHECK(h.pieces().size() == 12);
  CHECK(in_hours(h.length()) == Approx(12));
  for (const HistoryPiece& p : h.pieces()) CHECK(p.shape == HistoryPiece::Shape::relax);
}

TEST_CASE("rubbed skins take their fibre and water along") {
  const Plan with = plan_of(R"({"legume": "soybean", "soak": {"skins_off": true}, "blend": {"total_water_to_dry": 8}})");
  const Plan without = plan_of(R"({"legume": "soybean", "blend": {"total_water_to_dry": 8}})");
  CHECK(without.hulls.of.total_kg() == 0.0);
  // Four fifths of a hull of 8 % of the soaked solids.
  CHECK(with.hulls.of.solids_kg() == Approx(0.8 * 0.08 * without.soaked.of.solids_kg()).epsilon(1e-9));
  CHECK(with.hulls.of.fraction(Component::water) == Approx(without.soaked.of.fraction(Component::water)));
  CHECK(with.hulls.of[Component::fibre] > with.hulls.of[Component::protein]);
}
