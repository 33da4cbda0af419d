#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Lots, egg cases, lines, places and cultures, from the first egg to the single cup."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main, near  # noqa: E402


def shelf(today="2026-06-01"):
    j = Journal(today)
    j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=20")
    return j


def lot(j, *pairs):
    return j.ok("add", "lot", "species=hierodula", "place=A", *pairs)["subject"]


def tally(j, code):
    state = j.ok("state", code)
    keys(state, "count", "counted", "count_day", "began", "dead", "left", "escaped",
         "lost_unseen", "lost_unseen_about", "found_more", "separated", "split_off", "joined_in")
    return state


def texts(j, code):
    return [e["text"] for e in j.ok("history", code)["entries"]]


# ---- lots ----

def test_a_lot_has_a_code_and_a_count():
    j = shelf()
    made = j.ok("add", "lot", "species=hierodula", "count=140", "hatched=2026-05-20")
    equal((made["subject"], made["code"], made["number"]), ("H1", "H1", None))
    state = tally(j, "H1")
    equal((state["kind"], state["count"], state["counted"], state["began"]),
          ("lot", 140, True, 140))
    equal(state["hatched"], {"earliest": "2026-05-20", "latest": "2026-05-20"})
    equal(state["moults"]["value"], 0)
    equal(j.ok("add", "lot", "species=unknown", "count=3", "code=H9")["code"], "H9")
    equal(j.ok("add", "lot", "species=unknown", "count=3")["code"], "H10")
    assert any("140 counted" in t for t in texts(j, "H1"))


def test_an_estimate_stays_about():
    j = shelf()
    code = lot(j, "count=120", "counted=no", "hatched=2026-05-20",
               "hatched_earliest=2026-05-18")
    j.record(code, "died", "n=3")
    state = tally(j, code)
    equal((state["count"], state["counted"], state["dead"]), (117, False, 3))
    equal(state["hatched"], {"earliest": "2026-05-18", "latest": "2026-05-20"})
    assert any("about 120 by estimate" in t for t in texts(j, code))
    equal(j.ok("recount", code, 96)["lost_unseen"], 21)
    state = tally(j, code)
    equal((state["count"], state["counted"], state["lost_unseen"], state["lost_unseen_about"],
           state["dead"]), (96, True, 21, True, 3))
    assert any("96 counted; about 21 lost unseen" in t for t in texts(j, code))
    equal(j.ok("check")["conflicts"], [])


def test_does_it_hold_a_pair():
    j = shelf()
    state = j.ok("state", lot(j, "count=6", "counted=yes"))
    equal((state["needs_male"], state["pair"]), (True, 1 - 2 / 64))
    equal(j.ok("state", lot(j, "count=1", "counted=yes"))["pair"], 0)
    # A kind that breeds without males too is never asked for one.
    daughters = j.ok("add", "lot", "species=sphodromantis", "place=A", "count=6")["subject"]
    state = j.ok("state", daughters)
    equal((state["needs_male"], state["pair"]), (False, None))


def test_a_recount_is_neither_death_nor_error():
    j = shelf()
    code = lot(j, "count=140", "hatched=2026-05-20")
    answer = j.ok("recount", code, 96)
    keys(answer, "lot", "count", "counted", "lost_unseen", "found_more", "id")
    equal((answer["count"], answer["lost_unseen"], answer["found_more"]), (96, 44, 0))
    j.ok("recount", code, 99)
    state = tally(j, code)
    equal((state["count"], state["lost_unseen"], state["found_more"], state["dead"]),
          (99, 41, 0, 0))
    j.ok("recount", code, 150, "--about")
    state = tally(j, code)
    equal((state["count"], state["counted"], state["lost_unseen"], state["found_more"]),
          (150, False, 0, 10))
    for _ in range(3):
        j.ok("undo")
    equal(tally(j, code)["count"], 140)
    equal(tally(j, code)["lost_unseen"], 0)


def test_some_leave_die_escape_and_come_back():
    j = shelf()
    code = lot(j, "count=50", "hatched=2026-05-20")
    j.record(code, "left", "how=sold", "n=10", "to=M. Brandt")
    j.record(code, "left", "how=given", "n=2")
    j.record(code, "escaped", "n=4")
    j.record(code, "found", "n=1")
    j.record(code, "died", "n=5", "cause=starved")
    state = tally(j, code)
    equal((state["count"], state["left"], state["escaped"], state["dead"]), (30, 12, 3, 5))
    said = texts(j, code)
    assert any(t.startswith("10 sold; to M. Brandt") for t in said), said
    assert any(t.startswith("4 escaped") for t in said) and any("5 died" in t for t in said)
    equal(state["alive"], True)


def test_never_negative():
    j = shelf()
    code = lot(j, "count=10", "hatched=2026-05-20")
    about = lot(j, "count=10", "counted=no", "hatched=2026-05-20")
    before = j.n_entries()
    for c in (code, about):
        for words in (("record", c, "died", "n=11"), ("record", c, "left", "n=11"),
                      ("record", c, "escaped", "n=11"), ("separate", c, "11"),
                      ("split", c, "11"), ("record", c, "found", "n=1"),
                      ("record", c, "back", "n=1")):
            j.no(1, *words)
    assert "about 10" in j.no(1, "separate", about, "11")
    equal(j.n_entries(), before)
    j.today = "2026-06-08"
    j.ok("separate", code, 8)
    # Entered late: what went out later would lack.
    j.no(1, "record", code, "died", "n=3", "--day", "2026-06-03")
    j.no(1, "recount", code, 7, "--day", "2026-06-03")
    # Before the first count nothing is missed by it.
    j.record(code, "died", "n=3", "--day", "2026-05-25")
    equal((tally(j, code)["count"], tally(j, code)["began"]), (2, 13))
    # Neither by taking back, nor by correcting what was counted.
    count = next(e for e in j.ok("history", code)["entries"] if e["kind"] == "recounted")
    j.no(1, "correct", count["id"], "n=7")
    equal(tally(j, code)["count"], 2)
    j.ok("correct", count["id"], "n=12")
    equal(tally(j, code)["count"], 4)
    j.ok("join", code, about)
    j.ok("separate", code, 12)
    joined = next(e for e in j.ok("history", code)["entries"] if e["kind"] == "joined")
    before = j.n_entries()
    assert code in j.no(1, "void", joined["id"])
    equal(j.n_entries(), before)
    equal((tally(j, code)["count"], j.ok("check")["conflicts"]), (2, []))


