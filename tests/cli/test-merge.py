#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Two copies of a journal, edited apart, become one: nothing lost, the same in either order, and
nothing from what is no copy."""

import os
import sqlite3
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, keys, main  # noqa: E402
from copies import copy_of, entries, pair, picture, same, shelf, states  # noqa: E402


def folder_image(j):
    """Every file of the folder, but for what SQLite keeps beside the database."""
    found = {}
    for folder, _, names in os.walk(j.dir):
        for name in names:
            path = os.path.join(folder, name)
            with open(path, "rb") as f:
                found[os.path.relpath(path, j.dir)] = f.read()
    return found


# ---- what comes ----

def test_what_was_written_apart_is_in_one():
    a, b = pair()
    here = a.record("1", "note", "text=at home")
    there = b.record("2", "note", "text=at the fair")
    b.ok("add", "place", "name=Fair", "code=F")
    new = b.animal("species=hymenopus", "place=F")
    look = a.ok("merge", b.dir, "--look")
    keys(look, "journal", "written", "entries", "already", "subjects", "photos", "drafts", "left_out",
         "numbers", "conflicts", "text")
    before = entries(a)
    equal((look["written"], look["subjects"], look["numbers"], look["conflicts"]), (False, 2, [], []))
    merged = a.ok("merge", b.dir)
    equal((merged["written"], merged["journal"]), (True, b.dir))
    for key in ("entries", "already", "subjects", "photos", "numbers", "conflicts"):
        equal(merged[key], look[key])
    equal(merged["entries"], len(entries(a)) - len(before))
    equal(merged["already"], len(before) - 1)
    assert merged["text"].startswith("Came in: "), merged["text"]
    equal(look["text"].replace("Will come in", "Came in"), merged["text"])
    ids = {e["id"] for s in ("1", "2") for e in a.ok("history", s)["entries"]}
    assert {here, there} <= ids
    equal(a.ok("state", new)["place"], "F")
    b.ok("merge", a.dir)
    same(a, b)
    assert a.ok("check")["clean"]


def test_again_it_brings_nothing():
    a, b = pair()
    b.record("2", "note", "text=once")
    a.ok("merge", b.dir)
    held, state = entries(a), states(a)
    again = a.ok("merge", b.dir)
    equal((again["entries"], again["subjects"], again["photos"]), (0, 0, 0))
    equal(again["text"], "Nothing came in: this journal had all of it.")
    equal(entries(a), held)
    equal(states(a), state)


def test_what_is_written_afterwards_comes_last():
    a, b = pair()
    b.record("1", "note", "text=there")
    a.ok("merge", b.dir)
    last = max(e[0] for e in entries(a))
    assert a.record("1", "note", "text=later").replace("-", "") > last.hex()


# ---- numbers ----

def two_of_four():
    """Both sides add number 4; the earlier one is of the journal that is returned first."""
    a, b = pair()
    equal(a.animal("species=hymenopus", "place=A"), "4")
    equal(b.animal("species=phyllocrania", "place=A"), "4")
    merged = a.ok("merge", b.dir)
    b.ok("merge", a.dir)
    return a, b, merged


def test_the_smaller_id_keeps_a_number():
    a, b, merged = two_of_four()
    (clash,) = merged["numbers"]
    equal((clash["number"], clash["kept_by"], clash["subject"]), ("4", "4", "4b"))
    assert "(Shelf A) answers to 4b until it gets a new one" in clash["text"], clash["text"]
    for j in (a, b):
        equal(j.ok("state", "4")["species"], "Hymenopus coronatus")
        other = j.ok("state", "4b")
        equal((other["species"], other["id"]), ("Phyllocrania paradoxa", clash["id"]))
        equal([c["kind"] for c in other["conflicts"]], ["number_taken"])
        hits = j.ok("search", "4b")["hits"]
        equal([(h["subject"], h["id"]) for h in hits], [("4b", clash["id"])])
        assert [c for c in j.ok("check")["conflicts"] if c.startswith("4b: ")]
    same(a, b)


def test_it_answers_everywhere_by_its_letter():
    a, _, _ = two_of_four()
    a.ok("round", "A", "4b fed 2 crickets; 4 looked")
    equal(a.ok("state", "4b")["last_offered"], a.today)
    equal(a.ok("state", "4")["last_offered"], None)
    assert "4b" in {t["subject"] for t in a.ok("plan")["tasks"]}
    a.no(1, "record", "1", "set", "key=number", "value=4b")
    a.no(1, "add", "animal", "species=unknown", "number=4B")


def test_a_new_number_ends_it():
    a, b, _ = two_of_four()
    a.record("4b", "set", "key=number", "value=9")
    equal(a.ok("state", "9")["conflicts"], [])
    a.no(1, "state", "4b")
    b.ok("merge", a.dir)
    equal(b.ok("state", "9")["species"], "Phyllocrania paradoxa")
    same(a, b)


def test_two_shelves_of_one_name_are_listed():
    a, b = pair()
    a.ok("add", "place", "name=Fair", "code=F1")
    b.ok("add", "place", "name=fair", "code=F2")
    merged = a.ok("merge", b.dir)
    equal([(c["kind"], c["subject"]) for c in merged["conflicts"]], [("name_taken", "F2")])
    assert "same name" in merged["conflicts"][0]["text"] or "this name" in merged["conflicts"][0]["text"]
    assert any("F2" in text for text in a.ok("check")["conflicts"])
    b.ok("merge", a.dir)
    equal([c["kind"] for c in b.ok("state", "F2")["conflicts"]], ["name_taken"])
    same(a, b)
    a.record("F1", "set", "key=name", "value=Market")
    equal(a.ok("state", "F2")["conflicts"], [])


def test_who_keeps_it_may_get_a_new_one_too():
    a, _, _ = two_of_four()
    a.record("4", "set", "key=number", "value=9")
    equal(a.ok("state", "4")["species"], "Phyllocrania paradoxa")
    equal(a.ok("state", "4")["conflicts"], [])


def test_a_letter_is_not_one_that_was_given():
    a, b = pair()
    a.animal("species=hymenopus", "number=7")
    a.animal("species=unknown", "number=7b")
    b.animal("species=phyllocrania", "number=7")
    (clash,) = a.ok("merge", b.dir)["numbers"]
    equal(clash["subject"], "7c")
    equal(a.ok("state", "7b")["species"], None)
    equal(a.ok("state", "7c")["species"], "Phyllocrania paradoxa")


def test_codes_of_places_too():
    a, b = pair()
    a.ok("add", "place", "name=Oak room", "code=O")
    b.ok("add", "place", "name=Old fridge", "code=O")
    (clash,) = a.ok("merge", b.dir)["numbers"]
    for words in ("“Oak room” keeps the code", "“Old fridge” answers to Ob"):
        assert words in clash["text"], clash["text"]


def test_codes_of_lots_too():
    a, b = pair()
    for j, count in ((a, 140), (b, 60)):
        equal(j.ok("add", "lot", "species=hierodula", f"count={count}", "place=A")["code"], "H1")
    (clash,) = a.ok("merge", b.dir)["numbers"]
    equal((clash["number"], clash["subject"]), ("H1", "H1b"))
    a.ok("round", "A", "H1b 3 dead")
    equal((a.ok("state", "H1")["count"], a.ok("state", "H1b")["count"]), (140, 57))


# ---- corrections ----

def test_double_corrections_are_listed():
    j = shelf()
    entry = j.record("1", "measured", "what=body", "mm=22")
    a, b = j, copy_of(j)
    a.ok("correct", entry, "mm=23")
    later = b.ok("correct", entry, "mm=24")["id"]
    (clash,) = a.ok("merge", b.dir)["conflicts"]
    equal((clash["subject"], clash["kind"], clash["entry"]), ("1", "two_replacements", later))
    b.ok("merge", a.dir)
    for side in (a, b):
        live = {e["id"] for e in side.ok("history", "1")["entries"] if e["live"]}
        assert later in live and entry not in live
        equal([c["kind"] for c in side.ok("state", "1")["conflicts"]], ["two_replacements"])
    same(a, b)


def test_one_moult_found_by_two_counts_once():
    for there in (["--day", "2026-05-31"], ["outcome=fell", "--day", "2026-05-30"]):
        j = Journal("2026-06-10")
        j.animal("species=hierodula", "stage=L5", "scheme=1", "acquired=2026-05-01")
        a, b = j, copy_of(j)
        first = a.record("1", "moulted", "--day", "2026-05-30", "--earliest", "2026-05-28")
        second = b.record("1", "moulted", *there)
        (clash,) = a.ok("merge", b.dir)["conflicts"]
        equal((clash["subject"], clash["kind"], {clash["entry"], clash["other"]}), ("1", "two_moults", {first, second}))
        assert "entered twice, and counts once" in clash["text"], clash["text"]
        b.ok("merge", a.dir)
        same(a, b)
        state = a.ok("state", "1")
        equal((state["stage"], [c["kind"] for c in state["conflicts"]]), ("about L6", ["two_moults"]))
        assert state["moults"]["p"]["6"] > .2, state["moults"]  # of one moult .15, as the seller's L5 is unsure
        assert any("entered twice" in text for text in a.ok("check")["conflicts"])
        # Either way out of it.
        a.ok("void", clash["entry"])
        equal((a.ok("state", "1")["conflicts"], a.ok("state", "1")["moults"]["p"]["6"] < .16), ([], True))
        if clash["entry"] == second and "--day" == there[0]:
            a.ok("undo")
            a.ok("correct", second, "sure=yes")
            equal((a.ok("state", "1")["conflicts"], a.ok("state", "1")["stage"]), ([], "about L7"))


def test_corrected_here_and_taken_back_there():
    for first in ("correct", "void"):
        j = Journal("2026-06-10")
        j.animal("species=hierodula", "stage=L5", "scheme=1", "acquired=2026-05-01")
        entry = j.record("1", "moulted", "--day", "2026-05-10")
        a, b = j, copy_of(j)
        if first == "void":
            b.ok("void", entry)
        correction = a.ok("correct", entry, "day=2026-05-12")["id"]
        if first == "correct":
            b.ok("void", entry)
        (clash,) = a.ok("merge", b.dir)["conflicts"]
        equal((clash["subject"], clash["kind"], clash["entry"]), ("1", "corrected_and_voided", correction))
        assert "corrected on one side and taken back on the other" in clash["text"], clash["text"]
        b.ok("merge", a.dir)
        same(a, b)
        state = a.ok("state", "1")
        equal((state["stage"], [c["kind"] for c in state["conflicts"]]), ("about L6", ["corrected_and_voided"]))
        assert any("taken back on another" in text for text in a.ok("check")["conflicts"])
        a.ok("void", correction)
        state = a.ok("state", "1")
        equal((state["stage"], state["conflicts"]), ("about L5", []))


def test_taken_back_here_and_used_there_keeps_its_name():
    j = Journal("2026-06-10")
    j.animal("species=hierodula", "acquired=2026-05-01", "stage=L5", "scheme=1", "number=1")
    a, b = j, copy_of(j)
    moult = a.record("1", "moulted", "--day", "2026-05-20")
    b.ok("undo")
    (clash,) = a.ok("merge", b.dir)["conflicts"]
    equal((clash["subject"], clash["kind"], clash["entry"]), ("1", "nameless", moult))
    b.ok("merge", a.dir)
    same(a, b)
    state = a.ok("state", "1")
    equal(([c["kind"] for c in state["conflicts"]], state["species"]), (["nameless"], None))
    assert all(t["subject"] for t in a.ok("plan")["tasks"])
    assert any(text.startswith("1: ") for text in a.ok("check")["conflicts"])
    a.no(1, "add", "animal", "species=unknown", "number=1")
    # Either way out of it.
    a.ok("void", moult)
    a.no(1, "state", "1")
    a.ok("undo")
    a.ok("record", "1", "set", "key=number", "value=1")
    equal(a.ok("state", "1")["conflicts"], [])


def test_what_cannot_be_is_told():
    a, b = pair()
    a.record("1", "died", "--day", "2026-06-08")
    b.record("1", "fed", "prey=cricket", "outcome=taken", "--day", "2026-06-09")
    (clash,) = a.ok("merge", b.dir)["conflicts"]
    equal((clash["subject"], clash["kind"]), ("1", "after_end"))
    equal(a.ok("state", "1")["alive"], False)


# ---- undo ----

def test_undo_leaves_what_came():
    a, b = pair()
    first = a.record("1", "note", "text=first")
    second = a.record("1", "note", "text=second")
    there = b.record("1", "note", "text=there")
    a.ok("merge", b.dir)
    equal(a.ok("undo")["undone"], [second])
    equal(a.ok("undo")["undone"], [first])
    equal(a.ok("redo")["redone"], [first])
    live = {e["id"] for e in a.ok("history", "1")["entries"] if e["live"]}
    assert {first, there} <= live and second not in live
    # On the other side it is the other way round: each takes back what was done in it.
    b.ok("merge", a.dir)
    equal(b.ok("undo")["undone"], [there])


def test_an_undo_of_both_sides_is_one():
    j = shelf()
    entry = j.record("1", "note", "text=mistaken")
    a, b = j, copy_of(j)
    for side in (a, b):
        equal(side.ok("undo")["undone"], [entry])
    a.ok("merge", b.dir)
    live = {e["id"] for e in a.ok("history", "1")["entries"] if e["live"]}
    assert entry not in live
    b.ok("merge", a.dir)
    same(a, b)


# ---- photos ----

def test_photos_once_and_a_lost_one_is_said():
    a, b = pair()
    both = picture(a, "both.jpg", 1)
    a.ok("photo", "add", "1", both)
    b.ok("photo", "add", "2", both)
    good = b.ok("photo", "add", "2", picture(b, "good.jpg", 2))
    lost = b.ok("photo", "add", "2", picture(b, "lost.jpg", 3))
    bad = b.ok("photo", "add", "2", picture(b, "bad.jpg", 4))

    def original(j, photo):
        return os.path.join(j.dir, "photos", photo["hash"][:2], photo["hash"] + ".jpg")

    os.unlink(original(b, lost))
    with open(original(b, bad), "r+b") as f:
        f.write(b"\0\0\0\0")
    merged = a.ok("merge", b.dir)
    equal(merged["photos"], 3)
    equal({(left["name"][10:74], left["why"]) for left in merged["left_out"]},
          {(lost["hash"], "missing"), (bad["hash"], "changed")})
    assert os.path.isfile(original(a, good))
    assert not os.path.exists(original(a, lost)) and not os.path.exists(original(a, bad))
    checked = a.run("check")
    equal((checked.code, len(checked.json["problems"])), (3, 2))
    equal(sum(len(names) for _, _, names in os.walk(os.path.join(a.dir, "photos"))), 2)


# ---- refusals ----

def refused(a, b, code, word):
    before = folder_image(a)
    for option in ([], ["--look"]):
        said = a.no(code, "merge", b if isinstance(b, str) else b.dir, *option)
        assert word in said, said
    equal({k: v for k, v in folder_image(a).items() if not k.startswith("journal.sqlite-")},
          {k: v for k, v in before.items() if not k.startswith("journal.sqlite-")})


def alter(j, sql):
    db = sqlite3.connect(f"{j.dir}/journal.sqlite")
    db.executescript(sql)
    db.close()


def test_a_newer_one_is_refused():
    a, b = pair()
    b.record("1", "note", "text=there")
    alter(b, "PRAGMA user_version = 99")
    refused(a, b, 3, "newer version")


def test_a_damaged_one_is_refused():
    a, b = pair()
    b.record("1", "note", "text=there")
    path = os.path.join(b.dir, "journal.sqlite")
    with sqlite3.connect(path) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    size = os.path.getsize(path)
    with open(path, "r+b") as f:
        f.seek(size // 2 // 4096 * 4096)
        f.write(b"\x5a" * 8192)
    refused(a, b, 3, "damaged")


def test_one_with_triggers_of_its_own_is_refused():
    a, b = pair()
    alter(b, "CREATE TRIGGER own AFTER INSERT ON draft BEGIN DELETE FROM meta; END")
    refused(a, b, 3, "damaged")


def test_one_with_changed_facts_is_refused():
    a, b = pair()
    trigger = ("CREATE TRIGGER entry_keep BEFORE UPDATE ON entry BEGIN"
               "  SELECT RAISE (ABORT, 'entries are never changed'); END")
    alter(b, f"DROP TRIGGER entry_keep; UPDATE entry SET day = day - 1; {trigger}")
    refused(a, b, 1, "not a copy")


def test_itself_nothing_and_a_file_are_refused():
    a, b = pair()
    refused(a, a.dir, 1, "open")
    link = os.path.join(a.tmp.name, "link")
    os.symlink(a.dir, link)
    refused(a, link, 1, "open")
    refused(a, a.tmp.name, 1, "no journal")
    archive = os.path.join(b.tmp.name, "b.mantidary")
    b.ok("backup", archive)
    refused(a, archive, 1, "restored")


def strangers():
    a, b = shelf(), Journal("2026-06-10")
    b.animal("species=hymenopus")
    b.ok("add", "lot", "species=hierodula", "count=30")
    return a, b


def test_a_journal_of_its_own_is_refused():
    a, b = strangers()
    before, own = entries(a), states(a)
    said = a.no(1, "merge", b.dir)
    for words in ("no copy", "1 animal", "1 lot", "Nothing was written", "--another"):
        assert words in said, (words, said)
    equal(entries(a), before)
    equal(states(a), own)
    equal(a.ok("state", "1")["species"], "Hierodula membranacea")
    look = a.run("merge", b.dir, "--look")
    equal((look.code, look.json["copy"], [n["subject"] for n in look.json["numbers"]]), (0, False, ["1b"]))
    assert "no copy" in look.err, look.err
    equal(entries(a), before)


def test_it_comes_when_told():
    a, b = strangers()
    done = a.ok("merge", b.dir, "--another")
    equal((done["written"], done["copy"], [n["subject"] for n in done["numbers"]]), (True, False, ["1b"]))
    # From now on the two have that in common.
    equal(b.ok("merge", a.dir)["copy"], True)
    same(a, b)


def test_an_empty_copy_is_one():
    a = Journal("2026-06-10")
    b = copy_of(a)
    a.animal("species=hymenopus")
    b.animal("species=hierodula")
    equal(a.ok("merge", b.dir)["written"], True)


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
