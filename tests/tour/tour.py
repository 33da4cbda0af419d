#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""tour.py --build BUILD [--pictures DIR]: the real window, driven through the main job from outside.

By its accessible names, real keys and the mouse, on a display of its own. What the window says is held
against the command line, which reads the same journal; the pictures are those of the README."""

import argparse
import os
import re
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import bench  # noqa: E402
import collection  # noqa: E402
import pages  # noqa: E402
import pictures  # noqa: E402
import rounds  # noqa: E402
import said  # noqa: E402
from stage import HEIGHT, TODAY, TOP, Stage, Tap, equal  # noqa: E402

TODAY_DATE = said.day(TODAY)
TOMORROW = "2026-06-15"


def plan_of(stage):
    """Tasks due today by subject, as the command line has them."""
    by_subject = {}
    for task in stage.cli("plan")["tasks"]:
        by_subject.setdefault(task["subject"], []).append(task)
    return by_subject


def first_page(stage):
    """The first page says what it is for and offers three ways on."""
    stage.open()
    stage.says("^A care journal for praying mantises$")
    for name in ("Begin my own journal", "Open a journal…", "Look at the demo journal"):
        stage.session.find("push button", name)
    stage.picture("welcome")


def demo_opens(stage):
    """The demo opens from the first page at its own last day, and says what it is."""
    stage.session.press("push button", "Look at the demo journal")
    stage.says("^This is the demo journal of an invented keeper", 30)
    stage.says("^Sun 14 June 2026$")
    equal(len(stage.shelves()), 3, "shelves")


def every_card_agrees(stage):
    """The words of every cup agree with state, forecast and plan of the command line."""
    stage.to_shelves()
    names = said.trade_names(os.path.join(TOP, "data", "profiles"))
    tasks, bad, seen = plan_of(stage), [], []
    for shelf in [node.get_name() for node in stage.shelves()]:
        stage.session.press("push button", shelf)
        stage.says("^What did you do on " + re.escape(shelf.split(":")[0]))
        for label in stage.cards():
            number = label.split(",")[0]
            seen.append(number)
            bad += said.wrong_in_card(label, stage.cli("state", number), stage.cli("forecast", number),
                                      tasks.get(number, []), TODAY_DATE, names)
    equal(bad, [], "what the cards say")
    equal(len(seen), len(set(seen)), "cups shown twice")
    if not 36 <= len(seen) <= 48:
        raise AssertionError(f"about 40 cups were wanted, there are {len(seen)}")
    stage.session.press("push button", stage.shelves()[0].get_name())
    stage.hush()
    stage.picture("shelves")


def due_for_food(stage, tasks):
    """A cup of the demo that is due for food and may be fed."""
    for label in stage.cards():
        number = label.split(",")[0]
        feed = [t for t in tasks.get(number, []) if t["kind"] == "feed" and said.day(t["due"]) <= TODAY_DATE]
        if feed and "leave alone" not in label and "trouble" not in label:
            return number
    raise AssertionError("no cup of this shelf is due for food")


def fed_by_key(stage):
    """Typing a number opens the cup's story; one key writes a meal, and the card and the plan follow."""
    stage.to_shelves()
    tasks = plan_of(stage)
    number = stage.fed = due_for_food(stage, tasks)
    stage.to_cup(number)
    stage.says("^What happened\\?$")
    stage.picture("story")
    before = len(stage.live(number, "fed"))
    stage.session.key("a")
    stage.told(rf"^Saved: cup {number} ate .*Ctrl\+Z takes it back\.$")
    equal(len(stage.live(number, "fed")), before + 1, "meals")
    equal(stage.cli("state", number)["last_taken"], TODAY, "last taken")
    stage.card_says(number, "seen eaten, today")
    left = [t for t in plan_of(stage).get(number, []) if t["kind"] == "feed"]
    equal([t for t in left if said.day(t["due"]) <= TODAY_DATE], [], "food still due")


def undone_in_words(stage):
    """Ctrl+Z says what it took back, Ctrl+Shift+Z what it restored."""
    number = stage.fed
    meals = len(stage.live(number, "fed"))
    stage.session.key("ctrl+z")
    stage.told(rf"^Took back: {number} fed ")
    equal(len(stage.live(number, "fed")), meals - 1, "meals after undo")
    stage.picture("undo")
    stage.session.key("ctrl+shift+z")
    stage.told(rf"^Put back: {number} fed ")
    equal(len(stage.live(number, "fed")), meals, "meals after redo")
    stage.session.key("ctrl+z")
    stage.told(rf"^Took back: {number} fed ")
    equal(stage.cli("state", number)["last_taken"] == TODAY, False, "fed today after undo")


def in_ranges(number, text):
    """Is it among "16–18, 26, 27"?"""
    return any(int(low) <= number <= int(high or low)
               for low, high in re.findall(r"(\d+)(?:–(\d+))?", text))


