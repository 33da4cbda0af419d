#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""targets.py BUILD SUITE…: the files that the tests of these suites need built, one a line, relative
to the build folder: what ninja is to be given where not everything is wanted."""

import json
import os
import subprocess
import sys


def introspect(build, what):
    done = subprocess.run(["meson", "introspect", build, "--" + what], stdout=subprocess.PIPE, check=True)
    return json.loads(done.stdout)


def main():
    build, suites = os.path.realpath(sys.argv[1]), set(sys.argv[2:])
    files = {}
    for target in introspect(build, "targets"):
        files[target["id"]] = target["filename"]
    # Catalogues are read where a test speaks another language, and named by no test.
    wanted = {name for names in files.values() for name in names if name.endswith(".mo")}
    found = False
    for test in introspect(build, "tests"):
        names = {name.split(":")[-1] for name in test["suite"]}
        if names & suites and "slow" not in names:
            found = True
            for target in test["depends"]:
                wanted.update(files[target])
    if not found:
        sys.exit("targets.py: no test in " + ", ".join(sorted(suites)))
    for name in sorted(wanted):
        print(os.path.relpath(name, build))


if __name__ == "__main__":
    main()
