// SPDX-License-Identifier: MIT
// Every console block of the documents is run, and prints what the page says.
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>
#include <vector>

#include "support/support.hpp"

namespace {

namespace fs = std::filesystem;
using curdwright::test::from_source;

/// Something a page does: a command with what it prints, or a file that it shows with its name.
struct Block {
  std::string command, output, file;
  bool prints = false;  ///< else only that the command is good is asked
};

std::vector<std::string> pages() {
  std::vector<std::string> all = {"README.md", "DEVELOPERS.md", "data/README.md"};
  for (const auto& e : fs::recursive_directory_iterator(std::string(CURDWRIGHT_SOURCE_DIR) + "/docs"))
    if (e.path().extension() == ".md") all.push_back(fs::relative(e.path(), CURDWRIGHT_SOURCE_DIR).string());
  return all;
}

/// Fenced as ```console: a line "$ command", then what it prints; "..." alone on a line ends the comparison. Fenced with the name
/// of a file behind the language: that file. Indented, with `curdwright` or `mkdir` first: a command.
std::vector<Block> blocks_of(const std::string& page) {
  std::vector<Block> all;
  std::istringstream in(from_source(page));
  std::string line, fence;
  while (std::getline(in, line)) {
    const bool fenced = line.rfind("```", 0) == 0;
    const bool named = fenced && fence.empty() && line.find(' ') != std::string::npos;
    if (named) all.push_back({"", "", line.substr(line.find(' ') + 1), false});
    if (fenced)
      fence = fence.empty() ? line : "";
    else if (fence == "```console" && line.rfind("$ ", 0) == 0)
      all.push_back({line.substr(2), "", "", true});
    else if (!all.empty() && (fence == "```console" || fence.find(' ') != std::string::npos))
      all.back().output += line + "\n";
    else if (fence.empty() && (line.rfind("    curdwright ", 0) == 0 || line.rfind("    mkdir ", 0) == 0))
      all.push_back({line.substr(4), "", "", false});
  }
  return all;
}

/// A folder in which a page is followed from its top to its end, as its reader would from a clone.
class Bench {
 public:
  explicit Bench(const std::string& page) : folder_(fs::temp_directory_path() / ("curdwright-page-" + std::to_string(::getpid()) + "-" + page.substr(page.rfind('/') + 1))) {
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    for (const char* shared : {"examples", "data", "docs", "tests"}) fs::create_directory_symlink(fs::path(CURDWRIGHT_SOURCE_DIR) / shared, folder_ / shared);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;
  ~Bench() { fs::remove_all(folder_); }

  void keep(const std::string& file, const std::string& text) const {
    fs::create_directories((folder_ / file).parent_path());
    std::ofstream(folder_ / file) << text;
  }
  /// What it prints, and its exit status.
  [[nodiscard]] std::pair<std::string, int> run(const std::string& command) const {
    const std::string program = CURDWRIGHT_PROGRAM;
    const std::string whole = "cd '" + folder_.string() + "' && export PATH='" + program.substr(0, program.rfind('/')) + "':\"$PATH\" HOME=\"$PWD\" XDG_DATA_HOME=\"$PWD/.data\" && unset CURDWRIGHT_KITCHEN CURDWRIGHT_DIARY CLICOLOR_FORCE && (" + command + "\n) 2>&1 </dev/null";
    FILE* pipe = ::popen(whole.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string out;
    char buffer[4096];
    for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, n);
    const int status = ::pclose(pipe);
    return {out, WIFEXITED(status) ? WEXITSTATUS(status) : -1};
  }

 private:
  fs::path folder_;
};

void check_block(const Bench& bench, const Block& b) {
  if (!b.file.empty()) return bench.keep(b.file, b.output);
  INFO("$ " << b.command);
  const auto [printed, status] = bench.run(b.command);
  if (!b.prints) {
    INFO(printed);
    CHECK(status == 0);
    return;
  }
  const auto cut = b.output.find("...\n");
  if (cut != std::string::npos && (cut == 0 || b.output[cut - 1] == '\n'))
    CHECK(printed.substr(0, cut) == b.output.substr(0, cut));
  else
    CHECK(printed == b.output);
}

}  // namespace

TEST_CASE("every command of the documents runs from the page's top, and prints what the page says") {
  std::size_t checked = 0;
  for (const std::string& page : pages()) {
    const Bench bench(page);
    INFO(page);
    for (const Block& b : blocks_of(page)) {
      check_block(bench, b);
      ++checked;
    }
  }
  CHECK(checked >= 40);
}

TEST_CASE("the README opens with the job and the first command") {
  const std::string readme = curdwright::test::from_source("README.md");
  REQUIRE(readme.rfind("# curdwright\n", 0) == 0);
  CHECK(readme.find("$ curdwright sheet examples/recipes/01-chickpea.json") < 1800);
  CHECK(readme.find("bash examples/first-batch.sh") != std::string::npos);
  CHECK(readme.find("bash tests/run.sh") != std::string::npos);
}