def round_in_one_line(stage):
    """A round is written in one line; its list says what will be written and what is left out."""
    stage.to_shelves()
    numbers = [label.split(",")[0] for label in stage.cards() if "leave alone" not in label]
    held = [label.split(",")[0] for label in stage.cards() if "leave alone" in label]
    refused = numbers[-1]
    meals = {number: len(stage.live(number, "fed")) for number in numbers}
    stage.session.key("ctrl+l")
    stage.session.type(f"all fed 1 house fly, misted; {refused} refused")
    stage.says(f"^{refused} ")
    text = " ".join(node.get_name() for node in stage.session.find_all("label"))
    left_out = re.search(r"Left out: ([^.]*) leave alone", text)
    for number in held:
        if left_out is None or not in_ranges(int(number), left_out.group(1)):
            raise AssertionError(f"{number} must be left alone and is not in the list: {text}")
    stage.hush()
    stage.picture("round-line")
    stage.session.key("Return")
    count = int(re.search(r"Saved: (\d+) entries", stage.told(r"^Saved: \d+ entries\. Ctrl\+Z takes them back\.$"))[1])
    equal(stage.live(refused, "fed")[0]["values"]["outcome"], "refused", f"{refused}")
    fed = sum(len(stage.live(number, "fed")) - meals[number] for number in numbers)
    for number in held:
        equal([e for e in stage.live(number, "fed") if e["day"] == TODAY and e["bulk"]], [], f"held {number} was fed")
    if not 2 <= fed <= count:
        raise AssertionError(f"{count} entries saved, {fed} of them meals")
    stage.session.key("Escape", "Escape", "ctrl+z")
    stage.told("^Took back the round: .*and \\d+ more\\.$")
    equal(sum(len(stage.live(number, "fed")) - meals[number] for number in numbers), 0, "meals after undo")


def animal_page(stage):
    """The animal's page says in one sentence how it is, and its forecast is the command line's."""
    stage.to_shelves()
    waiting = [label.split(",")[0] for label in stage.cards() if "next moult about" in label and "leave alone" not in label]
    number = next((number for number in waiting if stage.live(number, "photo")), waiting[0])
    stage.to_cup(number)
    stage.session.press("push button", "Open its page")
    forecast = stage.cli("forecast", number)
    days = said.moult_range(forecast)
    sentence = stage.says(rf"next moult about {days}")
    told = said.SEX[stage.cli("state", number)["sex"]["verdict"]]
    if told.split()[-1] not in sentence:
        raise AssertionError(f"“{sentence}” does not say {told}")
    texts = [node.get_name() for node in stage.session.find_all("label", showing=False)]
    for reason in forecast["reasons"]:
        if not any(reason["text"] in text for text in texts):
            raise AssertionError(f"the page does not say: {reason['text']}")


def lot_separated(stage):
    """A lot's page says how many it holds; three of them get cups of their own, and undo puts them back."""
    stage.to_shelves()
    shelf = next(node.get_name() for node in stage.shelves() if node.get_name().startswith("Shelf B"))
    stage.session.press("push button", shelf)
    before = stage.cli("state", "H1")["count"]
    stage.session.click("push button", re.compile("^H1, lot, "))
    stage.session.press("push button", "Open its page")
    stage.says("^Lot · giant Asian mantis$")
    stage.says(f"^{before} in it, ")
    stage.says("^about 88 at the beginning$")
    stage.hush()
    stage.picture("lot")
    stage.session.press("push button", re.compile("^Separate"))
    stage.says(f"^In it now: {before}")
    stage.session.type("3")
    stage.session.key("Return")
    told = stage.told(r"^Saved: 3 in cups of their own, numbers \d+ to \d+\.")
    first, last = (int(number) for number in re.findall(r"(\d+) to (\d+)", told)[0])
    equal(last - first, 2, "numbers")
    equal(stage.cli("state", "H1")["count"], before - 3, "left in the lot")
    for number in range(first, last + 1):
        equal(stage.cli("state", str(number))["lot"], "H1", f"where {number} comes from")
    stage.session.key("ctrl+z")
    stage.told("^Took back")
    equal(stage.cli("state", "H1")["count"], before, "in the lot after undo")
    equal(stage.cli("state", str(first), may_fail=True), None, f"{first} after undo")


KINDS = {"look": "look", "feed": "feed", "mist": "spray", "water": "dampen the floor", "shed": "look for a shed skin",
         "home": "larger home", "sex_check": "sex check", "clean": "clean", "climate": "climate", "heat": "heater check",
         "after_moult": "after the moult", "separate": "separate", "culture": "feeder culture", "eggcase": "egg case",
         "adult": "adult life"}


