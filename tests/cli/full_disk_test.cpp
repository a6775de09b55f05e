// SPDX-License-Identifier: MIT
// A file is written whole or not at all, on a disk that is really full. Limits of file size and full devices are in files.transcript.
#include "cli/run_program.hpp"

using namespace curdwright::test;

namespace {

/// Whether this process may mount: bit 21 of its effective capabilities.
/// In a mount namespace of its own, so that nothing is left mounted whatever happens.
std::string on_small_disk(const std::string& script) {
  return "mkdir small && unshare -m sh -c 'mount -t tmpfs -o size=16k tmpfs small || exit 99\n" + script + "'";
}

}  // namespace

TEST_CASE("a full disk leaves nothing half written, and the old file as it was") {
  const Sandbox box;
  box.give("tests/cli/files", ".");
  const Outcome trial = box.run("mkdir trial && unshare -m mount -t tmpfs -o size=16k tmpfs trial");
  if (trial.status != 0) {
    INFO(trial.err);
    if (may_mount())
      FAIL("this process may mount, but could not");
    else
      WARN("no mount is allowed here: the full disk is stood in for by /dev/full and a limit of file size alone");
    return;
  }
  const Outcome o =
      box.run(on_small_disk("echo mine > small/old.txt\n"
                            "curdwright sheet soy.json --format json -o small/new.json; echo $?\n"
                            "curdwright sheet soy.json --format json -o small/old.txt --force; echo $?\n"
                            "ls small; cat small/old.txt\n"
                            "curdwright new recipe -o small/recipe.json; echo $?; ls small"));
  INFO(o.err);
  CHECK(o.status == 0);
  CHECK(o.out == "3\n3\nold.txt\nmine\n0\nold.txt\nrecipe.json\n");
  CHECK(o.err.find("\"file\": \"small/new.json\"") != std::string::npos);
  CHECK(o.err.find("cannot be written: No space left on device") != std::string::npos);
}

TEST_CASE("a disk that may only be read is told as such") {
  if (!may_mount()) {
    WARN("no mount is allowed here: a folder without permission stands in for it, in files.transcript");
    return;
  }
  const Sandbox box;
  box.give("tests/cli/files", ".");
  const Outcome o = box.run("mkdir small && unshare -m sh -c 'mount -t tmpfs -o ro,size=16k tmpfs small || exit 99\ncurdwright sheet soy.json -o small/x'");
  CHECK(o.status == 3);
  CHECK(o.err.find("small/x: cannot be written: Read-only file system") != std::string::npos);
}
