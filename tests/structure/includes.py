#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The include graph of include/ and src/: what points where, and what is odd about it.

  includes.py check            faults: breaks of the layers, circles, headers that nobody includes, includes of nothing
  includes.py report           fan-in and fan-out, sources that only forward, the longest chain
  includes.py dot layers|files the graph for Graphviz, e.g. `includes.py dot layers | dot -Tsvg -o layers.svg`

A unit is a header with the source of the same name. The layers are those of tests/meta/meta_test.cpp: there is one list.
"""
import collections
import os
import pathlib
import re
import sys

root = pathlib.Path(os.environ.get("CURDWRIGHT_SOURCE") or pathlib.Path(__file__).resolve().parents[2])
# Units that need each other, and why. Headers never go in a circle; these do through a source.
agreed = {
    "catalogue catalogue_parts record_reading records remembered": "private parts of the catalogue, which its source puts together",
    "kitchen kitchen_fields": "the description of its fields is a private header of the same source",
    "recipe recipe_fields": "as for the kitchen",
    "resolve scopes solve": "resolving chooses the water, by a root of the plan; what was learned is put on a setup",
    "cautions rules/rules": "the table of rules in the source, their facts in the header",
    "observing update": "the engine of update() takes its observations",
    "planner schedule": "the planner is private to the schedule, which says what an operation is",
    "diary diary_lines": "lines are a private header of the diary",
    "sheets/step_parts sheets/steps": "what a step is stands in the header of the steps, which are made of the parts",
    "trouble trouble_words": "conditions and slots are private to trouble",
    "program/choices program/options": "the help is made from the table of options, with the words that each may be",
    "program/offer_sources program/offers program/reference_pages program/schema_command":
        "what may be typed next comes from the tables of lists and schemas, whose pages tell the options",
}


def unit(path):
    """include/curdwright/plan.hpp and src/plan.cpp are the unit `plan`."""
    return re.sub(r"^(include/curdwright|src)/", "", str(path)).rsplit(".", 1)[0]


def sources():
    return sorted(p.relative_to(root) for top in ("include", "src") for p in (root / top).rglob("*.?pp"))


def target(name, files):
    """The file that an include line means, or nothing."""
    for place in ("include/", "src/"):
        if pathlib.Path(place + name) in files:
            return pathlib.Path(place + name)
    return None


def graph():
    """file -> files it includes, and include lines that lead nowhere."""
    files, edges, lost = set(sources()), {}, []
    for f in sorted(files):
        names = re.findall(r'^#include "([^"]+)"', (root / f).read_text(), re.M)
        edges[f] = [t for t in (target(n, files) for n in names) if t]
        lost += [f"{f} includes {n}, which is not there" for n in names if not target(n, files)]
    return edges, lost


def layers():
    """The list in the test of the house rules, first layer first."""
    text = (root / "tests/meta/meta_test.cpp").read_text()
    block = re.search(r"layers = \{(.*?)\n  \};", text, re.S).group(1)
    return [re.findall(r'"([^"]+)"', row) for row in re.findall(r"\{([^{}]*)\}", block)]


def layer_of(name, rows):
    for i, row in enumerate(rows):
        if any(name == n or (n.endswith("/") and name.startswith(n)) for n in row):
            return i
    return -1


def by_unit(edges):
    units = collections.defaultdict(set)
    for f, targets in edges.items():
        units[unit(f)] |= {unit(t) for t in targets} - {unit(f)}
    return units


def circles(edges):
    """Strongly connected parts with more than one member (Tarjan)."""
    index, low, stack, found = {}, {}, [], []

    def visit(v):
        index[v] = low[v] = len(index)
        stack.append(v)
        for w in sorted(edges.get(v, ())):
            if w not in index:
                visit(w)
                low[v] = min(low[v], low[w])
            elif w in stack:
                low[v] = min(low[v], index[w])
        if low[v] == index[v]:
            part = [stack.pop()]
            while part[-1] != v:
                part.append(stack.pop())
            if len(part) > 1:
                found.append(sorted(map(str, part)))

    for v in sorted(edges):
        if v not in index:
            visit(v)
    return found


def faults():
    edges, lost = graph()
    rows = layers()
    all_faults = list(lost)
    for f, targets in edges.items():
        mine = layer_of(unit(f), rows)
        if mine < 0:
            all_faults.append(f"{f} has no layer")
        all_faults += [f"{f} includes {t}, which is above it" for t in targets if layer_of(unit(t), rows) > mine]
        all_faults += [f"{f} includes {t} twice" for t, n in collections.Counter(targets).items() if n > 1]
    used = {t for targets in edges.values() for t in targets}
    own = {f for f in edges if f.suffix == ".hpp" and f not in used}
    all_faults += [f"nobody includes {f}" for f in sorted(own)]
    all_faults += ["circle of headers: " + ", ".join(c) for c in circles({f: t for f, t in edges.items() if f.suffix == ".hpp"})]
    found = {" ".join(c) for c in circles(by_unit(edges))}
    all_faults += [f"circle of units: {c}" for c in sorted(found - agreed.keys())]
    all_faults += [f"no longer a circle, strike it from the list: {c}" for c in sorted(agreed.keys() - found)]
    return all_faults


def code_lines(f):
    lines = (root / f).read_text().splitlines()
    return [l for l in lines if l.strip() and not l.lstrip().startswith(("//", "#"))]


def depth(edges):
    """Length of the longest chain of includes that starts at each unit."""
    known = {}

    def of(v, above=()):
        if v in above:
            return 0
        if v not in known:
            known[v] = 1 + max((of(w, above + (v,)) for w in edges.get(v, ())), default=0)
        return known[v]

    return {v: of(v) for v in edges}


def reach(edges):
    """header -> how many sources are built again when it changes."""
    count = collections.Counter()
    for f in edges:
        if f.suffix == ".cpp":
            seen, todo = set(), [f]
            while todo:
                todo += [t for t in edges[todo.pop()] if t not in seen and not seen.add(t)]
            count.update(seen)
    return count


def report():
    edges, _ = graph()
    units = by_unit(edges)
    rows = layers()
    fan_in = collections.Counter(t for targets in units.values() for t in targets)
    print(f"{len(edges)} files, {len(units)} units, {sum(map(len, units.values()))} includes between units, longest chain {max(depth(units).values())}")
    print("\nmost included:", ", ".join(f"{n} {c}" for n, c in fan_in.most_common(12)))
    print("include most:", ", ".join(f"{n} {len(t)}" for n, t in sorted(units.items(), key=lambda u: -len(u[1]))[:12]))
    sources_all = sum(f.suffix == ".cpp" for f in edges)
    print(f"of {sources_all} sources, built again when a header changes:", ", ".join(f"{f.stem} {n}" for f, n in reach(edges).most_common(24)))
    print("known to one other unit only:", ", ".join(f"{n} ({next(u for u, t in units.items() if n in t)})" for n in sorted(units) if fan_in[n] == 1))
    print("\nfewest lines of code:")
    for f in sorted(edges, key=lambda f: len(code_lines(f)))[:12]:
        print(f"  {len(code_lines(f)):3} {f}")
    print("\ncircles of units that are agreed:")
    for names, why in agreed.items():
        print(f"  {names}: {why}")
    print("\nincludes by layer (row includes column):")
    table = collections.Counter((layer_of(u, rows), layer_of(t, rows)) for u, ts in units.items() for t in ts)
    for i, row in enumerate(rows):
        print(f"  {i:2} {row[0][:18]:18}", " ".join(f"{table[i, j] or '.':>3}" for j in range(len(rows))))


def dot(what):
    edges, _ = graph()
    units, rows = by_unit(edges), layers()
    print('digraph includes {\n  rankdir=BT; node [shape=box, fontname="sans-serif", fontsize=11]; edge [color="#777777", fontname="sans-serif", fontsize=9];')
    if what == "layers":
        table = collections.Counter((layer_of(u, rows), layer_of(t, rows)) for u, ts in units.items() for t in ts)
        for i, row in enumerate(rows):
            names = [n.rstrip("/") for n in row]
            print(f'  l{i} [label="{", ".join(names[:5])}{", ..." if len(names) > 5 else ""}"];')
        for i in range(1, len(rows)):
            print(f"  l{i} -> l{i - 1} [style=invis];")
        for (i, j), n in sorted(table.items()):
            if i != j:
                print(f'  l{i} -> l{j} [label="{n}", penwidth={min(4, 0.5 + n / 20):.1f}];')
    else:
        for i in range(len(rows)):
            members = [u for u in sorted(units) if layer_of(u, rows) == i]
            print(f"  subgraph cluster_{i} {{ color=\"#bbbbbb\"; " + " ".join(f'"{u}";' for u in members) + " }")
        for u, targets in sorted(units.items()):
            for t in sorted(targets):
                print(f'  "{u}" -> "{t}";')
    print("}")


if __name__ == "__main__":
    command = sys.argv[1:] or ["check"]
    if command == ["check"]:
        found = faults()
        print("\n".join(found) if found else "no faults")
        sys.exit(1 if found else 0)
    elif command == ["report"]:
        report()
    elif command in (["dot", "layers"], ["dot", "files"]):
        dot(command[1])
    else:
        sys.exit(__doc__)
