#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Finding a fact again: by what a thing is called, where it stands, what it ate, what was noted."""

import os
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main  # noqa: E402


def collection():
    j = Journal("2026-06-01")
    for code in "AB":
        j.ok("add", "place", f"name=Shelf {code}", f"code={code}", "day_c=25", "night_c=20")
    j.animal("species=hierodula", "hatched=2026-03-01", "number=14", "place=A", "name=Zoë")
    j.animal("species=phyllocrania", "hatched=2026-03-01", "number=22", "place=B")
    j.animal("species=phyllocrania", "hatched=2026-03-01", "number=140", "place=A")
    j.ok("record", "14", "note", "text=Hung upside-down under the lid, très calme", "--day", "2026-05-20")
    j.ok("record", "22", "note", "text=hung well", "--day", "2026-05-25")
    j.ok("record", "22", "fed", "prey=moth", "n=1", "--day", "2026-05-28")
    j.ok("record", "14", "fed", "prey=cricket", "n=1", "--day", "2026-05-29")
    return j


def found(j, *text, **options):
    hits = j.ok("search", *text, **options)["hits"]
    for hit in hits:
        keys(hit, "why", "subject", "id", "kind", "alive")
    return [(hit["why"], hit["subject"]) for hit in hits]


def test_numbers_names_kinds_and_places():
    j = collection()
    equal(found(j, "14"), [("label", "14"), ("label", "140")])
    equal(found(j, "zoe"), [("name", "14")])
    equal(found(j, "ZOË"), [("name", "14")])
    equal(found(j, "ghost"), [("species", "22"), ("species", "140")])
    equal(found(j, "phyl", "para"), [("species", "22"), ("species", "140")])
    equal(found(j, "shelf", "b"), [("name", "B"), ("place", "22")])


def test_words_may_be_of_different_things():
    j = collection()
    equal(found(j, "ghost", "shelf", "a"), [("species", "140")])
    equal(found(j, "ghost", "zoe"), [])


def test_a_word_is_its_beginning_only():
    j = collection()
    equal(found(j, "host"), [])
    equal(found(j, "40"), [])


def test_notes_the_latest_first():
    j = collection()
    hits = j.ok("search", "hung")["hits"]
    equal([(h["why"], h["subject"], h["day"]) for h in hits],
          [("note", "22", "2026-05-25"), ("note", "14", "2026-05-20")])
    assert "hung well" in hits[0]["text"], hits[0]
    equal(found(j, "hung", "lid"), [("note", "14")])
    equal(found(j, "tres"), [("note", "14")])


def test_a_sharp_s_is_two():
    j = collection()
    for number, text in (("14", "Straße, Größe 12"), ("22", "Strasse, Groesse 12"), ("140", "Messung fuss")):
        j.record(number, "note", f"text={text}", "--day", "2026-05-27")
    both = [("note", "14"), ("note", "22")]
    for word in ("straße", "strasse", "STRASSE", "Straße"):
        equal(sorted(found(j, word)), both)
    equal(sorted(found(j, "strasse", "12")), both)
    equal(found(j, "grosse"), [("note", "14")])
    equal(found(j, "größ"), [("note", "14")])
    equal(found(j, "fuß"), [("note", "140")])
    equal(found(j, "strasse", "nowhere"), [])


def test_a_note_taken_back_is_not_found():
    j = collection()
    note = j.ok("search", "lid")["hits"][0]["entry"]
    j.ok("void", note)
    equal(found(j, "lid"), [])
    j.ok("undo")
    equal(found(j, "lid"), [("note", "14")])


def test_prey():
    j = collection()
    equal(found(j, "moth"), [("prey", "22")])
    equal(found(j, "moths"), [("prey", "22")])
    equal(found(j, "crick"), [("prey", "14")])


def test_the_latest_meal_that_still_counts():
    j = collection()
    earlier = j.ok("search", "moth")["hits"][0]["entry"]
    j.ok("record", "22", "fed", "prey=moth", "n=1", "--day", "2026-05-30")
    latest = j.ok("search", "moth")["hits"][0]["entry"]
    assert latest != earlier, latest
    j.ok("void", latest)
    equal([hit["entry"] for hit in j.ok("search", "moth")["hits"]], [earlier])
    j.ok("record", "14", "fed", "prey=moth", "n=1", "--day", "2026-05-29")
    equal(found(j, "moth"), [("prey", "14"), ("prey", "22")])


