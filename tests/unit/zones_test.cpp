// SPDX-License-Identifier: MIT
#include "program/zones.hpp"

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "support/support.hpp"

using namespace curdwright;
using namespace curdwright::program;
using curdwright::test::must;

namespace {

Zone zone(std::string_view name) { return must(find_zone(name)); }
LocalTime at(std::string_view text) { return must(read_local_time(text, "--start")); }
Moment moment(std::string_view name, std::string_view text) { return must(to_utc(zone(name), at(text), "--start")); }
std::string utc(std::chrono::sys_seconds t) { return iso(from_clock(std::chrono::local_seconds(t.time_since_epoch()))); }
std::string utc(std::string_view name, std::string_view text) { return utc(moment(name, text).utc); }
/// "2027-03-05 19:00 CET" of an instant told in UTC.
std::string local(std::string_view name, std::string_view text) {
  const ZonedTime z = to_local(zone(name), std::chrono::sys_seconds(on_clock(at(text)).time_since_epoch()));
  return iso(z.time) + " " + z.abbreviation;
}
Problem skipped(std::string_view name, std::string_view text) {
  const auto r = to_utc(zone(name), at(text), "--start");
  REQUIRE_FALSE(r);
  CHECK(r.error().front().code == "time-skipped");
  return r.error().front();
}
Problem unknown(std::string_view name) {
  const auto r = find_zone(name);
  REQUIRE_FALSE(r);
  return r.error().front();
}

/// TZDIR for the length of a test.
class Tables {
 public:
  explicit Tables(const std::string& folder) { ::setenv("TZDIR", folder.c_str(), 1); }
  Tables(const Tables&) = delete;
  Tables& operator=(const Tables&) = delete;
  ~Tables() { ::unsetenv("TZDIR"); }
};

}  // namespace

TEST_CASE("Berlin: the hour that clocks skip in March 2027, and the one they show twice in October") {
  CHECK(utc("Europe/Berlin", "2027-03-28 01:59") == "2027-03-28 00:59");
  CHECK(utc("Europe/Berlin", "2027-03-28 03:00") == "2027-03-28 01:00");
  const Problem p = skipped("Europe/Berlin", "2027-03-28 02:30");
  CHECK(p.what == "--start: clocks in Europe/Berlin never show 2027-03-28 02:30");
  CHECK(p.why == "they are put forward there, from 2027-03-28 02:00 to 2027-03-28 03:00");
  CHECK(p.fix == "write \"2027-03-28 01:59\" or earlier, or \"2027-03-28 03:00\" or later");
  skipped("Europe/Berlin", "2027-03-28 02:00");
  skipped("Europe/Berlin", "2027-03-28 02:59");

  CHECK_FALSE(moment("Europe/Berlin", "2027-10-31 01:59").ambiguous);
  CHECK(moment("Europe/Berlin", "2027-10-31 02:00").ambiguous);
  CHECK(moment("Europe/Berlin", "2027-10-31 02:59").ambiguous);
  CHECK_FALSE(moment("Europe/Berlin", "2027-10-31 03:00").ambiguous);
  CHECK(utc("Europe/Berlin", "2027-10-31 02:30") == "2027-10-31 00:30");  // the earlier of the two
  CHECK(local("Europe/Berlin", "2027-10-31 00:30") == "2027-10-31 02:30 CEST");
  CHECK(local("Europe/Berlin", "2027-10-31 01:30") == "2027-10-31 02:30 CET");
}

TEST_CASE("a soak over the night of a clock change takes as long as it takes") {
  const Zone berlin = zone("Europe/Berlin");
  const auto spring = to_local(berlin, later(moment("Europe/Berlin", "2027-03-27 18:00").utc, hours(16)));
  CHECK(iso(spring.time) == "2027-03-28 11:00");
  CHECK(spring.abbreviation == "CEST");
  CHECK(spring.offset == std::chrono::hours(2));
  CHECK(iso(to_local(berlin, later(moment("Europe/Berlin", "2027-10-30 18:00").utc, hours(16))).time) == "2027-10-31 09:00");
}

