#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Care that must not be wrong and sure, nor silent: trouble, a moult that nobody entered, one that
does not eat, what comes forward, a winter rest, a power cut."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, main  # noqa: E402


def shelf(today="2026-06-01"):
    j = Journal(today)
    j.ok("add", "place", "name=S", "code=S", "day_c=25", "night_c=20")
    return j


def rules(task):
    return [r["rule"] for r in task["reasons"]]


def kinds(j, day, subject="1"):
    """What is asked for on that day of it, but looks, and what is held."""
    plan = j.ok("plan", today=day)
    return ({t["kind"] for t in plan["tasks"] if t["subject"] == subject and t["due"] <= day} - {"look"},
            {h["kind"] for h in plan["held"] if h["subject"] == subject})


def first_tasks(j, day):
    return {(t["subject"], t["kind"]): t for t in reversed(j.ok("plan", today=day)["tasks"])}


def nymph(j, *more):
    j.animal("species=hierodula", "acquired=2026-05-01", "moults=4", "place=S", *more)
    j.record("1", "fed", "prey=house fly", "outcome=taken", "--day", "2026-05-20")


def test_stuck_until_it_is_answered():
    j = shelf()
    nymph(j)
    stuck = j.record("1", "moulted", "outcome=stuck", "--day", "2026-06-01")
    for day in ("2026-06-01", "2026-06-02", "2026-06-05", "2026-06-30"):
        first = j.ok("plan", today=day)["tasks"][0]
        equal((rules(first)[:2], first["missed"], first["text"]),
              (["emergency.stuck", "trouble.answer"], False, "Stuck in its old skin: see to it now"))
        due, held = kinds(j, day)
        assert "sex_check" not in due and "sex_check" in held, (day, due, held)
        assert ("feed" in held) == (day < "2026-06-08"), (day, held)
    text = j.ok("plan", today="2026-06-05", as_json=False)
    assert "mark this as done" in text and "not until its trouble is answered" in text, text
    hold = j.ok("state", "1", today="2026-06-05")["hold"]
    equal((hold["kind"], hold["until"]), ("trouble", None))
    j.record("1", "looked", today="2026-06-05")
    assert "emergency.stuck" in [r for t in j.ok("plan", today="2026-06-06")["tasks"] for r in rules(t)]
    j.ok("correct", stuck, "outcome=good", today="2026-06-06")
    assert "emergency.stuck" not in [r for t in j.ok("plan", today="2026-06-06")["tasks"] for r in rules(t)]


def test_other_trouble_is_asked_about_and_marked_as_done():
    j = shelf()
    nymph(j)
    j.record("1", "trouble", "what=worm", "--day", "2026-05-25")
    asked = [t for t in j.ok("plan", today="2026-08-20")["tasks"] if "trouble.open" in rules(t)]
    equal([(t["due"], t["missed"]) for t in asked], [("2026-05-25", False)])
    j.record("1", "done", "rule=look")
    equal([t for t in j.ok("plan")["tasks"] if "trouble.open" in rules(t)], [])


def test_after_its_skin_split():
    j = shelf("2026-06-04")
    j.animal("species=idolomantis", "acquired=2026-04-01", "moults=6", "place=S")
    j.record("1", "stage", "seen=subadult", "--day", "2026-04-27")
    j.record("1", "fed", "prey=moth", "outcome=taken", "--day", "2026-05-20")
    j.record("1", "sign", "sign=splitting", "--day", "2026-06-01")
    for day in ("2026-06-03", "2026-06-04", "2026-06-05"):
        due, held = kinds(j, day)
        assert not due & {"feed", "sex_check", "home"}, (day, due)
        assert {"feed", "sex_check"} <= held, (day, held)
        quiet = [line["subjects"] for line in j.ok("plan", today=day)["missed"]]
        assert not any({"feed", "sex_check"} & set(line) for line in quiet), quiet
    answer = j.ok("forecast", "1")["fasting"]
    equal(answer, None)  # nothing was refused
    j.record("1", "fed", "prey=moth", "outcome=refused", "--day", "2026-05-30")
    answer = j.ok("forecast", "1")["fasting"]
    equal(answer["answer"], "probably_moulted")
    assert "soft" in answer["todo"] and "No food" in answer["avoid"], answer


def test_an_answer_for_one_that_takes_nothing():
    j = shelf("2026-07-20")
    nymph(j)
    for day in ("2026-05-29", "2026-05-31"):
        j.record("1", "fed", "prey=house fly", "outcome=refused", "--day", day)
    equal(j.ok("forecast", "1")["fasting"]["refusals"], 2)
    j.animal("species=hierodula", "acquired=2026-06-01", "moults=4", "place=S")
    for day in ("2026-06-25", "2026-07-05", "2026-07-15"):
        j.record("2", "fed", "prey=house fly", "--day", day)
    answer = j.ok("forecast", "2")["fasting"]
    assert answer["answer"] in ("not_known", "probably_moulted"), answer
    equal(answer["offered"], 3)
    assert "3 meals put in" in answer["because"], answer
    j.record("2", "gone", "--day", "2026-07-16")
    equal(j.ok("forecast", "2")["fasting"], None)


