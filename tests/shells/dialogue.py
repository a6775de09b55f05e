#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""The guided start on a real terminal: each question is awaited, answered, and what is left behind is looked at."""
import json, os, pty, re, select, signal, subprocess, sys, tempfile, time

PROGRAM = sys.argv[1]
ENV = {"PATH": os.path.dirname(PROGRAM) + ":/usr/bin:/bin", "LC_ALL": "C.UTF-8", "TERM": "xterm", "HOME": "/nonexistent"}


class Talk:
    def __init__(self, folder, *words):
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            # Whoever runs this in the background ignores interrupts, and so would the program.
            for number in (signal.SIGINT, signal.SIGQUIT, signal.SIGHUP, signal.SIGPIPE):
                signal.signal(number, signal.SIG_DFL)
            # Nothing waits for ever on a talk that has gone astray.
            signal.alarm(60)
            os.chdir(folder)
            os.execve(PROGRAM, [PROGRAM, *words], ENV)
        self.heard = ""

    def asked(self, question, seconds=20):
        """What was said up to the question, which must be asked now."""
        end = time.time() + seconds
        while not re.search(re.escape(question) + r".*\] $", self.heard.split("\n")[-1]):
            assert time.time() < end, f"never asked {question!r}: {self.heard!r}"
            if select.select([self.fd], [], [], 0.2)[0]:
                self.heard += os.read(self.fd, 65536).decode()
        said, self.heard = self.heard, ""
        return re.sub(r"\r\n(  ! )?", " ", said)

    def answer(self, question, text, key="\n"):
        said = self.asked(question)
        os.write(self.fd, (text + key).encode())
        return said

    def end(self):
        try:
            while True:
                more = os.read(self.fd, 65536)
                if not more:
                    break
                self.heard += more.decode()
        except OSError:
            pass  # a terminal whose program is gone
        status = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        os.close(self.fd)
        return status, self.heard


LEGUME, BLOCKS, BLOCK, POT, BLENDER, JAR, STRAINER, MOULDS, REGION, RECIPE, KITCHEN = ("Which legume?", "How many blocks?", "How heavy is one block?", "How much does your largest pot hold, to the brim?", "What do you blend with?",
                                                                       "How much does its jar hold, or the vessel you blend in?", "How do you strain?", "How many moulds do you have?", "Whose food rules do you follow?", "File for the recipe?", "File for the kitchen?")
ALL = [LEGUME, BLOCKS, BLOCK, POT, BLENDER, JAR, STRAINER, MOULDS, REGION, RECIPE, KITCHEN]


def run(folder, *words):
    return subprocess.run([PROGRAM, *words], capture_output=True, text=True, env=ENV, cwd=folder)


def fits(folder, recipe, kitchen):
    """The files pass `check` without a caution, and give a sheet."""
    checked = run(folder, "check", recipe, "--kitchen", kitchen)
    assert (checked.returncode, checked.stdout, checked.stderr) == (0, "", ""), checked
    sheet = run(folder, "sheet", recipe, "--kitchen", kitchen, "--format", "json")
    assert sheet.returncode == 0
    return json.loads(sheet.stdout)


def all_defaults(folder):
    t = Talk(folder, "new")
    for q in ALL:
        t.answer(q, "")
    status, said = t.end()
    assert status == 0 and "curdwright sheet chickpea-kabuli.json --kitchen kitchen.json" in said, said
    assert sorted(os.listdir(folder)) == ["chickpea-kabuli.json", "kitchen.json"]
    sheet = fits(folder, "chickpea-kabuli.json", "kitchen.json")
    assert sheet["expect"]["whole_blocks_count"] == 4


def wrong_answers_are_explained(folder):
    t = Talk(folder, "new", "start")
    t.answer(LEGUME, "chikpea")
    said = t.answer(LEGUME, "?")
    assert 'did you mean "chickpea"?' in said, said
    said = t.answer(LEGUME, "grass-pea")
    assert "pea-split-yellow" in said and "soybean" in said, said
    assert "nerve poison" in t.answer(LEGUME, "Pea, split, yellow")
    t.answer(BLOCKS, "0")
    for wrong in ("-3", "2.5", "four", "1e3", "999999", "2"):
        assert "whole number, 1 to 100000" in t.answer(BLOCKS, wrong)
    t.answer(BLOCK, "250")
    assert "has no unit" in t.answer(BLOCK, "250 g")
    t.answer(POT, "2 pints")
    said = t.answer(POT, "8 l")
    assert "two meanings" in said and "imp pint" in said, said
    t.answer(BLENDER, "xyzzyxyzzy")
    assert "use one of: coarse-mill" in t.answer(BLENDER, "ordinary-jug")
    t.answer(JAR, "0.001 ml")
    assert "100 ml to 500 l will do" in t.answer(JAR, "1.5 l")
    t.answer(STRAINER, "")
    t.answer(MOULDS, "none")
    assert "whole number, 1 to 1000" in t.answer(MOULDS, "3")
    t.answer(REGION, "europe")
    assert "us, uk, scotland, eu" in t.answer(REGION, "eu")
    t.answer(RECIPE, "a\x01b")
    assert "no name for a file" in t.answer(RECIPE, "peas.json")
    t.answer(KITCHEN, "peas.json")
    assert "The recipe is to stand there" in t.answer(KITCHEN, "mine.json")
    assert t.end()[0] == 0
    recipe, kitchen = (json.load(open(os.path.join(folder, f))) for f in ("peas.json", "mine.json"))
    assert recipe["legume"] == "pea-split-yellow" and recipe["want"] == {"blocks": 2} and recipe["block"] == {"mass": "250 g"}, recipe
    assert kitchen["blender"] == {"class": "ordinary-jug", "jar": "1.5 l"} and kitchen["pots"][0]["volume"] == "8 l", kitchen
    assert kitchen["mould"]["count"] == 3 and kitchen["region"] == "eu", kitchen
    fits(folder, "peas.json", "mine.json")


