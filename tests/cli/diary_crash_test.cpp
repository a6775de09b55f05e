// SPDX-License-Identifier: MIT
// The diary keeps every line that it said was kept: killed at any moment, written by many at once, on a disk that is full.
#include <algorithm>
#include <cmath>
#include <random>
#include <regex>
#include <set>

#include "cli/tracer.hpp"
#include "curdwright/diary.hpp"

using namespace curdwright::test;
using curdwright::Diary;
using curdwright::DiaryNote;

namespace {

Diary diary_in(const fs::path& file) { return must(curdwright::read_diary(read_file(file.string()), "d.jsonl")); }

std::set<std::string> notes_of(const Diary& d) {
  std::set<std::string> all;
  for (const auto& b : d.batches)
    for (const DiaryNote& n : b.notes) all.insert(n.text);
  return all;
}

/// A sandbox with a diary in which so many batches are begun.
struct Kept {
  explicit Kept(int batches) {
    box.give("tests/cli/files", ".");
    for (int i = 0; i < batches; ++i) REQUIRE(box.run("curdwright diary start soy.json --diary d.jsonl --at '2027-03-05 18:00'").status == 0);
    file = box.work() / "d.jsonl";
  }
  Sandbox box;
  fs::path file;
};

/// Adds a note in a process of its own and kills it after so long, if it still runs. Whether it said that it was done.
bool added_before_the_kill(const Kept& kept, const std::string& note, std::chrono::microseconds after) {
  const std::string program = (folder_of_program() / "curdwright").string(), file = kept.file.string(), word = "note=" + note;
  const char* argv[] = {program.c_str(), "diary", "add", "soybean-1", word.c_str(), "--diary", file.c_str(), nullptr};
  const char* envp[] = {"LC_ALL=C", nullptr};
  const pid_t child = ::fork();
  if (child == 0) {
    const int nowhere = ::open("/dev/null", O_WRONLY);
    ::dup2(nowhere, 1);
    ::execve(program.c_str(), const_cast<char* const*>(argv), const_cast<char* const*>(envp));
    ::_exit(126);
  }
  const auto end = std::chrono::steady_clock::now() + after;
  int state = 0;
  pid_t done = 0;
  while ((done = ::waitpid(child, &state, WNOHANG)) == 0 && std::chrono::steady_clock::now() < end) std::this_thread::sleep_for(std::chrono::microseconds(20));
  if (done == 0) {
    ::kill(child, SIGKILL);
    ::waitpid(child, &state, 0);
  }
  return WIFEXITED(state) && WEXITSTATUS(state) == 0;
}

}  // namespace

TEST_CASE("killed at a thousand moments, the diary holds every note that was said to be kept") {
  const Kept kept(1);
  std::mt19937 chance(20270305);
  // How long one takes here, kept up as the diary grows and the machine is more or less busy, so that kills fall before,
  // into and behind the write.
  std::set<std::string> promised;
  const auto added_in_us = [&](const std::string& note) {
    const auto begun = std::chrono::steady_clock::now();
    REQUIRE(added_before_the_kill(kept, note, std::chrono::seconds(60)));
    promised.insert(note);
    return std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - begun).count();
  };
  double one_us = 0;
  for (const char* first : {"first-1", "first-2", "first-3"}) one_us = std::max(one_us, added_in_us(first));
  int killed = 0;
  for (int i = 0; killed < 1000 && i < 6000; ++i) {
    const std::string note = "n-" + std::to_string(i);
    const auto begun = std::chrono::steady_clock::now();
    if (added_before_the_kill(kept, note, std::chrono::microseconds(std::uniform_int_distribution<long>(0, std::lround(1.1 * one_us))(chance)))) {
      promised.insert(note);
      one_us += 0.1 * (std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - begun).count() - one_us);
    } else {
      ++killed;
      one_us *= 1.002;  // else a machine that got slower would kill all of them early
    }
    const auto there = notes_of(diary_in(kept.file));
    REQUIRE(std::includes(there.begin(), there.end(), promised.begin(), promised.end()));
  }
  const auto there = notes_of(diary_in(kept.file)).size();
  INFO(killed << " killed, " << promised.size() << " promised, " << there << " kept, one takes " << one_us << " us");
  CHECK(killed == 1000);
  CHECK(promised.size() >= 50);
  CHECK(kept.box.run("curdwright diary show soybean-1 --diary d.jsonl --on 2027-03-06").status == 0);
}