def test_none_left_is_the_end():
    j = shelf()
    code = lot(j, "count=3", "hatched=2026-05-20")
    j.record(code, "died", "n=3")
    state = tally(j, code)
    equal((state["alive"], state["end"], state["count"]), (False, "empty", 0))
    j.no(1, "record", code, "fed", "prey=hydei", today="2026-06-02")
    j.ok("recount", code, 1, today="2026-06-02")
    equal(j.ok("state", code, today="2026-06-02")["alive"], True)


# ---- separate ----

def test_separated_ones_take_over_the_lot():
    j = shelf(today="2026-06-25")
    code = lot(j, "count=40", "hatched=2026-06-01", "at=5", "origin=captive_bred",
               "locality=Luzon", "line=L3")
    after = j.animal("species=tenodera", "hatched=2026-03-01", "place=A", "at=6")
    j.record(code, "moulted", "--day", "2026-06-11")
    j.record(code, "fed", "prey=melanogaster", "n=200", "--day", "2026-06-25")
    j.record(code, "misted", "--day", "2026-06-24")
    before = j.n_entries()
    made = j.ok("separate", code, 3)
    keys(made, "lot", "count", "counted", "subjects")
    equal((made["lot"], made["count"], made["counted"]), ("H1", 37, True))
    equal(made["subjects"], ["2", "3", "4"])
    equal(tally(j, code)["separated"], 3)
    single = j.ok("state", "3")
    of_lot = j.ok("state", code)
    equal(single["species"], of_lot["species"])
    equal(single["hatched"], of_lot["hatched"])
    equal(single["moults"]["value"], 1)
    equal((single["origin"], single["locality"], single["line"], single["lot"]),
          ("captive_bred", "Luzon", "L3", "H1"))
    equal(single["place"], "A")
    equal(single["last_offered"], "2026-06-25")
    # Nobody saw this one moult: about, and its window is wider than the lot's.
    equal(single["moults"]["basis"], "estimated")
    equal(of_lot["moults"]["basis"], "counted")
    assert single["last_moult"]["earliest"] < "2026-06-11" < single["last_moult"]["latest"]
    equal(single["last_look"], None)
    # Its forecast starts from the lot's hatch and moult.
    forecast = j.ok("forecast", "3")
    assert forecast["why"] is None and forecast["p50"] > "2026-06-18", forecast
    # It stands between the lot and what stood after it.
    places = {}
    for number in made["subjects"] + [code, after]:
        housed = next(e for e in j.ok("history", number)["entries"] if e["kind"] == "housed")
        places[number] = housed["values"]["at"]
    assert places[code] < places["2"] < places["3"] < places["4"] < places[after], places
    rounds = {e["round"] for n in made["subjects"] for e in j.ok("history", n)["entries"]
              if e["of_lot"] is None}
    equal(len(rounds), 1)
    of_lot_kinds = {e["kind"] for e in j.ok("history", "3")["entries"] if e["of_lot"] == code}
    assert {"hatched", "moulted", "fed", "misted"} <= of_lot_kinds, of_lot_kinds
    assert any("with its lot" in t for t in texts(j, "3"))
    # One undo; the numbers are not used again.
    assert "H1" in j.ok("undo")["text"]
    equal(tally(j, code)["count"], 40)
    j.no(1, "state", "3")
    equal(j.ok("separate", code, 1)["subjects"], ["5"])
    assert j.n_entries() > before


def test_entered_late_corrected_and_taken_back():
    """What is entered of a lot for days before a separation is true of all that came out of it."""
    j = shelf(today="2026-05-20")
    code = lot(j, "count=10", "hatched=2026-05-01")
    singles = j.ok("separate", code, 2, "--day", "2026-05-15")["subjects"]
    part = j.ok("split", code, 3, "--day", "2026-05-16")["code"]
    moult = j.record(code, "moulted", "--day", "2026-05-12")
    for one in singles + [part]:
        state = j.ok("state", one)
        equal((state["moults"]["value"], state["conflicts"]), (1, []))
    equal(j.ok("state", singles[0])["moults"]["basis"], "estimated")
    j.ok("correct", moult, "day=2026-05-10")
    assert any("with its lot" in t for t in texts(j, singles[0]))
    equal([e["day"] for e in j.ok("history", part)["entries"] if e["kind"] == "moulted" and e["live"]],
          ["2026-05-10"])
    # After the separation it is of the lot alone.
    j.record(code, "moulted", "--day", "2026-05-19")
    equal([j.ok("state", one)["moults"]["value"] for one in [code, part, *singles]], [2, 1, 1, 1])
    j.ok("undo")
    j.ok("undo")
    j.ok("undo")
    equal([j.ok("state", one)["moults"]["value"] for one in [code, part, *singles]], [0, 0, 0, 0])
    hatch = next(e["id"] for e in j.ok("history", code)["entries"] if e["kind"] == "hatched")
    j.ok("correct", hatch, "day=2026-04-20")
    j.record(singles[1], "set", "key=species", "value=sphodromantis")
    j.record(code, "set", "key=species", "value=tenodera")  # found out today
    for one in [part, *singles]:
        state = j.ok("state", one)
        equal(state["hatched"]["latest"], "2026-04-20")
        assert state["species"].startswith("Sphodromantis" if one == singles[1] else "Tenodera")
    equal(j.ok("check")["clean"], True)


