#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""testsum.py LOG.json…: each failed test, then the closing line `N passed, N failed, N skipped`.

LOG.json is what `meson test` writes into meson-logs, one file a run. Subtests of TAP tests are counted
from LOG.junit.xml beside it, whole tests for the rest. A test that timed out, crashed or gave no result
counts as one failure, also where all its printed subtests were good; so does a run without a log.
Exit status 1 if any failed or none ran."""

import json
import os
import re
import sys
import xml.etree.ElementTree as ET

GOOD = ("OK", "EXPECTEDFAIL")


class Sum:
    def __init__(self):
        self.passed = self.failed = self.skipped = 0

    def fail(self, what):
        self.failed += 1
        print("FAILED " + what)

    def whole(self, run, name, result):
        if result in GOOD:
            self.passed += 1
        elif result == "SKIP":
            self.skipped += 1
        else:
            self.fail(f"{run}{name}: {result}")

    def cases(self, run, name, cases, result):
        failed = 0
        for case in cases:
            if case.find("failure") is not None or case.find("error") is not None:
                failed += 1
                self.fail(f"{run}{name}: {case.get('name')}")
            elif case.find("skipped") is not None:
                self.skipped += 1
            else:
                self.passed += 1
        if result not in GOOD + ("SKIP",) and not failed:
            self.fail(f"{run}{name}: {result}")


def read_log(path):
    """name → result of every test of a run."""
    with open(path, encoding="utf-8", errors="replace") as f:
        return {test["name"]: test["result"] for test in map(json.loads, filter(str.strip, f))}


def read_cases(path):
    """name → subtests of every TAP test: Meson makes a suite of each, named `project.suite / test`."""
    if not os.path.exists(path):
        return {}
    with open(path, encoding="utf-8", errors="replace") as f:
        # Meson copies what a test printed as it is; XML allows no control characters.
        text = re.sub("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "?", f.read())
    suites = ET.fromstring(text.encode()).iter("testsuite")
    return {suite.get("name", "").split(".", 1)[-1]: suite.findall("testcase") for suite in suites}


def main(logs):
    total = Sum()
    for number, log in enumerate(logs):
        run = f"({os.path.basename(os.path.dirname(os.path.dirname(log)))}, run {number + 1}) " if len(logs) > 1 else ""
        try:
            tests = read_log(log)
        except (OSError, ValueError) as error:
            total.fail(f"{run}no results: {error}")
            continue
        cases = read_cases(log[:-len(".json")] + ".junit.xml")
        for name, result in tests.items():
            if cases.get(name):
                total.cases(run, name, cases[name], result)
            else:
                total.whole(run, name, result)
    print(f"{total.passed} passed, {total.failed} failed, {total.skipped} skipped")
    return 1 if total.failed or not total.passed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
