#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""import csv: a table of animals, all of it or nothing."""

import json
import os
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import CLI, Journal, collect, equal, keys, main  # noqa: E402

TABLE = '''Nr.;Art;Stadium;Geschlecht;Letzte Häutung;Zuletzt gefüttert;Regal;Preis
14a;Hierodula membranacea;L4;w;vor 3 Wochen;31.05.2026;A;"12,50"
;ghost;adult;m;;;A;
31;unbekannt;;;;;"Regal ""Süd""";
'''


def write(j, text, name="table.csv"):
    path = os.path.join(j.tmp.name, name)
    with open(path, "wb") as f:
        f.write(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def test_moves_in():
    j = Journal()
    answer = j.ok("import", "csv", write(j, "\ufeff" + TABLE))
    keys(answer, "animals", "new_places", "left_out")
    equal(answer, {"animals": 3, "new_places": ["A", 'Regal "Süd"'], "left_out": ["Preis"]})
    state = j.ok("state", "14a")
    equal((state["species"], state["moults"]["value"], state["place"], state["last_offered"]),
          ("Hierodula membranacea", 3, "A", "2026-05-31"))
    equal(j.ok("state", "15")["adult"], True)
    equal(j.ok("state", "31")["species"], None)
    moved = [e for e in j.ok("history", "31")["entries"] if e["kind"] == "acquired"]
    equal(moved[0]["values"]["moved_in"], "yes")
    j.ok("undo")
    for number in ("14a", "15", "31"):
        j.no(1, "state", number)


def notes(j, number):
    return [e["values"]["text"] for e in j.ok("history", number)["entries"] if e["kind"] == "note"]


def test_what_a_spreadsheet_holds_beside():
    j = Journal("2026-06-14")
    done = j.run("import", "csv", write(j, (
        "sep=;\r\nNr.;Art;Name;Fundort;Herkunft;Bemerkungen;Geschlecht;Letzte Häutung;Preis\r\n"
        "007;hier;Frieda;Tanga;Züchter M.;\"frisst gut;\nruhig\";♀?;2026-05;12\r\n"
        "014a;ghost;;;;;m?;;\r\n31;ghost;;;;;f;;\r\n")))
    equal((done.code, done.json["left_out"]), (0, ["Preis"]))
    equal((j.ok("state", "7")["name"], j.ok("state", "7")["locality"]), ("Frieda", "Tanga"))
    equal(notes(j, "7"), ["Sex, as told: ♀?", "Herkunft: Züchter M.; frisst gut; ruhig"])
    moult = [e for e in j.ok("history", "7")["entries"] if e["kind"] == "moulted"][0]
    equal((moult["earliest"], moult["day"]), ("2026-05-01", "2026-05-31"))
    for number, sex, note in (("7", "female", True), ("14a", "male", True), ("31", "female", False)):
        told = [e["values"] for e in j.ok("history", number)["entries"] if e["kind"] == "sexed"]
        equal(told, [{"sex": sex, "method": "claim"}])
        equal(any("Sex, as told" in text for text in notes(j, number)), note)
    # "Name" alone is the name of the kind.
    j.ok("import", "csv", write(j, "number,name\n40,ghost mantis\n"))
    equal((j.ok("state", "40")["species"], j.ok("state", "40")["name"]), ("Phyllocrania paradoxa", None))
    for day, says in (("46180", "2026-06-07"), ("46180.5", "2026-06-07"), ("2026-13", "is no day")):
        assert says in j.no(1, "import", "csv", write(j, f"number,last moult\n50,{day}\n")), day
    assert "line 2" in j.no(1, "import", "csv", write(j, f"number,locality\n50,{'x' * 80}\n"))
    j.no(1, "state", "50")


def test_place_and_scheme():
    j = Journal()
    path = write(j, "cup,stage\n1,L4\n2,L5\n")
    equal(j.ok("import", "csv", path, "--place", "B", "--scheme", "2", as_json=False), "2\n")
    state = j.ok("state", "2")
    equal((state["moults"]["value"], state["place"]), (3, "B"))


def test_each_stage_with_its_scheme():
    j = Journal()
    path = write(j, "number,species,stage,Scheme,last moult\n83,hierodula,L4,2,\n84,hierodula,L4,L1,\n"
                    f"85,hierodula,L4,,\n86,hierodula,adult,2,\n87,hierodula,,1,\n88,hierodula,L4,2,{j.today}\n")
    j.ok("import", "csv", path)
    for cup, moults in (("83", 2), ("84", 3), ("85", 3), ("88", 2)):
        equal(j.ok("state", cup)["moults"]["value"], moults)
    equal([e["values"]["scheme"] for e in j.ok("history", "83")["entries"] if e["kind"] == "acquired"], [2])
    equal(j.ok("state", "86")["adult"], True)
    j = Journal()
    j.ok("import", "csv", write(j, "nr;stadium;schema\n1;L4;2\n2;L4-5;2\n"), "--scheme", "1")
    equal(j.ok("state", "1")["moults"]["value"], 2)
    equal(j.ok("state", "2")["stage"], "about L3–L4")
    for row in ("1;L4;3", "1;;x", "1;L1;2", "1;L4;of mine"):
        error = j.no(1, "import", "csv", write(j, f"nr;stadium;schema\n{row}\n"))
        assert "row 1, Stage: " in error, error


def test_nothing_is_dropped_in_silence():
    j = Journal()
    done = j.run("import", "csv", write(j, "number,species,colour,staje\n80,hierodula,green,L4\n"), as_json=False)
    equal((done.code, done.out), (0, "1\n"))
    assert "not read" in done.err and "“colour”, “staje”" in done.err, done.err
    done = j.run("import", "csv", write(j, "number,species\n81,hierodula\n"))
    equal((done.code, done.json["left_out"], done.err), (0, [], ""))
    before = j.n_entries()
    for text, says in [
            ("number,species\n82,hierodula,x,y,z\n", "“x” in line 2"),
            ("number,,species\n\n82,,hierodula\n83,green,hierodula\n", "“green” in line 4"),
            ("number,species\n", "no animals below"),
            ("number\n", "no animals below"),
            ("foo,bar\n1,2\n", "the first line was read as an animal"),
            ("number,colour\n82,green\n", "the first line was read as an animal")]:
        error = j.no(1, "import", "csv", write(j, text))
        assert says in error, (says, error)
        equal(j.n_entries(), before)
    # Empty cells beyond the headings say nothing.
    j.ok("import", "csv", write(j, "number,species\n82,hierodula,,\n"))


def test_several_stages_and_a_moult_of_today():
    """The stages are those of now, the moult of today and all: none of them is dropped, none counted twice."""
    j = Journal()
    path = write(j, f"cup,stage,last moult\n1,L4-L5,{j.today}\n2,L4-L5,\n3,L4,{j.today}\n")
    j.ok("import", "csv", path, "--place", "B", "--scheme", "1")
    for cup in ("1", "2"):
        state = j.ok("state", cup)
        equal((state["stage"], state["moults"]["p"]["3"], state["moults"]["p"]["4"]), ("about L4–L5", 0.425, 0.425))
    equal(j.ok("state", "1")["last_moult"]["latest"], j.today)
    equal(j.ok("state", "3")["stage"], "about L4")


def piped(j, table, *words):
    """import csv - with this on standard input: exit code, what was said, how many entries came."""
    before = j.n_entries()
    done = subprocess.run([CLI, "--today", j.today, "--journal", j.dir, "--json", "import", "csv", "-", *words],
                          input=table if isinstance(table, bytes) else table.encode("utf-8"),
                          capture_output=True, timeout=60, check=False)
    return done.returncode, (done.stdout or done.stderr).decode("utf-8"), j.n_entries() - before


def test_from_standard_input():
    """Rows copied in a spreadsheet have tabs, and no headings stand in the order of the table."""
    j = Journal()
    code, said, _ = piped(j, "A\t\t14a\thier\tL4\tf\t3w\tsunday\nA\t\t\tghost\tad\t\t\t\n", "--place", "B")
    equal((code, json.loads(said)), (0, {"animals": 2, "new_places": ["A"], "left_out": []}))
    equal((j.ok("state", "14a")["last_offered"], j.ok("state", "15")["adult"]), ("2026-05-31", True))
    for table in (b"", b"\x00\x01\x02", b"A\t\t\xff\n", b"A\t\t14a\thier\n", b"A\t" * 200, b"x" * (3 * 1024 * 1024)):
        code, said, more = piped(j, table)
        equal((code, more, said.startswith("mantidary-cli: ")), (1, 0, True))


def test_refuses_the_whole_table():
    j = Journal()
    before = j.n_entries()
    for text, says in [
            ("nr;art\n1;hierodula\n2;what is this\n", "row 2, Species"),
            ("nr;art\n1;hierodula\n1;hierodula\n", "stands twice"),
            ("nr;letzte häutung\n1;1.1.2099\n", "still to come"),
            ("", "nothing in it"),
            (b"nr;art\n1;\xff\xfe\n", "UTF-8"),
            ("nr;art\n1;hierodula\n".encode("utf-16"), "no table of text"),
            ("x" * (1024 * 1024 + 10), "1 MiB"),
            ('nr;art\n1;"open\n', "line 2"),
            ("nr\n" + "\n".join(str(i) for i in range(1, 402)), "400 animals"),
            ("a;b;c;d;e;f;g;h;i\n1;2;3;4;5;6;7;8;9\n", "9 columns")]:
        error = j.no(1, "import", "csv", write(j, text))
        if says not in error:
            raise AssertionError(f"{says!r} is not in {error!r}")
        equal(j.n_entries(), before)
    j.no(1, "import", "csv", os.path.join(j.tmp.name, "nowhere.csv"))
    j.no(1, "import", "csv", j.tmp.name)
    j.no(2, "import", "csv")
    j.no(2, "import", "csv", write(j, "nr\n1\n2\n"), "--scheme", "3")
    equal(j.n_entries(), before)


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
