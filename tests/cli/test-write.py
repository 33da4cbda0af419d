#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The verbs that write: new, add, record, correct, void, undo, redo, history."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main  # noqa: E402


def shelf(today="2026-06-01"):
    j = Journal(today)
    equal(j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=20")["code"], "A")
    return j


def test_new_prints_the_path():
    j = Journal(make=False)
    equal(j.ok("new", j.dir, journal=False), {"path": j.dir})
    assert os.path.isdir(j.dir)
    equal(j.ok("check")["clean"], True)


def test_new_never_touches_what_is_there():
    j = shelf()
    before = j.n_entries()
    j.no(1, "new", j.dir, journal=False)
    equal(j.n_entries(), before)
    other = os.path.join(j.tmp.name, "full")
    os.mkdir(other)
    with open(os.path.join(other, "letter.txt"), "w", encoding="utf-8") as f:
        f.write("mine")
    j.no(1, "new", other, journal=False)
    equal(os.listdir(other), ["letter.txt"])


def test_add_gives_numbers_and_codes():
    j = shelf()
    first = j.ok("add", "animal", "species=hierodula", "place=A", "hatched=2026-03-01")
    keys(first, "subject", "number", "code")
    equal((first["subject"], first["number"], first["code"]), ("1", "1", None))
    equal(j.animal("species=TENODERA", "number=14a"), "14a")
    equal(j.animal("species=unknown"), "15")
    equal(j.ok("add", "place", "name=Home 3", "within=A")["subject"], "Home 3")
    equal(j.ok("add", "animal", "species=hymenopus", as_json=False), "16\n")


def test_numbers_are_never_used_again():
    j = shelf()
    equal(j.animal("species=unknown"), "1")
    j.ok("undo")
    equal(j.animal("species=unknown"), "2")
    j.record("2", "died")
    equal(j.animal("species=unknown"), "3")
    for number in ("1", "2", "3"):
        j.no(1, "add", "animal", "species=unknown", f"number={number}")
    for number in ("0", "x", "12abc", "123456789", ""):
        j.no(1, "add", "animal", "species=unknown", f"number={number}")


def test_add_before_another_cup():
    j = shelf()
    j.ok("add", "place", "name=Order", "code=O")
    first = j.animal("species=unknown", "place=O")
    last = j.animal("species=unknown", "place=O")
    middle = j.animal("species=unknown", "place=O", f"before={last}")
    front = j.animal("species=unknown", f"before={first}")  # on its shelf
    at = {n: next(e["values"]["at"] for e in j.ok("history", n)["entries"] if e["kind"] == "housed")
          for n in (first, last, middle, front)}
    equal(sorted(at, key=at.get), [front, first, middle, last])
    equal(j.ok("state", front)["place"], "O")
    before = j.n_entries()
    j.ok("add", "place", "name=Else", "code=E")
    j.no(1, "add", "animal", "species=unknown", "place=E", f"before={last}")
    j.no(1, "add", "animal", "species=unknown", "before=999")
    equal(j.n_entries(), before + 2)


def test_add_is_one_round():
    j = shelf()
    before = j.n_entries()
    j.animal("species=hierodula", "place=A", "acquired=2026-05-01", "stage=L4", "scheme=2",
             "sex=female", "name=Lena")
    rounds = {e["round"] for e in j.ok("history", "1")["entries"]}
    equal(len(rounds), 1)
    assert j.n_entries() - before >= 6
    j.ok("undo")
    j.no(1, "state", "1")
    history = j.ok("history", "1")["entries"]
    assert history and not any(e["live"] for e in history if e["kind"] != "void")
    j.ok("redo")
    equal(j.ok("state", "1")["species"], "Hierodula membranacea")


def test_a_claim_is_evidence_and_no_more():
    j = shelf()
    j.animal("species=hierodula", "acquired=2026-05-01", "stage=L4", "scheme=1", "sex=female")
    state = j.ok("state", "1")
    equal([e["kind"] for e in state["sex"]["evidence"]], ["claim"])
    equal(state["sex"]["verdict"], "undecided")
    assert .5 < state["sex"]["female"] < .9
    equal(state["moults"]["value"], 3)
    equal(state["moults"]["basis"], "estimated")


def test_add_refuses_and_writes_nothing():
    j = shelf()
    before = j.n_entries()
    assert "Hierodula membranacea" in j.no(1, "add", "animal", "species=griffin")
    j.no(1, "add", "animal")
    j.no(1, "add", "animal", "species=hierodula", "colour=green")
    j.no(1, "add", "animal", "species=hierodula", "species=tenodera")
    j.no(1, "add", "animal", "species=hierodula", "hatched=2026-02-30")
    j.no(1, "add", "animal", "species=hierodula", "hatched=2026-06-02")
    j.no(1, "add", "animal", "species=hierodula", "hatched=2026-05-02", "acquired=2026-05-01")
    j.no(1, "add", "animal", "species=hierodula", "place=nowhere")
    j.no(1, "add", "animal", "species=hierodula", "sex=maybe")
    j.no(1, "add", "animal", "species=hierodula", "moults=99")
    j.no(1, "add", "animal", "species")
    j.no(1, "add", "place")
    j.no(1, "add", "place", "code=A")
    j.no(1, "add", "place", "code=two words")
    j.no(1, "add", "place", "name=X", "day_c=200")
    j.no(1, "add", "lot", "count=5")
    j.no(1, "add", "eggcase")
    j.no(2, "add", "dragon")
    j.no(2, "add")
    equal(j.n_entries(), before)


def test_record_prints_an_id_that_history_knows():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    made = j.record("1", "fed", "prey=house fly", "n=2", "outcome=taken", "--day", "2026-05-30",
                    "--time", "19:30")
    history = j.ok("history", "1")
    keys(history, "entries")
    entry = next(e for e in history["entries"] if e["id"] == made)
    equal(entry["kind"], "fed")
    equal((entry["day"], entry["time"]), ("2026-05-30", "19:30"))
    equal(entry["values"], {"prey": "house fly", "n": 2, "outcome": "taken"})
    equal(j.ok("record", "1", "looked", as_json=False).strip(),
          j.ok("history", "1")["entries"][0]["id"])


def test_newest_first():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    for day in ("2026-05-03", "2026-05-01", "2026-05-02"):
        j.record("1", "looked", "--day", day)
    days = [e["day"] for e in j.ok("history", "1")["entries"]]
    equal(days, sorted(days, reverse=True))


def test_record_refuses_what_cannot_be():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01", "place=A")
    before = j.n_entries()
    j.no(1, "record", "1", "moulted", "--day", "2026-06-02")
    j.no(1, "record", "1", "moulted", "--day", "2026-02-28")
    j.no(1, "record", "1", "moulted", "--day", "2026-05-02", "--earliest", "2026-05-03")
    j.no(1, "record", "1", "hatched", "--day", "2026-03-02")
    j.no(1, "record", "1", "belly", "score=6")
    j.no(1, "record", "1", "belly")
    j.no(1, "record", "1", "fed", "prey=cake")
    j.no(1, "record", "1", "fed", "wine=red")
    j.no(1, "record", "1", "fed", "n=two")
    j.no(1, "record", "1", "fed", "n=1,5")
    j.no(1, "record", "1", "fed", "prey")
    j.no(1, "record", "1", "danced")
    j.no(1, "record", "1", "photo", "hash=00")
    j.no(1, "record", "1", "void")
    j.no(1, "record", "1", "laid")
    j.no(1, "record", "1", "reading", "t=25")
    j.no(1, "record", "1", "found")
    j.no(1, "record", "1", "housed", "place=1")
    j.no(1, "record", "1", "set", "key=species", "value=griffin")
    j.no(1, "record", "1", "set", "key=number", "value=x")
    j.no(1, "record", "A", "set", "key=within", "value=A")
    j.no(1, "record", "1", "note", "text=a\x07b")
    j.no(1, "record", "99", "looked")
    j.no(2, "record", "1", "looked", "--day", "tomorrow")
    j.no(2, "record", "1", "looked", "--time", "25:00")
    j.no(2, "record", "1")
    equal(j.n_entries(), before)


def test_dead_takes_nothing_more():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    died = j.record("1", "died", "cause=stuck", "--day", "2026-05-20")
    j.no(1, "record", "1", "fed", "--day", "2026-05-21")
    equal(j.ok("state", "1")["alive"], False)
    j.ok("void", died)
    j.record("1", "fed", "--day", "2026-05-21")
    equal(j.ok("state", "1")["alive"], True)


def test_species_by_beginning_and_by_set():
    j = shelf()
    j.animal("species=unknown")
    equal(j.ok("state", "1")["species"], None)
    j.record("1", "set", "key=species", "value=idolo")
    equal(j.ok("state", "1")["species"], "Idolomantis diabolica")
    j.record("1", "set", "key=name", "value=Emil")
    equal(j.ok("state", "1")["name"], "Emil")


def test_correct_replaces_and_keeps_the_old_readable():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    first = j.record("1", "moulted", "outcome=good", "--day", "2026-05-10")
    second = j.ok("correct", first, "day=2026-05-12", "outcome=limb")["id"]
    entries = {e["id"]: e for e in j.ok("history", "1")["entries"]}
    equal(entries[first]["live"], False)
    equal(entries[second]["live"], True)
    equal(entries[second]["names"], first)
    equal(entries[second]["values"]["outcome"], "limb")
    equal(j.ok("state", "1")["last_moult"]["latest"], "2026-05-12")
    j.no(1, "correct", first, "day=2026-05-13")
    j.no(1, "correct", second, "day=2026-07-01")
    j.no(1, "correct", second, "outcome=odd")
    j.no(1, "correct", "no-id", "day=2026-05-13")
    j.no(1, "correct", "01a214c0-5863-7535-8d7a-d84a8b029168", "day=2026-05-13")
    third = j.ok("correct", second, "outcome=")["id"]
    entries = {e["id"]: e for e in j.ok("history", "1")["entries"]}
    equal(entries[third]["values"], {})


def test_a_corrected_entry_says_what_counts():
    j = Journal("2026-06-01")
    animal = j.animal("species=hierodula", "hatched=2026-02-01", "moults=4")
    first = j.record(animal, "moulted", "--day", "2026-05-10")
    second = j.ok("correct", first, "day=2026-05-12")["id"]
    third = j.ok("correct", second, "day=2026-05-13")["id"]
    said = {e["id"]: (e["counts"], e["text"]) for e in j.ok("history", animal)["entries"]}
    for old in (first, second):
        counts, text = said[old]
        equal(counts, third)
        assert "counts no more, corrected to: moulted (13 May)" in text, text
    equal(said[third][0], None)
    for old in (first, second):
        assert third in j.no(1, "correct", old, "day=2026-05-11")
        assert third in j.no(1, "void", old)
    j.ok("void", third)
    said = {e["id"]: (e["counts"], e["text"]) for e in j.ok("history", animal)["entries"]}
    equal([said[e][0] for e in (first, second, third)], [second, None, None])  # the one before counts again
    assert said[third][1].endswith("taken back"), said[third]


def test_correcting_the_hatch():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    hatch = next(e for e in j.ok("history", "1")["entries"] if e["kind"] == "hatched")
    j.ok("correct", hatch["id"], "day=2026-03-05")
    j.no(1, "record", "1", "looked", "--day", "2026-03-04")


def test_undo_and_redo_across_runs():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    ids = [j.record("1", "belly", f"score={n}", "--day", f"2026-05-0{n}") for n in (1, 2, 3)]
    score = lambda: j.ok("state", "1")["belly"]  # noqa: E731
    equal(j.ok("undo")["undone"], [ids[2]])
    equal(score(), 2)
    equal(j.ok("undo")["undone"], [ids[1]])
    equal(score(), 1)
    equal(j.ok("redo")["redone"], [ids[1]])
    equal(j.ok("redo")["redone"], [ids[2]])
    equal(score(), 3)
    j.no(1, "redo")
    j.ok("undo")
    j.record("1", "belly", "score=5", "--day", "2026-05-04")
    j.no(1, "redo")
    equal(score(), 5)
    j.ok("undo")
    equal(score(), 2)
    j.ok("redo")
    equal(score(), 5)
    j.ok("undo")
    j.ok("undo")
    j.ok("undo")
    j.ok("undo")
    j.no(1, "state", "1")
    j.ok("undo")
    j.no(1, "undo")
    j.no(1, "state", "A")
    for _ in range(5):
        j.ok("redo")
    equal(score(), 5)


def test_undo_of_void_and_correct():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    belly = j.record("1", "belly", "score=4")
    j.ok("void", belly)
    equal(j.ok("state", "1")["belly"], None)
    j.no(1, "void", belly)
    j.ok("undo")
    equal(j.ok("state", "1")["belly"], 4)
    j.ok("correct", belly, "score=2")
    equal(j.ok("state", "1")["belly"], 2)
    j.ok("undo")
    equal(j.ok("state", "1")["belly"], 4)
    j.ok("redo")
    equal(j.ok("state", "1")["belly"], 2)
    equal(j.ok("check")["clean"], True)


def test_undo_says_what_in_words():
    j = shelf()
    j.animal("species=hierodula", "hatched=2026-03-01")
    j.record("1", "fed", "prey=moth", "n=1")
    assert "moth" in j.ok("undo")["text"]
    assert "moth" in j.ok("redo", as_json=False)


def test_usage():
    j = shelf()
    j.no(2, "fly")
    j.no(2)
    j.no(2, "state")
    j.no(2, "state", "1", "2")
    j.no(2, "state", "--loud", "1")
    j.no(2, "check", "--json")
    j.no(2, "state", "1", today="2026-13-01")
    done = j.run("--help", as_json=False)
    equal(done.code, 0)
    for word in ("record", "moulted", "prey=", "undo"):
        assert word in done.out, word
    equal(j.run("--version", as_json=False).code, 0)


def test_only_adults_lay_and_mate():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    j.no(1, "record", "1", "sexed", "sex=female", "method=laid")
    j.no(1, "record", "1", "sexed", "sex=male", "method=joined")
    j.record("1", "moulted", "to=adult", "--day", "2026-05-20")
    j.no(1, "record", "1", "sexed", "sex=female", "method=laid", "--day", "2026-05-10")
    j.record("1", "sexed", "sex=female", "method=laid", "--day", "2026-05-25")


def test_settings_are_known_or_refused():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    before = j.n_entries()
    for bad in (("foo", "1"), ("interval.dance", "3"), ("interval.feed", "often"),
                ("interval.feed", "0"), ("interval.feed", "5-3"), ("gravid", "perhaps"),
                ("rest", "winter"), ("purpose", "fun"), ("sex_check", "later"), ("caution.", "off"), ("caution.sun", "off"),
                ("caution.heat", "maybe"), ("scheme", "3"), ("demo_day", "soon")):
        error = j.no(1, "record", "1", "set", f"key={bad[0]}", f"value={bad[1]}")
        assert bad[0] in error or bad[0].split(".")[-1] in error, error
    equal(j.n_entries(), before)
    for good in (("interval.feed", "3-5"), ("interval.mist", "2"), ("gravid", "yes"), ("gravid", ""),
                 ("rest", "no"), ("purpose", "sale"), ("purpose", "none"), ("sex_check", "not_needed"),
                 ("caution.heat", "off"), ("scheme", "2"), ("name", "Ada")):
        j.record("1", "set", f"key={good[0]}", f"value={good[1]}")


def test_a_claimed_stage_can_be_read():
    j = Journal()
    for bad in ("L99x", "L0", "L99", "about four", "x"):
        said = j.no(1, "add", "animal", "species=hierodula", "acquired=2026-05-01", f"stage={bad}")
        assert bad in said and "L4" in said and "subadult" in said, said
    for good in ("L4", "l4", "4", "i4", "L4-5", "L4/L5", "nymph", "Subadult", "sub-adult", "adult", ""):
        j.animal("species=hierodula", "acquired=2026-05-01", f"stage={good}")
    id = [e["id"] for e in j.ok("history", "1")["entries"] if e["kind"] == "acquired"][0]
    j.no(1, "correct", id, "stage=L99x")
    j.ok("correct", id, "stage=L5")


def test_a_temperature_can_be_taken_away():
    j = Journal()
    j.ok("add", "place", "name=Shelf A", "day_c=25", "night_c=20")
    j.record("Shelf A", "set", "key=day_c", "value=")
    text = j.ok("history", "Shelf A")["entries"][0]["text"]
    equal(text, "usual day temperature, °C: not said")
    assert "name" in j.no(1, "record", "Shelf A", "set", "key=name", "value=")


def test_rules_are_known_or_refused():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    assert "sex_check" in j.no(1, "record", "1", "done", "rule=dance")
    j.no(1, "record", "1", "put_off", "rule=dance", "until=2026-06-04")
    j.record("1", "done", "rule=clean")
    id = j.record("1", "put_off", "rule=mist", "until=2026-06-04")
    j.no(1, "correct", id, "rule=dance")


def test_plural_prey():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    for word, kept in (("house flies", "house fly"), ("Moths", "moth"), ("cricket", "cricket")):
        j.record("1", "fed", f"prey={word}")
        equal(j.ok("history", "1")["entries"][0]["values"]["prey"], kept)
    j.no(1, "record", "1", "fed", "prey=griffins")


def test_a_place_has_a_name():
    j = Journal()
    for bad in (["name="], ["name= "], ["name=", "code=A"]):
        j.no(1, "add", "place", *bad)
    j.ok("add", "place", "code=A")
    assert "22:30" in j.no(1, "record", "A", "power", "out_to=zz")
    j.record("A", "power", "out_from=21:00", "out_to=22:30")


def test_undo_names_what_it_is_about():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    id = j.record("1", "belly", "score=4")
    j.ok("void", id)
    done = j.ok("undo")
    assert done["text"].startswith("Put back: 1: belly"), done
    done = j.ok("redo")
    assert done["text"].startswith("Took back: 1: belly"), done
    j.ok("undo")
    assert j.ok("undo")["text"].startswith("Took back: 1: belly")
    text = j.ok("undo")["text"]
    assert text.startswith("Took back: 1: hatched") and text.endswith(", and 2 more."), text
    text = j.ok("redo")["text"]
    assert text.startswith("Put back: 1: hatched"), text


def test_undo_of_a_correction_says_what_counts_again():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    id = j.record("1", "moulted", "--day", "2026-04-14")
    second = j.ok("correct", id, "day=2026-04-12")["id"]
    j.ok("correct", second, "day=2026-04-10")
    undone = "Took back the correction. What counts again: 1: moulted, %s."
    equal(j.ok("undo")["text"], undone % "12 Apr")
    equal(j.ok("undo")["text"], undone % "14 Apr")
    text = j.ok("redo")["text"]
    assert text.startswith("Put back the correction") and "1: moulted" in text, text
    j.ok("undo")
    assert j.ok("undo")["text"].startswith("Took back: 1: moulted")


def test_a_meal_against_the_hold_is_kept_and_said():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01", "acquired=2026-05-01", "moults=5")
    done = j.run("record", "1", "fed", "prey=moth")
    equal((done.code, done.err), (0, ""))
    j.record("1", "moulted")
    done = j.run("record", "1", "fed", "prey=moth")
    equal(done.code, 0)
    assert "no food" in done.err and done.json["id"], done.err
    equal(j.run("record", "1", "fed", "outcome=none_in_view").err, "")
    equal(j.run("record", "1", "fed", "prey=moth", "--day", "2026-05-20").err, "")


def span(j, subject, kind):
    """Day and earliest of its last entry of that kind, live."""
    (first, *_) = [e for e in j.ok("history", subject)["entries"] if e["kind"] == kind and e["live"]]
    return first["day"], first["earliest"]


def test_a_vague_day_is_several():
    j = Journal("2026-06-15")
    j.ok("add", "place", "name=Shelf A", "code=A")
    j.animal("species=hierodula", "hatched=about 10 weeks ago", "place=A")
    equal(span(j, "1", "hatched"), ("2026-04-23", "2026-03-20"))
    j.animal("species=hierodula", "acquired=vor etwa einer Woche", "stage=L4", "scheme=1", "place=A")
    equal(span(j, "2", "acquired"), ("2026-06-11", "2026-06-05"))
    week = ("2026-06-11", "2026-06-05")
    moult = j.record("1", "moulted", "--day", "about a week ago")
    equal(span(j, "1", "moulted"), week)
    equal(j.ok("state", "1")["last_moult"], {"earliest": "2026-06-05", "latest": "2026-06-11"})
    # As for who moves in: food comes rather sooner than later, and a look proves the earliest day alone.
    j.record("1", "fed", "prey=cricket", "--day", "about a week ago")
    equal(span(j, "1", "fed"), ("2026-06-08", "2026-06-05"))
    j.record("2", "looked", "--day", "about a week ago")
    equal((span(j, "2", "looked"), j.ok("state", "2")["last_look"]), (week, "2026-06-05"))
    j.record("2", "drank", "--day", "about a week ago", "--earliest", "2026-06-10")
    equal(span(j, "2", "drank"), ("2026-06-11", "2026-06-10"))
    j.ok("round", "A", "2 moulted; 1 belly 3", "--day", "about a week ago")
    equal((span(j, "2", "moulted"), span(j, "1", "belly")), (week, week))
    j.ok("correct", moult, "day=about 10 days ago")
    equal(span(j, "1", "moulted"), ("2026-06-07", "2026-06-03"))
    j.record("2", "note", "text=one day", "--day", "last friday")
    equal(span(j, "2", "note"), ("2026-06-12", None))
    for day in ("about", "next week", "a week from now"):
        assert "about a week ago" in j.no(2, "record", "2", "looked", "--day", day)


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
