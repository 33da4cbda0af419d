#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Bad input and bad surroundings: the message is clear and nothing is lost."""

import fcntl
import os
import random
import sqlite3
import struct
import subprocess
import sys
import threading
import zlib

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, AsNobody, Journal, Skip, collect, equal, main  # noqa: E402


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


def test_what_is_no_text_does_not_reach_the_terminal():
    j = small()
    done = subprocess.run([CLI, "--journal", j.dir, "state", b"a\xff\x1b[31m"], stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, check=False)
    equal(done.returncode, 1)
    done.stderr.decode("utf-8")
    assert b"\x1b" not in done.stderr, done.stderr


def test_an_entry_is_one_line_of_a_history():
    j = small()
    before = j.ok("history", "1", as_json=False).count("\n")
    j.record("1", "note", "text=one\ntwo\nthree")
    equal(j.ok("history", "1", as_json=False).count("\n"), before + 1)
    equal(j.ok("history", "1")["entries"][0]["values"]["text"], "one\ntwo\nthree")


def test_what_is_wrong_has_its_own_name():
    j = small()
    for name in ("x" * 300, "a\nb"):
        equal(j.no(1, "add", "animal", "species=ghost", f"name={name}").split(":")[1].strip(), "name")
    assert "species" in j.no(1, "add", "animal", "species=")
    assert "species" in j.no(1, "add", "lot", "species=", "count=5")


def test_exit_codes_have_a_rule():
    j = small()
    for line in (["blub"], ["state"], ["state", "1", "2"], ["state", "1", "--blub"], ["plan", "--from", "soon"],
                 ["record", "1", "looked", "--day", "someday"], ["add", "blub"],
                 ["growth", "1", "--what", "x"], ["air", "--t", "25"], ["clock", "--species", "ghost", "--min", "x"]):
        j.no(2, *line)
    for line in (["state", "99"], ["record", "1", "blub"], ["record", "1", "belly", "score=x"],
                 ["record", "1", "belly", "score=9"], ["record", "1", "belly", "blub=1"], ["add", "animal", "blub=1"],
                 ["add", "animal", "species=blub"], ["correct", "blub", "day=2026-05-01"], ["void", "blub"],
                 ["sex", "species=ghost", "moults=x"], ["air", "--t", "25", "--rh", "150"],
                 ["clock", "--species", "ghost", "--min", "30", "--max", "20"]):
        j.no(1, *line)


# Each verb with the words it needs, and its options of one form.
RULED = ["photo", "measure", "--line", "1,1,9,9", "--ruler", "1,1,90,90", "--mm", "9"]
NUMBERS = [
    (["new", "other"], ["animals", "days", "seed"]), (["separate", "H1", "1"], ["moulted"]),
    (["split", "H1", "1"], ["moulted"]), (["what-if", "1"], ["day-c", "night-c", "feed"]),
    (["growth", "1", "--what", "body"], ["moults"]), (["photo", "count", "p.png"], ["given", "moults"]),
    (["photo", "measure", "--line", "1,1,9,9", "--ruler", "1,1,9,9"], ["mm"]), (RULED, ["mark-sd"]),
    (["export", "proofsheet", "x", "p.png", "--ruler", "1,1,90,90"], ["mm"]),
    (["clock", "--species", "ghost"], ["min", "max", "days"]), (["air"], ["t", "rh", "night", "wall"])]
MARKS = [(["photo", "count", "p.png"], ["axis"]), (["photo", "measure", "--mm", "9"], ["line", "ruler", "disc"]),
         (["photo", "measure"], ["outline", "axis"]), (["export", "proofsheet", "x", "p.png", "--mm", "9"], ["ruler"])]
DAYS = [(["record", "1", "looked"], ["day", "earliest"]), (["round", "A", "all fed"], ["day"]),
        (["separate", "H1", "1"], ["day"]), (["split", "H1", "1"], ["day"]), (["join", "H1", "H2"], ["day"]),
        (["recount", "H1", "1"], ["day"]), (["swap", "1", "2"], ["since"]), (["climate", "A"], ["from", "to"]),
        (["plan"], ["from", "to"]), (["photo", "add", "1", "p.png"], ["day"]), (RULED, ["day"]),
        (["export", "standin", "p.pdf"], ["from", "to"])]


