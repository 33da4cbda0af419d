#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Which animal it is: places exchanged, animals mixed up, doubts; and those that come back."""

import json
import os
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main  # noqa: E402

DRAW = os.environ["MANTIDARY_DRAW"]


def draw(folder, name, seed):
    """A picture of an underside and its axis; the camera says 20 May."""
    path = os.path.join(folder, name)
    out = subprocess.run([DRAW, path, str(seed), "6", "1", "1"], capture_output=True,
                         check=True).stdout
    return path, ",".join(str(v) for v in json.loads(out)["axis"])


def two(today="2026-06-01"):
    """Two nymphs of the fifth stage on one shelf, here since April."""
    j = Journal(today)
    j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=20")
    for _ in range(2):
        j.animal("species=hierodula", "hatched=2026-02-01", "acquired=2026-04-20", "moults=4",
                 "place=A")
    return j


def test_mixed_up_since_what_sunday():
    j = two("2026-05-31")  # a Sunday
    j.record("1", "moulted", "--day", "2026-05-26")
    before = j.n_entries()
    assert "last sunday" in j.no(1, "swap", "1", "2", "--since", "sunday")
    assert "Nothing that was seen" in j.no(1, "swap", "1", "2", "--since", "today")
    equal(j.n_entries(), before)
    equal(j.ok("swap", "1", "2", "--since", "last sunday")["moved"], 1)
    equal(j.ok("swap", "1", "2", "--since", "monday")["moved"], 1)


def state(j, subject):
    return j.ok("state", subject)


def history(j, subject):
    return j.ok("history", subject)["entries"]


def all_states(j):
    kept = {}
    for subject in ("1", "2"):
        now = state(j, subject)
        kept[subject] = {k: now[k] for k in ("moults", "stage", "alive", "last_taken", "belly",
                                             "last_look", "end", "conflicts", "doubtful_since")}
        kept[subject]["sex"] = now["sex"]["verdict"]
    return kept


# ---- places ----

def test_places_exchanged():
    j = two()
    j.ok("add", "place", "name=Shelf B", "code=B")
    j.animal("species=hierodula", "place=B", "at=7")
    before = j.n_entries()
    answer = j.ok("swap", "1", "3")
    keys(answer, "subjects")
    equal([(s["subject"], s["place"]) for s in answer["subjects"]], [("1", "B"), ("3", "A")])
    equal(answer["subjects"][0]["at"], 7)
    assert j.n_entries() > before
    j.ok("undo")
    equal((state(j, "1")["place"], state(j, "3")["place"]), ("A", "B"))
    j.ok("redo")
    equal((state(j, "1")["place"], state(j, "3")["place"]), ("B", "A"))


def test_places_on_one_shelf_keep_the_others():
    j = Journal()
    j.ok("add", "place", "code=A")
    for _ in range(4):
        j.animal("species=hierodula", "place=A")
    j.ok("swap", "1", "4")
    lines = [j.ok("swap", a, a2)["subjects"] for a, a2 in (("2", "3"), ("2", "3"))]
    at = {s["subject"]: s["at"] for s in lines[1]}
    ends = {s["subject"]: s["at"] for s in j.ok("swap", "1", "4")["subjects"]}
    assert ends["1"] < at["2"] < at["3"] < ends["4"], (ends, at)


def test_places_that_cannot_be_exchanged():
    j = two()
    j.animal("species=hierodula")
    assert "no shelf" in j.no(1, "swap", "1", "3")
    assert "different" in j.no(1, "swap", "1", "1")
    j.no(1, "swap", "1", "99")
    j.no(2, "swap", "1")
    j.record("2", "died")
    j.no(1, "swap", "1", "2")


# ---- mixed up ----

def mixed():
    """Both were seen since 20 May; the sex was read before and after that day."""
    j = two()
    j.record("1", "sexed", "sex=female", "method=build", "--day", "2026-05-10")
    j.record("1", "fed", "prey=house fly", "n=2", "outcome=taken", "--day", "2026-05-18")
    j.record("1", "moulted", "outcome=good", "--day", "2026-05-22")
    j.record("1", "sexed", "sex=male", "method=count", "--day", "2026-05-25")
    j.record("1", "note", "text=walks with a limp", "--day", "2026-05-26")
    j.record("1", "misted", "--day", "2026-05-26")
    j.record("2", "fed", "prey=moth", "outcome=taken", "--day", "2026-05-24")
    j.record("2", "belly", "score=4", "--day", "2026-05-28")
    return j


