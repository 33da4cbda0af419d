#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What would change elsewhere, at other temperatures, fed otherwise: beside what is, and nothing written."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, main  # noqa: E402


def nymph():
    j = Journal("2026-06-01")
    j.ok("add", "place", "name=Shelf A", "code=A", "day_c=25", "night_c=25", "light_h=12")
    j.ok("add", "place", "name=Cool shelf", "code=C", "day_c=20", "night_c=18", "light_h=12")
    j.animal("species=hierodula", "place=A", "hatched=2026-03-01")
    for day in ("2026-03-14", "2026-03-26", "2026-04-10", "2026-04-25", "2026-05-12"):
        j.record("1", "moulted", "outcome=good", "seen=yes", "--day", day)
    j.record("1", "fed", "prey=house fly", "outcome=taken", "--day", "2026-05-31")
    return j


def test_cooler_is_later_and_warmer_sooner():
    j = nymph()
    cool = j.ok("what-if", "1", "--day-c", "20", "--night-c", "20")
    warm = j.ok("what-if", "1", "--day-c", "28", "--night-c", "28")
    equal(cool["now"], warm["now"])
    assert cool["then"]["days"]["p50"] > cool["now"]["days"]["p50"] > warm["then"]["days"]["p50"], (cool, warm)
    # 13 development units a day at 25 °C above 12 °C, 8 at 20 °C: the rest of the stage takes 13/8 as long.
    near = cool["then"]["days"]["p90"] / cool["now"]["days"]["p90"]
    assert 1.5 < near < 1.75, near
    equal(cool["then"]["typical_c"], 20)
    assert "instead of" in cool["text"], cool["text"]


def test_what_is_not_known_is_not_said_to_stay():
    j = nymph()
    equal(j.ok("what-if", "1", "--day-c", "20", "--night-c", "20")["unknown"], None)
    fed = j.ok("what-if", "1", "--feed", "9")
    assert fed["text"].startswith("By warmth alone the next moult is"), fed["text"]
    assert "later, if anything" in fed["text"] and fed["unknown"] in fed["text"], fed
    j.ok("add", "place", "name=New shelf", "code=N")
    moved = j.ok("what-if", "1", "--on", "N")
    assert "No temperature is known for that place" in moved["text"], moved["text"]
    equal(j.ok("what-if", "1", "--on", "C")["unknown"], None)


def test_too_cold_and_too_hot_say_no_range():
    j = nymph()
    cold = j.ok("what-if", "1", "--day-c", "12", "--night-c", "12")
    equal(cold["then"]["none_expected"], True)
    equal(cold["now"]["none_expected"], False)
    assert cold["text"].startswith("No moult to be expected while it stands at about 12 °C: too cold"), cold["text"]
    assert "perhaps past" not in cold["text"] and "As it is now: next moult about" in cold["text"], cold["text"]
    hot = j.ok("what-if", "1", "--day-c", "42", "--night-c", "41")
    equal(hot["then"]["none_expected"], True)
    assert "too hot, and heat kills; by day it wants" in hot["text"], hot["text"]


def test_what_hurts_is_said_wherever_it_is_tried_or_entered():
    j = nymph()
    equal(j.ok("what-if", "1", "--day-c", "28", "--night-c", "20")["caution"], None)
    hot = j.ok("what-if", "1", "--day-c", "45", "--night-c", "22")["caution"]
    assert hot.startswith("45 °C is above 34 °C") and "heat kills" in hot and "thermostat" in hot, hot
    assert "neither eats nor grows" in j.ok("what-if", "1", "--day-c", "20", "--night-c", "5")["caution"]
    said = j.run("add", "place", "code=H", "day_c=50", "night_c=50").err
    assert "It is recorded. 50 °C is above" in said, said
    assert j.ok("state", "H")["caution"].startswith("50 °C is above"), j.ok("state", "H")
    equal(j.ok("state", "A")["caution"], None)
    entry = j.ok("history", "H")["entries"]
    entry = next(e["id"] for e in entry if "50" in e["text"] and "day" in e["text"].lower())
    said = j.run("correct", entry, "value=48")
    assert said.code == 0 and "It is recorded. 50 °C is above" in said.err, said.err
    said = j.run("record", "A", "set", "key=day_c", "value=41").err
    assert "41 °C is above 34 °C" in said, said
    there = j.ok("what-if", "1", "--on", "H")
    assert there["caution"].startswith("50 °C is above"), there
    due = [t for t in j.ok("plan", "--to", j.today)["tasks"] if t["subject"] == "1"]
    equal((due[0]["kind"], due[0]["reasons"][0]["rule"]), ("climate", "climate.stands_hot"))
    assert "heat kills" in due[0]["reasons"][0]["text"], due[0]
    j.record("1", "done", "rule=climate")


