#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Two copies edited, corrected and undone at random are the same whichever is merged first; killed
while merging, all that came is there or nothing of it.

merge-test.py [SEEDS [KILLS]]
"""

import os
import random
import signal
import subprocess
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, collect, equal, main  # noqa: E402
from copies import copy_of, entries, pair, picture, same, shelf  # noqa: E402

SEEDS = int(sys.argv[1]) if len(sys.argv) > 1 else 2
KILLS = int(sys.argv[2]) if len(sys.argv) > 2 else 4


class Keeper:
    """Somebody who edits one copy at random; what is refused is refused."""

    def __init__(self, j, seed):
        self.j = j
        self.random = random.Random(seed)
        self.refused = 0

    def animal(self):
        labels = [t["subject"] for t in self.j.ok("plan")["tasks"]] + ["1", "2", "3"]
        return self.random.choice([label for label in labels if label[0].isdigit()])

    def entry(self):
        """Most often one that counts, sometimes one that was taken back; often one of both sides."""
        found = self.j.ok("history", "1" if self.random.random() < .5 else self.animal())["entries"]
        live = [e for e in found if e["live"]] or found
        return self.random.choice(live if self.random.random() < .9 else found)["id"]

    def day(self):
        return f"2026-06-{self.random.randint(1, 10):02d}"

    def words(self):
        pick = self.random
        what = pick.choice(["add", "fed", "moulted", "note", "measured", "set", "died", "correct",
                            "correct", "void", "undo", "undo", "redo", "round", "lot"])
        record = ["record", self.animal()]
        day = ["--day", self.day()]
        return {
            "add": ["add", "animal", "species=hierodula", "place=A", f"hatched={self.day()}"],
            "fed": record + ["fed", "prey=cricket", "outcome=taken"] + day,
            "moulted": record + ["moulted"] + day,
            "note": record + ["note", f"text=seen {pick.randint(1, 999)}"] + day,
            "measured": record + ["measured", "what=body", f"mm={pick.randint(10, 60)}"] + day,
            "set": record + ["set", "key=name", f"value=N{pick.randint(1, 9)}"],
            "died": record + ["died"] + day,
            "correct": ["correct", self.entry(), f"day={self.day()}"],
            "void": ["void", self.entry()],
            "undo": ["undo"],
            "redo": ["redo"],
            "round": ["round", "A", f"misted; {self.animal()} refused"] + day,
            "lot": ["add", "lot", "species=hierodula", f"count={pick.randint(2, 90)}", "place=A"],
        }[what]

    def edit(self, times):
        for _ in range(times):
            done = self.j.run(*self.words())
            assert done.code in (0, 1), done.err
            self.refused += done.code


def test_at_random_in_either_order():
    for seed in range(SEEDS):
        start = shelf()
        Keeper(start, seed).edit(6)
        shared = start.record("2", "measured", "what=head", "mm=3.5")
        a, b = start, copy_of(start)
        sides = [Keeper(a, seed * 2 + 100), Keeper(b, seed * 2 + 101)]
        for _ in range(2):
            for side in sides:
                side.edit(6)
        # On both sides, last: one number given twice, one entry corrected twice.
        for side in sides:
            side.j.animal("species=hierodula", "place=A", "number=900")
        twice = [side.j.run("correct", shared, f"mm={mm}").code == 0
                 for side, mm in zip(sides, ("3.4", "3.6"))]
        assert sum(side.refused for side in sides) < 20
        union = set(entries(a)) | set(entries(b))
        before_a = copy_of(a)
        there = a.ok("merge", b.dir)
        b.ok("merge", before_a.dir)
        print(f"# seed {seed}: {there['entries']} came to {there['already']},"
              f" {len(there['numbers'])} numbers, {len(there['conflicts'])} conflicts")
        equal([n["subject"] for n in there["numbers"] if n["number"] == "900"], ["900b"])
        assert not all(twice) or "two_replacements" in {c["kind"] for c in there["conflicts"]}, there
        equal(set(entries(a)), union)
        same(a, b)
        equal(a.ok("merge", b.dir)["entries"], 0)
        assert a.ok("check")["clean"]
        # Life goes on, and they meet again.
        for side in sides:
            side.edit(3)
        b.ok("merge", a.dir)
        a.ok("merge", b.dir)
        same(a, b)


# ---- killed ----

def killed_once(a, b, delay, env=None):
    """What the folder held is there, or all of it with all that came."""
    before, whole = set(entries(a)), set(entries(a)) | set(entries(b))
    work = copy_of(a)
    process = subprocess.Popen([CLI, "--journal", work.dir, "--today", a.today, "merge", b.dir],
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                               env={**os.environ, **(env or {})})
    if env is None:
        time.sleep(delay)
        process.send_signal(signal.SIGKILL)
    ended = process.wait(timeout=60)
    check = work.ok("check")
    assert check["clean"], check
    held = set(entries(work))
    assert held in (before, whole), (len(held), len(before), len(whole))
    work.ok("merge", b.dir)
    equal(set(entries(work)), whole)
    return ended, held == whole


def test_killed_it_is_all_or_nothing():
    a, b = pair()
    for i in range(4):
        b.ok("photo", "add", "1", picture(b, f"p{i}.jpg", 10 + i))
        b.ok("round", "A", "misted; 2 refused")
    a.record("1", "note", "text=here")
    equal(killed_once(a, b, 0, {"MANTIDARY_TEST_KILL_AT": "photo-file"}), (-9, False))
    equal(killed_once(a, b, 0, {"MANTIDARY_TEST_KILL_AT": "before-commit"}), (-9, False))
    equal(killed_once(a, b, 0, {"MANTIDARY_TEST_KILL_AT": "after-commit"}), (-9, True))
    began = time.monotonic()
    copy_of(a).ok("merge", b.dir)
    usual = time.monotonic() - began
    at = random.Random(7)
    for _ in range(KILLS):
        killed_once(a, b, at.uniform(0, usual))


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
