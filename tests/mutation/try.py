# SPDX-License-Identifier: MIT
"""Plants faults one at a time and notes which tests see them. See run.sh."""
import argparse
import json
import multiprocessing
import os
import re
import sys
from pathlib import Path

import report
from bench import Bench, Broken, TESTS, tried
from faults import draw

ROOT = Path(__file__).resolve().parents[2]
STAGES = sorted(p.relative_to(ROOT).as_posix() for p in ROOT.glob("src/stages/*.cpp"))
OTHERS = [f"src/{n}" for n in ("composition.cpp", "temperature_history.cpp", "properties.cpp", "plan.cpp", "safety.cpp", "cooling.cpp", "settling.cpp", "roots.hpp")]
HEADERS = [f"include/curdwright/stages/{n}.hpp" for n in ("coagulate", "cook", "grinding", "press", "soak", "starch")] + ["include/curdwright/temperature_history.hpp"]
# Of the unit tests those of what is reckoned, of the laws those that are quick. To leave some out saves time, and can only let more faults survive.
RECKONING = ["blend", "chill", "coagulate", "composition", "cook", "cooling", "cost", "extras", "figures", "fit", "measure", "nutrition", "pictures", "plan", "press", "properties",
             "resolve", "roots", "safety", "settling", "soak", "solve", "stage_edges", "starch", "strain", "temperature_history", "update"]
ONLY = {"unit": ["-#", ",".join(f"[#{n}_test]" for n in RECKONING)], "laws": ["-#", "~[#account_laws]~[#learning_laws]"]}
# For what survives all others: each formula told by `explain`, evaluated as text. Takes a minute.
LAST = ["-#", "[#account_laws]"]
SPARE = 10  # times the processor time of the sound run, and some seconds


def options():
    p = argparse.ArgumentParser(description=__doc__)
    p.add_argument("--build", default="build/release")
    p.add_argument("--folder", default="build/mutation")
    p.add_argument("--count", type=int, default=300)
    p.add_argument("--least", type=int, default=8, help="of each file, where it offers so many")
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--jobs", type=int, default=1)
    p.add_argument("--survivors", action="store_true", help="only what the last run did not catch, with the tests as they are now")
    p.add_argument("--accounts", action="store_true", help="and, at last, the laws of the accounts")
    p.add_argument("--show", action="store_true", help="only the report of the last run")
    return p.parse_args()


def read(results):
    return [json.loads(l) for l in results.read_text().splitlines()] if results.exists() else []


def drawn(rows, wanted, queues):
    """Of what is known the faults of this draw: earlier, larger draws may have left more."""
    known, some = {report.name(r): r for r in rows}, []
    for file, queue in queues.items():
        valid = 0
        for row in (known[f.name] for f in queue if f.name in known):
            if valid < wanted[file]:
                some.append(row)
                valid += row["state"] in ("caught", "survived")
    return some


class Steps:
    """The tests in the order they are tried: the unit tests of the file first, then folder by folder."""

    def __init__(self, bench, accounts):
        self.bench, self.accounts, self.limit = bench, accounts, {"accounts": 600}

    def sound(self, first=None):
        """Every test passes where no fault is planted; measures how long they take."""
        for test in TESTS:
            outcome, cpu, said = tried(self.bench.programs / f"test_{test}", ONLY.get(test, []), first, 600)
            passed = re.search(r"All tests passed \((\d+) assertions? in (\d+) test", said)
            if outcome != "passed" or not passed:
                sys.exit(f"without a fault the tests of {test} {outcome}:\n{said[-3000:]}")
            self.limit[test] = int(SPARE * cpu) + 10
            print(f"sound: {test}, {passed[2]} tests, {passed[1]} assertions, {cpu:.1f} s", flush=True)

    def order(self, file):
        own = ROOT / "tests/unit" / (Path(file).stem + "_test.cpp")
        if own.exists():
            yield "unit", ["-#", f"[#{own.stem}]"]
        for test in TESTS:
            yield test, ONLY.get(test, [])
        if self.accounts:
            yield "accounts", LAST

    def catch(self, file, first, programs):
        """The first tests that see it: (folder, outcome, title), or None."""
        for test, arguments in self.order(file):
            outcome, _, said = tried(programs["laws" if test == "accounts" else test], ["-a", *arguments], first, self.limit[test])
            if outcome != "passed":
                title = re.search(r"^-{79}\n(.+?)\n(?:  .*\n)*-{79}", said, flags=re.M)
                return test, outcome, title.group(1) if title else ""
        return None