TEST_CASE("New York, Lord Howe with its half hour, Kathmandu, Dublin whose winter is the exception, Apia's lost day") {
  CHECK(utc("America/New_York", "2027-03-05 18:00") == "2027-03-05 23:00");
  skipped("America/New_York", "2027-03-14 02:15");
  CHECK(utc("America/New_York", "2027-11-07 01:30") == "2027-11-07 05:30");
  CHECK(moment("America/New_York", "2027-11-07 01:30").ambiguous);
  CHECK(local("America/New_York", "2027-07-04 16:00") == "2027-07-04 12:00 EDT");

  CHECK(skipped("Australia/Lord_Howe", "2027-10-03 02:15").why == "they are put forward there, from 2027-10-03 02:00 to 2027-10-03 02:30");
  CHECK(utc("Australia/Lord_Howe", "2027-10-03 02:30") == "2027-10-02 15:30");
  CHECK(moment("Australia/Lord_Howe", "2027-04-04 01:45").ambiguous);
  CHECK(utc("Australia/Lord_Howe", "2027-04-04 01:45") == "2027-04-03 14:45");
  CHECK(local("Australia/Lord_Howe", "2027-07-01 00:00") == "2027-07-01 10:30 +1030");

  CHECK(utc("Asia/Kathmandu", "2027-03-05 18:00") == "2027-03-05 12:15");
  CHECK(local("Asia/Kathmandu", "2027-03-05 12:15") == "2027-03-05 18:00 +0545");
  CHECK(local("Europe/Dublin", "2027-01-01 12:00") == "2027-01-01 12:00 GMT");
  CHECK(local("Europe/Dublin", "2027-07-01 12:00") == "2027-07-01 13:00 IST");
  CHECK(utc("Etc/UTC", "2027-03-05 18:00") == "2027-03-05 18:00");
  const Problem lost = skipped("Pacific/Apia", "2011-12-30 12:00");
  CHECK(lost.fix == "write \"2011-12-29 23:59\" or earlier, or \"2011-12-31 00:00\" or later");
}

TEST_CASE("beyond the listed changes the yearly rule goes on") {
  CHECK(utc("Europe/Berlin", "2099-07-01 12:00") == "2099-07-01 10:00");
  CHECK(utc("Europe/Berlin", "2200-12-31 23:59") == "2200-12-31 22:59");
  skipped("Europe/Berlin", "2100-03-28 02:30");  // a Sunday, the last of March
  CHECK(moment("America/New_York", "2150-11-01 01:30").ambiguous);
  CHECK(local("Australia/Sydney", "2099-01-01 00:00") == "2099-01-01 11:00 AEDT");
}

TEST_CASE("a zone that is not known is answered with those that are near") {
  CHECK(unknown("Europe/Berln").fix == "did you mean \"Europe/Berlin\"?");
  CHECK(unknown("europe/berlin").fix == "did you mean \"Europe/Berlin\"?");
  CHECK(unknown("Berlin").fix == "did you mean \"Europe/Berlin\"?");
  CHECK(unknown("new york").fix == "did you mean \"America/New_York\"?");
  CHECK(unknown("Kathmandoo").fix.find("\"Asia/Kathmandu\"") != std::string::npos);
  for (const std::string name : {"", "Europe", "Europe/", "UTC+2", "+02:00", "Qwertyuiop", "../etc/passwd", "/etc/localtime", "Europe//Berlin", "Europe/Berlin/", "right/Europe/Berlin", "localtime",
                                 "tzdata.zi", "zone.tab", "Europe/Berlin\n", "\x1B[31m"}) {
    INFO(name);
    CHECK(unknown(name).code == "zone-unknown");
    CHECK_FALSE(unknown(name).fix.empty());
    CHECK(unknown(name).what.find('\x1B') == std::string::npos);
  }
  CHECK(unknown("UTC+2").fix.find("did you mean") == std::string::npos);
  CHECK(unknown("Nowhere/Place").fix.find("did you mean") == std::string::npos);
  CHECK(unknown(std::string(100000, 'x')).what.size() < 100);
}

TEST_CASE("the tables of TZDIR are used, and a damaged or missing one is a problem of the file") {
  namespace fs = std::filesystem;
  const std::string original = test::read_file("/usr/share/zoneinfo/Europe/Berlin");
  REQUIRE(original.size() > 100);
  const fs::path folder = fs::temp_directory_path() / ("curdwright-zones-" + std::to_string(::getpid()));
  fs::create_directories(folder / "Kitchen");
  const auto store = [&](const std::string& name, const std::string& bytes) { std::ofstream(folder / name, std::ios::binary) << bytes; };
  {
    const Tables here(folder.string());
    CHECK(unknown("Kitchen/Back").code == "file");  // not one table below
    store("Kitchen/Back", original);
    store("Kitchen/Short", original.substr(0, original.size() / 2));
    store("Kitchen/Leap", std::string(original).replace(4, 1, 1, '\0'));
    CHECK(utc("Kitchen/Back", "2027-03-05 18:00") == "2027-03-05 17:00");
    CHECK(unknown("Kitchen/Bakc").fix == "did you mean \"Kitchen/Back\"?");
    CHECK(unknown("Kitchen/Short").code == "file");
    CHECK(unknown("Kitchen/Leap").code == "file");
  }
  fs::remove_all(folder);
  const Tables nowhere(folder.string());
  CHECK(unknown("Europe/Berlin").code == "file");
  CHECK(unknown("Europe/Berlin").fix.find("tzdata") != std::string::npos);
}

