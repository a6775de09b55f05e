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

}  // namespace

TEST_CASE("no line of any legume's sheet is wider than it should be") {
  const Sandbox box;
  const std::vector<std::string> ids = legumes(box);
  REQUIRE(ids.size() == 26);
  const std::map<std::string, int> widths = {{"", 79}, {" --width 40", 40}, {" --width 61", 61}, {" --width 120", 120}};
  for (const std::string& id : ids)
    for (const auto& [option, limit] : widths)
      for (const std::string units : {"", " --units us"}) {
        INFO(id << option << units);
        const Outcome o = box.run("curdwright new recipe --legume " + id + " | curdwright sheet -" + option + units);
        REQUIRE(o.status == 0);
        CHECK(too_wide(o.out, limit) == "");
      }
}

TEST_CASE("no line of a sheet with long names, a mix and large amounts is wider than it should be") {
  const Sandbox box;
  box.give("tests/cli/files", ".");
  box.give("examples/kitchens", "kitchens");
  const std::string name(190, 'x'), words = "a name of many words that goes on and on until it ends";
  const std::vector<std::string> commands = {
      "curdwright sheet soy.json --kitchen kitchens/canteen.json --set '/title=" + name + "'",
      "curdwright sheet soy.json --set '/title=" + words + words + words + "' --set '/kitchen/name=" + name + "'",
      "curdwright sheet soy.json --set '/title=豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐豆腐' --set "
      "'/kitchen/name=豆腐屋の台所、二階の奥の部屋、窓のそば、棚の下'",
      "curdwright sheet soy.json --set "
      "'/legume=[{\"id\":\"pea-split-yellow\"},{\"id\":\"faba-split\"},{\"id\":\"chickpea-kabuli\"},{\"id\":\"lima-large-white\"}]'",
      "curdwright sheet soy.json --dry 10000kg",
      "curdwright sheet soy.json --dry 1g",
      "curdwright sheet kidney-short.json",
      "curdwright sheet soy.json --set '/kitchen/pots=[{\"name\":\"" + words + "\",\"volume\":\"20 l\"}]'",
      "curdwright sheet soy.json --set /starch/remove=settle-and-gel --set /legume=mung-whole",
  };
  for (const std::string& c : commands)
    for (const auto& [option, limit] : std::map<std::string, int>{{"", 79}, {" --width 40", 40}})
      for (const std::string units : {"", " --units us"}) {
        INFO(c << option << units);
        const Outcome o = box.run(c + option + units);
        REQUIRE(o.status <= 1);
        CHECK(too_wide(o.out, limit) == "");
      }
}
