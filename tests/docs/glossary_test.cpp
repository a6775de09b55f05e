// SPDX-License-Identifier: MIT
// The glossary says the words that are used, and nobody uses another.
#include <algorithm>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <vector>

#include "support/support.hpp"

namespace {

namespace fs = std::filesystem;
using curdwright::test::from_source;
using Json = nlohmann::json;
using WordSet = std::set<std::string>;
using Row = std::vector<std::string>;

const std::string root = CURDWRIGHT_SOURCE_DIR;

/// What the program prints to `arguments`.
std::string told(const std::string& arguments) {
  FILE* pipe = ::popen(("unset CURDWRIGHT_KITCHEN CURDWRIGHT_DIARY; '" CURDWRIGHT_PROGRAM "' " + arguments + " </dev/null").c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string out;
  char buffer[4096];
  for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, n);
  INFO(arguments);
  REQUIRE(::pclose(pipe) == 0);
  return out;
}

std::vector<std::string> all_matches(const std::string& text, const std::regex& what) {
  std::vector<std::string> all;
  for (std::sregex_iterator i(text.begin(), text.end(), what), end; i != end; ++i) all.push_back((*i)[1]);
  return all;
}

std::vector<std::string> split(const std::string& text, const std::string& at) {
  std::vector<std::string> all(1);
  for (const char c : text) {
    if (at.find(c) == std::string::npos)
      all.back() += c;
    else
      all.emplace_back();
  }
  for (std::string& s : all) {
    s.erase(0, s.find_first_not_of(" \n"));
    s.erase(s.find_last_not_of(" \n") + 1);
  }
  std::erase(all, "");
  return all;
}

void add_parts(WordSet& to, const std::string& key) {
  for (const std::string& part : split(key, "_-$")) to.insert(part);
}

/// Rows of the tables under a heading, without head and rule; the cells as they stand.
std::vector<Row> rows_under(const std::string& heading) {
  const std::string page = from_source("docs/glossary.md");
  const auto start = page.find("## " + heading + "\n");
  REQUIRE(start != std::string::npos);
  std::vector<Row> rows;
  for (const std::string& line : split(page.substr(start, page.find("\n## ", start + 1) - start), "\n")) {
    if (line.rfind("| ", 0) != 0) continue;
    Row row;
    for (std::size_t from = 1, to = 0; (to = line.find('|', from)) != std::string::npos; from = to + 1) row.push_back(line.substr(from, to - from));
    rows.push_back(row);
  }
  REQUIRE(rows.size() > 3);
  return {rows.begin() + 2, rows.end()};
}

std::vector<Row> terms() {
  std::vector<Row> all;
  for (const char* heading : {"What flows through a batch", "What it is made of", "What is done", "Who and what with", "What is known and asked"})
    for (Row& row : rows_under(heading)) all.push_back(std::move(row));
  return all;
}

std::vector<std::string> in_code(const Row& row) { return all_matches(row.at(1), std::regex("`([^`]+)`")); }

/// Every word of the glossary's second column, and of the ends of keys.
WordSet glossary_words() {
  WordSet all;
  for (const Row& row : terms())
    for (const std::string& term : in_code(row)) add_parts(all, term);
  for (const Row& row : rows_under("Ends of keys"))
    for (const std::string& cell : row)
      for (const std::string& end : all_matches(cell, std::regex("`([^`]+)`"))) add_parts(all, end);
  return all;
}

void add_properties(WordSet& to, const Json& schema) {
  for (const auto& [key, value] : schema.items()) {
    if (key == "properties" && value.is_object())
      for (const auto& [name, rest] : value.items()) add_parts(to, name);
    if (value.is_structured()) add_properties(to, value);
  }
}

const std::vector<std::string>& lists() {
  static const std::vector<std::string> all = {"legumes", "coagulants", "extras", "blenders", "strainers", "presses", "hobs", "chillers", "measures", "figures", "rules"};
  return all;
}

/// WordSet of the keys of a list, and of the names it lists where they are words of ours.
void add_list(WordSet& to, const std::string& what) {
  const Json list = Json::parse(told("list " + what + " --format json"));
  for (const Json& entry : list.at("entries"))
    for (const auto& [key, value] : entry.items()) {
      add_parts(to, key);
      if (key == "key" || key == "word" || key == "stage") add_parts(to, value.get<std::string>());
    }
}

std::vector<std::string> paths_below(const std::string& folder, const std::set<std::string>& endings) {
  std::vector<std::string> all;
  for (const auto& e : fs::recursive_directory_iterator(root + "/" + folder))
    if (e.is_regular_file() && endings.count(e.path().extension().string()) > 0) all.push_back(fs::relative(e.path(), root).string());
  std::sort(all.begin(), all.end());
  return all;
}

std::string part_of(const std::string& text, const std::string& from, const std::string& to) {
  const auto start = text.find(from);
  REQUIRE(start != std::string::npos);
  return text.substr(start, text.find(to, start) - start);
}

/// WordSet of every key, command and option.
WordSet words_in_use() {
  WordSet all;
  for (const std::string& schema : paths_below("docs/schema", {".json"})) add_properties(all, Json::parse(from_source(schema)));
  for (const std::string& list : lists()) add_list(all, list);
  const std::string help = told("--help");
  for (const std::string& option : all_matches(help, std::regex("\\n  (?:-., )?--([a-z-]+)"))) add_parts(all, option);
  for (const std::string& topic : all_matches(help, std::regex("\\n  help ([a-z-]+)"))) add_parts(all, topic);
  for (const std::string& command : all_matches(part_of(help, "\nCommands\n", "\nOptions\n"), std::regex("\\n  ([a-z]+) "))) all.insert(command);
  return all;
}

/// Whether a word is among them, be it one or many.
bool one_of(const WordSet& words, const std::string& word) {
  return words.count(word) > 0 || words.count(word + "s") > 0 || (word.back() == 's' && words.count(word.substr(0, word.size() - 1)) > 0);
}

WordSet plain_words() {
  WordSet all;
  for (const std::string& line : split(from_source("tests/docs/plain_words.txt"), "\n"))
    if (line[0] != '#')
      for (const std::string& word : split(line, " ")) all.insert(word);
  return all;
}

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

/// Whether a text holds a word, also in the plural, not as a part of a longer one.
bool holds(const std::string& lower_text, const std::string& word) {
  const auto letter = [](char c) { return c >= 'a' && c <= 'z'; };
  for (std::size_t at = lower_text.find(word); at != std::string::npos; at = lower_text.find(word, at + 1)) {
    std::size_t end = at + word.size();
    if (lower_text.compare(end, 2, "es") == 0 && !letter(lower_text[end + 2])) end += 2;
    if (lower_text.compare(end, 1, "s") == 0) end += 1;
    if ((at == 0 || !letter(lower_text[at - 1])) && (end >= lower_text.size() || !letter(lower_text[end]))) return true;
  }
  return false;
}

std::string help_text() {
  std::string all = told("--help");
  for (const std::string& topic : all_matches(all, std::regex("\\n  help ([a-z-]+)"))) all += told("help " + topic);
  for (const std::string& list : lists()) all += told("list " + list);
  return all;
}

std::string joined(const std::vector<std::string>& paths) {
  std::string all;
  for (const std::string& p : paths) all += from_source(p);
  return all;
}

/// A record without the names that others give it.
std::string own_words(const std::string& record) { return std::regex_replace(record, std::regex("\"also\": \\[[^\\]]*\\]"), ""); }

/// What a reader sees of a page: no styles, no markup.
std::string words_of_page() {
  std::string page = told("sheet '" + root + "/examples/recipes/01-chickpea.json' --format html");
  const auto style = page.find("<style>"), end = page.find("</style>");
  REQUIRE(end != std::string::npos);
  page.erase(style, end - style);
  return std::regex_replace(page, std::regex("<[^>]*>"), " ");
}

struct Unused {
  std::vector<std::string> words, allowed;
};

std::vector<Unused> unused_words() {
  std::vector<Unused> all;
  for (const Row& row : rows_under("Words not used")) all.push_back({split(row.at(0), ","), split(row.at(2), ";")});
  return all;
}

/// WordSet of the last table that a text holds, outside the phrases that are allowed.
std::vector<std::string> second_words(const std::string& text) {
  std::vector<std::string> found;
  for (const Unused& u : unused_words()) {
    std::string rest = lower(text);
    for (const std::string& phrase : u.allowed)
      for (std::size_t at = 0; (at = rest.find(lower(phrase))) != std::string::npos;) rest.erase(at, phrase.size());
    for (const std::string& word : u.words)
      if (holds(rest, word)) found.push_back(word);
  }
  return found;
}

void check_words(const std::string& where, const std::string& text) {
  for (const std::string& word : second_words(text)) {
    INFO(where << ": \"" << word << "\" is a second word for a thing that has one; see docs/glossary.md");
    CHECK(word.empty());
  }
}

}  // namespace

