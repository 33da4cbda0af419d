# SPDX-License-Identifier: GPL-3.0-or-later
"""The checks of the sources. Each takes the tree and gives a list of complaints (nothing: it holds)."""

import os
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET

import rooms
import source

C_LINES = 800
FUNCTION_LINES = 80
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "meson.build", "src", "ui", "tests", "data", "po",
             "screenshots"}
INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"\n]+)[>"]', re.MULTILINE)


class Skip(Exception):
    """The check cannot be made here; the text says why."""


class Tree:
    def __init__(self, root, libs=None, cli=None):
        self.root = root
        self.libs = libs or {}  # room → static library
        self.cli = cli          # the built mantidary-cli

    def files(self, *suffixes, **where):
        return source.files(self.root, *suffixes, **where)

    def read(self, path):
        return source.read(self.root, path)

    def has(self, path):
        return os.path.exists(os.path.join(self.root, path))

    def run(self, *argv):
        """(exit status, everything it said) of a tool."""
        if shutil.which(argv[0]) is None:
            raise Skip(f"{argv[0]} is not installed")
        done = subprocess.run(argv, cwd=self.root, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                              text=True, errors="replace", timeout=120, check=False)
        return done.returncode, done.stdout


# ---- rooms ----

def check_rooms_include_only_what_they_may(tree):
    bad = []
    for path in tree.files(".c", ".h", under=("src",)):
        if path == "src/app/main.c":
            continue  # it starts the program; the room's own rule holds through app-application.h
        if rooms.room_of(path) is None:
            bad.append(f"{path}: belongs to no room")
            continue
        text = tree.read(path)
        for match in INCLUDE.finditer(text):
            why = rooms.may_include(path, match.group(2), match.group(1) == '"')
            if why:
                line = text.count("\n", 0, match.start(2)) + 1
                bad.append(f"{path}:{line}: {match.group(2)}: {why}")
    return bad


def check_main_is_thin(tree):
    lines = tree.read("src/app/main.c").count("\n")
    return [f"src/app/main.c: {lines} lines; what it does belongs into the library"] if lines > 40 else []


def check_headers_are_guarded(tree):
    return [f"{path}: no #pragma once" for path in tree.files(".h") if "#pragma once" not in tree.read(path)]


def check_sql_stands_in_store_alone(tree):
    bad = []
    for path in tree.files(".c", ".h", under=("src",)):
        if path.startswith("src/store/"):
            continue
        for line, text in source.split_c(tree.read(path))[1]:
            if rooms.SQL.search(text):
                bad.append(f"{path}:{line}: SQL outside src/store: {text[:60]}")
    return bad


def symbols(tree, lib):
    """(called from elsewhere, defined) by a static library."""
    status, said = tree.run("nm", "--format=posix", lib)
    if status != 0:
        raise AssertionError(f"nm cannot read {lib}: {said[:200]}")
    called, defined = set(), set()
    for line in said.splitlines():
        parts = line.split()
        if len(parts) >= 2 and len(parts[1]) == 1:
            (called if parts[1] in "Uw" else defined).add(parts[0])
    return called - defined, defined


def check_core_calls_nothing_of_the_world(tree):
    if "core" not in tree.libs:
        raise Skip("no built library given")
    called, defined = symbols(tree, tree.libs["core"])
    if not defined:
        return ["the library of core holds nothing"]
    return [f"core calls {name}" for name in sorted(called) if not rooms.CORE_MAY_CALL.fullmatch(name)]


def check_libraries_call_only_their_own_world(tree):
    if not tree.libs:
        raise Skip("no built library given")
    bad = []
    for room, lib in sorted(tree.libs.items()):
        called, _ = symbols(tree, lib)
        for start, may in rooms.ONE_ROOM_CALLS:
            hits = sorted(name for name in called if re.match(start, name))
            if hits and room not in may:
                bad.append(f"room {room} calls {', '.join(hits[:4])}")
    return bad


def check_command_line_needs_no_gtk(tree):
    if tree.cli is None:
        raise Skip("no built program given")
    status, said = tree.run("readelf", "--dynamic", tree.cli)
    if status != 0 or "NEEDED" not in said:
        return [f"readelf cannot read {tree.cli}"]
    return [f"{os.path.basename(tree.cli)} needs {name}"
            for name in re.findall(r"NEEDED.*\[([^\]]+)\]", said) if re.match(r"lib(gtk|gdk-\d|adwaita|gsk)", name)]


# ---- form ----

def check_files_are_short(tree):
    bad = []
    for path in tree.files(".c"):
        lines = tree.read(path).count("\n")
        if lines > C_LINES:
            bad.append(f"{path}: {lines} lines, at most {C_LINES}")
    return bad


def check_functions_are_short(tree):
    bad = []
    for path in tree.files(".c", ".h"):
        try:
            found = source.functions(tree.read(path))
        except ValueError as error:
            bad.append(f"{path}: {error}")
            continue
        bad += [f"{path}:{first}: {name} has {last - first + 1} lines, at most {FUNCTION_LINES}"
                for name, first, last in found if last - first + 1 > FUNCTION_LINES]
    return bad


