// SPDX-License-Identifier: MIT
// The program as a user meets it, from the transcripts beside this file; and the same in other time zones and locales.
#include "cli/transcript.hpp"

#include <cstdlib>
#include <set>

using namespace curdwright::test;

namespace {

/// A folder that holds what a case may use: the files beside the transcripts, and the example recipes and kitchens.
void furnish(const Sandbox& box) {
  box.give("tests/cli/files", ".");
  box.give("examples/recipes", "recipes");
  box.give("examples/kitchens", "kitchens");
}

void check_case(const Case& c, const std::vector<std::string>& environment) {
  const Sandbox box;
  furnish(box);
  RunAs as = c.as;
  as.environment = environment;
  const std::string wrong = difference(c, box.run(c.script, as));
  INFO(c.file << ":" << c.line << ": " << c.title << "\n$ " << c.script);
  if (c.awaits.empty()) {
    INFO(wrong);
    CHECK(wrong.empty());
  } else {
    INFO("this case awaits: " << c.awaits << "\nIt passes now, so its fault is mended: take the line \"@ awaits\" away.");
    CHECK_FALSE(wrong.empty());
  }
}

void check_all(const std::vector<std::string>& environment) {
  for (const Transcript& t : all_transcripts())
    for (const Case& c : t.cases)
      DYNAMIC_SECTION(c.file << ": " << c.title) { check_case(c, environment); }
}

/// A real German locale, with its decimal comma, made for this run where the system can make one.
const fs::path& german_locale() {
  static const Folder folder;
  static const int made = std::system(("localedef --no-archive -i de_DE -f UTF-8 '" + folder.path().string() + "/de_DE.UTF-8' >/dev/null 2>&1").c_str());
  if (made != 0) WARN("localedef makes no de_DE.UTF-8 here, so a locale that reads itself in is not put to the test");
  return folder.path();
}

}  // namespace

TEST_CASE("every transcript can be read, and no two cases have one title") {
  std::set<std::string> titles;
  std::size_t cases = 0, awaited = 0;
  for (const Transcript& t : all_transcripts()) {
    for (const std::string& f : t.faults)
      FAIL_CHECK(f);
    REQUIRE_FALSE(t.cases.empty());
    for (const Case& c : t.cases) {
      INFO(c.file << ":" << c.line << ": " << c.title);
      CHECK(titles.insert(c.title).second);
      CHECK(c.status >= 0);
      ++cases;
      awaited += c.awaits.empty() ? 0 : 1;
    }
  }
  CHECK(cases >= 200);
  if (awaited > 0) WARN(awaited << " cases await the mending of a fault (grep '^@ awaits' tests/cli/*.transcript)");
}

TEST_CASE("transcripts, with the clock in Tokyo") { check_all({"TZ=Asia/Tokyo", "LC_ALL=C"}); }

TEST_CASE("transcripts, with a German locale") {
  check_all({"TZ=Asia/Tokyo", "LOCPATH=" + german_locale().string(), "LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8", "LANGUAGE=de"});
}

TEST_CASE("transcripts, with German numbers only, and west of Greenwich") {
  check_all({"TZ=America/St_Johns", "LOCPATH=" + german_locale().string(), "LC_NUMERIC=de_DE.UTF-8", "LANG=C", "COLUMNS=50"});
}

TEST_CASE("a transcript that is wrong is found out") {
  const auto faults = [](const std::string& text) { return read_transcript("t", text).faults.size(); };
  CHECK(faults("== a\n$ true\n= 0\n") == 0);
  CHECK(faults("== a\n= 0\n") == 1);
  CHECK(faults("== a\n$ true\n") == 1);
  CHECK(faults("$ true\n") == 1);
  CHECK(faults("== a\n$ true\n> x\n>+ y\n= 0\n") == 1);
  CHECK(faults("== a\n$ true\n@ awaist x\n= 0\n") == 1);
  const Sandbox box;
  const auto wrong = [&](const std::string& text, int seconds = 5) {
    const Transcript t = read_transcript("t", text);
    RunAs as;
    as.seconds = seconds;
    return difference(t.cases.at(0), box.run(t.cases.at(0).script, as));
  };
  CHECK(wrong("== a\n$ printf 'b\\n\\n'; printf 'c\\n' >&2; exit 3\n> b\n>\n! c\n= 3\n").empty());
  CHECK_FALSE(wrong("== a\n$ echo b\n= 0\n").empty());
  CHECK_FALSE(wrong("== a\n$ printf b\n> b\n= 0\n").empty());
  CHECK_FALSE(wrong("== a\n$ echo b\n>+ c\n= 0\n").empty());
  CHECK_FALSE(wrong("== a\n$ echo b\n>- b\n= 0\n").empty());
  CHECK_FALSE(wrong("== a\n$ true\n= 1\n").empty());
  CHECK_FALSE(wrong("== a\n$ sleep 60\n= 0\n", 1).empty());
  CHECK(wrong("== a\n$ kill -9 $$\n= 137\n").empty());
}
