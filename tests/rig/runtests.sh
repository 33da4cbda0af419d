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
home=$(mktemp -d) || exit 2
TMPDIR=$(mktemp -d) || exit 2
export TMPDIR
chmod 1777 "$TMPDIR" # a test gives up its rights and must still reach and write there
mkdir -m 700 "$home/run"
mkfifo "$home/number"

# -noreset: without it the server resets when its last client goes, and a start at that moment fails.
Xvfb -displayfd 5 -screen 0 1400x1000x24 -nolisten tcp -noreset 5>"$home/number" >"$home/xvfb.log" 2>&1 &
server=$!
trap 'kill "$server" 2>/dev/null; wait "$server" 2>/dev/null; rm -rf "$home" "$TMPDIR"' EXIT
trap 'exit 143' INT TERM HUP
number=$(timeout 20 head -n 1 "$home/number")
if [ -z "$number" ]; then
  cat "$home/xvfb.log" >&2
  exit 2
fi

status=0
env -u DBUS_SESSION_BUS_ADDRESS -u WAYLAND_DISPLAY DISPLAY=":$number" GDK_BACKEND=x11 GSK_RENDERER=cairo \
  GSETTINGS_BACKEND=memory GTK_USE_PORTAL=0 HOME="$home" XDG_RUNTIME_DIR="$home/run" \
  XDG_DATA_HOME="$home/data" XDG_CONFIG_HOME="$home/config" XDG_CACHE_HOME="$home/cache" \
  XDG_STATE_HOME="$home/state" LANG=C.UTF-8 \
  timeout 1800 dbus-run-session -- meson test -C "$build" --no-rebuild --print-errorlogs "$@" >&2 || status=$?
exit "$status"