TEST_CASE("every word of a key, a command, an option or a list is in the glossary or a plain word") {
  const WordSet used = words_in_use(), listed = glossary_words(), plain = plain_words();
  CHECK(used.size() > 400);
  for (const std::string& word : used) {
    INFO(word);
    CHECK(one_of(listed, word) != (plain.count(word) > 0));
  }
  for (const std::string& word : plain) {
    INFO(word << " is in tests/docs/plain_words.txt and no key uses it");
    CHECK(used.count(word) > 0);
  }
}

TEST_CASE("every term of the glossary is used: the first column by sheets or help, the second by code or JSON") {
  const std::string said = lower(help_text() + joined(paths_below("tests/golden", {".txt", ".md"})) + words_of_page());
  const std::string written = joined(paths_below("docs/schema", {".json"})) + joined(paths_below("tests/golden", {".json"})) + joined(paths_below("include", {".hpp"})) + told("list measures");
  std::size_t seen = 0;
  for (const Row& row : terms()) {
    for (const std::string& word : split(row.at(0), ",")) {
      INFO(word);
      CHECK(holds(said, word));
      ++seen;
    }
    for (const std::string& term : in_code(row)) {
      INFO(term);
      CHECK(holds(lower(written), term));
      ++seen;
    }
  }
  CHECK(seen > 150);
}

TEST_CASE("help, schemas, data, pages, headers and sheets have one word for one thing") {
  check_words("the help", help_text());
  check_words("a page", words_of_page());
  for (const char* folder : {"docs/schema", "tests/golden", "include"})
    for (const std::string& path : paths_below(folder, {".json", ".txt", ".md", ".jsonld", ".hpp"})) check_words(path, from_source(path));
  for (const std::string& path : paths_below("data", {".json", ".md"}))
    if (path != "data/sources.json") check_words(path, own_words(from_source(path)));
  for (const std::string& path : paths_below("docs", {".md"}))
    if (path != "docs/glossary.md") check_words(path, from_source(path));
  for (const char* page : {"README.md", "DEVELOPERS.md"}) check_words(page, from_source(page));
}

TEST_CASE("a second word is found in any form, and allowed phrases are not") {
  for (const Unused& u : unused_words())
    for (const std::string& word : u.words) {
      INFO(word);
      CHECK(second_words("The " + word + "s, \"" + word + "\"") == std::vector<std::string>{word});
      CHECK(second_words("x" + word + "x").empty());
    }
  CHECK(second_words("as firm as hard cheese").empty());
  CHECK(second_words("pulp, ground beans, curd and whey").empty());
}