def test_a_moult_that_is_probably_past_is_not_to_come():
    j = shelf("2026-06-06")
    j.animal("species=hierodula", "acquired=2026-04-01", "place=S")
    j.record("1", "stage", "seen=subadult", "--day", "2026-05-02")
    for day in ("2026-05-24", "2026-05-27", "2026-05-30"):
        j.record("1", "fed", "prey=house fly", "outcome=refused", "--day", day)
    j.record("1", "belly", "score=4", "--day", "2026-06-01")
    j.record("1", "sign", "sign=pads", "--day", "2026-06-01")
    j.record("1", "sign", "sign=hanging", "--day", "2026-06-01")
    forecast = j.ok("forecast", "1")
    assert forecast["by_now"] > .5, forecast["by_now"]
    answer = forecast["fasting"]
    equal((answer["answer"], answer["text"]), ("probably_moulted", "It has probably moulted: look for the skin"))
    assert "within 7 days" not in answer["because"], answer


def test_an_adult_is_told_of_no_moult():
    j = shelf()
    j.animal("species=hierodula", "acquired=2026-04-01", "place=S")
    j.record("1", "stage", "seen=adult", "--day", "2026-04-20")
    for day in ("2026-05-30", "2026-06-01"):
        j.record("1", "fed", "prey=cricket", "outcome=refused", "--day", day)
    j.record("1", "belly", "score=4")
    equal(j.ok("forecast", "1")["fasting"]["text"], "Full, or unwell: adults do not moult")


def test_what_comes_forward_and_what_goes_quiet():
    j = shelf()
    nymph(j)
    j.record("1", "looked")
    j.ok("add", "lot", "species=hierodula", "hatched=2026-05-31", "count=40", "place=S")
    plan = first_tasks(j, "2026-06-03")
    equal((plan["1", "look"]["missed"] or plan["1", "look"]["due"] == "2026-06-03", plan["1", "mist"]["missed"]),
          (True, True))
    equal(plan["H1", "feed"]["missed"], False)
    plan = first_tasks(j, "2026-06-17")
    line = j.ok("plan", today="2026-06-17")["missed"][0]
    assert "1" in line["unseen"] and line["text"].startswith("Not seen for"), line
    assert any("16 days" in r["text"] for r in plan["1", "look"]["reasons"]), plan["1", "look"]
    equal((plan["1", "feed"]["missed"], plan["H1", "feed"]["missed"]), (True, False))


def test_two_cultures_for_one_hatch_are_one_name():
    j = shelf("2026-07-16")
    j.ok("add", "eggcase", "species=hierodula", "place=S", "laid=2026-05-29")
    for line in j.ok("plan")["missed"]:
        for names in line["subjects"].values():
            equal(len(names), len(set(names)))
        assert "E1 and E1" not in line["text"], line


def test_a_winter_rest_only_for_kinds_that_rest():
    j = shelf()
    j.animal("species=hymenopus", "place=S")
    why = j.no(1, "record", "1", "set", "key=rest", "value=yes")
    assert "no winter rest" in why, why
    j.animal("species=unknown", "place=S")
    assert "enter its kind" in j.no(1, "record", "2", "set", "key=rest", "value=yes")
    j.animal("species=empusa", "place=S")
    j.record("3", "set", "key=rest", "value=yes", "--day", "2026-05-20")
    j.record("3", "fed", "prey=house fly", "outcome=refused")
    equal(j.ok("forecast", "3")["fasting"]["answer"], "resting")
    look = [t for t in j.ok("plan", today="2026-06-03")["tasks"] if t["subject"] == "3" and t["kind"] == "look"]
    assert "look.rest" in rules(look[0]), look
    over = [t for t in j.ok("plan", today="2026-08-30")["tasks"] if t["subject"] == "3" and t["kind"] == "climate"]
    equal([(t["text"], t["missed"]) for t in over], [("Is its winter rest over?", False)])


def test_a_power_cut():
    j = shelf()
    for wrong in ("99", "-55"):
        assert "lowest" in j.no(1, "record", "S", "power", f"lowest={wrong}")
    j.ok("add", "eggcase", "species=hierodula", "place=S", "laid=2026-05-20")
    j.ok("add", "lot", "species=hierodula", "hatched=2026-05-31", "count=40", "place=S")
    j.record("S", "power", "lowest=9")
    asked = {t["subject"] for t in j.ok("plan")["tasks"] if t["kind"] == "look" and "look.power" in rules(t)}
    equal(asked, {"E1", "H1"})


def test_a_culture_with_mites():
    j = shelf()
    j.ok("add", "culture", "prey=melanogaster", "place=S", "started=2026-05-20")
    j.record("C1", "trouble", "what=mites")
    task = [t for t in j.ok("plan", today="2026-06-09")["tasks"] if t["subject"] == "C1"]
    equal([(rules(t), t["missed"], t["text"]) for t in task],
          [(["culture.spoilt"], False, "Throw the culture out, start anew")])
    j.record("C1", "died", today="2026-06-09")
    equal([t for t in j.ok("plan", today="2026-06-09")["tasks"] if t["subject"] == "C1"], [])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