def test_what_was_seen_changes_its_owner():
    j = mixed()
    one, other = state(j, "1"), state(j, "2")
    equal((one["moults"]["value"], other["moults"]["value"]), (5, 4))
    answer = j.ok("swap", "1", "2", "--since", "2026-05-20")
    keys(answer, "subjects", "since", "moved", "pictures")
    equal((answer["since"], answer["moved"], answer["pictures"]), ("2026-05-20", 5, []))
    one, other = state(j, "1"), state(j, "2")
    equal((one["moults"]["value"], other["moults"]["value"]), (4, 5))
    equal((one["last_taken"], other["last_taken"]), ("2026-05-24", None))
    equal((one["belly"], other["belly"]), (4, None))
    equal((one["conflicts"], other["conflicts"]), ([], []))
    equal(j.ok("check")["conflicts"], [])


def test_old_entries_stay_readable():
    j = mixed()
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    was = [e for e in history(j, "1") if e["kind"] == "moulted"]
    equal([(e["live"], e["belongs_to"], e["entered_with"]) for e in was], [(False, "2", None)])
    assert "belongs to 2" in was[0]["text"], was
    now = [e for e in history(j, "2") if e["kind"] == "moulted"]
    equal([(e["live"], e["belongs_to"], e["entered_with"]) for e in now], [(True, None, "1")])
    equal(now[0]["names"], was[0]["id"])
    assert "entered with 1" in now[0]["text"], now
    said = next(e for e in history(j, "1") if e["kind"] == "exchanged")
    equal((said["day"], said["earliest"]), ("2026-06-01", "2026-05-20"))
    assert "had been mixed up with 2 since" in said["text"], said
    # What belongs to the cup stays with its number.
    assert any(e["kind"] == "misted" and e["live"] for e in history(j, "1"))
    assert any(e["kind"] == "fed" and e["live"] and e["day"] == "2026-05-18"
               for e in history(j, "1"))
    hits = j.ok("search", "limp")["hits"]
    equal([h["subject"] for h in hits if h["why"] == "note"], ["2"])


def test_the_sex_waits_for_a_second_look():
    j = mixed()
    assert state(j, "1")["sex"]["male"] > 0.6
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    other = state(j, "2")["sex"]
    equal((other["verdict"], other["male"]), ("undecided", 0.5))
    piece = next(e for e in other["evidence"] if e["kind"] == "count")
    equal(piece["counted"], 0)
    assert "look again" in piece["text"], piece
    # What was read before they were mixed up is still hers.
    assert state(j, "1")["sex"]["female"] > 0.5
    j.record("2", "sexed", "sex=male", "method=count")
    assert state(j, "2")["sex"]["male"] > 0.7


def test_one_undo_and_redo():
    j = mixed()
    before = all_states(j)
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    after = all_states(j)
    assert before != after
    text = j.ok("undo")["text"]
    assert "mixed up" in text, text
    equal(all_states(j), before)
    j.ok("redo")
    equal(all_states(j), after)


def test_taken_back_by_its_entry():
    j = mixed()
    before = all_states(j)
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    said = next(e for e in history(j, "2") if e["kind"] == "exchanged")
    assert "Take it back" in j.no(1, "correct", said["id"], "day=2026-05-30")
    j.ok("void", said["id"])
    equal(all_states(j), before)
    assert not any(e["live"] for e in history(j, "1") if e["kind"] == "exchanged")


def test_a_moved_entry_is_corrected_and_taken_back_as_any_other():
    j = mixed()
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    moved = next(e for e in history(j, "1") if e["kind"] == "belly" and e["live"])
    changed = j.ok("correct", moved["id"], "score=2")["id"]
    equal(state(j, "1")["belly"], 2)
    j.ok("void", changed)
    equal(state(j, "1")["belly"], 4)
    # Taken back it is nobody's: it does not come back with the other.
    moult = next(e for e in history(j, "2") if e["kind"] == "moulted" and e["live"])
    j.ok("void", moult["id"])
    equal((state(j, "1")["moults"]["value"], state(j, "2")["moults"]["value"]), (4, 4))
    old = next(e for e in history(j, "1") if e["kind"] == "moulted")
    assert "taken back" in old["text"], old


def test_mixed_up_twice_is_as_before():
    j = mixed()
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    j.ok("swap", "2", "1", "--since", "2026-05-20")
    one, other = state(j, "1"), state(j, "2")
    equal((one["moults"]["value"], other["moults"]["value"]), (5, 4))
    equal((one["belly"], other["belly"]), (None, 4))
    equal(j.ok("check")["conflicts"], [])


def test_a_death_goes_to_the_one_that_died():
    j = mixed()
    j.record("1", "died", "--day", "2026-05-30")
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    equal((state(j, "1")["alive"], state(j, "2")["alive"]), (True, False))
    equal(state(j, "2")["end_day"], "2026-05-30")


