// SPDX-License-Identifier: MIT
// The sheets of the example recipes as they were last approved. Text is compared to the letter; JSON by key order, words
// and numbers, since the last digit of a logarithm differs between processors. rewrite.sh approves what is printed now.
#include <cmath>
#include <set>

#include "cli/run_program.hpp"
#include "json/document.hpp"

using namespace curdwright::test;
using curdwright::json::Node;

namespace {

constexpr double relative = 1e-6, absolute = 1e-9;

const std::string source = CURDWRIGHT_SOURCE_DIR, folder = source + "/tests/golden/";

struct Golden {
  int status = 0;
  std::string name, arguments;
  [[nodiscard]] bool is_json() const { return fs::path(name).extension() == ".json"; }
};

std::vector<Golden> all_golden() {
  std::vector<Golden> all;
  std::istringstream in(read_file(folder + "sheets.list"));
  std::string line;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    Golden g;
    std::istringstream words(line);
    words >> g.status >> g.name >> std::ws;
    std::getline(words, g.arguments);
    all.push_back(std::move(g));
  }
  return all;
}

bool near(double a, double b) { return std::abs(a - b) <= relative * std::max(std::abs(a), std::abs(b)) + absolute; }

std::string plain(const Node& n) { return std::string(curdwright::json::word(n.kind)) + (n.text.empty() ? "" : " " + n.text); }

void compare(const Node& due, const Node& got, const std::string& at, std::vector<std::string>& out) {
  const auto differ = [&](const std::string& due_words, const std::string& got_words) { out.push_back(at + ": due " + due_words + ", got " + got_words); };
  if (due.kind != got.kind) return differ(plain(due), plain(got));
  switch (due.kind) {
    case Node::Kind::null: return;
    case Node::Kind::boolean:
      if (due.boolean != got.boolean) differ(due.boolean ? "true" : "false", got.boolean ? "true" : "false");
      return;
    case Node::Kind::number:
      if (due.whole != got.whole || !near(due.number, got.number)) differ(due.text, got.text);
      return;
    case Node::Kind::string:
      if (due.text != got.text) differ('"' + due.text + '"', '"' + got.text + '"');
      return;
    case Node::Kind::array:
      if (due.items.size() != got.items.size()) return differ(std::to_string(due.items.size()) + " entries", std::to_string(got.items.size()));
      for (std::size_t i = 0; i < due.items.size(); ++i)
        compare(due.items[i], got.items[i], at + "/" + std::to_string(i), out);
      return;
    case Node::Kind::object: {
      std::string due_keys, got_keys;
      for (const auto& m : due.members)
        due_keys += m.key + " ";
      for (const auto& m : got.members)
        got_keys += m.key + " ";
      if (due_keys != got_keys) return differ("keys " + due_keys, "keys " + got_keys);
      for (std::size_t i = 0; i < due.members.size(); ++i)
        compare(due.members[i].value, got.members[i].value, at + "/" + due.members[i].key, out);
      return;
    }
  }
}

/// The first differences of two JSON texts, a line each; empty when there are none.
std::string json_differences(const std::string& due, const std::string& got) {
  const auto a = curdwright::json::parse(due, "golden"), b = curdwright::json::parse(got, "printed");
  if (!a) return "the golden file is no JSON: " + shown(a.error());
  if (!b) return "what is printed is no JSON: " + shown(b.error()) + got;
  std::vector<std::string> list;
  compare(a->root, b->root, "", list);
  std::string all;
  for (std::size_t i = 0; i < list.size() && i < 40; ++i)
    all += list[i] + "\n";
  if (list.size() > 40) all += "and " + std::to_string(list.size() - 40) + " more\n";
  return all;
}

}  // namespace

TEST_CASE("the golden sheets are what the program prints") {
  const Sandbox box;
  box.give("examples", "examples");
  fs::create_directories(box.work() / "tests/cli");
  box.give("tests/cli/files", "tests/cli/files");
  for (const Golden& g : all_golden()) {
    INFO(g.name << ": curdwright " << g.arguments << "\nIf the change is meant: bash tests/golden/rewrite.sh");
    const Outcome o = box.run("curdwright " + g.arguments);
    CHECK(o.status == g.status);
    CHECK(o.err == "");
    REQUIRE(fs::exists(folder + g.name));
    const std::string due = read_file(folder + g.name);
    if (g.is_json()) {
      CHECK(json_differences(due, o.out) == "");
    } else if (due != o.out) {
      INFO("--- due:\n" << due << "--- got:\n" << o.out);
      CHECK(false);
    }
  }
}

TEST_CASE("every example recipe has a golden text and a golden JSON sheet") {
  std::set<std::string> names;
  for (const Golden& g : all_golden())
    CHECK(names.insert(g.name).second);
  std::size_t recipes = 0;
  for (const auto& e : fs::directory_iterator(source + "/examples/recipes")) {
    const std::string stem = e.path().stem().string();
    INFO(stem << " is missing from tests/golden/sheets.list");
    CHECK(names.count(stem + ".txt") == 1);
    CHECK(names.count(stem + ".json") == 1);
    ++recipes;
  }
  CHECK(recipes >= 8);
}

TEST_CASE("no golden sheet lies about unused") {
  std::set<std::string> names;
  for (const Golden& g : all_golden())
    names.insert(g.name);
  for (const auto& e : fs::directory_iterator(folder)) {
    const std::string name = e.path().filename().string(), ending = e.path().extension().string();
    if (ending != ".txt" && ending != ".json") continue;
    INFO(name);
    CHECK(names.count(name) == 1);
  }
}

TEST_CASE("a difference between JSON sheets is found") {
  const std::string due = R"({"a": 1.0, "b": ["x", true], "c": 3})";
  CHECK(json_differences(due, due) == "");
  CHECK(json_differences(due, R"({"a": 1.0000005, "b": ["x", true], "c": 3})") == "");
  CHECK(json_differences(due, R"({"a": 1.00001, "b": ["x", true], "c": 3})") == "/a: due 1.0, got 1.00001\n");
  CHECK(json_differences(due, R"({"a": 1.0, "b": ["y", true], "c": 3})") == "/b/0: due \"x\", got \"y\"\n");
  CHECK(json_differences(due, R"({"a": 1.0, "b": ["x", false], "c": 3})") == "/b/1: due true, got false\n");
  CHECK(json_differences(due, R"({"a": 1.0, "b": ["x"], "c": 3})") == "/b: due 2 entries, got 1\n");
  CHECK(json_differences(due, R"({"b": ["x", true], "a": 1.0, "c": 3})") == ": due keys a b c , got keys b a c \n");
  CHECK(json_differences(due, R"({"a": "1.0", "b": ["x", true], "c": 3})") == "/a: due a number 1.0, got a text 1.0\n");
  CHECK(json_differences(due, R"({"a": 1.0, "b": ["x", true], "c": 3.0})") == "/c: due 3, got 3.0\n");
  CHECK(json_differences(due, "{").find("what is printed is no JSON") == 0);
}
