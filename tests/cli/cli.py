# SPDX-License-Identifier: GPL-3.0-or-later
"""Running mantidary-cli from tests, and saying what happened in TAP."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
import traceback

CLI = os.environ["MANTIDARY_CLI"]


class Skip(Exception):
    """The surroundings do not allow this test."""


class AsNobody:
    """The program with its data where everybody may read them, started without rights where the
    tests run as root: the tree may lie in a folder of root's."""

    def __enter__(self):
        self.tmp = tempfile.TemporaryDirectory(prefix="mantidary-public-")
        os.chmod(self.tmp.name, 0o755)
        self.env = dict(os.environ)
        self.cli = self.copy(CLI)
        for name in ("MANTIDARY_DECODE", "MANTIDARY_PROFILES"):
            if name in os.environ:
                self.env[name] = self.copy(os.environ[name])
        self.user = {"user": 65534, "group": 65534} if os.geteuid() == 0 else {}
        return self

    def __exit__(self, *_):
        self.tmp.cleanup()

    def copy(self, path):
        to = os.path.join(self.tmp.name, os.path.basename(path))
        if os.path.isdir(path):
            shutil.copytree(path, to)
            for folder, _, _ in os.walk(to):
                os.chmod(folder, 0o755)
        else:
            shutil.copyfile(path, to)
            os.chmod(to, 0o755)
        return to

    def run(self, *words):
        return subprocess.run([self.cli, *words], capture_output=True, check=False, env=self.env,
                              cwd="/", **self.user)


class Result:
    def __init__(self, done):
        self.code = done.returncode
        self.out = done.stdout.decode("utf-8")
        self.err = done.stderr.decode("utf-8")

    @property
    def json(self):
        return json.loads(self.out)


class Journal:
    """One journal in a folder of its own, with a fixed day."""

    def __init__(self, today="2026-06-01", make=True):
        self.tmp = tempfile.TemporaryDirectory(prefix="mantidary-test-")
        self.dir = os.path.join(self.tmp.name, "j")
        self.today = today
        if make:
            self.ok("new", self.dir, journal=False)

    def run(self, *words, today=None, journal=True, as_json=True, env=None):
        line = [CLI, "--today", today or self.today]
        if journal:
            line += ["--journal", self.dir]
        if as_json:
            line.append("--json")
        return Result(subprocess.run(line + [str(w) for w in words], capture_output=True,
                                     env=env, timeout=120, check=False))

    def ok(self, *words, **options):
        done = self.run(*words, **options)
        assert done.code == 0, f"{words}: exit {done.code}: {done.err}"
        return done.json if options.get("as_json", True) else done.out

    def no(self, code, *words, **options):
        """It must fail with this code, say why, and print no answer."""
        done = self.run(*words, **options)
        assert done.code == code, f"{words}: exit {done.code}, expected {code}: {done.err}"
        assert done.err.strip() != "", f"{words}: no message"
        assert done.out == "", f"{words}: printed {done.out!r}"
        return done.err

    def animal(self, *pairs):
        return self.ok("add", "animal", *pairs)["subject"]

    def record(self, *words, **options):
        return self.ok("record", *words, **options)["id"]

    def n_entries(self):
        return self.ok("check")["entries"]


def keys(value, *names):
    missing = [n for n in names if n not in value]
    assert not missing, f"keys missing: {missing} in {sorted(value)}"


def equal(got, wanted):
    assert got == wanted, f"got {got!r}, expected {wanted!r}"


def near(got, wanted, by):
    assert abs(got - wanted) <= by, f"got {got!r}, expected {wanted!r} ± {by}"


def main(tests):
    """Run functions named test_…; print TAP."""
    print(f"1..{len(tests)}")
    bad = 0
    for i, test in enumerate(tests, 1):
        name = test.__name__.removeprefix("test_").replace("_", " ")
        try:
            test()
            print(f"ok {i} {name}")
        except Skip as why:
            print(f"ok {i} {name} # SKIP {why}")
        except Exception:  # a failing test must not end the others
            bad += 1
            print(f"not ok {i} {name}")
            for line in traceback.format_exc().splitlines():
                print(f"# {line}")
        sys.stdout.flush()
    sys.exit(1 if bad else 0)


def collect(module):
    return [f for n, f in vars(module).items() if n.startswith("test_") and callable(f)]