def test_what_cannot_have_been_mixed_up():
    j = mixed()
    j.animal("species=hierodula", "acquired=2026-05-25", "moults=4", "place=A")
    n = j.n_entries()
    assert "25 May" in j.no(1, "swap", "1", "3", "--since", "2026-05-20")
    j.no(1, "swap", "1", "2", "--since", "2026-06-10")
    j.no(1, "swap", "1", "A", "--since", "2026-05-20")
    j.no(1, "swap", "1", "1", "--since", "2026-05-20")
    j.record("2", "stage", "seen=adult", "--day", "2026-05-01")
    assert "adult" in j.no(1, "swap", "1", "2", "--since", "2026-05-20")
    equal(j.n_entries(), n + 1)
    j.record("3", "died", "--day", "2026-05-27")
    assert "27 May" in j.no(1, "swap", "1", "3", "--since", "2026-05-28")


def photos(j):
    first, axis = draw(j.tmp.name, "a.jpg", 1)
    second, _ = draw(j.tmp.name, "b.jpg", 2)
    ids = [j.ok("photo", "add", subject, path)["photo"]
           for subject, path in (("1", first), ("2", second))]
    for subject, photo in zip(("1", "2"), ids):
        j.record(subject, "marked", f"photo={photo}", f"axis={axis}", "count=8",
                 "small_plate=not", "side=underside")
    return ids


def test_two_of_two_kinds_are_asked():
    j = two()
    j.animal("species=hymenopus", "hatched=2026-02-01", "acquired=2026-04-20", "moults=4", "place=A")
    j.record("1", "fed", "prey=moth", "outcome=taken", "--day", "2026-05-25")
    before = j.n_entries()
    said = j.no(1, "swap", "1", "3", "--since", "2026-05-20")
    assert "of two kinds" in said and "--sure" in said, said
    equal(j.n_entries(), before)
    j.ok("swap", "1", "3")  # cups change places, whatever is in them
    j.ok("undo")
    j.ok("swap", "1", "3", "--since", "2026-05-20", "--sure")
    equal(state(j, "3")["last_taken"], "2026-05-25")


def test_pictures_go_to_whom_they_show():
    j = two()
    kept, gone = photos(j)
    assert state(j, "1")["sex"]["male"] > 0.7
    answer = j.ok("swap", "1", "2", "--since", "2026-05-15", "--shows", f"{kept}=1")
    equal(sorted((p["photo"], p["subject"], p["seen"]) for p in answer["pictures"]),
          sorted([(kept, "1", True), (gone, "1", False)]))
    one = state(j, "1")["sex"]
    counted = [e for e in one["evidence"] if e["kind"] == "count"]
    equal(sorted((e["photo"] == kept, e["counted"] > 0) for e in counted),
          [(False, False), (True, True)])
    equal(state(j, "2")["sex"]["evidence"], [])
    equal(j.ok("photo", "sex", gone)["subject"], "1")
    # Looked at again: its marks are placed anew.
    j.record("1", "marked", f"photo={gone}", "count=8", "small_plate=not", "side=underside")
    again = [e["counted"] for e in state(j, "1")["sex"]["evidence"] if e["photo"] == gone]
    assert any(c > 0 for c in again), again
    j.no(1, "record", "2", "marked", f"photo={gone}", "count=8")
    equal(j.ok("check")["clean"], True)


def test_pictures_that_are_none_of_theirs():
    j = two()
    kept, _ = photos(j)
    j.no(1, "swap", "1", "2", "--since", "2026-05-25", "--shows", f"{kept}=1")
    j.no(2, "swap", "1", "2", "--since", "2026-05-15", "--shows", kept)
    j.no(1, "swap", "1", "2", "--since", "2026-05-15", "--shows", f"{kept}=A")
    j.no(2, "swap", "1", "2", "--shows", f"{kept}=1")


def test_an_egg_case_changes_its_mother():
    j = two()
    for subject in ("1", "2"):
        j.record(subject, "moulted", "to=adult", "--day", "2026-05-05")
    code = j.ok("add", "eggcase", "mother=1", "laid=2026-05-25")["subject"]
    equal(state(j, code)["mother"], "1")
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    equal(state(j, code)["mother"], "2")
    equal([e["eggcase"] for e in state(j, "2")["egg_cases"]], [code])
    equal(state(j, "1")["egg_cases"], [])
    j.ok("undo")
    equal(state(j, code)["mother"], "1")


def test_an_egg_case_is_numbered_among_those_of_its_mother():
    j = two()
    for subject in ("1", "2"):
        j.record(subject, "moulted", "to=adult", "--day", "2026-05-05")
    hers = j.ok("add", "eggcase", "mother=1", "laid=2026-05-12")["subject"]
    mixed = j.ok("add", "eggcase", "mother=1", "laid=2026-05-25")["subject"]
    equal((state(j, hers)["series"], state(j, mixed)["series"]), (1, 2))
    j.ok("swap", "1", "2", "--since", "2026-05-20")
    equal((state(j, hers)["series"], state(j, mixed)["series"]), (1, 1))
    equal([e["series"] for e in state(j, "2")["egg_cases"]], [1])
    j.ok("undo")
    equal((state(j, hers)["series"], state(j, mixed)["series"]), (1, 2))


