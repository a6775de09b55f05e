// SPDX-License-Identifier: MIT
// Nothing is touched but what was named: every command in every form (tests/support/every_command.txt), with the files compared
// before and after, and with every call to the system that could change a file looked at.
#include <sys/stat.h>

#include <map>
#include <regex>
#include <set>

#include "cli/tracer.hpp"

using namespace curdwright::test;

namespace {

std::vector<std::string> every_command() {
  std::istringstream in(from_source("tests/support/every_command.txt"));
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);)
    if (!line.empty() && line[0] != '#') lines.push_back(line);
  return lines;
}

/// A folder as every_command.txt wants it.
struct Kitchen {
  Kitchen() {
    for (const std::string from : {"tests/cli/files", "examples"}) box.give(from, ".");
    REQUIRE(box.run("printf '{\"legume\":\"soybean\"}\\n{bad\\n' > lines.jsonl; mkdir away").status == 0);
  }
  Sandbox box;
};

/// Everything below the folder: kind, permissions, when it was changed, where a link leads, what it holds.
std::map<std::string, std::string> picture_of(const fs::path& folder) {
  std::map<std::string, std::string> all;
  for (const auto& e : fs::recursive_directory_iterator(folder)) {
    struct stat s {};
    REQUIRE(::lstat(e.path().c_str(), &s) == 0);
    std::string text = std::to_string(s.st_mode) + " " + std::to_string(s.st_ino);
    // A folder changes with what is in it, which is compared by itself.
    if (!S_ISDIR(s.st_mode)) text += " " + std::to_string(s.st_mtim.tv_sec) + "." + std::to_string(s.st_mtim.tv_nsec);
    if (S_ISLNK(s.st_mode)) text += " " + fs::read_symlink(e.path()).string();
    if (S_ISREG(s.st_mode)) text += " " + read_file(e.path().string());
    all[fs::relative(e.path(), folder).string()] = text;
  }
  return all;
}

std::set<std::string> changed(const std::map<std::string, std::string>& before, const std::map<std::string, std::string>& after) {
  std::set<std::string> names;
  for (const auto& [name, text] : before)
    if (const auto at = after.find(name); at == after.end() || at->second != text) names.insert(name);
  for (const auto& [name, text] : after)
    if (before.count(name) == 0) names.insert(name);
  return names;
}

/// What a command line may change: what it names as its output, and for the verbs that add to it, the diary with its lock.
std::set<std::string> named_by(const std::string& line) {
  static const std::regex output("(?:-o|--recipe-file|--kitchen-file) ([^ ]+)"), diary("--diary ([^ ]+)"), adds("^diary (start|add|score|piece) ");
  std::set<std::string> names;
  for (std::sregex_iterator i(line.begin(), line.end(), output), end; i != end; ++i) names.insert((*i)[1]);
  std::smatch found;
  if (std::regex_search(line, adds) && std::regex_search(line, found, diary)) names.insert({found[1], found[1].str() + ".lock"});
  return names;
}

/// The unfinished file stands beside the one that is named.
bool is_named(const std::string& path, const std::set<std::string>& names) {
  static const std::regex part("\\.curdwright-[0-9]+-[0-9]+\\.part");
  if (names.count(path) > 0) return true;
  const fs::path p(path);
  return std::regex_match(p.filename().string(), part) &&
         std::any_of(names.begin(), names.end(), [&](const std::string& n) { return fs::path(n).parent_path() == p.parent_path(); });
}

/// Paths in a trace that a call could have changed: of every call that is not known only to look.
std::vector<std::string> touched_in(const std::string& trace) {
  static const std::regex call("^(?:[0-9]+ +)?([a-z0-9_]+)\\("), quoted("\"((?:[^\"\\\\]|\\\\.)*)\"");
  static const std::set<std::string> looks = {"execve", "stat", "lstat", "newfstatat", "statx", "access", "faccessat", "faccessat2", "readlink", "readlinkat", "getcwd", "statfs"};
  std::vector<std::string> paths;
  std::istringstream in(trace);
  std::smatch found;
  for (std::string line; std::getline(in, line);) {
    if (!std::regex_search(line, found, call) || looks.count(found[1]) > 0) continue;
    const bool opens = found[1] == "open" || found[1] == "openat";
    if (opens && line.find("O_WRONLY") == std::string::npos && line.find("O_RDWR") == std::string::npos && line.find("O_CREAT") == std::string::npos && line.find("O_TRUNC") == std::string::npos) continue;
    for (std::sregex_iterator i(line.begin(), line.end(), quoted), end; i != end; ++i) paths.push_back((*i)[1]);
  }
  return paths;
}

const std::string strace = "strace -f -qq -s 4096 -e trace=%file -e signal=none -o ";

