#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What cannot be is refused; what no longer holds is not said as if it did."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, main  # noqa: E402


def feed_of(j, subject):
    return next(t for t in j.ok("plan")["tasks"] if t["kind"] == "feed" and t["subject"] == subject)


def test_away_and_back_on_one_day():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-03-01")
    for kind in (["escaped"], ["found"], ["left", "how=lent"], ["back"], ["left", "how=sold", "to=a friend"]):
        j.record("1", *kind)
    state = j.ok("state", "1")
    equal((state["alive"], state["conflicts"]), (False, []))
    equal([t for t in j.ok("plan")["tasks"] if t["subject"] == "1"], [])
    j.record("1", "back")
    equal(j.ok("state", "1")["alive"], True)


def test_while_it_was_away():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-03-01")
    j.record("1", "left", "how=lent", "--day", "2026-05-10")
    j.record("1", "back", "--day", "2026-05-20")
    before = j.n_entries()
    for kind in (["looked"], ["fed", "prey=moth", "outcome=taken"], ["moulted"]):
        said = j.no(1, "record", "1", *kind, "--day", "2026-05-15")
        assert "away" in said, said
    equal(j.n_entries(), before)
    j.record("1", "looked", "--day", "2026-05-20")
    equal(j.ok("state", "1")["conflicts"], [])


def test_what_is_told_of_the_time_away():
    j = Journal()
    for _ in range(3):
        j.animal("species=hierodula", "hatched=2026-03-01")
    j.record("1", "looked", "--day", "2026-05-09")
    j.record("1", "left", "how=lent", "--day", "2026-05-10")
    assert "seen_by=" in j.no(1, "record", "1", "moulted", "--day", "2026-05-15")
    j.record("1", "moulted", "seen_by=Hanna", "--day", "2026-05-15")  # while it is still away
    state = j.ok("state", "1")
    equal((state["alive"], state["lent"]), (False, True))
    j.record("1", "back", "--day", "2026-05-20")
    j.record("1", "fed", "prey=moth", "outcome=taken", "seen_by=Hanna", "--day", "2026-05-18")
    state = j.ok("state", "1")
    equal((state["last_moult"]["latest"], state["last_taken"], state["conflicts"]),
          ("2026-05-15", "2026-05-18", []))
    # The keeper has not seen it since.
    equal(state["last_look"], "2026-05-09")
    assert any("seen by Hanna" in e["text"] for e in j.ok("history", "1")["entries"])
    # The skin of one that escaped; and whoever was sold is no longer ours.
    j.record("2", "escaped", "--day", "2026-05-10")
    assert "seen=found" in j.no(1, "record", "2", "moulted", "--day", "2026-05-12")
    j.record("2", "moulted", "seen=found", "--day", "2026-05-12")
    j.record("2", "found", "--day", "2026-05-14")
    state = j.ok("state", "2")
    equal((state["last_moult"]["latest"], state["conflicts"]), ("2026-05-12", []))
    j.record("3", "left", "how=sold", "--day", "2026-05-10")
    j.no(1, "record", "3", "moulted", "seen_by=Hanna", "--day", "2026-05-15")


def test_what_is_of_a_later_day_does_not_count_yet():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-03-01")
    before = j.ok("state", "1")
    forecast = j.ok("forecast", "1")
    j.record("1", "moulted", "--day", "2026-06-10", today="2026-06-12")
    j.record("1", "died", "--day", "2026-06-12", today="2026-06-12")
    now = j.ok("state", "1")
    equal((now["alive"], now["moults"], now["last_moult"]), (True, before["moults"], before["last_moult"]))
    equal([c["kind"] for c in now["conflicts"]], ["future"])
    equal(j.ok("forecast", "1")["days"], forecast["days"])
    # On a day before all that is entered of it there is nothing to do for it.
    equal([t["subject"] for t in j.ok("plan", today="1990-01-01")["tasks"]], [])
    later = j.ok("state", "1", today="2026-06-12")
    equal((later["alive"], later["moults"]["value"], later["conflicts"]), (False, 1, []))


def test_more_moults_than_any_has():
    j = Journal()
    j.animal("species=hierodula", "hatched=2025-06-01")
    for i in range(14):
        j.record("1", "moulted", "--day", f"2025-{7 + i // 4:02}-{1 + 7 * (i % 4):02}")
    assert "so often" in j.no(1, "record", "1", "moulted", "--day", "2026-01-20")