def test_late_separation_between_two_moults():
    j = shelf(today="2026-05-20")
    code = lot(j, "count=10", "hatched=2026-05-01")
    j.record(code, "moulted", "n=4", "--day", "2026-05-12")
    equal(j.ok("state", code)["moults"]["p"], {"0": .6, "1": .4})
    j.record(code, "moulted", "--day", "2026-05-14")
    one = j.ok("separate", code, 1, "--day", "2026-05-13")["subjects"][0]
    moults = j.ok("state", one)["moults"]
    equal((moults["p"], moults["basis"]), ({"0": .5, "1": .5}, "estimated"))


def test_told_which_had_moulted():
    j = shelf(today="2026-05-20")
    code = lot(j, "count=10", "hatched=2026-05-01")
    j.record(code, "moulted", "n=4", "--day", "2026-05-12")
    assert "does not fit" in j.no(1, "separate", code, 3, "--moulted", 4)
    j.no(2, "separate", code, 3, "--moulted", "some")
    singles = j.ok("separate", code, 3, "--moulted", 2)["subjects"]
    equal([j.ok("state", one)["moults"]["p"] for one in singles], [{"1": 1}, {"1": 1}, {"0": 1}])
    stages = j.ok("state", code)["stages"]
    equal([(s["moults"], s["least"], s["most"]) for s in stages], [(0, 5, 5), (1, 2, 2)])
    assert any("2 of these had moulted" in t for t in texts(j, code))
    part = j.ok("split", code, 2, "--moulted", 2)["code"]
    equal(j.ok("state", part)["moults"]["p"], {"1": 1})
    equal(j.ok("state", code)["stages"], [])
    j.ok("undo")
    equal([(s["moults"], s["least"]) for s in j.ok("state", code)["stages"]], [(0, 5), (1, 2)])


def test_calm_after_a_separation():
    j = shelf(today="2026-06-25")
    code = lot(j, "count=40", "hatched=2026-06-01")
    j.record(code, "fed", "prey=melanogaster", "--day", "2026-06-25")
    j.ok("separate", code, 2)
    plan = j.ok("plan")
    feeds = [t["subject"] for t in plan["tasks"] if t["kind"] == "feed" and t["due"] <= "2026-06-25"]
    equal(feeds, [])
    for task in plan["tasks"]:
        assert not any(r["rule"] == "look.unseen" for r in task["reasons"]), task


def test_separate_to_another_shelf_and_refusals():
    j = shelf()
    j.ok("add", "place", "name=Shelf B", "code=B")
    code = lot(j, "count=40", "hatched=2026-05-01")
    equal(j.ok("state", j.ok("separate", code, 1, "--place", "B")["subjects"][0])["place"], "B")
    before = j.n_entries()
    j.no(1, "separate", code, 1, "--place", code)
    j.no(1, "separate", code, 0)
    j.no(1, "separate", "A", 1)
    j.no(1, "separate", "nothing", 1)
    j.no(1, "separate", code, 1, "--day", "2026-04-01")
    j.no(2, "separate", code, "many")
    j.no(2, "separate", code)
    equal(j.n_entries(), before)


# ---- split and join ----

def test_split_and_join_back():
    j = shelf(today="2026-06-25")
    code = lot(j, "count=60", "counted=no", "hatched=2026-06-01", "hatched_earliest=2026-05-30")
    j.record(code, "moulted", "--day", "2026-06-11")
    made = j.ok("split", code, 25)
    keys(made, "lot", "count", "counted", "subject", "code", "id")
    equal((made["subject"], made["count"], made["counted"]), ("H2", 35, False))
    part = tally(j, "H2")
    equal((part["count"], part["counted"], part["lot"], part["place"]), (25, True, "H1", "A"))
    equal(part["hatched"], {"earliest": "2026-05-30", "latest": "2026-06-01"})
    equal(part["moults"]["value"], 1)
    equal(tally(j, code)["split_off"], 25)
    joined = j.ok("join", code, "H2")
    equal((joined["lot"], joined["count"], joined["counted"], joined["joined"]),
          ("H1", 60, False, "H2"))
    part = tally(j, "H2")
    equal((part["alive"], part["end"], part["count"]), (False, "joined", 0))
    assert any("all of it went into lot H1" in t for t in texts(j, "H2"))
    assert any("25 came in from lot H2" in t for t in texts(j, "H1"))
    j.ok("undo")
    equal((tally(j, code)["count"], tally(j, "H2")["count"]), (35, 25))
    j.ok("undo")
    equal(tally(j, code)["count"], 60)
    j.no(1, "state", "H2")
    j.no(1, "split", code, 5, "--code", "H2")
    equal(j.ok("split", code, 5)["subject"], "H3")


def test_join_says_what_is_mixed():
    j = shelf()
    mother = j.animal("species=hierodula", "acquired=2026-01-01", "stage=adult", "sex=female")
    a = lot(j, "count=10", "hatched=2026-05-20", f"mother={mother}", "line=red")
    b = lot(j, "count=8", "counted=no", "hatched=2026-05-24", "line=blue")
    other = j.ok("add", "lot", "species=tenodera", "count=5")["subject"]
    assert "Tenodera" in j.no(1, "join", a, other)
    j.no(1, "join", a, a)
    j.no(1, "join", a, mother)
    j.ok("join", a, b)
    state = tally(j, a)
    equal((state["count"], state["counted"], state["mother"], state["line"]),
          (18, False, None, "mixed"))
    equal(state["hatched"], {"earliest": "2026-05-20", "latest": "2026-05-24"})


