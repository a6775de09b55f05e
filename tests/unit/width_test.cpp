// SPDX-License-Identifier: MIT
#include "text/width.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace curdwright;

TEST_CASE("UTF-8 is told from what is none, by RFC 3629") {
  for (const char* good : {"", "a", "é", "豆腐", "\xF0\x9F\x8C\xB1", "\xF4\x8F\xBF\xBF", "\x7f", "\xEF\xBF\xBD"}) {
    INFO(good);
    CHECK(text::is_utf8(good));
  }
  for (const char* bad : {"\xff", "\x80", "\xc3", "\xc3(", "\xc0\x80", "\xc1\xbf", "\xe0\x80\x80", "\xed\xa0\x80", "\xe2\x82", "\xf0\x80\x80\x80", "\xf4\x90\x80\x80", "\xf8\x88\x80\x80\x80"}) {
    INFO(text::harmless(bad));
    CHECK_FALSE(text::is_utf8(bad));
    CHECK_FALSE(text::is_utf8(std::string("豆") + bad + "é"));
    CHECK(text::is_utf8(text::harmless(bad)));
  }
}

TEST_CASE("a text is cut between characters, and says so") {
  CHECK(text::cut("soybean", 7) == "soybean");
  CHECK(text::cut("soybean", 3) == "soy...");
  CHECK(text::cut("é豆腐", 4) == "é...");
  CHECK(text::cut("豆", 1) == "...");
}

TEST_CASE("a JSON text keeps its meaning and loses what drives a terminal") {
  CHECK(text::harmless_json("{\n  \"a\": \"Küche 豆\"\n}") == "{\n  \"a\": \"Küche 豆\"\n}");
  CHECK(text::harmless_json("\"a\xC2\x9B" "31m\xE2\x80\xAE\x7F\"") == "\"a\\u009b31m\\u202e\\u007f\"");
  // Marks of direction, line separators, a tag beyond sixteen bits; what joins letters stays.
  CHECK(text::harmless("a\u061C\u200E\u200F\u2028\u2029\U000E0041b\u200D") == "a??????b\u200D");
  CHECK(text::harmless_json("\"\U000E0041\"") == "\"\\udb40\\udc41\"");
}
