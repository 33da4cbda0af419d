#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""shelves.py --build BUILD --pictures DIR [COUNT …]: one shelf with 8, 40, 80 and 300 cups, to be looked at.

Each in the light and in the dark and in a window of 720 pixels, in all languages. Not a test of the suite: it says
nothing about how a shelf looks, that takes eyes. It does hold that every cup stands on the shelf and that the window
complains about nothing."""

import argparse
import os
import re
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from stage import HEIGHT, TODAY, WIDTH, Stage, equal  # noqa: E402

COUNTS = (8, 40, 80, 300)
LOOKS = (("light", {}, WIDTH), ("dark", {"ADW_DEBUG_COLOR_SCHEME": "prefer-dark"}, WIDTH), ("narrow", {}, 720),
         ("german", {"LANGUAGE": "de"}, WIDTH))
LIVING = .75  # of a synthetic collection most live on its last day; what is too many moves away
SHELF = "Wall"


def one_shelf(stage, count):
    """A synthetic collection, as many as are wanted of it on one shelf."""
    journal = os.path.join(stage.home, f"shelf-{count}")
    stage.cli("new", journal, "--animals", str(int(count / LIVING) + 4), "--days", "60", "--seed", "7", journal=False)
    stage.cli("add", "place", f"name={SHELF}", "day_c=25", "night_c=21", journal=journal)
    living = [str(number) for number in range(1, int(count / LIVING) + 5)]
    living = [number for number in living
              if (stage.cli("state", number, journal=journal, may_fail=True) or {}).get("alive")]
    if len(living) < count:
        raise AssertionError(f"{len(living)} live, {count} are wanted")
    for number in living[:count]:
        stage.cli("move", number, SHELF, journal=journal)
    return journal


def pictures(stage, count):
    journal = one_shelf(stage, count)
    for look, env, width in LOOKS:
        stage.open("--journal", journal, "--today", TODAY, env=env, size=(width, HEIGHT))
        name = stage.session.find("push button", re.compile(f"^{SHELF}: "), 20).get_name()
        stage.session.press("push button", name)
        stage.session.find("text", re.compile(SHELF), 20)
        equal(len(stage.cards()), count, "cups on the shelf")
        stage.picture(f"shelf-{count}-{look}")
        if look in ("light", "narrow"):  # the ring of the keys, and the story beside the shelf
            stage.session.key("Home", "Right", "Right")
            stage.picture(f"shelf-{count}-{look}-keys")
            stage.session.key("space")
            stage.picture(f"shelf-{count}-{look}-story")
    stage.close()


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--build", required=True)
    parser.add_argument("--pictures", required=True)
    parser.add_argument("counts", nargs="*", type=int, default=COUNTS)
    given = parser.parse_args()
    stage = Stage(given.build, given.pictures)
    try:
        for count in given.counts:
            pictures(stage, count)
            print(f"{count} cups", flush=True)
    finally:
        stage.stop()
    return 0


if __name__ == "__main__":
    sys.exit(main())
