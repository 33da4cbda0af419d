#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""test-lint.py ROOT CC [CLI]: every check proves itself on a planted violation in a copy of the tree.

A check passes here when its complaints without the plant do not name the plant, and with it do."""

import os
import shutil
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import checks  # noqa: E402
import contract  # noqa: E402
import source  # noqa: E402

SPDX = "/* SPDX-License-Identifier: GPL-3.0-or-later */\n"
BODY = "int\nplanted (int a)\n{\n" + "  a++;\n" * 90 + "  return a;\n}\n"
CORE = "src/core/core-planted.c"
APP = "src/app/app-planted.c"

# check, what is written (path → text to add, None = the file is taken away), what the complaint must name
PLANTS = [
    ("rooms_include_only_what_they_may", {CORE: SPDX + '#include <glib.h>\n'}, "core-planted.c:2: glib.h"),
    ("rooms_include_only_what_they_may", {CORE: SPDX + '#  include  <time.h>\n'}, "may not use system"),
    ("rooms_include_only_what_they_may", {CORE: SPDX + '#include "store/store.h"\n'}, "may not know room store"),
    ("rooms_include_only_what_they_may", {APP: SPDX + '#include <sqlite3.h>\n'}, "app may not use sqlite"),
    ("rooms_include_only_what_they_may", {APP: SPDX + '#include "store/store.h"\n'}, "app-planted.c:2: store/store.h"),
    ("rooms_include_only_what_they_may", {"src/desk/desk-planted.c": SPDX + "#include <gtk/gtk.h>\n"},
     "desk may not use gtk"),
    ("rooms_include_only_what_they_may", {"src/words/words-planted.c": SPDX + "#include <stdio.h>\n"},
     "words may not use stdio"),
    ("rooms_include_only_what_they_may", {"src/store/store-planted.c": SPDX + "#include <png.h>\n"},
     "store may not use png"),
    ("rooms_include_only_what_they_may", {"src/imaging/decode/decode-planted.c": SPDX + "#include <gio/gio.h>\n"},
     "imaging/decode may not use gio"),
    ("rooms_include_only_what_they_may", {"src/desk/desk-planted.c": SPDX + "#include <curl/curl.h>\n"},
     "no family"),
    ("rooms_include_only_what_they_may", {"src/desk/desk-planted.c": SPDX + '#include "desk.h"\n'},
     "name the room"),
    ("rooms_include_only_what_they_may", {"src/extra/x.c": SPDX}, "src/extra/x.c: belongs to no room"),
    ("main_is_thin", {"src/app/main.c": "\n" * 50}, "src/app/main.c"),
    ("headers_are_guarded", {"src/core/core-planted.h": SPDX}, "core-planted.h"),
    ("sql_stands_in_store_alone", {APP: SPDX + 'const char *q = "SELECT n FROM entry";\n'}, "app-planted.c:2"),
    ("sql_stands_in_store_alone", {APP: SPDX + 'const char *q = "insert or ignore into entry (n)";\n'}, "app-planted"),
    ("sql_stands_in_store_alone", {APP: SPDX + 'const char *q = "PRAGMA user_version";\n'}, "app-planted"),
    ("files_are_short", {CORE: SPDX + "\n" * 800}, "core-planted.c: 801 lines"),
    ("functions_are_short", {CORE: SPDX + BODY}, "core-planted.c:3: planted has 94 lines"),
    ("functions_are_short", {CORE: SPDX + "int a (void)\n{\n"}, "core-planted.c: a { is not closed"),
    ("every_source_names_its_licence", {CORE: "/* nothing */\n"}, "core-planted.c: no SPDX"),
    ("every_source_names_its_licence", {"tests/lint/planted.py": "pass\n"}, "planted.py: no SPDX"),
    ("every_source_names_its_licence", {"LICENSE": None}, "LICENSE"),
    ("no_path_of_a_machine", {CORE: SPDX + "// see /" + "home/keeper/notes\n"}, "core-planted.c:2"),
    ("no_path_of_a_machine", {"README.md": "cd /" + "root/x\n"}, "README.md:"),
    ("nothing_is_marked_unfinished", {CORE: SPDX + "// TO" + "DO later\n"}, "core-planted.c:2"),
    ("no_merge_is_left_half_done", {CORE: SPDX + "<" * 7 + " HEAD\n"}, "core-planted.c:2: marks"),
    ("no_merge_is_left_half_done", {"README.md": "=" * 7 + "\n"}, "README.md:"),
    ("scripts_can_be_read", {"tests/lint/planted.py": "def f(:\n"}, "planted.py:1"),
    ("scripts_can_be_read", {"src/planted.sh": "if true\n"}, "src/planted.sh: "),
    ("top_level_is_as_agreed", {"notes.txt": "x"}, "notes.txt"),
    ("tests_assert_something", {"tests/core/test-planted.c": SPDX + "int main (void) { return 0; }\n"},
     "test-planted.c"),
    ("every_string_is_gathered", {APP: SPDX + 'void f (void) { g (_ ("Hello")); }\n'}, "app-planted.c speaks"),
    ("every_string_is_gathered", {"ui/planted.ui": '<interface><property translatable="yes"/></interface>'},
     "planted.ui speaks"),
    ("every_string_is_gathered", {"po/POTFILES.in": "src/zz-gone.c\n"}, "zz-gone.c does not exist"),
    ("translations_are_complete", {"po/de.po": '\nmsgid "planted"\nmsgstr ""\n'}, "untranslated message"),
    ("translations_are_complete", {"po/de.po": '\n#, c-format\nmsgid "%d planted"\nmsgstr "%s"\n'}, "msgid"),
    ("translations_are_complete", {"po/LINGUAS": "xy\n"}, "po/xy.po"),
    ("translations_are_up_to_date", {"src/words/words-base.c": '\nconst char *p = N_ ("planted");\n'},
     "not up to date"),
    ("text_on_screen_is_marked", {"ui/planted.ui": '<interface><property name="label">Hello</property></interface>'},
     "planted.ui: label"),
    ("symbols_are_sound_and_built_in", {"data/symbols/planted.svg": "<svg"}, "planted.svg: "),
    ("symbols_are_sound_and_built_in",
     {"data/symbols/planted.svg": '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16"/>'},
     "planted.svg: not in ui/mantidary.gresource.xml"),
    ("symbols_are_sound_and_built_in",
     {"data/symbols/planted.svg": '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"/>'},
     "planted.svg: not an SVG"),
    ("symbols_are_sound_and_built_in", {"data/symbols/feed.svg": None}, "data/symbols/feed.svg does not exist"),
    ("every_ui_file_is_built_in", {"ui/planted.ui": "<interface/>"}, "planted.ui: not in"),
    ("every_ui_file_is_built_in", {"ui/window.ui": "<x>"}, "window.ui: "),
    ("every_profile_is_installed", {"data/profiles/planted.profile": ""}, "planted.profile"),
    ("desktop_file_is_valid", {"data/planted.desktop": "[Desktop Entry]\nType=Nothing\n"}, "planted.desktop"),
    ("metainfo_is_valid", {"data/planted.metainfo.xml": "<component/>"}, "planted.metainfo.xml"),
    ("settings_schemas_are_valid", {"data/planted.gschema.xml": "<schemalist><schema/></schemalist>"},
     "planted.gschema.xml"),
    ("settings_schemas_are_valid", {APP: SPDX + "void f (void) { g_settings_new (x); }\n",
                                    "data/io.github.mantidary.Mantidary.gschema.xml": None}, "app-planted.c"),
    ("pictures_of_the_readme_exist", {"README.md": "![x](screenshots/gone.png)\n"}, "gone.png"),
    ("every_json_key_is_in_the_manual",
     {"src/cli/cli-planted.c": SPDX + 'void f (Cli *cli) { cli_out_int (&cli->out, "planted_key", 1); }\n'},
     "planted_key"),
]

CHECKS = {check.__name__[len("check_"):]: check for check in checks.ALL + contract.ALL}


class Copy:
    """A copy of the tree with a plant in it, made once and put right after each plant."""

    def __init__(self, root):
        self.dir = tempfile.mkdtemp(prefix="mantidary-lint.")
        self.root = os.path.join(self.dir, "tree")
        os.mkdir(self.root)
        for name in checks.TOP_LEVEL:
            there = os.path.join(root, name)
            if os.path.isdir(there):
                shutil.copytree(there, os.path.join(self.root, name),
                                ignore=shutil.ignore_patterns("__pycache__"))
            elif os.path.exists(there):
                shutil.copy(there, self.root)
        # A plant shows only beside translations that are up to date.
        subprocess.run(["sh", "po/update.sh"], cwd=self.root, stderr=subprocess.DEVNULL, timeout=120, check=False)

    def plant(self, changes):
        """Apply; gives a function that takes it all back."""
        kept = {}
        for path, text in changes.items():
            full = os.path.join(self.root, path)
            kept[full] = open(full, "rb").read() if os.path.exists(full) else None
            if text is None:
                os.remove(full)
                continue
            os.makedirs(os.path.dirname(full), exist_ok=True)
            with open(full, "a", encoding="utf-8") as f:
                f.write(text)

        def undo():
            for full, content in kept.items():
                if content is not None:
                    with open(full, "wb") as f:
                        f.write(content)
                elif os.path.exists(full):
                    os.remove(full)
        return undo


def complaints(check, tree):
    try:
        return [str(line) for line in check(tree)]
    except checks.Skip:
        raise
    except Exception as error:  # what the runner makes of it too
        return [f"{type(error).__name__}: {error}"]


def prove(copy, name, changes, wanted, cli):
    """None, or why the check did not prove itself."""
    tree = checks.Tree(copy.root, cli=cli)
    before = complaints(CHECKS[name], tree)
    undo = copy.plant(changes)
    try:
        after = complaints(CHECKS[name], tree)
    finally:
        undo()
    new = [line for line in after if line not in before]
    if not new:
        return f"the plant was not seen; it said {after[:3]}"
    if not any(wanted in line for line in new):
        return f"no complaint names “{wanted}”: {new[:3]}"
    return None


def prove_manual(copy, cli):
    """The usage block: one letter changed is seen."""
    path = os.path.join(copy.root, contract.PAGE)
    with open(path, encoding="utf-8") as f:
        kept = f.read()
    tree = checks.Tree(copy.root, cli=cli)
    good = kept.replace(contract.block(kept) or "", contract.usage(cli)) if contract.block(kept) else \
        kept + contract.usage(cli)
    try:
        for text, fails in ((good, False), (good.replace("--journal DIR", "--jornal DIR", 1), True),
                            (kept.replace(contract.BEGIN, ""), True)):
            with open(path, "w", encoding="utf-8") as f:
                f.write(text)
            if bool(contract.check_usage_in_the_manual_is_the_programs_own(tree)) != fails:
                return f"judged the manual wrongly (should {'fail' if fails else 'hold'})"
    finally:
        with open(path, "w", encoding="utf-8") as f:
            f.write(kept)
    return None


def archive(copy, cc, name, text):
    here = os.path.join(copy.dir, name)
    with open(here + ".c", "w", encoding="utf-8") as f:
        f.write(text)
    subprocess.run([cc, "-c", "-o", here + ".o", here + ".c"], check=True, timeout=60)
    subprocess.run(["ar", "rcs", here + ".a", here + ".o"], check=True, timeout=60)
    return here + ".a"


def prove_symbols(copy, cc):
    """A declaration by hand is seen by what the object code calls."""
    plants = [
        ("core", "extern long time (long *); long f (void) { return time (0); }", "core calls time"),
        ("core", "extern char *getenv (const char *); char *f (void) { return getenv (\"A\"); }", "core calls getenv"),
        ("core", "extern int snprintf (char *, unsigned long, const char *, ...);\n"
                 "int f (char *b, double x) { return snprintf (b, 9, \"%f\", x); }", "core calls snprintf"),
        ("desk", "extern void gtk_init (void); void f (void) { gtk_init (); }", "room desk calls gtk_init"),
        ("app", "extern void sqlite3_open (void); void f (void) { sqlite3_open (); }", "room app calls sqlite3_open"),
    ]
    for room, text, wanted in plants:
        lib = archive(copy, cc, "planted", text)
        tree = checks.Tree(copy.root, {room: lib})
        said = checks.check_core_calls_nothing_of_the_world(tree) if room == "core" else \
            checks.check_libraries_call_only_their_own_world(tree)
        if said != [wanted]:
            return f"“{wanted}” was wanted, it said {said}"
    lib = archive(copy, cc, "clean", "#include <math.h>\n#include <string.h>\n"
                  "double f (const char *s, double x) { return strlen (s) * pow (x, x); }")
    said = checks.check_core_calls_nothing_of_the_world(checks.Tree(copy.root, {"core": lib}))
    return f"refuses what is allowed: {said}" if said else None


def prove_needs(copy, cc):
    """A program linked with GTK is told from one that is not."""
    made = {}
    stub = os.path.join(copy.dir, "libgtk-4.so")
    with open(os.path.join(copy.dir, "s.c"), "w", encoding="utf-8") as f:
        f.write("int g (void); int g (void) { return 1; }")
    with open(os.path.join(copy.dir, "m.c"), "w", encoding="utf-8") as f:
        f.write("int g (void); int main (void) {\n#ifdef GTK\n return g ();\n#endif\n return 0; }")
    subprocess.run([cc, "-shared", "-fPIC", "-Wl,-soname,libgtk-4.so.1", "-o", stub, copy.dir + "/s.c"], check=True)
    for name, args in (("with", ["-DGTK", stub]), ("without", [])):
        made[name] = os.path.join(copy.dir, name)
        subprocess.run([cc, "-o", made[name], copy.dir + "/m.c", *args], check=True)
    check = checks.check_command_line_needs_no_gtk
    bad = check(checks.Tree(copy.root, cli=made["with"]))
    good = check(checks.Tree(copy.root, cli=made["without"]))
    return None if bad == ["with needs libgtk-4.so.1"] and good == [] else f"said {bad} and {good}"


SAMPLES = [
    ("int a (void) { return '{'; }\n", [("a", 1, 1)]),
    ("static const T t[] = {\n  { 1 },\n};\nstruct s {\n int x;\n};\n", []),
    ("#define M(x) do { \\\n } while (0\n\nvoid\nf (int a,\n   int (*b) (int))\n{\n  g (\"}\"); /* } */\n}\n", [("f", 5, 9)]),
    ("enum { A, B };\nG_DEFINE_QUARK (a, b)\nint x (void)\n{\n  if (1) { } // }\n  return 0;\n}\n", [("x", 3, 7)]),
]


def prove_lengths():
    for text, wanted in SAMPLES:
        found = source.functions(text)
        if found != wanted:
            return f"{text!r} gives {found}"
    return None


def main():
    root, cc = sys.argv[1], sys.argv[2]
    cli = sys.argv[3] if len(sys.argv) > 3 else None
    copy = Copy(root)
    jobs = [(f"{name}: {wanted}", lambda n=name, c=changes, w=wanted: prove(copy, n, c, w, cli))
            for name, changes, wanted in PLANTS]
    jobs += [("functions are measured", prove_lengths), ("symbols of a library", lambda: prove_symbols(copy, cc)),
             ("what a program needs", lambda: prove_needs(copy, cc))]
    if cli:
        jobs.append(("the manual's usage", lambda: prove_manual(copy, cli)))
    proven = {name for name, _, _ in PLANTS} | {
        "core_calls_nothing_of_the_world", "libraries_call_only_their_own_world", "command_line_needs_no_gtk",
        "usage_in_the_manual_is_the_programs_own"}
    jobs.append(("no check is left unproven", lambda: ", ".join(sorted(set(CHECKS) - proven)) or None))
    failed = False
    try:
        print(f"1..{len(jobs)}")
        for number, (title, job) in enumerate(jobs, 1):
            title = title.replace("#", "")
            try:
                why = job()
            except checks.Skip as skip:
                print(f"ok {number} - {title} # SKIP {skip}")
                continue
            failed = failed or why is not None
            print(f"{'ok' if why is None else 'not ok'} {number} - {title}")
            if why is not None:
                print(f"# {why}")
    finally:
        shutil.rmtree(copy.dir, ignore_errors=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
