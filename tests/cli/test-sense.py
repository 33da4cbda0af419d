#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What cannot be is refused and says what to do; what the plan says does not contradict itself."""

import datetime
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, Journal, collect, equal, main  # noqa: E402


def one(*pairs, today="2026-06-01"):
    j = Journal(today)
    j.ok("add", "place", "code=S", "day_c=25", "night_c=25")
    j.animal("species=hierodula", "place=S", *pairs)
    return j


def says(j, words, *line):
    """It is refused with these words, and nothing is written."""
    before = j.n_entries()
    message = j.no(1, *line)
    assert words in message, message
    equal(j.n_entries(), before)


def due_today(j, subject="1"):
    return {t["kind"]: t for t in j.ok("plan", "--to", j.today)["tasks"]
            if t["subject"] == subject and t["due"] <= j.today}


def test_a_stage_that_is_none():
    j = one("acquired=2026-05-01", "stage=L4", "scheme=1")
    for word in ("99", "0", "banana", "Lx", "L44"):
        says(j, "Write L4, 4, L4-5", "add", "animal", "species=hierodula", "stage=" + word)
    entry = next(e for e in j.ok("history", "1")["entries"] if e["kind"] == "acquired")
    says(j, "Write L4, 4, L4-5", "correct", entry["id"], "stage=banana")
    j.ok("correct", entry["id"], "stage=L5")
    equal(j.ok("state", "1")["moults"]["value"], 4)


def test_an_end_after_what_is_known():
    j = one("acquired=2026-05-01", "moults=4")
    j.record("1", "looked", "--day", "2026-05-28")
    for end in ("died", "escaped", "left"):
        says(j, "28 May 2026", "record", "1", end, "--day", "2026-05-20")
    j.record("1", "died", "--day", "2026-05-28", "--earliest", "2026-05-20")
    says(j, "at what time", "record", "1", "fed", "--day", "2026-05-28")
    says(j, "Its page ended", "record", "1", "looked")
    j.record("1", "fed", "--day", "2026-05-28", "--time", "08:00")
    j.record("1", "note", "text=found on the floor")
    equal(j.ok("check")["conflicts"], [])


def test_moults_that_cannot_be():
    j = one("hatched=2026-03-01")
    first = j.record("1", "moulted", "--day", "2026-03-12")
    j.record("1", "moulted", "--day", "2026-03-25")
    says(j, "Correct that entry", "record", "1", "moulted", "--day", "2026-03-25")
    says(j, "before the hatch", "record", "1", "moulted", "--earliest", "2026-02-20")
    says(j, "before the hatch", "correct", first, "earliest=2026-02-20")
    says(j, "adults do not moult", "record", "1", "moulted", "to=adult", "--day", "2026-03-18")
    says(j, "adults do not moult", "correct", first, "to=adult")
    j.record("1", "moulted", "to=adult", "--day", "2026-05-20")
    says(j, "correct that entry", "record", "1", "stage", "seen=nymph")


def test_two_moults_few_days_apart():
    j = one("hatched=2026-03-01")
    j.record("1", "moulted", "--day", "2026-03-12")
    first = j.record("1", "moulted", "--day", "2026-03-25")
    says(j, "25 Mar", "record", "1", "moulted", "--day", "2026-03-27")
    says(j, "sure=yes", "record", "1", "moulted", "--day", "2026-03-22")
    says(j, "sure=yes", "round", "S", "looked; 1 moulted", "--day", "2026-03-26")
    j.record("1", "moulted", "--day", "2026-03-27", "sure=yes")
    equal(j.ok("state", "1")["moults"]["value"], 3)
    assert "surely, though so soon" in j.ok("history", "1")["entries"][0]["text"], j.ok("history", "1")
    j.ok("undo")
    j.record("1", "moulted", "--day", "2026-03-27", "--sure")
    j.ok("undo")
    j.record("1", "moulted", "--day", "2026-03-29")
    says(j, "sure=yes", "correct", first, "day=2026-03-27")


def test_a_shelf_is_not_cleaned_while_all_on_it_are_left_alone():
    j = one("acquired=2026-05-01", "moults=4")
    late = "2026-06-10"

    def cleaning():
        plan = j.ok("plan", "--to", late, today=late)
        return ([t for t in plan["tasks"] if t["kind"] == "clean"], [h for h in plan["held"] if h["kind"] == "clean"])

    tasks, held = cleaning()
    equal((len(tasks), len(held)), (1, 0))
    j.ok("record", "1", "sign", "sign=pumping", today=late)
    tasks, held = cleaning()
    equal((len(tasks), held[0]["subject"], held[0]["until"]), (0, "S", late))
    assert "left alone" in held[0]["reasons"][0]["text"], held
    j.ok("add", "animal", "species=hierodula", "place=S", "acquired=2026-06-01", "moults=4", today=late)
    tasks, held = cleaning()
    equal((len(tasks), len(held)), (1, 0))


