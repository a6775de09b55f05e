# SPDX-License-Identifier: MIT
"""What came out, as tables; 1 where less than 95 % were caught, or an explanation is stale."""
from collections import Counter
from pathlib import Path

EXPLAINED = Path(__file__).with_name("explained.txt")
WANTED, FEWEST = 0.95, 200


def explained():
    """Reason by fault: a line `file: was => becomes`, and its reason indented below it."""
    reasons, at = {}, None
    for line in EXPLAINED.read_text().splitlines() if EXPLAINED.exists() else []:
        if line.startswith("  ") and at:
            reasons[at] = (reasons[at] + " " + line.strip()).strip()
        elif line.strip() and not line.startswith("#"):
            at = line.strip()
            reasons[at] = ""
    return reasons


def name(row):
    return f"{row['file']}: {row['was']} => {row['becomes']}"


def table(head, rows):
    print("\n| " + " | ".join(head) + " |\n|" + " --- |" * len(head))
    for row in rows:
        print("| " + " | ".join(str(c) for c in row) + " |")


def tally(rows, key):
    for value in sorted({r[key] for r in rows}):
        of = [r for r in rows if r[key] == value]
        states = Counter(r["state"] for r in of)
        yield value, len(of), states["caught"], states["survived"]


def show(rows, queues):
    reasons = explained()
    valid = [r for r in rows if r["state"] in ("caught", "survived")]
    survivors = [r for r in valid if r["state"] == "survived"]
    open_ones = [r for r in survivors if not reasons.get(name(r))]
    known = {f.name for q in queues.values() for f in q}
    stale = [n for n in reasons if n not in known]
    caught = len(valid) - len(survivors)
    table(["file", "faults", "caught", "survived"], tally(valid, "file"))
    table(["kind", "faults", "caught", "survived"], tally(valid, "kind"))
    table(["caught first by", "faults"], Counter(r["by"] for r in valid if r["state"] == "caught").most_common())
    table(["how", "faults"], Counter(r["how"] for r in valid if r["state"] == "caught").most_common())
    for title, some in (("survived, explained", [r for r in survivors if r not in open_ones]), ("survived, not explained", open_ones)):
        print(f"\n{title}: {len(some)}")
        for r in some:
            print(f"  {r['file']}:{r['line']} {r['kind']}\n    - {r['was']}\n    + {r['becomes']}" + (f"\n    {reasons[name(r)]}" if reasons.get(name(r)) else ""))
    left_out = Counter(r["state"] for r in rows if r not in valid)
    print(f"\nleft out: {left_out['discarded']} that do not compile, link or start, {left_out['same code']} that compile to the same bytes")
    for n in stale:
        print(f"explained, but no such fault any more: {n}")
    share = caught / len(valid) if valid else 0.0
    apart = caught / (len(valid) - len(survivors) + len(open_ones)) if caught else 0.0
    print(f"caught {caught} of {len(valid)}: {100 * share:.1f} %; of those that can be told from the sound program {100 * apart:.1f} %")
    return 0 if apart >= WANTED and len(valid) >= FEWEST and not stale else 1