def test_an_option_that_is_no_number_or_no_day_is_usage():
    """Whatever else is wrong: no subject, no file and no journal of these names is there."""
    j = Journal(make=False)
    for table, bad in ((NUMBERS, ("", "x", "1,5", "nan", "inf", "5x", "1e999")),
                       (MARKS, ("", "x", "1,2", "1,2,3", "1,2,3,x", "1,2,3,4,5", "1,2,3,nan", "1;2;3;4")),
                       (DAYS, ("", "x", "2026-02-30", "12", "soon")), ([(["record", "1", "looked"], ["time"])],
                                                                      ("", "x", "25:00", "12", "12.30"))):
        for words, options in table:
            for option in options:
                for value in bad:
                    said = j.no(2, *words, f"--{option}", value)
                    assert "Usage:" in said, (words, option, value, said)
    for words in (["photo", "measure", "--mm", "9", "--line", "1,1,9,9", "--ruler", "1,1,9,9,4,4"],
                  ["photo", "measure", "--axis", "1,1,9,9", "--outline", "1,1,9,9,4,4"],
                  ["new", j.dir, "--animals", "5"], ["new", j.dir, "--seed", "5"]):
        j.no(2, *words, journal=False)
    assert not os.path.exists(j.dir)


def test_a_number_outside_its_range_is_no_usage():
    j = small()
    j.ok("add", "lot", "species=hierodula", "count=9", "hatched=2026-05-01", "code=H1")
    other = os.path.join(j.tmp.name, "k")
    for words in (["new", other, "--animals", "0", "--days", "3"], ["new", other, "--animals", "1.5", "--days", "3"],
                  ["new", other, "--animals", "3", "--days", "-1"], ["new", other, "--animals", "3", "--days", "3", "--seed", "-1"],
                  ["separate", "H1", "1", "--moulted", "-1"], ["split", "H1", "2", "--moulted", "1.5"],
                  ["growth", "1", "--what", "body", "--moults", "99"], RULED + ["--mark-sd", "0"],
                  ["photo", "measure", "--line", "1,1,9,9", "--ruler", "1,1,1,1", "--mm", "9"],
                  ["photo", "count", "p.png", "--axis", "1,1,99,99", "--given", "99"],
                  ["what-if", "1", "--day-c", "99", "--night-c", "20"], ["air", "--t", "99", "--rh", "50"]):
        j.no(1, *words)


def test_a_first_word_of_several_verbs():
    j = small()
    for group, verb in (("export", "export sheets"), ("import", "import csv"), ("photo", "photo add"),
                        ("profile", "profile list")):
        said = j.ok(group, "--help", as_json=False)
        assert verb in said and "new DIR" not in said, said
        assert verb in j.no(2, group), group
        assert verb in j.no(2, group, "blub"), group
    assert "There is no verb 'blub'" in j.no(2, "blub", "--help")


def test_redo_says_that_it_was_a_correction():
    j = small()
    entry = j.record("1", "moulted", "--day", "2026-05-01")
    j.ok("correct", entry, "outcome=fell")
    assert j.ok("undo")["text"].startswith("Took back the correction"), "undo"
    assert j.ok("redo")["text"].startswith("Put back the correction"), "redo"


def test_a_belly_scored_again_corrects_the_first():
    j = small()
    j.record("1", "belly", "score=4")
    j.record("1", "belly", "score=2")
    equal(j.ok("state", "1")["belly"], 2)
    equal({e["values"]["score"]: e["live"] for e in j.ok("history", "1")["entries"] if e["kind"] == "belly"},
          {4: False, 2: True})
    j.ok("undo")
    equal(j.ok("state", "1")["belly"], 4)


def test_a_newer_journal():
    j = small()
    with sqlite3.connect(database(j)) as db:
        db.execute("PRAGMA user_version = 99")
    db.close()
    before = open(database(j), "rb").read()
    j.no(3, "state", "1")
    j.no(3, "record", "1", "looked")
    equal(open(database(j), "rb").read(), before)