TEST_CASE("a table cut short anywhere, or with a byte changed, is read or refused, and never more") {
  const std::string original = test::read_file("/usr/share/zoneinfo/Australia/Lord_Howe");
  for (std::size_t n = 0; n < original.size(); ++n) CHECK_FALSE(ZoneRules::read(std::string_view(original).substr(0, n)));
  std::size_t read = 0;
  for (std::size_t i = 0; i < original.size(); ++i)
    for (const char c : {'\x00', '\x7F', '\x80', '\xFF'}) {
      std::string bytes = original;
      bytes[i] = c;
      const auto rules = ZoneRules::read(bytes);
      if (!rules) continue;
      ++read;
      // Whatever it says now, it must answer.
      const Zone z{"Changed", *rules};
      static_cast<void>(to_utc(z, at("2027-10-03 02:15"), "--start"));
      static_cast<void>(to_local(z, std::chrono::sys_seconds{}));
    }
  CHECK(read > 100);
}

TEST_CASE("the rule at the end of a table is read as POSIX and RFC 8536 have it") {
  const auto lord_howe = read_footer("<+1030>-10:30<+11>-11,M10.1.0,M4.1.0");
  REQUIRE(lord_howe);
  CHECK(lord_howe->standard.offset == 37800);
  CHECK(lord_howe->standard.abbreviation == "+1030");
  CHECK(lord_howe->summer->offset == 39600);
  const auto godthab = read_footer("<-02>2<-01>,M3.5.0/-1,M10.5.0/0");
  REQUIRE(godthab);
  CHECK(godthab->begins.time == -3600);
  const auto julian = read_footer("AAA3BBB,J60/2:30,364");
  REQUIRE(julian);
  CHECK(julian->summer->offset == -7200);
  CHECK(julian->begins.in_year(2027) == julian->begins.in_year(2028) - 366 * 86400);  // 1 March in both
  CHECK(julian->ends.in_year(2027) - julian->ends.in_year(2028) == -365 * 86400);     // the 365th day in both
  CHECK(read_footer("UTC0"));
  for (const char* bad : {"", "U", "UT0", "UTC", "UTC0 ", "UTC0x", "UTC25:00", "AAA3BBB", "AAA3BBB,M3.2.0", "AAA3BBB,M13.2.0,M11.1.0", "AAA3BBB,M3.6.0,M11.1.0", "AAA3BBB,M3.0.0,M11.1.0",
                          "AAA3BBB,M3.2.7,M11.1.0", "AAA3BBB,J0,J5", "AAA3BBB,J366,J5", "AAA3BBB,M3.2.0,M11.1.0,", "<AAA3", "AAA3:60", "AAA168", "AAA3BBB,M3.2.0/168,M11.1.0"}) {
    INFO(bad);
    CHECK_FALSE(read_footer(bad));
  }
}

TEST_CASE("summer time that never ends is summer time all year") {
  // A file with no changes and such a footer, as RFC 8536 describes it.
  const auto number = [](std::uint64_t n, int width) {
    std::string s;
    for (int i = width - 1; i >= 0; --i) s += static_cast<char>(n >> (8 * i) & 0xFFU);
    return s;
  };
  const std::string head = std::string("TZif3") + std::string(15, '\0') + number(0, 4) + number(0, 4) + number(0, 4) + number(0, 4) + number(1, 4) + number(4, 4);
  const std::string block = number(static_cast<std::uint32_t>(-10800), 4) + '\1' + '\0' + std::string("EDT\0", 4);
  const auto rules = ZoneRules::read(head + block + head + block + "\nXXX3EDT4,0/0,J365/23\n");
  REQUIRE(rules);
  for (int day = 0; day < 3000; ++day) {
    const ZoneType t = rules->at(std::int64_t{day} * 86400 * 20 + 1);
    REQUIRE(t.abbreviation == "EDT");
    REQUIRE(t.offset == -14400);
  }
}
