#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""profile list, show, check, set, reset; import and export profiles."""

import os
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, Journal, collect, equal, keys, main  # noqa: E402


def value(shown, name):
    group, key = name.rsplit(".", 1)
    return next(v for v in shown["values"] if (v["group"], v["key"]) == (group, key))


def write(j, text, name="kind.profile"):
    path = os.path.join(j.tmp.name, name)
    with open(path, "wb") as f:
        f.write(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def test_list_and_show():
    j = Journal()
    answer = j.ok("profile", "list")
    equal(answer["problems"], [])
    equal(len([p for p in answer["profiles"] if not p["general"]]), 12)
    for p in answer["profiles"]:
        keys(p, "species", "common", "general", "own", "ours", "practice", "measured")
        assert p["ours"] <= .4 * (p["ours"] + p["practice"] + p["measured"]), p
        equal(p["own"], False)
    shown = j.ok("profile", "show", "orchid")
    keys(shown, "species", "common", "id", "hash", "shipped", "own", "moved_on", "problem", "values", "sources")
    mist = value(shown, "care.mist")
    keys(mist, "group", "key", "value", "from", "stands", "own", "shipped", "shipped_from", "other", "other_from",
         "note", "text")
    equal((mist["value"], mist["from"], mist["text"]), ("1;2", "practice", "1–2 days"))
    equal(value(shown, "climate.humidity")["other"], "70;90")
    equal(shown["sources"][0]["id"], "faber")
    text = j.ok("profile", "show", "orchid", as_json=False)
    assert "Humidity by day: 60–80 % (common practice)" in text, text
    assert "others: 70–90 % (common practice)" in text
    j.no(1, "profile", "show", "unicorn")


def test_without_a_journal():
    j = Journal(make=False)
    env = dict(os.environ, XDG_DATA_HOME=j.tmp.name, HOME=j.tmp.name)
    done = j.run("profile", "show", "ghost", journal=False, env=env)
    equal((done.code, done.json["species"]), (0, "Phyllocrania paradoxa"))
    equal(j.run("profile", "list", journal=False, env=env).code, 0)
    path = write(j, "[profile]\nscientific=Exemplum fictum\ncommon=x\ngroup=hardy\n")
    equal(j.run("profile", "check", path, journal=False, env=env).json["species"], "Exemplum fictum")


def test_set_moves_the_forecast():
    j = Journal()
    j.animal("species=orchid", "hatched=2026-05-18", "number=1")
    j.record("1", "moulted", "seen=yes", "--day", "2026-05-30")
    before = j.ok("forecast", "1")["days"]["p50"]
    equal(j.ok("profile", "set", "orchid", "development.stage_days=12;40;14;16;19;23;26", "care.mist=2-3"),
          {"species": "Hymenopus coronatus", "own": 2})
    assert j.ok("forecast", "1")["days"]["p50"] > before + 5
    shown = j.ok("profile", "show", "orchid")
    mist = value(shown, "care.mist")
    equal((mist["value"], mist["from"], mist["own"], mist["shipped"]), ("2;3", "own", True, "1;2"))
    equal(j.ok("profile", "reset", "orchid", "care.mist")["own"], 1)
    equal(j.ok("profile", "reset", "orchid")["own"], 0)
    equal(j.ok("forecast", "1")["days"]["p50"], before)
    j.ok("undo")
    equal(j.ok("profile", "show", "orchid")["own"], 1)


def test_set_refuses():
    j = Journal()
    n = j.n_entries()
    for edits, says in ((["care.mist=0-2"], "care.mist"), (["care.mist=nan"], "nan"), (["care.wings=1"], "no value"),
                        (["care.mist=1e400;1e400"], "1 to 60"), (["clock.topt=31"], "must rise"),
                        (["profile.scientific=x"], "no value"), (["care.mist=2-3", "care.clean=99-100"], "care.clean")):
        err = j.no(1, "profile", "set", "orchid", *edits)
        assert says in err, err
    j.no(2, "profile", "set", "orchid", "care.mist")
    j.no(2, "profile", "reset", "orchid", "care.mist=1")
    j.no(1, "profile", "set", "unicorn", "care.mist=1-2")
    equal(j.n_entries(), n)


def test_the_temperature_that_does_not_rise_is_named():
    j = Journal()
    path = os.path.join(j.tmp.name, "hot.profile")
    j.ok("export", "profiles", "hierodula", path)
    with open(path, encoding="utf-8") as file:
        lines = file.read().split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith("tmax="))
    lines[at] = "tmax=29"
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(lines))
    err = j.no(1, "profile", "check", path)
    assert "must rise" in err and "tmax" in err and str(at + 1) in err, (at + 1, err)


