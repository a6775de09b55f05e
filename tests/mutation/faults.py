# SPDX-License-Identifier: MIT
"""Faults that may be planted, found in the source text by rules, and a draw of them that is the same for the same text and seed."""
import random
import re
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

COMPONENTS = ["water", "protein", "starch", "sugars", "fat", "fibre", "ash", "salts"]
OTHER_SIGN = {"+": "-", "-": "+"}
OTHER_FACTOR = {"*": "/", "/": "*"}
OTHER_BOUND = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "=="}
OTHER_FUNCTION = {"min": "max", "max": "min", "sin": "cos", "cos": "sin", "ceil": "floor", "floor": "ceil", "exp": "expm1", "expm1": "exp", "log": "log1p", "log1p": "log"}
OTHER_ION = {"calcium": "magnesium", "magnesium": "sodium", "sodium": "calcium"}


@dataclass(frozen=True)
class Fault:
    file: str
    kind: str
    start: int
    end: int
    new: str
    line: int
    was: str      # the line before, without its margin
    becomes: str  # and after

    @property
    def name(self):
        return f"{self.file}: {self.was} => {self.becomes}"


def masked(text):
    """The text with comments, strings and preprocessor lines blanked, so that offsets stay."""
    blank = lambda m: re.sub(r"[^\n]", " ", m.group())
    pattern = r"//[^\n]*|/\*.*?\*/|\"(?:\\.|[^\"\\\n])*\"|(?<![0-9])'(?:\\.|[^'\\\n])'|^[ \t]*#[^\n]*|static_assert\([^;]*;"
    return re.sub(pattern, blank, text, flags=re.S | re.M)


def signs(mask, _):
    for m in re.finditer(r"(?<=[\w)\]}] )[+-](?= [\w(*&!-])", mask):
        yield "sign", m.start(), m.end(), OTHER_SIGN[m.group()]
    for m in re.finditer(r"(?<= )[+-]= ", mask):
        yield "sign", m.start(), m.start() + 1, OTHER_SIGN[m.group()[0]]
    for m in re.finditer(r"(?:[(,?:{*/<]|=|return) ?(-)(?=[\w(])", mask):
        yield "sign", m.start(1), m.end(1), ""


def factors(mask, _):
    for m in re.finditer(r"(?<=[\w)\]}] )[*/](?= [\w(*&!-])|(?<= )[*/](?== )", mask):
        yield "factor turned over", m.start(), m.end(), OTHER_FACTOR[m.group()]


def bounds(mask, _):
    for m in re.finditer(r"(?<= )(?:<=|>=|==|!=|<|>)(?= )", mask):
        yield "off by one", m.start(), m.end(), OTHER_BOUND[m.group()]


def other_number(number, rng):
    if re.fullmatch(r"\d+", number):
        return "off by one", str(max(0, int(number) + (rng.choice([-1, 1]) if int(number) else 1)))
    if float(number) == 0:
        return "coefficient", "0.01"
    return "coefficient", f"({number} * {rng.choice(['1.03', '0.97', '2.0', '0.5'])})"


def numbers(mask, rng):
    for m in re.finditer(r"(?<![\w.'])\d+(?:\.\d*)?(?:[eE][+-]?\d+)?(?![\w.'])", mask):
        kind, new = other_number(m.group(), rng)
        yield kind, m.start(), m.end(), new


def components(mask, rng):
    for m in re.finditer(r"(?<=Component::)(\w+)", mask):
        yield "swapped component", m.start(), m.end(), rng.choice([c for c in COMPONENTS if c != m.group()])
    params = sorted(set(re.findall(r"Param::(\w+)", mask)))
    for m in re.finditer(r"(?<=Param::)(\w+)", mask):
        if len(params) > 1:
            yield "swapped parameter", m.start(), m.end(), rng.choice([p for p in params if p != m.group()])
    for m in re.finditer(r"\b(calcium|magnesium|sodium)(?=_kg\b)", mask):
        yield "swapped component", m.start(), m.end(), OTHER_ION[m.group()]


def functions(mask, _):
    for m in re.finditer(r"(?<=std::)(min|max|sin|cos|ceil|floor|exp|expm1|log|log1p)(?=\()", mask):
        yield "exchanged function", m.start(), m.end(), OTHER_FUNCTION[m.group()]
    for m in re.finditer(r"(?<= )(&&|\|\|)(?= )", mask):
        yield "exchanged function", m.start(), m.end(), "||" if m.group() == "&&" else "&&"


