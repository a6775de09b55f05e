// SPDX-License-Identifier: MIT
// A file that is written, broken off at each step of it: by signals, by faults of the disk, and by others who meddle in between.
// The steps are met exactly, by a tracer that holds the program there.
#include "cli/tracer.hpp"

using namespace curdwright::test;

namespace {

/// A folder with an old file, and the sheet as it must be when it is whole.
struct Desk {
  Desk() {
    box.give("tests/cli/files", ".");
    REQUIRE(box.run("curdwright sheet soy.json > ../whole; mkdir out; echo mine > out/old").status == 0);
    whole = read_file((box.work().parent_path() / "whole").string());
    REQUIRE(whole.size() > 1000);
  }
  /// What strace is to do at a call, and which file is written.
  [[nodiscard]] Outcome write(const std::string& inject, const std::string& to) const {
    return box.run("strace -f -qq -o /dev/null -e signal=none -e inject=" + inject + " curdwright sheet soy.json -o " + to);
  }
  [[nodiscard]] std::string held(const std::string& name) const { return fs::exists(box.work() / name) ? read_file((box.work() / name).string()) : "(none)"; }
  [[nodiscard]] std::string parts() const { return box.run("ls -A out | grep -c part").out; }
  Sandbox box;
  std::string whole;
};

}  // namespace

TEST_CASE("interrupted at any step, a file is whole or as it was, and nothing is left beside it") {
  if (!can_trace("what happens to a file that is broken off")) return;
  for (const std::string signal : {"TERM", "INT", "HUP"})
    for (const std::string call : {"openat", "write", "fsync", "fchmod", "renameat2", "rename"}) {
      const Desk desk;
      INFO(signal << " at " << call);
      const Outcome fresh = desk.write(call + ":signal=" + signal, "out/new"), old = desk.write(call + ":signal=" + signal, "out/old --force");
      // A call that is not made for this file interrupts nothing.
      const bool for_fresh = call != "fchmod" && call != "rename", for_old = call != "renameat2";
      CHECK(fresh.status == (for_fresh ? 130 : 0));
      CHECK(old.status == (for_old ? 130 : 0));
      const std::string there = desk.held("out/new"), was = desk.held("out/old");
      CHECK((there == desk.whole || (for_fresh && there == "(none)")));
      CHECK((was == desk.whole || (for_old && was == "mine\n")));
      CHECK(desk.parts() == "0\n");
    }
}

TEST_CASE("killed without a word, the file is whole or as it was, and a second run is not hindered by what is left") {
  if (!can_trace("what happens to a file that is broken off")) return;
  for (const std::string call : {"write", "fsync", "rename"}) {
    const Desk desk;
    INFO(call);
    const Outcome o = desk.write(call + ":signal=KILL", "out/old --force");
    CHECK(o.status == 137);
    CHECK(desk.held("out/old") == (call == "rename" ? desk.held("out/old") : "mine\n"));
    CHECK((desk.held("out/old") == "mine\n" || desk.held("out/old") == desk.whole));
    CHECK(desk.box.run("curdwright sheet soy.json -o out/old --force").status == 0);
    CHECK(desk.held("out/old") == desk.whole);
  }
}

TEST_CASE("a fault of the disk at any step is told, and changes nothing") {
  if (!can_trace("what happens to a file that is broken off")) return;
  struct Fault {
    std::string inject, told;
  };
  for (const Fault& f : {Fault{"write:error=ENOSPC", "No space left on device"}, Fault{"write:error=EIO", "Input/output error"}, Fault{"write:error=EDQUOT", "Disk quota exceeded"},
                         Fault{"fsync:error=EIO", "Input/output error"}, Fault{"rename,renameat2:error=EIO", "Input/output error"}, Fault{"rename,renameat2:error=ENOSPC", "No space left on device"}}) {
    const Desk desk;
    INFO(f.inject);
    for (const std::string to : {"out/old --force", "out/new"}) {
      // Standard error is written too; only the file's own call may fail.
      const Outcome o = desk.write(f.inject + (f.inject.rfind("write", 0) == 0 ? ":when=1" : ""), to);
      INFO(o.err);
      CHECK(o.status == 3);
      CHECK(o.err.find("cannot be written: " + f.told) != std::string::npos);
      CHECK(o.err.find("why: nothing was changed") != std::string::npos);
    }
    CHECK(desk.held("out/old") == "mine\n");
    CHECK(desk.held("out/new") == "(none)");
    CHECK(desk.parts() == "0\n");
  }
}

TEST_CASE("a call that a signal cut short is made again") {
  if (!can_trace("what happens to a file that is broken off")) return;
  const Desk desk;
  CHECK(desk.write("write:error=EINTR:when=1", "out/new").status == 0);
  CHECK(desk.held("out/new") == desk.whole);
}

TEST_CASE("where names cannot be guarded while renaming, a second name does it") {
  if (!can_trace("what happens to a file that is broken off")) return;
  const Desk desk;
  CHECK(desk.write("renameat2:error=EINVAL", "out/new").status == 0);
  CHECK(desk.held("out/new") == desk.whole);
  CHECK(desk.parts() == "0\n");
}

TEST_CASE("what others do between the look and the write is not lost") {
  if (!can_trace("what happens to a file that is broken off")) return;
  const Desk desk;
  const auto meanwhile = [&](const std::string& what, const std::string& to) {
    return desk.box.run("strace -f -qq -o /dev/null -e signal=none -e inject=fsync:delay_enter=1500000 curdwright sheet soy.json -o " + to + " & p=$!\n" +
                        "i=0; until ls out/.curdwright-*.part > /dev/null 2>&1; do sleep 0.02; i=$((i+1)); [ $i -lt 400 ] || exit 99; done\n" + what + "\nwait $p");
  };
  SECTION("a file that came to be in between is not overwritten unasked") {
    const Outcome o = meanwhile("echo theirs > out/new", "out/new");
    CHECK(o.status == 2);
    CHECK(o.err == "out/new: the file is there already\n  why: nothing is overwritten unasked\n  fix: use --force, or another name\n");
    CHECK(desk.held("out/new") == "theirs\n");
    CHECK(desk.parts() == "0\n");
  }
  SECTION("a link that came to be in between neither") {
    const Outcome o = meanwhile("ln -s ../soy.json out/new", "out/new");
    CHECK(o.status == 2);
    CHECK(desk.held("soy.json") == from_source("tests/cli/files/soy.json"));
    CHECK(fs::is_symlink(desk.box.work() / "out/new"));
  }
  SECTION("a file that vanished in between is written") {
    CHECK(meanwhile("rm out/old", "out/old --force").status == 0);
    CHECK(desk.held("out/old") == desk.whole);
  }
  SECTION("a folder that vanished in between is told") {
    const Outcome o = meanwhile("rm -r out", "out/new");
    CHECK(o.status == 3);
    CHECK(o.err.find("out/new: cannot be written: No such file or directory") != std::string::npos);
    CHECK(!fs::exists(desk.box.work() / "out"));
  }
}
