#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""together.py --build BUILD: two programs and one journal, on a session bus of their own.

A second start of the window hands over to the first; what the command line writes while the window is open
appears in it, and what the window writes is read by the command line at once."""

import os
import re
import subprocess
import sys
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from stage import TODAY, equal, play  # noqa: E402


def journal(stage, name, *shelves):
    path = os.path.join(stage.home, name)
    stage.cli("new", path, journal=False)
    for shelf in shelves:
        stage.cli("add", "place", f"name={shelf}", journal=path)
        stage.cli("add", "animal", "species=hierodula", "hatched=2026-03-01", f"place={shelf}", journal=path)
    return path


def second_start(stage, *words):
    """Start the program again; it must end by itself, well, and leave one window."""
    done = subprocess.run([stage.app, *words], env=stage.session.env, stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, timeout=30, check=False)
    equal((done.returncode, done.stderr.strip()), (0, ""), "the second start")
    frames = [node for node in stage.session.find_all("frame") if node.get_name() == "Mantidary"]
    equal(len(frames), 1, "windows")


def hands_over(stage):
    """A second start hands its journal to the first window and ends."""
    stage.one, stage.two = journal(stage, "one", "Alcove"), journal(stage, "two", "Corner")
    stage.open("--journal", stage.one, "--today", TODAY)
    stage.session.find("push button", re.compile("^Alcove: "), 15)
    second_start(stage, "--journal", stage.two, "--today", TODAY)
    stage.session.find("push button", re.compile("^Corner: "), 15)
    second_start(stage)
    stage.session.find("push button", re.compile("^Corner: "), 15)
    second_start(stage, "--journal", stage.one, "--today", TODAY)
    stage.session.find("push button", re.compile("^Alcove: "), 15)


def written_elsewhere(stage):
    """What the command line writes appears in the open window, without a key."""
    stage.card("1")
    began = time.monotonic()
    stage.cli("add", "animal", "species=ghost", "acquired=2026-06-01", "stage=L4", "place=Alcove", journal=stage.one)
    stage.card("2", 10)
    print(f"# a new cup stood on the shelf {time.monotonic() - began:.1f} s after the command began")
    stage.cli("record", "1", "fed", "prey=house fly", "outcome=taken", journal=stage.one)
    stage.card_says("1", "seen eaten, today", 10)
    stage.cli("undo", journal=stage.one)
    stage.cli("add", "place", "name=Window", journal=stage.one)
    stage.session.find("push button", re.compile("^Window: "), 10)


def written_here(stage):
    """What the window writes is read by the command line as soon as it is called saved."""
    stage.to_cup("1")
    stage.session.key("l")
    stage.told(r"^Saved: cup 1\b")
    kinds = [entry["kind"] for entry in stage.cli("history", "1", journal=stage.one)["entries"] if entry["live"]]
    equal("looked" in kinds, True, "the look is in the journal")


def both_at_once(stage):
    """Writes of both, turn by turn, are all there, and the journal is sound."""
    stage.session.key("Escape")
    for i in range(5):
        stage.cli("record", "2", "note", f"text=from outside {i}", journal=stage.one)
        stage.session.key("ctrl+l")
        stage.session.type("misted")
        stage.hush()
        stage.session.key("Return")
        stage.told(r"^Saved: ")
        stage.session.key("Escape", "Escape")
    entries = [e for e in stage.cli("history", "2", journal=stage.one)["entries"] if e["live"]]
    equal(sum(e["kind"] == "note" for e in entries), 5, "notes")
    equal(sum(e["kind"] == "misted" for e in entries), 5, "sprayed")
    equal(stage.cli("check", journal=stage.one)["clean"], True, "clean")


SCENES = [hands_over, written_elsewhere, written_here, both_at_once]


if __name__ == "__main__":
    sys.exit(play(__doc__, SCENES))
