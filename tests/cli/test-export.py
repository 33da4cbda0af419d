#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Paper: round sheets, stickers, the sheet of a stand-in and the emergency card as PDF, read back by a tool that knows nothing of us."""

import os
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, Skip, collect, equal, keys, main  # noqa: E402


def shelves():
    """Two shelves: A with five animals in an order of their own, B with one."""
    j = Journal("2026-06-01")
    for code in "AB":
        j.ok("add", "place", f"name=Shelf {code}", f"code={code}", "day_c=25", "night_c=20")
    for number, at in ((14, 5), (2, 4), (33, 3), (7, 2)):
        j.animal("species=hierodula", "hatched=2026-03-01", f"number={number}", "place=A", f"at={at}")
    j.animal("species=unknown", "number=14a", "place=A", "at=1", "name=")
    j.animal("species=orchid", "hatched=2026-05-01", "number=50", "place=B")
    return j


def pdf(j, *words):
    path = os.path.join(j.tmp.name, "out.pdf")
    answer = j.ok(*words[:2], path, *words[2:])
    keys(answer, "file", "pages", "lines")
    with open(path, "rb") as file:
        equal(file.read(5), b"%PDF-")
    return path, answer


def text_of(path):
    if shutil.which("pdftotext") is None:
        raise Skip("pdftotext is not installed")
    done = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True)
    return done.stdout


def numbers(text):
    """The first words of the lines of a sheet."""
    words = [line.split()[0] for line in text.splitlines() if line.split()]
    return [w for w in words if w in ("14", "2", "33", "7", "14a", "50")]


def test_a_page_for_each_shelf_in_the_order_of_the_cups():
    j = shelves()
    path, answer = pdf(j, "export", "sheets")
    equal((answer["pages"], answer["lines"]), (2, 6))
    equal(numbers(text_of(path)), ["14a", "7", "33", "2", "14", "50"])


def test_one_shelf_alone():
    j = shelves()
    path, answer = pdf(j, "export", "sheets", "--place", "B")
    equal((answer["pages"], answer["lines"]), (1, 1))
    text = text_of(path)
    assert "Round sheet: Shelf B" in text and "hatchling = L1" in text, text
    equal(numbers(text), ["50"])


def test_leave_alone_and_what_is_due_are_said():
    j = shelves()
    j.ok("record", "33", "moulted", "--day", "2026-06-01")
    path, _ = pdf(j, "export", "sheets", "--place", "A")
    lines = [line for line in text_of(path).splitlines() if line.split()]
    at = next(i for i, line in enumerate(lines) if line.split()[0] == "33")
    around = " ".join(lines[at - 1:at + 2])
    assert "do not touch; free again" in around, around  # hardened enough to be fed
    at = next(i for i, line in enumerate(lines) if line.split()[0] == "7")
    assert "do not touch" not in lines[at] and "leave alone" not in lines[at], lines[at]


def test_the_dead_are_not_printed():
    j = shelves()
    j.ok("record", "33", "died")
    path, answer = pdf(j, "export", "sheets", "--place", "A")
    equal(answer["lines"], 4)
    assert "33" not in numbers(text_of(path))


def test_letter_and_a4_have_their_sizes():
    for paper, size in (("a4", "595.2"), ("letter", "612 x 792")):
        j = shelves()
        path, _ = pdf(j, "export", "sheets", "--paper", paper)
        if shutil.which("pdfinfo") is None:
            raise Skip("pdfinfo is not installed")
        info = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
        assert size in info, info


def test_stickers_hold_every_number():
    j = shelves()
    path, answer = pdf(j, "export", "stickers")
    equal((answer["pages"], answer["lines"]), (1, 6))
    text = text_of(path).split()
    for number in ("2", "7", "14", "14a", "33", "50"):
        assert number in text, (number, text)


def test_what_cannot_be_is_refused_and_leaves_nothing():
    j = shelves()
    path, _ = pdf(j, "export", "sheets", "--place", "B")
    with open(path, "rb") as file:
        before = file.read()
    j.no(1, "export", "sheets", path)  # there already
    with open(path, "rb") as file:
        equal(file.read(), before)
    j.ok("export", "sheets", path, "--replace")
    j.no(2, "export", "sheets", path, "--replace", "--paper", "a3")
    j.no(1, "export", "sheets", path, "--replace", "--place", "14")  # no place
    j.no(1, "export", "sheets", path, "--replace", "--place", "nowhere")
    said = j.no(1, "export", "sheets", os.path.join(j.tmp.name, "no", "such.pdf"))
    assert os.path.join(j.tmp.name, "no") in said and ".part" not in said, said  # the folder, no name of ours
    j.ok("add", "place", "name=Empty")
    j.no(1, "export", "sheets", os.path.join(j.tmp.name, "empty.pdf"), "--place", "Empty")
    assert not os.path.exists(os.path.join(j.tmp.name, "empty.pdf"))
    equal([n for n in os.listdir(j.tmp.name) if n.startswith(".out")], [])


