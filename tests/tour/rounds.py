# SPDX-License-Identifier: GPL-3.0-or-later
"""A round over a shelf of forty cups with two common actions and four exceptions, by keys and by mouse:
real keys and clicks, counted as they are sent."""

import os
import re

from stage import TODAY, equal

MOST_KEYS, MOST_CLICKS = 60, 25
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
    hands.type("f 2 hou,mi;14 31 re;22 mo fe;33 de;7 b 5")
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


SCENES = [forty_by_keys, forty_by_mouse]
