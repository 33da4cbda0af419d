#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A round in one line: what was done to all, then the exceptions."""

import os
import sys
import tempfile

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


def test_nobody_knows_how_long_it_is():
    j = shelf(0)
    shelf_of = "number,species,stage,last moult,place\n22,orchid,L2,2026-06-02,A\n41,ghost,,,A\n42,,L2,,A\n"
    with tempfile.TemporaryDirectory() as where:
        path = os.path.join(where, "shelf.csv")
        with open(path, "w", encoding="utf-8") as out:
            out.write(shelf_of)
        j.ok("import", "csv", path, today="2026-06-14")
    late = {"today": "2026-06-20"}
    equal(j.ok("state", "22", **late)["stage_stale"], True)
    done = j.ok("round", "A", "all fed 1 locust", **late)
    equal(done["written"], 0)
    equal({o["subject"]: o["why"] for o in done["left_out"]},
          {"22": "too_small", "41": "stage_unknown", "42": "stage_unknown"})
    equal(j.ok("round", "A", "all fed 2 hydei", **late)["written"], 1)  # the stale one; the others' length is anybody's guess
    equal(j.ok("round", "A", "41 fed 1 hydei; 42 fed 1 hydei", **late)["written"], 2)
    equal(j.ok("round", "A", "all fed honey", **late)["written"], 3)


def test_undo_says_the_whole_round():
    j = shelf()
    j.ok("round", "A", "fed 2 house flies; 3 refused")
    said = j.ok("undo")["text"]
    equal(said, "Took back the round: 1 fed 2 house flies, and 4 more.")
    j.ok("round", "A", "3 refused")
    equal(j.ok("undo")["text"], "Took back: 3 refused prey.")


def test_openings():
    j = shelf(3)
    ghost = j.animal("species=phyllocrania", "place=A", "hatched=2026-03-01", "moults=3")
    adult = j.animal("species=phyllocrania", "place=A", "hatched=2025-11-01", "moults=7")
    j.record(adult, "stage", "seen=adult")
    said = j.ok("round", "A", "ghosts misted")
    equal([w["subject"] for w in said["writes"]], [ghost, adult])
    equal(sorted(w["subject"] for w in j.ok("round", "A", "L6+ looked")["writes"]), ["1", "2", "3", adult])
    equal([w["subject"] for w in j.ok("round", "A", "adults looked")["writes"]], [adult])
    equal([w["subject"] for w in j.ok("round", "A", "phyl L4 looked")["writes"]], [ghost])
    j.no(1, "round", "A", "orchids misted")
    j.no(1, "round", "A", "L12 misted")
    # A pot: those to whom this prey is proposed.
    tasks = {t["subject"]: t["prey"][0]["name"] for t in j.ok("plan", "--to", "2026-06-20")["tasks"] if t["kind"] == "feed" and t["prey"]}
    prey = tasks["1"]
    pot = sorted(s for s, name in tasks.items() if name == prey)
    equal(sorted(w["subject"] for w in j.ok("round", "A", f"{prey}: fed")["writes"]), pot)
    for subject in pot:
        equal(kinds(j, subject)["fed"]["values"]["prey"], prey)


def test_gone_the_morning_after():
    j = shelf()
    j.ok("round", "A", "fed 2 hydei; 3 skip", "--day", "2026-05-31")
    done = j.ok("round", "A", "gone; 2 refused")
    equal(sorted(w["subject"] for w in done["writes"] if not w["exception"]), ["1", "4", "5"])
    equal([w["text"] for w in done["writes"] if w["exception"]], ["2: refused"])
    equal([(o["subject"], o["action"], o["why"]) for o in done["left_out"]], [("3", "gone", "nothing_in")])
    equal(j.ok("state", "1")["last_taken"], "2026-05-31")
    equal(j.ok("state", "1")["last_look"], None)  # written for all: no look
    equal(j.ok("state", "2")["last_taken"], None)
    equal([w["subject"] for w in j.ok("round", "A", "1 gone")["writes"]], ["1"])
    equal(j.ok("state", "1")["last_look"], "2026-06-01")


