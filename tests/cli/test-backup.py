#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Backup, restore, daily backups, salvage: what comes back is what was there, or nothing comes."""

import glob
import hashlib
import os
import random
import shutil
import struct
import subprocess
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, AsNobody, Journal, Skip, collect, equal, keys, main  # noqa: E402

DRAW = os.environ["MANTIDARY_DRAW"]
if os.access("/dev/shm", os.W_OK | os.X_OK):  # everything is synced many times over
    tempfile.tempdir = "/dev/shm"
SECRET = b"48 degrees 12 minutes"


def picture(folder, name, seed=1, orientation=6):
    path = os.path.join(folder, name)
    subprocess.run([DRAW, path, str(seed), "6", "1", str(orientation)], check=True, capture_output=True)
    return path


def full(n_photos=2):
    """A journal with a place, animals, entries and photos."""
    j = Journal()
    j.ok("add", "place", "code=A", "name=Shelf A")
    for i in range(3):
        j.animal("species=hierodula", "hatched=2026-03-01", "place=A", f"name=n{i}")
    for day in range(1, 20):
        j.record("1", "note", f"text=evening {day} of the month", "--day", f"2026-05-{day:02}")
    for i in range(n_photos):
        j.ok("photo", "add", str(i % 3 + 1), picture(j.tmp.name, f"p{i}.jpg", seed=i + 1))
    return j


def at(j, name):
    return os.path.join(j.tmp.name, name)


def tree(folder):
    """Path inside → hash, of all files but those that come and go."""
    out = {}
    for here, _, names in os.walk(folder):
        for name in names:
            if name.endswith((".lock", "-wal", "-shm")):
                continue
            path = os.path.join(here, name)
            with open(path, "rb") as f:
                out[os.path.relpath(path, folder)] = hashlib.sha256(f.read()).hexdigest()
    return out


def same_answers(j, folder):
    """The restored journal gives the answers of the one that was backed up."""
    for words in (("history", "1"), ("state", "1"), ("state", "2"), ("forecast", "1"), ("plan",)):
        equal(j.ok("--journal", folder, *words, journal=False), j.ok(*words))
    checked = j.ok("--journal", folder, "check", journal=False)
    equal((checked["clean"], checked["entries"]), (True, j.n_entries()))


def test_there_and_back():
    j = full()
    made = j.ok("backup", at(j, "b.mantidary"))
    keys(made, "file", "bytes", "made", "entries", "subjects", "photos", "positions", "left_out")
    equal((made["photos"], made["positions"], made["left_out"], made["made"]), (2, True, [], "2026-06-01"))
    equal(made["entries"], j.n_entries())
    equal(made["bytes"], os.path.getsize(at(j, "b.mantidary")))
    back = j.ok("restore", at(j, "b.mantidary"), at(j, "r"), journal=False)
    equal((back["journal"], back["entries"], back["photos"]), (at(j, "r"), made["entries"], 2))
    same_answers(j, at(j, "r"))
    equal({k: v for k, v in tree(at(j, "r")).items() if k.startswith("photos")},
          {k: v for k, v in tree(j.dir).items() if k.startswith("photos")})
    for here, folders, names in os.walk(at(j, "r")):
        for name in folders + names:
            assert os.stat(os.path.join(here, name)).st_mode & 0o077 == 0, name
    equal([n for n in os.listdir(j.tmp.name) if n.startswith(".")], [])


def test_the_same_journal_gives_the_same_bytes():
    j = full()
    j.ok("backup", at(j, "a"))
    j.ok("backup", at(j, "b"))
    equal(open(at(j, "a"), "rb").read(), open(at(j, "b"), "rb").read())


def test_what_is_written_after_is_not_in_it():
    j = full(0)
    before = j.ok("backup", at(j, "a"))["entries"]
    j.record("1", "looked")
    equal(j.ok("restore", at(j, "a"), at(j, "r"), journal=False)["entries"], before)
    equal(j.n_entries(), before + 1)


def test_it_says_that_pictures_may_hold_positions():
    j = full(1)
    assert "--without-positions" in j.run("backup", at(j, "a")).err
    equal(j.run("backup", at(j, "b"), "--without-positions").err, "")