def lives():
    j = Journal("2026-06-20")
    j.animal("species=hierodula", "acquired=2026-05-01", "stage=L5", "scheme=1", "locality=Tanga",
             "from=Börse Hamm", "number=1")
    j.animal("species=phyllocrania", "acquired=2026-05-01", "stage=adult", "number=2")
    j.animal("species=phyllocrania", "acquired=2026-05-01", "number=3", "line=Blue velvet")
    j.record("1", "fed", "prey=moth", "outcome=refused", "--day", "2026-05-10")
    j.record("1", "trouble", "what=mould", "--day", "2026-05-11")
    j.record("1", "moulted", "outcome=fell", "--day", "2026-05-12")
    j.record("1", "sexed", "sex=male", "method=build", "--day", "2026-05-13")
    j.record("1", "left", "how=sold", "to=Frau Müller", "--day", "2026-06-01")
    j.record("2", "fed", "prey=moth", "outcome=taken", "--day", "2026-05-10")
    j.record("3", "died", "cause=Mismoult XYZ", "--day", "2026-06-02")
    return j


def test_results_causes_buyers_and_origins():
    j = lives()
    for text, hits in [("refused", [("prey", "1")]), ("mould", [("entry", "1")]), ("fell", [("entry", "1")]),
                       ("sold", [("entry", "1")]), ("müller", [("entry", "1")]), ("frau mull", [("entry", "1")]),
                       ("xyz", [("entry", "3")]), ("mismoult died", [("entry", "3")]), ("tanga", [("entry", "1")]),
                       ("locality", [("entry", "1")]), ("börse", [("entry", "1")]), ("hamm", [("entry", "1")]),
                       ("eaten", [("prey", "2")]), ("moth eaten", [("prey", "2")]), ("moth ref", [("prey", "1")]),
                       ("adult", [("stage", "2"), ("entry", "2")]), ("l6", [("stage", "1")]), ("male", [("entry", "1")]),
                       ("female", []), ("velvet", [("entry", "3")])]:
        equal((text, found(j, text)), (text, hits))


def test_whose_it_was_may_be_said_beside():
    j = lives()
    equal(found(j, "hierodula", "sold"), [("entry", "1")])
    equal(found(j, "ghost", "sold"), [])
    equal(found(j, "ghost", "adult"), [("species", "2")])
    equal(found(j, "ghost", "eaten"), [("prey", "2")])
    equal(found(j, "1", "moulted"), [("entry", "1")])


def test_what_was_taken_back_or_corrected_is_not_found():
    j = lives()
    (sold,) = j.ok("search", "sold")["hits"]
    assert "Müller" in sold["text"] and sold["day"] == "2026-06-01", sold
    j.ok("correct", sold["entry"], "to=Herr Maier")
    equal((found(j, "müller"), found(j, "maier sold")), ([], [("entry", "1")]))
    j.ok("undo")
    equal((found(j, "müller"), found(j, "maier")), ([("entry", "1")], []))


def test_an_empty_answer_says_what_was_looked_through():
    j = lives()
    done = j.run("search", "nowhere")
    equal((done.code, done.json["hits"]), (0, []))
    for word in ("Nothing was found", "notes", "buyers", "deaths", "origins", "beginning of a word"):
        assert word in done.err, done.err
    equal(j.run("search", "sold").err, "")


def test_the_living_before_the_past():
    j = collection()
    j.ok("record", "22", "died")
    hits = j.ok("search", "ghost")["hits"]
    equal([(h["subject"], h["alive"]) for h in hits], [("140", True), ("22", False)])


def test_signs_of_the_query_language_are_words():
    j = collection()
    for text in ('"', "*", "hung AND OR", "NEAR(", "a' OR '1'='1", "-", "(", "%", "\\", "x" * 5000):
        found(j, text)
    equal(found(j, "…"), [])
    equal(found(j, "hung*"), [("note", "22"), ("note", "14")])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