def end_of_term(mask, at):
    """Where the term that begins at `at` ends: at a sign, comma, bracket or comparison of the same depth."""
    depth = 0
    while at < len(mask):
        c = mask[at]
        if c in "([{":
            depth += 1
        elif c in ")]}":
            if depth == 0:
                break
            depth -= 1
        elif depth == 0 and (c in ",;" or re.match(r" (?:[-+<>?:]|[<>=!]=|&&|\|\|) ", mask[at:at + 4])):
            break
        at += 1
    return at


def dropped(mask, _):
    for m in re.finditer(r"(?<=[\w)\]}]) [+-] (?=[\w(*&!-])", mask):
        yield "removed term", m.start(), end_of_term(mask, m.end()), ""
    for m in re.finditer(r"(?<=[;{}\n,]) *[\w.\[\]:()]+ [-+*/]= [^;\n]*;", mask):
        if "for (" not in mask[mask.rfind("\n", 0, m.end()):m.end()]:
            yield "removed term", m.start(), m.end(), ";"


RULES = [signs, factors, bounds, numbers, components, functions, dropped]


def bodies(mask):
    """(name, start, end) of each function body and constant of a header: what a fault there can touch."""
    for m in re.finditer(r"(\w+)\([^;{}]*\)\s*(?:const\s*)?\{", mask):
        depth, at = 1, m.end()
        while depth and at < len(mask):
            depth += {"{": 1, "}": -1}.get(mask[at], 0)
            at += 1
        if m.group(1) not in ("if", "for", "while", "switch"):
            yield m.group(1), m.end(), at
    for m in re.finditer(r"^inline constexpr [\w:<>]+ ([^;]*;)", mask, flags=re.M):
        for part in re.finditer(r"(\w+) = [^,;]*", m.group(1)):
            yield part.group(1), m.start(1) + part.start(), m.start(1) + part.end()


def touched_names(mask, at):
    """Names of a header through which code elsewhere meets a fault at `at`."""
    own = list(bodies(mask))
    names = {n for n, start, end in own if start <= at < end}
    while names:
        more = {n for n, start, end in own if any(re.search(rf"\b{x}\b", mask[start:end]) for x in names)} | names
        if more == names:
            break
        names = more
    return names


def faults_of(root, file, seed):
    text = (Path(root) / file).read_text()
    mask, rng, found = masked(text), random.Random(f"{seed} {file}"), {}
    for rule in RULES:
        for kind, start, end, new in rule(mask, rng):
            if file.endswith(".hpp") and not touched_names(mask, start):
                continue
            left, right = text.rfind("\n", 0, start) + 1, text.find("\n", max(start, end - 1))
            if "enum " in text[left:right] or "\n" in text[start:end].strip("\n"):
                continue
            was, becomes = text[left:right].strip(), (text[left:start] + new + text[end:right]).strip()
            found.setdefault((was, becomes), Fault(file, kind, start, end, new, text.count("\n", 0, start) + 1, was, becomes))
    return list(found.values())


def by_turns(faults, rng):
    """The faults of a file in random order, but each kind in its turn."""
    kinds = defaultdict(list)
    for f in faults:
        kinds[f.kind].append(f)
    for of_kind in kinds.values():
        rng.shuffle(of_kind)
    order, names = [], sorted(kinds)
    rng.shuffle(names)
    while any(kinds.values()):
        order += [kinds[k].pop() for k in names if kinds[k]]
    return order


def shares(counts, total, least):
    """How many faults each file gets: `least`, and the rest in proportion to how many it has to offer."""
    give = {f: min(n, least) for f, n in counts.items()}
    left, spare = total - sum(give.values()), {f: n - give[f] for f, n in counts.items()}
    whole = sum(spare.values())
    if left > 0 and whole > 0:
        for f in counts:
            give[f] += min(spare[f], round(left * spare[f] / whole))
    return give


def draw(root, files, total, least, seed):
    """For each file how many are wanted, and all its faults in the order to try them: what does not compile is replaced by the next."""
    queues = {f: by_turns(faults_of(root, f, seed), random.Random(f"{seed} order {f}")) for f in files}
    return shares({f: len(q) for f, q in queues.items()}, total, least), queues
