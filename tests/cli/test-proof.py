#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Proof sheets: one picture with its plates and its verdict, read back by another hand."""

import os
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from cli import Journal, collect, equal, main, near  # noqa: E402
import png  # noqa: E402

W, H = 640, 480
GREY = bytes((90, 110, 80))
# A body of a known width, so that the outline has something to hold on to.
BODY = bytes((150, 160, 120))
EXIF = bytes.fromhex("4d4d002a0000000800018769000400000001000000 1a 00000000".replace(" ", "")) + \
    bytes.fromhex("0001900300020000001400 00002c 00000000".replace(" ", "")) + b"2026:05:20 18:30:00\0"
AXIS = "120,240,520,240"
BOUNDS = ".2,.36,.5,.66,.8"


def colour(x, y):
    return BODY if 120 <= x <= 520 and 190 <= y <= 290 else GREY


def journal(dated=True):
    j = Journal()
    j.ok("add", "place", "name=Cellar of Anne")
    j.animal("species=hierodula", "hatched=2026-02-01", "acquired=2026-04-20", "moults=5",
             "place=Cellar of Anne", "name=Berta")
    path = png.write(os.path.join(j.tmp.name, "p.png"), W, H, colour, png.chunk(b"eXIf", EXIF) if dated else b"")
    added = j.ok("photo", "add", "1", path)
    equal(added["taken"], "2026-05-20" if dated else None)
    return j, added["photo"]


def mark(j, photo, *more):
    return j.record("1", "marked", f"photo={photo}", "side=underside", "of=animal", f"axis={AXIS}",
                    f"bounds={BOUNDS}", "count=6", "by=keeper", "small_plate=not", *more)


def sheet(j, photo, *more):
    path = os.path.join(j.tmp.name, "sheet.png")
    said = j.ok("export", "proofsheet", photo, path, *more)
    read = png.Png(path)
    equal(said["size"], [read.width, read.height])
    if shutil.which("pngcheck"):
        done = subprocess.run(["pngcheck", "-q", path], capture_output=True, check=False)
        equal((done.returncode, done.stdout), (0, b""))
    return said, read


def longest_dark_run(row):
    best = run = 0
    for i in range(0, len(row), 3):
        run = run + 1 if max(row[i:i + 3]) < 40 else 0
        best = max(best, run)
    return best


def test_true_scale():
    j, photo = journal()
    mark(j, photo)
    j.record("1", "measured", "what=abdomen", "mm=16", "sd=.4", "--day", "2026-05-21")
    said, read = sheet(j, photo)
    # 400 pixels are 16 mm; marks are off by 1 % each (ours), the measure by 2.5 %.
    near(said["px_per_mm"], 25, .1)
    near(said["px_per_mm_sd"] / said["px_per_mm"], (.025 ** 2 + 2 * .01 ** 2) ** .5, .001)
    near(read.per_metre(), 25000, 100)
    # The bar below the picture is 5 mm long: the longest round length in a quarter of the width.
    near(max(longest_dark_run(row) for row in read.rows[H:]), 125, 1)
    assert "16" in read.texts()["Scale"][1], read.texts()


def test_scale_by_a_ruler_in_the_picture():
    j, photo = journal()
    mark(j, photo)
    j.record("1", "measured", "what=abdomen", "mm=16", "--day", "2026-05-21")
    said, read = sheet(j, photo, "--ruler", "100,400,340,400", "--mm", "20")
    near(said["px_per_mm"], 12, 1e-9)
    near(read.per_metre(), 12000, 0)
    # Both marks to .5 % of the longer side (ours).
    near(said["px_per_mm_sd"], 12 * 2 ** .5 * .005 * W / 240, 1e-3)
    near(max(longest_dark_run(row) for row in read.rows[H:]), 120, 1)
    assert "marked in the picture" in read.texts()["Scale"][1], read.texts()
    path = os.path.join(j.tmp.name, "other.png")
    for bad in (["--mm", "20"], ["--ruler", "1,2,3", "--mm", "20"], ["--ruler", "100,400,340,400"],
                ["--ruler", "100,400,340,x", "--mm", "20"]):
        j.no(2, "export", "proofsheet", photo, path, *bad)
    for bad in (["--ruler", "100,400,105,400", "--mm", "20"], ["--ruler", "100,400,340,400", "--mm", "0"]):
        j.no(1, "export", "proofsheet", photo, path, *bad)
    assert not os.path.exists(path)


def test_without_a_measure_nothing_is_said_about_size():
    j, photo = journal()
    mark(j, photo)
    j.record("1", "measured", "what=abdomen", "mm=9", "--day", "2026-04-25")
    j.record("1", "moulted", "--day", "2026-05-10")  # that was another stage
    said, read = sheet(j, photo)
    equal((said["px_per_mm"], said["px_per_mm_sd"], read.per_metre()), (None, None, None))
    equal(read.texts()["Scale"][1], "No scale is known: no length can be read off this sheet.")