def test_a_lot_is_fed_by_the_plan():
    j = shelf()
    code = lot(j, "count=40", "hatched=2026-05-29")
    kinds = {t["kind"]: t for t in j.ok("plan")["tasks"] if t["subject"] == code}
    assert {"feed", "look", "mist"} <= set(kinds), kinds
    # A moult sign holds nothing from a lot.
    j.record(code, "sign", "sign=hanging")
    j.record(code, "sign", "sign=pumping")
    plan = j.ok("plan")
    assert any(t["kind"] == "feed" and t["subject"] == code for t in plan["tasks"])
    equal([h for h in plan["held"] if h["subject"] == code], [])


def test_forecast_of_a_lot():
    j = shelf()
    code = lot(j, "count=80", "hatched=2026-05-30")
    forecast = j.ok("forecast", code)
    keys(forecast, "first", "median", "last", "n", "counted", "why", "text")
    equal((forecast["n"], forecast["counted"], forecast["why"]), (80, True, None))
    for q in ("p10", "p50", "p90"):
        days = [forecast[w]["days"][q] for w in ("first", "median", "last")]
        equal(days, sorted(days))
        assert days[0] < days[1] < days[2], forecast
    assert forecast["first"]["p10"] <= forecast["first"]["p50"] <= forecast["first"]["p90"]
    assert forecast["text"].startswith("first moults about"), forecast["text"]
    assert "n=1; all of it: n=80" in j.no(1, "record", code, "died")
    j.record(code, "died", "n=80")
    gone = j.ok("forecast", code)
    equal((gone["first"], gone["median"], gone["last"]), (None, None, None))
    assert gone["why"] is not None


def test_the_plan_asks_to_separate():
    j = shelf(today="2026-06-25")
    code = lot(j, "count=30", "hatched=2026-05-29")
    def asked():
        return [t for t in j.ok("plan")["tasks"]
                if t["subject"] == code and t["kind"] == "separate"]
    equal(asked(), [])
    j.record(code, "moulted", "--day", "2026-06-08")
    j.record(code, "moulted", "--day", "2026-06-18")
    equal([r["rule"] for r in asked()[0]["reasons"]], ["separate.stage"])
    j.record(code, "died", "n=2")
    assert any(r["rule"] == "separate.body" for r in asked()[0]["reasons"])
    j.ok("separate", code, 26)
    assert asked()
    j.record(code, "done", "rule=separate")
    equal(asked(), [])


# ---- egg cases ----

def test_egg_case_from_laying_to_lot():
    j = shelf(today="2026-06-20")
    mother = j.animal("species=hierodula", "acquired=2026-01-01", "stage=adult", "sex=female",
                      "place=A", "line=Old")
    made = j.ok("add", "eggcase", f"mother={mother}", "laid=2026-05-03",
                "laid_earliest=2026-05-01", "place=A", "origin=captive_bred")
    equal((made["subject"], made["code"]), ("E1", "E1"))
    state = j.ok("state", "E1")
    equal((state["kind"], state["mother"], state["series"], state["species"]),
          ("eggcase", mother, 1, "Hierodula membranacea"))
    equal(state["laid"], {"earliest": "2026-05-01", "latest": "2026-05-03"})
    hers = j.ok("state", mother)
    equal(hers["egg_cases"], [{"eggcase": "E1", "day": "2026-05-03", "earliest": "2026-05-01",
                               "series": 1, "kept": True}])
    equal(hers["sex"]["verdict"], "firm_female")
    equal(j.ok("state", j.ok("add", "eggcase", f"mother={mother}",
                             "laid=2026-05-20")["subject"])["series"], 2)
    j.record("E1", "hardened", "--day", "2026-05-07")
    j.ok("add", "place", "name=Incubator", "code=I", "purpose=eggs")
    j.record("E1", "housed", "place=I", "--day", "2026-05-08")
    j.record("E1", "hatching", "n=40", "--day", "2026-06-18")
    j.record("E1", "hatching", "n=60", "counted=no", "--day", "2026-06-19")
    assert "it is no dud" in j.no(1, "record", "E1", "dud", "--day", "2026-06-19")
    state = j.ok("state", "E1")
    equal((state["hardened"], state["place"], state["hatched_n"], state["hatched_counted"]),
          ("2026-05-07", "I", 100, False))
    equal([h["n"] for h in state["hatchings"]], [40, 60])
    # One line makes the lot of what hatched so far.
    equal(j.ok("add", "lot", "from=E1")["code"], "H1")
    of_lot = tally(j, "H1")
    equal((of_lot["count"], of_lot["counted"], of_lot["eggcase"], of_lot["mother"],
           of_lot["origin"], of_lot["place"]), (100, False, "E1", mother, "captive_bred", "I"))
    equal(of_lot["hatched"], {"earliest": "2026-06-18", "latest": "2026-06-19"})
    equal(j.ok("state", "E1")["in_lots"], 100)
    j.no(1, "add", "lot", "from=E1")
    # A second burst, counted as it is tipped in.
    j.ok("add", "lot", "from=E1", "count=12", "hatched=2026-06-20")
    state = j.ok("state", "E1")
    equal((state["hatched_n"], state["in_lots"]), (112, 112))
    j.ok("undo")
    equal(j.ok("state", "E1")["hatched_n"], 100)
    j.record("E1", "hatching", "over=yes")
    state = j.ok("state", "E1")
    equal((state["alive"], state["end"]), (False, "hatched"))