def test_growth_of_an_adult():
    j = Journal()
    j.animal("species=hierodula", "hatched=2025-09-01", "acquired=2026-05-01", "moults=7")
    j.record("1", "stage", "seen=adult")
    grown = j.ok("growth", "1", "--what", "body")
    equal((grown["p50"], grown["moults"], grown["why"]), (None, None, "adult"))
    assert j.ok("growth", "1", "--what", "body", "--moults", "7")["p50"] > 0


def test_a_cue_that_is_not_there():
    j = Journal()
    there = j.ok("sex", "species=hymenopus", "moults=4", "cue=leg-lobes:female")["female"]
    absent = j.ok("sex", "species=hymenopus", "moults=4", "cue=leg-lobes:male")["male"]
    assert .5 <= absent <= there + 1e-9, (there, absent)


def test_a_later_hatch_keeps_the_shelf():
    j = Journal()
    j.ok("add", "place", "name=Shelf A", "code=A")
    j.animal("species=hierodula", "place=A", "hatched=2026-04-01")
    hatch = next(e["id"] for e in j.ok("history", "1")["entries"] if e["kind"] == "hatched")
    j.ok("correct", hatch, "day=2026-05-10")
    state = j.ok("state", "1")
    equal((state["place"], state["conflicts"]), ("A", []))
    texts = [r["text"] for t in j.ok("plan")["tasks"] if t["kind"] == "look" for r in t["reasons"]]
    assert not any("61 days" in text for text in texts), texts


def test_what_it_was_105_days_ago_is_not_its_size():
    j = Journal(today="2026-06-14")
    j.ok("add", "place", "name=Shelf A", "code=A")
    j.animal("species=hierodula", "hatched=2026-03-01", "place=A")
    equal(j.ok("forecast", "1")["last_look"], j.ok("state", "1")["last_look"])
    feed = feed_of(j, "1")
    equal(feed["prey"], [])
    rules = [r["rule"] for r in feed["reasons"]]
    assert "prey.size" not in rules and "feed.hatchling" not in rules, rules
    assert "probably moulted" in " ".join(r["text"] for r in feed["reasons"])
    # Nor is it left out of a meal as too small: nobody knows how long it is by now. It comes in by number.
    done = j.ok("round", "A", "all fed 1 house fly")
    equal((done["written"], [o["why"] for o in done["left_out"]]), (0, ["stage_unknown"]))
    equal(j.ok("round", "A", "all fed 1 melanogaster")["written"], 1)
    equal(j.ok("round", "A", "1 fed 1 house fly")["written"], 1)


def test_a_length_that_nobody_measured():
    j = Journal(today="2026-04-03")
    j.ok("add", "place", "name=Shelf S", "code=S", "day_c=25", "night_c=25")
    j.animal("species=tenodera", "place=S", "hatched=2026-04-01", "acquired=2026-04-01")
    lengths = []
    for moult in (None, "2026-04-10"):
        if moult:
            j.today = "2026-04-12"
            j.record("1", "moulted", "seen=yes", "--day", moult)
        feed = feed_of(j, "1")
        reason = next(r for r in feed["reasons"] if r["rule"].startswith("prey."))
        grown = j.ok("growth", "1", "--what", "body", "--moults", str(len(lengths)))
        equal((reason["rule"], grown["measured"]), ("prey.not_measured", 0))
        # The plan goes by the careful end of the same figures.
        assert abs(reason["value"] - grown["p10"]) < .1, (reason, grown)
        assert all(prey["mm"] <= grown["p10"] / 2 for prey in feed["prey"]) and feed["prey"], (feed, grown)
        assert "Nobody measured it" in reason["text"] and "Measure it first" in reason["text"], reason
        lengths.append(grown["p50"])
    assert 1.1 < lengths[1] / lengths[0] < 1.6, lengths
    said = j.ok("round", "S", "all fed 1 blue bottle")
    equal((said["written"], len(said["left_out"])), (0, 1))
    j.record("1", "measured", "what=body", "mm=24")
    rules = [r["rule"] for r in feed_of(j, "1")["reasons"]]
    assert "prey.size" in rules and "prey.not_measured" not in rules, rules
    equal(j.ok("round", "S", "all fed 1 blue bottle")["written"], 1)


