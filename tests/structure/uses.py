#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The uses at the head of the public headers, as one program that must compile.

  uses.py COMPILER     compiles them, and looks for headers without a purpose, a use or a word on their terms
  uses.py print        the program

A use is the first indented block of the comment before #pragma once, behind an empty line. What it takes as given (a batch, a
kitchen) becomes a parameter of its function, by the list below.
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

root = pathlib.Path(os.environ.get("CURDWRIGHT_SOURCE") or pathlib.Path(__file__).resolve().parents[2])
# What a name stands for where a use does not say it, and by header where it is something else there.
given = {
    "batch": "const Batch&", "batches": "const std::vector<const Batch*>&", "catalogue": "Catalogue&", "texts": "const InputTexts&", "text": "const std::string&",
    "recipe": "const Recipe&", "kitchen": "Kitchen&", "inputs": "const Inputs&", "setup": "const Setup&", "plan": "const Plan&", "milk": "Stream&",
    "strained": "const Strained&", "pulp": "const Stream&", "readings": "const std::vector<Reading>&", "responses": "const std::vector<const Response*>&", "facts": "const Facts&",
    "sheet": "const Sheet&", "ranges": "const Ranges&", "factors": "const std::vector<Factor>&", "lesson": "const Lesson&", "seen": "const std::vector<Observation>&",
    "theta": "const Theta&", "beliefs": "const Beliefs&", "z": "const std::vector<double>&", "input": "const std::vector<std::string>&",
    "output": "std::ostream&", "number": "std::size_t&", "now": "const Instant&", "diary": "const Diary&", "reading": "const Reading&",
    "taught": "const std::vector<Taught>&", "expected_si": "double", "others": "const std::vector<Expected>&", "dry_kg": "double", "uptake_kg": "double", "soaked_kg": "double",
    "soaked": "const Stream&", "ground": "const GroundBeans&", "curd": "const Stream&", "stations": "const std::vector<Surroundings>&", "cooked": "const Stream&",
    "dose_mmol_g": "double", "coagulable": "double", "set_milk": "const SetMilk&", "seed": "const Stream&",
}
otherwise = {
    "composition": {"ground": "const Stream&"},
    "solve": {"setup": "const Result<Setup>&"},
    "catalogue": {"texts": "const std::vector<RecordText>&"},
    "calendar": {"recipe": "const std::string&"},
    "line": {"kitchen": "const std::string&"},
    "slip": {"readings": "const std::vector<const Reading*>&"},
    "parameters": {"setup": "const Setup&"},
    "stages/blend": {"settings": "const BlendSettings&", "soaked": "const std::vector<SoakedLot>&"},
    "learn": {"batches": "const std::vector<BatchSeen>&"},
    "stages/soak": {"settings": "const SoakSettings&"},
    "stages/strain": {"settings": "const StrainSettings&"},
    "stages/starch": {"settings": "const StarchSettings&"},
    "stages/cook": {"settings": "const CookSettings&"},
    "stages/coagulate": {"settings": "const CoagulateSettings&"},
    "stages/press": {"settings": "const PressSettings&"},
}
# Lists of words and constants: what they are for is all that there is to say.
without_use = {"version", "stages/stage", "stages/grinding"}
# What the reader does with an answer.
actors = ["print", "show", "say", "ask", "refuse", "cook_it", "suspect_a_slip"]


def heads():
    """name -> lines of the comment at the head, without the slashes."""
    for f in sorted((root / "include/curdwright").rglob("*.hpp")):
        name = str(f.relative_to(root / "include/curdwright")).removesuffix(".hpp")
        head = f.read_text().split("#pragma once")[0]
        yield name, [l[3:] for l in head.splitlines() if l.startswith("///")]


def use_of(lines):
    """The first block that is indented by five spaces behind an empty line."""
    for i in range(1, len(lines)):
        if lines[i].startswith("     ") and lines[i - 1].strip() == "":
            block = []
            for l in lines[i:]:
                if not l.startswith("     "):
                    break
                block.append(l.strip())
            return block
    return []


def parameters(name, block):
    code = "\n".join(re.sub(r"//.*", "", l) for l in block)
    code = re.sub(r'"(?:\\.|[^"\\])*"', '""', code)
    code = code.replace("return ", "")  # or else it looks like a type
    types = {**given, **otherwise.get(name, {})}
    told = []
    for word, kind in types.items():
        used = re.search(rf"(?<![\w.>])(?<!::){word}\b(?!\()", code)  # plan(...) is the function, not a plan that is given
        made = re.search(rf"[\w>&*] {word}\b( =|\(|;|\{{)", code)
        if used and not made:
            told.append(f"{kind} {word}")
    return ", ".join(told)


def program():
    all_heads = list(heads())
    out = [f'#include "curdwright/{n}.hpp"' for n, _ in all_heads]
    out += ["#include <ostream>", "namespace curdwright::uses {"]
    out += ["double rate(Temperature);"]
    out += [f"template <class... All> void {a}(const All&...) {{}}" for a in actors]
    for name, lines in all_heads:
        block = use_of(lines)
        if block:
            out += [f"void use_{name.replace('/', '_')}({parameters(name, block)}) {{", f'#line 1 "{name}.hpp, its use"', *block, "}"]
    return "\n".join(out + ["}", ""])


def wanting():
    """Heads that lack something."""
    for name, lines in heads():
        if len(lines) < 2 or not lines[0].startswith(" \\file ") or not lines[1].strip():
            yield f"{name}.hpp does not say what it is for"
        if not use_of(lines) and name not in without_use:
            yield f"{name}.hpp shows no use"
        if len(use_of(lines)) > 5:
            yield f"the use of {name}.hpp has more than five lines"


def main():
    if sys.argv[1:] == ["print"]:
        print(program())
        return 0
    lacking = list(wanting())
    if lacking:
        print("\n".join(lacking))
        return 1
    with tempfile.TemporaryDirectory() as folder:
        source = pathlib.Path(folder) / "uses.cpp"
        source.write_text(program())
        count = program().count("\nvoid use_")
        run = subprocess.run([sys.argv[1], "-std=c++20", "-fsyntax-only", f"-I{root}/include", str(source)])
    print(f"{count} uses {'do not ' if run.returncode else ''}compile")
    return 1 if run.returncode or count < 40 else 0


sys.exit(main())