def test_a_cold_shelf_is_no_range_anywhere():
    j = nymph()
    j.ok("add", "place", "name=Cellar", "code=K", "day_c=12", "night_c=12", "light_h=12")
    j.ok("move", "1", "K")
    forecast = j.ok("forecast", "1")
    equal(forecast["none_expected"], True)
    assert forecast["text"].startswith("no moult to be expected while it stands at about 12 °C"), forecast["text"]
    assert not any("shed" == t["kind"] for t in j.ok("plan")["tasks"])


def test_another_shelf_is_its_temperature():
    j = nymph()
    there = j.ok("what-if", "1", "--on", "C")["then"]
    kept = j.ok("what-if", "1", "--day-c", "20", "--night-c", "18")["then"]
    equal(there["typical_c"], kept["typical_c"])
    assert abs(there["days"]["p50"] - kept["days"]["p50"]) < 1, (there, kept)  # the day of the move itself


def test_fed_less_moves_the_meals_and_no_range():
    j = nymph()
    answer = j.ok("what-if", "1", "--feed", "6-8")
    equal(answer["then"]["next_meal"], "2026-06-06")
    equal(answer["then"]["meal_after"], "2026-06-12")
    equal(answer["now"]["days"], answer["then"]["days"])
    assert answer["text"].startswith("By warmth alone the next moult is "), answer["text"]


def test_of_a_lot_first_half_and_last():
    j = nymph()
    lot = j.ok("add", "lot", "species=hierodula", "hatched=2026-05-29", "place=A", "count=40")["code"]
    cool = j.ok("what-if", lot, "--on", "C")
    known = j.ok("forecast", lot)
    for key in ("first", "median", "last"):
        equal(cool["now"][key], known[key])
        assert cool["then"][key]["days"]["p50"] > known[key]["days"]["p50"], (key, cool)
    assert cool["text"].startswith("It would be: first moults about "), cool["text"]
    assert j.ok("what-if", lot, "--feed", "3")["text"].startswith("By warmth alone, as now: first moults about ")


def test_nothing_is_written():
    j = nymph()
    before = j.ok("history", "1"), j.ok("plan"), j.ok("forecast", "1")
    j.ok("what-if", "1", "--on", "C", "--feed", "9")
    equal((j.ok("history", "1"), j.ok("plan"), j.ok("forecast", "1")), before)


def test_what_cannot_be_asked():
    j = nymph()
    j.no(1, "what-if", "1", "--day-c", "20")  # and the night?
    j.no(1, "what-if", "1", "--day-c", "20", "--night-c", "25")
    j.no(1, "what-if", "1", "--day-c", "80", "--night-c", "20")
    j.no(2, "what-if", "1", "--feed", "0-90")
    j.no(1, "what-if", "1", "--feed", "61-90")
    j.no(2, "what-if", "1", "--feed", "often")
    j.no(2, "what-if", "1", "--day-c", "warm", "--night-c", "20")
    j.no(1, "what-if", "1", "--on", "1")
    j.no(1, "what-if", "A")
    j.record("1", "died")
    j.no(1, "what-if", "1")


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
