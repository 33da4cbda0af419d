#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# runtests.sh BUILD [argument of meson test…]: Meson's tests under a display and a session bus of
# their own, in an empty home. The exit status is that of meson test.
set -u

build=${1:?which build folder?}
shift
# A run under another --logbase must leave the logs of the first run: both are counted at the end.
case " $* " in
  *' --logbase '*) ;;
  *) rm -f "$build"/meson-logs/testlog.json "$build"/meson-logs/testlog.junit.xml ;;
esac
# Journals of the tests lie in memory where that can be had: what is proved is the order of writes and
# what a killed program leaves, not how long a disk takes.
room=$(df -k --output=avail /dev/shm 2>/dev/null | tail -n 1)
memory=$(awk '/^MemAvailable/ { print $2 }' /proc/meminfo)
if [ "${room:-0}" -gt 2000000 ] && [ "${memory:-0}" -gt 4000000 ] && [ -w /dev/shm ]; then
  export TMPDIR=/dev/shm
fi
TMPDIR=$(mktemp -d) || exit 2
export TMPDIR
chmod 1777 "$TMPDIR" # a test gives up its rights and must still reach and write there
trap 'rm -rf "$TMPDIR"' EXIT
trap 'exit 143' INT TERM HUP

status=0
GSK_RENDERER=cairo GSETTINGS_BACKEND=memory GTK_USE_PORTAL=0 LANG=C.UTF-8 \
  sh "$(dirname "$0")/own-display.sh" \
  timeout 1800 meson test -C "$build" --no-rebuild --print-errorlogs "$@" >&2 || status=$?
exit "$status"
