#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A logger's file of a million lines: our import against SQLite's own CSV import, in one run.

Both run as programs, from start to durable on the disk, one after the other, three times; of each the
quickest counts, since what disturbs them only ever makes them slower. Ours parses, finds repetitions
and gaps, packs, writes, folds the shelf and plans it anew. The aim: at least half of SQLite's speed.

    bench-readings.py [ROWS]
"""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time

CLI = os.environ["MANTIDARY_CLI"]


def write_table(path, rows):
    with open(path, "w", encoding="utf-8") as f:
        f.write("Time;Temperature °C;Humidity %\n")
        for i in range(rows):
            day, minute = divmod(i, 1440)
            year, day = divmod(day, 336)
            month, day = divmod(day, 28)
            f.write("%d-%02d-%02d %02d:%02d;%.1f;%.1f\n" % (
                2010 + year, month + 1, day + 1, minute // 60, minute % 60,
                24 + (minute * 7 + i) % 50 / 10, 50 + (minute * 3 + i) % 200 / 10))


def timed(line):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    began = time.monotonic()
    subprocess.run(line, check=True, stdout=subprocess.DEVNULL)
    clock = time.monotonic() - began
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main():
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1000000
    if shutil.which("sqlite3") is None:
        print("no sqlite3 program here: nothing to compare with")
        return
    ours, theirs = [], []
    with tempfile.TemporaryDirectory(prefix="mantidary-bench-") as folder:
        table = os.path.join(folder, "logger.csv")
        write_table(table, rows)
        for turn in range(3):
            db = os.path.join(folder, f"{turn}.sqlite")
            theirs.append(timed(["sqlite3", db, ".separator ;", f".import {table} reading"]))
            journal = os.path.join(folder, f"j{turn}")
            run = [CLI, "--journal", journal, "--today", "2026-06-01"]
            subprocess.run([CLI, "new", journal], check=True, stdout=subprocess.DEVNULL)
            subprocess.run(run + ["add", "place", "code=S"], check=True, stdout=subprocess.DEVNULL)
            ours.append(timed(run + ["import", "readings", table, "--place", "S"]))
            out = subprocess.run(["sqlite3", "-readonly", os.path.join(journal, "journal.sqlite"),
                                  "SELECT count(*) FROM entry WHERE kind = 'logged'"],
                                 check=True, capture_output=True, text=True).stdout
            size = (os.path.getsize(os.path.join(journal, "journal.sqlite")), os.path.getsize(db))
    print(f"rows {rows}, entries {out.strip()}, journal {size[0] >> 10} KiB, their table {size[1] >> 10} KiB")
    met = True
    for name, i in (("clock", 0), ("processor", 1)):
        a, b = min(t[i] for t in ours), min(t[i] for t in theirs)
        print(f"{name}: ours {a:.2f} s, SQLite {b:.2f} s, speed ratio {b / a:.2f} (aim >= 0.50)")
        met = met and b / a >= .5
    print("goal met" if met else "goal MISSED")
    sys.exit(0 if met else 1)


if __name__ == "__main__":
    main()
