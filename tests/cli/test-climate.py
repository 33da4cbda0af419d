#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Readings of loggers through the command line: looked at, written, undone, merged, backed up, out again."""

import os
import sys
import tempfile

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, main  # noqa: E402


def shelf():
    j = Journal("2026-06-30")
    j.ok("add", "place", "code=S", "name=Shelf")
    j.animal("species=hierodula", "place=S", "acquired=2026-05-01", "moults=4")
    return j


def table(*lines):
    folder = tempfile.mkdtemp()
    path = os.path.join(folder, "attic.csv")
    with open(path, "w", encoding="utf-8") as f:
        f.write("\n".join(lines) + "\n")
    return path


def days(n, every=10):
    """n days from 1 June on, a reading every so many minutes: 20 °C by night, 26 by day."""
    rows = ["Time;Temperature °C;Humidity %"]
    for day in range(1, n + 1):
        for minute in range(0, 1440, every):
            t = 26 if 420 <= minute < 1140 else 20
            rows.append("2026-06-%02d %02d:%02d;%d,5;%d" % (day, minute // 60, minute % 60, t, 80 - t))
    return table(*rows)


def test_look_writes_nothing():
    j = shelf()
    before = j.n_entries()
    out = j.ok("import", "readings", days(3), "--place", "S", "--look")
    equal((out["readings"], out["already"], out["n_bad"], out["n_gaps"]), (432, 0, 0, 0))
    equal((out["first"], out["last"], out["step_s"]), ("2026-06-01", "2026-06-03", 600))
    equal(out["mapping"], {"time": 1, "clock": None, "temperature": 2, "humidity": 3, "unit": "C",
                           "dates": "ymd", "decimal": ",", "zone": "local"})
    equal(out["written"], False)
    equal(j.n_entries(), before)
    equal(out["text"], "432 readings, 1–3 June.")


def test_written_twice_counts_once_and_undo_is_one_step():
    j = shelf()
    path = days(3)
    equal(j.ok("import", "readings", path, "--place", "S")["readings"], 432)
    again = j.ok("import", "readings", path, "--place", "S")
    equal((again["readings"], again["already"]), (0, 432))
    more = j.ok("import", "readings", days(5), "--place", "S")
    equal((more["readings"], more["already"]), (288, 432))
    equal(j.ok("climate", "S")["readings"], 720)
    j.ok("undo")
    equal(j.ok("climate", "S")["readings"], 432)
    j.ok("undo")
    equal(j.ok("climate", "S")["readings"], 0)
    j.ok("redo")
    equal(j.ok("climate", "S")["readings"], 432)
    equal(j.ok("check")["clean"], True)


def test_another_value_of_the_same_time_is_kept_and_said():
    j = shelf()
    first = table("Time;Temperature °C;Humidity %", "2026-06-01 08:00;20,5;60", "2026-06-01 08:10;21,0;60")
    other = table("Time;Temperature °C;Humidity %", "2026-06-01 08:00;20,5;60", "2026-06-01 08:10;29,0;60",
                  "2026-06-01 08:20;21,0;60")
    j.ok("import", "readings", first, "--place", "S")
    for option in (["--look"], []):
        out = j.ok("import", "readings", other, "--place", "S", *option)
        equal((out["readings"], out["already"], out["differing"]), (2, 1, 1))
        assert "at 1 time another value is there already, both count" in out["text"], out["text"]
    climate = j.ok("climate", "S")
    equal((climate["readings"], climate["two_values"]), (4, 1))
    equal((climate["days"][0]["t_min"], climate["days"][0]["t_max"]), (20.5, 29))
    # Both are there now: neither comes again.
    for path in (first, other):
        again = j.ok("import", "readings", path, "--place", "S")
        equal((again["readings"], again["differing"]), (0, 0))


def test_two_readings_by_hand_of_one_minute():
    j = shelf()
    one = j.record("S", "reading", "t=24.5", "rh=55", "--time", "08:30")
    same = j.run("record", "S", "reading", "t=24.5", "--time", "08:30")
    equal((same.code, same.err), (0, ""))
    later = j.run("record", "S", "reading", "t=31", "--time", "08:30")
    equal(later.code, 0)
    assert "Two readings of one minute differ, and both count" in later.err, later.err
    (conflict,) = j.ok("state", "S")["conflicts"]
    equal(conflict["kind"], "two_readings")
    equal({conflict["entry"], conflict["other"]} & {later.json["id"]}, {later.json["id"]})
    j.record("S", "reading", "t=20", "--time", "09:30")
    j.record("S", "reading", "t=28", "inside=yes", "--time", "08:30")
    j.record("S", "reading", "t=20")
    j.record("S", "reading", "t=22")  # without a time: of the morning and of the evening
    equal(len(j.ok("state", "S")["conflicts"]), 1)
    equal(j.ok("void", later.json["id"]) is not None, True)
    equal(j.ok("state", "S")["conflicts"], [])
    assert one


def test_by_day():
    j = shelf()
    j.ok("import", "readings", days(2), "--place", "S")
    out = j.ok("climate", "S")
    equal([d["day"] for d in out["days"]], ["2026-06-01", "2026-06-02"])
    day = out["days"][0]
    equal((day["n"], day["t_min"], day["t_max"]), (144, 20.5, 26.5))
    assert abs(day["t_mean"] - 23.5) < 0.1, day
    # a giant of the hardy group: night up to 22, day from 22 on (common practice, no source)
    equal((day["t_above_h"], day["t_below_h"]), (0, 0))
    # the air of the day, 26.5 °C at 54 %: WMO Magnus gives a dew point of 16.4 °C
    assert abs(out["night"]["dew_point"] - 16.4) < 0.1, out["night"]
    equal(out["night"]["condenses"], False)
    equal(len(j.ok("climate", "S", "--from", "2026-06-02")["days"]), 1)


def test_shelf_and_home_are_never_mixed():
    j = shelf()
    j.ok("import", "readings", days(1), "--place", "S", "--inside")
    equal(j.ok("climate", "S")["readings"], 0)
    equal(j.ok("climate", "S", "--inside")["readings"], 144)
    equal(j.ok("import", "readings", days(1), "--place", "S")["already"], 0)
    j.record("S", "reading", "t=23", "--day", "2026-06-01", "--time", "12:00")
    equal(j.ok("climate", "S")["readings"], 145)


def test_what_is_not_said_is_asked():
    j = shelf()
    unit = table("time;temperature;rh", "2026-06-01 10:00;45;50")
    before = j.n_entries()
    assert "°C or °F" in j.no(1, "import", "readings", unit, "--place", "S")
    order = table("time;temp_c", "03/04/2026 10:00;25")
    assert "can be two days" in j.no(1, "import", "readings", order, "--place", "S")
    heads = table("2026-06-01 10:00;25;50")
    assert "which is which" in j.no(1, "import", "readings", heads, "--place", "S")
    equal(j.n_entries(), before)
    out = j.ok("import", "readings", unit, "--place", "S", "--unit", "F")
    equal(j.ok("climate", "S")["days"][0]["t_max"], 7.22)  # (45 - 32) × 5 ÷ 9
    j.ok("undo")
    j.ok("import", "readings", order, "--place", "S", "--dates", "mdy")
    equal(j.ok("climate", "S")["days"][0]["day"], "2026-03-04")
    out = j.ok("import", "readings", heads, "--place", "S", "--temperature", "2", "--humidity", "3", "--unit", "C")
    equal(out["readings"], 1)


def test_a_bad_line_refuses_all_with_line_and_reason():
    j = shelf()
    path = table("time;temp_c", "2026-06-01 10:00;25", "2026-06-01 10:10;warm", "2026-06-01 10:20;26")
    before = j.n_entries()
    message = j.no(1, "import", "readings", path, "--place", "S")
    assert "line 3" in message and "warm" in message and "Nothing was written" in message, message
    equal(j.n_entries(), before)
    equal(j.ok("import", "readings", path, "--place", "S", "--leave-out")["readings"], 2)


def test_hostile_options():
    j = shelf()
    path = days(1)
    before = j.n_entries()
    for options in (["--unit", "K"], ["--dates", "epoch"], ["--decimal", ";"], ["--zone", "Nowhere/None"],
                    ["--time", "99"], ["--temperature", "nothing"], ["--time", "-"],
                    ["--temperature", "-", "--humidity", "-"]):
        j.no(1, "import", "readings", path, "--place", "S", *options)
    j.no(2, "import", "readings", path)
    j.no(1, "import", "readings", path, "--place", "1")
    j.no(1, "import", "readings", "/nonexistent.csv", "--place", "S")
    j.no(1, "import", "readings", "/dev/null", "--place", "S")
    equal(j.n_entries(), before)


def test_zone():
    j = shelf()
    path = table("time;temp_c", "2026-06-01 23:30;25")
    j.ok("import", "readings", path, "--place", "S", "--zone", "-02:00")
    # the tests run in UTC: half past one of the next day
    equal(j.ok("climate", "S")["first"], "2026-06-02 01:30:00")


def test_zone_of_heading():
    """Times are of the zone that the heading names; letters alone are asked about."""
    j = shelf()
    path = table('"Date Time, GMT+05:00";"Temp, °C"', "2026-06-01 10:00;25")
    told = j.ok("import", "readings", path, "--place", "S")
    equal(told["mapping"]["zone"], "+05:00")
    assert "its times are GMT+05:00" in told["text"], told["text"]
    equal(j.ok("climate", "S")["first"], "2026-06-01 05:00:00")
    j = shelf()
    path = table("Date-Time (CEST);Temp °C", "2026-06-01 10:00;25")
    before = j.n_entries()
    refusal = j.no(1, "import", "readings", path, "--place", "S")
    assert "CEST" in refusal, refusal
    equal(j.n_entries(), before)
    equal(j.ok("import", "readings", path, "--place", "S", "--zone", "local")["mapping"]["zone"], "local")
    equal(j.ok("climate", "S")["first"], "2026-06-01 10:00:00")


def test_out_and_in_and_backup_and_merge():
    j = shelf()
    j.ok("import", "readings", days(2), "--place", "S")
    folder = tempfile.mkdtemp()
    path = os.path.join(folder, "out.csv")
    equal(j.ok("export", "readings", path, "--place", "S")["readings"], 288)
    j.no(1, "export", "readings", path, "--place", "S")
    again = j.ok("import", "readings", path, "--place", "S")
    equal((again["readings"], again["already"]), (0, 288))
    backup = os.path.join(folder, "b.mantidary")
    copy = os.path.join(folder, "copy")
    j.ok("backup", backup)
    j.ok("restore", backup, copy, journal=False)
    other = Journal(j.today, make=False)
    other.dir = copy
    equal(other.ok("climate", "S")["readings"], 288)
    other.ok("import", "readings", days(4), "--place", "S")
    j.ok("merge", copy)
    equal(j.ok("climate", "S")["readings"], 576)
    equal(j.ok("check")["clean"], True)


def test_a_warmer_logger_moves_the_forecast():
    """What a logger read feeds the development clock of those that stand there."""
    def p50(t):
        j = shelf()
        rows = ["Time;Temperature °C"]
        for day in range(1, 30):
            for minute in range(0, 1440, 30):
                rows.append("2026-06-%02d %02d:%02d;%d" % (day, minute // 60, minute % 60, t))
        j.record("1", "moulted", "--day", "2026-06-10")
        j.ok("import", "readings", table(*rows), "--place", "S")
        return j.ok("forecast", "1")["days"]["p50"]
    assert p50(27) + 5 < p50(20), (p50(27), p50(20))


def test_a_power_cut_asks_for_every_cup():
    j = shelf()
    j.animal("species=hierodula", "place=S", "acquired=2026-05-01", "moults=3")
    for number in ("1", "2"):
        j.record(number, "looked", "--day", "2026-06-30")
    j.record("S", "power", "out_from=22:10", "out_to=03:30", "lowest=15")
    asks = [t for t in j.ok("plan", "--to", j.today)["tasks"]
            if any(r["rule"] == "look.power" for r in t["reasons"])]
    equal(sorted(t["subject"] for t in asks), ["1", "2"])
    assert all("The power was out" in r["text"] for t in asks for r in t["reasons"]
               if r["rule"] == "look.power")
    j.record("1", "looked")
    asks = [t["subject"] for t in j.ok("plan", "--to", j.today)["tasks"]
            if any(r["rule"] == "look.power" for r in t["reasons"])]
    equal(asks, ["2"])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