def judge(bench, steps, fault):
    row = {"file": fault.file, "kind": fault.kind, "line": fault.line, "was": fault.was, "becomes": fault.becomes}
    try:
        made = bench.plant(fault)
        if made is None:
            return row | {"state": "same code"}
        seen = steps.catch(fault.file, *bench.load(made))
    except Broken as broken:
        return row | {"state": "discarded", "why": str(broken)[:200]}
    if seen is None:
        return row | {"state": "survived"}
    return row | {"state": "caught", "by": seen[0], "how": seen[1], "test": seen[2]}


def anew(file):
    """A source without a fault, compiled the way a fault will be."""
    bench = shared
    bench.at(file)
    stamp, made = bench.place / "stamp", bench.place / "sound-0" / (file.replace("/", "-") + ".o")
    if not (stamp.exists() and stamp.read_text() == bench.stamp(file)):
        made = bench.sound_objects(file, (ROOT / file).read_text(), [file])[file]
        stamp.write_text(bench.stamp(file))
    return file, {file: made}


def sound_with_sources_anew(bench, steps, files, jobs):
    """The way a fault goes, without a fault: every file at once compiled anew and loaded first must pass as well."""
    global shared
    shared = bench
    with multiprocessing.get_context("fork").Pool(jobs, os.setsid) as pool:
        for file, made in pool.imap_unordered(anew, [f for f in files if f.endswith(".cpp")]):
            bench.sound[(file, (file,))] = made
            bench.headers.add(file)
    bench.at("all")
    steps.sound(bench.load({s: o for made in bench.sound.values() for s, o in made.items()})[0])


def go_through(file):
    """All wanted faults of one file, in a process of its own."""
    bench, steps, wanted, queues, done, lock, results = shared
    bench.at(file)
    valid = 0
    for fault in queues[file]:
        if valid >= wanted[file]:
            break
        row = done.get(fault.name)
        if row is None:
            row = judge(bench, steps, fault)
            with lock, results.open("a") as out:
                out.write(json.dumps(row) + "\n")
            print(f"{row['state']} {row.get('by', '')} {row['file']}:{row['line']} {row['kind']}: {row['becomes'][:120]}", flush=True)
        valid += row["state"] in ("caught", "survived")


def main():
    o = options()
    folder = ROOT / o.folder
    folder.mkdir(parents=True, exist_ok=True)
    results = folder / f"faults-{o.seed}.jsonl"
    rows = read(results)
    wanted, queues = draw(ROOT, STAGES + OTHERS + HEADERS, o.count, o.least, o.seed)
    for file in HEADERS:  # each means that a dozen sources are compiled
        wanted[file] = min(wanted[file], o.least)
    if o.show:
        return report.show(drawn(rows, wanted, queues), queues)
    bench = Bench(ROOT, ROOT / o.build, folder)
    bench.link_all()
    steps = Steps(bench, o.accounts)
    sound_with_sources_anew(bench, steps, STAGES + OTHERS, o.jobs)
    if o.survivors:
        rows = [r for r in rows if r["state"] != "survived"]
        results.write_text("".join(json.dumps(r) + "\n" for r in rows))

    global shared
    shared = bench, steps, wanted, queues, {report.name(r): r for r in rows}, multiprocessing.Lock(), results
    with multiprocessing.get_context("fork").Pool(o.jobs, os.setsid) as pool:
        for _ in pool.imap_unordered(go_through, list(queues)):
            pass
    return report.show(drawn(read(results), wanted, queues), queues)


if __name__ == "__main__":
    sys.exit(main())
