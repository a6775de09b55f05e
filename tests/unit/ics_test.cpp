// SPDX-License-Identifier: MIT
#include <algorithm>
#include <random>
#include <set>

#include "curdwright/calendar.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::must;

namespace {

LocalTime at(std::string_view text) { return must(read_local_time(text, "--start")); }

bool is_tail(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Logical lines of a file, after the checks that hold for every file: CRLF and nothing else, 75 octets, no character cut in two.
std::vector<std::string> lines_of(const std::string& ics) {
  std::vector<std::string> lines;
  std::size_t from = 0;
  for (std::size_t end = 0; (end = ics.find("\r\n", from)) != std::string::npos; from = end + 2) {
    const std::string line = ics.substr(from, end - from);
    INFO(line);
    CHECK(line.size() <= 75);
    CHECK_FALSE(line.empty());
    CHECK(std::none_of(line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) < 0x20) || c == 0x7F; }));
    if (line[0] == ' ') {
      REQUIRE_FALSE(lines.empty());
      CHECK_FALSE((line.size() > 1 && is_tail(line[1])));
      lines.back() += line.substr(1);
    } else {
      lines.push_back(line);
    }
  }
  CHECK(from == ics.size());
  return lines;
}

/// Every BEGIN has its END, and an event its four properties, once.
void check_shape(const std::vector<std::string>& lines) {
  std::vector<std::string> open;
  std::multiset<std::string> seen;
  for (const std::string& line : lines) {
    const std::string name = line.substr(0, line.find(':')), value = line.substr(name.size() + 1);
    if (name == "BEGIN") {
      CHECK((open.empty() ? value == "VCALENDAR" : open.back() == "VCALENDAR" ? value == "VEVENT" : open.back() == "VEVENT" && value == "VALARM"));
      open.push_back(value);
      if (value == "VEVENT") seen.clear();
    } else if (name == "END") {
      REQUIRE_FALSE(open.empty());
      CHECK(open.back() == value);
      open.pop_back();
      if (value == "VEVENT")
        for (const char* must_have : {"UID", "DTSTAMP", "DTSTART", "SUMMARY"}) CHECK(seen.count(must_have) == 1);
    } else if (open.size() == 2) {
      seen.insert(name);
    }
  }
  CHECK(open.empty());
  REQUIRE(lines.size() > 3);
  CHECK(lines.front() == "BEGIN:VCALENDAR");
}

std::vector<std::string> checked(const Calendar& c) {
  auto lines = lines_of(to_ics(c));
  check_shape(lines);
  return lines;
}

bool has(const std::vector<std::string>& lines, const std::string& line) { return std::find(lines.begin(), lines.end(), line) != lines.end(); }

Calendar one(std::string summary, std::string description = "") {
  return {at("2027-03-05 18:00"), "", {{.uid = "1@curdwright.invalid", .summary = std::move(summary), .description = std::move(description), .start = {}, .length = minutes(10)}}};
}

std::string summary_of(std::string text) {
  for (const std::string& line : checked(one(std::move(text))))
    if (line.rfind("SUMMARY:", 0) == 0) return line.substr(8);
  return "none";
}

/// 2027-03-05 17:00 UTC, which is 18:00 in Berlin.
constexpr std::chrono::sys_seconds five_utc = std::chrono::sys_days(std::chrono::year(2027) / std::chrono::March / 5) + std::chrono::hours(17);

Calendar sample(std::variant<std::chrono::sys_seconds, LocalTime> start) {
  const auto id = [](const char* step) { return event_uid("sample", "2027-03-05 18:00", step); };
  return {start,
          "Chickpea; two pots, \\ and käse",
          {{.uid = id("soak"), .summary = "Soak", .description = "450 g of seed, 1.35 l of water.\nIn the fridge; covered.", .start = {}, .length = hours(16), .alarm = false, .waiting = true},
           {.uid = id("blend"), .summary = "Drain and blend: jarful 1 of 2, then strain through a cloth and rub the pulp — 豆乳", .description = "", .start = hours(16), .length = minutes(25), .alarm = true},
           {.uid = id("ready"), .summary = "Ready", .description = "", .start = hours(30), .length = {}, .alarm = true}}};
}

}  // namespace