def too_much_is_made_less(folder):
    """With one mould the curd of four blocks would wait too long: the most that goes is offered, and then there is no caution."""
    t = Talk(folder, "new")
    t.answer(LEGUME, "")
    t.answer(BLOCKS, "4")
    for q in ALL[2:9]:
        t.answer(q, "1" if q == MOULDS else "")
    said = t.answer(BLOCKS, "4")
    assert "does not make so much in one go" in said and "rule P9" in said and "would do" in said, said
    most = int(re.search(r"(\d+) blocks of 300 g would do", said)[1])
    assert f"[{most}]" in t.answer(BLOCKS, "")
    t.answer(RECIPE, "")
    t.answer(KITCHEN, "")
    assert t.end()[0] == 0
    fits(folder, "chickpea-kabuli.json", "kitchen.json")
    more = run(folder, "check", "chickpea-kabuli.json", "--kitchen", "kitchen.json", "--blocks", str(most + 1))
    assert "CARE" in more.stdout, more


def too_large_blocks(folder):
    """A block that no mould holds: its mass is asked for again."""
    t = Talk(folder, "new")
    for q, a in zip(ALL[:9], ["", "1", "3 kg", "", "", "", "", "", ""]):
        t.answer(q, a)
    assert "mould" in t.answer(BLOCK, "400 g")
    for q in (POT, JAR, BLOCKS, RECIPE, KITCHEN):
        t.answer(q, "")
    assert t.end()[0] == 0
    fits(folder, "chickpea-kabuli.json", "kitchen.json")


def too_small_a_pot(folder):
    """A pot of 0.2 l is a slip: its volume is asked for again."""
    t = Talk(folder, "new")
    for q, a in zip(ALL[:9], ["", "2", "", "0.2 l", "", "", "", "", ""]):
        t.answer(q, a)
    assert "a larger pot" in t.answer(BLOCK, "")
    t.answer(POT, "12 l")
    for q in (JAR, BLOCKS, RECIPE, KITCHEN):
        t.answer(q, "")
    assert t.end()[0] == 0
    fits(folder, "chickpea-kabuli.json", "kitchen.json")


def nothing_is_left_behind(folder):
    """Ctrl-C and ctrl-D at every question."""
    for key, due in (("\x03", 130), ("\x04", 130)):
        for stop in range(len(ALL)):
            t = Talk(folder, "new")
            for q in ALL[:stop]:
                t.answer(q, "")
            t.answer(ALL[stop], "", key)
            status, _ = t.end()
            assert status == due, (key, stop, status)
            assert os.listdir(folder) == [], (key, stop, os.listdir(folder))


def nothing_is_overwritten_unasked(folder):
    for name in ("chickpea-kabuli.json", "kitchen.json"):
        open(os.path.join(folder, name), "w").write("mine\n")
    there = "is there already. Replace it (yes or no)?"

    def up_to_the_kitchen():
        t = Talk(folder, "new")
        for q in ALL[:10]:
            t.answer(q, "")
        t.answer(there, "")
        t.answer(RECIPE, "other.json")
        t.answer(KITCHEN, "")
        return t

    t = up_to_the_kitchen()
    t.answer(there, "y", "\n")
    t.answer(KITCHEN, "", "\x04")
    assert t.end()[0] == 130
    assert sorted(os.listdir(folder)) == ["chickpea-kabuli.json", "kitchen.json"]
    t = up_to_the_kitchen()
    t.answer(there, "yes")
    assert t.end()[0] == 0
    assert open(os.path.join(folder, "chickpea-kabuli.json")).read() == "mine\n"
    fits(folder, "other.json", "kitchen.json")


def where_nothing_can_be_written(folder):
    t = Talk(folder, "new")
    for q in ALL[:9]:
        t.answer(q, "")
    t.answer(RECIPE, "r.json")
    t.answer(KITCHEN, "no/such/folder/k.json")
    status, said = t.end()
    assert status == 3 and "make the folder first" in said, said
    assert os.listdir(folder) == [], os.listdir(folder)


talks = [all_defaults, wrong_answers_are_explained, too_much_is_made_less, too_large_blocks, too_small_a_pot, nothing_is_left_behind, nothing_is_overwritten_unasked, where_nothing_can_be_written]
for talk in talks:
    with tempfile.TemporaryDirectory() as folder:
        talk(folder)
print(f"guided start: {len(talks)} talks on a terminal")
