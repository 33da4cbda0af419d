#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""movein.py --build BUILD [--pictures DIR]: eighty animals are moved in by keys alone, and every key is counted.

The collection is invented: two shelves, four kinds, numbers from the lids (two of them with a letter), stages,
sexes, last moults, last meals, and gaps where a keeper knows nothing. What is in the journal afterwards is read by
the command line and held against the list that was typed."""

import os
import re
import signal
import sys
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from stage import TODAY, equal, play  # noqa: E402

MOST_KEYS = 15      # on average for one animal; every key counts, also each of a chord
MOST_SECONDS = 20 * 60
KEYS_A_SECOND = 2   # of a keeper who reads a lid for each row


def collection():
    """What stands on the lids: (number, shelf, species, stage, sex, moult, fed), "" where nobody knows."""
    kinds = [("hierodula", 30), ("ghost", 20), ("sphodromantis", 18), ("unknown", 12)]
    moults = ["3w", "12", "so", "5", "", "~2w", "10 may", "20"]
    rows = []
    for kind, n in kinds:
        for _ in range(n):
            i = len(rows)
            rows.append({
                "number": str(i + 1) if i < 14 else str(i - 1), "shelf": "A" if i < 40 else "B", "species": kind,
                "stage": ["4", "5", "6", "sub", "ad", ""][(i * 7) % 6], "sex": ["f", "m", "", "f", "m"][(i * 3) % 5],
                "moult": moults[(i * 5) % 8], "fed": "so" if i < 60 else "",
            })
    rows[14]["number"], rows[15]["number"] = "14a", "14b"
    return rows


class Hands:
    """Sends keys and counts them: a chord is as many as are held down."""

    def __init__(self, session):
        self.session, self.count = session, 0

    def key(self, chord, times=1):
        self.count += times * len(chord.split("+"))
        self.session._x("key", "--clearmodifiers", "--delay", "25", *[chord] * times, timeout=60)

    def type(self, text):
        """Plain letters: each is one key, and so is the shift of a sign that needs one."""
        self.count += len(text) + sum(letter in '"~' or letter.isupper() for letter in text)
        self.session._x("type", "--delay", "25", "--", text, timeout=60)


def begin(stage):
    """A new journal offers to move in a collection; the page opens with one key, its cell in hand."""
    stage.journal = os.path.join(stage.home, "collection")
    stage.cli("new", stage.journal, journal=False)
    stage.open("--journal", stage.journal, "--today", TODAY)
    stage.session.find("push button", "Move in a collection", 15)
    stage.picture("move-in-empty-journal")
    stage.hands = Hands(stage.session)
    stage.began = time.monotonic()
    stage.hands.key("Return")
    stage.says("^Moving in$")
    stage.says("^Place: a shelf")


def fill(stage, numbers, value):
    """One value for a range, in the column in hand."""
    stage.hands.key("ctrl+r")
    stage.hands.type(numbers)
    stage.hands.key("Return")
    stage.hands.type(value)
    stage.hands.key("Return")


def ranges(rows, key):
    """Runs of rows with one value, as ranges of numbers."""
    runs = []
    for row in rows:
        if runs and runs[-1][1][key] == row[key]:
            runs[-1][2] = row
        else:
            runs.append([row, row, row])
    return [(f"{first['number']}-{last['number']}", value[key]) for first, value, last in runs if value[key]]


def column(stage, rows, key):
    """Down a column: what is typed, and Enter."""
    stage.hands.key("ctrl+Home")
    for row in rows:
        if row[key]:
            stage.hands.type(row[key])
        stage.hands.key("Return")


def numbers_and_ranges(stage):
    """Eighty rows come from one range, the two odd lids by hand; shelf and kind are typed once for many."""
    rows = stage.rows = collection()
    plain = [row["number"] for row in rows if row["number"].isdigit()]
    fill(stage, f"1-14,14a,14b,15-{plain[-1]}", "A")
    stage.says("^80 animals; new: A$")
    fill(stage, "39-78", "B")
    stage.says("^80 animals; new: A, B$")
    stage.hands.key("Right", 3)
    stage.says("^Species")
    for numbers, value in ranges(rows, "species"):
        fill(stage, numbers, "u" if value == "unknown" else value[:4])
    stage.picture("move-in-species")


def cells(stage):
    """Stage, sex and last moult are typed down their columns; the last meal once for a range."""
    rows = stage.rows
    stage.hands.key("Right")
    column(stage, rows, "stage")
    stage.hands.key("Right")
    column(stage, rows, "sex")
    stage.hands.key("Right")
    column(stage, rows, "moult")
    stage.hands.key("Right")
    for numbers, value in ranges(rows, "fed"):
        fill(stage, numbers, value)
    stage.says("^80 animals; new: A, B$")
    stage.hands.key("ctrl+Home")
    stage.picture("move-in")


def saved(stage):
    """One key saves them all; a keeper needs at most fifteen keys for an animal, and twenty minutes."""
    stage.hands.key("ctrl+s")
    stage.told(r"^Saved: 80 animals moved in\. Ctrl\+Z takes them back\.$", 30)
    each = stage.hands.count / len(stage.rows)
    minutes = stage.hands.count / KEYS_A_SECOND / 60
    print(f"# {stage.hands.count} keys for {len(stage.rows)} animals: {each:.1f} each; "
          f"{minutes:.0f} minutes at {KEYS_A_SECOND} keys a second; sent in {time.monotonic() - stage.began:.0f} s")
    if each > MOST_KEYS:
        raise AssertionError(f"{each:.1f} keys for each animal")
    if minutes * 60 > MOST_SECONDS:
        raise AssertionError(f"{minutes:.0f} minutes")
    stage.card("38")
    equal(len(stage.cards()), 40, "cups on the first shelf")
    stage.picture("move-in-shelves")


STAGES = {"4": 3, "5": 4, "6": 5}
SCIENTIFIC = {"hierodula": "Hierodula membranacea", "ghost": "Phyllocrania paradoxa",
              "sphodromantis": "Sphodromantis viridis", "unknown": None}
MOULTED = {"3w": "2026-05-27", "12": "2026-06-03", "so": "2026-06-14", "5": "2026-06-09", "~2w": "2026-06-03",
           "10 may": "2026-05-10", "20": "2026-05-27"}


def in_the_journal(stage):
    """What the command line reads is what was typed, animal by animal."""
    wrong = []
    for row in stage.rows:
        state = stage.cli("state", row["number"], journal=stage.journal)
        history = stage.cli("history", row["number"], journal=stage.journal)["entries"]
        kinds = {entry["kind"]: entry for entry in history}
        moult, told = kinds.get("moulted"), kinds.get("sexed")
        got = (state["species"], state["place"], moult and moult["day"],
               told and told["values"]["sex"], state["last_offered"])
        wanted = (SCIENTIFIC[row["species"]], row["shelf"], MOULTED.get(row["moult"]),
                  {"f": "female", "m": "male"}.get(row["sex"]), "2026-06-14" if row["fed"] else None)
        if got != wanted:
            wrong.append((row["number"], got, wanted))
        if row["stage"] in STAGES and state["moults"]["value"] != STAGES[row["stage"]]:
            wrong.append((row["number"], state["moults"], row["stage"]))
        if (row["stage"] == "ad") != state["adult"]:
            wrong.append((row["number"], state["adult"], row["stage"]))
    equal(wrong, [], "animals that are not as they were typed")


def calm(stage):
    """The plan starts calm: nothing is overdue, and nothing is to be touched on the first day."""
    tasks = stage.cli("plan", "--to", TODAY, journal=stage.journal)["tasks"]
    equal([task for task in tasks if task["latest"] < TODAY or task["due"] < TODAY], [], "overdue")
    today = [task for task in tasks if task["due"] <= TODAY]
    equal([task for task in today if task["reach"] == "touch"], [], "to be touched")
    lines = {(task["kind"], task["prey"][0]["name"] if task.get("prey") else "") for task in today}
    print(f"# the first day: {len(today)} tasks in {len(lines)} lines: {sorted(lines)}")
    if len(lines) > 8:
        raise AssertionError(f"{len(lines)} lines")


def one_undo(stage):
    """One key takes back all eighty, another puts them back."""
    stage.session.key("ctrl+z")
    stage.told(r"^Took back the moving in, from 1 on: \d+ entries\.$", 30)
    stage.session.find("push button", "Move in a collection", 15)
    equal(stage.cli("state", "1", journal=stage.journal, may_fail=True), None, "the first animal")
    stage.session.key("ctrl+shift+z")
    stage.told(r"^Put back the moving in, from 1 on: \d+ entries\.$", 30)
    stage.card("38")
    equal(len(stage.cards()), 40, "cups on the first shelf")


def kept_after_a_kill(stage):
    """What is typed is a draft within two seconds: it is there after SIGKILL, and can be thrown away."""
    journal = os.path.join(stage.home, "killed")
    stage.cli("new", journal, journal=False)
    stage.open("--journal", journal, "--today", TODAY)
    stage.session.find("push button", "Move in a collection", 15)
    stage.session.key("Return")
    stage.says("^Place: a shelf")
    stage.session.type("Attic")
    stage.session.key("Tab", "Tab", "Tab")
    stage.session.type("hier")
    stage.session.key("Return", "Tab", "Tab", "Tab")
    stage.session.type("gho")
    time.sleep(2)
    os.kill(stage.session.app.pid, signal.SIGKILL)
    # A killed program is gone only when the disk has taken what it was writing.
    equal(stage.session.app.wait(60), -signal.SIGKILL, "how it ended")
    stage.session.app = None
    equal(stage.cli("check", journal=journal)["clean"], True, "the journal is clean")
    stage.open("--journal", journal, "--today", TODAY)
    stage.told(r"not saved\. They are kept: Ctrl\+M goes on\.$")
    stage.session.key("ctrl+m")
    stage.says("^This was typed earlier and is not saved yet")
    for row in (r"^1, Place Attic \(new\), Species Hierodula membranacea$",
                r"^2, Place Attic, Species Phyllocrania paradoxa$"):
        stage.session.find("table row", re.compile(row), 15)
    stage.session.press("push button", "Start anew")
    stage.says("^Place: a shelf")
    equal(len(stage.session.find_all("table row", re.compile("^[0-9]"))), 1, "rows")


SCENES = [begin, numbers_and_ranges, cells, saved, in_the_journal, calm, one_undo, kept_after_a_kill]


if __name__ == "__main__":
    sys.exit(play(__doc__, SCENES))
