// SPDX-License-Identifier: MIT
#include "curdwright/cooling.hpp"

#include <array>
#include <cmath>

#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::batch_of;

namespace {

Batch pea(std::vector<std::string> set) { return batch_of(R"({"legume": "pea-split-yellow", "want": {"dry": "6 kg"}})", std::move(set)); }

/// Whether a block so high passes both limits after a short press and in ice water, by the chill itself.
bool passes_in_ice(const Batch& b, Length height, Duration pressed) {
  const PressSettings& p = b.setup.job.press;
  const ThermalBlock block = thermal_block(b.plan.pressed.curd.of, p.mould_length, p.mould_width, height);
  const std::array stations = {Surroundings{b.setup.press_coefficient_w_m2_k, b.setup.press_surroundings, pressed}, Surroundings{350, celsius(1), {}}};
  const CoolingLimits l = cooling_limits(b.setup.kitchen);
  const Chilled c = chill(block, b.plan.set.history.end(), stations, l);
  return c.to_first() && c.to_second() && *c.to_first() <= l.first_within && *c.to_second() <= l.second_within;
}

}  // namespace

TEST_CASE("the thickness that is named passes, and half a centimetre more does not") {
  for (const char* mass : {"12 kg", "13 kg", "14.3 kg"}) {
    const Batch b = pea({std::string("/block/mass=") + mass, "/kitchen/mould/length=32 cm", "/kitchen/mould/width=32 cm", "/press/time=2 h", "/press/where=room"});
    for (double unmoulding : {0.0, 20.0, 120.0}) {
      const Cooling c = cool(b, {seconds(0), minutes(unmoulding)});
      INFO(unmoulding << " min, " << mass << " " << in_centimetres(b.plan.pressed.block_height) << " cm: " << c.mend);
      const std::string words = "no thicker than ";
      REQUIRE(c.mend.find(words) != std::string::npos);
      const double cm = std::stod(c.mend.substr(c.mend.find(words) + words.size()));
      CHECK(2 * cm == std::round(2 * cm));
      CHECK(centimetres(cm) <= b.plan.pressed.block_height);
      CHECK(passes_in_ice(b, centimetres(cm), minutes(30 + unmoulding)));
      CHECK_FALSE(passes_in_ice(b, centimetres(cm + 0.5), minutes(30 + unmoulding)));
    }
  }
}

TEST_CASE("where unmoulding alone takes the time away, no thickness is named that would not pass") {
  const Batch b = pea({"/block/mass=13 kg", "/kitchen/mould/length=32 cm", "/kitchen/mould/width=32 cm", "/press/time=2 h", "/press/where=room"});
  for (double cm : {1.0, 5.0, 9.5}) CHECK_FALSE(passes_in_ice(b, centimetres(cm), minutes(30 + 240)));
  CHECK(cool(b, {seconds(0), minutes(240)}).mend == "chill in ice water at once, in thin slabs");
}

TEST_CASE("curd that stands cold in the pot is out of control for as long as it stands, piece after piece") {
  const Batch b = pea({"/press/where=fridge"});
  const auto standing = [&](double h) { return in_hours(out_of_control(b, {hours(h), seconds(0)})); };
  CHECK(standing(0) == 0.0);
  CHECK(standing(20) > 10);
  CHECK(standing(21) - standing(20) == Approx(1));
  // What was below 57 degC before the wait began counts with the wait: 2 ln(60/37.2) h down to it, 6 h in all, and the wait.
  Batch cold = b;
  cold.plan.set.history = TemperatureHistory(celsius(80)).relax(hours(6), celsius(20), hours(2));
  const double before = 6 - 2 * std::log(60 / 37.2);
  CHECK(in_hours(out_of_control(cold, {seconds(0), seconds(0)})) == Approx(before));
  CHECK(in_hours(out_of_control(cold, {hours(3), seconds(0)})) == Approx(before + 3));
  const Batch room = pea({"/press/where=room", "/press/time=1 h"});
  const auto in_room = [&](double h, double unmoulding) { return in_minutes(out_of_control(room, {hours(h), minutes(unmoulding)})); };
  CHECK(in_room(21, 0) - in_room(20, 0) == Approx(60));
  CHECK(in_room(20, 15) - in_room(20, 0) == Approx(15));
}

TEST_CASE("the centre of a block goes on from the press into the chill without a step") {
  const Batch b = pea({"/press/time=1 h"});
  const Handling h{minutes(5), minutes(10)};
  const Duration unmoulded = minutes(70);
  CHECK(in_celsius(block_centre(b, h, unmoulded + seconds(1))) == Approx(in_celsius(block_centre(b, h, unmoulded))).margin(0.02));
  CHECK(in_celsius(block_centre(b, h, unmoulded + hours(200))) == Approx(in_celsius(b.setup.chill_medium)).margin(0.01));
  CHECK(block_centre(b, h, unmoulded + minutes(30)) < block_centre(b, h, unmoulded));
}
