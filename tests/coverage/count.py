# SPDX-License-Identifier: MIT
"""Links the test programs of one build over the counting library of another, and runs them: count.py RELEASE COVERAGE [FOLDER [ARGUMENT...]]"""
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

TESTS = ["unit", "published", "laws", "rules", "oracles", "golden", "cli"]


def link_line(build, target):
    steps = subprocess.run(["ninja", "-t", "commands", "-s", target], cwd=build, capture_output=True, text=True, check=True).stdout.splitlines()
    line = next(l for l in reversed(steps) if f" -o {target} " in l)
    return shlex.split(line.removeprefix(": && ").split(" && ")[0])


def library(build, out):
    """Its own functions come first in it, or the uncounted copies of inline functions in a test program would take their place."""
    objects = sorted(str(o) for o in (build / "src/CMakeFiles/curdwright.dir").rglob("*.o"))
    linked = [w for w in link_line(build, "curdwright") if "nlopt" in w or "utf8proc" in w]
    subprocess.run(["g++", "-shared", "--coverage", "-Wl,-Bsymbolic", "-o", str(out), *objects, *linked], cwd=build, check=True)


def program(release, coverage, test, lib):
    out = lib.with_name(f"test_{test}")
    instead = {"src/libcurdwright.a": str(lib), "src/libcurdwright_front.a": str(coverage / "src/libcurdwright_front.a"), f"tests/test_{test}": str(out)}
    words = [instead.get(w, w) for w in link_line(release, f"tests/test_{test}")]
    subprocess.run([*words, "--coverage", f"-Wl,-rpath,{lib.parent}"], cwd=release, check=True)
    return out


def counted(release, coverage, test, lib, arguments=()):
    log = coverage / f"{test}.log"
    done = subprocess.run([str(program(release, coverage, test, lib)), *arguments], cwd=coverage, capture_output=True, text=True, errors="replace", stdin=subprocess.DEVNULL)
    log.write_text(done.stdout + done.stderr)
    last = re.findall(r"^(?:All tests passed|test cases:|assertions:).*$", done.stdout, flags=re.M)
    print(f"{test}: {'; '.join(last) or 'ended with ' + str(done.returncode)}", flush=True)
    if not last:
        sys.exit(f"the tests of {test} did not run to their end, see {log}")


def main():
    release, coverage = (Path(p).resolve() for p in sys.argv[1:3])
    lib = coverage / "bin/libcurdwright.so"
    lib.parent.mkdir(exist_ok=True)
    os.environ["CURDWRIGHT_PROGRAM_UNDER_TEST"] = str(coverage / "curdwright")
    library(coverage, lib)
    if len(sys.argv) > 3:
        return counted(release, coverage, sys.argv[3], lib, sys.argv[4:])
    for test in TESTS:
        counted(release, coverage, test, lib)


main()