def test_an_ill_one_is_left_out_of_feeding_all():
    j = one("acquired=2026-05-01", "moults=4")
    j.animal("species=hierodula", "place=S", "acquired=2026-05-01", "moults=4")
    j.record("1", "trouble", "what=vomit")
    done = j.ok("round", "S", "fed 1 house fly")
    equal([(o["subject"], o["why"]) for o in done["left_out"]], [("1", "ill")])
    equal(done["written"], 1)
    assert "mist" in due_today(j)
    held = [h for h in j.ok("plan")["held"] if h["subject"] == "1" and h["kind"] == "feed"]
    equal(held[0]["until"], "2026-06-03")
    assert "vet" in held[0]["reasons"][0]["text"], held


def test_what_looks_dead_is_forecast_only_if_it_lives():
    j = one("hatched=2026-05-15")
    j.record("1", "moulted", "--day", "2026-05-28")
    assert j.ok("forecast", "1")["text"].startswith("next moult about")
    j.record("1", "looks_dead", "--day", "2026-05-31")
    assert j.ok("forecast", "1")["text"].startswith("looked dead 31 May; if it lives, "), j.ok("forecast", "1")["text"]
    j.record("1", "drank")
    assert j.ok("forecast", "1")["text"].startswith("next moult about")


def test_values_that_say_nothing():
    j = one("hatched=2026-03-01")
    says(j, "whole number", "record", "1", "fed", "n=1.5")
    says(j, "whole number", "record", "1", "belly", "score=2.5")
    says(j, "Nothing is written", "record", "1", "note", "text=")
    says(j, "t=23", "record", "S", "reading")
    says(j, "later day", "record", "1", "put_off", "rule=feed", "until=2026-05-01")
    says(j, "before the hatch", "record", "1", "measured", "what=body", "mm=9",
         "--day", "2026-02-20")


def test_a_moult_that_nobody_saw():
    """Sub-adult when last looked at, adult now: it moulted between and hardens still."""
    j = Journal("2026-06-14")
    j.animal("species=hierodula", "hatched=2026-03-01")
    for day in ("03-12", "03-24", "04-05", "04-18", "05-02"):
        j.record("1", "moulted", "--day", "2026-" + day)
    j.record("1", "moulted", "to=subadult", "seen=yes", "--day", "2026-05-20")
    j.record("1", "looked", "--day", "2026-06-10")
    seen = j.record("1", "stage", "seen=adult", "--day", "2026-06-13")
    state = j.ok("state", "1")
    equal(state["stage"], "adult since 11–13 June")
    equal(state["last_moult"], {"earliest": "2026-06-11", "latest": "2026-06-13"})
    equal((state["moults"]["value"], state["moults"]["basis"]), (7, "estimated"))
    assert state["hold"] is not None
    tasks = due_today(j)
    assert "feed" not in tasks and "sex_check" not in tasks, tasks
    j.ok("void", seen)
    state = j.ok("state", "1")
    equal((state["stage"], state["moults"]["value"], state["hold"]), ("sub-adult", 6, None))


def test_left_alone_until_food_is_due():
    """The lid stays shut until the day of its own meal, no day longer; touching waits longer."""
    j = one("hatched=2026-01-10")
    for day in ("01-22", "02-03", "02-16", "03-03", "03-20", "04-10"):
        j.record("1", "moulted", "--day", "2026-" + day, "outcome=good")
    j.record("1", "moulted", "to=subadult", "--day", "2026-06-01", "--earliest", "2026-06-01")
    hold = j.ok("state", "1")["hold"]
    equal((hold["reach"], hold["until"], hold["food_until"], hold["touch_until"]),
          ("open", "2026-06-02", "2026-06-02", "2026-06-03"))
    plan = j.ok("plan", "--to", "2026-06-10")
    feed = next(t for t in plan["tasks"] if t["kind"] == "feed")
    assert feed["due"] > hold["until"], feed
    equal([h["until"] for h in plan["held"] if h["kind"] == "feed"], [hold["until"]])
    j.today = "2026-06-03"
    hold = j.ok("state", "1")["hold"]
    equal((hold["reach"], hold["until"], hold["food_until"]), ("touch", "2026-06-03", None))


