#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Bad input and bad surroundings: the message is clear and nothing is lost."""

import fcntl
import os
import random
import sqlite3
import subprocess
import sys
import threading

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, Journal, collect, equal, main  # noqa: E402


def small():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-03-01")
    return j


def database(j):
    return os.path.join(j.dir, "journal.sqlite")


def test_no_journal_there():
    j = Journal(make=False)
    j.no(1, "state", "1")
    assert not os.path.exists(j.dir)


def test_a_newer_journal():
    j = small()
    with sqlite3.connect(database(j)) as db:
        db.execute("PRAGMA user_version = 99")
    db.close()
    before = open(database(j), "rb").read()
    j.no(3, "state", "1")
    j.no(3, "record", "1", "looked")
    equal(open(database(j), "rb").read(), before)


def test_a_damaged_journal():
    j = small()
    for name in ("-wal", "-shm"):
        if os.path.exists(database(j) + name):
            os.remove(database(j) + name)
    with open(database(j), "r+b") as f:
        size = f.seek(0, 2)
        f.seek(0)
        f.write(random.Random(7).randbytes(min(size, 8192)))
    before = open(database(j), "rb").read()
    j.no(3, "state", "1")
    j.no(3, "check")
    equal(open(database(j), "rb").read(), before)


def test_not_a_database():
    j = small()
    with open(database(j), "wb") as f:
        f.write(b"this is a letter, no journal\n" * 200)
    j.no(3, "state", "1")


def test_busy():
    j = small()
    before = j.n_entries()
    with open(os.path.join(j.dir, "journal.lock"), "a", encoding="utf-8") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        j.no(4, "record", "1", "looked")
        equal(j.ok("state", "1")["subject"], "1")
    equal(j.n_entries(), before)
    j.record("1", "looked")


def test_two_programs_on_one_journal():
    """Side by side: every answer 0 is there afterwards, every number is given once."""
    j = Journal()
    answers, lock = [], threading.Lock()

    def add():
        for _ in range(6):
            done = j.run("add", "animal", "species=unknown")
            with lock:
                answers.append(done)

    threads = [threading.Thread(target=add) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    given = [a.json["subject"] for a in answers if a.code == 0]
    assert all(a.code in (0, 4) for a in answers), [a.err for a in answers]
    equal(len(set(given)), len(given))
    assert len(given) >= 6
    for number in given:
        equal(j.ok("state", number)["alive"], True)
    equal(j.ok("check")["clean"], True)


def test_read_only():
    """As an unprivileged user where the tests run as root."""
    j = small()
    os.chmod(j.tmp.name, 0o755)
    for folder, folders, files in os.walk(j.dir):
        os.chmod(folder, 0o555)
        for name in files:
            os.chmod(os.path.join(folder, name), 0o444)
    line = [CLI, "--journal", j.dir, "--today", j.today, "--json"]
    user = {"user": 65534, "group": 65534} if os.geteuid() == 0 else {}
    read = subprocess.run(line + ["state", "1"], capture_output=True, check=False, **user)
    equal((read.returncode, read.stderr), (0, b""))
    wrote = subprocess.run(line + ["record", "1", "looked"], capture_output=True, check=False,
                           **user)
    equal(wrote.returncode, 1)
    assert b"writ" in wrote.stderr, wrote.stderr
    for folder, folders, files in os.walk(j.dir):
        os.chmod(folder, 0o755)


def test_a_closed_pipe_is_no_success():
    j = small()
    with open("/dev/full", "wb") as full:
        done = subprocess.run([CLI, "--journal", j.dir, "state", "1"], stdout=full,
                              stderr=subprocess.PIPE, check=False)
    equal(done.returncode, 1)


def test_odd_words():
    j = small()
    for word in ("", " ", "'; DROP TABLE entry; --", "1 or 1=1", "ß" * 3000, "../../etc", "-1"):
        j.no(1, "state", word)
        j.no(1, "record", "1", "note", "text=" + "x" * 5000)
    j.no(1, "record", "1", "set", "key=number", "value=")
    bad = subprocess.run([CLI, "--journal", j.dir, "record", "1", "note", b"text=\xff\xfe"],
                         capture_output=True, check=False)
    equal(bad.returncode, 1)
    equal(j.ok("check")["clean"], True)


# ---- photos ----

def test_bad_pictures():
    j = small()
    folder = j.tmp.name
    before = j.n_entries()

    def file(name, data):
        path = os.path.join(folder, name)
        with open(path, "wb") as f:
            f.write(data)
        return path

    j.no(1, "photo", "add", "1", file("letter.jpg", b"Dear keeper, this is text.\n" * 50))
    j.no(1, "photo", "add", "1", file("empty.jpg", b""))
    j.no(1, "photo", "add", "1", file("cut.jpg", bytes.fromhex("ffd8ffe000104a46494600") + b"\0" * 9))
    j.no(1, "photo", "add", "1", os.path.join(folder, "nowhere.jpg"))
    j.no(1, "photo", "add", "1", folder)
    j.no(1, "photo", "add", "99", file("x.jpg", b"x"))
    equal(j.n_entries(), before)
    equal(j.ok("check"), {**j.ok("check"), "clean": True, "photos": 0})


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
