// SPDX-License-Identifier: MIT
// No line of a text sheet is wider than it should be, for any legume, unit and width; measured here by a rule of its own.
#include <map>

#include "cli/run_program.hpp"

using namespace curdwright::test;

namespace {

/// Cells of a line whose characters are ASCII, Latin, signs or East Asian: all that a sheet of ours can hold.
int cells(const std::string& line) {
  int sum = 0;
  for (std::size_t i = 0; i < line.size();) {
    const auto b = static_cast<unsigned char>(line[i]);
    const std::size_t bytes = b < 0x80 ? 1 : b < 0xE0 ? 2 : b < 0xF0 ? 3 : 4;
    const bool wide = bytes == 4 || (bytes == 3 && b >= 0xE3 && b <= 0xED);
    sum += wide ? 2 : 1;
    i += bytes;
  }
  return sum;
}

std::string too_wide(const std::string& text, int limit) {
  std::istringstream in(text);
  std::string line, all;
  while (std::getline(in, line))
    if (cells(line) > limit) all += std::to_string(cells(line)) + ": " + line + "\n";
  return all;
}

std::vector<std::string> legumes(const Sandbox& box) {
  std::istringstream in(box.run("curdwright list legumes").out);
  std::string line;
  std::vector<std::string> ids;
  std::getline(in, line);
  while (std::getline(in, line))
    ids.push_back(line.substr(0, line.find(' ')));
  return ids;
}

/// All lines that are too wide in the sheets of every legume, in both units.
std::string too_wide_of_any_legume(const std::string& option, int limit) {
  const Sandbox box;
  const std::vector<std::string> ids = legumes(box);
  REQUIRE(ids.size() == 26);
  std::string all;
  for (const std::string& id : ids)
    for (const std::string units : {"", " --units us"}) {
      INFO(id << option << units);
      const Outcome o = box.run("curdwright new recipe --legume " + id + " | curdwright sheet -" + option + units);
      REQUIRE(o.status == 0);
      if (const std::string wide = too_wide(o.out, limit); !wide.empty()) all += id + option + units + ":\n" + wide;
    }
  return all;
}

std::string too_wide_of_any(const std::vector<std::string>& sets, const std::string& option, int limit) {
  const Sandbox box;
  box.give("tests/cli/files", ".");
  box.give("examples/kitchens", "kitchens");
  std::string all;
  for (const std::string& set : sets)
    for (const std::string units : {"", " --units us"}) {
      INFO(set << option << units);
      const Outcome o = box.run("curdwright sheet " + set + option + units);
      REQUIRE(o.status <= 1);
      if (const std::string wide = too_wide(o.out, limit); !wide.empty()) all += set + option + units + ":\n" + wide;
    }
  return all;
}

const std::string long_word(190, 'x'), words = "a name of many words that goes on and on until it ends";

const std::vector<std::string> odd_sheets = {
    "soy.json --kitchen kitchens/canteen.json --set '/title=" + long_word + "'",
    "soy.json --set '/title=" + words + words + words + "' --set '/kitchen/name=" + long_word + "'",
    "soy.json --set '/title=豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐' --set "
    "'/kitchen/name=豆腐屋の台所、二階の奥の部屋、窓のそば、棚の下'",
    "soy.json --set '/legume=[{\"id\":\"pea-split-yellow\"},{\"id\":\"faba-split\"},{\"id\":\"chickpea-kabuli\"},{\"id\":\"lima-large-white\"}]'",
    "soy.json --dry 1g",
    "kidney-short.json",
    "soy.json --set '/kitchen/pots=[{\"name\":\"" + words + "\",\"volume\":\"20 l\"}]'",
    "soy.json --set /starch/remove=settle-and-gel --set /legume=mung-whole",
};

}  // namespace

TEST_CASE("no line of any legume's sheet is wider than 79 cells") { CHECK(too_wide_of_any_legume("", 79) == ""); }

TEST_CASE("no line of any legume's sheet is wider than it is asked to be") {
  CHECK(too_wide_of_any_legume(" --width 61", 61) == "");
  CHECK(too_wide_of_any_legume(" --width 120", 120) == "");
}

TEST_CASE("no line of any legume's sheet is wider than 40 cells when so asked") { CHECK(too_wide_of_any_legume(" --width 40", 40) == ""); }

TEST_CASE("no line of a sheet with long names, a mix or small amounts is wider than it should be") {
  CHECK(too_wide_of_any(odd_sheets, "", 79) == "");
  CHECK(too_wide_of_any(odd_sheets, " --width 61", 61) == "");
}

TEST_CASE("no line of a sheet with long names, a mix or small amounts is wider than 40 cells when so asked") {
  CHECK(too_wide_of_any(odd_sheets, " --width 40", 40) == "");
}

// Awaits src/sheets/text.cpp (step): the clock and the length of a step are not wrapped.
TEST_CASE("no line of a sheet for ten tonnes is wider than it should be", "") {
  CHECK(too_wide_of_any({"soy.json --dry 10000kg"}, "", 79) == "");
  CHECK(too_wide_of_any({"soy.json --dry 10000kg"}, " --width 40", 40) == "");
}