def check_every_source_names_its_licence(tree):
    kinds = (".c", ".h", ".py", ".sh", ".build", ".ui", ".css", ".svg", ".xml", ".in", ".profile", ".po", ".desktop",
             ".supp")
    bad = []
    for path in tree.files(*kinds):
        head = "\n".join(tree.read(path).split("\n")[:6])
        if "SPDX-License-Identifier: GPL-3.0-or-later" not in head:
            bad.append(f"{path}: no SPDX line at its head")
    if not tree.has("LICENSE") or "GNU GENERAL PUBLIC LICENSE" not in tree.read("LICENSE"):
        bad.append("LICENSE: not the licence that the sources name")
    return bad


def check_no_path_of_a_machine(tree):
    # Put together, so that this file does not find itself.
    folders = "|".join(("home", "root", "work", "Users", "opt", "mnt", "tmp/wt"))
    rule = re.compile(r"(?<![\w.~$}>)*-])/(?:" + folders + r")/\w")
    bad = []
    for path in tree.files() + [p for p in ("README.md", "DEVELOPERS.md", "meson.build", ".ci/run") if tree.has(p)]:
        try:
            text = tree.read(path)
        except UnicodeDecodeError:
            continue  # a picture, a database
        bad += [f"{path}:{n}: {line.strip()[:80]}" for n, line in enumerate(text.split("\n"), 1) if rule.search(line)]
    return bad


def check_nothing_is_marked_unfinished(tree):
    rule = re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|X" + r"XX|HA" + r"CK)\b")
    return [f"{path}:{n}: {line.strip()[:80]}"
            for path in tree.files(".c", ".h", ".py", ".sh", ".build", ".ui", ".css", ".profile")
            for n, line in enumerate(tree.read(path).split("\n"), 1) if rule.search(line)]


def check_no_merge_is_left_half_done(tree):
    rule = re.compile(r"^(?:<{7} |={7}$|>{7} )", re.MULTILINE)
    bad = []
    for path in tree.files() + [p for p in ("README.md", "DEVELOPERS.md", "meson.build") if tree.has(p)]:
        try:
            text = tree.read(path)
        except UnicodeDecodeError:
            continue
        bad += [f"{path}:{text.count(chr(10), 0, m.start()) + 1}: marks of a merge" for m in rule.finditer(text)]
    return bad


def check_scripts_can_be_read(tree):
    bad = []
    for path in tree.files(".py"):
        try:
            compile(tree.read(path), path, "exec")
        except SyntaxError as error:
            bad.append(f"{path}:{error.lineno}: {error.msg}")
    for path in tree.files(".sh"):
        status, said = tree.run("sh", "-n", path)
        if status != 0:
            bad.append(f"{path}: {said.strip()}")
    return bad


def check_top_level_is_as_agreed(tree):
    extra = [name for name in os.listdir(tree.root)
             if not name.startswith(".") and not name.startswith("build") and name not in TOP_LEVEL]
    return [f"{name}: not one of the agreed names" for name in sorted(extra)]


def check_tests_assert_something(tree):
    rule = re.compile(r"g_assert|g_test_fail|\bassert\b|\bequal\s*\(|\bfail\b|bad\.append|\brule_rows_run\b")
    named = re.compile(r"(?:^|/)(?:test-[\w-]+\.(?:c|py)|tour\.py)$")
    return [f"{path}: nothing in it can fail" for path in tree.files(".c", ".py", under=("tests",))
            if named.search(path) and not rule.search(tree.read(path))]


# ---- strings for people ----

SAYS = re.compile(r'(?<![\w])(?:_|N_|C_|NC_|Q_|T_|TN_|TERM|SAY|ngettext|g_dngettext|g_dpgettext2)\s*\(\s*"')


def check_every_string_is_gathered(tree):
    listed = [line for line in tree.read("po/POTFILES.in").split("\n") if line and not line.startswith("#")]
    bad = [f"po/POTFILES.in: {path} does not exist" for path in listed if not tree.has(path)]
    if listed != sorted(listed):
        bad.append("po/POTFILES.in: not sorted")
    for path in tree.files(".c", ".h", under=("src",)):
        text = tree.read(path)
        code, _ = source.split_c(text)
        code = source.DIRECTIVE.sub(lambda m: re.sub(r"[^\n]", " ", m.group(0)), code)
        if SAYS.search(code) and path not in listed:
            bad.append(f"po/POTFILES.in: {path} speaks to people and is not listed")
    for path in tree.files(".ui", under=("ui",)):
        if 'translatable="yes"' in tree.read(path) and path not in listed:
            bad.append(f"po/POTFILES.in: {path} speaks to people and is not listed")
    return bad