# ---- for whoever looks after the animals ----


def standin(j, *more):
    return pdf(j, "export", "standin", "--from", "2026-06-02", "--to", "2026-06-08", *more)


def test_a_stand_in_gets_conditions_days_and_food():
    j = shelves()
    j.record("14", "fed", "prey=house fly", "n=2", "outcome=taken", "--day", "2026-05-31")
    path, answer = standin(j, "--call", "Mira 555 0142")
    equal((answer["pages"], answer["lines"]), (3, 6))  # what to do, then a page a shelf
    text = text_of(path)
    for words in ("For whoever looks after the animals", "Mira 555 0142", "hangs still head down", "You are not sure",
                  "Water, no food", "heating fails", "Food needed for these days", "Tue 2 Jun", "Mon 8 Jun",
                  "Day by day: Shelf A"):
        assert words in text, (words, text)
    assert "expected" not in text and "forecast" not in text, text


def test_a_stand_in_knows_where_the_flies_come_from_and_puts_in_nothing_that_bites():
    j = shelves()
    j.ok("add", "culture", "prey=hydei", "place=A", "started=2026-05-10")
    for day in ("2026-05-22", "2026-05-25", "2026-05-28"):
        j.record("14", "fed", "prey=moth", "n=2", "outcome=taken", "--day", day)
    text = " ".join(text_of(standin(j)[0]).split())
    assert "Tue 2 Jun – Mon 8 Jun 2026" in text, text
    assert "out of the jars C1" in text and "gives fruit flies" in text, text
    assert "cricket" not in text and "2 roach" not in text, text


def test_two_weeks_are_pages_of_seven_days():
    j = shelves()
    path, answer = pdf(j, "export", "standin", "--from", "2026-06-02", "--to", "2026-06-15", "--place", "A")
    equal((answer["pages"], answer["lines"]), (3, 10))
    assert "Mon 15 Jun" in text_of(path)


def test_hatchlings_always_have_flies_and_a_moulting_cup_stays_closed():
    j = shelves()
    j.ok("add", "lot", "species=hierodula", "hatched=2026-05-30", "count=80", "place=B")
    j.record("33", "sign", "sign=pumping")
    text = " ".join(text_of(standin(j)[0]).split())
    assert "flies always in view" in text, text
    assert "fruit flies at all times for 1 cup" in text, text
    assert "once it has" in text, text


def test_days_that_cannot_be():
    j = shelves()
    out = os.path.join(j.tmp.name, "none.pdf")
    for first, last, said in (("2026-05-31", "2026-06-04", "begins today"), ("2026-06-08", "2026-06-07", "first and the last"),
                              ("2026-06-02", "2026-07-03", "at most 31 days")):
        done = j.no(1, "export", "standin", out, "--from", first, "--to", last)
        assert said in done, done
    j.no(1, "export", "standin", out, "--to", "2026-06-07")
    j.no(2, "export", "standin", out, "--from", "soon", "--to", "2026-06-07")
    assert not os.path.exists(out)


def test_a_round_seen_by_somebody_else():
    j = shelves()
    for number in ("7", "14"):
        j.record(number, "measured", "what=body", "mm=40", "--day", "2026-05-30")
    j.ok("round", "A", "fed 2 house flies; 14 refused; 7 hanging", "--day", "2026-05-31", "--seen-by", "Mira")
    entries = {e["kind"]: e for e in j.ok("history", "7")["entries"] if e["day"] == "2026-05-31"}
    equal(entries["fed"]["values"]["seen_by"], "Mira")
    assert "seen by Mira" in entries["sign"]["text"], entries["sign"]
    equal(j.ok("state", "14")["refusals_since_taken"], 1)
    j.no(1, "round", "A", "misted", "--seen-by", "two\nlines")
    j.ok("undo")
    assert "seen_by" not in str([e for e in j.ok("history", "14")["entries"] if e["live"]])


def test_the_emergency_card_is_one_page_and_needs_no_journal():
    j = shelves()
    for paper in ("a4", "letter"):
        path, answer = pdf(j, "export", "emergency", "--paper", paper, "--replace")
        equal((answer["pages"], answer["lines"]), (1, 0))
        text = text_of(path)
        for words in ("still in the old skin", "Black or brown vomit", "cannot lay", "Wings crumpled", "eats nothing",
                      "Ask a vet", "Is it dead?"):
            assert words in text, (words, text)


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