def test_the_texts_and_nothing_else():
    j, photo = journal()
    mark(j, photo)
    _, read = sheet(j, photo)
    texts = read.texts()
    equal(set(texts), {"Title", "Species", "Stage", "Verdict", "Scale", "Description", "Creation Time", "Software"})
    assert texts["Species"] == ("en", "Hierodula membranacea"), texts
    equal(texts["Stage"][1], "about L6 (hatchling = L1)")
    assert texts["Verdict"][1].startswith("Likely female, 9"), texts
    assert "6 plates counted" in texts["Verdict"][1], texts
    equal(texts["Creation Time"][1], "2026-05-20")
    assert texts["Software"][1].startswith("Mantidary "), texts
    assert "2026" in texts["Description"][1], texts
    equal(set(read.names), {"IHDR", "sRGB", "iTXt", "IDAT", "IEND"})
    with open(os.path.join(j.tmp.name, "sheet.png"), "rb") as f:
        data = f.read()
    for secret in (b"Cellar", b"Anne", b"Berta", b"GPS", j.tmp.name.encode()):
        assert secret not in data, secret


def test_the_picture_is_there_pixel_for_pixel_with_lines_over_it():
    j, photo = journal()
    mark(j, photo)
    said, read = sheet(j, photo)
    equal(said["plates"], 6)
    changed = {(x, y) for y in range(H) for x in range(W) if read.pixel(x, y) != tuple(colour(x, y))}
    # All that is drawn lies around the body: lines across it, ends, numbers beside it.
    assert all(90 <= x <= 550 and 130 <= y <= 350 for x, y in changed), "far from the body"
    for at in map(float, BOUNDS.split(",")):
        x = round(120 + 400 * at)
        assert max(read.pixel(x, 240)) > 235, (at, read.pixel(x, 240))
        for off in (-8, 8):
            equal(read.pixel(x + off, 240), tuple(BODY))
    assert len(changed) > 1500, len(changed)


def test_a_narrow_picture_still_has_words():
    j, _ = journal()
    path = png.write(os.path.join(j.tmp.name, "small.png"), 90, 60, lambda x, y: bytes((x, y, 9)))
    photo = j.ok("photo", "add", "1", path)["photo"]
    j.record("1", "marked", f"photo={photo}", "side=back", "of=animal")
    said, read = sheet(j, photo)
    assert read.width >= 400 and read.height > 200, (read.width, read.height)
    equal(said["plates"], 0)
    for y in range(60):
        equal(read.rows[y][:270], b"".join(bytes((x, y, 9)) for x in range(90)))
    assert "not known when" in read.texts()["Description"][1], read.texts()
    assert "Creation Time" not in read.texts()


def test_too_early_is_said():
    j = Journal()
    j.animal("species=hierodula", "hatched=2026-04-20")
    for day in ("2026-05-04", "2026-05-18"):
        j.record("1", "moulted", "--day", day)
    path = png.write(os.path.join(j.tmp.name, "p.png"), W, H, colour)
    photo = j.ok("photo", "add", "1", path, "--day", "2026-05-28")["photo"]
    mark(j, photo)
    _, read = sheet(j, photo)
    assert read.texts()["Verdict"][1].startswith("Too early to tell"), read.texts()
    equal(read.texts()["Stage"][1], "L3 (hatchling = L1)")


def test_what_the_program_proposed_is_said_to_be_so():
    j, photo = journal()
    j.record("1", "marked", f"photo={photo}", "side=underside", "of=shed", f"axis={AXIS}", f"bounds={BOUNDS}",
             "count=6", "by=program", "likelihood=6:.7,8:.02")
    _, read = sheet(j, photo)
    equal(read.texts()["Stage"][1], "shed skin of about L5 (hatchling = L1)")
    assert "not yet confirmed" in read.texts()["Verdict"][1], read.texts()


def test_refusals_leave_nothing():
    j, photo = journal()
    path = os.path.join(j.tmp.name, "sheet.png")
    assert "marked" in j.no(1, "export", "proofsheet", photo, path)
    assert not os.path.exists(path)
    mark(j, photo)
    j.no(1, "export", "proofsheet", "no-id", path)
    j.no(1, "export", "proofsheet", photo, os.path.join(j.tmp.name, "none", "sheet.png"))
    with open(path, "w", encoding="ascii") as f:
        f.write("mine")
    j.no(1, "export", "proofsheet", photo, path)
    with open(path, encoding="ascii") as f:
        equal(f.read(), "mine")
    sheet(j, photo, "--replace")
    os.remove(path)
    stored = next(os.path.join(d, f) for d, _, fs in os.walk(j.dir) for f in fs if f.endswith(".png"))
    os.chmod(stored, 0o600)
    with open(stored, "r+b") as f:
        f.truncate(60)
    j.no(1, "export", "proofsheet", photo, path)
    equal(sorted(os.listdir(j.tmp.name)), ["j", "p.png"])


if __name__ == "__main__":
    main(collect(sys.modules[__name__]))
