#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures: into the journal, counted, and what they say about the sex."""

import hashlib
import json
import os
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main, near  # noqa: E402

DRAW = os.environ["MANTIDARY_DRAW"]


def draw(folder, name="p.jpg", seed=1, plates=6, level=1, orientation=1):
    path = os.path.join(folder, name)
    out = subprocess.run([DRAW, path, str(seed), str(plates), str(level), str(orientation)],
                         capture_output=True, check=True).stdout
    truth = json.loads(out)
    truth["path"] = path
    truth["text"] = ",".join(str(v) for v in truth["axis"])
    return truth


def nymph():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01", "acquired=2026-04-20", "moults=5")
    return j


def test_add_in_all_eight_orientations():
    j = nymph()
    for orientation in range(1, 9):
        picture = draw(j.tmp.name, seed=orientation, orientation=orientation)
        added = j.ok("photo", "add", "1", picture["path"])
        keys(added, "photo", "hash", "taken", "size", "duplicate")
        equal(added["size"], [1000, 750])
        equal(added["taken"], "2026-05-20")
        equal(added["duplicate"], False)
        with open(picture["path"], "rb") as f:
            equal(added["hash"], hashlib.sha256(f.read()).hexdigest())
    entry = next(e for e in j.ok("history", "1")["entries"] if e["kind"] == "photo")
    equal((entry["day"], entry["time"]), ("2026-05-20", "18:30"))
    check = j.ok("check")
    equal((check["clean"], check["photos"]), (True, 8))


def test_the_day_can_be_given():
    j = nymph()
    added = j.ok("photo", "add", "1", draw(j.tmp.name)["path"], "--day", "2026-05-25")
    entry = next(e for e in j.ok("history", "1")["entries"] if e["id"] == added["photo"])
    equal(entry["day"], "2026-05-25")
    j.no(1, "photo", "add", "1", draw(j.tmp.name, seed=2)["path"], "--day", "2026-07-01")


def undated(path):
    """The same picture without its EXIF segment."""
    with open(path, "rb") as f:
        jpeg = f.read()
    at = jpeg.index(b"\xff\xe1")
    with open(path, "wb") as f:
        f.write(jpeg[:at] + jpeg[at + 2 + int.from_bytes(jpeg[at + 2:at + 4], "big"):])
    return path


def test_a_picture_without_a_day_is_no_look():
    """It is entered as of today, but proves no old skin today; a day given or corrected does."""
    j = nymph()
    j.record("1", "looked", "--day", "2026-05-20")
    before = j.ok("forecast", "1")
    path = undated(draw(j.tmp.name)["path"])
    said = j.run("photo", "add", "1", path)
    equal((said.code, said.json["taken"], said.json["day"]), (0, None, "2026-06-01"))
    assert "names no day" in said.err, said.err
    equal(j.ok("state", "1")["last_look"], "2026-05-20")
    equal(j.ok("forecast", "1"), before)
    fixed = j.ok("correct", said.json["photo"], "day=2026-05-24")
    equal(j.ok("state", "1")["last_look"], "2026-05-24")
    j.ok("correct", fixed["id"], "day=2026-05-23")
    equal(j.ok("state", "1")["last_look"], "2026-05-23")
    told = j.run("photo", "add", "1", path, "--day", "2026-05-28")
    equal((told.json["day"], told.err), ("2026-05-28", ""))
    equal(j.ok("state", "1")["last_look"], "2026-05-28")


def taken_on(path, day):
    """The same picture with another day in its EXIF."""
    with open(path, "rb") as f:
        jpeg = f.read()
    assert jpeg.count(b"2026:05:20") > 0
    with open(path, "wb") as f:
        f.write(jpeg.replace(b"2026:05:20", day.replace("-", ":").encode()))
    return path