def test_a_day_of_one_cup():
    j = shelf()
    # The round is of Monday, 1 June 2026.
    done = j.ok("round", "A", "misted; 2 moulted fell yesterday; 3 on Friday drank")
    equal([(w["subject"], w["day"]) for w in done["writes"] if w["exception"]],
          [("2", "2026-05-31"), ("3", "2026-05-29")])
    equal(kinds(j, "2", "2026-05-31")["moulted"]["values"]["outcome"], "fell")
    assert "misted" in kinds(j, "2"), "only that outcome is of the other day"
    assert "drank" in kinds(j, "3", "2026-05-29")
    j.no(1, "round", "A", "2 drank Monday")
    done = j.ok("round", "A", "3 drank yesterday", "--day", "2026-05-31")
    equal(done["writes"][0]["day"], "2026-05-30")
    j.no(1, "round", "A", "misted; 2 moulted 2026-05-31")


def test_swap_exchanges_the_places():
    j = shelf(4)
    before = {e: j.ok("state", e)["place"] for e in "1234"}
    at = {s: [e for e in j.ok("history", s)["entries"] if e["kind"] == "housed"][0]["values"] for s in ("1", "4")}
    done = j.ok("round", "A", "misted; swap 1 4")
    equal(done["written"], 6)
    after = {s: kinds_all(j, s)["housed"]["values"] for s in ("1", "4")}
    equal((after["1"]["place"], after["1"]["at"]), (at["4"]["place"], at["4"]["at"]))
    equal((after["4"]["place"], after["4"]["at"]), (at["1"]["place"], at["1"]["at"]))
    equal((j.ok("state", "1")["place"], j.ok("state", "4")["place"]), (before["4"], before["1"]))
    assert "misted" in kinds(j, "1"), "to change places takes nothing away"
    j.ok("undo")
    equal(j.ok("state", "1")["place"], before["1"])
    j.no(1, "round", "A", "swap 1")
    j.no(1, "round", "A", "swap 1 5")


def kinds_all(j, subject):
    return {e["kind"]: e for e in reversed(j.ok("history", subject)["entries"]) if e["live"]}


def test_details_of_an_outcome():
    j = shelf()
    j.ok("round", "A", "1 sold; 2 moulted stuck subadult; 3 looks dead; 4 cleaned")
    equal(kinds(j, "1")["left"]["values"], {"how": "sold"})
    equal(kinds(j, "2")["moulted"]["values"], {"outcome": "stuck", "to": "subadult"})
    assert "looks_dead" in kinds(j, "3")
    equal(kinds(j, "4")["cleaned"]["bulk"], False)


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


def test_a_shelf_with_only_a_lot():
    j = Journal("2026-06-01")
    j.ok("add", "place", "name=Shelf L", "code=L")
    j.no(1, "round", "L", "fed hydei")
    j.ok("add", "lot", "species=hierodula", "count=30", "place=L", "hatched=2026-05-28")
    before = j.n_entries()
    for line in ("fed hydei", "all fed hydei", "due misted"):
        said = j.no(1, "round", "L", line)
        assert "begin the line with it: H1" in said, said
    said = j.no(1, "round", "L", "3 dead")
    assert "put the lot's code before it: H1" in said, said
    equal(j.n_entries(), before)
    done = j.ok("round", "L", "H1 fed fruit flies; H1 3 dead; about 20 remain")
    equal(done["written"], 3)
    equal(j.ok("state", "H1")["count"], 20)


def test_a_lot_that_waits_for_food_is_named():
    j = Journal("2026-06-01")
    j.ok("add", "place", "name=Shelf L", "code=L", "day_c=25", "night_c=20")
    j.ok("add", "lot", "species=hierodula", "count=30", "place=L", "hatched=2026-05-28")
    j.animal("species=hierodula", "acquired=2026-05-01", "moults=4", "place=L")
    left = [r for r in j.ok("round", "L", "all fed 2 house flies")["left_out"] if r["why"] == "lot"]
    equal([(r["subject"], r["action"], r["due"]) for r in left], [("H1", "fed", True)])
    assert "with its code before it" in left[0]["text"], left
    j.ok("round", "L", "H1 fed 200 hydei")
    equal([r for r in j.ok("round", "L", "all fed 1 house fly")["left_out"] if r["why"] == "lot"], [])


