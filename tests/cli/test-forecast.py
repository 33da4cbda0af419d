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
    assert told["text"].startswith("next moult about tonight "), told["text"]


def test_skin_splitting():
    """It is the moult: not one of many signs, and not two months of doubt."""
    j = room(29)
    subject = j.animal("species=idolomantis", "place=S", f"acquired={day(-100)}", "moults=5")
    j.record(subject, "moulted", "to=subadult", "--day", day(-35))
    j.record(subject, "looked", "--day", day(-1))
    j.record(subject, "sign", "sign=splitting")
    told = j.ok("forecast", subject)
    assert told["days"]["p95"] <= 1, told["days"]
    equal((told["p10"], told["p90"]), (day(1), day(1)))
    equal(told["text"], "moulting now: its skin is splitting")
    equal(told["moulting"], {"sign": "splitting", "day": TODAY})
    told = j.ok("forecast", subject, today=day(3))
    assert told["by_now"] > 0.95 and told["probably_moulted"], told
    equal(told["text"],
          "has most probably moulted, 1–2 June: its skin was splitting on 1 Jun; look")
    j.record(subject, "moulted", "to=adult", "--day", day(1), today=day(3))
    equal(j.ok("forecast", subject, today=day(3))["why"], "adult")


def test_dated_moult_has_not_begun_its_range():
    j = room()
    subject = j.animal("species=hierodula", "place=S", f"hatched={day(-60)}")
    for n in (-50, -40, -28, -2):
        j.record(subject, "looked", "--day", day(n - 1))
        j.record(subject, "moulted", "--day", day(n))
    told = j.ok("forecast", subject)
    assert not told["in_range"] and told["days"]["p10"] > 6, told["days"]
    last = next(r for r in told["reasons"] if r["rule"] == "forecast.own_stages")
    assert last["shift_days"] > 0, last  # it took long: slower, not faster
    j.record(subject, "sign", "sign=hanging")
    told = j.ok("forecast", subject)
    assert not told["in_range"] and told["days"]["p50"] > 6, told["days"]


def test_one_reading_makes_no_forecast_sure():
    j = Journal(TODAY)
    j.ok("add", "place", "code=N")
    subject = j.animal("species=hierodula", "place=N", f"hatched={TODAY}")
    before = j.ok("forecast", subject)
    j.record("N", "reading", "t=31", "--time", "13:00")
    told = j.ok("forecast", subject)
    wide = [f["days"]["p90"] / f["days"]["p10"] for f in (before, told)]
    assert wide[1] > 0.95 * wide[0], (before["days"], told["days"])
    warmth = next(r for r in told["reasons"] if r["rule"] == "forecast.warmth")
    assert "by one reading" in warmth["text"] and "night" in warmth["text"], warmth
    late = [days_to(f["adult"]["p90"]) for f in (before, told)]
    assert late[1] > 0.85 * late[0], late


def test_a_reason_goes_with_its_shift():
    j = Journal(TODAY)
    j.ok("add", "place", "code=S", "day_c=36", "night_c=18")
    told = j.ok("forecast", j.animal("species=hierodula", "place=S", f"hatched={day(-2)}"))
    warmth = next(r for r in told["reasons"] if r["rule"] == "forecast.warmth")
    assert warmth["shift_days"] > 2, warmth
    assert "36 °C" in warmth["text"] and "longer" in warmth["text"] and "Heat kills" in warmth["text"], warmth


def test_a_kind_of_its_own_name():
    """Kept, shown, found; and those of one name teach each other."""
    j = room()
    name = "Miomantis caffra"
    first = j.ok("forecast", j.animal(f"species={name}", "place=S", f"hatched={day(-1)}"))
    equal(j.ok("state", "1")["species"], name)
    assert name in j.ok("state", "1", as_json=False)
    assert "1" in [hit["subject"] for hit in j.ok("search", "caffra")["hits"]]
    stage = next(r for r in first["reasons"] if r["rule"] == "forecast.stage")
    assert "kind is not known" in stage["text"], stage
    for _ in range(3):
        mate = j.animal(f"species={name}", "place=S", f"hatched={day(-90)}")
        for n in (1, 2, 3):
            j.record(mate, "looked", "--day", day(-90 + 28 * n - 1))
            j.record(mate, "moulted", "--day", day(-90 + 28 * n))
    taught = j.ok("forecast", "1")
    assert taught["days"]["p50"] > 1.3 * first["days"]["p50"], (first["days"], taught["days"])
    assert any(r["rule"] == "forecast.room" for r in taught["reasons"]), taught["reasons"]
    other = j.ok("forecast", j.animal("species=unknown", "place=S", f"hatched={day(-1)}"))
    assert first["days"]["p50"] < other["days"]["p50"] < taught["days"]["p50"], other["days"]
    # a slip in a kind that has a profile is none of its own
    j.no(1, "add", "animal", "species=Hierodula membranacae")
    j.no(1, "add", "animal", "species=griffin")
    j.no(1, "add", "animal", "species=what is this")


def test_every_answer_has_every_key():
    j = room()
    names = set(j.ok("forecast", j.animal("species=hierodula", "place=S", f"hatched={day(-5)}")))
    j.ok("add", "lot", "species=hierodula", "place=S", "count=20", f"hatched={day(-5)}", "code=H1")
    lot = j.ok("forecast", "H1")
    adult = j.ok("forecast", j.animal("species=hierodula", "place=S", f"acquired={day(-5)}", "stage=adult"))
    assert names <= set(lot) and names <= set(adult), (names - set(lot), names - set(adult))
    rules = [r["rule"] for r in lot["reasons"]]
    assert "forecast.warmth" in rules and "forecast.stage" in rules and "forecast.lot_ends" in rules, rules
    assert all(r["text"] and not r["text"].startswith("forecast.") for r in lot["reasons"]), lot["reasons"]
    j.ok("add", "place", "code=K", "day_c=40", "night_c=39")
    hot = j.ok("forecast", j.animal("species=hierodula", "place=K", f"hatched={day(-5)}"))
    equal((hot["why"], hot["standstill"]), ("too_cold", "hot"))


def test_no_moults_beyond_its_kind():
    j = room()
    subject = j.animal("species=tenodera", "place=S", f"acquired={day(-3)}")
    left = j.ok("forecast", subject)["adult"]["moults_left"]
    assert max(int(n) for n in left) <= 9, left
    assert all(p > 0 for p in left.values()), left


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
