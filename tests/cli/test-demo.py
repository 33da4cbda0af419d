#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The demo journal: the same every time, as large as it is said to be, clean, never over another's folder."""

import json
import os
import struct
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import collect, equal, main  # noqa: E402

CLI = os.environ["MANTIDARY_CLI"]
TODAY = "2026-11-24"
LAST_NUMBER = 60


def cli(folder, *words, status=0):
    done = subprocess.run([CLI, "--journal", folder, "--today", TODAY, "--json", *words],
                          capture_output=True, text=True)
    if status is not None:
        assert done.returncode == status, done.stderr
    return json.loads(done.stdout) if done.stdout.strip() else None


def new(folder, status=0):
    done = subprocess.run([CLI, "--today", TODAY, "new", folder, "--demo"], capture_output=True, text=True)
    assert done.returncode == status, done.stderr


def photos(folder):
    found = []
    for place, _, names in os.walk(os.path.join(folder, "photos")):
        found += [os.path.join(place, name) for name in names]
    return sorted(found)


def jpeg_size(path):
    """Width × height of the stored picture, from its frame header."""
    with open(path, "rb") as f:
        data = f.read()
    at = 2
    while data[at] == 0xFF:
        kind, length = data[at + 1], struct.unpack(">H", data[at + 2:at + 4])[0]
        if kind in (0xC0, 0xC1, 0xC2):
            height, width = struct.unpack(">HH", data[at + 5:at + 9])
            return width * height
        at += 2 + length
    raise AssertionError("no frame header in " + path)


def facts(folder):
    """Everything that was written about every animal and shelf, in the order of the history."""
    out = {}
    for label in [str(n) for n in range(1, LAST_NUMBER)] + ["W", "B", "H", "E1", "H1"]:
        history = cli(folder, "history", label, status=None)
        if history is not None:
            out[label] = history["entries"]
    return out


def test_the_same_every_time():
    with tempfile.TemporaryDirectory() as tmp:
        one, two = os.path.join(tmp, "one"), os.path.join(tmp, "two")
        new(one)
        new(two)
        first, second = facts(one), facts(two)
        equal(sorted(first), sorted(second))
        for label in first:
            equal(first[label], second[label])
        equal([os.path.basename(p) for p in photos(one)], [os.path.basename(p) for p in photos(two)])
        equal(cli(one, "plan"), cli(two, "plan"))

        animals = [label for label in first if label.isdigit()]
        assert 36 <= len(animals) <= 48, animals
        places = {state["place"] for state in (cli(one, "state", a) for a in animals) if state["alive"]}
        equal(places, {"W", "B", "H"})
        days = [entry["day"] for entries in first.values() for entry in entries]
        equal(max(days), TODAY)
        fed = {entry["day"] for entries in first.values() for entry in entries if entry["kind"] == "fed"}
        assert "2026-07-2" in min(fed) or "2026-07-3" in min(fed), min(fed)  # 120 days before its last
        assert len(fed) > 100, len(fed)

        sizes = [jpeg_size(path) for path in photos(one)]
        equal(sizes.count(12_000_000), 4)
        assert len(sizes) >= 12 and all(size in (12_000_000, 2048 * 1536) for size in sizes), sizes
        check = cli(one, "check")
        equal(check["clean"], True)
        equal(check["photos"], len(sizes))

        lot, egg = cli(one, "state", "H1"), cli(one, "state", "E1")
        equal([lot[key] for key in ("began", "dead", "left", "lost_unseen", "found_more", "count")],
              [88, 4, 20, 3, 0, 61])
        equal((lot["eggcase"], lot["alive"], egg["alive"]), ("E1", True, True))

        plan = cli(one, "plan")
        assert plan["tasks"] and all(task["reasons"] for task in plan["tasks"])
        assert plan["held"] and all(held["reasons"] for held in plan["held"])


def test_never_over_another_folder():
    with tempfile.TemporaryDirectory() as tmp:
        kept = os.path.join(tmp, "kept.txt")
        with open(kept, "w", encoding="utf-8") as f:
            f.write("mine")
        new(tmp, status=1)
        equal(os.listdir(tmp), ["kept.txt"])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