def test_slips_are_asked_about():
    j = shelf()
    before = j.n_entries()
    for line, says in (("fed 200 house flies", "up to 50"), ("misted misted", "once is enough"),
                       ("fed 2 house flies, fed 2 house flies", "once is enough"),
                       ("all dead", "with their number before it"), ("4 l", "write it out: left, lent"),
                       ("4 belly 7", "from 1 to 5"), ("5-1 refused", "smaller number"),
                       ("4 ate 2; 3 refused", "“2”: expected a prey")):
        said = j.no(1, "round", "A", line)
        assert says in said, (line, said)
    equal(j.n_entries(), before)


def test_whom_all_of_it_leaves_out_said_first():
    j = shelf()
    done = j.ok("round", "A", "all except 1 3 fed hydei, misted")
    assert not {"1", "3"} & {w["subject"] for w in done["writes"]}, done
    assert {"2", "4"} <= {w["subject"] for w in done["writes"]}, done


def test_every_problem_is_said():
    j = shelf()
    said = j.no(1, "round", "A", "fed 2 house flyes; 77 refused")
    assert "flyes" in said and "77" in said, said


def test_an_earlier_day():
    j = shelf()
    j.ok("round", "A", "fed hydei", "--day", "2026-05-31")
    assert "fed" in kinds(j, "1", "2026-05-31")


def moved_died_pumps():
    """1 stood on A until the 10th, 2 died on the 12th, 3 pumps on the 14th; 4 came on the 8th."""
    j = Journal("2026-06-14")
    j.ok("add", "place", "name=Shelf A", "code=A")
    j.ok("add", "place", "name=Shelf B", "code=B")
    for came in ("2026-04-20", "2026-04-20", "2026-04-20", "2026-06-08"):
        j.animal("species=hierodula", "place=A", "hatched=2026-02-01", f"acquired={came}", "moults=5")
    j.record("1", "housed", "place=B", "--day", "2026-06-10")
    j.record("2", "died", "--day", "2026-06-12")
    j.record("3", "sign", "sign=pumping", "--day", "2026-06-14")
    return j


def left_out(done):
    return {row["subject"]: row["why"] for row in done["left_out"]}


def test_a_past_day_is_as_it_was_then():
    j = moved_died_pumps()
    done = j.ok("round", "A", "all fed 2 house flies", "--day", "2026-06-05")
    equal(sorted(row["subject"] for row in done["writes"]), ["1", "2", "3"])
    equal(left_out(done), {"4": "not_there"})
    assert "4 not there that day" in done["left_out"][0]["text"]
    for subject in ("1", "2", "3"):
        assert "fed" in kinds(j, subject, "2026-06-05"), subject
    equal(kinds(j, "4", "2026-06-05"), {})
    # By number: on the shelf then, or refused with the reason.
    j.ok("round", "A", "1 refused", "--day", "2026-06-06")
    assert "did not stand on this shelf on that day" in j.no(1, "round", "A", "4 refused", "--day", "2026-06-06")
    equal(left_out(j.ok("round", "B", "all misted", "--day", "2026-06-09")), {"1": "not_there"})
    equal(j.ok("round", "B", "all misted", "--day", "2026-06-11")["written"], 1)


def test_nobody_is_fed_before_it_came():
    j = moved_died_pumps()
    done = j.ok("round", "A", "all fed 2 house flies", "--day", "2026-03-20")
    equal((done["written"], left_out(done)), (0, {"3": "not_there", "4": "not_there"}))


def test_today_a_sign_of_today_holds():
    j = moved_died_pumps()
    equal(left_out(j.ok("round", "A", "all fed 2 house flies"))["3"], "held")