/// Runs the line, traced; whether it answered. Nothing but what it names may be touched.
bool runs_within(const Kitchen& kitchen, const std::string& line, std::size_t& touches, bool traced) {
  INFO("curdwright " << line);
  const auto before = picture_of(kitchen.box.work());
  const Outcome o = kitchen.box.run((traced ? strace + "../trace " : "") + "curdwright " + line);
  const std::string trace = traced ? read_file((kitchen.box.work().parent_path() / "trace").string()) : "";
  REQUIRE((!traced || trace.find("execve(") != std::string::npos));
  const std::set<std::string> names = named_by(line);
  const std::string work = kitchen.box.work().string() + "/";
  for (std::string path : touched_in(trace)) {
    if (path.rfind(work, 0) == 0) path.erase(0, work.size());
    INFO("touches " << path);
    CHECK(is_named(path, names));
    ++touches;
  }
  for (const std::string& name : changed(before, picture_of(kitchen.box.work()))) {
    INFO("changed " << name);
    CHECK(names.count(name) > 0);
  }
  CHECK(o.status < 4);
  return o.status == 0;
}

/// Lines that are also asked to write to a file: all but those that write files of their own, or take no --output.
bool takes_output(const std::string& line) {
  static const std::regex not_these("^(each|help$|diary (start|add|score|piece)|new start|shell offer|--)");
  return !std::regex_search(line, not_these);
}

}  // namespace

TEST_CASE("no command in any form touches a file that was not named") {
  const Kitchen kitchen;
  const bool traced = can_trace("what a command touches and leaves as it was");
  std::size_t touches = 0, answered = 0, written = 0;
  for (const std::string& line : every_command()) {
    if (!runs_within(kitchen, line, touches, traced)) continue;
    ++answered;
    if (!takes_output(line)) continue;
    const std::string file = "away/" + std::to_string(++written) + ".out";
    CHECK(runs_within(kitchen, line + " -o " + file, touches, traced));
    CHECK(fs::file_size(kitchen.box.work() / file) > 0);
  }
  CHECK(answered > 60);
  CHECK(written > 50);
  // The unfinished file is opened and renamed, so an output is named at least thrice.
  CHECK((!traced || touches >= 3 * written));
  for (const auto& e : fs::recursive_directory_iterator(kitchen.box.work())) CHECK(e.path().extension() != ".part");
}

TEST_CASE("a command that touches what was not named would be found") {
  CHECK(touched_in("1 openat(AT_FDCWD, \"x\", O_RDONLY) = 3\n1 newfstatat(AT_FDCWD, \"y\", {}, 0) = 0\n").empty());
  CHECK(touched_in("1 openat(AT_FDCWD, \"x\", O_WRONLY|O_CREAT, 0666) = 3\n1 unlink(\"y\") = 0\nmkdir(\"z\", 0700) = 0\n") == std::vector<std::string>{"x", "y", "z"});
  CHECK(is_named("a/.curdwright-12-0.part", {"a/b"}));
  CHECK_FALSE(is_named(".curdwright-12-0.part", {"a/b"}));
  CHECK_FALSE(is_named("a/c", {"a/b"}));
  CHECK(changed({{"a", "1"}, {"b", "1"}}, {{"a", "2"}, {"c", "1"}}) == std::set<std::string>{"a", "b", "c"});
  CHECK(named_by("diary list --diary d").empty());
  CHECK(named_by("diary add x --diary d") == std::set<std::string>{"d", "d.lock"});
}

TEST_CASE("the list of every command holds every command, every verb, every word and every form") {
  const Kitchen kitchen;
  const auto lines = every_command();
  const auto offered = [&](const std::string& before) {
    std::istringstream in(kitchen.box.run("curdwright shell offer -- " + before + " | tail -n +2 | cut -f 1").out);
    std::vector<std::string> words;
    for (std::string w; std::getline(in, w);) words.push_back(w);
    REQUIRE(!words.empty());
    return words;
  };
  const auto listed = [&](const std::string& begin, const std::string& part) {
    return std::any_of(lines.begin(), lines.end(), [&](const std::string& l) { return (l + " ").rfind(begin + " ", 0) == 0 && (l + " ").find(part) != std::string::npos; });
  };
  for (const std::string& command : offered("''")) {
    INFO(command);
    CHECK(listed(command, ""));
  }
  for (const std::string command : {"list", "show", "new", "diary"})
    for (const std::string& word : offered(command + " ''")) {
      INFO(command << " " << word);
      CHECK(listed(command + " " + word, ""));
    }
  for (const std::string command : {"sheet", "check", "explain", "vary", "best", "compare", "rank", "learn", "list", "show", "help", "diary list", "diary show", "diary compare", "diary export"})
    for (const std::string& form : offered(command + " --format ''")) {
      INFO(command << " --format " << form);
      CHECK(listed(command, " --format " + form + " "));
    }
}
