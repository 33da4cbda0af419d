# SPDX-License-Identifier: GPL-3.0-or-later
"""A round over a shelf of forty cups with two common actions and four exceptions, by keys and by mouse:
real keys and clicks, counted as they are sent."""

import os
import re
import time

from stage import TODAY, equal

MOST_KEYS, MOST_CLICKS = 60, 25
MOST_MS = 100  # from the key that writes the round to the journal on the disk
DRAFT_S = 2    # what is typed is kept by then
LINE = "f 2 hou,mi;14 31 re;22 mo fe;33 de;7 b 5"
CUPS = 40
DAY_BEFORE = "2026-06-13"  # on which the cups were entered: nothing but rounds is written of today
PARTS = [("14", "refused"), ("31", "refused"), ("22", "moulted and fell"), ("33", "died"), ("7", "belly 5 of 5")]


def forty_cups(stage):
    """One shelf of forty animals, made once."""
    folder = os.path.join(stage.home, "data", "mantidary", "forty")
    if not os.path.isdir(folder):
        stage.cli("new", folder, journal=False)
        stage.cli("add", "place", "name=Shelf", "code=S", "day_c=25", "night_c=21", journal=folder,
                  today=DAY_BEFORE)
        for _ in range(CUPS):
            stage.cli("add", "animal", "species=hierodula", "place=S", "hatched=2026-02-01", "moults=5",
                      journal=folder, today=DAY_BEFORE)
    return folder


class Hands:
    """What is sent, counted: every key that goes down, every press of a button of the mouse."""

    def __init__(self, session):
        self.session, self.keys, self.clicks = session, 0, 0

    def chord(self, chord):
        self.keys += len(chord.split("+"))
        self.session.key(chord)

    def type(self, text):
        if not re.fullmatch(r"[a-z0-9 ,;.-]*", text):
            raise AssertionError(f"{text!r} needs Shift: count it")
        self.keys += len(text)
        self.session.type(text)

    def click(self, role, name, **where):
        self.clicks += 1
        self.session.click(role, name, **where)


def check_written(stage, folder):
    """What the round must have written, by the command line; then it is taken back in one step."""
    stage.told(r"^Saved: \d+ entries\. Ctrl\+Z takes them back\.$")

    def of(number):
        entries = stage.cli("history", number, journal=folder)["entries"]
        return {e["kind"]: e for e in entries if e["live"] and e["day"] == TODAY and e["kind"] != "void"}

    equal(of("1")["fed"]["values"], {"prey": "house fly", "n": 2, "outcome": "offered"}, "1")
    equal(of("40")["misted"]["bulk"], True, "40 was sprayed")
    for number in ("14", "31"):
        equal(of(number)["fed"]["values"]["outcome"], "refused", number)
    equal(of("22")["moulted"]["values"]["outcome"], "fell", "22")
    equal(set(of("33")), {"died"}, "33")
    equal(of("7")["belly"]["values"]["score"], 5, "7")
    equal(len([n for n in range(1, CUPS + 1) if "misted" in of(str(n))]), CUPS - 1, "sprayed")
    stage.session.key("ctrl+z")
    stage.told("^Took back the round: ")
    equal([n for n in range(1, CUPS + 1) if of(str(n))], [], "after one undo")


def forty_by_keys(stage):
    """Forty cups, two actions, four exceptions: at most 60 keys, from a fresh page."""
    folder = forty_cups(stage)
    stage.open("--journal", folder, "--today", TODAY)
    stage.says("^What did you do on Shelf")
    hands = Hands(stage.session)
    hands.chord("ctrl+l")
    hands.type(LINE)
    for number, what in PARTS:
        stage.says(f": {re.escape(what)}")
        stage.says(f"^{number} ")
    stage.picture("round-forty")
    hands.chord("Return")
    check_written(stage, folder)
    print(f"# {hands.keys} keys for {CUPS} cups, 2 actions, 4 exceptions", flush=True)
    if hands.keys > MOST_KEYS:
        raise AssertionError(f"{hands.keys} keys, {MOST_KEYS} are allowed")


