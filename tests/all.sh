#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what the tests need, builds with warnings as errors, runs every suite, and ends with the
# line `N passed, N failed, N skipped`.
#
#   sh tests/all.sh            as root, through sudo, or as a user who may use sudo
#
# Four runs: all suites but the tour; the suites that read and write numbers with a comma as the
# locale's decimal sign; core, words, store, imaging and exchange under the address and
# undefined-behaviour sanitizers; beside these two the tour, which mostly waits for a window. What
# the sanitizers need is built behind the first run, where it leaves room.
set -eu

top=$(cd "$(dirname "$0")/.." && pwd)
# shellcheck source=src/setup.sh
. "$top/src/setup.sh"

test_packages='desktop-file-utils appstream binutils locales libwebp-dev libglib2.0-bin pngcheck libheif-examples'
# shellcheck disable=SC2086
setup_install $setup_build_packages $setup_run_packages $setup_tour_packages $test_packages
setup_step_down "$top/tests/all.sh" "$@"

plain=$(setup_build_dir "$top" build-tests)
sanitized=$(setup_build_dir "$top" build-sanitized)
rig=$top/tests/rig
started=$(date +%s)
spent () {
  setup_say "== $1 after $(($(date +%s) - started)) s"
}

failed=0
# build FOLDER [file…]: all of it, or only these files.
build () {
  ninja -C "$@" >&2 || { setup_say "$1 does not build."; echo '0 passed, 1 failed, 0 skipped'; exit 1; }
}

setup_configure "$top" "$plain" -Dwerror=true
build "$plain"
spent 'Built'

setup_configure "$top" "$sanitized" -Dwerror=true -Db_sanitize=address,undefined -Db_lundef=false
checked='core words store imaging exchange fuzz'
build_log=$sanitized/meson-logs/build.txt
# shellcheck disable=SC2046,SC2086
nice -n 19 ninja -C "$sanitized" $(/usr/bin/python3 "$rig/targets.py" "$sanitized" $checked) >"$build_log" 2>&1 &
builder=$!

sh "$rig/runtests.sh" "$plain" --no-suite tour || failed=1
spent 'Suites run'
# How far the forecast holds, against its goals: a test of the suites above wrote it.
if [ -f "$plain/calibration.md" ]; then
  cat "$plain/calibration.md" >&2
fi
wait "$builder" || {
  cat "$build_log" >&2
  setup_say "$sanitized does not build."
  echo '0 passed, 1 failed, 0 skipped'
  exit 1
}
spent 'Built with sanitizers'

tour_log=$plain/meson-logs/tour.out
rm -f "$plain"/meson-logs/tour.json "$plain"/meson-logs/comma-env.json # what an earlier run left
sh "$rig/runtests.sh" "$plain" --logbase tour --suite tour 2>"$tour_log" &
tour=$!

locales=$plain/locales
if [ ! -d "$locales/de_DE.UTF-8" ]; then
  mkdir -p "$locales"
  # localedef says so (and gives 1) when it only warns.
  localedef --no-archive -i de_DE -f UTF-8 "$locales/de_DE.UTF-8" >/dev/null 2>&1 || true
fi
LOCPATH=$locales sh "$rig/runtests.sh" "$plain" --logbase comma \
  --wrapper 'env -u LC_ALL LANG=C.UTF-8 LC_NUMERIC=de_DE.UTF-8' \
  --no-suite slow --suite core --suite words --suite store --suite exchange --suite cli || failed=1
spent 'Run with a decimal comma'

# shellcheck disable=SC2046,SC2086
ASAN_OPTIONS=detect_leaks=1:detect_stack_use_after_return=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1 \
LSAN_OPTIONS=suppressions=$rig/lsan.supp:print_suppressions=0 \
  sh "$rig/runtests.sh" "$sanitized" --timeout-multiplier 3 --no-suite slow \
  $(printf -- '--suite %s ' $checked) || failed=1
spent 'Run with sanitizers'
wait "$tour" || failed=1
cat "$tour_log" >&2
spent 'Tour'

/usr/bin/python3 "$rig/testsum.py" "$plain/meson-logs/testlog.json" "$plain/meson-logs/tour.json" \
  "$plain/meson-logs/comma-env.json" \
  "$sanitized/meson-logs/testlog.json" || failed=1
exit "$failed"
