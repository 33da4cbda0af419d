#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Rules that need more than one subject, or a kind of their own: from entries to `plan`."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, main  # noqa: E402


def shelf(today="2026-06-01"):
    j = Journal(today)
    j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=20")
    return j


def tasks(j, kind, subject=None, to=None):
    return [t for t in j.ok("plan", "--to", to or j.today)["tasks"]
            if t["kind"] == kind and (subject is None or t["subject"] == subject)]


def rules(task):
    return [r["rule"] for r in task["reasons"]]


def test_a_shelf_is_judged_by_what_stands_on_it():
    j = shelf()
    j.record("A", "reading", "t=33")
    equal(tasks(j, "climate"), [])
    j.ok("add", "animal", "species=hymenopus", "place=A")
    found = tasks(j, "climate", "A")
    equal(rules(found[0]), ["climate.hot"])
    assert "32 °C" in found[0]["text"] or "32 °C" in found[0]["reasons"][0]["text"], found
    j.record("1", "left", "how=sold")
    equal(tasks(j, "climate"), [])
    j.ok("add", "place", "name=Box", "code=X", "within=A")
    j.ok("add", "animal", "species=hymenopus", "place=X")
    equal(len(tasks(j, "climate", "A")), 1)


def test_hours_out_of_the_band():
    j = shelf()
    j.ok("add", "animal", "species=hierodula", "place=A")
    for hour in ("09:00", "10:30", "12:00", "13:30"):
        j.ok("record", "A", "reading", "t=31.5", "--time", hour)
    found = tasks(j, "climate", "A")
    equal(rules(found[0]), ["climate.band"])
    j.record("A", "done", "rule=climate")
    equal(tasks(j, "climate"), [])


def test_an_egg_case_from_laying_to_a_lot():
    j = shelf("2026-06-01")
    j.ok("add", "eggcase", "species=hierodula", "place=A", "laid=2026-05-31")
    held = [h for h in j.ok("plan")["held"] if h["subject"] == "E1"]
    equal([(h["kind"], h["until"]) for h in held], [("eggcase", "2026-06-04")])
    move = tasks(j, "eggcase", "E1", "2026-06-10")
    equal((rules(move[0]), move[0]["due"], move[0]["reach"]), (["egg.move"], "2026-06-05", "touch"))
    j.today = "2026-07-08"
    equal({tuple(rules(t)) for t in tasks(j, "culture", "E1")}, {("culture.before_hatch",)})
    j.record("E1", "hatching", "n=80")
    found = tasks(j, "eggcase", "E1")
    equal(rules(found[0]), ["egg.in_no_lot"])
    equal(tasks(j, "culture", "E1"), [])
    j.record("E1", "hatching", "over=yes")
    equal(len(tasks(j, "eggcase", "E1")), 1)
    j.ok("add", "lot", "from=E1", "count=80", "place=A")
    equal(tasks(j, "eggcase", "E1"), [])
    equal(len(tasks(j, "feed", "H1")), 1)


def test_the_cold_of_a_winter_rest_is_no_danger():
    j = shelf("2026-01-10")
    j.ok("add", "place", "name=Fridge", "code=F", "day_c=4", "night_c=4")
    j.ok("add", "eggcase", "species=mantis", "place=F", "laid=2025-10-01")
    j.record("F", "reading", "t=4", "--time", "10:00")
    equal(rules(tasks(j, "eggcase", "E1")[0]), ["egg.stands_still"])
    equal(rules(tasks(j, "climate", "F")[0]), ["climate.cold"])
    j.record("E1", "set", "key=rest", "value=yes", "--day", "2025-11-20")
    equal(tasks(j, "climate"), [])
    equal(tasks(j, "mist"), [])
    wake = tasks(j, "eggcase", "E1", "2026-01-20")
    equal((rules(wake[0]), wake[0]["due"], wake[0]["latest"]),
          (["egg.rest_over"], "2026-01-19", "2026-03-20"))
    assert "60–120 days" in wake[0]["reasons"][0]["text"], wake
    # An animal beside it is in danger there.
    j.ok("add", "animal", "species=hierodula", "place=F")
    equal(rules(tasks(j, "climate", "F")[0]), ["climate.cold"])


def test_a_shelf_on_which_nothing_stands():
    j = shelf()
    j.record("A", "reading", "t=3")
    equal(tasks(j, "climate"), [])


def test_only_the_newest_culture_asks_for_another():
    j = shelf()
    j.ok("add", "culture", "prey=melanogaster", "started=2026-05-20")
    equal([rules(t) for t in tasks(j, "culture", "C1")], [["culture.weekly"]])
    j.ok("add", "culture", "prey=hydei", "started=2026-05-31")
    equal(len(tasks(j, "culture", "C1")), 1)
    j.ok("add", "culture", "prey=melanogaster", "started=2026-05-31")
    equal(tasks(j, "culture", "C1"), [])
    j.ok("undo")
    equal(len(tasks(j, "culture", "C1")), 1)


def test_a_heater_is_checked():
    j = shelf()
    equal(tasks(j, "heat"), [])
    j.record("A", "set", "key=heater", "value=mat")
    found = tasks(j, "heat", "A")
    assert "heat.caution" in rules(found[0]), found
    j.record("A", "done", "rule=heat")
    equal(tasks(j, "heat"), [])


def test_some_of_a_lot():
    j = shelf()
    j.ok("add", "lot", "species=hierodula", "place=A", "count=30", "hatched=2026-05-20")
    j.record("H1", "moulted", "n=4", "--day", "2026-05-31")
    equal(j.ok("state", "H1")["moults"]["value"], 0)
    equal(rules(tasks(j, "separate", "H1")[0]), ["separate.ahead"])
    assert any("4 of them" in e["text"] for e in j.ok("history", "H1")["entries"])
    j.record("H1", "moulted", "n=2")
    held = [h for h in j.ok("plan")["held"] if h["subject"] == "H1"]
    equal([h["kind"] for h in held], ["separate"])
    j.record("H1", "measured", "what=body", "mm=9")
    equal(len(tasks(j, "feed", "H1")), 1)


def test_calling_is_noted():
    j = shelf()
    j.ok("add", "animal", "species=hierodula", "place=A", "stage=adult", "sex=female")
    j.record("1", "sexed", "sex=female", "p=.99", "method=count")
    j.record("1", "called")
    found = tasks(j, "adult", "1")
    equal(rules(found[0])[0], "adult.calling")


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
