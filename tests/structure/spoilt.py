#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""spoilt.py COMPILER: each check of this folder must find what it is for. A copy of the sources is spoilt in one way after another."""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

root = pathlib.Path(__file__).resolve().parents[2]
here = pathlib.Path(__file__).resolve().parent
short_ones = "".join(f"void f{i}() {{\n" + "\n" * 20 + "}\n" for i in range(300))

# Script, file that is spoilt, what is written behind it (or a pair: what in it is replaced by what), what must be said of it.
spoilt = [
    ("includes.py", "src/units.cpp", '#include "curdwright/plan.hpp"\n', "src/units.cpp includes include/curdwright/plan.hpp, which is above it"),
    ("includes.py", "src/units.cpp", '#include "no_such.hpp"\n', "src/units.cpp includes no_such.hpp, which is not there"),
    ("includes.py", "src/cost_more.hpp", "", "src/cost_more.hpp has no layer"),
    ("includes.py", "src/sheets/more.hpp", "", "nobody includes src/sheets/more.hpp"),
    ("includes.py", "include/curdwright/composition.hpp", '#include "curdwright/properties.hpp"\n', "circle of headers: "),
    ("includes.py", "src/composition.cpp", '#include "curdwright/problem.hpp"\n' * 2, "twice"),
    ("includes.py", "src/sheets/csv.cpp", '#include "sheets/ranked.hpp"\n', "circle of units: "),
    ("includes.py", "src/update.cpp", ('#include "observing.hpp"', ""), "no longer a circle"),
    ("uses.py", "include/curdwright/price.hpp", ('parse_price("0.31/kWh");', 'read_a_price("0.31/kWh");'), "uses do not compile"),
    ("uses.py", "include/curdwright/plain.hpp", "#pragma once\n", "plain.hpp does not say what it is for"),
    ("sizes.py", "src/units.cpp", "void f_long() {\n" + "  int x;\n" * 61 + "}\n", "f_long() has 63 lines"),
    ("sizes.py", "src/sheets/said.cpp", "// one more\n" * 400, "src/sheets/said.cpp has"),
    ("sizes.py", "src/units.cpp", "int never_called_here() { return 1; }\n", "nobody calls never_called_here()"),
    ("sizes.py", "src/units.cpp", short_ones, "% of the functions are under 20 lines"),
]


def answer(script, copy):
    asked = sys.argv[1] if script == "uses.py" else "check"
    run = subprocess.run([sys.executable, here / script, asked], env={**os.environ, "CURDWRIGHT_SOURCE": str(copy)}, capture_output=True, text=True)
    return run.returncode, run.stdout + run.stderr


def is_found(copy, script, file, how, due):
    """Spoils the copy, asks, and mends it."""
    before = (copy / file).read_text() if (copy / file).exists() else None
    (copy / file).write_text((before or "") + how if isinstance(how, str) else before.replace(*how, 1))
    status, said = answer(script, copy)
    (copy / file).unlink() if before is None else (copy / file).write_text(before)
    if status == 1 and due in said:
        return True
    print(f"{script} did not say \"{due}\" but: {said}")
    return False


def main():
    with tempfile.TemporaryDirectory() as folder:
        copy = pathlib.Path(folder)
        for part in ("include", "src", "tests", "examples"):
            shutil.copytree(root / part, copy / part, ignore=shutil.ignore_patterns("node_modules", "corpus*"))
        found = [is_found(copy, *row) for row in spoilt]
        # Mended, there is nothing to say.
        clean = [answer(script, copy)[0] == 0 for script in ("includes.py", "sizes.py")]
    print(f"{sum(found)} of {len(spoilt)} faults found, {sum(clean)} of 2 clean")
    return 0 if all(found) and all(clean) else 1


sys.exit(main())
