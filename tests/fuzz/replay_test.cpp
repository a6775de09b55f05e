// SPDX-License-Identifier: MIT
// Every input of the corpora, and every one that a fuzzer ever found a fault with, through the same functions that the fuzzers call.
#include <filesystem>
#include <map>
#include <set>

#include "curdwright/recipe.hpp"
#include "fuzz/fuzz.hpp"
#include "fuzz/world.hpp"
#include "support/support.hpp"

namespace fs = std::filesystem;
using namespace curdwright::fuzz;
using curdwright::test::read_file;

namespace {

std::vector<fs::path> inputs_of(const std::string& folder, std::string_view target) {
  std::vector<fs::path> all;
  const fs::path below = fs::path(CURDWRIGHT_SOURCE_DIR) / "tests" / "fuzz" / folder / target;
  if (!fs::exists(below)) return all;
  for (const auto& e : fs::directory_iterator(below)) all.push_back(e.path());
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

TEST_CASE("what must hold, holds for every input of the corpora, and of all that was ever found") {
  std::size_t replayed = 0;
  for (const Target& t : all_targets())
    for (const std::string folder : {"corpus", "found"})
      for (const fs::path& p : inputs_of(folder, t.name)) {
        INFO(p.string());
        CHECK_NOTHROW(t.run(read_file(p.string())));
        ++replayed;
      }
  CHECK(replayed >= 5 * all_targets().size());
}

TEST_CASE("each target has a corpus, and no corpus is without its target") {
  std::set<std::string> names;
  for (const Target& t : all_targets()) {
    INFO(t.name);
    names.emplace(t.name);
    CHECK(inputs_of("corpus", t.name).size() >= 5);
  }
  for (const std::string folder : {"corpus", "found"})
    for (const auto& e : fs::directory_iterator(fs::path(CURDWRIGHT_SOURCE_DIR) / "tests" / "fuzz" / folder)) {
      if (!e.is_directory()) continue;
      INFO(e.path());
      CHECK(names.count(e.path().filename().string()) == 1);
    }
}

TEST_CASE("a target says what is broken") {
  CHECK_THROWS_AS(hold(false, "so it is"), Broken);
  CHECK_THROWS_AS(check_json("{"), Broken);
  CHECK_THROWS_AS(check_words("\xff"), Broken);
  CHECK_THROWS_AS(check_words("a\tb\033[1m"), Broken);
  CHECK_THROWS_AS(check_numbers("mass nan g"), Broken);
  CHECK_THROWS_AS(check_numbers("-inf"), Broken);
  CHECK_NOTHROW(check_numbers("banana, information, Infinite"));
  CHECK_THROWS_AS(check_page("<!DOCTYPE html><p><script>"), Broken);
  CHECK_THROWS_AS(check_problems({}, ""), Broken);
  CHECK_THROWS_AS(check_problems({{"code", {"a.json", 0, 0, "", "", 0}, "a sentence", "", ""}}, "a.json"), Broken);
}

TEST_CASE("the corpus of the sheet is not all refused: every form is answered, and with stops, days and readings") {
  std::map<char, int> answered;
  for (const fs::path& p : inputs_of("corpus", "sheet")) {
    const std::string bytes = read_file(p.string());
    try_sheet(bytes);
    if (!world().out.empty()) ++answered[bytes[0]];
  }
  // One letter for each form: text, json, html, markdown, jsonld, csv, ics.
  for (const char form : std::string("`abcdef")) {
    INFO(form);
    CHECK(answered[form] >= 1);
  }
}
