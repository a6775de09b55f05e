// SPDX-License-Identifier: MIT
// What a script can rely on: one document on standard output, keys that tell their unit, nine digits, no null.
#include <regex>
#include <set>

#include "cli/run_program.hpp"
#include "json/document.hpp"

using namespace curdwright::test;
using curdwright::json::Document;
using curdwright::json::Member;
using curdwright::json::Node;

namespace {

/// The one document of a text, which ends with a line break and holds nothing else.
Document document_of(const std::string& text) {
  REQUIRE_FALSE(text.empty());
  CHECK(text.back() == '\n');
  return must(curdwright::json::parse(text, "standard output"));
}

struct Output {
  std::string command, schema;
};

const std::vector<Output> outputs = {
    {"sheet soy.json --format json", "curdwright.sheet/1"},
    {"sheet soy.json --units us --format json", "curdwright.sheet/1"},
    {"sheet soy.json --kitchen kitchens/canteen.json --format=json", "curdwright.sheet/1"},
    {"sheet kidney-short.json --format json", "curdwright.sheet/1"},
    {"check soy.json kidney-short.json three-faults.json nope.json --format json", "curdwright.check/1"},
    {"explain soy.json curd_mass_g --format json", "curdwright.explain/1"},
    {"list legumes --format json", "curdwright.list/1"},
    {"list coagulants --format json", "curdwright.list/1"},
    {"list blenders --format json", "curdwright.list/1"},
    {"list strainers --format json", "curdwright.list/1"},
    {"list presses --format json", "curdwright.list/1"},
    {"list rules --format json", "curdwright.list/1"},
    {"list legumes --refused --format json", "curdwright.list/1"},
    {"list coagulants --refused --format json", "curdwright.list/1"},
    {"show legume soybean --format json", "curdwright.show-legume/1"},
    {"show coagulant gdl --format json", "curdwright.show-coagulant/1"},
    {"show kitchen --format json", "curdwright.show-kitchen/1"},
    {"new recipe", "curdwright.recipe/1"},
    {"new kitchen", "curdwright.kitchen/1"},
};

/// Visits every value below a node with the key that it stands under; the two ends of a range go by the range's key.
void visit(const Node& n, const std::string& key, const std::function<void(const std::string&, const Node&)>& with) {
  with(key, n);
  for (const Node& i : n.items)
    visit(i, key, with);
  for (const Member& m : n.members)
    visit(m.value, m.key == "low" || m.key == "high" ? key : m.key, with);
}

std::size_t significant_digits(std::string number) {
  number = std::regex_replace(number, std::regex("[eE].*|[-.]"), "");
  const auto first = number.find_first_not_of('0');
  const auto last = number.find_last_not_of('0');
  return first == std::string::npos ? 0 : last - first + 1;
}

class Kitchen {
 public:
  Kitchen() {
    box_.give("tests/cli/files", ".");
    box_.give("examples/recipes", "recipes");
    box_.give("examples/kitchens", "kitchens");
  }
  [[nodiscard]] Outcome run(const std::string& command) const { return box_.run("curdwright " + command); }

 private:
  Sandbox box_;
};

std::vector<std::string> example_recipes() {
  std::vector<std::string> all;
  for (const auto& e : fs::directory_iterator(std::string(CURDWRIGHT_SOURCE_DIR) + "/examples/recipes"))
    all.push_back("recipes/" + e.path().filename().string());
  REQUIRE(all.size() >= 8);
  return all;
}

}  // namespace

TEST_CASE("every JSON answer is one document that names its schema first, the same bytes each time") {
  const Kitchen k;
  for (const Output& o : outputs) {
    INFO(o.command);
    const Outcome got = k.run(o.command);
    const Document d = document_of(got.out);
    REQUIRE(d.root.kind == Node::Kind::object);
    REQUIRE_FALSE(d.root.members.empty());
    CHECK(d.root.members[0].key == "schema");
    CHECK(d.root.members[0].value.text == o.schema);
    CHECK(got.err.empty());
    CHECK(k.run(o.command).out == got.out);
  }
}

TEST_CASE("absent means absent: no JSON answer holds null, and no number that is not one") {
  const Kitchen k;
  for (const Output& o : outputs) {
    INFO(o.command);
    visit(document_of(k.run(o.command).out).root, "", [](const std::string& key, const Node& n) {
      INFO(key << " " << n.text);
      CHECK(n.kind != Node::Kind::null);
    });
  }
}