def test_a_camera_day_that_cannot_be():
    """It is said, and the picture is one without a day: no look, and the keeper may say when it was."""
    j = nymph()  # hatched 2026-02-01
    bought = j.animal("species=hierodula", "acquired=2026-04-20", "moults=5")
    for animal, day, why, words in (("1", "2026-06-02", "ahead", "still to come"), ("1", "2099-01-01", "ahead", "clock"),
                                    ("1", "2026-01-31", "before_hatch", "before the hatch"),
                                    ("1", "1980-01-01", "long_ago", "not set"), (bought, "2000-01-01", "long_ago", "not set"),
                                    (bought, "2015-01-01", "long_ago", "1 January 2015")):
        look = j.ok("state", animal)["last_look"]
        before = j.ok("forecast", animal)
        path = taken_on(draw(j.tmp.name, seed=7)["path"], day)
        for line in (["add", animal, path], ["batch", f"{animal}={path}"]):
            said = j.run("photo", *line)
            equal(said.code, 0)
            photo = said.json["photos"][0] if line[0] == "batch" else said.json
            equal((photo["taken"], photo["day"], photo["undated"], photo["wrong_clock"]), (day, j.today, True, why))
            assert words in said.err and "no proof" in said.err, said.err
            listed = next(p for p in j.ok("photo", "list", animal)["photos"] if p["photo"] == photo["photo"])
            equal((listed["day"], listed["dated"]), (j.today, False))
            equal(j.ok("state", animal)["last_look"], look)
            equal(j.ok("forecast", animal), before)
            fixed = j.ok("correct", photo["photo"], "day=2026-05-24")  # the keeper knows it
            equal(j.ok("state", animal)["last_look"], "2026-05-24")
            j.ok("correct", fixed["id"], "day=2026-05-23")
            equal(j.ok("state", animal)["last_look"], "2026-05-23")
            for _ in range(3):
                j.ok("undo")
        told = j.run("photo", "add", animal, path, "--day", "2026-05-28")
        equal((told.json["day"], told.json["undated"], told.json["wrong_clock"], told.err), ("2026-05-28", False, None, ""))
        equal(j.ok("state", animal)["last_look"], "2026-05-28")
        j.ok("undo")
    # what the giver took before it came is no fault of a clock
    early = j.run("photo", "add", bought, taken_on(draw(j.tmp.name, seed=8)["path"], "2026-02-20"))
    equal((early.json["day"], early.json["undated"], early.json["wrong_clock"], early.err),
          ("2026-02-20", False, None, ""))
    case = j.ok("add", "eggcase", "species=hierodula", "laid=2026-05-01", "acquired=2026-05-10")["code"]
    said = j.run("photo", "add", case, taken_on(draw(j.tmp.name, seed=9)["path"], "2026-04-30"))
    equal((said.code, said.json["wrong_clock"], said.json["day"]), (0, "before_laid", j.today))


def test_many_at_once():
    """One round; what is no picture is refused by name, and the others are there."""
    j = nymph()
    j.animal("species=hierodula", "hatched=2026-02-01")
    a, b = draw(j.tmp.name, "a.jpg", 1)["path"], draw(j.tmp.name, "b.jpg", 2)["path"]
    bad, cut = os.path.join(j.tmp.name, "bad.jpg"), os.path.join(j.tmp.name, "cut.jpg")
    with open(bad, "wb") as f:
        f.write(b"MZ no picture at all" * 40)
    with open(a, "rb") as f, open(cut, "wb") as g:
        g.write(f.read()[:9000])
    said = j.run("photo", "batch", "1=" + a, "1=" + bad, "2=" + b, "1=" + cut)
    equal(said.code, 0)
    equal([p["subject"] for p in said.json["photos"]], ["1", "2"])
    equal([os.path.basename(r["file"]) for r in said.json["refused"]], ["bad.jpg", "cut.jpg"])
    assert all(len(r["why"]) > 20 for r in said.json["refused"]), said.json
    assert "bad.jpg" in said.err and "cut.jpg" in said.err, said.err
    keys(said.json["photos"][0], "photo", "hash", "taken", "file_day", "day", "duplicate")
    equal((len(j.ok("photo", "list")["photos"]), j.ok("check")["photos"]), (2, 2))
    j.ok("undo")
    equal(j.ok("photo", "list")["photos"], [])
    j.ok("redo")
    equal(len(j.ok("photo", "list")["photos"]), 2)
    again = j.ok("photo", "batch", "2=" + a)
    equal(again["photos"][0]["duplicate"], True)
    none = j.run("photo", "batch", "1=" + bad)
    equal(none.code, 1)
    j.no(2, "photo", "batch", "1" + a)
    j.no(1, "photo", "batch", "7=" + a)
    equal(len(j.ok("photo", "list")["photos"]), 3)