def calendar_by_keys(stage):
    """The calendar lists what is due with its reason; one key marks it done, another puts it off."""
    stage.to_shelves()
    stage.session.key("ctrl+2")
    stage.says(r"^\d+ tasks are due today")
    rows = [node.get_name() for node in stage.session.find_all("list item", re.compile(r"\w"), showing=False)]
    tasks = [task for task in stage.cli("plan", "--to", TODAY)["tasks"] if task["due"] <= TODAY]
    for task in tasks:  # what is left from earlier evenings stands by its kind in the line of its shelf
        word = KINDS[task["kind"]] if task["missed"] else task["text"].split(":")[0]
        if not any(re.search(rf"\b{re.escape(task['subject'])}\b", row) and word in row for row in rows):
            raise AssertionError(f"not in the calendar: {task['subject']} {task['text']}; it has {rows}")
    stage.hush()

    row = focused_row(stage)
    number, before = row.split(":")[0], stage.cli("history", row.split(":")[0])["entries"]
    stage.session.key("space")
    stage.told(rf"^Done: {number}: .*Ctrl\+Z takes it back\.$")
    old = {entry["id"] for entry in before}
    wrote = [entry for entry in stage.cli("history", number)["entries"] if entry["id"] not in old]
    equal(len(wrote), 1, f"entries of {number} after Space")
    if row.split(": ")[1] == "Feed":
        equal((wrote[0]["kind"], wrote[0]["values"].get("outcome")), ("fed", "offered"), "a meal done by key")
    stage.session.key("ctrl+z")
    stage.told(rf"^Took back: {number}\b")

    # Prey that bites beside an animal that hangs does not wait.
    row = focused_row(stage)
    assert "Take the prey out" in row, row
    stage.session.key("p")
    stage.told(rf"^Not put off: {row.split(':')[0]}: .*cannot wait")
    stage.hush()
    for _ in range(30):
        row = focused_row(stage)
        if re.match(r"^\w+: (Feed|Spray)", row):
            break
        stage.session.key("Down")
    number = row.split(":")[0]
    stage.session.key("p")
    stage.told(rf"^Put off to 15 Jun: {number}: .*Ctrl\+Z takes it back\.$")
    equal(stage.live(number, "put_off")[0]["values"]["until"], TOMORROW, "put off until")
    stage.session.key("ctrl+z")
    stage.told(rf"^Took back: {number}\b")


def focused_row(stage):
    """The task that the keys act on."""
    for _ in range(12):
        for node in stage.session.find_all("list item", re.compile(r"^\w+: ")):
            if "focused" in stage.session.states(node):
                return node.get_name()
        stage.session.key("Tab")
    raise AssertionError("no task of the calendar can be reached by keys")


def emergency_words(stage):
    """The emergency words stand two keys away from every page."""
    for page in ("ctrl+1", "ctrl+2"):
        stage.session.key(page)
        stage.session.key("ctrl+e")
        stage.says("old skin")
        stage.picture("emergency")
        stage.session.key("Escape")


def dark_and_narrow(stage):
    """The same shelves in the dark, and in a narrow window where nothing is lost."""
    stage.open("--journal", stage.demo, env={"ADW_DEBUG_COLOR_SCHEME": "prefer-dark"})
    stage.to_shelves()
    wide = sorted(stage.cards())
    stage.picture("shelves-dark")
    pages.in_the_dark(stage)
    bench.in_the_dark(stage)
    stage.open("--journal", stage.demo, size=(720, HEIGHT))
    stage.to_shelves()
    equal(sorted(stage.cards()), wide, "cups in the narrow window")
    width = stage.session.geometry()[2]
    if width > 720 + 12:
        raise AssertionError(f"the window cannot be made narrow: {width}")
    stage.picture("narrow")


def in_german(stage):
    """In German every card is German and says the same days."""
    stage.open("--journal", stage.demo, env={"LANGUAGE": "de"})
    stage.session.find("push button", re.compile("fällig|nichts"), 15)
    for label in stage.cards():
        if re.search(r"\b(?:next moult|leave alone|due|undecided|fed|seen)\b", label):
            raise AssertionError(f"English in German: {label}")
    stage.picture("german")
    stage.close()


SCENES = [first_page, demo_opens, every_card_agrees, fed_by_key, undone_in_words, round_in_one_line,
          animal_page, lot_separated, *collection.SCENES, calendar_by_keys, *bench.SCENES, *pictures.SCENES,
          emergency_words, *pages.SCENES, *rounds.SCENES, dark_and_narrow, in_german]


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--build", required=True)
    parser.add_argument("--pictures", help="where the pictures go; none are taken without it")
    parser.add_argument("scenes", nargs="*", help="only these")
    given = parser.parse_args()
    chosen = [scene for scene in SCENES if not given.scenes or scene.__name__ in given.scenes]
    stage = Stage(given.build, given.pictures)
    try:
        stage.make_demo()
        return 1 if Tap(chosen, stage, os.path.join(given.build, "meson-logs")).run() else 0
    finally:
        stage.stop()


if __name__ == "__main__":
    sys.exit(main())
