# SPDX-License-Identifier: GPL-3.0-or-later
"""The photo bench, driven on drawn pictures whose truth is known."""

import json
import os
import re
import subprocess
import sys
import time

from stage import TODAY, TOP, equal

WRONG_PX = 6   # a proposed boundary that is farther off than this is wrong enough to be moved
MOUSE_PX = 4   # how near a drag must bring it: one pixel of the screen is about two of the picture
KEY_PX = 1.5


def draw(stage, name, *words):
    """A picture and its truth; words as tour-picture takes them."""
    path = os.path.join(stage.home, name)
    tool = os.path.join(stage.build, "tests", "tour", "tour-picture")
    done = subprocess.run([tool, path, *words], stdout=subprocess.PIPE, text=True, timeout=60, check=True)
    return path, json.loads(done.stdout)


def along(truth, point):
    """How far along the straight line from base to tip, in pixels."""
    (bx, by), (tx, ty) = truth["base"], truth["tip"]
    length = ((tx - bx) ** 2 + (ty - by) ** 2) ** .5
    return ((point[0] - bx) * (tx - bx) + (point[1] - by) * (ty - by)) / length


def off(truth, found):
    """Pixels by which each found boundary misses the true one, along the axis."""
    return [along(truth, f) - along(truth, t) for f, t in zip(found, truth["bounds"])]


def straight(truth):
    (bx, by), (tx, ty), (mx, my) = truth["base"], truth["tip"], truth["mid"]
    length = ((tx - bx) ** 2 + (ty - by) ** 2) ** .5
    return abs((mx - bx) * (ty - by) - (my - by) * (tx - bx)) / length < .06 * length


def picture_with_two_errors(stage):
    """A picture whose plates are counted right and two of whose boundaries are proposed wrong."""
    for seed in range(1, 120):
        path, truth = draw(stage, "belly.jpg", str(seed), "8", "2", TODAY)
        if not straight(truth):
            continue
        axis = ",".join(f"{v:.1f}" for v in truth["base"] + truth["tip"])
        found = stage.cli("photo", "count", path, "--axis", axis, journal=False)
        if found["usable"] and found["count"] == truth["count"]:
            wrong = off(truth, [(b["x"], b["y"]) for b in found["boundaries"]])
            if sum(abs(w) > WRONG_PX + 2 for w in wrong) >= 2:
                return path, truth
    raise AssertionError("no picture among 120 on which two boundaries are proposed wrong")


class Bench:
    """What the page says of picture and marks, and how to reach a point of the picture."""

    def __init__(self, stage):
        self.stage, self.session = stage, stage.session
        self.canvas = self.session.find("image", re.compile(" · picture of .* × "))
        self.marks = self.session.find("image", "Marks on the picture", root=self.canvas)

    def _said(self, node, pattern, timeout=10):
        """The description of a node, once it matches."""
        end = time.monotonic() + timeout
        while True:
            self.session._clear(node)
            said = node.get_description() or ""
            if re.search(pattern, said):
                return said
            if time.monotonic() > end:
                raise AssertionError(f"{node.get_name()} says {said!r}, not {pattern!r}")
            time.sleep(.05)

    def on_screen(self, point):
        said = self._said(self.canvas, r"shown at [\d.]+ in 100; its top left")
        zoom, x, y = map(float, re.search(r"shown at ([\d.]+) in 100; .* at (-?\d+),(-?\d+)", said).groups())
        left, top, _, _ = self.session.extents(self.canvas)
        return left + x + point[0] * zoom / 100, top + y + point[1] * zoom / 100

    def click(self, point):
        self.session.mouse(*self.on_screen(point))

    def wait_marks(self, pattern, timeout=15):
        return self._said(self.marks, pattern, timeout)

    def boundaries(self):
        """Where they cross the axis, which is straight here: they are said in per cent of it."""
        said = self.wait_marks(r"\d+ boundar")
        bx, by = map(int, re.search(r"base at (-?\d+),(-?\d+)", said).groups())
        tx, ty = map(int, re.search(r"tip at (-?\d+),(-?\d+)", said).groups())
        shares = [float(at) / 100 for at in re.findall(r"([\d.]+)(?: ± [\d.]+)? %", said.split("from its base: ")[1])]
        return [(bx + at * (tx - bx), by + at * (ty - by)) for at in shares]

    def drag(self, index, by):
        """Drag boundary `index` by `by` (pixels of the picture)."""
        at = self.boundaries()[index]
        self.session.drag_screen(*self.on_screen(at), *self.on_screen((at[0] + by[0], at[1] + by[1])))

    def choose(self, index):
        for _ in range(20):
            if f"Chosen: boundary {index + 1} at" in self.wait_marks("mark"):
                return
            self.session.key("bracketright")
        raise AssertionError(f"boundary {index + 1} cannot be chosen by keys")

    def nudge(self, truth, index):
        """Arrow keys until the boundary stands where it belongs."""
        (bx, by), (tx, ty) = truth["base"], truth["tip"]
        steep = abs(ty - by) > abs(tx - bx)
        for _ in range(120):
            miss = off(truth, self.boundaries())[index]
            if abs(miss) <= KEY_PX:
                return
            toward_tip = miss < 0
            key = ("Down" if (ty > by) == toward_tip else "Up") if steep else \
                ("Right" if (tx > bx) == toward_tip else "Left")
            self.session.key("shift+" + key if abs(miss) >= 10 else key)
        raise AssertionError(f"keys do not bring boundary {index + 1} home: {off(truth, self.boundaries())[index]} px")

    def answer(self, question, key):
        self.stage.says(question)
        self.session.key(key)

    def next(self):
        self.session.key("Return")


