# SPDX-License-Identifier: GPL-3.0-or-later
"""The gallery, a picture large, and the pictures of a round, by keys."""

import os
import re
import time

from bench import draw
from stage import TODAY, equal


def gallery_and_viewer(stage):
    """The gallery lists every picture that the command line lists; one opens large, and the next one."""
    stage.to_shelves()
    stage.session.key("ctrl+g")
    stage.says("^Pictures of all animals$")
    listed = stage.cli("photo", "list")["photos"]
    stage.says(rf"^{len(listed)} pictures · stages counted with hatchling = L1$")
    first = listed[0]
    stage.session.find("push button", re.compile(rf"^{first['subject']}, .* plates"), 15)
    stage.hush()
    time.sleep(2)  # the small copies are read one by one
    stage.picture("gallery")
    stage.session.key("Return")
    title = stage.says(rf"^{first['subject']}, .* · 1 of {len(listed)}$")
    if f"{first['size'][0]} × {first['size'][1]}" not in title:
        raise AssertionError(f"“{title}” does not say the size")
    canvas = stage.session.find("image", re.compile(rf"^{first['subject']}, "), 15)
    stage.session.key("1")
    stage.wait_for(lambda: "shown at 100.0 in 100" in canvas.get_description(), "a pixel for a pixel")
    stage.session.key("Page_Down")
    stage.says(rf" · 2 of {len(listed)}$")
    stage.session.key("Escape")
    stage.says("^Pictures of all animals$")
    stage.session.key("Escape")


def pictures_of_a_round(stage):
    """Two files, one of them no picture: the number typed, saved at once, undone at once."""
    stage.to_shelves()
    number = stage.cards()[0].split(",")[0]
    good, _ = draw(stage, "round.jpg", "77", "6", "2", TODAY)
    os.utime(good, (1781438400, 1781438400))  # noon of that day
    bad = os.path.join(stage.home, "letter.jpg")
    with open(bad, "w", encoding="utf-8") as f:
        f.write("Dear keeper, this is a letter.")
    before = len(stage.live(number, "photo"))
    stage.session.key("ctrl+b")
    for path in (good, bad):
        choose(stage, path)
    stage.says("^1 · round.jpg$")
    stage.says("^This is not a picture")
    stage.session.click("text", re.compile("^Number on the cup of picture 1"))
    stage.session.type(number)
    stage.says("^1 ready · 1 refused$")
    stage.picture("pictures-of-a-round")
    stage.session.key("ctrl+s")
    stage.told(r"^Saved: 1 picture\. Ctrl\+Z takes it back\.$")
    equal(len(stage.live(number, "photo")), before + 1, "photos")
    stage.says("^The plates of 1 picture are to be counted")
    stage.session.press("push button", "Count them in one pass")
    stage.told(rf"^Picture 1 of 1, cup {number}\.")
    stage.session.key("ctrl+j")
    stage.told(r"^The pass is over\. 1 picture was left for later\.$")
    stage.session.press("push button", "Empty the list")
    stage.session.press("push button", "Clear the list")
    stage.session.key("ctrl+z")
    stage.told("^Took back")
    equal(len(stage.live(number, "photo")), before, "photos after undo")


def choose(stage, path):
    """By the file chooser, its path typed."""
    stage.session.press("push button", "Choose pictures…")
    stage.session.wait_window("Choose pictures", 10)
    time.sleep(.5)
    stage.session.type(path)
    stage.session.key("Return")
    time.sleep(.5)


SCENES = [gallery_and_viewer, pictures_of_a_round]
