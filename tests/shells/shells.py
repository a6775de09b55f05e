#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Words are completed in real shells: a key is pressed, and what the shell then shows is read.

bash and zsh run on a terminal of their own (pty); fish answers `complete -C`. Each must offer what the program's own
tables hold: `curdwright --help`, `help COMMAND`, the manual and docs/commands.md are read as a user reads them.
"""
import json, os, pty, re, select, shutil, signal, subprocess, sys, tempfile, time

PROGRAM, SOURCE = sys.argv[1], sys.argv[2]
ENV = {"PATH": os.path.dirname(PROGRAM) + ":/usr/local/bin:/usr/bin:/bin", "LC_ALL": "C.UTF-8", "TERM": "dumb", "HOME": ""}
faults = []


def check(name, got, due):
    if got != due:
        faults.append(f"{name}\n  due: {due}\n  got: {got}")


def run(*words, **more):
    return subprocess.run([PROGRAM, *words], capture_output=True, text=True, env=ENV, **more).stdout


class Terminal:
    """A shell on a terminal: type, press a key, read."""

    def __init__(self, argv, folder, ready):
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.chdir(folder)
            os.execve(argv[0], argv, ENV)
        import fcntl, struct, termios
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", 400, 300, 0, 0))
        for line in ready:
            self.send(line + "\n")
        self.send("echo re''ady\n")
        self.until("ready")

    def send(self, text):
        os.write(self.fd, text.encode())

    def until(self, mark, seconds=20):
        text, end = "", time.time() + seconds
        while mark not in text:
            if time.time() > end:
                raise SystemExit(f"the shell never said {mark!r}:\n{text}")
            if select.select([self.fd], [], [], 0.2)[0]:
                text += os.read(self.fd, 65536).decode(errors="replace")
        return text

    def press(self, typed, key="\t"):
        """The line as the key leaves it, and what was listed."""
        self.send("\x15" + typed + key + "\x07")
        shown = self.until("<END>").replace("\r", "\n")
        self.send("\x15")
        line = re.search(r"<LINE>(.*)<END>", shown).group(1)
        return line, shown[: shown.rindex("<LINE>")]

    def close(self):
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)


class Bash:
    name = "bash"

    def __init__(self, folder):
        script = os.path.join(folder, "curdwright.bash")
        open(script, "w").write(run("shell", "bash"))
        ready = ["bind 'set show-all-if-ambiguous on'", "bind 'set completion-query-items 0'", "bind 'set page-completions off'", "bind 'set completion-display-width 0'", "bind 'set bell-style none'",
                 "bind -x '\"\\C-g\": printf \"<LINE>%s<END>\" \"$READLINE_LINE\"'", f"source {script}", "PS1='$ '"]
        self.terminal = Terminal(["/bin/bash", "--norc", "--noprofile", "-i"], os.path.join(folder, "work"), ready)

    def line(self, typed):
        return self.terminal.press(typed)[0]

    def offers(self, typed):
        line, shown = self.terminal.press(typed)
        listed = [w.strip() for w in shown.split("\n")]
        listed = [w for w in listed if w and not w.startswith("$") and typed not in w and " " not in w]
        return sorted(set(listed)) or [line.strip().split(" ")[-1]]


class Zsh:
    name = "zsh"

    def __init__(self, folder):
        functions = os.path.join(folder, "functions")
        os.mkdir(functions)
        open(os.path.join(functions, "_curdwright"), "w").write(run("shell", "zsh"))
        ready = [f"fpath=({functions} $fpath)", "autoload -U compinit", f"compinit -u -D -d {folder}/dump", "unsetopt beep prompt_sp menu_complete auto_menu", "LISTMAX=0",
                 "say() { print -n \"<LINE>$BUFFER<END>\" }", "zle -N say", "bindkey '^G' say", "bindkey '^U' kill-whole-line", "PS1='$ '"]
        self.terminal = Terminal([shutil.which("zsh"), "-f", "-i"], os.path.join(folder, "work"), ready)

    def line(self, typed):
        return self.terminal.press(typed)[0]

    def offers(self, typed):
        line, shown = self.terminal.press(typed)
        head = typed.split(" ")[-1]
        listed = [w.split(" ")[0] for w in re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", shown).split("\n") if w.startswith(head or tuple("abcdefghijklmnopqrstuvwxyz/-")) and w.strip() and not w.startswith(("$", "curdwright"))]
        return sorted(set(listed)) or [line.strip().split(" ")[-1]]


class Fish:
    name = "fish"

    def __init__(self, folder):
        self.folder = folder
        place = os.path.join(folder, ".config/fish/completions")
        os.makedirs(place)
        open(os.path.join(place, "curdwright.fish"), "w").write(run("shell", "fish"))

    def offers(self, typed):
        env = dict(ENV, HOME=self.folder)
        out = subprocess.run(["fish", "-c", "complete -C " + "'" + typed.replace("'", "\\'") + "'"], capture_output=True, text=True, env=env, cwd=os.path.join(self.folder, "work")).stdout
        return sorted({l.split("\t")[0] for l in out.splitlines() if l})


def commands():
    """Names and options of the commands, as the help of each tells them, with the words an option takes."""
    names = re.findall(r"^  ([a-z]+) ", run().split("Commands\n")[1].split("\n\n")[0], re.M)
    table = {}
    for name in names:
        table[name] = {m[1]: m[2] if "|" in m[2] else "" for m in re.findall(r"^  (-[a-z], )?(--[a-z-]+) ?([^\s]*)", run("help", name).split("Options\n")[1], re.M)}
    return table


def manual(page):
    """The same from a page of the manual, as man shows it."""
    roff = run("help", *page, "--format", "man")
    text = subprocess.run(["man", "-l", "-E", "UTF-8", "-"], input=roff, capture_output=True, text=True, env=dict(ENV, MANWIDTH="200", MANPAGER="cat")).stdout
    text = re.sub(r".\x08", "", text)
    options = text.split("OPTIONS\n")[1].split("\nEXAMPLES\n")[0].split("\nTOPICS\n")[0]
    return {m[1]: m[2] if "|" in m[2] else "" for m in re.findall(r"^       (-[a-z], )?(--[a-z-]+) ?(?:([^\s]+)$)?", options, re.M)}


def sets_agree(shells, table):
    sections = re.split(r"^## ", open(os.path.join(SOURCE, "docs/commands.md")).read(), flags=re.M)[1:]
    check("commands of docs/commands.md", sorted(section.split("\n")[0] for section in sections), sorted(table))
    check("commands of curdwright(1)", sorted(set(re.findall(r"curdwright\\-([a-z]+)\\fR\(1\)", run("help", "--format", "man")))), sorted(table))
    for section in sections:
        name = section.split("\n")[0]
        rows = re.findall(r"^\| `(?:-[a-z], )?(--[a-z-]+)` \| (?:`(.*?)`)? \|", section, re.M)
        check(f"options of {name} in docs/commands.md", {o: takes.replace("\\|", "|") if "|" in takes else "" for o, takes in rows}, {o: words for o, words in table[name].items()})
    every = {o for options in table.values() for o in options}
    check("options of curdwright(1)", sorted(set(manual([])) - {"--version"}), sorted(every))
    for name, options in table.items():
        check(f"options of curdwright-{name}(1)", manual([name]), options)
        for shell in shells:
            check(f"{shell.name}: curdwright {name} --", shell.offers(f"curdwright {name} --"), sorted(options))
            for o, words in options.items():
                if words and (name, o) != ("diary", "--format"):
                    check(f"{shell.name}: curdwright {name} {o}", shell.offers(f"curdwright {name} {o} "), sorted(words.split("|")))


def words_are_taken(table):
    """What is offered for --format is what the command itself would take: an unknown word is answered with the list."""
    for name, options in table.items():
        if "|" not in options.get("--format", "") or name == "diary":
            continue
        words = {"list": ["legumes"], "show": ["kitchen"], "explain": ["x.json", "curd_mass_g"], "rank": ["legumes"], "learn": ["x"], "help": []}.get(name, ["x.json"] * (2 if name == "compare" else 1))
        said = subprocess.run([PROGRAM, name, *words, "--format", "qqqqqqqq"], capture_output=True, text=True, env=ENV).stderr
        check(f"--format of {name}", re.findall(r"use one of: (.*)", said), [options["--format"].replace("|", ", ")])


def every_place_is_known(table):
    """What the help says an option takes is offered: files, folders, ids, keys, places."""
    for name in table:
        for option, value in re.findall(r"^  (?:-[a-z], )?(--[a-z-]+) (FILE|DIR|ID|KEY|/POINTER|WORD|WHAT|KIND)", run("help", name), re.M):
            head, *words = run("shell", "offer", "--", name, option, "").splitlines()
            if (name, option) == ("sheet", "--batch"):
                continue  # there is no diary
            due = {"FILE": "files", "DIR": "folders"}.get(value, "words")
            check(f"{name} {option} {value}", (head, bool(words)), (due, due == "words"))


def ids(what):
    return [e["id"] for e in json.loads(run("list", what, "--format", "json"))["entries"]]


def ids_and_places(shells):
    for shell in shells:
        ask = lambda typed: shell.offers("curdwright " + typed)
        check(f"{shell.name}: commands", ask(""), sorted(commands()))
        check(f"{shell.name}: legumes", ask("new recipe --legume "), sorted(ids("legumes")))
        check(f"{shell.name}: coagulants", ask("show coagulant "), sorted(ids("coagulants")))
        check(f"{shell.name}: extras", ask("show extra "), sorted(ids("extras")))
        keys = sorted(e["key"] for e in json.loads(run("list", "figures", "--format", "json"))["entries"])
        check(f"{shell.name}: figures of explain", ask("explain peas.json "), keys)
        check(f"{shell.name}: --by", ask("rank legumes --by calc"), [k for k in keys if k.startswith("calc")])
        check(f"{shell.name}: verbs", ask("diary "), sorted("start add score piece list show compare export left".split()))
        check(f"{shell.name}: options of a verb", ask("diary list --"), sorted("--color --diary --force --format --help --output".split()))
        check(f"{shell.name}: topics", [t for t in ask("help ") if t not in commands()], sorted("amounts recipe kitchen settings diary-words exit-status environment formats safety trouble".split()))
        check(f"{shell.name}: files", ask("sheet pea"), ["peas.json"])
        check(f"{shell.name}: folders", ask("sheet --data min"), ["mine/"])
        check(f"{shell.name}: nothing to offer", [w for w in ask("sheet peas.json --blocks zz") if w != "zz"], [])


def lines_go_on(shells):
    """What is typed ends where it should: behind = the shell adds no blank, and words with = and : stay one word."""
    for shell in shells:
        for typed, due in [("sheet peas.json --set /soak/wh", "--set /soak/where="), ("sheet peas.json --set /soak/where=fri", "--set /soak/where=fridge "), ("sheet peas.json --set=/soak/where=fri", "--set=/soak/where=fridge "),
                           ("sheet peas.json --measured pulp-", "--measured pulp-dry="), ("sheet peas.json --seen whey=mi", "--seen whey=milky "), ("rank legumes --without allergen:soy", "--without allergen:soybean "),
                           ("vary peas.json --figures curd_mass_g,yie", "--figures curd_mass_g,yield_fraction "), ("show legume grass", "legume grass"), ("sh leg", "sh leg"), ("sheet --out", "sheet --output "),
                           ("sheet peas.json --output=pe", "--output=peas.json "), ("sheet peas.json --set /coagulate/with=nigari-l", "--set /coagulate/with=nigari-liquid "), ("sheet peas.json --set /kitchen/hob/kind=indu", "/kitchen/hob/kind=induction "),
                           ("compare peas.json pe", "compare peas.json peas.json "), ("sheet peas.json --ke", "--ke")]:
            line = shell.line("curdwright " + typed)
            if not line.endswith(due):
                faults.append(f"{shell.name}: {typed}\n  due: ...{due!r}\n  got: {line!r}")


def own_records_and_diary(folder, shells):
    work = os.path.join(folder, "work")
    run("diary", "start", "peas.json", "--blocks", "2", "--diary", "d.jsonl", cwd=work)
    os.makedirs(os.path.join(work, "mine/legumes"))
    record = json.load(open(os.path.join(SOURCE, "data/legumes/soybean.json")))
    record.update(id="soybean-garden", name="Soybean of the garden", kitchen_name="garden soybeans", also=[])
    json.dump(record, open(os.path.join(work, "mine/legumes/soybean-garden.json"), "w"))
    for shell in shells:
        check(f"{shell.name}: a batch of the diary", shell.offers("curdwright sheet --diary d.jsonl --batch "), ["pea-1"])
        check(f"{shell.name}: what it leaves", shell.offers("curdwright diary --diary d.jsonl left pea-1 "), ["coagulant", "pulp", "starch-layer", "whey"])
        check(f"{shell.name}: a record of one's own", shell.offers("curdwright show legume --data mine soybean"), ["soybean", "soybean-garden"])


def without_the_program(folder):
    """Where the program is gone, a key brings nothing, and no error."""
    ENV["PATH"] = "/usr/bin:/bin"
    script = os.path.join(folder, "curdwright.bash")
    said = subprocess.run(["bash", "-c", f"source {script}; COMP_WORDS=(curdwright sh) COMP_CWORD=1 COMP_LINE='curdwright sh' COMP_POINT=13; _curdwright; echo \"<${{COMPREPLY[*]}}>\""], capture_output=True, text=True, env=ENV)
    check("bash without the program", (said.stdout, said.stderr), ("<>\n", ""))
    said = subprocess.run(["fish", "-c", "complete -C 'curdwright sh'"], capture_output=True, text=True, env=dict(ENV, HOME=folder))
    check("fish without the program", (said.stdout, said.stderr), ("", ""))


def main():
    with tempfile.TemporaryDirectory() as folder:
        ENV["HOME"] = folder
        work = os.path.join(folder, "work")
        os.makedirs(os.path.join(work, "mine"))
        open(os.path.join(work, "peas.json"), "w").write('{"legume":"pea-split-yellow","want":{"blocks":2}}')
        shells = [Bash(folder), Zsh(folder), Fish(folder)]
        table = commands()
        sets_agree(shells, table)
        words_are_taken(table)
        every_place_is_known(table)
        ids_and_places(shells)
        lines_go_on(shells[:2])
        own_records_and_diary(folder, shells)
        for shell in shells[:2]:
            shell.terminal.close()
        without_the_program(folder)
    print("\n".join(faults) if faults else f"shells: bash, zsh and fish offer what help, manual and reference tell, for {len(table)} commands")
    sys.exit(1 if faults else 0)


main()
