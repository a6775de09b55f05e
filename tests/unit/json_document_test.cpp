// SPDX-License-Identifier: MIT
#include "json/document.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "support/support.hpp"
#include "unit/show_problem.hpp"

using namespace curdwright;
using curdwright::test::must;
using json::Node;

namespace {

Problem refusal(std::string text) {
  const auto r = json::parse(std::move(text), "file.json");
  if (r) FAIL("the text was accepted");
  REQUIRE(r.error().size() == 1);
  return r.error()[0];
}

/// The character of the excerpt that the caret points at, in bytes of UTF-8.
std::string under_caret(const Place& p) {
  std::size_t byte = 0;
  for (int passed = 1; passed < p.caret; ++passed) {
    ++byte;
    while (byte < p.excerpt.size() && (static_cast<unsigned char>(p.excerpt[byte]) & 0xC0U) == 0x80U) ++byte;
  }
  std::size_t end = byte + 1;
  while (end < p.excerpt.size() && (static_cast<unsigned char>(p.excerpt[end]) & 0xC0U) == 0x80U) ++end;
  return byte < p.excerpt.size() ? p.excerpt.substr(byte, end - byte) : "";
}

const std::string fix_syntax = "look just before the mark for a missing or extra comma, quote or bracket; JSON has no comments";

}  // namespace

TEST_CASE("a text becomes a tree with its values") {
  const json::Document d = must(json::parse(R"({"a": [1, -2.5e1, "x"], "b": {"c": true, "d": null, "e": false}})", "f"));
  REQUIRE(d.root.kind == Node::Kind::object);
  const Node& a = *d.root.find("a");
  REQUIRE(a.items.size() == 3);
  CHECK(a.items[0].number == 1);
  CHECK(a.items[0].whole);
  CHECK(a.items[1].number == -25);
  CHECK_FALSE(a.items[1].whole);
  CHECK(a.items[1].text == "-2.5e1");
  CHECK(a.items[2].text == "x");
  CHECK(d.root.find("b")->find("c")->boolean);
  CHECK_FALSE(d.root.find("b")->find("e")->boolean);
  CHECK(d.root.find("b")->find("d")->kind == Node::Kind::null);
  CHECK(d.root.find("z") == nullptr);
}

TEST_CASE("escapes in keys and texts are resolved") {
  const json::Document d = must(json::parse(R"({"a\"b": "x\\\"yé\n", "next": 7})", "f"));
  CHECK(d.root.find("a\"b")->text == "x\\\"y\xC3\xA9\n");
  CHECK(d.place(*d.root.find("next"), "").column == 31);
}

TEST_CASE("every node knows its line and column, counted in characters") {
  const std::string text = "{\n  \"städte\": { \"größe\": 5 },\n  \"豆腐\": [\"豆\", 42]\n}\n";
  const json::Document d = must(json::parse(text, "towns.json"));
  const Place size = d.place(*d.root.find("städte")->find("größe"), "/städte/größe");
  CHECK(size.file == "towns.json");
  CHECK(size.line == 2);
  CHECK(size.column == 24);
  CHECK(size.pointer == "/städte/größe");
  CHECK(size.excerpt == "  \"städte\": { \"größe\": 5 },");
  CHECK(under_caret(size) == "5");
  const Place number = d.place(d.root.find("豆腐")->items[1], "");
  CHECK(number.line == 3);
  CHECK(number.column == 15);
  CHECK(under_caret(number) == "4");
}

TEST_CASE("a byte order mark and Windows line ends do not move the place") {
  const json::Document d = must(json::parse("\xEF\xBB\xBF{\r\n\t\"a\": 1\r\n}", "f"));
  const Place p = d.place(*d.root.find("a"), "/a");
  CHECK(p.line == 2);
  CHECK(p.column == 7);
  CHECK(p.excerpt == " \"a\": 1");  // the tab is made plain, the carriage return cut
  CHECK(under_caret(p) == "1");
}

TEST_CASE("a line that fits is shown whole, wherever the caret stands") {
  const std::string text = R"({"legume": "soybean", "soak": {"skins_off": "yes"}})";
  const json::Document d = must(json::parse(text, "f"));
  const Place p = d.place(*d.root.find("soak")->find("skins_off"), "");
  CHECK(p.excerpt == text);
  CHECK(under_caret(p) == "\"");
}