TEST_CASE("nothing is said to be kept before it is flushed, nor a new diary before its name is") {
  if (!can_trace("that a line is flushed before it is said to be kept")) return;
  const Kept kept(0);
  // What a power cut leaves is what was flushed: the line and, where the file is new, its name in the folder.
  const auto calls_of = [&](const std::string& command) {
    REQUIRE(kept.box.run("strace -qq -e signal=none -e trace=write,fsync -o calls curdwright diary " + command + " --diary d.jsonl").status == 0);
    return std::regex_replace(read_file((kept.box.work() / "calls").string()), std::regex(R"((write|fsync)\(([0-9]+).*= ([0-9]+)\n)"), "$1 $2, ");
  };
  // Which numbers files get hangs on what is open already.
  CHECK_THAT(calls_of("start soy.json"), Catch::Matches("write ([0-9]+), fsync \\1, fsync [0-9]+, write 1, "));
  CHECK_THAT(calls_of("add soybean-1 note=x"), Catch::Matches("write ([0-9]+), fsync \\1, write 1, "));
  CHECK_THAT(calls_of("score soybean-1 taste=4"), Catch::Matches("write ([0-9]+), fsync \\1, write 1, "));
}

TEST_CASE("eight writers of five hundred notes each lose none, and two starts at once get two ids") {
  const Kept kept(0);
  RunAs as;
  as.seconds = 400;  // 70 s where nothing else runs
  const Outcome o = kept.box.run(
      "for w in 1 2 3 4 5 6 7 8; do (\n"
      "  id=$(curdwright diary start soy.json --diary d.jsonl) || exit 1\n"
      "  echo $id >> ids\n"
      "  i=0; while [ $i -lt 500 ]; do i=$((i+1)); curdwright diary add $id note=$w-$i --diary d.jsonl >/dev/null || echo failed $w-$i; done\n"
      ") & done; wait; sort -u ids | wc -l; curdwright diary list --diary d.jsonl | wc -l",
      as);
  INFO(o.err);
  CHECK(o.status == 0);
  CHECK(o.out == "8\n9\n");
  CHECK(o.err.empty());
  const Diary d = diary_in(kept.file);
  CHECK(d.lines == 4008);
  CHECK(d.warnings.empty());
  CHECK(notes_of(d).size() == 4000);
  for (const auto& b : d.batches) CHECK(b.notes.size() == 500);
}

TEST_CASE("on a full disk nothing is half written, and what was kept before stays") {
  if (!may_mount()) {
    WARN("no mount is allowed here: a limit of file size stands in for the full disk, in diary.transcript");
    return;
  }
  const Kept kept(0);
  const Outcome o = kept.box.run(
      "mkdir small && unshare -m sh -c 'mount -t tmpfs -o size=64k tmpfs small || exit 99\n"
      "curdwright diary start soy.json --diary small/d.jsonl || exit 98\n"
      "long=$(printf %0400d 7); n=0\n"
      "while curdwright diary add soybean-1 note=$long --diary small/d.jsonl >/dev/null; do n=$((n+1)); [ $n -lt 1000 ] || exit 97; done\n"
      "echo $((n+1)); wc -l < small/d.jsonl; tail -c1 small/d.jsonl | od -An -c\n"
      "curdwright diary list --diary small/d.jsonl | wc -l\n"
      "curdwright diary start soy.json --diary small/d.jsonl; echo $?; wc -l < small/d.jsonl'");
  INFO(o.out << o.err);
  REQUIRE(o.status == 0);
  std::istringstream lines(o.out);
  std::string id, acknowledged, there, feed, listed, status, after;
  std::getline(lines, id), std::getline(lines, acknowledged), std::getline(lines, there), std::getline(lines, feed), std::getline(lines, listed), std::getline(lines, status), std::getline(lines, after);
  CHECK(id == "soybean-1");
  CHECK(std::stoi(acknowledged) > 20);
  CHECK(there == acknowledged);
  CHECK(feed == "  \\n");
  CHECK(listed == "2");
  CHECK(status == "3");
  CHECK(after == acknowledged);
  CHECK(o.err.find("small/d.jsonl: cannot be written: No space left on device") != std::string::npos);
  CHECK(o.err.find("why: the diary is as it was: what it held before is safe, and this was not added") != std::string::npos);
  CHECK(o.err.find("fix: free some space, then tell it again") != std::string::npos);
}

TEST_CASE("a diary on a disk that may only be read is shown, and not added to") {
  if (!may_mount()) {
    WARN("no mount is allowed here: a folder without permission stands in for it, in diary.transcript");
    return;
  }
  const Kept kept(1);
  const Outcome o = kept.box.run(
      "mkdir small && unshare -m sh -c 'mount -t tmpfs -o size=64k tmpfs small && cp d.jsonl small && mount -o remount,ro small || exit 99\n"
      "curdwright diary list --diary small/d.jsonl | wc -l; curdwright diary add soybean-1 note=x --diary small/d.jsonl'");
  CHECK(o.status == 3);
  CHECK(o.out == "2\n");
  CHECK(o.err.find("Read-only file system") != std::string::npos);
  CHECK(o.err.find("fix: name a diary on a disk that may be written to, with --diary FILE") != std::string::npos);
}
