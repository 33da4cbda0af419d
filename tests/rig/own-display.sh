#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# own-display.sh PROGRAM [argument…]: runs it on a display and a session bus of its own, in an empty
# home, so that tests of windows run beside each other. The exit status is the program's.
set -u

home=$(mktemp -d) || exit 2
mkdir -m 700 "$home/run"
mkfifo "$home/number"
# -noreset: without it the server resets when its last client goes, and a start at that moment fails.
Xvfb -displayfd 5 -screen 0 1400x1000x24 -nolisten tcp -noreset 5>"$home/number" >"$home/log" 2>&1 &
server=$!
trap 'kill "$server" 2>/dev/null; wait "$server" 2>/dev/null; rm -rf "$home"' EXIT
trap 'exit 143' INT TERM HUP
number=$(timeout 60 head -n 1 "$home/number")
if [ -z "$number" ]; then
  cat "$home/log" >&2
  exit 2
fi

status=0
env -u DBUS_SESSION_BUS_ADDRESS -u WAYLAND_DISPLAY DISPLAY=":$number" GDK_BACKEND=x11 \
  HOME="$home" XDG_RUNTIME_DIR="$home/run" XDG_DATA_HOME="$home/data" XDG_CONFIG_HOME="$home/config" \
  XDG_CACHE_HOME="$home/cache" XDG_STATE_HOME="$home/state" \
  dbus-run-session -- "$@" || status=$?
exit "$status"