def test_food_waits_no_longer_than_it_is_said():
    j = Journal(today="2026-05-20")
    j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=25")
    j.animal("species=hierodula", "place=A", "acquired=2026-03-01", "moults=6")
    j.record("1", "moulted", "seen=yes", "to=subadult", "--day", "2026-04-05")
    j.record("1", "measured", "what=body", "mm=60", "--day", "2026-04-14")
    j.record("1", "fed", "prey=moth", "outcome=refused", "--day", "2026-05-19")
    j.record("1", "fed", "prey=moth", "outcome=refused")
    j.record("1", "belly", "score=4")
    held = next(h for h in j.ok("plan")["held"] if h["kind"] == "feed")
    equal(held["until"], "2026-05-23")  # the score counts for three days, the longest hold is ten
    assert "score its belly again" in held["text"] + " ".join(r["text"] for r in held["reasons"]), held
    later = next(t for t in j.ok("plan", "--to", "2026-05-30")["tasks"] if t["kind"] == "feed")
    j.today = "2026-05-24"
    plan = j.ok("plan")
    then = next(t for t in plan["tasks"] if t["kind"] == "feed")
    equal((then["due"], then["latest"], then["prey"]), (later["due"], later["latest"], later["prey"]))
    equal((then["due"], then["missed"]), ("2026-05-24", False))
    assert all("feed" not in shelf["subjects"] for shelf in plan["missed"]), plan["missed"]
    equal([h for h in plan["held"] if h["kind"] == "feed"], [])


def test_impossible_beginnings():
    j = Journal()
    before = j.n_entries()
    for pairs in (["hatched=2026-05-31", "stage=adult"], ["moults=3", "stage=L6"], ["moults=3", "stage=L6", "scheme=1"],
                  ["hatched=2026-05-25", "acquired=2026-05-30", "stage=subadult"]):
        j.no(1, "add", "animal", "species=hierodula", *pairs)
    equal(j.n_entries(), before)
    j.animal("species=hierodula", "moults=5", "stage=L6", "scheme=1")
    equal(j.ok("state", "1")["moults"]["value"], 5)


def test_adult_after_two_moults():
    j = Journal()
    j.animal("species=hierodula", "hatched=2025-12-01")
    j.record("1", "moulted", "--day", "2026-01-01")
    j.record("1", "moulted", "to=adult", "--day", "2026-04-01")
    state = j.ok("state", "1")
    equal((state["moults"]["value"], state["moults"]["basis"], state["adult"]), (None, "unknown", True))
    equal([c["kind"] for c in state["conflicts"]], ["few_moults"])


def test_subadult_after_two_moults():
    """Large pads come after three moults at the least: some are missing, and its plates are not "too early"."""
    j = Journal(today="2026-06-01")
    j.animal("species=hierodula", "hatched=2026-03-01")
    j.record("1", "moulted", "--day", "2026-03-20")
    j.record("1", "moulted", "--day", "2026-04-10")
    j.record("1", "stage", "seen=subadult", "--day", "2026-05-20")
    state = j.ok("state", "1")
    equal((state["moults"]["value"], state["moults"]["basis"]), (None, "unknown"))
    equal([c["kind"] for c in state["conflicts"]], ["few_moults"])
    j.record("1", "sexed", "sex=female", "method=count")
    verdict = j.ok("state", "1")["sex"]
    assert verdict["male"] < .4, verdict
    j.animal("species=hierodula", "hatched=2026-05-20")
    j.no(1, "record", "2", "stage", "seen=subadult")  # twelve days after its hatch
    j.animal("species=hierodula", "acquired=2026-05-20", "stage=subadult")
    equal(j.ok("state", "3")["conflicts"], [])
    j.animal("species=hierodula", "acquired=2026-05-20", "stage=adult")
    equal(j.ok("state", "4")["conflicts"], [])


def test_what_was_offered_before_a_moult_is_over():
    j = Journal(today="2026-05-17")
    j.animal("species=hierodula", "acquired=2026-04-01", "stage=L5", "scheme=1")
    for day in ("2026-05-09", "2026-05-11"):
        j.record("1", "fed", "prey=green bottle", "outcome=refused", "--day", day)
    j.record("1", "belly", "score=2", "--day", "2026-05-12")
    j.record("1", "sign", "sign=pumping", "--day", "2026-05-13")
    j.record("1", "moulted", "seen=yes", "outcome=good", "--day", "2026-05-14")
    feed = [task for task in j.ok("plan")["tasks"] if task["kind"] == "feed"][0]
    assert feed["due"] >= "2026-05-16", feed
    assert not any(reason["rule"] == "feed.refused" for reason in feed["reasons"]), feed["reasons"]


def test_more_moults_than_its_days_allow():
    j = Journal(today="2026-06-01")
    said = j.no(1, "add", "animal", "species=hierodula", "hatched=2026-05-30", "acquired=2026-06-01", "stage=L6", "scheme=1")
    assert "too young" in said or "so soon" in said or "hatch" in said, said
    j.animal("species=hierodula", "acquired=2026-05-01", "stage=L6", "scheme=1")
    j.no(1, "record", "1", "hatched", "--day", "2026-04-30")
    j.no(1, "add", "animal", "species=hierodula", "hatched=2026-05-20", "moults=4", "acquired=2026-05-30")
    j.animal("species=hierodula", "hatched=2026-04-20", "moults=4", "acquired=2026-05-30")
    equal(j.ok("state", "2")["conflicts"], [])