def test_a_case_that_hatched_twice():
    """The lot of the second hatching is as old as that, and counted as that was."""
    j = shelf(today="2026-06-20")
    j.ok("add", "eggcase", "species=hierodula", "laid=2026-04-20", "place=A")
    j.record("E1", "hatching", "n=80", "counted=no", "--day", "2026-06-01")
    j.ok("add", "lot", "from=E1")
    j.record("E1", "hatching", "n=90")
    j.ok("add", "lot", "from=E1")
    state = tally(j, "H2")
    equal((state["count"], state["counted"]), (90, True))
    equal(state["hatched"], {"earliest": "2026-06-20", "latest": "2026-06-20"})
    assert j.ok("forecast", "H2")["first"]["p10"] > "2026-06-22"
    equal(tally(j, "H1")["hatched"], {"earliest": "2026-06-01", "latest": "2026-06-01"})
    # None of the first in a lot: some of either may be among them.
    j.ok("add", "eggcase", "species=hierodula", "laid=2026-04-20", "place=A")
    j.record("E2", "hatching", "n=30", "--day", "2026-06-12", "--earliest", "2026-06-11")
    j.record("E2", "hatching", "n=30", "--day", "2026-06-18")
    j.ok("add", "lot", "from=E2", "count=40")
    equal(tally(j, "H3")["hatched"], {"earliest": "2026-06-11", "latest": "2026-06-18"})


def test_hatch_day_is_one_line():
    j = shelf()
    j.ok("add", "eggcase", "species=hierodula", "laid=2026-04-20", "place=A", "code=E7")
    before = j.n_entries()
    j.ok("add", "lot", "from=E7", "count=140", "counted=no", "hatched=2026-05-31")
    lot_state = tally(j, "H1")
    equal((lot_state["count"], lot_state["counted"], lot_state["species"]),
          (140, False, "Hierodula membranacea"))
    egg = j.ok("state", "E7")
    equal((egg["hatched_n"], egg["in_lots"]), (140, 140))
    assert any("about 140 hatched" in t for t in texts(j, "E7"))
    j.ok("undo")
    j.no(1, "state", "H1")
    equal(j.ok("state", "E7")["hatched_n"], 0)
    assert j.n_entries() > before


def test_numbered_by_the_day_of_laying():
    """Whenever it was entered; one that was not kept is one of hers too."""
    j = Journal()
    her = j.ok("add", "animal", "species=hierodula", "acquired=2026-01-01", "stage=adult",
               "sex=female")["number"]
    late = j.ok("add", "eggcase", f"mother={her}", "laid=2026-05-01")["code"]
    early = j.ok("add", "eggcase", f"mother={her}", "laid=2026-04-01")["code"]
    numbers = lambda: [j.ok("state", code)["series"] for code in (early, late)]
    equal(numbers(), [1, 2])
    j.record(her, "laid", "--day", "2026-04-15")
    equal(numbers(), [1, 3])
    equal([(e["series"], e["kept"]) for e in j.ok("state", her)["egg_cases"]],
          [(1, True), (2, False), (3, True)])
    # What is said of one holds for those after it.
    j.record(early, "set", "key=series", "value=4")
    equal(numbers(), [4, 6])


def test_another_mother_another_number_among_hers():
    j = Journal()
    first, second = (j.ok("add", "animal", "species=hierodula", "acquired=2026-01-01", "stage=adult",
                          "sex=female")["number"] for _ in range(2))
    case = j.ok("add", "eggcase", f"mother={second}", "laid=2026-04-01")["code"]
    moved = j.ok("add", "eggcase", f"mother={first}", "laid=2026-05-01")["code"]
    equal((j.ok("state", case)["series"], j.ok("state", moved)["series"]), (1, 1))
    j.record(moved, "set", "key=mother", f"value={second}")
    equal((j.ok("state", moved)["mother"], j.ok("state", moved)["series"]), (second, 2))
    j.ok("undo")  # both in one step
    equal((j.ok("state", moved)["mother"], j.ok("state", moved)["series"]), (first, 1))
    j.record(moved, "set", "key=mother", f"value={first}")  # as it was: nothing to number anew
    equal(j.ok("state", moved)["series"], 1)


def test_what_was_estimated_at_the_beginning_is_said_so():
    j = Journal()
    lot = j.ok("add", "lot", "species=hierodula", "count=120", "counted=no")["code"]
    equal(j.ok("state", lot)["began_about"], True)
    j.ok("recount", lot, "96")
    state = j.ok("state", lot)
    equal((state["counted"], state["began_about"], state["lost_unseen_about"]), (True, True, True))


def test_a_count_is_of_its_day():
    """30 on 14 June are not 30 on the day of the hatch; those said to be of that day are."""
    j = Journal("2026-06-14")
    done = j.run("add", "lot", "species=ghost", "count=30", "hatched=2026-05-20", as_json=True)
    later = done.json["code"]
    assert "30 is what there was on" in done.err and "14 Jun" in done.err, done.err
    state = j.ok("state", later)
    equal((state["count_day"], state["began"], state["began_derived"], state["began_about"]),
          ("2026-06-14", 30, True, False))
    done = j.run("record", later, "died", "n=25", "--day", "2026-05-25")
    equal(done.code, 0)
    assert "before the first count" in done.err and "not 30 but 55" in done.err, done.err
    assert "not 55 but 58" in j.run("separate", later, 3, "--day", "2026-05-26").err
    state = j.ok("state", later)
    equal((state["count"], state["began"], state["began_derived"]), (30, 58, True))
    equal(j.run("record", later, "died", "n=1").err, "")
    text = [e["text"] for e in j.ok("history", later)["entries"] if e["kind"] == "recounted"]
    assert "what there was on this day, not at the beginning" in text[0], text

    known = j.ok("add", "lot", "species=ghost", "count=30", "hatched=2026-05-20", "count_day=2026-05-20")["code"]
    j.record(known, "died", "n=4", "--day", "2026-06-01")
    j.no(1, "record", known, "died", "n=27", "--day", "2026-05-25")
    on_its_day = j.ok("add", "lot", "species=ghost", "count=30", "hatched=2026-05-20", today="2026-05-20")["code"]
    j.record(on_its_day, "died", "n=4", "--day", "2026-06-01")
    what = ("count", "counted", "count_day", "began", "began_about", "began_derived", "dead", "lost_unseen")
    equal([tally(j, known)[key] for key in what], [tally(j, on_its_day)[key] for key in what])
    equal([tally(j, known)[key] for key in ("count", "began", "began_derived")], [26, 30, False])
    j.no(1, "add", "lot", "species=ghost", "count=30", "hatched=2026-05-20", "count_day=2026-05-19")


