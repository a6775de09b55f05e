# SPDX-License-Identifier: MIT
"""The test programs over a shared library, and sources compiled anew and loaded before it: what a fault is tried on.

The objects are those of a ready build. Only the sources that a fault touches are compiled, into one small library that is loaded first, so that its
functions stand before the sound ones. A test program is linked anew only where a fault in a header reaches into its own sources."""
import hashlib
import json
import os
import re
import resource
import shlex
import shutil
import subprocess
from pathlib import Path

from faults import masked, touched_names

TESTS = ["unit", "published", "laws", "rules", "oracles", "golden"]
NOT_STARTED = (126, 127)  # the loader's: a symbol is missing, so nothing was tested


class Broken(Exception):
    """What is no fault in the sense of the check: the text does not compile or link, or the program does not start."""


def run(command, cwd, **more):
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, errors="replace", stdin=subprocess.DEVNULL, **more)


class Bench:
    def __init__(self, root, build, folder):
        self.root, self.build, self.folder = Path(root), Path(build), Path(folder)
        self.programs, self.place = self.folder / "bin", self.folder
        self.programs.mkdir(parents=True, exist_ok=True)
        os.environ["CURDWRIGHT_PROGRAM_UNDER_TEST"] = str(self.programs / "curdwright")
        entries = json.loads((self.build / "compile_commands.json").read_text())
        self.commands = {str(Path(e["file"]).relative_to(self.root)): e["command"] for e in entries if Path(e["file"]).is_relative_to(self.root)}
        self.objects = {source: re.search(r" -o (\S+)", c).group(1) for source, c in self.commands.items()}
        self.links, self.needs, self.sound, self.headers = {}, self.read_needs(), {}, set()

    def read_needs(self):
        """Which sources of ours each object was compiled from, as Ninja noted it."""
        needs, at = {}, None
        for line in run(["ninja", "-t", "deps"], self.build).stdout.splitlines():
            if line and not line.startswith(" "):
                at = needs.setdefault(line.split(":")[0], set())
            elif line.strip().startswith(str(self.root)):
                at.add(str(Path(line.strip()).relative_to(self.root)))
        return needs

    def at(self, file):
        """Each file has a place of its own, so that several can be worked on at a time."""
        self.place = self.folder / "files" / file.replace("/", "-")
        self.place.mkdir(parents=True, exist_ok=True)

    @property
    def overlay(self):
        return self.place / "overlay"

    # --- the sound programs

    def link_all(self):
        library = [o for s, o in self.objects.items() if "/curdwright.dir/" in o]
        linked = [w for w in shlex.split(self.link_line("curdwright")) if "nlopt" in w or "utf8proc" in w]
        self.must(["c++", "-shared", "-o", self.programs / "libcurdwright.so", *library, *linked])
        self.link("curdwright", self.link_line("curdwright"))
        for test in TESTS:
            self.links[test] = self.link_line(f"tests/test_{test}")
        for test, line in self.links.items():
            self.link(f"test_{test}", line)

    def link_line(self, target):
        steps = run(["ninja", "-t", "commands", "-s", target], self.build).stdout.splitlines()
        line = next(l for l in reversed(steps) if f" -o {target} " in l)
        return line.removeprefix(": && ").split(" && ")[0]

    def link(self, name, line, replaced={}):
        """Links a program over the shared library, some of its objects replaced."""
        words = [w for w in shlex.split(line) if w not in ("-static-pie", "-Wl,--gc-sections")]
        new = {self.objects[s]: str(o) for s, o in replaced.items()}
        out = self.programs / name
        words = [str(out) if words[i - 1] == "-o" else str(self.programs / "libcurdwright.so") if w == "src/libcurdwright.a" else new.get(w, w) for i, w in enumerate(words)]
        self.must(words + [f"-Wl,-rpath,{self.programs}"])
        return out

    def must(self, command):
        done = run([str(c) for c in command], self.build)
        if done.returncode:
            raise Broken(done.stderr[-2000:])

    # --- one source anew

    def compile(self, source, out, over=()):
        """Compiles a source: its copy in the overlay where there is one, and the headers of the overlay first."""
        at = self.overlay / source if (self.overlay / source).exists() else self.root / source
        words = self.words(source)
        # Where the fault is in the source itself its headers are sound, and parsed once for all its faults.
        if list(over) == [source]:
            words += ["-include", str(self.parsed(source)), "-Winvalid-pch", "-Werror=invalid-pch"]
        self.must(words + ["-o", str(out), "-c", str(at)])
        return out

    def parsed(self, source):
        header = self.place / "parsed.hpp"
        if source not in self.headers:
            header.write_text("\n".join(re.findall(r"^#include .*", (self.root / source).read_text(), flags=re.M)) + "\n")
            self.must(self.words(source) + ["-x", "c++-header", "-o", f"{header}.gch", str(header)])
            self.headers.add(source)
        return header

    def words(self, source):
        words = [w for w in shlex.split(self.commands[source]) if not re.match(r"-O\d|-mmem|-Werror|-W|-g", w)]
        while Path(words[0]).name in ("ccache",):
            words.pop(0)
        words = words[:words.index("-o")] + ["-w", "-O1", "-iquote", str((self.root / source).parent)]
        words[1:1] = [f"-I{self.overlay / 'include'}", f"-I{self.overlay / 'src'}", f"-I{self.overlay / 'tests'}"]
        return words

    def reached(self, file, at):
        """Sources that have a place of this file compiled into them."""
        if file.endswith(".cpp"):
            return [file]
        names = touched_names(masked((self.root / file).read_text()), at)
        reached = []
        for source, o in self.objects.items():
            ours = "/curdwright.dir/" in o or any(f"/test_{t}.dir/" in o for t in TESTS)
            if ours and file in self.needs.get(o, ()) and re.search(r"\b(" + "|".join(sorted(names)) + r")\b", masked((self.root / source).read_text())):
                reached.append(source)
        return reached

    def compile_over(self, file, text, sources, folder):
        """Objects of the sources with `text` in place of the file."""
        shutil.rmtree(self.overlay, ignore_errors=True)
        for source in {*sources, file}:
            (self.overlay / source).parent.mkdir(parents=True, exist_ok=True)
            (self.overlay / source).write_text(text if source == file else (self.root / source).read_text())
        folder.mkdir(parents=True, exist_ok=True)
        return {s: self.compile(s, folder / (s.replace("/", "-") + ".o"), over=[file]) for s in sources}

    def stamp(self, source):
        """What the sound object of a source hangs on: its text, its command, and every header of ours."""
        texts = [self.root / source, *sorted((self.root / "include").rglob("*.hpp")), *sorted((self.root / "src").rglob("*.hpp"))]
        return hashlib.sha256(b"".join(p.read_bytes() for p in texts) + self.commands[source].encode()).hexdigest()

    def plant(self, fault):
        """Objects with the fault in them. \\returns None where they are the same, byte for byte, as without it."""
        text = (self.root / fault.file).read_text()
        sources = self.reached(fault.file, fault.start)
        sound = self.sound_objects(fault.file, text, sources)
        made = self.compile_over(fault.file, text[:fault.start] + fault.new + text[fault.end:], sources, self.place / "faulty")
        return None if all(o.read_bytes() == sound[s].read_bytes() for s, o in made.items()) else made

    def sound_objects(self, file, text, sources):
        key = (file, tuple(sources))
        if key not in self.sound:
            self.sound[key] = self.compile_over(file, text, sources, self.place / f"sound-{sum(k[0] == file for k in self.sound)}")
        return self.sound[key]

    def load(self, made):
        """Makes the library that is loaded first, and the programs anew whose own sources were reached. \\returns programs by test"""
        first = self.place / "first.so"
        first.unlink(missing_ok=True)
        library = [o for s, o in made.items() if s.startswith("src/")]
        # It names the sound library too, so that it can be loaded into the shells that some tests start.
        self.must(["c++", "-shared", "-o", first, *library, self.programs / "libcurdwright.so", f"-Wl,-rpath,{self.programs}"])
        programs = {t: self.programs / f"test_{t}" for t in TESTS}
        for test in TESTS:
            own = {s: o for s, o in made.items() if f"/test_{test}.dir/" in self.objects[s]}
            if own:
                programs[test] = self.link(self.place / f"test_{test}", self.links[test], own)
        return first, programs


def tried(program, arguments, first, cpu_s):
    """Runs a test program. \\returns "passed", "failed", "crashed" or "ran on", the processor seconds used, and what it said"""
    env = {k: v for k, v in os.environ.items() if not k.startswith("RC_")} | {"LD_BIND_NOW": "1"} | ({"LD_PRELOAD": str(first)} if first else {})
    limit = lambda: (resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s + 1)), resource.setrlimit(resource.RLIMIT_AS, (6 << 30, 6 << 30)), resource.setrlimit(resource.RLIMIT_CORE, (0, 0)))
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    # The clock only ends what waits for ever; the judge is the processor's time.
    try:
        done = run([str(program), *arguments], program.parent, env=env, preexec_fn=limit, timeout=60 * cpu_s)
    except subprocess.TimeoutExpired:
        return "ran on", 60.0 * cpu_s, ""
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    said = done.stdout + done.stderr
    if done.returncode in NOT_STARTED or "symbol lookup error" in said:
        raise Broken(said[-500:])
    outcome = "passed" if done.returncode == 0 else "failed" if done.returncode > 0 else "ran on" if -done.returncode in (9, 24) else "crashed"
    return outcome, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, said
