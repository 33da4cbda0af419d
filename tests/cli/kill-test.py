#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Killed at random moments, nothing acknowledged is lost and nothing is half done.

kill-test.py [ROUNDS] — three runs of ROUNDS kills each (20 when not given):
records and rounds; photos; photos killed as soon as their file lies in the
journal, before its row can be there.
"""

import os
import random
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
            process = start(j, "record", str(1 + i % 3), "belly", f"score={1 + i % 5}")
        time.sleep(RANDOM.uniform(0, 2 * length))
        process.send_signal(signal.SIGKILL)
        code, out = finish(process)
        killed += code == -signal.SIGKILL
        if code == 0 and i % 4 != 3:
            acknowledged.add(out.strip())
    lost = acknowledged - ids(j, "belly")
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


if __name__ == "__main__":
    main([test_records_and_rounds, test_photos, test_between_photo_file_and_row])
