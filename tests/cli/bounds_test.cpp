// SPDX-License-Identifier: MIT
// Every value that the schemas allow is answered: with a sheet or with a reason, never with a fault of the program, and
// never with the claim that it is out of range. The bounds are taken from the schemas, so a new key is tried at once.
#include <regex>
#include <set>

#include "cli/run_program.hpp"
#include "json/document.hpp"

using namespace curdwright::test;
using curdwright::json::Node;

namespace {

struct Leaf {
  std::string pointer;
  std::vector<std::string> values;  ///< both bounds, or all words
};

/// "..., a mass, 1 g to 50 kg" in a description.
std::vector<std::string> bounds_in_words(const std::string& about) {
  static const std::regex words("an? [a-z]+, ([-0-9.e+]+ ?\\S*) to ([-0-9.e+]+ ?\\S*)$");
  std::smatch m;
  if (!std::regex_search(about, m, words)) return {};
  return {m[1], m[2]};
}

void leaves_of(const Node& schema, const std::string& at, std::vector<Leaf>& out, std::set<std::string>& without) {
  if (const Node* ways = schema.find("oneOf")) {
    // A share may be a number or a text; of a legume the list: a name has no bounds.
    if (auto bounds = bounds_in_words(schema.find("description")->text); !bounds.empty()) out.push_back({at, std::move(bounds)});
    for (const Node& way : ways->items)
      if (way.find("minimum") || way.find("items")) leaves_of(way, at, out, without);
    return;
  }
  if (const Node* properties = schema.find("properties")) {
    for (const auto& m : properties->members)
      leaves_of(m.value, at + "/" + m.key, out, without);
  } else if (const Node* items = schema.find("items")) {
    leaves_of(*items, at + "/0", out, without);
  } else if (const Node* low = schema.find("minimum")) {
    out.push_back({at, {low->text, schema.find("maximum")->text}});
  } else if (const Node* words = schema.find("enum")) {
    out.push_back({at, {}});
    for (const Node& w : words->items)
      out.back().values.push_back(w.text);
  } else if (schema.find("type")->text == "boolean") {
    out.push_back({at, {"true", "false"}});
  } else if (auto bounds = bounds_in_words(schema.find("description") ? schema.find("description")->text : ""); !bounds.empty()) {
    out.push_back({at, std::move(bounds)});
  } else {
    without.insert(at);
  }
}

std::vector<Leaf> all_leaves(const Sandbox& box) {
  std::vector<Leaf> all;
  std::set<std::string> without;
  for (const auto& [what, at] : {std::pair{"recipe", ""}, std::pair{"kitchen", "/kitchen"}})
    leaves_of(must(curdwright::json::parse(box.run(std::string("curdwright schema ") + what).out, what)).root, at, all, without);
  // Free text, names of records, a currency and prices; anything else here is a quantity whose description lost its bounds.
  CHECK(without == std::set<std::string>{"/$schema", "/title", "/legume/0/id", "/strain/by", "/coagulate/with", "/chill/in", "/extras/0/what", "/kitchen/$schema",
                                         "/kitchen/name", "/kitchen/blender/class", "/kitchen/strainer", "/kitchen/pots/0/name", "/kitchen/hob/kind",
                                         "/kitchen/press", "/kitchen/tares", "/kitchen/time_zone", "/kitchen/currency", "/kitchen/prices",
                                         "/kitchen/learned/data", "/kitchen/learned/model", "/kitchen/learned/names/0"});
  return all;
}

/// What a value needs beside it to have a meaning.
std::string company(const std::string& pointer) {
  if (pointer.rfind("/legume/0", 0) == 0) return " --set /legume/0/id=chickpea-kabuli";
  if (pointer == "/strain/washes/0/blend") return " --set /strain/washes/0/water_to_dry=1";
  if (pointer == "/coagulate/strength" || pointer == "/coagulate/label_ion") return " --set /coagulate/with=nigari-liquid";
  if (pointer == "/extras/0/amount" || pointer == "/extras/0/to_dry") return " --set /extras/0/what=salt";
  if (pointer.rfind("/extras/0", 0) == 0) return " --set /extras/0/what=salt --set /extras/0/to_dry=0.01";
  return "";
}

void check_set(const Sandbox& box, const std::string& recipe, const std::string& pointer, const std::string& value, std::set<std::string>& wrong) {
  const std::string set = pointer + "=" + value;
  const std::string want = pointer.rfind("/want", 0) == 0 ? "" : " --blocks 2";
  const Outcome o = box.run("curdwright sheet " + recipe + " --format json" + want + company(pointer) + " --set '" + set + "'");
  if (o.too_slow)
    wrong.insert(set + ": too slow");
  else if (o.status < 0 || o.status > 2)
    wrong.insert(set + ": status " + std::to_string(o.status));
  else if (o.status == 2)
    wrong.insert(set + (o.err.find("\"out-of-range\"") != std::string::npos ? ": out of range" : ": refused"));
}

}  // namespace

TEST_CASE("every bound of every key is answered, and is within bounds") {
  const Sandbox box;
  box.give("tests/cli/files", ".");
  const std::vector<Leaf> leaves = all_leaves(box);
  CHECK(leaves.size() >= 80);
  std::set<std::string> wrong;
  for (const Leaf& leaf : leaves)
    for (const std::string& value : leaf.values) {
      // The only legume of this recipe is all of it, so a smaller share is refused.
      // Certainty needs a target, and a kitchen that is not to be filled is no wish.
      // A packet that is all of one thing leaves no room for the rest.
      if (leaf.pointer.rfind("/legume/0/label/", 0) == 0 && value == "99 g") continue;
      // What was learned stands or falls as a whole.
      if (leaf.pointer.rfind("/kitchen/learned/", 0) == 0) continue;
      const bool no_wish = leaf.pointer == "/want/fill" && value == "false";
      if (leaf.pointer != "/legume/0/share" && !no_wish) check_set(box, leaf.pointer == "/want/sure" ? "soy.json" : "no-want.json", leaf.pointer, value, wrong);
    }
  std::string all;
  for (const std::string& w : wrong)
    all += w + "\n";
  CHECK(all == "");
}

TEST_CASE("every shipped legume goes with every coagulant, and every gear with every other") {
  const Sandbox box;
  box.give("tests/cli/files", ".");
  const Outcome o = box.run(
      "ids() { curdwright list $1 --format json | sed -n 's/.*\"id\": \"\\(.*\\)\",/\\1/p'; }\n"
      "for l in $(ids legumes); do for c in $(ids coagulants); do\n"
      "  curdwright check soy.json --set /legume=$l --set /coagulate/with=$c > o 2>&1; s=$?; test $s -le 1 || { echo $l $c $s; cat o; }\n"
      "done; done\n"
      "for b in $(ids blenders); do for s in $(ids strainers); do for p in $(ids presses); do\n"
      "  curdwright check soy.json --set /kitchen/blender/class=$b --set /strain/by=$s --set /kitchen/press=$p > o 2>&1; r=$?; test $r -le 1 || { echo $b $s "
      "$p $r; cat o; }\n"
      "done; done; done; echo done",
      {{"LC_ALL=C"}, 120, false});
  CHECK(o.out == "done\n");
  CHECK(o.err == "");
  CHECK(o.status == 0);
}