def test_a_joining_taken_back_names_the_lot():
    j = shelf()
    one, other = (lot(j, f"count={n}", "hatched=2026-05-20") for n in (30, 20))
    j.ok("join", other, one)
    j.ok("undo")
    said = [t for code in (one, other) for t in texts(j, code) if t.startswith("took back")]
    equal(len(said), 2)
    assert not any("?" in t for t in said), said
    assert any(f"came in from lot {one}" in t for t in said), said


def test_egg_case_refusals():
    j = shelf()
    young = j.animal("species=hierodula", "hatched=2026-05-01")
    j.ok("add", "eggcase", "species=unknown", "laid=2026-05-10")
    before = j.n_entries()
    j.no(1, "add", "eggcase", f"mother={young}", "laid=2026-05-20")
    j.no(1, "add", "eggcase")
    j.no(1, "add", "eggcase", "species=hierodula", "mother=A")
    j.no(1, "add", "eggcase", "species=hierodula", "code=E1")
    j.no(1, "record", "E1", "hatching", "n=4", "--day", "2026-05-01")
    j.no(1, "record", "E1", "laid")
    j.no(1, "record", "E1", "fed", "prey=hydei")
    j.no(1, "add", "lot", "from=E5", "count=4")
    j.no(1, "add", "lot", "from=A", "count=4")
    j.no(1, "add", "lot", "species=hierodula")
    j.no(1, "add", "lot", "count=4")
    for count in ("0", "-3", "1.5", "many", "100001"):
        j.no(1, "add", "lot", "species=hierodula", f"count={count}")
    j.no(1, "add", "lot", "species=hierodula", "count=4", "counted=perhaps")
    equal(j.n_entries(), before)
    j.record("E1", "dud", "sure=no")
    state = j.ok("state", "E1")
    equal((state["alive"], state["end"], state["dud"]), (False, "dud", True))
    j.no(1, "record", "E1", "hatching", "n=4", today="2026-06-02")


def test_codes_that_a_round_could_not_name():
    j = shelf()
    lot(j, "count=40", "code=H7")
    before = j.n_entries()
    for code, part in (("14", "begins with a letter"), ("52a", "begins with a letter"), ("all", "word of the round line"),
                       ("Dead", "word of the round line"), ("a;b", "no code"), ("a b", "no code"), ("", "no code")):
        said = j.no(1, "add", "lot", "species=hierodula", "count=3", "code=" + code)
        assert part in said, said
        j.no(1, "split", "H7", "5", "--code", code)
    equal(j.n_entries(), before)
    j.ok("split", "H7", "5", "--code", "Red-2")
    equal(j.ok("state", "Red-2")["count"], 5)


def test_who_can_be_a_parent():
    j = Journal()
    male = j.animal("species=hierodula", "acquired=2026-03-01", "stage=adult")
    j.record(male, "sexed", "sex=male", "method=joined")
    female = j.animal("species=hierodula", "acquired=2026-03-01", "stage=adult")
    nymph = j.animal("species=hierodula", "acquired=2026-05-01", "stage=L5")
    before = j.n_entries()
    for pairs, part in ((["mother=" + male], "is a male"), (["mother=" + nymph], "never entered as adult"),
                        (["mother=" + female, "species=tenodera"], "of another kind")):
        said = j.no(1, "add", "eggcase", "laid=2026-05-20", *pairs)
        assert part in said, said
    assert "both mother and father" in j.no(1, "add", "animal", "species=hierodula", "mother=" + female, "father=" + female)
    assert "of another kind" in j.no(1, "add", "animal", "species=ghost", "father=" + male)
    equal(j.n_entries(), before)
    j.ok("add", "eggcase", "mother=" + female, "laid=2026-05-20")
    child = j.animal("species=hierodula", "mother=" + female, "father=" + male, "hatched=2026-05-25")
    assert "is a male" in j.no(1, "record", child, "set", "key=mother", "value=" + male)


def test_a_bought_lot_keeps_the_sellers_stage():
    j = shelf()
    j.ok("record", "journal", "set", "key=scheme", "value=2")
    code = lot(j, "count=20", "acquired=2026-05-20", "from=A fair", "stage=L4", "scheme=1")
    state = tally(j, code)
    equal(state["claim"], {"stage": "L4", "scheme": 1})
    equal((state["moults"]["value"], state["moults"]["basis"]), (3, "estimated"))
    equal(state["stage"], "about L5")
    single = j.ok("state", j.ok("separate", code, 1)["subjects"][0])
    equal((single["claim"], single["moults"]["value"], single["stage"]),
          ({"stage": "L4", "scheme": 1}, 3, "about L5"))
    said = [t for t in texts(j, code) if "L4" in t]
    equal(said, ["came from A fair; said to be L4 (hatchling = L1)"])


def test_a_round_speaks_of_lots():
    j = shelf()
    code = lot(j, "count=130", "hatched=2026-05-20")
    j.ok("round", "A", f"{code} fed fruit flies; 3 dead; about 120 remain")
    state = tally(j, code)
    equal((state["count"], state["counted"], state["dead"], state["lost_unseen"],
           state["last_offered"]), (120, False, 3, 7, "2026-06-01"))
    j.no(1, "round", "A", f"{code} 300 dead")
    j.ok("undo")
    equal(tally(j, code)["count"], 130)


# ---- codes, lines, places, cultures ----

def test_what_came_was_counted_as_it_came():
    j = shelf(today="2026-06-10")
    code = lot(j, "count=100", "acquired=2026-05-25", "stage=L1")
    assert [e["day"] for e in j.ok("history", code)["entries"] if e["kind"] == "recounted"] == ["2026-05-25"]
    j.record(code, "died", "n=14", "--day", "2026-06-07")
    state = tally(j, code)
    equal((state["began"], state["count"], state["dead"]), (100, 86, 14))
    equal(j.ok("recount", code, 80, "--day", "2026-06-08")["lost_unseen"], 6)
    equal(tally(j, code)["found_more"], 0)