TEST_CASE("every problem told as JSON is one document on standard error, and standard output stays empty") {
  const Kitchen k;
  const std::vector<std::pair<std::string, int>> wrong = {{"sheet three-faults.json --kitchen kitchen-faults.json", 2},
                                                          {"sheet nope.json", 3},
                                                          {"sheet soy.json --kitchen nope.json", 3},
                                                          {"sheet soy.json --kitchen small-hob.json", 1},
                                                          {"sheet soy.json --data broken", 2},
                                                          {"sheet soy.json --set /soak/time=12 --set /legume", 2},
                                                          {"sheet soy.json --width 5", 2},
                                                          {"show legume soybeen", 2},
                                                          {"list nothing", 2}};
  for (const auto& [command, status] : wrong) {
    INFO(command);
    const Outcome got = k.run(command + " --format json");
    CHECK(got.status == status);
    CHECK(got.out.empty());
    const Document d = document_of(got.err);
    CHECK(d.root.find("schema")->text == "curdwright.problems/1");
    const Node* problems = d.root.find("problems");
    REQUIRE(problems);
    REQUIRE_FALSE(problems->items.empty());
    for (const Node& p : problems->items) {
      CHECK(p.find("code"));
      CHECK(p.find("what"));
    }
  }
}

TEST_CASE("every number of a sheet tells its unit or kind in its key") {
  // The endings that design and reference allow; a new one is added there first.
  static const std::regex ending("(_g|_ml|_c|_s|_kpa|_mm|_mg|_kcal|_kj|_kwh|_money|_w|_log10|_fraction|_count|_number|_days|_points|_per_l|_per_block)$");
  const Kitchen k;
  for (const std::string& recipe : example_recipes()) {
    const Outcome got = k.run("sheet " + recipe + " --format json");
    INFO(recipe);
    REQUIRE(got.status == 0);
    std::set<std::string> without;
    visit(document_of(got.out).root, "", [&](const std::string& key, const Node& n) {
      if (n.kind == Node::Kind::number && !std::regex_search(key, ending)) without.insert(key);
    });
    std::string all;
    for (const std::string& w : without)
      all += w + " ";
    CHECK(all == "");
  }
}

// Awaits src/sheets/json.cpp (number): round(v * scale) / scale is not always the double nearest to the nine digits.
TEST_CASE("no number of a sheet has more than nine significant digits", "") {
  const Kitchen k;
  std::size_t seen = 0;
  std::string longer;
  for (const std::string& recipe : example_recipes())
    visit(document_of(k.run("sheet " + recipe + " --format json").out).root, "", [&](const std::string& key, const Node& n) {
      if (n.kind != Node::Kind::number) return;
      ++seen;
      if (significant_digits(n.text) > 9) longer += recipe + " " + key + " " + n.text + "\n";
    });
  CHECK(seen > 2000);
  CHECK(longer == "");
}

TEST_CASE("what leaves a stage enters the next, and each stage has the keys that were promised") {
  const Kitchen k;
  for (const std::string& recipe : example_recipes()) {
    INFO(recipe);
    const Document d = document_of(k.run("sheet " + recipe + " --format json").out);
    for (const char* key : {"title", "versions", "batch", "stages", "expect", "cautions", "balance"}) {
      INFO(key);
      CHECK(d.root.find(key));
    }
    const Node* before = nullptr;
    for (const Node& stage : d.root.find("stages")->items) {
      for (const char* key : {"stage", "in", "out", "aside", "settings", "figures", "cautions"}) {
        INFO(key);
        REQUIRE(stage.find(key));
      }
      INFO(stage.find("stage")->text);
      if (before)
        for (const Member& m : before->members) {
          INFO(m.key);
          const Node* same = stage.find("in")->find(m.key);
          REQUIRE(same);
          REQUIRE(same->members.size() == m.value.members.size());
          for (std::size_t i = 0; i < m.value.members.size(); ++i)
            CHECK(same->members[i].value.text == m.value.members[i].value.text);
        }
      before = stage.find("out");
    }
    for (const char* key : {"curd_mass_g", "blocks_count", "whole_blocks_count", "block_mass_g", "end_piece_mass_g", "soaked_mass_g", "pulp_mass_g",
                            "milk_mass_g", "whey_mass_g", "per_100g", "per_block"}) {
      INFO(key);
      CHECK(d.root.find("expect")->find(key));
    }
  }
}

TEST_CASE("each schema parses, and closes the objects that it describes") {
  const Kitchen k;
  for (const std::string what : {"recipe", "kitchen", "sheet", "legume"}) {
    INFO(what);
    const Outcome got = k.run("schema " + what);
    CHECK(got.status == 0);
    const Document d = document_of(got.out);
    for (const char* key : {"$schema", "$id", "title", "type", "properties", "additionalProperties"}) {
      INFO(key);
      CHECK(d.root.find(key));
    }
    std::size_t objects = 0, closed = 0;
    visit(d.root, "", [&](const std::string& key, const Node& n) {
      if (key == "properties" || !n.find("properties") || n.find("properties")->kind != Node::Kind::object) return;
      ++objects;
      closed += n.find("additionalProperties") ? 1 : 0;
    });
    CHECK(objects > 1);
    if (what == "recipe" || what == "kitchen") CHECK(closed == objects);
  }
}
