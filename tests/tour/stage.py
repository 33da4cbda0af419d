# SPDX-License-Identifier: GPL-3.0-or-later
"""What the tour stands on: the built programs, a home of its own, the driver, pictures, and TAP."""

import argparse
import json
import os
import re
import subprocess
import sys
import time

sys.dont_write_bytecode = True
HERE = os.path.dirname(os.path.abspath(__file__))
TOP = os.path.dirname(os.path.dirname(HERE))
sys.path.insert(0, os.path.join(TOP, "tests", "rig"))
from gi.repository import GLib  # noqa: E402
from gtkdrive import DriveError, Session  # noqa: E402

TODAY = "2026-06-14"   # the day on which the demo of the tour ends
WIDTH, HEIGHT = 1366, 768
TOLD = "^(Saved|Took back|Put back|Done|Put off)\\b"  # words of what was written, that go away by themselves
EDGE = 5               # what an undecorated X window adds round GTK's own box, each side


def equal(got, wanted, what=""):
    if got != wanted:
        raise AssertionError(f"{what}: {wanted!r} was wanted, it is {got!r}")


class Stage:
    """One virtual display; the window is started on it as often as a scene wants."""

    def __init__(self, build, pictures=None):
        self.build, self.pictures = os.path.abspath(build), pictures and os.path.abspath(pictures)
        self.app = os.path.join(self.build, "src", "app", "mantidary")
        env = {
            "MANTIDARY_PROFILES": os.path.join(TOP, "data", "profiles"),
            "MANTIDARY_DECODE": os.path.join(self.build, "src", "imaging", "decode", "mantidary-decode"),
            "MANTIDARY_LOCALEDIR": os.path.join(self.build, "po"),
            "ADW_DISABLE_PORTAL": "1", "ASAN_OPTIONS": "detect_leaks=0",
            "G_DEBUG": "fatal-criticals", "TZ": "UTC", "LANGUAGE": "",
        }
        self.session = Session(size=(WIDTH + 2 * EDGE, HEIGHT + 2 * EDGE), wm="openbox", env=env)
        self.home = self.session.home
        self.demo = os.path.join(self.home, "data", "mantidary", "demo")

    def stop(self):
        self.session.stop()

    # ---- the command line, the second witness ----
    def cli(self, *words, journal=None, today=TODAY, may_fail=False):
        argv = [os.path.join(self.build, "src", "cli", "mantidary-cli"), "--today", today, "--json"]
        if journal is not False:
            argv += ["--journal", journal or self.demo]
        done = subprocess.run(argv + list(words), env=self.session.env, stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, text=True, timeout=120, check=False)
        if done.returncode != 0:
            if may_fail:
                return None
            raise AssertionError(f"mantidary-cli {' '.join(words)}: {done.returncode}: {done.stderr.strip()}")
        return json.loads(done.stdout)

    def make_demo(self):
        os.makedirs(os.path.dirname(self.demo), mode=0o700, exist_ok=True)
        self.cli("new", self.demo, "--demo", journal=False)

    def live(self, number, kind):
        return [e for e in self.cli("history", number)["entries"] if e["live"] and e["kind"] == kind]

    # ---- the window ----
    def open(self, *args, env=None, size=(WIDTH, HEIGHT)):
        self.close()
        self.session.start([self.app, *args], env=env, cwd=self.home)
        self.resize(*size)

    def resize(self, width, height):
        self.session.resize(width + 2 * EDGE, height + 2 * EDGE)
        self.session._x("windowmove", str(self.session.wid), "0", "0")
        self.size = (width, height)
        time.sleep(0.3)

    def close(self):
        """End the window as its close button does. Anything it complained about is an error."""
        if self.session.app is None:
            return
        alive = self.session.alive()
        status = self.session.close()
        complaints = self.session.complaints()
        open(self.session.errfile, "w", encoding="utf-8").close()
        self.session.app = None
        if not alive or status != 0:
            raise AssertionError(f"the window ended with status {status}: {complaints[:3]}")
        equal(complaints, [], "what the window complained about")

    def says(self, pattern, timeout=15):
        """Wait for a label that matches; its text."""
        return self.session.find("label", re.compile(pattern), timeout).get_name()

    @staticmethod
    def wait_for(ready, what, timeout=15):
        """Wait until it is there; what it is."""
        end = time.monotonic() + timeout
        while True:
            got = ready()
            if got:
                return got
            if time.monotonic() > end:
                raise AssertionError(f"waited for {what} in vain")
            time.sleep(.1)

    def _told(self):
        """What the line at the foot of the window says now. Pages are left out: they are large, and
        the line goes away by itself."""
        session = self.session
        todo = [session.app_node()]
        while todo:
            node = todo.pop()
            try:
                session._clear(node)
                name, box = node.get_name(), session._box(node)
                if name == "GtkStackPage":
                    continue
                children = (node.get_child_at_index(i) for i in range(node.get_child_count()))
                todo += [child for child in children if child]  # one may go while they are counted
                label = node.get_role_name() == "label" and box and box[2] > box[0] and box[3] > box[1]
            except GLib.Error:  # a dialog that has just closed
                if not session.alive():
                    raise
                continue
            if label:
                yield name

    def told(self, pattern, timeout=15):
        """Wait until that line matches; what it says."""
        end = time.monotonic() + timeout
        while True:
            for text in self._told():
                if re.search(pattern, text):
                    return text
            if time.monotonic() > end:
                raise AssertionError(f"never told {pattern!r}; the window has {list(self._told())}")
            time.sleep(.05)

    def cards(self):
        """The labels of all cups on the shelf that is shown."""
        nodes = self.session.find_all("push button", re.compile(r"^\d+[a-z]?, "), showing=False)
        return [node.get_name() for node in nodes]

    def card(self, number, timeout=15):
        return self.session.find("push button", re.compile(rf"^{number}, "), timeout, showing=False)

    def card_says(self, number, part, timeout=15):
        return self.session.find("push button", re.compile(rf"^{number}, .*{part}"), timeout, showing=False).get_name()

    def shelves(self):
        return self.session.find_all("push button", re.compile(r": (?:\d+ cups? due|nothing due)"))

    def to_shelves(self):
        """To the shelves of the demo, in the window that is open or in a new one."""
        if self.session.app is None or not self.session.alive():
            self.open("--journal", self.demo)
        else:
            self.session.key("Escape", "Escape")
            self.session.key("ctrl+1")
        self.session.find("push button", re.compile(r": (?:\d+ cups? due|nothing due)"), 15)

    def to_cup(self, number):
        """Type its number; wait until its story stands open."""
        self.session.key(*number)
        self.says(rf"^{number} [?♂♀]")

    def hush(self):
        """Put away what was said last: before a picture, or where the same words are waited for next."""
        for _ in range(3):  # one word may wait behind another
            self.session.press("frame", "Mantidary", "win.hush")
            if not any(re.search(TOLD, text) for text in self._told()):
                return
        raise AssertionError(f"what was said does not go: {list(self._told())}")

    def picture(self, name):
        if self.pictures is None:
            return
        os.makedirs(self.pictures, exist_ok=True)
        path = os.path.join(self.pictures, name + ".png")
        time.sleep(0.4)
        self.session.screenshot(path + ".root.png")
        width, height = self.size
        subprocess.run(["/usr/bin/convert", path + ".root.png", "-crop", f"{width}x{height}+{EDGE}+{EDGE}", "+repage",
                        "-strip", "-define", "png:compression-level=9", path], check=True, timeout=60)
        os.remove(path + ".root.png")


