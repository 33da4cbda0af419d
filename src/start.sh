#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what building and running Mantidary needs, builds it, and opens it on the demo journal at
# the demo's own last day. Without a display it runs the tour instead, which leaves pictures.
#
#   sh src/start.sh            as root, through sudo, or as a user who may use sudo
#   sh src/start.sh --tour     the tour under a virtual display, also where there is a display
set -eu

top=$(cd "$(dirname "$0")/.." && pwd)
# shellcheck source=src/setup.sh
. "$top/src/setup.sh"

tour=no
case "${1:-}" in
  '') ;;
  --tour) tour=yes ;;
  *)
    sed -n 's/^# \{0,1\}//p' "$0" | sed -n '3,7p'
    [ "$1" = --help ] && exit 0
    exit 2
    ;;
esac

# A display that is named but not there counts as none.
have_display () {
  [ -z "${WAYLAND_DISPLAY:-}" ] || return 0
  case "${DISPLAY:-}" in
    '') return 1 ;;
    :*)
      number=${DISPLAY#:}
      [ -S "/tmp/.X11-unix/X${number%%.*}" ]
      ;;
    *) return 0 ;;
  esac
}

packages="$setup_build_packages $setup_run_packages"
if [ "$tour" = yes ] || ! have_display; then
  packages="$packages $setup_tour_packages"
fi
# shellcheck disable=SC2086
setup_install $packages
setup_step_down "$top/src/start.sh" "$@"
have_display || tour=yes

build=$(setup_build_dir "$top" build)
setup_say "Building in $build"
setup_configure "$top" "$build"
meson compile -C "$build" mantidary mantidary-cli mantidary-decode mantidary-gmo >&2

if [ "$tour" = yes ]; then
  pictures=$top/screenshots
  mkdir -p "$pictures" 2>/dev/null || true
  [ -w "$pictures" ] || pictures=$build/screenshots
  have_display || setup_say 'There is no display here.'
  setup_say "Running the tour under a virtual display: the real window, driven through the main job.
Its pictures go to $pictures"
  meson compile -C "$build" tour-picture >&2
  exec /usr/bin/python3 "$top/tests/tour/tour.py" --build "$build" --pictures "$pictures"
fi

# What lies in the build folder and in the tree, not what another version may have installed.
export MANTIDARY_PROFILES="$top/data/profiles"
export MANTIDARY_DECODE="$build/src/imaging/decode/mantidary-decode"
export MANTIDARY_LOCALEDIR="$build/po"

demo=${XDG_DATA_HOME:-$HOME/.local/share}/mantidary/demo
if [ ! -e "$demo" ]; then
  setup_say 'Drawing the demo journal with its pictures; this takes some seconds.'
  "$build/src/cli/mantidary-cli" new "$demo" --demo >/dev/null
fi
setup_say "Opening the demo journal, $demo
Everything in it is invented, its pictures are drawn by Mantidary, and it is looked at on its own
last day. Your own journal is begun or opened from the menu and is not touched by this."
# Without a session bus there is no settings service: a file keeps them then.
if [ -z "${DBUS_SESSION_BUS_ADDRESS:-}" ] && [ ! -S "${XDG_RUNTIME_DIR:-/nonexistent}/bus" ]; then
  export GSETTINGS_BACKEND=keyfile
fi
exec "$build/src/app/mantidary" --journal "$demo"
