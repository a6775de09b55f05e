// SPDX-License-Identifier: MIT
// The rules of the house, read from the sources themselves.
#include <algorithm>
#include <filesystem>
#include <map>
#include <regex>
#include <set>

#include "support/support.hpp"

namespace fs = std::filesystem;

namespace {

const std::string root = CURDWRIGHT_SOURCE_DIR;

std::vector<std::string> files_below(const std::string& folder, const std::set<std::string>& endings) {
  std::vector<std::string> all;
  for (const auto& e : fs::recursive_directory_iterator(root + "/" + folder))
    if (e.is_regular_file() && endings.count(e.path().extension().string()) > 0 && e.path().string().find("node_modules") == std::string::npos)
      all.push_back(fs::relative(e.path(), root).string());
  std::sort(all.begin(), all.end());
  return all;
}

/// Layer of a file: an include may point to the same layer or a lower one. Stages, which may not include each
/// other, share one layer; what they share stands one below.
int layer(const std::string& name) {
  static const std::vector<std::vector<std::string>> layers = {
      {"quantity", "words", "problem", "version", "roots", "enum_table", "quantiles", "parallel", "text/letters", "text/nearest", "text/width", "text/spoken", "text/format_once", "embedded"},
      {"composition", "temperature_history", "parameters", "gdl", "properties", "units", "calendar", "json/document", "json/fields", "json/read_fields", "json/schema", "json/set_value", "located"},
      {"stages/stage", "stages/grinding"},
      {"stages/soak", "stages/blend", "stages/strain", "stages/starch", "stages/cook", "stages/coagulate", "stages/press", "stages/chill"},
      {"catalogue", "catalogue_parts", "catalogue_check", "remembered", "kitchen", "kitchen_fields", "records", "equipment_record", "record_lists", "record_reading", "price"},
      {"recipe", "recipe_fields", "differing"},
      {"plan", "figures"},
      {"resolve", "scopes", "reach", "solve", "faults", "ranges"},
      {"account", "accounts/", "measure", "slip", "observing", "update", "learn", "teach", "findings"},
      {"safety", "cooling", "cautions", "rules/", "schedule", "planner", "settling", "fit", "correct", "trouble", "trouble_words", "trouble_table", "trouble_conditions", "trouble_slots", "nutrition", "cost", "diary", "diary_lines", "diary_start", "diary_words", "diary_plan"},
      {"pictures", "response", "factor", "study", "best", "contrast", "rank", "response_account"},
      {"sheet", "sheets/", "line"},
      {"program/"},
  };
  for (std::size_t i = 0; i < layers.size(); ++i)
    for (const std::string& n : layers[i])
      if (name == n || (n.back() == '/' && name.rfind(n, 0) == 0)) return static_cast<int>(i);
  return -1;
}

std::string plain_name(std::string path) {
  for (const std::string prefix : {"include/curdwright/", "src/", "curdwright/"})
    if (path.rfind(prefix, 0) == 0) path = path.substr(prefix.size());
  return path.substr(0, path.rfind('.'));
}

std::vector<std::string> includes_of(const std::string& file) {
  std::vector<std::string> all;
  const std::string text = curdwright::test::from_source(file);
  static const std::regex line("#include \"([^\"]+)\"");
  for (std::sregex_iterator i(text.begin(), text.end(), line), end; i != end; ++i) all.push_back((*i)[1]);
  return all;
}

}  // namespace

TEST_CASE("an include points to the same layer or a lower one, and no stage includes another") {
  std::size_t seen = 0;
  for (const std::string& folder : {std::string("include"), std::string("src")})
    for (const std::string& file : files_below(folder, {".hpp", ".cpp"})) {
      const std::string name = plain_name(file);
      INFO(file);
      REQUIRE(layer(name) >= 0);  // a new file takes its place in the list above
      for (const std::string& inc : includes_of(file)) {
        INFO("includes " << inc);
        const std::string other = plain_name(inc);
        REQUIRE(layer(other) >= 0);
        // resolve chooses the water by solving; the two are one layer. A header's own source is the same name.
        CHECK(layer(other) <= layer(name));
        if (name.rfind("stages/", 0) == 0 && other.rfind("stages/", 0) == 0 && other != "stages/stage" && other != "stages/grinding") CHECK(other == name);
        ++seen;
      }
    }
  CHECK(seen > 100);
}

