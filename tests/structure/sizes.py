#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""How long functions and files are, and which functions nobody calls. Functions are found by Universal Ctags.

  sizes.py check    faults: a function over 60 lines, under 90 % of them under 20, a file of 400 lines, a name used nowhere else
  sizes.py report   the longest of each, and names that only tests use
"""
import collections
import os
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(os.environ.get("CURDWRIGHT_SOURCE") or pathlib.Path(__file__).resolve().parents[2])
short, share_short, longest, file_limit = 20, 0.90, 60, 400
# Called by nobody here, for a reason.
meant_for_others = {
    "main": "entered by the system",
    **dict.fromkeys(["binary", "end_array", "end_object", "number_float", "number_integer", "number_unsigned", "parse_error", "start_array", "start_object"],
                    "called by the JSON library as it reads"),
}


def files(*tops):
    return sorted(str(p.relative_to(root)) for top in tops for p in (root / top).rglob("*.?pp"))


def functions():
    """Of include/ and src/: name, file, first line, number of lines, from the name to the closing brace."""
    out = subprocess.run(["ctags", "--languages=C++", "--langmap=C++:+.hpp", "--kinds-C++=f", "--fields=+ne", "--extras=-q", "-f", "-", *files("include", "src")],
                         cwd=root, check=True, capture_output=True, text=True).stdout
    found = []
    for row in out.splitlines():
        if row.startswith(("!", "__anon")):  # a lambda is part of its function
            continue
        line, end = re.search(r"\tline:(\d+)", row), re.search(r"\tend:(\d+)", row)
        if not end:
            raise SystemExit(f"no end is known of {row}")
        name, file = row.split("\t")[:2]
        found.append((name, file, int(line[1]), int(end[1]) - int(line[1]) + 1))
    return found


def without_comments(text):
    """Words of comments and of texts are no calls."""
    return re.sub(r'"(?:\\.|[^"\\\n])*"|//[^\n]*', " ", text)


def words(*tops):
    """How often each word stands in the code of these folders."""
    count = collections.Counter()
    for f in files(*tops):
        count.update(re.findall(r"[A-Za-z_]\w*", without_comments((root / f).read_text())))
    return count


def declarations():
    """How often each word is declared or defined as a function: a line that begins with nothing but a type before it."""
    count = collections.Counter()
    for f in files("include", "src"):
        code = without_comments((root / f).read_text())
        for before, name in re.findall(r"^([ \w:<>,*&\[\]]*\w[>\]]*[ &*]+)(?:\w+::)*(\w+)\(", code, re.M):
            count[name] += not re.search(r"\b(return|else|case|throw|new)\b|&&", before)
    return count


def unused(counted):
    """Functions whose name stands nowhere but where it is declared and defined. One of two of the same name is not found."""
    told = declarations()
    names = {n for n, *_ in functions() if not n.startswith(("operator", "~"))} - meant_for_others.keys()
    return sorted(n for n in names if counted[n] <= told[n])


def faults():
    all_functions = functions()
    under = sum(lines < short for *_, lines in all_functions) / len(all_functions)
    found = [f"{file}:{line} {name}() has {n} lines" for name, file, line, n in all_functions if n > longest]
    if under < share_short:
        found.append(f"only {100 * under:.1f} % of the functions are under {short} lines")
    for f in files("include", "src"):
        lines = (root / f).read_text().count("\n")
        if lines >= file_limit:
            found.append(f"{f} has {lines} lines")
    found += [f"nobody calls {n}()" for n in unused(words("include", "src", "tests", "examples"))]
    return found


def report():
    all_functions = functions()
    under = sum(lines < short for *_, lines in all_functions)
    print(f"{len(all_functions)} functions, {100 * under / len(all_functions):.1f} % under {short} lines, {sum(f[3] > 40 for f in all_functions)} over 40")
    for name, file, line, n in sorted(all_functions, key=lambda f: -f[3])[:12]:
        print(f"  {n:3} {file}:{line} {name}")
    print("longest files:")
    for f in sorted(files("include", "src"), key=lambda f: -(root / f).read_text().count("\n"))[:12]:
        print(f"  {(root / f).read_text().count(chr(10)):4} {f}")
    print("names that only tests and examples use:", ", ".join(unused(words("include", "src"))))


if __name__ == "__main__":
    if sys.argv[1:] in ([], ["check"]):
        trouble = faults()
        print("\n".join(trouble) if trouble else "no faults")
        sys.exit(1 if trouble else 0)
    elif sys.argv[1:] == ["report"]:
        report()
    else:
        sys.exit(__doc__)