TEST_CASE("a long line is cut about the caret on whole characters") {
  const std::string filling(300, 'x');
  const json::Document d = must(json::parse("{\"é" + filling + "é\": 5, \"b\": \"" + filling + "\"}", "f"));
  const Place p = d.place(d.root.members[0].value, "");
  CHECK(p.column == 308);
  CHECK(p.excerpt.size() <= 80);
  CHECK(under_caret(p) == "5");
  CHECK((static_cast<unsigned char>(p.excerpt.front()) & 0xC0U) != 0x80U);
  const Place after = d.place(d.root.members[1].value, "");
  CHECK(under_caret(after) == "\"");
}

TEST_CASE("a node set by an option names the option instead of a line") {
  json::Document d = must(json::parse(R"({"a": 1})", "f"));
  d.root.members[0].value.origin = "--set /a=1";
  CHECK(d.place(d.root.members[0].value, "/a") == Place{"--set /a=1", 0, 0, "/a", "", 0});
}

TEST_CASE("a repeated key is refused where it stands the second time") {
  const Problem p = refusal("{\n \"a\": {\"b\": [1, {\"c\": 1, \"c\": 2}]}\n}");
  CHECK(p.code == "key-repeated");
  CHECK(p.place.pointer == "/a/b/1/c");
  CHECK(p.place.line == 2);
  CHECK(under_caret(p.place) == "\"");
  CHECK(p.place.column == 26);
  CHECK(p.what == "the key \"c\" stands twice");
  CHECK(refusal(R"({"é":1,"é":2})").place.column == 8);
  CHECK(refusal(R"({"a/b~":1,"a\/b~":2})").place.pointer == "/a~1b~0");
  CHECK(json::parse(R"([{"a":1},{"a":2}])", "f").has_value());
}

TEST_CASE("syntax faults say where, what was due, and what to look for") {
  const auto syntax = [](int line, int column, std::string excerpt, std::string what, std::string why, std::string fix) {
    return Problem{"json-syntax", {"file.json", line, column, "", std::move(excerpt), column}, std::move(what), std::move(why), std::move(fix)};
  };
  CHECK(refusal("") == syntax(1, 1, "", "the file is empty", "", "start from one that `curdwright new recipe` writes"));
  CHECK(refusal(R"({"a" 1})") == syntax(1, 6, R"({"a" 1})", "this is not JSON from here on", "after a key a colon is due", fix_syntax));
  CHECK(refusal(R"({"a":1,})") == syntax(1, 8, R"({"a":1,})", "this is not JSON from here on", "after { or , a key in double quotes is due", fix_syntax));
  CHECK(refusal("{\n \"a\": 1\n \"b\": 2}").place.line == 3);
  CHECK(refusal("{\n \"a\": 1\n \"b\": 2}").why == "after a value a comma or } is due");
  CHECK(refusal(R"(["a" "b"])").why == "after a value a comma or ] is due");
  CHECK(refusal(R"({'a':1})").why == "after { or , a key in double quotes is due");
  CHECK(refusal("// comment\n{}").place.column == 1);
  CHECK(refusal("{} x").place.column == 4);
  CHECK(refusal(R"({"a": NaN})").place.column == 7);
  CHECK(refusal(R"({"a": 01})").code == "json-syntax");
}

TEST_CASE("the mark of a syntax fault stands where the part begins that could not be taken") {
  CHECK(refusal(R"({"a":1 "bcd":2})").place.column == 8);
  CHECK(refusal(R"(["a"  "bcd"])").place.column == 7);
  CHECK(refusal(R"({"a": nul})").place.column == 7);
  CHECK(refusal(R"({"a": 1e999})").place.column == 7);
  CHECK(refusal(R"({"a":1,,"b":2})").place.column == 8);
  CHECK(refusal("{\"a\": \"x\ny\"}").place.line == 1);
}

TEST_CASE("what is no file is not called one") {
  for (const char* text : {"", "{", "{\"a\":\"\xff\"}"}) {
    const auto r = json::parse(text, "", "value");
    REQUIRE_FALSE(r.has_value());
    INFO(curdwright::test::shown(r.error()));
    CHECK(r.error()[0].what.find("file") == std::string::npos);
    CHECK(r.error()[0].fix.find("file") == std::string::npos);
  }
}

TEST_CASE("problems are put into the order of each file, and files stay as they came") {
  const auto at = [](const char* file, int line, int column) { return Problem{"x", {file, line, column, "", "", 0}, "", "", ""}; };
  Problems p = {at("b", 2, 1), at("a", 9, 9), at("b", 1, 5), at("", 0, 0), at("b", 1, 2), at("a", 1, 1)};
  json::in_file_order(p);
  CHECK(p == Problems{at("b", 1, 2), at("b", 1, 5), at("b", 2, 1), at("a", 1, 1), at("a", 9, 9), at("", 0, 0)});
}