TEST_CASE("a calendar without a zone floats; one with an instant is in UTC") {
  const auto floating = checked(sample(at("2027-03-05 18:00")));
  CHECK(has(floating, "DTSTART:20270305T180000"));
  CHECK(has(floating, "DTEND:20270306T100000"));
  CHECK(std::count(floating.begin(), floating.end(), "DTSTAMP:20270305T180000Z") == 3);
  CHECK(has(floating, "VERSION:2.0"));
  CHECK(has(floating, "TRANSP:TRANSPARENT"));
  CHECK(std::count(floating.begin(), floating.end(), "BEGIN:VALARM") == 2);
  CHECK(std::count(floating.begin(), floating.end(), "TRIGGER:-PT5M") == 2);
  CHECK(std::count_if(floating.begin(), floating.end(), [](const std::string& l) { return l.rfind("DTEND", 0) == 0; }) == 2);  // ready is a moment

  const auto utc = checked(sample(five_utc));
  CHECK(has(utc, "DTSTART:20270305T170000Z"));
  CHECK(has(utc, "DTEND:20270306T090000Z"));
  CHECK(std::count(utc.begin(), utc.end(), "DTSTAMP:20270305T170000Z") == 3);
}

TEST_CASE("the same input gives the same bytes: the sample that is stored for another reader") {
  CHECK(to_ics(sample(at("2027-03-05 18:00"))) == test::from_source("tests/npm/calendars/floating.ics"));
  CHECK(to_ics(sample(five_utc)) == test::from_source("tests/npm/calendars/utc.ics"));
}

TEST_CASE("what has a meaning in the format is escaped, and control characters are left out") {
  CHECK(summary_of("a,b;c\\d") == "a\\,b\\;c\\\\d");
  CHECK(summary_of("one\ntwo\r\nthree\rfour") == "one\\ntwo\\nthree\\nfour");
  CHECK(summary_of(std::string("a\0b\x07\x1B[31m\x7F" "c", 11)) == "ab[31mc");
  CHECK(summary_of("tab\there") == "tab here");
  CHECK(summary_of("nel\xC2\x85" "csi\xC2\x9B" "end\xC2\xA0") == "nelcsiend\xC2\xA0");
  CHECK(summary_of("END:VEVENT\r\nBEGIN:VEVENT") == "END:VEVENT\\nBEGIN:VEVENT");
  CHECK(summary_of("\xFF" "a\xC3") == "\xEF\xBF\xBD" "a\xEF\xBF\xBD");
  CHECK(summary_of("\xED\xA0\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");  // half of a surrogate pair
  CHECK(summary_of("\xF0\x9F\xAB\x98") == "\xF0\x9F\xAB\x98");                  // a bean, outside the basic plane
  CHECK(summary_of("") == "");
}

TEST_CASE("a long text is folded at 75 octets and unfolds to itself, whatever its characters") {
  std::mt19937 random(20270305);
  const std::vector<std::string> letters = {"a", "é", "豆", "🫘", " ", ",", "\\", "\n"};
  for (int i = 0; i < 300; ++i) {
    std::string text, expected;
    for (int n = std::uniform_int_distribution(0, 200)(random); n > 0; --n) {
      const std::string& c = letters[std::uniform_int_distribution<std::size_t>(0, letters.size() - 1)(random)];
      text += c;
      expected += c == "\n" ? "\\n" : c == "," || c == "\\" ? "\\" + c : c;
    }
    REQUIRE(summary_of(text) == expected);
  }
  const std::string ics = to_ics(one(std::string(67, 'x')));
  CHECK(ics.find("SUMMARY:" + std::string(67, 'x') + "\r\n") != std::string::npos);  // 75 octets to the letter: no fold
  CHECK(to_ics(one(std::string(68, 'x'))).find("SUMMARY:" + std::string(67, 'x') + "\r\n x\r\n") != std::string::npos);
}

TEST_CASE("steps without a gap stay without one when rounded to the minute") {
  Calendar c{at("2027-03-05 18:00"), "", {}};
  Duration from{};
  for (int i = 0; i < 20; ++i) {
    c.events.push_back({.uid = std::to_string(i), .summary = "step", .description = "", .start = from, .length = seconds(97.3)});
    from += seconds(97.3);
  }
  std::string before;
  for (const std::string& line : checked(c)) {
    if (line.rfind("DTSTART:", 0) == 0 && !before.empty()) CHECK(line.substr(8) == before);
    if (line.rfind("DTEND:", 0) == 0) before = line.substr(6);
  }
  CHECK(before == "20270305T183200");
}
