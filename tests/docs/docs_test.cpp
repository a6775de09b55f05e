// SPDX-License-Identifier: MIT
// Every console block of the documents is run, and prints what the page says.
#include <sys/wait.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <vector>

#include "support/support.hpp"

namespace {

struct Block {
  std::string page, command, output;
};

std::vector<std::string> pages() {
  namespace fs = std::filesystem;
  std::vector<std::string> all = {"README.md", "DEVELOPERS.md"};
  for (const auto& e : fs::directory_iterator(std::string(CURDWRIGHT_SOURCE_DIR) + "/docs"))
    if (e.path().extension() == ".md") all.push_back("docs/" + e.path().filename().string());
  return all;
}

/// Blocks fenced as ```console: a line "$ command", then what it prints; "..." alone on a line ends the comparison.
std::vector<Block> blocks_of(const std::string& page) {
  std::vector<Block> all;
  std::istringstream in(curdwright::test::from_source(page));
  std::string line;
  bool inside = false;
  while (std::getline(in, line)) {
    if (line == "```console") {
      inside = true;
    } else if (line == "```") {
      inside = false;
    } else if (inside && line.rfind("$ ", 0) == 0) {
      all.push_back({page, line.substr(2), ""});
    } else if (inside && !all.empty()) {
      all.back().output += line + "\n";
    }
  }
  return all;
}

std::string run(const std::string& command) {
  const std::string program = CURDWRIGHT_PROGRAM;
  const std::string folder = program.substr(0, program.rfind('/'));
  const std::string whole = "cd '" CURDWRIGHT_SOURCE_DIR "' && export PATH='" + folder + "':\"$PATH\" && unset CURDWRIGHT_KITCHEN CLICOLOR_FORCE && (" + command + ") 2>&1 </dev/null";
  FILE* pipe = ::popen(whole.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string out;
  char buffer[4096];
  for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, n);
  ::pclose(pipe);
  return out;
}

}  // namespace

TEST_CASE("every console block of the documents prints what the page says") {
  std::size_t checked = 0;
  for (const std::string& page : pages())
    for (const Block& b : blocks_of(page)) {
      INFO(b.page << ": $ " << b.command);
      const std::string printed = run(b.command);
      const auto cut = b.output.find("...\n");
      if (cut != std::string::npos && (cut == 0 || b.output[cut - 1] == '\n'))
        CHECK(printed.substr(0, cut) == b.output.substr(0, cut));
      else
        CHECK(printed == b.output);
      ++checked;
    }
  CHECK(checked >= 3);
}

TEST_CASE("the README opens with the job and the first command") {
  const std::string readme = curdwright::test::from_source("README.md");
  REQUIRE(readme.rfind("# curdwright\n", 0) == 0);
  CHECK(readme.find("$ curdwright sheet examples/recipes/01-chickpea.json") < 1800);
  CHECK(readme.find("bash examples/first-batch.sh") != std::string::npos);
  CHECK(readme.find("bash tests/run.sh") != std::string::npos);
}