def test_cautions_stand_on_stderr():
    allergy = ("mantidary-cli: Roaches, locusts, fly cultures, moth scales and old droppings can cause asthma and "
               "rash: gloves, fresh air.\n")
    crickets = "mantidary-cli: Crickets bite an animal that moults: take them out the same evening.\n"
    j = shelf()
    for line, said in (("1 fed 1 roach", allergy), ("2 ate 1 locust", allergy), ("all misted; 3 refused moths", allergy),
                       ("1 fed 2 crickets", crickets), ("1 fed 1 roach; 2 fed 1 cricket", allergy + crickets),
                       ("1 fed 2 house flies", ""), ("all misted", "")):
        done = j.run("round", "A", line)
        equal((done.code, done.err), (0, said))
        keys(done.json, "written", "writes", "left_out")
        equal(set(done.json), {"written", "writes", "left_out"})
    # What is refused is not fed.
    assert "asthma" not in j.no(1, "round", "A", "1 fed 1 roach; 99 refused")
    j.record("journal", "set", "key=caution.allergy", "value=off")
    equal(j.run("round", "A", "1 fed 1 roach").err, "")
    equal(j.run("round", "A", "1 fed 1 cricket").err, crickets)
    j.ok("undo")
    j.record("journal", "set", "key=caution.allergy", "value=on")
    equal(j.run("round", "A", "1 fed 1 roach").err, allergy)


def test_text_lists_what_was_written():
    j = shelf()
    text = j.ok("round", "A", "fed hydei; 3 refused", as_json=False)
    assert "3: refused" in text, text


def test_a_past_day_knows_who_was_always_here():
    """Entered today without a word on when it came: it was there last week too."""
    j = Journal("2026-06-14")
    j.ok("add", "place", "name=Shelf A", "code=A")
    j.animal("species=hierodula", "hatched=2026-02-01", "stage=L4", "number=1", "place=A")
    j.animal("species=unknown", "number=2", "place=A")
    j.animal("species=hierodula", "acquired=2026-06-10", "number=3", "place=A")
    done = j.ok("round", "A", "all misted; 1 refused; 2 refused", "--day", "2026-06-05")
    equal(done["written"], 4)
    equal([(row["subject"], row["why"]) for row in done["left_out"]], [("3", "not_there")])
    for number in "12":
        days = [e["day"] for e in j.ok("history", number)["entries"] if e["kind"] in ("misted", "fed")]
        equal(days, ["2026-06-05", "2026-06-05"])


def test_the_evening_before_it_was_moved_in():
    """Kept here before: only its journal began that day. Rounds of before are of the shelf of that day."""
    j = Journal("2026-06-15")
    with tempfile.TemporaryDirectory() as where:
        path = os.path.join(where, "shelf.csv")
        with open(path, "w", encoding="utf-8") as out:
            out.write("number,species,stage,place\n1,ghost,L4,A\n2,ghost,L4,A\n3,ghost,L4,B\n")
        j.ok("import", "csv", path)
    new = j.animal("species=ghost", "place=A", "acquired=2026-06-15")
    done = j.ok("round", "A", "misted; 1 refused", "--day", "2026-06-14")
    equal(done["written"], 3)
    equal(left_out(done), {new: "not_there"})
    for kind, *values in (["looked"], ["watered"], ["cleaned"], ["drank"], ["gone"], ["belly", "score=3"], ["fed"]):
        j.record("2", kind, *values, "--day", "2026-06-12")
        j.no(1, "record", new, kind, *values, "--day", "2026-06-12") if kind != "fed" else None
    equal(j.ok("state", "2")["belly"], 3)
    # One that has left since stands in no round of after that, and one of another shelf in none here.
    j.record("1", "housed", "place=B", "--day", "2026-06-15")
    equal(j.ok("round", "A", "all looked", "--day", "2026-06-13", today="2026-06-16")["written"], 1)
    equal(j.ok("round", "B", "all looked", "--day", "2026-06-13", today="2026-06-16")["written"], 2)


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