TEST_CASE("the library touches no file, clock, terminal or environment, and public headers keep their libraries private") {
  static const std::regex world("std::cout|std::cerr|std::cin|<iostream>|<fstream>|fopen|getenv|std::time\\(|system_clock|random_device|std::exit|<filesystem>|printf\\(");
  for (const std::string& folder : {std::string("include"), std::string("src")})
    for (const std::string& file : files_below(folder, {".hpp", ".cpp"})) {
      if (file.rfind("src/program/", 0) == 0) continue;
      INFO(file);
      CHECK_FALSE(std::regex_search(curdwright::test::from_source(file), world));
    }
  for (const std::string& file : files_below("include", {".hpp"})) {
    INFO(file);
    const std::string text = curdwright::test::from_source(file);
    CHECK(text.find("nlohmann") == std::string::npos);
    CHECK(text.find("CLI/") == std::string::npos);
    CHECK(text.find("/// \\file") != std::string::npos);
  }
}

TEST_CASE("numbers and letters are read the same whatever the locale of the process") {
  static const std::regex by_locale("\\b(stod|stof|strtod|strtof|atof|sscanf|isalpha|isdigit|isalnum|isspace|isupper|islower|tolower|toupper|setlocale|localtime)\\(|stringstream");
  for (const std::string& folder : {std::string("include"), std::string("src")})
    for (const std::string& file : files_below(folder, {".hpp", ".cpp"})) {
      INFO(file);
      CHECK_FALSE(std::regex_search(curdwright::test::from_source(file), by_locale));
    }
}

TEST_CASE("every problem code is in the reference") {
  const std::string reference = curdwright::test::from_source("docs/reference.md");
  static const std::regex code("Problem\\{\"([a-z][a-z-]+)\"|complain\\([^,]*, \"([a-z][a-z-]+)\"|push_back\\(\\{\"([a-z][a-z-]+)\"|report\\([^;]*?, key, \"([a-z][a-z-]+)\"|return \\{\"([a-z][a-z-]+)\", \\{\\}");
  std::set<std::string> codes;
  for (const std::string& file : files_below("src", {".cpp"})) {
    const std::string text = curdwright::test::from_source(file);
    for (std::sregex_iterator i(text.begin(), text.end(), code), end; i != end; ++i)
      for (std::size_t g = 1; g < i->size(); ++g)
        if ((*i)[g].matched) codes.insert((*i)[g]);
  }
  CHECK(codes.size() >= 25);
  for (const std::string& c : codes) {
    INFO(c);
    CHECK(reference.find("`" + c + "`") != std::string::npos);
  }
}

TEST_CASE("every source says its licence, and no file is too long to read") {
  for (const std::string& folder : {std::string("include"), std::string("src"), std::string("tests"), std::string("examples")})
    for (const std::string& file : files_below(folder, {".hpp", ".cpp", ".sh", ".mjs", ".py", ".cmake"})) {
      INFO(file);
      const std::string text = curdwright::test::from_source(file);
      CHECK(text.find("SPDX-License-Identifier: MIT") != std::string::npos);
      CHECK(std::count(text.begin(), text.end(), '\n') < 400);
    }
}

TEST_CASE("the top level holds what was agreed") {
  const std::set<std::string> allowed = {"CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md", "LICENSE", "src", "include", "tests", "data", "examples", "docs", "build"};
  for (const auto& e : fs::directory_iterator(root)) {
    const std::string name = e.path().filename().string();
    INFO(name);
    CHECK((name[0] == '.' || allowed.count(name) > 0));
  }
}
