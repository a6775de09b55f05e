// SPDX-License-Identifier: MIT
// The schemas in docs/schema are what the program prints, one for each kind and no other. docs/schema/rewrite.sh writes them anew.
#include <set>

#include "cli/run_program.hpp"

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