def test_a_subadult_moults_once_more_and_no_more():
    j = Journal(today="2026-06-20")
    j.animal("species=hierodula", "acquired=2026-05-01", "stage=L6", "scheme=1")
    j.record("1", "stage", "seen=subadult", "--day", "2026-05-05")
    j.record("1", "moulted", "to=nymph", "--day", "2026-05-20")   # what the keeper saw is taken, and does not fit
    equal([c["kind"] for c in j.ok("state", "1")["conflicts"]], ["subadult_moulted"])
    j.ok("undo")
    j.record("1", "moulted", "--day", "2026-05-20")
    equal(j.ok("state", "1")["conflicts"], [])
    said = j.no(1, "record", "1", "moulted", "--day", "2026-06-19")
    assert "wings" in said and "sure=yes" in said, said
    j.record("1", "moulted", "sure=yes", "--day", "2026-06-19")
    state = j.ok("state", "1")
    equal(([c["kind"] for c in state["conflicts"]], state["adult"]), (["subadult_moulted"], False))


def test_lengths_that_cannot_both_be_right():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01", "acquired=2026-05-20", "moults=5")
    j.record("1", "measured", "what=body", "mm=40")
    one = j.ok("growth", "1", "--what", "body", "--moults", "5")
    j.record("1", "measured", "what=body", "mm=5")
    two = j.ok("growth", "1", "--what", "body", "--moults", "5")
    assert two["p90"] / two["p10"] > 2 * one["p90"] / one["p10"], (one, two)
    equal([c["kind"] for c in j.ok("state", "1")["conflicts"]], ["measures"])


def test_a_length_that_none_ever_has():
    j = Journal()
    j.animal("species=hierodula", "acquired=2026-05-25", "moults=2")
    before = j.n_entries()
    said = j.no(1, "record", "1", "measured", "what=body", "mm=250")
    assert "far from what is expected" in said and "--sure" in said, said
    equal(j.n_entries(), before)
    # Far for its stage, not for its kind: it is recorded, and said.
    far = j.run("record", "1", "measured", "what=body", "mm=60")
    equal(far.code, 0)
    assert "It is recorded. 60 mm is far" in far.err, far.err
    j.ok("undo")
    plausible = j.run("record", "1", "measured", "what=body", "mm=15")
    equal((plausible.code, plausible.err), (0, ""))
    # A part is never longer than the whole.
    j.no(1, "record", "1", "measured", "what=pronotum", "mm=200")
    assert "far from" in j.run("record", "1", "measured", "what=head", "mm=30").err
    j.ok("undo")
    equal(j.run("record", "1", "measured", "what=head", "mm=3").err, "")
    j.record("1", "measured", "what=body", "mm=250", "--sure")


def test_a_lot_is_fed_without_a_number():
    j = Journal()
    j.ok("add", "lot", "species=hierodula", "count=60", "code=H7", "hatched=2026-04-20", "moults=3")
    feed = feed_of(j, "H7")
    assert feed["prey"], feed
    equal({p["n"] for p in feed["prey"]}, {None})


def test_care_before_it_came():
    j = Journal()
    j.animal("species=hierodula", "acquired=2026-05-20", "moults=5")
    for kind in (["looked"], ["misted"], ["belly", "score=3"]):
        j.no(1, "record", "1", *kind, "--day", "2026-05-10")
    j.record("1", "fed", "prey=moth", "outcome=taken", "--day", "2026-05-18")  # as it was told
    j.record("1", "moulted", "--day", "2026-05-10")


def test_a_claim_of_unknown_scheme():
    j = Journal()
    j.animal("species=hierodula", "acquired=2026-05-20", "stage=L4")
    equal(j.ok("state", "1")["stage"], "about L3–L4")
    j.animal("species=hierodula", "acquired=2026-05-20", "stage=L4", "scheme=1")
    equal(j.ok("state", "2")["stage"], "about L4")


def test_it_looks_dead_is_a_look():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-02-01")
    j.record("1", "looked", "--day", "2026-05-20")
    j.record("1", "looks_dead")
    texts = [r["text"] for t in j.ok("plan")["tasks"] for r in t["reasons"]]
    assert not any("Not seen for" in text for text in texts), texts


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