TEST_CASE("the index of a list has no leading zeros, by RFC 6901") {
  CHECK(json::list_index("0") == 0U);
  CHECK(json::list_index("10") == 10U);
  for (const char* none : {"", "00", "01", "007", "-", "-1", "+1", "1x", "1.0", " 1", "99999999999999999999999"}) {
    INFO(none);
    CHECK_FALSE(json::list_index(none).has_value());
  }
  const json::Document d = must(json::parse(R"({"a": [5, {"01": 6}]})", "f"));
  REQUIRE(json::node_at(d, "/a/1/01") != nullptr);
  CHECK(json::node_at(d, "/a/1/01")->number == 6);  // a key, not an index
  for (const char* none : {"/a/00", "/a/01", "/a/2", "/a/-", "/b", "a"}) {
    INFO(none);
    CHECK(json::node_at(d, none) == nullptr);
  }
}

TEST_CASE("a file that ends too early says what to close") {
  for (const char* text : {"{", R"({"a": )", R"({"a": [1, 2)", R"({"a": "b)"}) {
    INFO(text);
    const Problem p = refusal(text);
    CHECK(p.what == "the file ends too early");
    CHECK(p.fix == "close what is open: a quote, a brace } or a bracket ]");
  }
}

TEST_CASE("a raw line break in a text and bytes that are not UTF-8 are refused in words") {
  CHECK(refusal("{\"a\": \"x\ny\"}").what == "this text is not closed or holds a character that must be escaped");
  CHECK(refusal("{\"a\": \"\xff\"}").what == "a byte here is not UTF-8");
  CHECK(refusal(R"({"a": "\ud800"})").code == "json-syntax");
}

TEST_CASE("a number beyond any computer is called that") {
  CHECK(refusal(R"({"a": 1e999})").what == "this number is too large for any computer");
}

TEST_CASE("limits of size, depth, keys and values are refused with the limit") {
  const std::string fits = "\"" + std::string(json::max_bytes - 2, 'x') + "\"";
  CHECK(json::parse(fits, "f").has_value());
  const Problem large = refusal(fits + " ");
  CHECK(large.code == "file-too-large");
  CHECK(large.what == "the file has more than 1048576 bytes");
  CHECK(large.why == "at most 1048576 bytes (1 MiB) are read");

  const auto nested = [](std::size_t levels) { return std::string(levels, '[') + std::string(levels, ']'); };
  CHECK(json::parse(nested(json::max_depth), "f").has_value());
  CHECK(refusal(nested(json::max_depth + 1)).what == "more than 32 levels of brackets");
  CHECK(refusal(std::string(500'000, '[')).code == "too-deep");

  const auto keys = [](std::size_t n) {
    std::string text = "{";
    for (std::size_t i = 0; i < n; ++i) text += (i ? ",\"" : "\"") + std::to_string(i) + "\":0";
    return text + "}";
  };
  CHECK(json::parse(keys(json::max_keys), "f").has_value());
  CHECK(refusal(keys(json::max_keys + 1)).what == "more than 1024 keys in one object");

  std::string values = "[0";
  for (std::size_t i = 0; i + 2 < json::max_values; ++i) values += ",0";
  CHECK(json::parse(values + "]", "f").has_value());
  CHECK(refusal(values + ",0]").what == "more than 50000 values");
}

TEST_CASE("JSON pointers are split and escaped by RFC 6901") {
  CHECK(json::pointer_step("a/b~c") == "/a~1b~0c");
  CHECK(must(json::split_pointer("/a~1b~0c/0/-")) == std::vector<std::string>{"a/b~c", "0", "-"});
  CHECK(must(json::split_pointer("")).empty());
  CHECK(must(json::split_pointer("/")) == std::vector<std::string>{""});
  CHECK(must(json::split_pointer("/~01")) == std::vector<std::string>{"~1"});
  for (const char* bad : {"soak", "/a~2", "/a~", "soak/time"}) {
    INFO(bad);
    const auto r = json::split_pointer(bad);
    REQUIRE_FALSE(r.has_value());
    CHECK(r.error()[0].code == "pointer-unreadable");
  }
  CHECK(json::split_pointer("/" + std::string(255, 'a')).has_value());
  CHECK_FALSE(json::split_pointer("/" + std::string(256, 'a')).has_value());
}