def an_animal(stage, fits):
    for number in range(1, 60):
        state = stage.cli("state", str(number), may_fail=True)
        if state and state["alive"] and not state["adult"] and state["hold"] is None and fits(state):
            return str(number)
    raise AssertionError("the demo has no such animal")


def to_page(stage, number):
    stage.session.key("ctrl+1")
    stage.to_cup(number)
    stage.session.press("push button", "Open its page")
    stage.says("^What was written$")


def attach(stage, number, path, told=True):
    """The photo by the file chooser, its path typed. Its id, from the journal."""
    before = {e["id"] for e in stage.live(number, "photo")}

    def new():
        return [e for e in stage.live(number, "photo") if e["id"] not in before]

    stage.session.key("p")
    stage.session.wait_window("Choose a picture")
    time.sleep(.6)
    stage.session.type(path)
    time.sleep(.3)
    stage.session.key("Return")
    if told:
        stage.told("^Saved: the picture")
    stage.wait_for(new, "the photo in the journal")
    equal(len(new()), 1, "photos added")
    return new()[0]


def drop(stage, number, path):
    """The photo dragged in from another program."""
    before = {e["id"] for e in stage.live(number, "photo")}
    source = stage.session._spawn(["/usr/bin/python3", os.path.join(TOP, "tests", "rig", "dndsrc.py"), path], "drag.log")
    try:
        for _ in range(100):
            found = stage.session._x("search", "--onlyvisible", "--name", "drag source", check=False).split()
            if found:
                break
            time.sleep(.1)
        stage.session._x("windowmove", found[-1], "1200", "600")
        stage.session._x("windowraise", found[-1])
        time.sleep(.5)
        x, y, w, h = stage.session.geometry(int(found[-1]))
        stage.session.drag_screen(x + w / 2, y + h / 2, 300, 450, steps=25)
        stage.told("^Saved: the picture")
    finally:
        source.terminate()
        source.wait(5)
    new = [e for e in stage.live(number, "photo") if e["id"] not in before]
    equal(len(new), 1, "photos dropped")
    return new[0]


def open_bench(stage):
    stage.session.press("push button", "Count the plates")
    stage.says("^What does the picture show\\?$", 15)
    stage.hush()
    return Bench(stage)


def place_axis(bench, truth):
    """Underside, the animal; then base and tip with the mouse."""
    bench.session.key("1", "4")
    bench.next()
    bench.stage.says("^Is this the abdomen|^Click on the base of the abdomen\\.$", 40)
    if "2 marks" in bench.wait_marks("mark") or "3 marks" in bench.wait_marks("mark"):
        bench.session.key("ctrl+z")  # what the program proposed; here the marks are to be exact
    bench.stage.says("^Click on the base of the abdomen\\.$")
    bench.click(truth["base"])
    bench.wait_marks("1 mark. base at")
    bench.click(truth["tip"])
    bench.wait_marks("2 marks. base at .*tip at")
    bench.stage.says("^Are base and tip right")


