// SPDX-License-Identifier: MIT
// The C library as judge of time zones: it reads the same tables with its own code.
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <random>

#include "program/zones.hpp"
#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::program;
using curdwright::test::must;

namespace {

class ZoneOfProcess {
 public:
  explicit ZoneOfProcess(const std::string& name) {
    ::setenv("TZ", (":" + name).c_str(), 1);
    ::tzset();
  }
  ZoneOfProcess(const ZoneOfProcess&) = delete;
  ZoneOfProcess& operator=(const ZoneOfProcess&) = delete;
  ~ZoneOfProcess() {
    ::unsetenv("TZ");
    ::tzset();
  }
};

std::tm judged(std::time_t t) {
  std::tm tm{};
  ::localtime_r(&t, &tm);
  return tm;
}

std::vector<std::string> all_zones() {
  namespace fs = std::filesystem;
  const std::string folder = "/usr/share/zoneinfo";
  std::vector<std::string> names;
  for (const char* part : {"Africa", "America", "Antarctica", "Arctic", "Asia", "Atlantic", "Australia", "Etc", "Europe", "Indian", "Pacific"})
    for (const auto& e : fs::recursive_directory_iterator(folder + "/" + part))
      if (e.is_regular_file()) names.push_back(fs::path(e.path()).lexically_relative(folder).string());
  std::sort(names.begin(), names.end());
  return names;
}

std::chrono::sys_seconds instant(std::int64_t t) { return std::chrono::sys_seconds(std::chrono::seconds(t)); }
constexpr std::int64_t last = 7289654400;  // 2200-12-31

/// An instant of a change of offset between two others, by halving.
std::int64_t change_between(std::int64_t low, std::int64_t high) {
  const long before = judged(low).tm_gmtoff;
  while (high - low > 1) {
    const std::int64_t middle = low + (high - low) / 2;
    (judged(middle).tm_gmtoff == before ? low : high) = middle;
  }
  return high;
}

}  // namespace

TEST_CASE("every zone of the world shows what the C library shows, at random instants to 2200") {
  const auto names = all_zones();
  CHECK(names.size() > 400);
  std::mt19937_64 random(20270305);
  std::uniform_int_distribution<std::int64_t> any(0, last), soon(1735689600, 2524608000);  // the second: 2025 to 2050
  for (const std::string& name : names) {
    INFO(name);
    const Zone zone = must(find_zone(name));
    const ZoneOfProcess process(name);
    for (int i = 0; i < 200; ++i) {
      const std::int64_t t = i % 2 == 0 ? any(random) : soon(random);
      const std::tm tm = judged(t);
      const ZonedTime z = to_local(zone, instant(t));
      INFO(t);
      REQUIRE(z.offset.count() == tm.tm_gmtoff);
      REQUIRE(z.abbreviation == tm.tm_zone);
      REQUIRE(static_cast<int>(z.time.date.year()) == tm.tm_year + 1900);
      REQUIRE(static_cast<int>(static_cast<unsigned>(z.time.date.day())) == tm.tm_mday);
      REQUIRE(z.time.hour == tm.tm_hour);
      REQUIRE(z.time.minute == tm.tm_min);
    }
  }
}

TEST_CASE("around every change a local time has as many instants as the C library says: none, one or two") {
  std::size_t none = 0, single = 0, twice = 0;
  for (const char* name : {"Europe/Berlin", "Europe/Dublin", "America/New_York", "America/Santiago", "America/Nuuk", "Australia/Lord_Howe", "Asia/Gaza", "Africa/Casablanca", "Pacific/Apia",
                           "Asia/Pyongyang", "Antarctica/Troll", "America/Caracas"}) {
    const Zone zone = must(find_zone(name));
    const ZoneOfProcess process(name);
    // Each week is looked at; two changes within one that cancel out are not found, which only makes fewer cases.
    for (std::int64_t week = 157766400; week + 604800 < last; week += 604800) {
      const long before = judged(week).tm_gmtoff, after = judged(week + 604800).tm_gmtoff;
      if (before == after || (week > 2524608000 && week % 7 != 0)) continue;
      const std::int64_t change = change_between(week, week + 604800);
      for (std::int64_t step = -12; step <= 12; ++step) {
        const std::int64_t local = (change + std::min(before, after) + step * 600 + 30) / 60 * 60;
        std::vector<std::int64_t> found;
        for (const long offset : {std::max(before, after), std::min(before, after)})
          if (judged(local - offset).tm_gmtoff == offset) found.push_back(local - offset);
        const auto mine = to_utc(zone, from_clock(std::chrono::local_seconds(std::chrono::seconds(local))), "--start");
        INFO(name << " " << local << " around " << change);
        REQUIRE(mine.has_value() == !found.empty());
        (found.empty() ? none : found.size() == 1 ? single : twice) += 1;
        if (!mine) continue;
        REQUIRE(mine->utc == instant(found.front()));
        REQUIRE(mine->ambiguous == (found.size() == 2));
      }
    }
  }
  CHECK(none > 1000);
  CHECK(single > 10000);
  CHECK(twice > 1000);
}