def test_when_it_came_is_not_known():
    """Nothing is invented: it is here today, and since when nobody knows; typing it in is no look."""
    j = Journal()
    done = j.run("add", "animal", "species=hierodula", "moults=3")
    equal(done.code, 0)
    assert "not known" in done.err, done.err
    state = j.ok("state", "1")
    equal(state["last_look"], None)
    equal(state["moults"]["value"], 3)
    reasons = {r["rule"]: r for r in j.ok("forecast", "1")["reasons"]}
    assert "came" not in reasons["forecast.unknown_start"]["text"]
    came = next(e for e in j.ok("history", "1")["entries"] if e["kind"] == "acquired")
    assert "not known" in came["text"], came["text"]
    j.ok("correct", came["id"], "known=yes", "day=2026-05-20")
    reasons = {r["rule"]: r for r in j.ok("forecast", "1")["reasons"]}
    assert "came" in reasons["forecast.unknown_start"]["text"]


def test_what_came_today_is_not_long_unseen():
    j = one("hatched=2026-03-01", "acquired=2026-06-01", "stage=L4", "scheme=1")
    equal(j.ok("state", "1")["last_look"], None)
    rules = [r["rule"] for r in due_today(j)["look"]["reasons"]]
    assert "look.unseen" not in rules, rules
    assert "look.never" in rules, rules


def test_hanging_and_refusing_is_no_food():
    j = one("acquired=2026-05-01", "moults=4")
    j.record("1", "moulted", "--day", "2026-05-20", "--earliest", "2026-05-20", "outcome=good")
    for prey in ("cricket", "house fly"):
        j.record("1", "fed", "prey=" + prey, "outcome=refused")
    j.record("1", "sign", "sign=hanging")
    plan = j.ok("plan")
    tasks = [t for t in plan["tasks"] if t["subject"] == "1"]
    equal([t["id"] for t in tasks if t["kind"] == "feed"], [])
    assert "feed" in [h["kind"] for h in plan["held"]]
    assert "take_out" in [t["kind"] for t in tasks]
    assert "look" in [t["kind"] for t in tasks]


def test_feeding_moves_the_next_feed():
    """Offered, refused or taken: no meal leaves the animal as due as it was."""
    for score in (1, 2, 3):
        for outcome in ("offered", "taken", "refused"):
            j = one("acquired=2026-05-01", "moults=4")
            j.record("1", "belly", f"score={score}")
            assert "feed" in due_today(j)
            j.record("1", "fed", "prey=hydei", "outcome=" + outcome)
            assert "feed" not in due_today(j), (score, outcome)


def test_what_cannot_wait_leads():
    """What has been due for days heads no list; a hot shelf and a fall do."""
    j = one("hatched=2026-03-01")
    for day in ("2026-03-12", "2026-03-25", "2026-04-10", "2026-05-20"):
        j.record("1", "moulted", "--day", day, "outcome=good")
    j.animal("species=hierodula", "place=S", "acquired=2026-05-20", "moults=4")
    j.record("2", "trouble", "what=fell")
    j.record("2", "fed", "prey=house fly", "--day", "2026-05-29")
    j.record("S", "reading", "t=41")
    tasks = j.ok("plan", "--to", j.today)["tasks"]
    kinds = [t["kind"] for t in tasks]
    equal(sorted(kinds[:2]), ["climate", "look"])
    old = [i for i, t in enumerate(tasks) if t["due"] < j.today and t["kind"] not in kinds[:2]]
    assert old and min(old) >= 2, kinds


def test_refused_is_what_was_put_in():
    """By one word without a prey, also from the round line: the open offer, not another."""
    j = one("acquired=2026-05-01", "moults=4")
    j.record("1", "fed", "prey=cricket", "n=2", "--day", "2026-05-31")
    j.record("1", "fed", "outcome=refused")
    meal = next(e for e in j.ok("history", "1")["entries"] if e["kind"] == "fed")
    equal(meal["values"], {"prey": "cricket", "n": 2, "outcome": "refused"})
    equal(j.ok("state", "1")["refusals_since_taken"], 1)
    j.animal("species=hierodula", "place=S", "acquired=2026-05-01", "moults=4")
    j.record("2", "fed", "prey=cricket", "n=1")
    j.ok("round", "S", "2 refused")
    state = j.ok("state", "2")
    equal(state["refusals_since_taken"], 1)
    assert "take_out" in due_today(j, "2")