def test_the_day_of_the_file():
    """Where the keeper says so the day of the file counts, against the camera's too."""
    j = nymph()
    path = draw(j.tmp.name)["path"]
    os.utime(path, (1779710400, 1779710400))  # 2026-05-25, noon UTC
    added = j.ok("photo", "batch", "1=" + path, "--dates", "file")["photos"][0]
    equal((added["taken"], added["file_day"], added["day"]), ("2026-05-20", "2026-05-25", "2026-05-25"))
    listed = j.ok("photo", "list", "1")["photos"][0]
    equal((listed["day"], listed["dated"]), ("2026-05-25", True))
    j.no(2, "photo", "batch", "1=" + path, "--dates", "guess")


def test_list_by_stage():
    """Each picture stands at the stage that it shows, with a scale where one is known."""
    j = nymph()
    truth = draw(j.tmp.name)
    photo = j.ok("photo", "add", "1", truth["path"])["photo"]
    before = j.ok("photo", "list", "1")["photos"][0]
    equal((before["side"], before["of"], before["px_per_mm"]), (None, None, None))
    j.record("1", "marked", "photo=" + photo, "side=underside", "of=animal", "axis=" + truth["text"],
             "count=6", "by=keeper")
    j.record("1", "measured", "what=abdomen", "mm=20", "sd=1", "--day", "2026-05-20")
    now = j.ok("photo", "list", "1")["photos"][0]
    equal((now["side"], now["of"], now["plates"]), ("underside", "animal", 6))
    x = truth["axis"]
    length = sum(((x[i] - x[i - 2]) ** 2 + (x[i + 1] - x[i - 1]) ** 2) ** .5 for i in range(2, len(x), 2))
    near(now["px_per_mm"], length / 20, 0.01)
    assert .05 <= now["scale_sd"] < .06, now


def test_a_camera_in_the_future():
    """A wrong clock of the camera is no day of the journal."""
    j = Journal("2026-05-01")
    j.animal("species=hierodula", "hatched=2026-02-01")
    added = j.ok("photo", "add", "1", draw(j.tmp.name)["path"])
    equal(added["taken"], "2026-05-20")
    entry = next(e for e in j.ok("history", "1")["entries"] if e["id"] == added["photo"])
    equal(entry["day"], "2026-05-01")
    assert "taken" not in entry["values"], entry


def test_a_duplicate_is_said():
    j = nymph()
    path = draw(j.tmp.name)["path"]
    first = j.ok("photo", "add", "1", path)
    second = j.ok("photo", "add", "1", path)
    equal(second["duplicate"], True)
    equal(second["hash"], first["hash"])
    assert second["photo"] != first["photo"]
    equal(j.ok("check")["photos"], 1)


def test_a_duplicate_says_on_whom_it_lies_too():
    j = nymph()
    other = j.animal("species=hierodula", "hatched=2026-02-01")
    path = draw(j.tmp.name)["path"]
    first = j.ok("photo", "add", "1", path)
    assert "of" not in first
    equal(j.ok("photo", "add", other, path)["of"], j.ok("state", "1")["id"])
    # Taken off again, it lies on nobody else.
    j.ok("void", first["photo"])
    again = j.ok("photo", "add", other, path)
    equal(again["of"], j.ok("state", other)["id"])


def test_originals_are_kept_as_they_are():
    j = nymph()
    path = draw(j.tmp.name)["path"]
    before = open(path, "rb").read()
    added = j.ok("photo", "add", "1", path)
    equal(open(path, "rb").read(), before)
    kept = [os.path.join(top, n) for top, _, names in os.walk(os.path.join(j.dir, "photos"))
            for n in names]
    equal(len(kept), 1)
    assert added["hash"] in kept[0]
    equal(open(kept[0], "rb").read(), before)
    with open(kept[0], "r+b") as f:
        f.seek(500)
        f.write(b"\0\1\2\3")
    done = j.run("check")
    equal((done.code, done.json["clean"]), (3, False))
    assert done.json["problems"]
    os.remove(kept[0])
    equal(j.run("check").code, 3)


# ---- marks ----