def recorded_from_a_photo(stage):
    """A photo is attached, marked, corrected by mouse and by key, and the sex recorded with its doubt."""
    path, truth = picture_with_two_errors(stage)
    number = an_animal(stage, lambda s: s["species"] in ("Hierodula membranacea", "Tenodera sinensis") and (s["moults"]["value"] or 0) >= 4
                       and s["sex"]["verdict"] == "undecided" and not s["sex"]["evidence"])
    to_page(stage, number)
    photo = attach(stage, number, path)
    equal(photo["day"], TODAY, "the day of the photo, from its EXIF")
    bench = open_bench(stage)
    stage.picture("bench-what")
    place_axis(bench, truth)
    stage.picture("bench-axis")
    bench.next()
    stage.says("^Does every line lie between two plates", 30)
    equal(len(bench.boundaries()), truth["count"] - 1, "boundaries proposed")

    worst = sorted(range(truth["count"] - 1), key=lambda i: -abs(off(truth, bench.boundaries())[i]))
    if abs(off(truth, bench.boundaries())[worst[1]]) < WRONG_PX - 2:
        raise AssertionError(f"nothing to correct: {off(truth, bench.boundaries())}")
    at, goal = bench.boundaries()[worst[0]], truth["bounds"][worst[0]]
    bench.drag(worst[0], (goal[0] - at[0], goal[1] - at[1]))
    if abs(off(truth, bench.boundaries())[worst[0]]) > MOUSE_PX:
        raise AssertionError(f"the mouse left boundary {worst[0] + 1} off by {off(truth, bench.boundaries())[worst[0]]}")
    bench.choose(worst[1])
    bench.nudge(truth, worst[1])
    moved = bench.wait_marks("Chosen: boundary")
    stage.session.key("ctrl+z")  # what was moved by keys in a row goes back at once
    bench.wait_marks(f"^(?!{re.escape(moved)}$)")
    stage.session.key("ctrl+shift+z")
    bench.wait_marks(f"^{re.escape(moved)}$")
    stage.picture("bench")

    bench.next()
    stage.says("^Is the small plate between the hind legs one of the 8")
    bench.session.key("1")
    stage.picture("bench-small-plate")
    bench.next()
    bench.answer("^How does the last plate look", "2")
    bench.next()
    stage.says("^Read the verdict")
    stage.says("^Likely male, \\d+ in 100")
    stage.picture("verdict")
    bench.session.key("ctrl+Return")
    stage.told("^Saved: likely male, \\d+ in 100\\. The sex check is closed\\.")

    state = stage.cli("state", number)
    equal(state["sex"]["verdict"], "likely_male", "verdict")
    if not .9 < state["sex"]["male"] < 1:
        raise AssertionError(f"likely, with a chance of {state['sex']['male']}")
    equal({e["photo"] for e in state["sex"]["evidence"]}, {photo["id"]}, "the photo of the evidence")
    marked = stage.live(number, "marked")[0]["values"]
    equal((marked["count"], marked["by"], marked["small_plate"], marked["last_plate"]), (8, "keeper", "not", "small"))
    equal(len(marked["bounds"].split(",")), 7, "boundaries recorded")
    stage.says("^8 plates counted in the photo")
    stage.hush()
    stage.picture("animal")


def undecided_from_a_photo(stage):
    """A photo of an early stage, dropped from another program, ends undecided and says so."""
    path, truth = draw(stage, "early.jpg", "3", "6", "1", TODAY)
    number = an_animal(stage, lambda s: s["moults"]["value"] is not None and s["moults"]["value"] <= 2)
    to_page(stage, number)
    photo = drop(stage, number, path)
    bench = open_bench(stage)
    place_axis(bench, truth)
    bench.next()
    stage.says("^Does every line lie between two plates", 30)
    bench.next()
    bench.answer("^Is the small plate", "1")
    bench.session.key("4")  # of some kinds the appendages are asked for too; else the key does nothing
    bench.next()
    bench.answer("^How does the last plate look", "1")
    bench.next()
    stage.says("^Sex undecided|^Undecided|^Too early")
    stage.picture("bench-undecided")
    bench.session.key("ctrl+Return")
    stage.told("^Saved: sex undecided")
    state = stage.cli("state", number)
    equal(state["sex"]["verdict"], "undecided", "verdict")
    counted = [e["counted"] for e in state["sex"]["evidence"] if e["photo"] == photo["id"]]
    if not counted or any(abs(c) > .5 for c in counted):
        raise AssertionError(f"evidence of an early stage counts {counted}")