def test_a_number_stays():
    j = one("acquired=2026-05-01", "moults=4")
    number = next(e for e in j.ok("history", "1")["entries"]
                  if e["kind"] == "set" and e["values"]["key"] == "number")["id"]
    says(j, "Correct the entry", "void", number)
    says(j, "Correct the entry", "correct", number, "key=name", "value=Lena")
    new = j.ok("correct", number, "value=7")["id"]
    equal(j.ok("state", "7")["subject"], "7")
    j.ok("void", new)
    equal(j.ok("state", "1")["subject"], "1")
    code = next(e for e in j.ok("history", "S")["entries"]
                if e["kind"] == "set" and e["values"]["key"] == "code")["id"]
    says(j, "Correct the entry", "void", code)
    j.record("S", "set", "key=name", "value=The shelf")
    j.ok("void", code)
    equal(j.ok("state", "The shelf")["subject"], "The shelf")


def test_taking_back_says_what():
    j = one("acquired=2026-05-01", "moults=4")
    looked = j.record("1", "looked", "--day", "2026-05-30")
    j.ok("void", looked)
    said = j.ok("history", "1")["entries"][0]
    equal(said["kind"], "void")
    equal(said["text"], "took back: looked at (30 May)")
    j.ok("undo")
    assert any(e["text"] == "put back: looked at (30 May)" for e in j.ok("history", "1")["entries"])


def test_the_end_of_the_calendar():
    j = one("acquired=2026-05-01", "moults=4")
    for day in ("9999-12-31", "9998-06-01"):
        assert "9999" in j.no(2, "plan", today=day)
    j.ok("plan", today="9997-12-01")


