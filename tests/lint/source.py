# SPDX-License-Identifier: GPL-3.0-or-later
"""What the checks read: the files of the tree, and C with its comments and literals told apart.

Python's standard library alone; no git, so that the checks run in an unpacked archive too.
"""

import os
import re

FOLDERS = ("src", "ui", "tests", "data", "po")
LEFT_OUT = {"__pycache__"}


def files(root, *suffixes, under=FOLDERS):
    """Paths relative to root, sorted; all suffixes where none is named."""
    found = []
    for folder in under:
        for where, dirs, names in os.walk(os.path.join(root, folder)):
            dirs[:] = sorted(d for d in dirs if d not in LEFT_OUT)
            for name in names:
                path = os.path.relpath(os.path.join(where, name), root)
                if not suffixes or path.endswith(suffixes):
                    found.append(path)
    return sorted(found)


def read(root, path):
    with open(os.path.join(root, path), encoding="utf-8") as f:
        return f.read()


TOKEN = re.compile(
    r"""//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'""", re.DOTALL)


def _blank(text):
    return re.sub(r"[^\n]", " ", text)


def split_c(text):
    """(code, literals): code has every comment and literal blanked, line for line;
    literals are (line, text) of every string."""
    literals = []

    def replace(match):
        token = match.group(0)
        if token[0] == '"':
            literals.append((text.count("\n", 0, match.start()) + 1, token[1:-1]))
            return '"' + _blank(token[1:-1]) + '"'
        return _blank(token)

    return TOKEN.sub(replace, text), literals


DIRECTIVE = re.compile(r"^[ \t]*#(?:[^\n]*\\\n)*[^\n]*", re.MULTILINE)


def functions(text):
    """(name, first line, last line) of every function defined in C text.

    A body is a `{` outside all braces that follows a `)`: so a table of rows, a struct or an
    enum is none. Raises ValueError where the braces of the file do not match."""
    code, _ = split_c(text)
    code = DIRECTIVE.sub(lambda m: _blank(m.group(0)), code)
    depth, before, start, found, lines = 0, "", None, [], 1
    for at, c in enumerate(code):
        if c == "\n":
            lines += 1
        elif c == "{":
            if depth == 0 and before == ")":
                start = _name_before(code, at)
            depth += 1
        elif c == "}":
            depth -= 1
            if depth < 0:
                raise ValueError(f"line {lines}: a }} too many")
            if depth == 0 and start is not None:
                name, where = start
                found.append((name, code.count("\n", 0, where) + 1, lines))
                start = None
        if not c.isspace():
            before = c
    if depth != 0:
        raise ValueError("a { is not closed")
    return found


def _name_before(code, brace):
    """The name in front of the parameter list that ends before `brace`, and where it stands."""
    at, depth = code.rindex(")", 0, brace), 0
    while at >= 0:
        depth += {")": 1, "(": -1}.get(code[at], 0)
        if depth == 0:
            break
        at -= 1
    match = re.search(r"(\w+)\s*$", code[:at])
    return (match.group(1), match.start()) if match else ("?", max(at, 0))