def test_out_and_in():
    a, b = Journal(), Journal()
    a.ok("profile", "set", "ghost", "care.mist=5-6")
    path = os.path.join(a.tmp.name, "ghost.profile")
    equal(a.ok("export", "profiles", "ghost", path), {"file": path, "species": "Phyllocrania paradoxa"})
    a.no(1, "export", "profiles", "ghost", path)
    a.ok("export", "profiles", "ghost", path, "--replace")
    a.no(1, "export", "profiles", "ghost", os.path.join(a.dir, "x.profile"))
    looked = b.ok("import", "profiles", path, "--look")
    equal((looked["written"], [c["key"] for c in looked["changes"]]), (False, ["mist"]))
    equal((looked["changes"][0]["value"], looked["changes"][0]["shipped"]), ("5;6", "2;4"))
    equal(b.ok("profile", "show", "ghost")["own"], 0)
    equal(b.ok("profile", "check", path)["known"], True)
    equal(b.ok("import", "profiles", path)["written"], True)
    equal(value(b.ok("profile", "show", "ghost"), "care.mist")["value"], "5;6")
    equal(b.ok("import", "profiles", path)["written"], False)


def test_hostile_files():
    j = Journal()
    n = j.n_entries()
    good = "[profile]\nscientific=Exemplum fictum\ncommon=x\ngroup=hardy\n"
    rows = (
        ("", "[profile] group"),
        (good + "[clock]\ntopt=1e999\ntopt.from=own\n", "line 6"),
        (good + "[clock]\ntopt=nan\ntopt.from=own\n", "line 6"),
        (good + "[clock]\ntopt=28\n", "topt.from"),
        (good + "base=Exemplum fictum\n", "line 5"),
        (good + "[nonsense]\nx=1\n", "nonsense"),
        (good + "common=y\n", "line 5"),
        (good.replace("Exemplum fictum", "../../x"), "line 2"),
        (good.encode() + b"[sources]\na=\xff\xfe\n", "line 6"),
        (good.encode("utf-16"), "line 1"),
        (good + "general=true\n", "general=true"),
        (good + "#" + "x" * 70000, "64 KiB"),
        (good + "#" + "x" * 5000, "line 5"),
    )
    for text, says in rows:
        path = write(j, text)
        for words in (("profile", "check", path), ("import", "profiles", path)):
            err = j.no(1, *words)
            assert says in err, (says, err)
            assert len(err) < 600, len(err)
    for path in ("/dev/zero", j.dir, os.path.join(j.tmp.name, "none")):
        j.no(1, "profile", "check", path)
    pipe = os.path.join(j.tmp.name, "pipe")
    os.mkfifo(pipe)
    j.no(1, "import", "profiles", pipe)  # and nobody waits for it
    for text in (b"\xef\xbb\xbf" + good.encode(), good.replace("\n", "\r\n").encode()):
        equal(j.ok("profile", "check", write(j, text))["species"], "Exemplum fictum")
    equal(j.n_entries(), n)


def test_locale():
    """Numbers of the contract have a '.', whatever the locale."""
    j = Journal()
    env = dict(os.environ, LC_ALL="de_DE.UTF-8", LANGUAGE="de")
    done = subprocess.run([CLI, "--today", j.today, "--journal", j.dir, "--json", "profile", "set", "orchid",
                           "size.adult_male_mm=31,5"], capture_output=True, check=False, env=env, timeout=60)
    equal(done.returncode, 0)
    equal(value(j.ok("profile", "show", "orchid"), "size.adult_male_mm")["value"], "31.5")


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