def test_targets_that_are_refused():
    j = full(0)
    j.ok("backup", at(j, "a"))
    before = open(at(j, "a"), "rb").read()
    assert "already" in j.no(1, "backup", at(j, "a"))
    equal(open(at(j, "a"), "rb").read(), before)
    j.record("1", "looked")
    j.ok("backup", at(j, "a"), "--replace")
    assert open(at(j, "a"), "rb").read() != before
    j.no(1, "backup", os.path.join(j.dir, "inside"))
    j.no(1, "backup", os.path.join(j.dir, "photos", "inside"))
    os.symlink(j.dir, at(j, "link"))
    j.no(1, "backup", at(j, "link/inside"))
    j.no(1, "backup", at(j, "nowhere/a"))
    j.no(1, "backup", j.tmp.name, "--replace")
    j.no(2, "backup")
    j.no(2, "backup", "a", "b")
    equal(sorted(os.listdir(j.tmp.name)), ["a", "j", "link"])


def test_restoring_never_touches_what_is_there():
    j = full(1)
    j.ok("backup", at(j, "a"))
    os.mkdir(at(j, "taken"))
    with open(at(j, "taken/x"), "w", encoding="utf-8") as f:
        f.write("mine")
    before = tree(j.dir)
    j.no(1, "restore", at(j, "a"), j.dir, journal=False)
    j.no(1, "restore", at(j, "a"), os.path.join(j.dir, "inside"), journal=False)
    j.no(1, "restore", at(j, "a"), at(j, "taken"), journal=False)
    j.no(1, "restore", at(j, "a"), at(j, "a"), journal=False)
    j.no(1, "restore", at(j, "a"), at(j, "nowhere/r"), journal=False)
    j.no(1, "restore", at(j, "gone"), at(j, "r"), journal=False)
    os.symlink(at(j, "elsewhere"), at(j, "link"))
    j.no(1, "restore", at(j, "a"), at(j, "link"), journal=False)
    equal(tree(j.dir), before)
    equal(os.listdir(at(j, "taken")), ["x"])
    os.mkdir(at(j, "empty"))  # as a folder chooser makes one
    j.ok("restore", at(j, "a"), at(j, "empty"), journal=False)
    same_answers(j, at(j, "empty"))
    equal([n for n in os.listdir(j.tmp.name) if n.startswith(".")], [])