def test_marks_are_checked():
    j = nymph()
    j.animal("species=hierodula", "hatched=2026-02-01")
    mine = j.ok("photo", "add", "1", draw(j.tmp.name)["path"])["photo"]
    other = j.ok("photo", "add", "2", draw(j.tmp.name, "q.jpg", seed=2)["path"])["photo"]
    gone = j.ok("photo", "add", "1", draw(j.tmp.name, "r.jpg", seed=3)["path"])["photo"]
    j.ok("void", gone)
    before = j.n_entries()
    for bad in ([f"photo={other}", "count=6"], [f"photo={gone}", "count=6"],
                [f"photo={mine}", "axis=1,2,3"], [f"photo={mine}", "axis=1,2"],
                [f"photo={mine}", "axis=1,2,1,2"], [f"photo={mine}", "axis=1,2,1001,20"],
                [f"photo={mine}", "axis=1,2,10,751"], [f"photo={mine}", "axis=-1,2,10,20"],
                [f"photo={mine}", "axis=1,2,10,20", "bounds=.5,.4"],
                [f"photo={mine}", "axis=1,2,10,20", "bounds=.5,1.4"],
                [f"photo={mine}", "cue=smile:male"],
                [f"photo={mine}", "count=6", "convention=appendages"]):
        j.no(1, "record", "1", "marked", *bad)
    equal(j.n_entries(), before)
    j.record("1", "marked", f"photo={mine}", "axis=0,0,1000,750", "bounds=.2,.4", "count=3",
             "cue=crown:male")


def test_a_detached_photo_says_nothing():
    j = nymph()
    photo = j.ok("photo", "add", "1", draw(j.tmp.name)["path"])["photo"]
    plain = j.ok("state", "1")["sex"]
    j.record("1", "marked", f"photo={photo}", "side=underside", "count=6", "small_plate=not")
    marked = j.ok("state", "1")["sex"]
    assert marked["female"] > plain["female"] + .2, marked
    for day in ("2026-05-19", "2026-05-18"):
        photo = j.ok("correct", photo, f"day={day}")["id"]
        equal(j.ok("state", "1")["sex"]["female"], marked["female"])
    # Marks name the photo by any of its ids, and new ones replace those that are there.
    j.record("1", "marked", f"photo={photo}", "side=underside", "count=8", "small_plate=not")
    evidence = j.ok("photo", "sex", photo)["evidence"]
    equal(len(evidence), 1)
    assert evidence[0]["log_odds"] > 0, evidence
    equal([e["kind"] for e in j.ok("history", "1")["entries"] if e["live"]].count("marked"), 1)
    j.ok("undo")
    assert j.ok("photo", "sex", photo)["evidence"][0]["log_odds"] < 0
    j.ok("void", photo)
    equal(j.ok("state", "1")["sex"]["female"], plain["female"])
    equal(j.ok("state", "1")["sex"]["evidence"], [])
    j.ok("undo")
    equal(j.ok("state", "1")["sex"]["female"], marked["female"])
    equal(next(e for e in j.ok("history", "1")["entries"] if e["id"] == photo)["live"], True)


# ---- counting ----

def test_count_has_every_key():
    j = Journal(make=False)
    picture = draw(j.tmp.name, plates=6)
    found = j.ok("photo", "count", picture["path"], "--axis", picture["text"], journal=False)
    keys(found, "count", "posterior", "likelihood", "boundaries", "usable", "reasons", "quality",
         "ms")
    equal(sorted(found["posterior"]), sorted(["none", "4", "5", "6", "7", "8", "9", "10"]))
    near(sum(found["posterior"].values()), 1, 1e-6)
    near(sum(found["likelihood"].values()), 1, 1e-6)
    keys(found["quality"], "length_px", "sharpness", "glare", "contrast")
    keys(found["ms"], "decode", "find")
    equal(found["usable"], True)
    equal(found["count"], 6)
    equal(len(found["boundaries"]), 5)
    for line in found["boundaries"]:
        keys(line, "at", "sd", "x", "y")
        assert 0 < line["at"] < 1 and 0 <= line["x"] < 1000 and 0 <= line["y"] < 750


def test_given_plates():
    j = Journal(make=False)
    picture = draw(j.tmp.name, plates=8)
    found = j.ok("photo", "count", picture["path"], "--axis", picture["text"], "--given", "7",
                 "--species", "hierodula", "--moults", "5", journal=False)
    equal(len(found["given"]), 6)


def test_what_cannot_carry_a_count_says_why():
    j = Journal(make=False)
    picture = draw(j.tmp.name, plates=-1)
    found = j.ok("photo", "count", picture["path"], "--axis", picture["text"], journal=False)
    equal(found["usable"], False)
    assert found["reasons"] and all(r["text"] for r in found["reasons"])
    equal(found["count"], None)