def test_nobody_knows_when_a_bought_lot_hatched():
    """All of it is in doubt as one: as many as there are, the first may moult tonight or next week."""
    j = shelf()
    code = lot(j, "count=140", "counted=no", "stage=L1", "acquired=2026-06-01")
    first = j.ok("forecast", code)["first"]["days"]
    assert first["p10"] < 1 and first["p90"] > 3.5, first
    half = j.ok("forecast", code)["median"]["days"]
    assert half["p90"] - half["p10"] > 7, half


def test_more_cannot_moult_than_there_are():
    j = shelf(today="2026-06-12")
    code = lot(j, "count=64", "hatched=2026-05-25")
    assert "holds 64 then" in j.no(1, "record", code, "moulted", "n=100")
    j.record(code, "moulted", "n=30")
    assert "sure=yes" in j.no(1, "record", code, "moulted", "n=30")
    j.record(code, "moulted", "n=30", "sure=yes")
    said = j.ok("forecast", code)
    equal((said["moulted"], said["moulted_most"], said["n"]), (60, 60, 4))
    assert "sure=yes" in j.no(1, "record", code, "moulted", "n=10")  # some of them twice
    j.record(code, "died", "n=20")
    said = j.ok("forecast", code)
    equal((said["moulted"], said["moulted_most"]), (40, 44))
    assert said["text"].startswith("40–44 moulted already; of the other 0–4"), said["text"]
    j.record(code, "moulted")  # the rest
    assert "sure=yes" in j.no(1, "record", code, "moulted")


def test_one_body_is_not_all_of_a_lot():
    j = shelf()
    code = lot(j, "count=64", "hatched=2026-05-25")
    for kind in ("died", "escaped"):
        assert "One: n=1; all of it: n=64" in j.no(1, "record", code, kind)
    j.record(code, "died", "n=1")
    equal((tally(j, code)["alive"], tally(j, code)["count"]), (True, 63))
    about = lot(j, "count=30", "counted=no", "hatched=2026-05-25")
    assert "all of about 30" in j.no(1, "record", about, "died")
    j.record(code, "left", "how=sold")
    equal(tally(j, code)["alive"], False)


def test_undo_says_which_lot():
    j = shelf()
    code = lot(j, "count=64", "hatched=2026-05-25")
    part = j.ok("split", code, 30)["code"]
    said = j.ok("undo")["text"]
    assert said.startswith(f"Took back: {code}: 30 into lot {part}, and"), said
    said = j.ok("redo")["text"]
    assert said.startswith(f"Put back: {code}: 30 into lot {part}, and"), said
    j.ok("join", code, part)
    for verb in ("undo", "redo"):
        said = j.ok(verb)["text"]
        assert f"lot {part}" in said or f"lot {code}" in said, said
        assert "?" not in said, said


def test_half_a_move_does_not_come_back():
    """Taking back what an undo wrote for one side is refused: the animals would be nowhere."""
    j = shelf()
    a, b = lot(j, "count=25", "hatched=2026-05-25"), lot(j, "count=10", "hatched=2026-05-25")
    for verb in (("join", b, a), ("split", a, 5), ("separate", a, 5)):
        j.ok(*verb)
        j.ok("undo")
        last = [e for e in j.ok("history", a)["entries"] if e["kind"] == "void"]
        said = j.no(1, "void", max(last, key=lambda e: e["id"])["id"])
        assert "redo" in said, said
        equal((tally(j, a)["count"], tally(j, b)["count"]), (25, 10))
        j.ok("redo")
        j.ok("undo")


def test_lots_of_two_stages():
    j = shelf()
    small = lot(j, "count=25", "hatched=2026-05-15")
    large = lot(j, "count=10", "acquired=2026-06-01", "moults=2")
    for pair in ((small, large), (large, small)):
        assert "eat" in j.no(1, "join", *pair)
    next_one = lot(j, "count=10", "acquired=2026-06-01", "moults=1")
    for into, other in ((small, next_one), (next_one, small)):
        j.ok("join", into, other)
        moults = j.ok("state", into)["moults"]
        equal((moults["value"], moults["basis"]), (0, "estimated"))
        near(moults["p"]["0"], 25 / 35, .001)
        near(moults["p"]["1"], 10 / 35, .001)
        j.ok("undo")


def test_a_single_out_of_two_stages():
    """Nobody knows of which it is, until the keeper says so."""
    j = shelf()
    small = lot(j, "count=25", "hatched=2026-05-15")
    large = lot(j, "count=10", "acquired=2026-06-01", "moults=1")
    j.ok("join", small, large)
    first, second = j.ok("separate", small, 2)["subjects"]
    part = j.ok("split", small, 12)["code"]
    third = j.ok("separate", part, 1)["subjects"][0]
    for one in (first, second, third, part):
        moults = j.ok("state", one)["moults"]
        equal((moults["value"], moults["basis"]), (0, "estimated"))
        near(moults["p"]["0"], 25 / 35, .001)
        near(moults["p"]["1"], 10 / 35, .001)
    equal(tally(j, part)["count"], 11)
    j.record(second, "stage", "seen=nymph", "moults=1")
    assert j.ok("state", second)["moults"]["p"]["1"] > .8
    equal(j.ok("state", first)["moults"]["value"], 0)
    equal(j.ok("check")["conflicts"], [])


