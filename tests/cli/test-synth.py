#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The synthetic collection: what was asked for, the same for the same seed, sound, never over another's folder."""

import json
import os
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import collect, equal, main  # noqa: E402

CLI = os.environ["MANTIDARY_CLI"]
TODAY = "2026-06-14"
ANIMALS, DAYS = 60, 90
FIRST = "2026-03-17"  # 90 days, both ends counted


def run(*words, status=0):
    done = subprocess.run([CLI, "--today", TODAY, "--json", *words], capture_output=True, text=True)
    assert done.returncode == status, (done.returncode, done.stderr)
    return json.loads(done.stdout) if status == 0 else done.stderr


def new(folder, seed=7, status=0):
    return run("new", folder, "--animals", str(ANIMALS), "--days", str(DAYS), "--seed", str(seed), status=status)


def histories(folder):
    return [run("--journal", folder, "history", str(n))["entries"] for n in range(1, ANIMALS + 1)]


def test_what_was_asked_for():
    with tempfile.TemporaryDirectory() as tmp:
        one, two, other = (os.path.join(tmp, name) for name in ("one", "two", "other"))
        made = new(one)
        equal(made["path"], one)
        equal(made["animals"], ANIMALS)
        check = run("--journal", one, "check")
        equal((check["clean"], check["conflicts"], check["problems"]), (True, [], []))
        equal(check["entries"], made["entries"])
        equal(check["subjects"], ANIMALS + made["places"] + 1)

        first = histories(one)
        days = [entry["day"] for entries in first for entry in entries]
        equal((min(days), max(days)), (FIRST, TODAY))
        kinds = {entry["kind"] for entries in first for entry in entries}
        for kind in ("hatched", "acquired", "fed", "misted", "looked", "moulted", "died", "left", "note"):
            assert kind in kinds, kind
        states = [run("--journal", one, "state", str(n)) for n in range(1, ANIMALS + 1)]
        equal(sum(state["alive"] for state in states), made["living"])
        assert 0 < made["living"] < ANIMALS, made
        assert len({state["species"] for state in states}) > 2
        assert sum(state["alive"] and state["place"] is not None for state in states) == made["living"]

        equal(new(two)["entries"], made["entries"])
        equal(histories(two), first)
        new(other, seed=8)
        assert histories(other) != first


def test_what_is_refused():
    with tempfile.TemporaryDirectory() as tmp:
        folder = os.path.join(tmp, "x")
        for words in (["--animals", "5"], ["--days", "5"], ["--seed", "5"], ["--animals", "x", "--days", "5"],
                      ["--animals", "5", "--days", "5", "--demo"]):
            run("new", folder, *words, status=2)
            assert not os.path.exists(folder), words
        for words in (["--animals", "0", "--days", "5"], ["--animals", "2.5", "--days", "5"],
                      ["--animals", "5", "--days", "99999"], ["--animals", "5", "--days", "5", "--seed", "-1"]):
            run("new", folder, *words, status=1)
            assert not os.path.exists(folder), words
        kept = os.path.join(tmp, "kept.txt")
        with open(kept, "w", encoding="utf-8") as f:
            f.write("mine")
        new(tmp, status=1)
        equal(os.listdir(tmp), ["kept.txt"])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