def test_a_damaged_backup():
    j = full(1)
    j.ok("backup", at(j, "a"))
    whole = open(at(j, "a"), "rb").read()
    rng = random.Random(3)
    for turn in range(12):
        hurt = bytearray(whole)
        if turn % 3 == 0:
            del hurt[rng.randrange(len(hurt)):]
        else:
            hurt[rng.randrange(len(hurt) // 2)] ^= 1 << rng.randrange(8)
        with open(at(j, "hurt"), "wb") as f:
            f.write(hurt)
        done = j.run("restore", at(j, "hurt"), at(j, "r"), journal=False)
        if done.code == 0:  # a byte that means nothing
            same_answers(j, at(j, "r"))
            shutil.rmtree(at(j, "r"))
        else:
            assert done.code in (1, 3) and done.err.strip(), done.code
            assert not os.path.exists(at(j, "r"))
    with open(at(j, "letter"), "w", encoding="utf-8") as f:
        f.write("no backup\n" * 100)
    j.no(1, "restore", at(j, "letter"), at(j, "r"), journal=False)
    equal([n for n in os.listdir(j.tmp.name) if n.startswith(".")], [])


def test_a_damaged_photo():
    j = full(2)
    hurt = sorted(glob.glob(j.dir + "/photos/*/*.jpg"))
    with open(hurt[0], "r+b") as f:
        f.seek(300)
        f.write(b"\0\0\0")
    os.remove(hurt[1])
    assert "check" in j.no(1, "backup", at(j, "a"))
    assert not os.path.exists(at(j, "a"))
    made = j.ok("backup", at(j, "a"), "--without-damaged")
    equal(made["photos"], 0)
    equal([x["why"] for x in made["left_out"]], ["changed", "missing"])
    equal(made["left_out"][0]["name"], os.path.relpath(hurt[0], j.dir))
    back = j.ok("restore", at(j, "a"), at(j, "r"), journal=False)
    equal(back["left_out"], made["left_out"])


def test_killed_at_any_moment():
    """The old file or the new one, whole; what was left lies in nobody's way and goes."""
    j = full(2)
    rng = random.Random(5)
    path = at(j, "b")
    j.ok("backup", path)
    seen = set()
    for _ in range(12):
        j.record("1", "looked")
        run = subprocess.Popen([CLI, "--journal", j.dir, "--today", j.today, "--json", "backup", path, "--replace"],
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            run.wait(rng.uniform(0.002, 0.25))
        except subprocess.TimeoutExpired:
            run.kill()
        run.wait()
        seen.add(run.returncode)
        back = j.ok("restore", path, at(j, "r"), journal=False)
        assert back["entries"] <= j.n_entries()
        equal(j.ok("--journal", at(j, "r"), "check", journal=False)["clean"], True)
        shutil.rmtree(at(j, "r"))
    j.ok("backup", path, "--replace")
    equal([n for n in os.listdir(j.tmp.name) if n.startswith(".")], [])
    equal(j.ok("check")["clean"], True)
    assert -9 in seen, seen


def test_a_folder_that_cannot_be_written():
    """As an unprivileged user where the tests run as root."""
    j = full(1)
    os.chmod(j.tmp.name, 0o755)
    os.mkdir(at(j, "locked"))
    j.ok("backup", at(j, "b"))
    os.chmod(at(j, "b"), 0o644)
    os.chmod(at(j, "locked"), 0o555)
    with AsNobody() as nobody:
        if nobody.user:
            for here, _, names in os.walk(j.dir):
                os.chown(here, 65534, 65534)
                for name in names:
                    os.chown(os.path.join(here, name), 65534, 65534)
        line = ("--journal", j.dir, "--today", j.today)
        for words in (("backup", at(j, "locked/b")), ("restore", at(j, "b"), at(j, "locked/r"))):
            done = nobody.run(*line, *words)
            equal(done.returncode, 1)
            assert b"Choose another folder" in done.stderr, done.stderr
            equal(os.listdir(at(j, "locked")), [])


def test_a_full_disk():
    """On a small disk of its own, where mounting is allowed."""
    j = full(2)
    j.ok("backup", at(j, "b"))
    os.mkdir(at(j, "small"))
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "none", at(j, "small")],
                      capture_output=True, check=False).returncode != 0:
        raise Skip("mounting is not allowed here")
    try:
        for words in (("backup", at(j, "small/b")), ("restore", at(j, "b"), at(j, "small/r"))):
            assert "Free some space" in j.no(1, *words)
            equal(os.listdir(at(j, "small")), [])
        j.ok("backups", "--folder", at(j, "small"))
        assert "Free some space" in j.no(1, "backups", "--now")
        equal([name for name in os.listdir(at(j, "small")) if name != "photos"], [])
    finally:
        subprocess.run(["umount", at(j, "small")], check=True)
    equal(j.ok("check")["clean"], True)


# ---- without positions ----

def exif_with_position():
    """Big-endian TIFF: orientation 6, a GPS directory whose date stamp holds the secret."""
    secret = SECRET + b"\0"
    gps = struct.pack(">HHHIIHHI4sI", 2, 1, 2, 2, 0x4e000000, 0x1d, 2, len(secret), struct.pack(">I", 68), 0)
    head = struct.pack(">2sHIHHHIIHHIII", b"MM", 42, 8, 2, 0x0112, 3, 1, 6 << 16, 0x8825, 4, 1, 38, 0)
    return head + gps + secret


def with_positions(path):
    """Into EXIF, XMP, IPTC, a comment, and after the end."""
    with open(path, "rb") as f:
        data = f.read()
    at_exif = data.index(b"\xff\xe1")
    end_exif = at_exif + 2 + struct.unpack(">H", data[at_exif + 2:at_exif + 4])[0]
    segments = b""
    for marker, body in ((0xe1, b"Exif\0\0" + exif_with_position()),
                         (0xe1, b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>" + SECRET + b"</x:xmpmeta>"),
                         (0xed, b"Photoshop 3.0\0" + SECRET), (0xfe, SECRET),
                         (0xe2, b"MPF\0" + SECRET)):
        segments += struct.pack(">BBH", 0xff, marker, len(body) + 2) + body
    with open(path, "wb") as f:
        f.write(data[:at_exif] + segments + data[end_exif:] + SECRET)


def test_a_copy_without_positions():
    j = full(0)
    path = picture(j.tmp.name, "p.jpg")
    with_positions(path)
    added = j.ok("photo", "add", "1", path)
    j.record("1", "marked", f"photo={added['photo']}", "side=underside", "axis=100,100,300,300", "count=6", "by=keeper")
    stored = glob.glob(j.dir + "/photos/*/*.jpg")[0]
    equal(open(stored, "rb").read().count(SECRET), 6)
    kept = j.ok("backup", at(j, "a"))
    made = j.ok("backup", at(j, "b"), "--without-positions")
    equal((kept["positions"], made["positions"], made["photos"], made["left_out"]), (True, False, 1, []))
    j.ok("restore", at(j, "b"), at(j, "r"), journal=False)
    photo = glob.glob(at(j, "r/photos/*/*.jpg"))[0]
    data = open(photo, "rb").read()
    assert SECRET not in data and b"GPS" not in data
    equal(hashlib.sha256(data).hexdigest(), os.path.basename(photo).split(".")[0])
    assert os.path.basename(photo) != os.path.basename(stored)
    # The journal of the copy names the new file everywhere, also where it was marked.
    checked = j.ok("--journal", at(j, "r"), "check", journal=False)
    equal((checked["clean"], checked["photos"]), (True, 1))
    equal(j.ok("--journal", at(j, "r"), "photo", "sex", added["photo"], journal=False),
          j.ok("photo", "sex", added["photo"]))
    # The same picture, turned the same way: adding it again is known, and has the same size.
    again = j.ok("--journal", at(j, "r"), "photo", "add", "1", photo, journal=False)
    equal((again["duplicate"], again["size"], again["taken"]), (True, added["size"], added["taken"]))
    # The original is not touched.
    equal(open(stored, "rb").read().count(SECRET), 6)


def test_two_that_differ_in_their_position_alone():
    j = full(0)
    for i in range(2):
        path = picture(j.tmp.name, f"p{i}.jpg")
        with_positions(path)
        if i:
            data = open(path, "rb").read().replace(SECRET, SECRET.replace(b"48", b"47"))
            with open(path, "wb") as f:
                f.write(data)
        j.ok("photo", "add", str(i + 1), path)
    made = j.ok("backup", at(j, "b"), "--without-positions")
    equal(made["photos"], 1)
    j.ok("restore", at(j, "b"), at(j, "r"), journal=False)
    equal(j.ok("--journal", at(j, "r"), "check", journal=False)["clean"], True)


def test_kinds_that_cannot_be_cleaned_are_left_out():
    j = full(1)
    try:
        subprocess.run(["convert", at(j, "p0.jpg"), at(j, "p.tiff")], check=True, capture_output=True)
    except (OSError, subprocess.CalledProcessError):
        print("# no converter here: only JPEG is tried")
        return
    j.ok("photo", "add", "2", at(j, "p.tiff"))
    made = j.ok("backup", at(j, "b"), "--without-positions")
    equal((made["photos"], [x["why"] for x in made["left_out"]]), (1, ["kind"]))
    assert made["left_out"][0]["name"].endswith(".tiff")
    j.ok("restore", at(j, "b"), at(j, "r"), journal=False)
    equal(len(glob.glob(at(j, "r/photos/*/*"))), 1)


# ---- daily ----

def test_daily():
    j = full(2)
    listed = j.ok("backups")
    equal((listed["folder"], listed["on"], listed["backups"]), (j.dir + "-backups", True, []))
    made = j.ok("backups", "--now")
    keys(made["written"], "file", "bytes", "entries", "photos", "left_out")
    equal([(b["day"], b["keep"]) for b in made["backups"]], [("2026-06-01", "daily")])
    j.ok("restore", made["written"]["file"], at(j, "r"), journal=False)
    same_answers(j, at(j, "r"))
    equal(len(glob.glob(j.dir + "-backups/photos/*/*.jpg")), 2)


def test_seven_daily_and_eight_weekly():
    j = full(0)
    for i in range(1, 31):
        j.ok("backups", "--now", today=f"2026-04-{i:02}")
    left = [b["day"] for b in j.ok("backups", today="2026-04-30")["backups"]]
    # 2026-04-05, 12 and 19 are Sundays; the 23rd is the last before the seven.
    equal(left, [f"2026-04-{d:02}" for d in (30, 29, 28, 27, 26, 25, 24, 23, 19, 12, 5)])


def test_a_failed_backup_removes_nothing():
    j = full(1)
    for i in range(1, 9):
        j.ok("backups", "--now", today=f"2026-04-{i:02}")
    folder = j.dir + "-backups"
    before = tree(folder)
    with open(j.dir + "/journal.sqlite", "r+b") as f:  # a page of the journal goes
        f.seek(4096 * 5)
        f.write(b"\xa5" * 4096)
    done = j.run("backups", "--now", today="2026-04-20")
    assert done.code in (1, 3), done.code
    equal(tree(folder), before)


def test_a_photo_of_the_folder_is_healed_and_missed():
    j = full(2)
    j.ok("backups", "--now")
    pool = sorted(glob.glob(j.dir + "-backups/photos/*/*.jpg"))
    daily = glob.glob(j.dir + "-backups/*.mantidary")[0]
    os.remove(pool[0])
    assert "photo" in j.no(3, "restore", daily, at(j, "r"), journal=False)
    assert not os.path.exists(at(j, "r"))
    back = j.ok("restore", daily, at(j, "r"), "--without-damaged", journal=False)
    equal((back["photos"], [x["why"] for x in back["left_out"]]), (1, ["missing"]))
    j.ok("backups", "--now")
    j.ok("restore", daily, at(j, "r2"), journal=False)
    same_answers(j, at(j, "r2"))
    # The journal lost an original that the folder still has: the backup stays whole.
    os.remove(glob.glob(j.dir + "/photos/*/*.jpg")[0])
    equal(j.ok("backups", "--now")["written"]["left_out"], [])
    # Turned over where it lies: within a week it is read again and made whole.
    with open(pool[1], "r+b") as f:
        f.seek(400)
        byte = f.read(1)[0]
        f.seek(400)
        f.write(bytes([byte ^ 1]))
    if os.path.exists(j.dir + "/photos/" + os.path.relpath(pool[1], j.dir + "-backups/photos")):
        for day in range(2, 9):
            j.ok("backups", "--now", today=f"2026-06-{day:02}")
        equal(hashlib.sha256(open(pool[1], "rb").read()).hexdigest(), os.path.basename(pool[1])[:64])


def test_where_and_whether():
    j = full(0)
    equal(j.ok("backups", "--folder", at(j, "elsewhere"), "--on", "no")["folder"], at(j, "elsewhere"))
    j.ok("backups", "--now")
    equal(len(glob.glob(at(j, "elsewhere/*.mantidary"))), 1)
    listed = j.ok("backups", "--folder=")
    equal((listed["folder"], listed["on"]), (j.dir + "-backups", False))
    j.no(1, "backups", "--folder", os.path.join(j.dir, "photos"))
    j.no(2, "backups", "--on", "maybe")
    j.ok("backups", "--folder", at(j, "no/such"))
    j.no(1, "backups", "--now")
    assert not os.path.exists(at(j, "no"))
    assert j.ok("check")["clean"]


# ---- what is left ----

def test_salvage():
    j = full(2)
    before = j.n_entries()
    with open(j.dir + "/journal.sqlite", "r+b") as f:
        f.write(b"\0" * 4096)
    hurt = tree(j.dir)
    j.no(3, "check")
    saved = j.ok("restore", "--salvage", j.dir, at(j, "r"), journal=False)
    equal((saved["entries"], saved["entries_lost"], saved["photos"], saved["photos_lost"]), (before, 0, 2, 0))
    checked = j.ok("--journal", at(j, "r"), "check", journal=False)
    equal((checked["clean"], checked["entries"]), (True, before))
    equal(tree(j.dir), hurt)
    equal(j.ok("backups")["backups"], [])  # can be listed while the journal is damaged


def test_salvage_of_a_file_cut_off():
    j = full(0)
    for day in range(1, 60):
        j.record("1", "note", f"text={'a long day ' * 20}{day}")
    before = j.n_entries()
    size = os.path.getsize(j.dir + "/journal.sqlite")
    for n, share in enumerate((.95, .9, .75)):
        os.truncate(j.dir + "/journal.sqlite", int(size * share))
        done = j.run("restore", "--salvage", j.dir, at(j, f"r{n}"), journal=False)
        equal(done.code, 0)
        saved = done.json
        equal(saved["end_missing"], True)
        assert saved["pages_missing"] > 0, saved
        assert "the end of the file is missing" in done.err, done.err
        lost = before - saved["entries"]
        assert saved["entries_lost"] != 0 and (saved["entries_lost"] or 0) <= lost, (lost, saved)  # never a bare 0
    assert lost >= saved["entries_lost"] > 20, (lost, saved)


def test_salvage_takes_photos_from_the_daily_backups():
    j = full(2)
    j.ok("backups", "--now")
    os.remove(glob.glob(j.dir + "/photos/*/*.jpg")[0])
    with open(j.dir + "/journal.sqlite", "r+b") as f:
        f.write(b"\0" * 100)
    saved = j.ok("restore", "--salvage", j.dir, at(j, "r"), journal=False)
    equal((saved["photos"], saved["photos_lost"]), (2, 0))


def test_nothing_to_salvage():
    j = full(0)
    os.mkdir(at(j, "empty"))
    j.no(1, "restore", "--salvage", at(j, "empty"), at(j, "r"), journal=False)
    with open(at(j, "empty/journal.sqlite"), "wb") as f:
        f.write(b"\0" * 20000)
    j.no(3, "restore", "--salvage", at(j, "empty"), at(j, "r"), journal=False)
    assert not os.path.exists(at(j, "r"))
    equal([n for n in os.listdir(j.tmp.name) if n.startswith(".")], [])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
