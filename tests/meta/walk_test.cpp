// SPDX-License-Identifier: MIT
// What DEVELOPERS.md says of the sources is there.
#include <filesystem>
#include <regex>

#include "support/support.hpp"

namespace {

using curdwright::test::from_source;

bool is_there(const std::string& path) { return std::filesystem::exists(std::string(CURDWRIGHT_SOURCE_DIR) + "/" + path); }

std::vector<std::string> all_of(const std::string& text, const std::regex& what) {
  std::vector<std::string> found;
  for (std::sregex_iterator i(text.begin(), text.end(), what), end; i != end; ++i) found.push_back((*i)[1]);
  return found;
}

/// Lines of a table of Markdown in the section of this name.
std::vector<std::string> rows_of(const std::string& page, const std::string& section) {
  const auto from = page.find("\n## " + section + "\n");
  REQUIRE(from != std::string::npos);
  return all_of(page.substr(from, page.find("\n## ", from + 1) - from), std::regex("\n\\| ([^\n]*`[^\n]*)"));
}

}  // namespace

TEST_CASE("every file that DEVELOPERS.md names is there") {
  const auto named = all_of(from_source("DEVELOPERS.md"), std::regex("`((?:src|include|tests|data|docs|examples)/[A-Za-z0-9_./-]+)`"));
  CHECK(named.size() > 60);
  for (const std::string& path : named) {
    INFO(path);
    CHECK(is_there(path));
  }
}

TEST_CASE("one number goes all the way as DEVELOPERS.md tells: in each file that a row names stand the words that it names") {
  const auto rows = rows_of(from_source("DEVELOPERS.md"), "One number, all the way");
  CHECK(rows.size() >= 14);
  for (const std::string& row : rows) {
    INFO(row);
    const auto files = all_of(row, std::regex("`((?:src|include)/[a-z_/]+\\.[ch]pp)`"));
    REQUIRE(files.size() == 1);
    const std::string source = from_source(files[0]);
    const auto words = all_of(row, std::regex("`([A-Za-z_:]+)(?:\\(\\))?`"));
    CHECK_FALSE(words.empty());
    for (const std::string& word : words) {
      INFO(word);
      CHECK(std::regex_search(source, std::regex("\\b" + word + "\\b")));
    }
  }
}
