// SPDX-License-Identifier: MIT
// The schemas in docs/schema are what the program prints, one for each kind and no other. docs/schema/rewrite.sh writes them anew.
#include <nlohmann/json.hpp>
#include <set>

#include "cli/run_program.hpp"
#include "sheets/key_words.hpp"

using namespace curdwright::test;

namespace {

/// Every kind, as the program tells who asks for one that there is not.
std::set<std::string> all_kinds(const Sandbox& box) {
  const std::string told = box.run("curdwright schema '?'").err, mark = "fix: use one of: ";
  std::set<std::string> kinds;
  const auto from = told.find(mark);
  if (from == std::string::npos) return kinds;
  std::istringstream words(told.substr(from + mark.size()));
  for (std::string word; words >> word;) {
    if (word.back() == ',') word.pop_back();
    kinds.insert(word);
  }
  return kinds;
}

/// Properties of a schema that say nothing, and all keys that there are.
void look(const nlohmann::json& at, const std::string& place, const std::string& parent, std::vector<std::string>& silent, std::set<std::string>& said) {
  if (at.is_array())
    for (const auto& one : at) look(one, place, parent, silent, said);
  if (!at.is_object()) return;
  for (const auto& [word, inside] : at.items()) {
    if (word != "properties") {
      look(inside, place, parent, silent, said);
      continue;
    }
    for (const auto& [key, field] : inside.items()) {
      const std::string about = field.value("description", "");
      if (about.empty()) silent.push_back(place + "/" + key);
      said.insert(about);
      look(field, place + "/" + key, key, silent, said);
    }
  }
}

}  // namespace

TEST_CASE("the schemas in docs/schema are what the program prints") {
  const Sandbox box;
  const std::string folder = std::string(CURDWRIGHT_SOURCE_DIR) + "/docs/schema/";
  const std::set<std::string> kinds = all_kinds(box);
  CHECK(kinds.size() >= 20);
  for (const std::string& kind : kinds) {
    INFO(kind << "\nIf the change is meant: bash docs/schema/rewrite.sh");
    const Outcome o = box.run("curdwright schema " + kind);
    CHECK(o.status == 0);
    REQUIRE(fs::exists(folder + kind + ".schema.json"));
    CHECK(read_file(folder + kind + ".schema.json") == o.out);
  }
  for (const auto& e : fs::directory_iterator(folder)) {
    const std::string name = e.path().filename().string(), ending = ".schema.json";
    if (!name.ends_with(ending)) continue;
    INFO(name << " is no kind");
    CHECK(kinds.count(name.substr(0, name.size() - ending.size())) == 1);
  }
}

TEST_CASE("example recipes and kitchens name the schema in docs/schema") {
  std::size_t seen = 0;
  for (const std::string kind : {"recipe", "kitchen"})
    for (const auto& e : fs::directory_iterator(std::string(CURDWRIGHT_SOURCE_DIR) + "/examples/" + kind + "s")) {
      INFO(e.path());
      const std::string name = "../../docs/schema/" + kind + ".schema.json";
      CHECK(read_file(e.path()).find("\"$schema\": \"" + name + "\"") != std::string::npos);
      CHECK(fs::exists(e.path().parent_path() / name));
      ++seen;
    }
  CHECK(seen >= 9);
}

TEST_CASE("every key of every schema says what it means, and no meaning stands there for nothing") {
  const Sandbox box;
  std::vector<std::string> silent;
  std::set<std::string> said;
  for (const std::string& kind : all_kinds(box)) look(nlohmann::json::parse(box.run("curdwright schema " + kind).out), kind, kind, silent, said);
  for (const std::string& key : silent) FAIL_CHECK(key << " has no description");
  CHECK(said.size() >= 300);
  for (const auto& word : curdwright::sheets::all_key_words()) {
    INFO(word.key << " is not said of any key");
    const auto as_told = [&](const std::string& about) { return about == word.says || about.starts_with(std::string(word.says) + ", "); };
    CHECK(std::any_of(said.begin(), said.end(), as_told));
  }
}

TEST_CASE("docs/commands.md and docs/formats.md are what the program tells") {
  INFO("If the change is meant: bash docs/rewrite.sh");
  const Sandbox box;
  const std::string docs = std::string(CURDWRIGHT_SOURCE_DIR) + "/docs/";
  CHECK(read_file(docs + "commands.md") == box.run("curdwright help --format markdown").out);
  const std::string page = read_file(docs + "formats.md"), mark = "docs/rewrite.sh. -->\n";
  const auto from = page.find(mark);
  REQUIRE(from != std::string::npos);
  std::string sections;
  for (const std::string& kind : all_kinds(box)) {
    INFO(kind);
    const std::string section = box.run("curdwright schema " + kind + " --format markdown").out;
    REQUIRE(section.size() > 2);
    CHECK(section.ends_with("|\n\n"));
    CHECK(page.find("\n" + section.substr(0, section.size() - 1), from) != std::string::npos);
    CHECK(page.find("[" + kind + "](#" + kind + ")") < from);
    sections += "\n" + section.substr(0, section.size() - 1);
  }
  CHECK(page.size() - from - mark.size() == sections.size());
}