def test_many_in_one_run():
    j = Journal(make=False)
    truths = [draw(j.tmp.name, f"p{i}.jpg", seed=i, plates=6) for i in range(3)]
    lines = []
    for truth in truths:
        a = truth["axis"]
        lines.append(json.dumps({"id": 7, "file": truth["path"],
                                 "axis": [[a[0], a[1]], [a[2], a[3]], [a[4], a[5]]]}))
    lines.insert(1, json.dumps({"file": os.path.join(j.tmp.name, "no.jpg"),
                                "axis": [[1, 1], [2, 200]]}))
    path = os.path.join(j.tmp.name, "axes.txt")
    with open(path, "w", encoding="utf-8") as f:
        f.write("\n".join(lines) + "\n\n")
    out = j.run("photo", "count", "--axes", path, journal=False)
    equal(out.code, 0)
    answers = [json.loads(line) for line in out.out.splitlines()]
    equal([a["file"] for a in answers], [json.loads(line)["file"] for line in lines])
    assert "error" in answers[1]
    alone = j.ok("photo", "count", truths[0]["path"], "--axis", truths[0]["text"], journal=False)
    equal(answers[0]["posterior"], alone["posterior"])
    for bad in ('{"file":"x"}', "{}", "[]", '{"file":"x","axis":[[1,2]]}', "nonsense",
                '{"file":"x","axis":[[1,2],[3,4]]} more', '{"file":"x","axis":[[1,2],[3,"4"]]}'):
        with open(path, "w", encoding="utf-8") as f:
            f.write(bad + "\n")
        j.no(1, "photo", "count", "--axes", path, journal=False)


def test_count_refuses():
    j = Journal(make=False)
    picture = draw(j.tmp.name)
    path = picture["path"]
    for axis in ("10,10,10,10", "10,10,5000,10", "10,10,12,10", "1,2,3,4,5,6,7,8,9,10,11,12"):
        j.no(1, "photo", "count", path, "--axis", axis, journal=False)
    j.no(1, "photo", "count", path, "--axis", picture["text"], "--given", "3", journal=False)
    j.no(1, "photo", "count", path, "--axis", picture["text"], "--species", "griffin",
         journal=False)
    j.no(2, "photo", "count", path, journal=False)
    j.no(2, "photo", "count", "--axis", picture["text"], journal=False)


# ---- measures ----

def measure(j, *words):
    return j.ok("photo", "measure", *words)


def test_a_length_by_a_ruler():
    j = nymph()
    got = measure(j, "--line", "0,0,300,0,300,400", "--ruler", "10,10,210,10", "--mm", "20")
    keys(got, "mm", "sd", "scale")
    near(got["mm"], 70, 1e-6)
    # scale 1.41 %, marks 4 of 700 pixels, tilt 1.02 %, in quadrature
    near(got["sd"], 70 * (2e-4 + 16 / 490000 + .0102 ** 2) ** .5, 1e-3)
    near(got["scale"]["mm_per_px"], .1, 1e-9)
    equal([e for e in j.ok("history", "1")["entries"] if e["kind"] == "measured"], [])


def test_a_length_by_a_disc_feeds_growth():
    j = nymph()
    edge = "160,100,130,152,70,152,40,100,70,48,130,48"
    equal(j.ok("growth", "1", "--what", "body")["measured"], 0)
    got = measure(j, "--line", "0,0,200,0", "--disc", edge, "--mm", "24", "--what", "body", "--record", "1")
    keys(got, "mm", "sd", "scale", "id")
    near(got["scale"]["r"], 60, .2)
    near(got["scale"]["arc"], 300, 1)
    near(got["mm"], 40, .2)
    entry = [e for e in j.ok("history", "1")["entries"] if e["kind"] == "measured"][0]
    equal(entry["id"], got["id"])
    near(float(entry["values"]["mm"]), got["mm"], 1e-6)
    equal(j.ok("growth", "1", "--what", "body")["measured"], 1)


def test_plumpness_becomes_a_belly_score():
    j = nymph()
    outline = ",".join(f"{x},{200 - h},{x},{200 + h}" for x, h in ((50, 20), (150, 43), (250, 45), (350, 20)))
    got = measure(j, "--outline", outline, "--axis", "0,200,400,200", "--record", "1")
    keys(got, "depth", "sd", "score", "p", "id")
    near(got["depth"], 90 / 400, 1e-4)
    equal(got["score"], 3)
    near(sum(got["p"].values()), 1, 1e-3)
    equal(j.ok("state", "1")["belly"], 3)


