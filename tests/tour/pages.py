# SPDX-License-Identifier: GPL-3.0-or-later
"""The pages that are read more than typed in: the calendar in weeks, plots, climate, the values of a kind, and the
sheet for a stand-in; in the light, and the same once more in the dark."""

import math
import os
import re
import subprocess

from stage import TODAY, DriveError, equal

STANDIN = ("2026-06-15", "2026-06-19")


def to_calendar(stage):
    stage.session.key("ctrl+2")
    stage.says(r"^\d+ tasks are due today")


def calendar_in_weeks(stage):
    """The calendar shows weeks; by keys alone a day is chosen, and what it says is the plan's."""
    stage.to_shelves()
    to_calendar(stage)
    stage.session.find("panel", re.compile("^Sun 14 June: "), 15)
    stage.hush()
    stage.picture("calendar")
    stage.session.key("shift+Tab", "Right", "Down")
    said = stage.session.find("panel", re.compile("^Mon 22 June: "), 15).get_name()
    planned = stage.cli("plan", "--from", "2026-06-22", "--to", "2026-06-22")["tasks"]
    feeds = [task for task in planned if task["kind"] == "feed" and task["due"] == "2026-06-22"]
    equal(re.search(r"\bfeed (\d+)", said) and int(re.search(r"\bfeed (\d+)", said)[1]), len(feeds) or None, said)
    stage.session.key("Home")
    stage.session.find("panel", re.compile("^Sun 14 June: "), 15)


def plotted(stage):
    """A number whose stages and lengths are enough to be plotted; of those shown, the first that moulted most."""
    best = (0, None)
    for number in [label.split(",")[0] for label in stage.cards()][:8]:
        kinds = [entry["kind"] for entry in stage.cli("history", number)["entries"] if entry["live"]]
        best = max(best, (min(kinds.count("moulted"), 4) + 2 * min(kinds.count("measured"), 2), number),
                   key=lambda found: found[0])
    return best[1]


def plots(stage):
    """The animal's page plots its stages and its growth, each beside what its kind does."""
    stage.to_shelves()
    stage.plotted = plotted(stage)
    show_plots(stage)
    stage.picture("plots")


def show_plots(stage):
    stage.to_cup(stage.plotted)
    stage.session.press("push button", "Open its page")
    heading = stage.session.find("label", "How long its stages took", 15, showing=False)
    for turn in range(10):  # by the wheel, until they are what is seen
        down = stage.session.extents(heading)[1] - 160
        if down <= 0:
            break
        stage.session.mouse(1000 + turn, 500, button=5, clicks=max(1, int(down // 100)))  # it waits until it has moved
    stage.says("^How long its stages took$")


def logged(path):
    """An invented table of a logger: twelve days hour by hour, warm by day, one cool night."""
    with open(path, "w", encoding="utf-8") as table:
        table.write("time,temperature °C,humidity %\n")
        for step in range(12 * 24):
            hour, day = step % 24, 2 + step // 24
            day_part = min(max((hour - 6.5) / 2, 0), 1) - min(max((hour - 19.5) / 3, 0), 1)
            warm = 21 + 7 * day_part + .25 * math.sin(step / 5)
            cool = 4 if day == 9 and hour < 7 else 0
            table.write(f"2026-06-{day:02d} {hour:02d}:00,{warm - cool:.1f},"
                        f"{72 - 1.7 * (warm - 21) + 2 * math.sin(step / 11):.0f}\n")
    return 12 * 24


def climate(stage):
    """The climate page draws what a shelf had beside what is wanted there."""
    table = os.path.join(stage.home, "logger.csv")
    rows = logged(table)
    equal(stage.cli("import", "readings", table, "--place", "Warm shelf")["readings"], rows, "readings")
    show_climate(stage)
    stage.picture("climate")


def show_climate(stage):
    stage.to_shelves()
    for turn in range(4, -1, -1):
        stage.session.press("push button", re.compile("^Warm shelf: "))
        try:
            stage.says("^What did you do on Warm shelf", 4)
            break
        except DriveError:  # what was read by another program made these buttons anew in that moment
            if turn == 0:
                raise
    stage.session.press("frame", "Mantidary", "win.climate")
    stage.says("Warm shelf")


def profile(stage):
    """The page of a kind shows every value with where it comes from."""
    show_profile(stage)
    stage.picture("profile")


def show_profile(stage):
    stage.to_shelves()
    stage.session.press("frame", "Mantidary", "win.profiles")
    stage.says("^As shipped")


def standin_sheet(stage):
    """The sheet for a stand-in has one column a day, and every cup of the shelf."""
    pdf = os.path.join(stage.home, "standin.pdf")
    stage.cli("export", "standin", pdf, "--from", STANDIN[0], "--to", STANDIN[1], "--place", "Warm shelf",
              "--call", "Anna, 0170 000000")
    told = subprocess.run(["pdftotext", "-layout", pdf, "-"], stdout=subprocess.PIPE, text=True, timeout=30, check=True).stdout
    for word in ("Mon 15", "Fri 19", "Anna"):
        if word not in told:
            raise AssertionError(f"the sheet does not say {word}: {told[:500]}")
    if stage.pictures:
        subprocess.run(["pdftoppm", "-r", "90", "-png", "-f", "2", "-l", "2", "-singlefile", pdf,
                        os.path.join(stage.pictures, "standin")], check=True, timeout=60)


def in_the_dark(stage):
    """The same pages, in the window that is dark."""
    stage.to_shelves()
    show_plots(stage)
    stage.picture("plots-dark")
    to_calendar(stage)
    stage.picture("calendar-dark")
    show_climate(stage)
    stage.picture("climate-dark")
    show_profile(stage)
    stage.picture("profile-dark")


SCENES = [calendar_in_weeks, plots, climate, profile, standin_sheet]
