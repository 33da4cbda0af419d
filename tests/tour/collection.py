# SPDX-License-Identifier: GPL-3.0-or-later
"""The evenings of a collection: cups move in, an egg case hatches, its lot is split, a sheet is printed. All of it on
the window that stands open, and taken back again."""

import os
import re
import subprocess

from stage import equal

LAID = "2026-05-04"


def fill(stage, numbers, value):
    """One value for a range of numbers, in the column in hand."""
    stage.session.key("ctrl+r")
    stage.session.type(numbers)
    stage.session.key("Return")
    stage.session.type(value)
    stage.session.key("Return")


def moving_in(stage):
    """Ten cups move in by keys, one save writes them all and one Ctrl+Z takes them back."""
    stage.to_shelves()
    stage.session.key("ctrl+m")
    stage.says("^Moving in$")
    stage.says("^Place: a shelf")
    fill(stage, "201-210", "Warm shelf")
    stage.says("^10 animals$")
    stage.session.key("Right", "Right", "Right")
    fill(stage, "201-206", "hier")
    fill(stage, "207-210", "ghost")
    stage.session.key("Right", "ctrl+Home")
    for stage_told in ("4", "4", "sub"):
        stage.session.type(stage_told)
        stage.session.key("Return")
    stage.session.key("Right", "Right", "ctrl+Home")
    for moult in ("3w", "so"):
        stage.session.type(moult)
        stage.session.key("Return")
    stage.picture("moving-in")
    stage.session.key("ctrl+s")
    stage.told(r"^Saved: 10 animals moved in\. Ctrl\+Z takes them back\.$", 30)
    first, last = stage.cli("state", "201"), stage.cli("state", "210")
    equal((first["species"], first["moults"]["value"], last["species"]),
          ("Hierodula membranacea", 3, "Phyllocrania paradoxa"), "201 and 210")
    equal(first["last_moult"]["latest"], "2026-05-27", "3w, rounded as a keeper says it")
    stage.session.key("ctrl+z")
    stage.told(r"^Took back the moving in, from 201 on: \d+ entries\.$", 30)
    equal(stage.cli("state", "210", may_fail=True), None, "210 after undo")


def form(stage, button, note, typed=""):
    """Open a form by its button, wait for its note, type into its first field, write it."""
    stage.session.press("push button", re.compile("^" + button))
    stage.says("^" + note)
    stage.session.type(typed)
    stage.hush()  # the words of the form before would do for this one
    stage.session.key("Return")


def hatch_and_split(stage):
    """A hatch of 140 is one form, all of it one lot, and forty of them a lot of their own."""
    stage.to_shelves()
    egg = stage.cli("add", "eggcase", "species=hierodula", f"laid={LAID}", "place=Warm shelf")["code"]
    stage.session.press("push button", re.compile("^Warm shelf: "))
    stage.session.click("push button", re.compile(f"^{egg}, egg case, "), timeout=15)
    stage.session.press("push button", "Open its page")
    stage.says("^Egg case · giant Asian mantis$")
    form(stage, "Hatched", "“Make a lot” puts all", "140")
    stage.told(r"^Saved")
    form(stage, "Make a lot", "Kind, parents and shelf come from ")
    stage.told(r"^Saved")
    lot = max((hit["subject"] for hit in stage.cli("search", "H")["hits"] if hit["kind"] == "lot"),
              key=lambda code: int(code[1:]))
    equal(stage.cli("state", lot)["count"], 140, lot)
    equal(stage.cli("state", egg)["in_lots"], 140, f"of {egg} in lots")
    stage.to_shelves()
    stage.session.click("push button", re.compile(f"^{lot}, lot, "), timeout=15)
    stage.session.press("push button", "Open its page")
    stage.says("^140 at the beginning$")
    stage.picture("hatched")
    form(stage, "Split", "In it now: 140", "40")
    part = re.search(r"the new lot is (\w+)\.", stage.told("^Saved: the new lot is "))[1]
    stage.says("^40 in other lots$")
    equal([stage.cli("state", code)["count"] for code in (lot, part)], [100, 40], "after the split")
    stage.hush()
    stage.picture("split")
    for _ in range(3):
        stage.hush()
        stage.session.key("ctrl+z")
        stage.told("^Took back")
    equal(stage.cli("state", lot, may_fail=True), None, f"{lot} after undo")
    equal(stage.cli("state", egg)["hatched_n"] or 0, 0, f"hatched of {egg} after undo")


def words_of(pdf, *options):
    done = subprocess.run(["pdftotext", *options, pdf, "-"], stdout=subprocess.PIPE, text=True, timeout=30, check=False)
    return done.stdout


def round_sheet(stage):
    """Ctrl+P prints the shelf that is shown: every cup in the order in which it stands, to be ticked."""
    stage.to_shelves()
    stage.session.press("push button", re.compile("^Warm shelf: "))
    stage.says("^What did you do on Warm shelf")
    numbers = [label.split(",")[0] for label in stage.cards()]
    stage.session.key("ctrl+p")
    stage.session.find("dialog", re.compile("^Print: "), 15)
    stage.session.click("label", "Print to File", timeout=15)
    stage.session.press("push button", "Print")
    pdf = os.path.join(stage.home, "output.pdf")  # what the dialog names it
    stage.wait_for(lambda: os.path.exists(pdf) and words_of(pdf), "a printed sheet")
    told = words_of(pdf, "-layout")
    printed = re.findall(r"^ *(\d+[a-z]?) ", told, re.MULTILINE)
    equal([number for number in printed if number in numbers], numbers, "cups of the sheet")
    if stage.pictures:
        subprocess.run(["pdftoppm", "-r", "90", "-png", "-singlefile", pdf, os.path.join(stage.pictures, "round-sheet")],
                       check=True, timeout=60)


SCENES = [moving_in, hatch_and_split, round_sheet]
