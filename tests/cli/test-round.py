#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A round in one line: what was done to all, then the exceptions."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main  # noqa: E402


def shelf(n=5):
    j = Journal()
    j.ok("add", "place", "name=Shelf A", "code=A")
    j.ok("add", "place", "name=Shelf B", "code=B")
    j.ok("add", "place", "code=H", "within=A")
    for i in range(n):
        j.animal("species=hierodula", f"place={'H' if i == n - 1 else 'A'}", "hatched=2026-02-01",
                 "acquired=2026-04-20", "moults=5")
    j.animal("species=hierodula", "place=B", "hatched=2026-02-01")
    return j


def kinds(j, subject, day="2026-06-01"):
    return {e["kind"]: e for e in j.ok("history", subject)["entries"]
            if e["live"] and e["day"] == day and e["kind"] not in ("set", "housed", "void")}


def test_all_with_exceptions():
    j = shelf()
    done = j.ok("round", "A", "all fed 2 house flies, except 3 refused")
    keys(done, "written", "writes", "left_out")
    equal(done["written"], 5)
    for subject in ("1", "2", "4", "5"):
        fed = kinds(j, subject)["fed"]
        equal(fed["values"], {"prey": "house fly", "n": 2, "outcome": "offered"})
        equal(fed["bulk"], True)
    refused = kinds(j, "3")["fed"]
    equal(refused["values"]["outcome"], "refused")
    equal(refused["bulk"], False)
    equal(kinds(j, "6"), {})
    # A bulk feeding is no look, an exception typed for it by number is one.
    equal(j.ok("state", "1")["last_look"], None)
    equal(j.ok("state", "3")["last_look"], "2026-06-01")


def test_one_round_is_one_undo():
    j = shelf()
    before = j.ok("plan")
    j.ok("round", "A", "fed hydei, misted; 1 belly 4; 2 moulted; 4 dead")
    equal(j.ok("state", "4")["alive"], False)
    equal(j.ok("state", "2")["moults"]["value"], 6)
    equal(j.ok("state", "1")["belly"], 4)
    assert "misted" in kinds(j, "5")
    j.ok("undo")
    for subject in ("1", "2", "3", "4", "5"):
        equal(kinds(j, subject), {})
    equal(j.ok("plan"), before)


def test_moulted_drops_the_feeding_and_dead_everything():
    j = shelf()
    j.ok("round", "A", "fed hydei, misted; 2 moulted; 4 dead; 5 skip")
    assert "fed" not in kinds(j, "2") and "moulted" in kinds(j, "2")
    equal(set(kinds(j, "4")), {"died"})
    equal(kinds(j, "5"), {})


def test_held_cups_are_left_out_and_listed():
    j = shelf()
    j.record("2", "sign", "sign=pumping")
    done = j.ok("round", "A", "fed hydei")
    equal([(o["subject"], o["why"]) for o in done["left_out"]], [("2", "held")])
    equal([o["action"] for o in done["left_out"]], ["fed"])
    assert all(o["text"] for o in done["left_out"])
    assert "fed" not in kinds(j, "2") and "fed" in kinds(j, "1")


def test_looked_at_all():
    j = shelf()
    j.ok("round", "A", "looked")
    for subject in ("1", "5"):
        equal(j.ok("state", subject)["last_look"], "2026-06-01")


def test_single_cups_without_an_action():
    j = shelf()
    equal(j.ok("round", "A", "1 refused; 2 belly 4; 3 moulted; 4 dead")["written"], 4)
    refused = kinds(j, "1")["fed"]
    equal((refused["values"], refused["bulk"]), ({"outcome": "refused"}, False))
    equal(j.ok("state", "2")["belly"], 4)
    equal(j.ok("state", "3")["moults"]["value"], 6)
    equal(j.ok("state", "4")["alive"], False)
    equal(kinds(j, "5"), {})


def test_a_prey_of_its_own():
    j = shelf()
    done = j.ok("round", "A", "all fed 1 hydei, except 1 ate 2 blue bottles; 2 refused moths; 3 fed 2 house flies")
    equal(done["written"], 5)
    for subject, values, bulk in (("1", {"prey": "blue bottle", "n": 2, "outcome": "taken"}, False),
                                  ("2", {"prey": "moth", "outcome": "refused"}, False),
                                  ("3", {"prey": "house fly", "n": 2, "outcome": "offered"}, False),
                                  ("4", {"prey": "hydei", "n": 1, "outcome": "offered"}, True)):
        fed = kinds(j, subject)["fed"]
        equal((fed["values"], fed["bulk"]), (values, bulk))
    # Seen to eat or refuse is a look at the animal; to put prey in is none.
    equal([j.ok("state", s)["last_look"] for s in "1234"], ["2026-06-01", "2026-06-01", None, None])


def test_by_number_no_prey_is_too_large():
    j = shelf()
    animal = j.animal("species=hierodula", "place=A", "hatched=2026-05-25")
    done = j.ok("round", "A", "fed 1 locust")
    assert (animal, "too_small") in [(o["subject"], o["why"]) for o in done["left_out"]], done["left_out"]
    done = j.ok("round", "A", f"{animal} fed 1 locust")
    equal((done["written"], done["left_out"]), (1, []))
    equal(kinds(j, animal)["fed"]["values"], {"prey": "locust", "n": 1, "outcome": "offered"})


def test_undo_says_the_whole_round():
    j = shelf()
    j.ok("round", "A", "fed 2 house flies; 3 refused")
    said = j.ok("undo")["text"]
    equal(said, "Took back the round: 1 fed 2 house flies, and 4 more.")
    j.ok("round", "A", "3 refused")
    equal(j.ok("undo")["text"], "Took back: 3 refused prey.")


def test_any_error_refuses_the_whole_line():
    j = shelf()
    before = j.n_entries()
    for line in ("", "all", "fed 2 house flyes", "fed hydei; 99 refused", "fed hydei; 6 refused",
                 "fed hydei; 1 belly 9", "fed hydei; 1", "1", "1 fed 2", "dance",
                 "fed hydei; 1 refused; 1 took", "x" * 5000, "fed hydei; 1 belly"):
        j.no(1, "round", "A", line)
    j.no(1, "round", "nowhere", "fed hydei")
    j.no(1, "round", "1", "fed hydei")
    j.no(1, "round", "A", "fed hydei", "--day", "2026-06-02")
    j.no(2, "round", "A")
    j.no(2, "round", "A", "fed hydei", "--day", "tomorrow")
    equal(j.n_entries(), before)


def test_every_problem_is_said():
    j = shelf()
    said = j.no(1, "round", "A", "fed 2 house flyes; 77 refused")
    assert "flyes" in said and "77" in said, said


def test_an_earlier_day():
    j = shelf()
    j.ok("round", "A", "fed hydei", "--day", "2026-05-31")
    assert "fed" in kinds(j, "1", "2026-05-31")


def test_text_lists_what_was_written():
    j = shelf()
    text = j.ok("round", "A", "fed hydei; 3 refused", as_json=False)
    assert "3: refused" in text, text


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
