// SPDX-License-Identifier: MIT
// What is handed on: every file under its licence, and nothing used that the table of parts does not name.
#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "support/support.hpp"

namespace fs = std::filesystem;

namespace {

const std::string root = CURDWRIGHT_SOURCE_DIR;
using Json = nlohmann::json;

/// Every file of the project, without what is built, fetched or hidden.
std::vector<std::string> all_files() {
  std::vector<std::string> all;
  for (fs::recursive_directory_iterator i(root), end; i != end; ++i) {
    const std::string name = i->path().filename().string();
    if (i->is_directory() && (name[0] == '.' || name == "node_modules" || (i.depth() == 0 && name == "build")))
      i.disable_recursion_pending();
    else if (i->is_regular_file() && name[0] != '.')
      all.push_back(fs::relative(i->path(), root).string());
  }
  std::sort(all.begin(), all.end());
  return all;
}

/// Whether it is code: by its ending, or because it begins as a script does.
bool is_code(const std::string& file, const std::string& text) {
  static const std::set<std::string> endings = {".hpp", ".cpp", ".h", ".c", ".sh", ".mjs", ".js", ".ts", ".py", ".cmake", ".exp", ".zsh", ".fish", ".bash"};
  const fs::path path(file);
  return endings.count(path.extension().string()) > 0 || path.filename() == "CMakeLists.txt" || file.ends_with(".cmake.in") || text.rfind("#!", 0) == 0;
}

std::set<std::string> names_in(const Json& list) {
  std::set<std::string> names;
  for (const Json& part : list) {
    names.insert(part.at("name").get<std::string>());
    if (part.contains("found_as")) names.insert(part.at("found_as").get<std::string>());
  }
  return names;
}

}  // namespace

TEST_CASE("every source, script and build file says its licence within its first three lines") {
  std::size_t seen = 0;
  for (const std::string& file : all_files()) {
    const std::string text = curdwright::test::from_source(file);
    if (!is_code(file, text)) continue;
    ++seen;
    INFO(file);
    std::size_t end = 0;
    for (int line = 0; line < 3 && end != std::string::npos; ++line) end = text.find('\n', end + 1);
    CHECK(text.substr(0, end).find("SPDX-License-Identifier: MIT") != std::string::npos);
  }
  CHECK(seen > 300);
}

TEST_CASE("every library that the build looks for is in the table of licences") {
  const Json table = Json::parse(curdwright::test::from_source("src/cmake/parts.json"));
  const std::set<std::string> shipped = names_in(table.at("shipped")), tests = names_in(table.at("tests"));
  static const std::regex looks("find_(package|library)\\((?:[A-Z0-9]+ (?=[a-z]))?([A-Za-z0-9_-]+)");
  std::size_t seen = 0;
  for (const std::string& file : {std::string("src/CMakeLists.txt"), std::string("tests/CMakeLists.txt")}) {
    const std::string text = curdwright::test::from_source(file);
    for (std::sregex_iterator i(text.begin(), text.end(), looks), end; i != end; ++i, ++seen) {
      INFO(file << " looks for " << (*i)[2]);
      CHECK((shipped.count((*i)[2]) > 0 || (file[0] == 't' && tests.count((*i)[2]) > 0)));
    }
  }
  CHECK(seen >= 14);
}

TEST_CASE("every package of the tests has the licence that the table gives it") {
  const Json table = Json::parse(curdwright::test::from_source("src/cmake/parts.json"));
  std::size_t seen = 0;
  for (const std::string& folder : {std::string("tests/npm/"), std::string("tests/npm/texts/")}) {
    const Json wanted = Json::parse(curdwright::test::from_source(folder + "package.json")).at("dependencies");
    const Json locked = Json::parse(curdwright::test::from_source(folder + "package-lock.json")).at("packages");
    for (const auto& [each, version] : wanted.items()) {
      const std::string& name = each;  // a binding cannot be captured by every compiler
      INFO(folder << " " << name);
      const auto row = std::find_if(table.at("tests").begin(), table.at("tests").end(), [&](const Json& part) { return part.at("name") == name && part.at("kind") == "npm"; });
      REQUIRE(row != table.at("tests").end());
      CHECK(row->at("licence") == locked.at("node_modules/" + name).at("license"));
      CHECK(version == locked.at("node_modules/" + name).at("version"));
      ++seen;
    }
  }
  CHECK(seen >= 16);
}