def killed_demo(folder, name, after=1):
    """A run that is killed while it draws, once its folder is there; the name of what it left."""
    run = subprocess.Popen([CLI, "--today", "2026-06-01", "new", os.path.join(folder, name), "--demo"],
                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    left = os.path.join(folder, f".{name}-{run.pid}")
    until = time.monotonic() + 60
    while not os.path.exists(os.path.join(left, "journal", "journal.sqlite")):
        assert run.poll() is None and time.monotonic() < until, "it drew nothing"
        time.sleep(.01)
    time.sleep(after)
    run.kill()
    equal(run.wait(), -signal.SIGKILL)
    assert os.path.isdir(left)
    return left


def make_small(folder, name):
    Journal(make=False).ok("new", os.path.join(folder, name), "--animals", "1", "--days", "3", journal=False)


def test_a_killed_demo_leaves_nothing_for_long():
    with tempfile.TemporaryDirectory(prefix="mantidary-test-") as tmp:
        for after in (0, .05, .5):
            killed_demo(tmp, "j", after)
            make_small(tmp, "j")
            equal(os.listdir(tmp), ["j"])
            shutil.rmtree(os.path.join(tmp, "j"))
        # a process that lives has the number of that run now
        os.rename(killed_demo(tmp, "j"), os.path.join(tmp, f".j-{os.getpid()}"))
        make_small(tmp, "j")
        equal(os.listdir(tmp), ["j"])
        killed_demo(tmp, "other")
        make_small(tmp, "k")
        equal(sorted(os.listdir(tmp)), ["j", "k"])


def test_what_is_no_killed_demo_stays():
    with tempfile.TemporaryDirectory(prefix="mantidary-test-") as tmp:
        gone = os.path.join(tmp, ".j-999999999")
        kept = [os.path.join(tmp, name) for name in (".j-1", ".j-notes", ".k-999999999")]
        strange, own, marked = (os.path.join(tmp, f".j-{n}") for n in ("999999998", "999999997", "999999996"))
        for folder in [gone, strange, own, marked] + kept:
            os.mkdir(folder)
        # a letter; a journal of the keeper's own; what somebody has put something into
        for path in (os.path.join(strange, "letter.txt"), os.path.join(own, "journal.sqlite"),
                     os.path.join(marked, "half-made"), os.path.join(marked, "letter.txt")):
            with open(path, "wb"):
                pass
        make_small(tmp, "j")
        assert not os.path.exists(gone)
        for folder in kept + [strange, own, marked]:
            assert os.path.isdir(folder), folder
        equal(os.listdir(own), ["journal.sqlite"])


def test_two_runs_beside_each_other():
    """One is stopped while it draws: another leaves its folder alone, and the first ends what it began."""
    with tempfile.TemporaryDirectory(prefix="mantidary-test-") as tmp:
        run = subprocess.Popen([CLI, "--today", "2026-06-01", "new", os.path.join(tmp, "j"), "--demo"],
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        making = os.path.join(tmp, f".j-{run.pid}")
        until = time.monotonic() + 60
        while not os.path.exists(os.path.join(making, "journal", "journal.sqlite")):
            assert run.poll() is None and time.monotonic() < until
            time.sleep(.01)
        try:
            run.send_signal(signal.SIGSTOP)
            make_small(tmp, "k")
            assert os.path.exists(os.path.join(making, "journal", "journal.sqlite"))
        finally:
            run.send_signal(signal.SIGCONT)
        equal(run.wait(timeout=120), 0)
        equal(sorted(os.listdir(tmp)), ["j", "k"])
        equal(Journal(make=False).ok("--journal", os.path.join(tmp, "j"), "check", journal=False)["clean"], True)


def on_two_shelves():
    j = one("acquired=2026-05-01", "moults=4")
    j.ok("add", "place", "name=Window", "code=W")
    for place in ("S", "S", "W"):
        j.animal("species=hierodula", "place=" + place)
    return j


def test_before_a_cup_of_another_shelf():
    j = on_two_shelves()
    equal(j.ok("move", "3", "S", "--before", "2")["at"], 1.5)
    says(j, "Cup 4 stands on “W”, not on “S”", "move", "3", "S", "--before", "4")
    says(j, "No cup stands before itself", "move", "3", "S", "--before", "3")
    says(j, "There is no “9”", "move", "3", "S", "--before", "9")
    says(j, "“W” stands on no shelf", "move", "3", "S", "--before", "W")
    j.record("4", "died")
    says(j, "“4” stands on no shelf", "move", "3", "W", "--before", "4")
    equal(j.ok("move", "3", "S"), {"subject": "3", "place": "S", "at": 3})
    equal(j.ok("move", "3", "W")["place"], "W")


def day_of(j, entry, subject="1"):
    return next(e["day"] for e in j.ok("history", subject)["entries"] if e["id"] == entry)


def test_days_in_words():
    j = one("acquired=1 may", "moults=4")  # 1 June 2026 is a Monday
    assert {"acquired": "2026-05-01"}.items() <= {e["kind"]: e["day"] for e in
                                                  j.ok("history", "1")["entries"]}.items()
    for said, day in (("yesterday", "2026-05-31"), ("Gestern", "2026-05-31"),
                      ("monday", "2026-06-01"), ("last monday", "2026-05-25"),
                      ("Friday", "2026-05-29"), ("letzten Freitag", "2026-05-29"),
                      ("10.5.", "2026-05-10"), ("3 days ago", "2026-05-29")):
        equal(day_of(j, j.record("1", "note", "text=x", "--day", said)), day)
    entry = j.record("1", "moulted", "--day", "sunday", "--earliest", "friday")
    equal(j.ok("state", "1")["last_moult"], {"earliest": "2026-05-29", "latest": "2026-05-31"})
    equal(day_of(j, j.ok("correct", entry, "day=saturday")["id"]), "2026-05-30")
    written = j.ok("round", "S", "all misted", "--day", "yesterday")
    assert written, written
    before = j.n_entries()
    for said in ("weeks ago", "10/5", "s", "5", "2026", "2026-02-30", "never",
                 "tomorrow", ""):
        assert "a day as" in j.no(2, "record", "1", "note", "text=x", "--day", said), said
    for said in ("5", "weeks ago"):
        says(j, "is no day", "correct", entry, "day=" + said)
        says(j, "is no day", "add", "animal", "species=hierodula", "hatched=" + said)
    equal(j.n_entries(), before)
    # What may be still to come is a date alone: which Friday would it be?
    assert "YYYY-MM-DD" in j.no(2, "plan", "--to", "friday")


def told(j, *line):
    """What it says besides, of what it did."""
    done = j.run("record", *line)
    equal(done.code, 0)
    return done.err


def test_leaving_near_a_moult():
    j = one("acquired=2026-05-01", "moults=4")
    j.animal("species=hierodula", "place=S", "hatched=2026-05-20")
    j.record("1", "moulted", "--day", "2026-05-26", "--earliest", "2026-05-26")
    equal(told(j, "2", "left", "how=sold", "--day", "2026-05-31"), "")  # gone already
    j.ok("undo")
    first = datetime.date.fromisoformat(j.ok("forecast", "1")["p10"])
    far, near = (str(first - datetime.timedelta(days=n)) for n in (8, 7))
    assert far >= j.today, far
    j.today = far
    equal(told(j, "1", "left", "how=sold"), "")
    j.ok("undo")
    j.today = near
    said = told(j, "1", "left", "how=sold")
    assert "By post not within a week before a moult: next moult about" in said, said
    assert any(e["kind"] == "left" for e in j.ok("history", "1")["entries"])  # said, not refused
    j.ok("undo")
    j.today = "2026-06-20"
    j.record("1", "moulted", "--earliest", "2026-06-19")
    assert "By post only from Wed 24 June on" in told(j, "1", "left", "how=given")


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
