// SPDX-License-Identifier: MIT
#include "curdwright/calendar.hpp"

#include <limits>

#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

LocalTime at(std::string_view text) { return must(read_local_time(text, "--start")); }

/// Code of the one problem with such a text.
std::string refused(std::string_view text) {
  const auto r = read_local_time(text, "--start");
  if (r) return "read";
  REQUIRE(r.error().size() == 1);
  const Problem& p = r.error().front();
  CHECK(p.what.rfind("--start: ", 0) == 0);
  CHECK_FALSE(p.fix.empty());
  return p.code;
}

std::string why(std::string_view text) { return read_local_time(text, "--start").error().front().why; }

}  // namespace

TEST_CASE("a date and time is read with a blank or a T between") {
  const LocalTime t = at("2027-03-05 18:07");
  CHECK(static_cast<int>(t.date.year()) == 2027);
  CHECK(static_cast<unsigned>(t.date.month()) == 3);
  CHECK(static_cast<unsigned>(t.date.day()) == 5);
  CHECK(t.hour == 18);
  CHECK(t.minute == 7);
  CHECK(at("2027-03-05T18:07") == t);
  CHECK(iso(t) == "2027-03-05 18:07");
  for (std::string_view edge : {"1970-01-01 00:00", "2200-12-31 23:59", "2028-02-29 00:00", "2000-02-29 12:30"}) CHECK(iso(at(edge)) == edge);
}

TEST_CASE("what is no date and time is refused with the way to write it") {
  for (std::string_view text : {"", " ", "now", "tomorrow 18:00", "2027-03-05", "18:00", "2027-03-05 18", "2027-03-05 18:0", "2027-3-5 18:00", "2027-03-05  18:00", " 2027-03-05 18:00",
                                "2027-03-05 18:00 ", "2027-03-05 18:00:00", "2027-03-05T18:00Z", "2027-03-05T18:00+01:00", "05.03.2027 18:00", "3/5/2027 18:00", "2027/03/05 18:00",
                                "20270305T1800", "2027-03-05t18:00", "2027-03-05 6:00 pm", "2027-03-05 18.00", "-027-03-05 18:00", "2027-03-05 1\xCC\xB8:00", "12027-03-05 18:00"}) {
    INFO(text);
    CHECK(refused(text) == "time-unreadable");
    CHECK(read_local_time(text, "--ready-by").error().front().fix == "write year, month, day, then hours and minutes of the day: --ready-by \"2027-03-05 18:00\"");
  }
  CHECK(why("2027-03-05 18:00:00").find("seconds") != std::string::npos);
  CHECK(why("2027-03-05T18:00Z").find("zone") != std::string::npos);
  CHECK(why("2027-03-05T18:00-05:00").find("zone") != std::string::npos);
  CHECK(why("2027-03-05").find("time of day") != std::string::npos);
  CHECK(why("18:00").find("date") != std::string::npos);
  CHECK(why("2027-03-05 18").find("minutes") != std::string::npos);
  CHECK(why("05.03.2027 18:00").find("year comes first") != std::string::npos);
  CHECK(why("3/5/2027").find("year comes first") != std::string::npos);
  const std::string hostile = read_local_time("\x1B[31m", "--start").error().front().what + read_local_time(std::string(100000, 'x'), "--start").error().front().what;
  CHECK(hostile.find('\x1B') == std::string::npos);
  CHECK(hostile.size() < 200);
}

TEST_CASE("a day or a time that does not exist is refused with the reason") {
  for (std::string_view text : {"2027-02-29 18:00", "2027-02-30 18:00", "2027-04-31 18:00", "2100-02-29 00:00", "2027-01-00 18:00", "2027-00-05 18:00", "2027-13-05 18:00", "2027-03-05 24:00",
                                "2027-03-05 24:01", "2027-03-05 25:00", "2027-03-05 18:60", "2027-03-05 99:99", "0000-00-00 00:00"}) {
    INFO(text);
    CHECK(refused(text) == "time-impossible");
  }
  CHECK(why("2027-02-30 18:00") == "February 2027 has 28 days");
  CHECK(why("2028-02-30 18:00") == "February 2028 has 29 days");
  CHECK(read_local_time("2027-12-31 24:00", "--start").error().front().fix == "write --start \"2028-01-01 00:00\"");
  CHECK(refused("1969-12-31 23:59") == "out-of-range");
  CHECK(refused("2201-01-01 00:00") == "out-of-range");
  CHECK(refused("0027-03-05 18:00") == "out-of-range");
}

TEST_CASE("times move by durations, forward and back, over the ends of months and years") {
  CHECK(iso(later(at("2027-03-05 18:00"), hours(16))) == "2027-03-06 10:00");
  CHECK(iso(later(at("2027-12-31 23:30"), minutes(45))) == "2028-01-01 00:15");
  CHECK(iso(later(at("2028-03-01 00:10"), -minutes(20))) == "2028-02-29 23:50");
  CHECK(iso(later(at("1970-01-01 00:00"), -minutes(1))) == "1969-12-31 23:59");
  CHECK(iso(later(at("2027-03-05 18:00"), seconds(29))) == "2027-03-05 18:00");
  CHECK(iso(later(at("2027-03-05 18:00"), seconds(31))) == "2027-03-05 18:01");
  CHECK(later(at("2027-03-05 18:00"), seconds(std::numeric_limits<double>::quiet_NaN())) == at("2027-03-05 18:00"));
  CHECK(in_hours(between(at("2027-02-28 18:00"), at("2027-03-01 06:00"))) == 12.0);
  CHECK(in_minutes(between(at("2027-03-05 18:00"), at("2027-03-05 17:15"))) == -45.0);
  CHECK(at("2027-03-05 18:00") < at("2027-03-05 18:01"));
  CHECK(at("2027-03-05 18:00") < at("2027-04-01 00:00"));
}

TEST_CASE("a time is said with its weekday, in English") {
  CHECK(spoken(at("2027-03-05 18:00")) == "Fri 5 Mar 18:00");
  CHECK(spoken(at("2027-12-25 06:05")) == "Sat 25 Dec 06:05");
  CHECK(weekday(at("1970-01-01 00:00")) == "Thursday");
  CHECK(weekday(at("2000-01-01 00:00")) == "Saturday");
  CHECK(weekday(at("2028-02-29 00:00")) == "Tuesday");
  CHECK(weekday(at("2200-12-31 00:00")) == "Wednesday");
}

TEST_CASE("an event's id follows from batch, start and step, and from nothing else") {
  const std::string id = event_uid("{\"legume\":\"soybean\"}", "2027-03-05 18:00", "soak");
  CHECK(id == event_uid("{\"legume\":\"soybean\"}", "2027-03-05 18:00", "soak"));
  CHECK(id != event_uid("{\"legume\":\"soybean\"}", "2027-03-05 18:00", "cook"));
  CHECK(id != event_uid("{\"legume\":\"soybean\"}", "2027-03-05 18:01", "soak"));
  CHECK(id != event_uid("{\"legume\":\"peanut\"}", "2027-03-05 18:00", "soak"));
  CHECK(event_uid("a", "bc", "d") != event_uid("ab", "c", "d"));
  CHECK(event_uid("", "a", "") != event_uid("a", "", ""));
  // FNV-1a of "0:0:0:", worked out apart from this code.
  CHECK(event_uid("", "", "") == "06b6baf4c152d09f@curdwright.invalid");
}
