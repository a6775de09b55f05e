# SPDX-License-Identifier: MIT
"""Lines and branches of library and program from gcovr's JSON, and what is left out, with its reason: show.py FILE"""
import json
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LEFT_OUT = Path(__file__).with_name("left_out.txt")
LEAST_LINES, LEAST_BRANCHES = 95.0, 85.0


def part_of(file):
    return "program" if file.startswith("src/program/") else "library"


def counted(file):
    lines = {}
    for l in file["lines"]:
        if not l.get("gcovr/noncode"):
            known = lines.setdefault(l["line_number"], [0, []])
            known[0] += l["count"]
            known[1] += [b["count"] for b in l["branches"]]
    return lines


def share(some, all_):
    return 100.0 * some / all_ if all_ else 100.0


def reasons():
    """Each line: file, a piece of the line that is left out, and why; between bars."""
    rows = [[c.strip() for c in l.split("|")] for l in LEFT_OUT.read_text().splitlines() if l.strip() and not l.startswith("#")] if LEFT_OUT.exists() else []
    return [tuple(r) for r in rows]


def missed_lines(files):
    for name, lines in files.items():
        source = (ROOT / name).read_text().splitlines()
        for at in sorted(lines):
            if lines[at][0] == 0:
                yield name, at, source[at - 1].strip()


def table(files):
    worst = []
    for name, lines in files.items():
        hit, branches = sum(1 for c, _ in lines.values() if c), [b for _, bs in lines.values() for b in bs]
        worst.append((share(hit, len(lines)), share(sum(1 for b in branches if b), len(branches)), name, len(lines) - hit, len(branches) - sum(1 for b in branches if b)))
    for lines, branches, name, missed, untaken in sorted(worst):
        if missed or branches < 85:
            print(f"  {name}: lines {lines:.1f} %, {missed} missed; branches {branches:.1f} %, {untaken} not taken")


def main():
    data = json.loads(Path(sys.argv[1]).read_text())
    parts = {"library": {}, "program": {}}
    for f in data["files"]:
        parts[part_of(f["file"])][f["file"]] = counted(f)
    good = True
    for part, files in parts.items():
        lines = [c for l in files.values() for c, _ in l.values()]
        branches = [b for l in files.values() for _, bs in l.values() for b in bs]
        hit, taken = sum(1 for c in lines if c), sum(1 for b in branches if b)
        print(f"{part}: lines {hit} of {len(lines)}, {share(hit, len(lines)):.1f} %; branches {taken} of {len(branches)}, {share(taken, len(branches)):.1f} %")
        if part == "library":
            good = share(hit, len(lines)) >= LEAST_LINES and share(taken, len(branches)) >= LEAST_BRANCHES
        table(files)
    told, used = reasons(), set()
    print("library lines that no test runs through:")
    for name, at, text in missed_lines(parts["library"]):
        why = next((r for r in told if r[0] == name and r[1] in text), None)
        used.add(why)
        good = good and why is not None
        print(f"  {name}:{at}: {text}  [{why[2] if why else 'NOT TOLD'}]")
    for stale in set(told) - used:
        print(f"told as left out, but it is run, or gone: {stale}")
        good = False
    return 0 if good else 1


sys.exit(main())