def check_translations_are_complete(tree):
    bad = []
    languages = [line for line in tree.read("po/LINGUAS").split("\n") if line and not line.startswith("#")]
    if "de" not in languages:
        bad.append("po/LINGUAS: no German")
    for language in languages:
        status, said = tree.run("msgfmt", "--check", "--statistics", "--output-file=" + os.devnull,
                                f"po/{language}.po")
        if status != 0 or "untranslated" in said or "fuzzy" in said:
            bad.append(f"po/{language}.po: {said.strip()[-300:]}")
    return bad


def check_translations_are_up_to_date(tree):
    if shutil.which("xgettext") is None:
        raise Skip("xgettext is not installed")
    status, said = tree.run("sh", "po/update.sh", "--check")
    return [said.strip()[-400:]] if status != 0 else []


def check_text_on_screen_is_marked(tree):
    """Words in a .ui that a keeper reads must be translatable."""
    names = {"label", "title", "subtitle", "tooltip-text", "placeholder-text", "description", "body"}
    bad = []
    for path in tree.files(".ui", under=("ui",)):
        for node in ET.fromstring(tree.read(path).encode()).iter():
            if node.tag in ("property", "attribute") and node.get("name") in names and node.get("translatable") is None \
                    and re.search(r"[A-Za-z]{2}", node.text or "") and node.get("name") != "icon-name" \
                    and (node.text or "") != "Mantidary":
                bad.append(f"{path}: {node.get('name')} “{node.text}” is not translatable")
    return bad


# ---- data ----

def _resources(tree):
    path = "ui/mantidary.gresource.xml"
    names = [node.text for node in ET.fromstring(tree.read(path).encode()).iter("file")]
    return {os.path.normpath(os.path.join("ui", name)) for name in names}


def check_symbols_are_sound_and_built_in(tree):
    built_in, bad = _resources(tree), []
    symbols_there = tree.files(".svg", under=("data/symbols",))
    for path in symbols_there:
        try:
            top = ET.fromstring(tree.read(path).encode())
        except ET.ParseError as error:
            bad.append(f"{path}: {error}")
            continue
        if top.tag != "{http://www.w3.org/2000/svg}svg" or top.get("viewBox") != "0 0 16 16":
            bad.append(f"{path}: not an SVG on the 16 px grid")
        if any(node.tag.endswith(("}image", "}script", "}foreignObject")) for node in top.iter()):
            bad.append(f"{path}: more than a drawing")
    bad += [f"{path}: not in ui/mantidary.gresource.xml" for path in symbols_there if path not in built_in]
    bad += [f"ui/mantidary.gresource.xml: {path} does not exist" for path in sorted(built_in) if not tree.has(path)]
    return bad


def check_every_ui_file_is_built_in(tree):
    built_in, bad = _resources(tree), []
    for path in tree.files(".ui", ".css", under=("ui",)):
        if path not in built_in:
            bad.append(f"{path}: not in ui/mantidary.gresource.xml")
        if path.endswith(".ui"):
            try:
                ET.fromstring(tree.read(path).encode())
            except ET.ParseError as error:
                bad.append(f"{path}: {error}")
    return bad


def check_every_profile_is_installed(tree):
    build = tree.read("data/meson.build")
    return [f"{path}: not in data/meson.build" for path in tree.files(".profile", under=("data",))
            if f"'{path[len('data/'):]}'" not in build]


def check_desktop_file_is_valid(tree):
    names = tree.files(".desktop", under=("data",))
    bad = [] if names else ["data: no desktop file"]
    for path in names:
        status, said = tree.run("desktop-file-validate", path)
        if status != 0 or said.strip():
            bad.append(said.strip() or f"{path}: refused")
    return bad


def check_metainfo_is_valid(tree):
    names = tree.files(".metainfo.xml", under=("data",))
    bad = [] if names else ["data: no metainfo"]
    for path in names:
        status, said = tree.run("appstreamcli", "validate", "--no-net", path)
        if status != 0:
            bad.append(f"{path}: {said.strip()[-600:]}")
    return bad


def check_settings_schemas_are_valid(tree):
    folders = sorted({os.path.dirname(path) for path in tree.files(".gschema.xml", under=("data",))})
    if not folders:
        used = [path for path in tree.files(".c", under=("src",)) if "g_settings_new" in tree.read(path)]
        return [f"{path}: uses settings without a schema in data" for path in used]
    bad = []
    for folder in folders:
        status, said = tree.run("glib-compile-schemas", "--strict", "--dry-run", folder)
        if status != 0:
            bad.append(said.strip()[-400:])
    return bad


def check_pictures_of_the_readme_exist(tree):
    bad = []
    for page in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\(([^)#:]+)\)", tree.read(page)):
            if not tree.has(target):
                bad.append(f"{page}: {target} does not exist")
    shown = tree.read("README.md")
    for path in tree.files(".png", under=("screenshots",)):
        if path not in shown:
            bad.append(f"{path}: README.md does not show it")
    return bad


ALL = [value for name, value in list(globals().items()) if name.startswith("check_")]