def forty_by_mouse(stage):
    """The same round by mouse on the cups: at most 25 clicks."""
    folder = forty_cups(stage)
    stage.open("--journal", folder, "--today", TODAY)
    stage.says("^What did you do on Shelf")
    hands = Hands(stage.session)
    hands.click("push button", "Mark cups")
    stage.session.find("push button", "Sprayed")
    hands.click("push button", "Sprayed")
    choose_prey(stage, hands)
    for tool, cups in (("refused", ("14", "31")), ("moulted, fell", ("22",)), ("dead", ("33",)), ("belly", ("7",))):
        hands.click("push button", re.compile(f"^{tool}, key "))
        if tool == "belly":
            hands.click("push button", "tight")
        for number in cups:
            hands.click("push button", re.compile(rf"^{number}, "))
    stage.says(": belly 5 of 5")
    stage.picture("round-cups")
    hands.click("push button", "Write the round")
    check_written(stage, folder)
    print(f"# {hands.clicks} clicks for {CUPS} cups, 2 actions, 4 exceptions", flush=True)
    if hands.clicks > MOST_CLICKS:
        raise AssertionError(f"{hands.clicks} clicks, {MOST_CLICKS} are allowed")


def forty_saved_soon(stage):
    """The round of forty cups is in the journal within 100 ms of the key."""
    folder = forty_cups(stage)
    log = os.path.join(folder, "journal.sqlite-wal")
    stage.open("--journal", folder, "--today", TODAY)
    stage.says("^What did you do on Shelf")
    took = []
    for _ in range(5):
        stage.session.key("ctrl+l")
        stage.session.type(LINE)
        time.sleep(DRAFT_S + .5)  # nothing else is written now
        before, began = os.stat(log).st_mtime_ns, time.time_ns()
        stage.session.key("Return")
        while os.stat(log).st_mtime_ns == before:
            if time.time_ns() - began > 10e9:
                raise AssertionError("nothing was written")
            time.sleep(.001)
        took.append((os.stat(log).st_mtime_ns - began) / 1e6)
        stage.told("^Saved: ")
        stage.session.key("ctrl+z")
        stage.told("^Took back the round: ")
    print(f"# saved {min(took):.0f} ms after the key (best of {len(took)})", flush=True)
    if min(took) > MOST_MS:
        raise AssertionError(f"saved after {took} ms, {MOST_MS} are allowed")


def draft_is_kept(stage):
    """What is typed is there again after the program was killed two seconds later."""
    folder = forty_cups(stage)
    stage.open("--journal", folder, "--today", TODAY)
    stage.says("^What did you do on Shelf")
    stage.session.key("ctrl+l")
    stage.session.type("mi;14 re")
    time.sleep(DRAFT_S)
    stage.session.app.kill()
    stage.session.app.wait()
    stage.session.app = None
    stage.open("--journal", folder, "--today", TODAY)
    stage.says(": refused")
    stage.session.key("ctrl+l", "Escape")
    time.sleep(DRAFT_S)  # the empty line is kept too


def bottom(stage, node):
    _, y, _, height = stage.session.extents(node)
    return y + height


def narrow_and_low(stage):
    """In a narrow, low window a number brings its cup into sight, and the story leaves the line free."""
    folder = forty_cups(stage)
    stage.open("--journal", folder, "--today", TODAY, size=(720, 560))
    line = stage.session.find("text", re.compile("^What did you do on Shelf"))
    stage.to_cup(str(CUPS))
    time.sleep(.5)
    _, top, _, _ = stage.session.extents(line)
    if bottom(stage, stage.session.find("push button", re.compile(f"^{CUPS}, "))) > top:
        raise AssertionError(f"{CUPS} is not in sight")
    if bottom(stage, stage.session.find("label", re.compile(f"^{CUPS} [?♂♀]"))) > top:
        raise AssertionError("the story lies over the line")
    stage.session.click(line, None)
    stage.session.type("mi")
    stage.says("Sprayed")
    stage.picture("round-narrow")
    stage.session.key("Escape")


def choose_prey(stage, hands):
    """House flies from the list, and two of them if that is not what is proposed."""
    session = stage.session
    hands.click("combo box", "Prey")
    hands.click("label", "house flies")
    stage.says("^Fed .*house fl")
    for _ in range(4):
        number = session.find("spin button", "How many")
        wanted = 2 - int(session.value(number))
        if wanted == 0:
            return
        # Its buttons stand at the right end: less, more.
        _, _, width, height = session.extents(number)
        hands.click(number, None, at=(width - height * (.5 if wanted > 0 else 1.5), height / 2))
    raise AssertionError("the number of house flies could not be set to 2")


SCENES = [forty_by_keys, forty_by_mouse, forty_saved_soon, draft_is_kept, narrow_and_low]
