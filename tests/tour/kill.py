#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""kill.py --build BUILD [--seed N] [COUNT]: what the window called saved is there after SIGKILL.

COUNT times the window is opened and driven by keys to journal notes and photos; in the middle of one of
them it is killed, at a random moment after the key that records. Whatever had been read as saved in its
accessible tree must be in the journal afterwards, once, and the journal must be clean. What was under way
may be there or not."""

import argparse
import os
import random
import re
import signal
import sys
import threading
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import bench  # noqa: E402
from stage import TODAY, Stage, equal  # noqa: E402


class Victim:
    """One journal with one animal, through many lives of the window."""

    def __init__(self, stage, chance):
        self.stage, self.session, self.chance = stage, stage.session, chance
        self.journal = os.path.join(stage.home, "victim")
        self.typed, self.saved = [], []    # texts of notes
        self.taken, self.kept = 0, 0       # photos
        self.cli("new", self.journal, journal=False)
        self.cli("add", "place", "name=Shelf", "code=S")
        self.cli("add", "animal", "species=hierodula", "place=S", "hatched=2026-03-01")

    def cli(self, *words, **named):
        named.setdefault("journal", self.journal)
        return self.stage.cli(*words, **named)

    def open(self):
        self.session.start([self.stage.app, "--journal", self.journal, "--today", TODAY])
        self.session.find("push button", re.compile("^1, "), 15, showing=False)
        self.session.key("1")
        self.stage.says("^1 [?♂♀]")

    def acknowledged(self, pattern, killed):
        """Read the window until it says so, or until it is dead."""
        end = time.monotonic() + 20
        while time.monotonic() < end:
            try:
                if any(re.search(pattern, text) for text in self.stage._told()):
                    return True
            except Exception:  # it died while it was asked
                pass
            if killed.is_set():
                return False
        raise AssertionError(f"never said {pattern}: {self.session.dump(showing=True)[-1500:]}")

    def strike(self, killed):
        """From now on it has a random part of a second to live."""
        pid, wait = self.session.app.pid, self.chance.uniform(0, .6)

        def kill():
            time.sleep(wait)
            os.kill(pid, signal.SIGKILL)
            killed.set()
        threading.Thread(target=kill).start()

    def note(self, killed, last):
        text = f"seen {len(self.typed)} today"
        self.typed.append(text)
        self.session.key("o")
        self.session.type(text)
        if last:
            self.strike(killed)
        self.press_return(killed)
        if self.acknowledged(rf"^Saved: cup 1\b.*{text}", killed):
            self.saved.append(text)

    def photo(self, killed, last):
        self.taken += 1
        self.stage.hush()  # another photo may have been told of
        path, _ = bench.draw(self.stage, f"victim-{self.taken}.jpg", str(self.taken), "6", "1", TODAY)
        self.session.key("p")
        self.session.wait_window("Choose a picture")
        time.sleep(.5)
        self.session.type(path)
        if last:
            self.strike(killed)
        self.press_return(killed)
        if self.acknowledged("^Saved: the picture", killed):
            self.kept += 1

    def press_return(self, killed):
        try:
            self.session.key("Return")
        except Exception:
            if not killed.wait(1):
                raise

    def live_and_die(self, number):
        killed = threading.Event()
        self.open()
        for _ in range(self.chance.randrange(3)):
            (self.photo if self.chance.random() < .3 else self.note)(killed, False)
        (self.photo if number % 2 else self.note)(killed, True)
        killed.wait(5)
        equal(self.session.app.wait(10), -signal.SIGKILL, "how it ended")
        equal(self.session.complaints(), [], "what the window complained about")

    def after(self):
        """The journal, read by another program."""
        report = self.cli("check")
        equal((report["clean"], report["problems"]), (True, []), "check")
        entries = [e for e in self.cli("history", "1")["entries"] if e["live"]]
        notes = [e["values"]["text"] for e in entries if e["kind"] == "note"]
        equal(sorted(set(notes)), sorted(notes), "notes written twice")
        equal([text for text in self.saved if text not in notes], [], "saved notes that are lost")
        equal([text for text in notes if text not in self.typed], [], "notes that nobody typed")
        photos = len([e for e in entries if e["kind"] == "photo"])
        if not self.kept <= photos <= self.taken:
            raise AssertionError(f"{self.kept} photos were called saved, {self.taken} begun, {photos} are there")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--build", required=True)
    parser.add_argument("--seed", type=int, default=int(time.time()))
    parser.add_argument("count", nargs="?", type=int, default=20)
    given = parser.parse_args()
    print(f"1..{given.count}\n# --seed {given.seed}", flush=True)
    stage, failed = Stage(given.build), 0
    try:
        victim = Victim(stage, random.Random(given.seed))
        for number in range(1, given.count + 1):
            try:
                victim.live_and_die(number)
                victim.after()
                print(f"ok {number} - {len(victim.saved)} notes and {victim.kept} photos saved so far are there", flush=True)
            except Exception as error:
                failed += 1
                print(f"not ok {number} - killed\n# " + f"{error}"[:3000].replace("\n", "\n# "), flush=True)
                if stage.session.alive():
                    stage.session.app.kill()
                    stage.session.app.wait(5)
    finally:
        stage.stop()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
