#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""lint.py [--lib ROOM=FILE]… [--cli FILE] ROOT [PART OF A NAME]…: the laws of the house, as TAP."""

import argparse
import os
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import checks  # noqa: E402
import contract  # noqa: E402


def title(check):
    return check.__name__[len("check_"):].replace("_", " ")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lib", action="append", default=[], metavar="ROOM=FILE")
    parser.add_argument("--cli", metavar="FILE")
    parser.add_argument("root")
    parser.add_argument("names", nargs="*")
    given = parser.parse_args()
    tree = checks.Tree(given.root, dict(one.split("=", 1) for one in given.lib), given.cli)
    chosen = [check for check in checks.ALL + contract.ALL
              if not given.names or any(name in title(check) for name in given.names)]
    print(f"1..{len(chosen)}")
    failed = not chosen
    for number, check in enumerate(chosen, 1):
        try:
            bad = check(tree)
        except checks.Skip as why:
            print(f"ok {number} - {title(check)} # SKIP {why}")
            continue
        except Exception as error:  # pylint: disable=broad-except
            bad = [f"{type(error).__name__}: {error}"]
        for line in bad:
            print(f"# {line}".replace("\n", "\n# "))
        failed = failed or bool(bad)
        print(f"{'not ok' if bad else 'ok'} {number} - {title(check)}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
