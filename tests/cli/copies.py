# SPDX-License-Identifier: GPL-3.0-or-later
"""Two copies of a journal, and whether they hold the same."""

import os
import shutil
import sqlite3
import subprocess

from cli import Journal, equal

DRAW = os.environ["MANTIDARY_DRAW"]


def copy_of(j):
    """Another folder with what the journal holds now."""
    other = Journal(j.today, make=False)
    shutil.copytree(j.dir, other.dir)
    return other


def shelf():
    j = Journal("2026-06-10")
    j.ok("add", "place", "name=Shelf A", "code=A")
    for _ in range(3):
        j.animal("species=hierodula", "hatched=2026-03-01", "place=A")
    return j


def pair():
    j = shelf()
    return j, copy_of(j)


def rows(j, sql):
    db = sqlite3.connect(f"file:{j.dir}/journal.sqlite?mode=ro", uri=True)
    try:
        return db.execute(sql).fetchall()
    finally:
        db.close()


def entries(j):
    """All but the place in the file, which is each copy's own."""
    return rows(j, "SELECT id, subject, kind, day, earliest, minute, written_ms, device, round, names,"
                   " bulk, code, n, sd, ref, text, more FROM entry ORDER BY id")


def photos(j):
    return rows(j, "SELECT id, hash, format, bytes FROM photo ORDER BY id")


def text_id(blob):
    h = blob.hex()
    return f"{h[:8]}-{h[8:12]}-{h[12:16]}-{h[16:20]}-{h[20:]}"


def states(j):
    found = {}
    for (blob,) in rows(j, "SELECT id FROM subject ORDER BY id"):
        name = text_id(blob)
        done = j.run("state", name)
        found[name] = done.json if done.code == 0 else done.code
    return found


def same(a, b):
    equal(entries(a), entries(b))
    equal(photos(a), photos(b))
    x, y = states(a), states(b)
    for name, state in x.items():
        equal(state, y[name])
    equal(len(x), len(y))


def picture(j, name, seed):
    path = os.path.join(j.tmp.name, name)
    subprocess.run([DRAW, path, str(seed), "6", "1", "1"], check=True, capture_output=True)
    return path