def test_some_of_it_moulted():
    j = shelf()
    code = lot(j, "count=17", "hatched=2026-05-20")
    equal(tally(j, code)["stages"], [])
    j.record(code, "moulted", "n=5", "--day", "2026-05-31")
    state = tally(j, code)
    equal((state["stage"], state["moults"]["value"]), ("12 in L1, 5 in L2", 0))
    equal(state["stages"], [{"moults": 0, "stage": "L1", "least": 12, "most": 12},
                            {"moults": 1, "stage": "L2", "least": 5, "most": 5}])
    forecast = j.ok("forecast", code)
    equal((forecast["n"], forecast["moulted"]), (12, 5))
    assert forecast["text"].startswith("5 moulted already; of the other 12: first moults"), forecast["text"]
    # The others had not by then.
    assert forecast["first"]["p10"] >= "2026-05-31", forecast
    # Nobody said which were taken out: of a single it is open, of the lot how many are left.
    single = j.ok("separate", code, 2)["subjects"][0]
    state = j.ok("state", single)
    equal((state["stage"], state["moults"]["basis"]), ("about L1–L2", "estimated"))
    equal(state["moults"]["p"], {"0": 0.5, "1": 0.5})
    assert any("5 of its lot moulted: perhaps this one" in t for t in texts(j, single)), texts(j, single)
    equal(tally(j, code)["stage"], "L1, 3–5 in L2")
    # The last of them: the lot has moulted.
    j.record(code, "moulted", "n=12")
    state = tally(j, code)
    equal((state["stage"], state["stages"]), ("L2", []))
    equal(state["last_moult"], {"earliest": "2026-05-31", "latest": "2026-06-01"})
    j.no(1, "record", single, "moulted", "n=5")


def test_a_lot_and_its_singles_say_the_same():
    j = shelf()
    code = lot(j, "count=2", "hatched=2026-05-10")
    j.record(code, "moulted")
    single = j.ok("separate", code, 1)["subjects"][0]
    of_lot, of_single = j.ok("forecast", code), j.ok("forecast", single)
    # Its old skin was never looked at: the moult may have been on any day since the hatch, of both.
    equal(j.ok("state", single)["last_moult"]["earliest"], "2026-05-10")
    equal(of_lot["n"], 1)
    assert of_lot["first"]["p10"] >= j.today, of_lot  # it was found in its new skin today
    near(of_lot["median"]["days"]["p50"], of_single["days"]["p50"], 4)


def test_all_of_it_put_into_cups():
    j = shelf()
    code = lot(j, "count=3", "hatched=2026-05-10")
    j.ok("separate", code, 3)
    said = j.ok("forecast", code)
    equal((said["why"], said["text"]), ("empty", "no forecast: none are left in this lot"))
    dead = lot(j, "count=3", "hatched=2026-05-10")
    j.record(dead, "died", "n=3")
    equal(j.ok("forecast", dead)["why"], "dead")


def test_codes_are_never_used_again():
    j = shelf()
    equal(lot(j, "count=3"), "H1")
    j.ok("undo")
    j.no(1, "add", "lot", "species=unknown", "count=3", "code=h1")
    j.no(1, "add", "eggcase", "species=unknown", "code=H1")
    equal(lot(j, "count=3"), "H2")
    j.record("H2", "left")
    equal(lot(j, "count=3"), "H3")
    j.no(1, "record", "H3", "set", "key=code", "value=H2")
    assert j.ok("history", "H1")["entries"]


def test_origin_and_parents():
    j = shelf()
    mother = j.animal("species=hierodula", "acquired=2026-01-01", "stage=adult", "sex=female")
    father = j.animal("species=hierodula", "acquired=2026-01-01", "stage=adult", "sex=male",
                      "origin=wild_caught", "locality=Mindanao", "species_sure=likely")
    child = j.animal("species=hierodula", "hatched=2026-05-20", f"mother={mother}",
                     f"father={father}", "line=M1", "generation=CB F1")
    state = j.ok("state", child)
    equal((state["mother"], state["father"], state["line"], state["generation"]),
          (mother, father, "M1", "CB F1"))
    equal(j.ok("state", father)["species_sure"], "likely")
    before = j.n_entries()
    j.no(1, "record", mother, "set", "key=mother", f"value={child}")
    j.no(1, "record", mother, "set", "key=father", f"value={mother}")
    j.no(1, "record", mother, "set", "key=origin", "value=moon")
    j.no(1, "record", mother, "set", "key=mother", "value=A")
    equal(j.n_entries(), before)
    assert f"mother: {mother}" in texts(j, child)
    j.record(child, "set", "key=mother", "value=")
    equal(j.ok("state", child)["mother"], None)


def test_places_in_full():
    j = shelf()
    j.ok("add", "place", "name=Home 3", "within=A", "height_mm=300", "width_mm=200",
         "depth_mm=180", "ventilation=chimney", "lid=cloth", "substrate=damp peat",
         "heater=mat 7 W", "purpose=rearing")
    state = j.ok("state", "Home 3")
    equal((state["kind"], state["within"], state["purpose"], state["height_mm"],
           state["width_mm"], state["depth_mm"], state["ventilation"], state["lid"],
           state["substrate"], state["heater"]),
          ("place", "A", "rearing", 300, 200, 180, "chimney", "cloth", "damp peat", "mat 7 W"))
    before = j.n_entries()
    j.no(1, "record", "Home 3", "set", "key=ventilation", "value=none at all")
    j.no(1, "record", "Home 3", "set", "key=purpose", "value=party")
    equal(j.n_entries(), before)


def test_culture():
    j = shelf()
    made = j.ok("add", "culture", "prey=hydei", "started=2026-05-10", "place=A")
    equal(made["code"], "C1")
    state = j.ok("state", "C1")
    equal((state["kind"], state["prey"], state["started"]), ("culture", "hydei", "2026-05-10"))
    j.no(1, "add", "culture")
    j.no(1, "add", "culture", "prey=dragons")
    assert any(t == "culture of large fruit flies started" for t in texts(j, "C1"))
    j.record("C1", "left", "how=given")
    equal(j.ok("state", "C1")["alive"], False)


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