def test_measure_refuses():
    j = nymph()
    line = ("--line", "0,0,200,0")
    short = "160,100,157,119,149,136,136,149,119,157"  # a quarter of the disc
    for words, code, said in [
        ((*line, "--ruler", "0,0,0,0", "--mm", "10"), 1, "one place"),
        ((*line, "--ruler", "0,0,100,0", "--mm", "-3"), 1, "one place"),
        ((*line, "--disc", short, "--mm", "24"), 1, "120 degrees"),
        ((*line, "--disc", "0,0,10,0,5,8", "--mm", "24"), 1, "too few"),
        ((*line, "--ruler", "0,0,100,0"), 2, "--mm"),
        (("--line", "0,0", "--ruler", "0,0,100,0", "--mm", "10"), 2, "expected x0,y0,x1,y1"),
        ((*line, "--ruler", "0,0,100,0", "--mm", "10", "--record", "1"), 2, "--what"),
        ((*line, "--outline", "0,0,1,1"), 2, "either"),
        (("--outline", "0,0,1,1,2,2", "--axis", "0,0,9,9"), 2, "pairs"),
        (("--outline", "0,0,1,1,2,2,3,3", "--axis", "0,0,9"), 2, "expected x0,y0,x1,y1"),
        ((*line, "--ruler", "0,0,100,0", "--mm", "10", "--mark-sd", "0"), 1, "above 0"),
        ((*line, "--ruler", "0,0,100,0", "--mm", "10", "--what", "body", "--record", "99"), 1, "99"),
    ]:
        why = j.no(code, "photo", "measure", *words)
        if said not in why:
            raise AssertionError(f"{words}: {why!r} does not say {said!r}")
    equal([e for e in j.ok("history", "1")["entries"] if e["kind"] in ("measured", "belly")], [])


# ---- sex ----

def test_photo_sex_and_state():
    j = nymph()
    photo = j.ok("photo", "add", "1", draw(j.tmp.name, plates=8)["path"])["photo"]
    equal(j.ok("photo", "sex", photo)["evidence"], [])
    j.record("1", "marked", f"photo={photo}", "side=underside", "of=animal", "count=8",
             "by=keeper", "small_plate=not", "last_plate=small")
    answer = j.ok("photo", "sex", photo)
    keys(answer, "photo", "male", "female", "verdict", "provisional", "ask", "evidence")
    # One picture gives at most 32 to 1.
    near(answer["male"], 32 / 33, .002)
    equal({e["kind"] for e in answer["evidence"]}, {"count", "last_plate"})
    state = j.ok("state", "1")["sex"]
    equal(state["verdict"], "likely_male")
    equal({e["photo"] for e in state["evidence"]}, {photo})
    for piece in state["evidence"]:
        keys(piece, "kind", "photo", "entry", "moults", "log_odds", "counted", "text")
    # The same picture again is no second opinion.
    again = j.ok("photo", "add", "1", os.path.join(j.tmp.name, "p.jpg"))["photo"]
    j.record("1", "marked", f"photo={again}", "side=underside", "of=animal", "count=8",
             "by=keeper", "small_plate=not", "last_plate=small")
    near(j.ok("state", "1")["sex"]["male"], 32 / 33, .002)
    # A corrected photo entry is the same photo.
    j.no(1, "correct", photo, "hash=" + "0" * 64)
    later = j.ok("correct", photo, "day=2026-05-21")["id"]
    equal(len(j.ok("photo", "sex", later)["evidence"]), 2)
    near(j.ok("state", "1")["sex"]["male"], 32 / 33, .002)
    j.ok("void", later)
    j.no(1, "photo", "sex", later)
    j.no(1, "photo", "sex", "no-id")
    j.no(1, "record", "1", "marked", "photo=01a214c0-5863-7535-8d7a-d84a8b029168")


def test_six_plates_two_moults_after_the_hatch_say_nothing():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-04-01", "acquired=2026-05-01", "moults=2")
    photo = j.ok("photo", "add", "1", draw(j.tmp.name)["path"])["photo"]
    j.record("1", "marked", f"photo={photo}", "side=underside", "of=animal", "count=6",
             "by=keeper", "small_plate=not")
    sex = j.ok("state", "1")["sex"]
    near(sex["male"], .5, .05)
    equal(sex["verdict"], "undecided")


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