class Tap:
    """Numbered results; a scene that fails says why and what stood on the screen."""

    def __init__(self, scenes, stage, keep=None):
        self.scenes, self.stage, self.keep = scenes, stage, keep

    def run(self):
        failed = 0
        print(f"1..{len(self.scenes)}", flush=True)
        for number, scene in enumerate(self.scenes, 1):
            title = scene.__doc__.split("\n")[0].rstrip(".")
            began = time.monotonic()
            try:
                scene(self.stage)
                print(f"ok {number} - {title} # {time.monotonic() - began:.1f} s", flush=True)
            except Exception as error:  # every scene has its say
                failed += 1
                print(f"not ok {number} - {title}")
                print("# " + f"{type(error).__name__}: {error}"[:6000].replace("\n", "\n# "), flush=True)
                self.leave_picture(number)
                self.start_anew()
        return failed

    def leave_picture(self, number):
        if self.keep:
            try:
                self.stage.session.screenshot(os.path.join(self.keep, f"tour-failed-{number}.png"))
            except Exception as error:
                print(f"# no picture: {error}")

    def start_anew(self):
        """The next scene opens the window itself where none is left."""
        try:
            if self.stage.session.app is not None and not self.stage.session.alive():
                print("# stderr: " + self.stage.session.stderr()[-2000:].replace("\n", "\n# "))
                self.stage.session.app = None
            elif self.stage.session.app is not None:
                self.stage.session.key("Escape")
                self.stage.session.key("Escape")
                self.stage.session.key("ctrl+1")
        except DriveError as error:
            print(f"# {error}")


def play(about, scenes):
    """The program of a tour without the demo journal: --build BUILD, --pictures FOLDER; its exit status."""
    parser = argparse.ArgumentParser(description=about)
    parser.add_argument("--build", required=True)
    parser.add_argument("--pictures", help="where the pictures go; none are taken without it")
    given = parser.parse_args()
    stage = Stage(given.build, given.pictures)
    try:
        failed = Tap(scenes, stage, given.pictures).run()
        stage.close()
    finally:
        stage.stop()
    return 1 if failed else 0
