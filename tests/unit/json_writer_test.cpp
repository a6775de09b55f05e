// SPDX-License-Identifier: MIT
// The writer prints what the JSON library prints.
#include "sheets/json_writer.hpp"

#include <bit>
#include <cmath>
#include <limits>
#include <random>

#include "laws/law.hpp"
#include "sheets/json_values.hpp"
#include "support/support.hpp"

using namespace curdwright;
using curdwright::test::law;
using Json = nlohmann::ordered_json;

namespace {

std::string written(const auto& v) {
  JsonWriter w(Layout::line);
  w.item(v);
  return std::move(w).text();
}

void check_text(const std::string& s) {
  INFO(s);
  CHECK(written(s) == printed(Json(s), Layout::line));
}

void check_number(double v) {
  INFO(v);
  CHECK(written(v) == printed(number(v), Layout::line));
  CHECK(written(-v) == printed(number(-v), Layout::line));
}

}  // namespace

TEST_CASE("texts are escaped as the library does it") {
  for (const char* s : {"", "plain", "\"quoted\"", "back\\slash", "a/b", "\b\t\n\f\r", "\x01\x1f\x7f", "2 \u00b5g at 20 \u00b0C", "\u8c46\u8150", "\U0001F331 sprout", "\uFFFD", "\u2028"}) check_text(s);
  check_text(std::string("zero\0byte", 9));
  for (int c = 0; c < 256; ++c) check_text(std::string("a") + static_cast<char>(c) + "b");
}

TEST_CASE("what is not UTF-8 is replaced, byte for byte as the library does it") {
  for (const char* s : {"\x80", "\xC0\xAF", "\xC3", "\xC3(", "\xE0\x80\x80", "\xE2\x82", "\xE2\x82(", "\xED\xA0\x80", "\xED\xBF\xBF", "\xF0\x8F\xBF\xBF", "\xF0\x9F\x8C", "\xF0\x9F\x8Cx", "\xF0\x9F(",
                        "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xFF\xFE", "\xE2\xE2\x82\xAC", "\xC3\xC3\xA9", "\xF0\xC3\xA9"})
    check_text(s);
  CHECK(written(std::string("\xE2\x82(")) == "\"\xEF\xBF\xBD(\"");
  law(2000, [] {
    const auto bytes = *rc::gen::arbitrary<std::vector<unsigned char>>();
    const std::string s(bytes.begin(), bytes.end());
    RC_ASSERT(written(s) == printed(Json(s), Layout::line));
  });
  // Bytes of which characters are made, so that many come close to being whole.
  law(5000, [] {
    const auto drawn = *rc::gen::arbitrary<std::vector<unsigned char>>();
    constexpr std::string_view near = "a\x7F\x80\x8F\x90\x9F\xA0\xBF\xC1\xC2\xDF\xE0\xE1\xED\xEF\xF0\xF1\xF4\xF5";
    std::string s;
    for (unsigned char c : drawn) s += near[c % near.size()];
    RC_ASSERT(written(s) == printed(Json(s), Layout::line));
  });
}

TEST_CASE("numbers have nine digits, in the library's form") {
  for (double v : {0.0, 1e-13, 1e-12, 9.99e-13, 1.0, 0.1, 0.5, 1131.0, 2246.74512, 0.0001, 0.00012, 0.00001, 1e-9, 0.00099999999999, 0.000123456789, 0.0012345678949, 12345678.95, 123456789.5, 123456788.5, 0.1234567895,
                   0.9999999995, 9.9999999951, 99999999.949999, 999999999.4, 999999999.6, 1e9, 1234567890.0, 12345678901.0, 123456789012.0, 1e14, 1e15, 1e16, 9.99999999999e15, 1e21, 1e22, 1e23, 1.5e300,
                   std::numeric_limits<double>::max(), std::numeric_limits<double>::min(), std::numeric_limits<double>::denorm_min(), 1.0 / 3, 2.0 / 3, 39600.0})
    check_number(v);
  CHECK(written(-0.0) == "0.0");
  CHECK(written(1131.0) == "1131.0");
  CHECK(written(std::numeric_limits<double>::infinity()) == "null");
  CHECK(written(-std::numeric_limits<double>::infinity()) == "null");
  CHECK(written(std::numeric_limits<double>::quiet_NaN()) == "null");
}

TEST_CASE("numbers of any size, and those close to a half of the last digit, are the library's") {
  std::mt19937_64 draw(20261124);
  for (int i = 0; i < 100'000; ++i) {
    const auto any = std::bit_cast<double>(draw());
    const double amount = static_cast<double>(draw() >> 11U) * std::pow(10.0, static_cast<double>(draw() % 30) - 28), nine = static_cast<double>(draw() % 1'000'000'000) * std::pow(10.0, static_cast<double>(draw() % 30) - 20);
    const double half = (static_cast<double>(draw() % 1'000'000'000) + 0.5) * std::pow(10.0, static_cast<double>(draw() % 20) - 14);
    for (const double v : {any, amount, nine, half})
      if (written(v) != printed(number(v), Layout::line)) FAIL(written(v) << " is not " << printed(number(v), Layout::line));
  }
  for (int power = -12; power < 18; ++power)
    for (int digit = 1; digit < 100; ++digit) check_number(digit * std::pow(10.0, power));
}

TEST_CASE("whole numbers are whole, to the last digit") {
  CHECK(written(0) == "0");
  CHECK(written(-7) == "-7");
  CHECK(written(std::numeric_limits<std::int64_t>::min()) == "-9223372036854775808");
  CHECK(written(std::numeric_limits<std::uint64_t>::max()) == "18446744073709551615");
  CHECK(written(true) == "true");
  CHECK(written(false) == "false");
}

TEST_CASE("objects and lists stand on a line or on a page as the library lays them out") {
  const Json same = {{"text", "a\"b"}, {"empty", Json::object()}, {"none", Json::array()}, {"list", {1, 2.5, "x", Json::array({Json::array()}), {{"in", true}}}}, {"words", {"a", "b"}}, {"last", {{"deep", {{"er", 0}}}}}};
  for (const Layout layout : {Layout::page, Layout::line}) {
    JsonWriter w(layout);
    w.object([&] {
      w.put("text", "a\"b");
      w.object("empty", [] {});
      w.list("none", [] {});
      w.list("list", [&] {
        w.item(1), w.item(2.5), w.item("x");
        w.list([&] { w.list([] {}); });
        w.object([&] { w.put("in", true); });
      });
      w.put("words", std::vector<std::string>{"a", "b"});
      w.object("last", [&] { w.object("deep", [&] { w.put("er", 0); }); });
    });
    CHECK(std::move(w).text() == printed(same, layout));
  }
}

TEST_CASE("a document may be longer than the room that it begins with") {
  const std::string long_text(200'000, 'x');
  CHECK(written(long_text) == printed(Json(long_text), Layout::line));
}