def change(j, sql):
    """Rows of entries, past the rule that they are never changed."""
    with sqlite3.connect(database(j)) as db:
        keep = db.execute("SELECT sql FROM sqlite_schema WHERE name = 'entry_keep'").fetchone()[0]
        db.execute("DROP TRIGGER entry_keep")
        db.execute(sql)
        db.execute(keep)
    db.close()


def test_what_this_version_does_not_know_is_no_damage():
    j = small()
    moult = j.record("1", "moulted", "to=nymph", "--day", "2026-05-01")
    trouble = j.record("1", "trouble", "what=eye", "--day", "2026-05-02")
    change(j, "UPDATE entry SET more = '{\"to\":\"nymph\",\"tail\":\"bent\"}' WHERE kind = 'moulted'")
    change(j, "UPDATE entry SET code = 'drowned' WHERE kind = 'trouble'")
    check = j.ok("check")
    equal((check["clean"], check["problems"], len(check["notes"])), (True, [], 2))
    assert "tail=bent" in check["notes"][0] and "what=drowned" in check["notes"][1], check["notes"]
    entries = {e["id"]: e for e in j.ok("history", "1")["entries"]}
    equal((entries[moult]["beyond"], entries[trouble]["beyond"]), ("tail=bent", "what=drowned"))
    equal({e["beyond"] for e in entries.values()}, {"tail=bent", "what=drowned", None})
    assert entries[moult]["text"].startswith("moulted"), entries[moult]
    assert "does not know tail=bent" in entries[moult]["text"], entries[moult]
    equal(entries[trouble]["text"], "trouble; this version does not know what=drowned")
    # What is known of it counts, and nothing is made of what is not.
    equal(j.ok("state", "1")["moults"]["value"], 1)
    # Written again it would lose what is not known; taken back it loses nothing.
    assert "tail=bent" in j.no(1, "correct", moult, "outcome=fell")
    equal(j.ok("state", "1")["moults"]["value"], 1)
    j.ok("void", trouble)
    with sqlite3.connect(database(j)) as db:
        equal(db.execute("SELECT more FROM entry WHERE kind = 'moulted'").fetchall(),
              [('{"to":"nymph","tail":"bent"}',)])
    db.close()


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


def files_of(j):
    return {name: open(os.path.join(j.dir, name), "rb").read() for name in sorted(os.listdir(j.dir))
            if name.startswith("journal.sqlite")}


def test_damage_behind_a_collection_that_is_kept():
    """Answers may come from what is kept beside the journal: of a damaged one there are none."""
    j = Journal(make=False)
    env = dict(os.environ, XDG_DATA_HOME=j.tmp.name)  # where the seal of what is kept has its key
    j.ok("new", j.dir, "--animals", "120", "--days", "150", "--seed", "3", journal=False, env=env)
    j.ok("state", "1", env=env)  # leaves what is kept
    kept = os.path.join(j.dir, "journal.snapshot")
    assert os.path.exists(kept)
    whole, snapshot = open(database(j), "rb").read(), open(kept, "rb").read()
    entries = j.n_entries()
    for tenth in (3, 4, 5, 6, 8):
        for with_kept in (True, False):
            at = len(whole) * tenth // 10
            spoilt = whole[:at] + b"\xaa" * 40000 + whole[at + 40000:]
            for path, content in ((database(j), spoilt[:len(whole)]), (kept, snapshot)):
                with open(path, "wb") as f:
                    f.write(content)
            if not with_kept:
                os.remove(kept)
            before = files_of(j)
            for line in (["history", "1"], ["record", "1", "looked"], ["state", "1"], ["plan"], ["undo"],
                         ["round", "A", "all misted"], ["add", "place", "name=New"]):
                said = j.no(3, *line, env=env)
                assert "damaged" in said and "backup" in said, said
            equal(files_of(j), before)
            done = j.run("check", env=env)
            equal(done.code, 3)
            for lie in ("points nowhere", "disagrees", "nothing is known"):
                assert lie not in done.out + done.err, done.out
    with open(database(j), "wb") as f:
        f.write(whole)
    equal(j.n_entries(), entries)
    j.record("1", "note", "text=sound again")


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
    line = ["--journal", j.dir, "--today", j.today, "--json"]
    with AsNobody() as nobody:
        read = nobody.run(*line, "state", "1")
        equal(read.returncode, 0)
        assert b"only be read" in read.stderr, read.stderr
        wrote = nobody.run(*line, "record", "1", "looked")
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