def refused_to_count(stage):
    """A picture out of focus carries no count; the bench says why and how to take a better one."""
    path, truth = draw(stage, "blurred.jpg", "5", "6", "2", TODAY, "unusable")
    number = an_animal(stage, lambda s: s["species"] == "Tenodera sinensis")
    axis = ",".join(f"{v:.1f}" for v in truth["base"] + truth["tip"])
    found = stage.cli("photo", "count", path, "--axis", axis, journal=False)
    equal(found["usable"], False, "usable")
    to_page(stage, number)
    attach(stage, number, path)
    bench = open_bench(stage)
    place_axis(bench, truth)
    bench.next()
    stage.says("^A picture that can be counted$", 30)
    texts = " ".join(node.get_name() for node in stage.session.find_all("label", showing=False))
    if not any(reason["text"].split(":")[0] in texts for reason in found["reasons"]):
        raise AssertionError(f"the page gives none of the reasons {found['reasons']}")
    stage.picture("bench-unusable")
    stage.session.key("Escape")


def verdict_of(bench, pages, small, last):
    """On from the boundaries: how many steps there are is the animal's."""
    bench.next()
    bench.answer("^Is the small plate", small)
    bench.session.key("4")  # as above
    bench.next()
    bench.answer("^How does the last plate look", last)
    bench.next()
    bench.stage.says(pages)


def in_the_dark(stage):
    """A female, and pictures that carry no count or come too early, in the window that is dark."""
    path, truth = draw(stage, "female.jpg", "7", "6", "1", TODAY)
    number = a_new_one(stage, 5)
    to_page(stage, number)
    attach(stage, number, path, told=False)
    bench = open_bench(stage)
    place_axis(bench, truth)
    bench.next()
    stage.says("^Does every line lie between two plates", 30)
    stage.picture("bench-dark")
    verdict_of(bench, "^Likely female, \\d+ in 100", "1", "1")
    stage.picture("verdict-dark")
    bench.session.key("ctrl+Return")
    stage.told("^Saved: likely female, \\d+ in 100")
    equal(stage.cli("state", number)["sex"]["verdict"], "likely_female", "verdict")
    stage.hush()
    again(stage, "early.jpg", ("3", "6", "1"), a_new_one(stage, 1), "bench-undecided-dark",
          lambda bench: verdict_of(bench, "^Sex undecided|^Undecided|^Too early", "1", "1"))
    again(stage, "blurred.jpg", ("5", "6", "2"), a_new_one(stage, 5), "bench-unusable-dark",
          lambda bench: stage.says("^A picture that can be counted$", 30), "unusable")


def a_new_one(stage, moults):
    """Of which nothing is known but its stage: what the scenes before left of the others' sexes is no matter."""
    number = stage.cli("add", "animal", "species=hierodula", f"acquired={TODAY}", f"moults={moults}", "place=Warm shelf")["subject"]
    stage.to_shelves()
    stage.session.press("push button", re.compile("^Warm shelf: "))
    stage.card(number, 30)  # the window has seen what another program wrote
    return number


def again(stage, name, words, number, picture, walk, *more):
    """One more picture on the bench as far as `walk` goes; nothing is recorded."""
    path, truth = draw(stage, name, *words, TODAY, *more)
    to_page(stage, number)
    attach(stage, number, path, told=False)
    bench = open_bench(stage)
    place_axis(bench, truth)
    bench.next()
    if not more:
        stage.says("^Does every line lie between two plates", 30)
    walk(bench)
    stage.picture(picture)
    stage.session.key("Escape")


SCENES = [recorded_from_a_photo, undecided_from_a_photo, refused_to_count]
if __name__ == "__main__":
    sys.exit("run tour.py")
