// SPDX-License-Identifier: MIT
// Settings that are varied, as they are typed.
#include "curdwright/factor.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

std::vector<std::string> levels(const std::string& text) {
  std::vector<std::string> all;
  for (const Level& l : must(read_factor(text)).levels) all.push_back(l.text);
  return all;
}

std::string fault(const std::string& text) {
  const auto f = read_factor(text);
  return f ? "accepted" : f.error()[0].code + ": " + f.error()[0].why;
}

using Levels = std::vector<std::string>;

}  // namespace

TEST_CASE("steps take the unit of the ends and reach the last level") {
  CHECK(levels("/starch/time=10min:50min:10min") == Levels{"10 min", "20 min", "30 min", "40 min", "50 min"});
  CHECK(levels("/starch/time=10min:35min:10min") == Levels{"10 min", "20 min", "30 min"});
  CHECK(levels("/blend/total_water_to_dry=0.1:0.4:0.1") == Levels{"0.1", "0.2", "0.3", "0.4"});  // no 0.30000000000000004
  CHECK(levels("/coagulate/at=70degC:90degC:10degC") == Levels{"70 degC", "80 degC", "90 degC"});
  CHECK(levels("/soak/time=6h:720min:3h") == Levels{"6 h", "9 h", "12 h"});
  CHECK(levels("/soak/time=6 h : 12 h : 180min") == Levels{"6 h", "9 h", "12 h"});
  CHECK(levels("/kitchen/altitude=0 m:1000m:500m") == Levels{"0 m", "500 m", "1000 m"});
  CHECK(levels("/press/moisture=78%:82%:2%") == Levels{"78 %", "80 %", "82 %"});
}

TEST_CASE("logarithmic steps multiply") {
  CHECK(levels("/blend/total_water_to_dry=4:16:x2") == Levels{"4", "8", "16"});
  CHECK(must(read_factor("/blend/total_water_to_dry=4:16:x2")).logarithmic);
  CHECK(levels("/press/pressure=1kPa:9kPa:x3") == Levels{"1 kPa", "3 kPa", "9 kPa"});
  CHECK(fault("/blend/total_water_to_dry=0:16:x2") == "factor-unreadable: logarithmic steps begin above 0 and grow by more than x1");
  CHECK(fault("/blend/total_water_to_dry=4:16:x1") == "factor-unreadable: logarithmic steps begin above 0 and grow by more than x1");
}

TEST_CASE("lists hold words or amounts") {
  CHECK(levels("/coagulate/with=nigari, lemon-juice") == Levels{"nigari", "lemon-juice"});
  CHECK_FALSE(must(read_factor("/coagulate/with=nigari,lemon-juice")).numeric());
  CHECK(must(read_factor("/starch/time=20 min,40 min")).numeric());
  CHECK(must(read_factor("/starch/time=20 min,40 min")).unit == "min");
  CHECK_FALSE(must(read_factor("/starch/time=20 min,1 h")).numeric());
  CHECK(must(read_factor("/starch/times=1,2,3")).setting(2) == "/starch/times=3");
}

TEST_CASE("slips are told with what to write") {
  CHECK(fault("/starch/time") == "factor-unreadable: it needs a pointer, =, and what the setting may be");
  CHECK(fault("/starch/time=") == "factor-unreadable: it needs a pointer, =, and what the setting may be");
  CHECK(fault("/starch/time=10min:50min") == "factor-unreadable: from and to need a step");
  CHECK(fault("/starch/time=50min:10min:5min") == "factor-unreadable: the end lies below the beginning");
  CHECK(fault("/starch/time=10min:50min:0min") == "factor-unreadable: a step is more than 0");
  CHECK(fault("/starch/time=10min:50min:1kg") == "factor-unreadable: the step has another unit than the ends");
  CHECK(fault("/starch/time=10min:50kg:1min") == "factor-unreadable: the ends have units that do not go together");
  CHECK(fault("/starch/time=a:b:c") == "factor-unreadable: \"a\" is no number");
  CHECK(fault("/coagulate/at=160degF:190degF:5degC") == "factor-unreadable: the step has another unit than the ends");
  CHECK(fault("/starch/time=0s:1e9s:1s").starts_with("factor-unreadable: it has 1000000001 levels"));
  CHECK(fault("/starch/time=1min,,2min") == "factor-unreadable: a level is empty");
  CHECK(read_factor("/starch/tim=1,2").error()[0].fix == "did you mean /starch/time?");
  CHECK(read_factor("/kitchen/altitud=1,2").error()[0].code == "pointer-unknown");
}

TEST_CASE("a room has two ends in one unit, or is a list") {
  const Room time = must(read_room("/starch/time=10min:2h"));
  CHECK(time.unit == "min");
  CHECK(time.low == 10);
  CHECK(time.high == Approx(120));
  CHECK(time.setting(43.2) == "/starch/time=43.2 min");
  CHECK_FALSE(time.listed());
  CHECK(must(read_room("/starch/times=1:3")).whole);
  CHECK(must(read_room("/coagulate/with=nigari,lemon-juice")).listed());
  const Room warm = must(read_room("/coagulate/at=160degF:85degC"));
  CHECK(warm.high == Approx(185));
  CHECK(read_room("/starch/time=2h:10min").error()[0].why == "the second end is not above the first");
  CHECK(read_room("/starch/time=1h:2h:1h").error()[0].why == "two ends, or a list with commas");
}