# ---- doubt ----

def test_doubt_until_it_is_decided():
    j = two()
    j.record("1", "moulted", "seen=yes", "--day", "2026-05-28")
    before, sure = state(j, "1"), j.ok("forecast", "1")
    j.record("1", "doubtful", "text=two cups fell over", "--earliest", "2026-05-29")
    now, wide = state(j, "1"), j.ok("forecast", "1")
    equal((before["doubtful_since"], now["doubtful_since"]), (None, "2026-05-29"))
    assert now["moults"]["sd"] > before["moults"]["sd"]
    assert (wide["days"]["p90"] / max(wide["days"]["p10"], .01)
            > 2 * sure["days"]["p90"] / sure["days"]["p10"]), (wide["days"], sure["days"])
    reason = next(r for r in wide["reasons"] if r["rule"] == "forecast.identity")
    equal(reason["day"], "2026-05-29")
    assert "doubtful since" in reason["text"], reason
    texts = [e["text"] for e in history(j, "1")]
    assert any("doubtful since" in t and "two cups fell over" in t for t in texts), texts
    j.record("1", "doubtful", "over=yes")
    equal(state(j, "1")["moults"], before["moults"])
    equal(state(j, "1")["doubtful_since"], None)
    equal(j.ok("forecast", "1")["days"], sure["days"])
    assert "nothing to decide" in j.no(1, "record", "1", "doubtful", "over=yes")


def test_doubt_leaves_the_sex_open():
    j = two()
    j.record("1", "sexed", "sex=male", "method=count", "--day", "2026-05-20")
    before = state(j, "1")["sex"]["male"]
    assert before > 0.7
    j.record("1", "doubtful")
    equal((state(j, "1")["sex"]["verdict"], state(j, "1")["sex"]["male"]), ("undecided", 0.5))
    j.record("1", "doubtful", "over=yes")
    equal(state(j, "1")["sex"]["male"], before)


def test_a_mix_up_put_right_ends_the_doubt():
    j = two()
    for subject in ("1", "2"):
        j.record(subject, "doubtful", "--earliest", "2026-05-25")
    j.ok("swap", "1", "2", "--since", "2026-05-25")
    equal([state(j, s)["doubtful_since"] for s in ("1", "2")], [None, None])
    j.ok("undo")
    equal([state(j, s)["doubtful_since"] for s in ("1", "2")], ["2026-05-25"] * 2)


def test_doubt_is_of_animals():
    j = two()
    j.no(1, "record", "A", "doubtful")
    j.no(1, "record", "1", "exchanged")
    j.no(1, "record", "1", "doubtful", "over=maybe")


# ---- gone and back ----

def test_escaped_and_found():
    j = two()
    j.record("1", "escaped", "--day", "2026-05-20")
    equal((state(j, "1")["alive"], state(j, "1")["end"]), (False, "escaped"))
    j.record("1", "found", "--day", "2026-05-23")
    equal((state(j, "1")["alive"], state(j, "1")["end"]), (True, None))
    said = [e["text"] for e in history(j, "1")]
    assert "escaped" in said and "found again" in said, said
    j.no(1, "record", "1", "found")


def test_lent_and_back():
    j = two()
    j.record("1", "left", "how=lent", "to=Mara", "--day", "2026-05-20")
    now = state(j, "1")
    equal((now["alive"], now["end"], now["lent"]), (False, "left", True))
    j.record("1", "back", "--day", "2026-05-29")
    now = state(j, "1")
    equal((now["alive"], now["end"], now["lent"]), (True, None, False))
    said = [e["text"] for e in history(j, "1")]
    assert any("lent out" in t and "Mara" in t for t in said) and "came back" in said, said


def test_looks_dead_asks_next_day():
    j = two()
    j.record("1", "looks_dead", "--day", "2026-06-01")
    equal(state(j, "1")["looks_dead"], "2026-06-01")
    asked = [t for t in j.ok("plan", today="2026-06-02")["tasks"]
             if t["subject"] == "1" and t["kind"] == "is_dead"]
    equal([t["due"] for t in asked], ["2026-06-02"])
    assert "looked dead" in asked[0]["text"] or "looked dead" in asked[0]["reasons"][0]["text"]
    j.ok("record", "1", "fed", "outcome=taken", today="2026-06-02")
    equal(j.ok("state", "1", today="2026-06-02")["looks_dead"], None)
    assert not any(t["kind"] == "is_dead" and t["subject"] == "1"
                   for t in j.ok("plan", today="2026-06-02")["tasks"])


main(collect(sys.modules[__name__]))
