#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The forecast as it is asked for: published totals, what others of a room tell, an animal that
refuses."""

import datetime
import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main  # noqa: E402

TODAY = "2026-06-01"


def day(n):
    return (datetime.date.fromisoformat(TODAY) + datetime.timedelta(days=n)).isoformat()


def days_to(text):
    return (datetime.date.fromisoformat(text) - datetime.date.fromisoformat(TODAY)).days


def room(celsius=25, code="S"):
    j = Journal(TODAY)
    j.ok("add", "place", f"code={code}", f"day_c={celsius}", f"night_c={celsius}", "light_h=12")
    return j


def test_published_totals():
    """Moon et al. 2019, Jeonbuk ARES: Tenodera, hatch to adult 71.9 days at 25 °C, 53.5 at 28 °C."""
    for celsius, total in ((25, 71.9), (28, 53.5)):
        j = room(celsius)
        subject = j.animal("species=tenodera", "place=S", f"hatched={TODAY}")
        adult = j.ok("forecast", subject)["adult"]
        assert days_to(adult["p10"]) < total < days_to(adult["p90"]), (celsius, adult)


def test_others_of_the_room():
    j = room()
    alone = j.ok("forecast", j.animal("species=hierodula", "place=S", f"hatched={day(-1)}"))
    for _ in range(3):
        mate = j.animal("species=hierodula", "place=S", f"hatched={day(-70)}")
        for n in (1, 2, 3):
            j.record(mate, "looked", "--day", day(-70 + 22 * n - 1))
            j.record(mate, "moulted", "--day", day(-70 + 22 * n))
    slow = j.ok("forecast", "1")
    assert slow["days"]["p50"] > 1.1 * alone["days"]["p50"], (alone["days"], slow["days"])
    assert any(r["rule"] == "forecast.room" and r["shift_days"] > 0.5 for r in slow["reasons"]), \
        slow["reasons"]
    assert not any(r["rule"] == "forecast.room" for r in alone["reasons"])


def test_one_that_refuses():
    j = room()
    subject = j.animal("species=hierodula", "place=S", f"acquired={day(-40)}", "moults=4")
    equal(j.ok("forecast", subject)["fasting"], None)
    j.record(subject, "moulted", "--day", day(-16))
    for n in (-2, 0):
        j.record(subject, "fed", "prey=house fly", "outcome=refused", "--day", day(n))
    fasting = j.ok("forecast", subject)["fasting"]
    keys(fasting, "answer", "refusals", "since", "belly", "last_taken", "moulted", "text",
         "because", "todo", "avoid")
    equal((fasting["refusals"], fasting["since"], fasting["belly"], fasting["moulted"]),
          (2, day(-2), None, day(-16)))
    assert fasting["answer"] in ("moult_likely", "cannot_tell"), fasting
    j.record(subject, "belly", "score=1")
    fasting = j.ok("forecast", subject)["fasting"]
    equal(fasting["answer"], "hungry")
    assert "Water" in fasting["todo"] and "vet" in fasting["todo"], fasting
    j.record(subject, "fed", "prey=house fly", "outcome=taken")
    equal(j.ok("forecast", subject)["fasting"], None)


def test_tonight_is_said():
    """A moult of the coming night is not said to come from tomorrow on."""
    j = room()
    subject = j.animal("species=hierodula", "place=S", f"hatched={day(-9)}")
    j.record(subject, "looked", "--day", day(-1))
    j.record(subject, "sign", "sign=pumping")
    told = j.ok("forecast", subject)
    assert told["days"]["p10"] < 0.5, told["days"]
    equal(told["p10"], day(1))
    assert told["text"].startswith("next moult about 1–"), told["text"]


def test_no_moults_beyond_its_kind():
    j = room()
    subject = j.animal("species=tenodera", "place=S", f"acquired={day(-3)}")
    left = j.ok("forecast", subject)["adult"]["moults_left"]
    assert max(int(n) for n in left) <= 9, left
    assert all(p > 0 for p in left.values()), left


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
