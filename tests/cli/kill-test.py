#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Killed at random moments, nothing acknowledged is lost and nothing is half done.

kill-test.py [ROUNDS] — runs of ROUNDS kills each (20 when not given): records
and rounds; photos; photos killed as soon as their file lies in the journal,
before its row can be there; backups into one file; those of each day; restoring.
"""

import os
import random
import shutil
import signal
import struct
import subprocess
import sys
import time
import zlib

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, Journal, equal, main  # noqa: E402

ROUNDS = int(sys.argv[1]) if len(sys.argv) > 1 else 20
RANDOM = random.Random(20260601)


def picture(path, seed):
    """A small PNG that is unlike every other."""
    noise = random.Random(seed)
    width, height = 64, 48
    rows = b"".join(b"\0" + noise.randbytes(3 * width) for _ in range(height))

    def chunk(kind, data):
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    with open(path, "wb") as f:
        f.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2,
                                                                0, 0, 0))
                + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


def journal():
    j = Journal()
    j.ok("add", "place", "name=Shelf", "code=S")
    for _ in range(3):
        j.animal("species=hierodula", "hatched=2026-03-01", "place=S")
    return j


def start(j, *words):
    return subprocess.Popen([CLI, "--journal", j.dir, "--today", j.today, *words],
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def usual_ms(j, *words):
    """How long such a call takes here, so that kills fall inside it."""
    began = time.monotonic()
    j.ok(*words, as_json=False)
    return time.monotonic() - began


def ids(j, kind):
    found = set()
    for subject in ("1", "2", "3"):
        found |= {e["id"] for e in j.ok("history", subject)["entries"]
                  if e["kind"] == kind and e["live"]}
    return found


def rounds_whole(j):
    """A round is there as a whole or not at all."""
    sizes = {}
    for subject in ("1", "2", "3"):
        for entry in j.ok("history", subject)["entries"]:
            if entry["kind"] == "misted":
                sizes[entry["round"]] = sizes.get(entry["round"], 0) + 1
    assert set(sizes.values()) <= {3}, sizes


def finish(process):
    out, _ = process.communicate()
    return process.returncode, out.decode()


def test_records_and_rounds():
    j = journal()
    length = usual_ms(j, "record", "1", "looked")
    acknowledged, killed = set(), 0
    for i in range(ROUNDS):
        if i % 4 == 3:
            process = start(j, "round", "S", "misted")
        else:
            process = start(j, "record", str(1 + i % 3), "note", f"text=look {i}")
        time.sleep(RANDOM.uniform(0, 2 * length))
        process.send_signal(signal.SIGKILL)
        code, out = finish(process)
        killed += code == -signal.SIGKILL
        if code == 0 and i % 4 != 3:
            acknowledged.add(out.strip())
    lost = acknowledged - ids(j, "note")
    equal(lost, set())
    rounds_whole(j)
    equal(j.ok("check")["clean"], True)
    assert killed > 0, "no process was killed while it ran"
    print(f"# records: {killed} of {ROUNDS} killed, {len(acknowledged)} acknowledged")


def test_photos():
    j = journal()
    path = os.path.join(j.tmp.name, "p.png")
    picture(path, -1)
    length = usual_ms(j, "photo", "add", "1", path)
    acknowledged, killed = set(), 0
    for i in range(ROUNDS):
        picture(path, i)
        process = start(j, "photo", "add", "1", path)
        time.sleep(RANDOM.uniform(0, 2 * length))
        process.send_signal(signal.SIGKILL)
        code, out = finish(process)
        killed += code == -signal.SIGKILL
        if code == 0:
            acknowledged.add(out.strip())
    equal(acknowledged - ids(j, "photo"), set())
    equal(j.ok("check")["clean"], True)
    assert killed > 0
    print(f"# photos: {killed} of {ROUNDS} killed, {len(acknowledged)} acknowledged")


def photo_files(j):
    folder = os.path.join(j.dir, "photos")
    return {os.path.join(top, name) for top, _, names in os.walk(folder) for name in names
            if name.endswith(".png")}


def test_between_photo_file_and_row():
    j = journal()
    path = os.path.join(j.tmp.name, "p.png")
    between = 0
    for i in range(ROUNDS):
        picture(path, 10_000 + i)
        before, entries = photo_files(j), ids(j, "photo")
        process = start(j, "photo", "add", "1", path)
        while process.poll() is None and photo_files(j) == before:
            pass
        process.send_signal(signal.SIGKILL)
        code, out = finish(process)
        after = ids(j, "photo")
        if photo_files(j) != before and after == entries:
            between += 1
            # The same picture again: taken, and no duplicate of anything in the journal.
            again = j.ok("photo", "add", "1", path)
            assert again["photo"] in ids(j, "photo")
        elif code == 0:
            assert out.strip() in after
    equal(j.ok("check")["clean"], True)
    print(f"# between file and row: {between} of {ROUNDS}")
    assert between > 0, "no kill fell between file and row"


# ---- backups ----

def full():
    """A journal with three photos."""
    j = journal()
    path = os.path.join(j.tmp.name, "p.png")
    for i in range(3):
        picture(path, 20_000 + i)
        j.ok("photo", "add", str(i + 1), path)
    os.remove(path)
    return j


def kill_inside(j, length, *words):
    """The status of each call, killed at any moment of the time it takes."""
    for _ in range(5 * ROUNDS):
        process = start(j, *words)
        time.sleep(RANDOM.uniform(0, length))
        process.send_signal(signal.SIGKILL)
        yield finish(process)[0]


def whole(j, path):
    """Entries of the journal that comes of a backup, which is sound to the last photo."""
    into = os.path.join(j.tmp.name, "whole")
    back = j.ok("restore", path, into, journal=False)
    checked = j.ok("--journal", into, "check", journal=False)
    equal((checked["clean"], checked["photos"], checked["entries"]), (True, 3, back["entries"]))
    shutil.rmtree(into)
    return back["entries"]


def seen(folder):
    """What a keeper sees there."""
    return sorted(name for name in os.listdir(folder) if not name.startswith("."))


def test_backups():
    j = full()
    path = os.path.join(j.tmp.name, "b")
    length = usual_ms(j, "backup", path)
    last, killed = j.n_entries(), 0
    for code in kill_inside(j, length, "backup", path, "--replace"):
        there = whole(j, path)
        killed += code == -signal.SIGKILL
        if code == 0:
            last = j.n_entries()
            equal(there, last)
        assert last <= there <= j.n_entries(), (last, there)
        equal(seen(j.tmp.name), ["b", "j"])
        if killed >= ROUNDS:
            break
        j.record("1", "looked")
    assert killed >= ROUNDS, killed
    j.ok("backup", path, "--replace")
    equal(sorted(os.listdir(j.tmp.name)), ["b", "j"])  # what was left has gone
    equal(j.ok("check")["clean"], True)
    print(f"# backups: {killed} killed")


def test_daily_backups():
    """Of each day one that is whole, or none; the older ones stay."""
    j = full()
    folder = j.dir + "-backups"
    length = usual_ms(j, "backups", "--now")
    kept, killed, day = {"2026-06-01"}, 0, 1
    while killed < ROUNDS:
        day += 1
        assert day < 5 * ROUNDS, killed
        j.today = time.strftime("%Y-%m-%d", time.gmtime(1780272000 + 86400 * (day - 1)))
        process = start(j, "backups", "--now")
        time.sleep(RANDOM.uniform(0, length))
        process.send_signal(signal.SIGKILL)
        code, _ = finish(process)
        killed += code == -signal.SIGKILL
        listed = j.ok("backups")["backups"]
        days = {b["day"] for b in listed}
        assert code != 0 or j.today in days, (code, days)
        if j.today in days:
            whole(j, os.path.join(folder, j.today + ".mantidary"))
        else:
            assert kept <= days, (kept, days)  # nothing older goes before that of today is there
        equal(set(seen(folder)) - {"photos"}, {d + ".mantidary" for d in days})
        kept = days
    j.ok("backups", "--now")
    equal([name for name in os.listdir(folder) if name.startswith(".")], [])
    equal(j.ok("check")["clean"], True)
    print(f"# daily backups: {killed} killed")


def test_restoring():
    j = full()
    path, into = (os.path.join(j.tmp.name, name) for name in ("b", "r"))
    j.ok("backup", path)
    length = usual_ms(j, "restore", path, into)
    shutil.rmtree(into)
    killed = came = 0
    for code in kill_inside(j, length, "restore", path, into):
        killed += code == -signal.SIGKILL
        assert code != 0 or os.path.exists(into)
        if os.path.exists(into):
            came += 1
            checked = j.ok("--journal", into, "check", journal=False)
            equal((checked["clean"], checked["entries"], checked["photos"]), (True, j.n_entries(), 3))
            shutil.rmtree(into)
        equal(seen(j.tmp.name), ["b", "j"])
        if killed >= ROUNDS:
            break
    assert killed >= ROUNDS, killed
    j.ok("restore", path, into, journal=False)
    equal(sorted(os.listdir(j.tmp.name)), ["b", "j", "r"])
    equal(j.ok("check")["clean"], True)
    print(f"# restoring: {killed} killed, {came} came to their end")


if __name__ == "__main__":
    main([test_records_and_rounds, test_photos, test_between_photo_file_and_row, test_backups,
          test_daily_backups, test_restoring])
