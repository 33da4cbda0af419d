#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The command line as DEVELOPERS.md writes it down, and as the program answers.

`contract.py --update ROOT CLI` writes the program's own usage into DEVELOPERS.md; the check holds
that it stands there word for word, and that every JSON key that the sources write is explained."""

import os
import re
import subprocess
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import checks  # noqa: E402

BEGIN, END = "<!-- usage: begin -->\n", "<!-- usage: end -->\n"
PAGE = "DEVELOPERS.md"
KEYED = re.compile(r'\bcli_(?:out|put)_\w+\s*\(\s*(?:&?cli(?:->out)?|out|&out|self)\s*,\s*"([a-z_0-9]+)"')


def usage(cli):
    env = dict(os.environ, LC_ALL="C.UTF-8", LANGUAGE="")
    done = subprocess.run([cli, "--help"], env=env, stdout=subprocess.PIPE, text=True, timeout=30, check=True)
    lines = [line.rstrip() for line in done.stdout.rstrip().split("\n")]
    return BEGIN + "```\n" + "\n".join(lines) + "\n```\n" + END


def block(text):
    at, end = text.find(BEGIN), text.find(END)
    return None if at < 0 or end < at else text[at:end + len(END)]


def check_usage_in_the_manual_is_the_programs_own(tree):
    if tree.cli is None:
        raise checks.Skip("no built program given")
    there = block(tree.read(PAGE))
    if there is None:
        return [f"{PAGE}: no block between “{BEGIN.strip()}” and “{END.strip()}”"]
    wanted = usage(tree.cli)
    if there == wanted:
        return []
    differ = [line for line in wanted.split("\n") if line not in there.split("\n")]
    return [f"{PAGE}: differs from --help (write it anew: tests/lint/contract.py --update . CLI): {line}"
            for line in differ[:4] or ["lines too many"]]


def check_every_json_key_is_in_the_manual(tree):
    explained = set(re.findall(r"`\"?([a-z_0-9]+)\"?`", tree.read(PAGE)))
    for listed in re.findall(r"`([^`\n]+)`", tree.read(PAGE)):
        explained.update(re.findall(r"[a-z_0-9]+", listed))
    bad = []
    for path in tree.files(".c", under=("src/cli",)):
        for key in sorted(set(KEYED.findall(tree.read(path)))):
            if key not in explained:
                bad.append(f"{path}: JSON key “{key}” is not explained in {PAGE}")
    return bad


ALL = [check_usage_in_the_manual_is_the_programs_own, check_every_json_key_is_in_the_manual]


def main():
    if len(sys.argv) != 4 or sys.argv[1] != "--update":
        print(__doc__, file=sys.stderr)
        return 2
    path = os.path.join(sys.argv[2], PAGE)
    with open(path, encoding="utf-8") as f:
        text = f.read()
    there = block(text)
    if there is None:
        print(f"{PAGE} has no block to fill", file=sys.stderr)
        return 1
    with open(path, "w", encoding="utf-8") as f:
        f.write(text.replace(there, usage(sys.argv[3])))
    return 0


if __name__ == "__main__":
    sys.exit(main())