def test_any_today():
    """A day long before or after everything entered ends no program."""
    j = small()
    for today in ("1990-01-01", "2026-02-28", "2040-01-01", "9990-12-31", "1583-01-01"):
        for words in (["state", "1"], ["forecast", "1"], ["plan"], ["growth", "1", "--what", "body"]):
            done = j.run(*words, today=today)
            assert done.code in (0, 1), (today, words, done.code, done.err)
    equal(j.run("plan", today="9999-12-31").code, 2)  # no room for a plan to look ahead


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


def png_header(width, height):
    def chunk(kind, data):
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0,
                                                               0, 0))
            + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b""))


def test_a_picture_of_ten_thousand_megapixels():
    j = small()
    path = os.path.join(j.tmp.name, "huge.png")
    with open(path, "wb") as f:
        f.write(png_header(100_000, 100_000))
    assert "megapixel" in j.no(1, "photo", "add", "1", path)
    j.no(1, "photo", "count", path, "--axis", "1,1,200,200", journal=False)
    equal(j.ok("check")["photos"], 0)


def test_a_decoder_that_dies():
    j = small()
    path = os.path.join(j.tmp.name, "p.png")
    with open(path, "wb") as f:
        f.write(png_header(40, 30))
    for helper in ("/bin/false", "/nowhere/at/all"):
        j.no(1, "photo", "add", "1", path, env=dict(os.environ, MANTIDARY_DECODE=helper))
    equal(j.ok("check")["photos"], 0)
    equal(os.path.exists(os.path.join(j.dir, "photos"))
          and any(names for _, _, names in os.walk(os.path.join(j.dir, "photos"))), False)


def test_an_unreadable_picture():
    j = small()
    path = os.path.join(j.tmp.name, "p.png")
    with open(path, "wb") as f:
        f.write(png_header(40, 30))
    os.chmod(path, 0)
    if os.geteuid() == 0:
        os.chmod(j.tmp.name, 0o777)
        for folder, _, files in os.walk(j.dir):
            os.chown(folder, 65534, 65534)
            for name in files:
                os.chown(os.path.join(folder, name), 65534, 65534)
        with AsNobody() as nobody:
            done = nobody.run("--journal", j.dir, "--today", j.today, "photo", "add", "1", path)
        equal(done.returncode, 1)
        assert b"read" in done.stderr, done.stderr
    else:
        j.no(1, "photo", "add", "1", path)


def test_a_full_disk():
    """On a small disk of its own, where mounting is allowed."""
    j = Journal(make=False)
    os.mkdir(j.dir)
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=640k", "none", j.dir],
                      capture_output=True, check=False).returncode != 0:
        raise Skip("mounting is not allowed here")
    try:
        j.dir = os.path.join(j.dir, "j")
        j.ok("new", j.dir, journal=False)
        j.animal("species=hierodula", "hatched=2026-03-01")
        kept, done = [], None
        for _ in range(400):
            done = j.run("record", "1", "note", "text=" + "long " * 700)
            if done.code != 0:
                break
            kept.append(done.json["id"])
        equal(done.code, 1)
        assert "room" in done.err or "full" in done.err, done.err
        notes = {e["id"] for e in j.ok("history", "1")["entries"] if e["kind"] == "note"}
        equal(notes, set(kept))
        equal(j.ok("check")["clean"], True)
    finally:
        subprocess.run(["umount", os.path.dirname(j.dir) if j.dir.endswith("/j/j") else j.dir],
                       check=True)


def test_linked_without_gtk():
    libraries = subprocess.run(["ldd", CLI], capture_output=True, check=True).stdout.decode()
    assert "libglib" in libraries
    assert "libgtk" not in libraries and "libadwaita" not in libraries, libraries


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
