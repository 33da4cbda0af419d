# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh disable=SC2034
# What src/start.sh and tests/all.sh share; read with `.`, never run alone.
# Root installs packages and does nothing else: building and starting belong to the keeper.

# A compiler, Meson and the libraries (DEVELOPERS.md, "Dependencies", says why each).
setup_build_packages='build-essential pkgconf meson ninja-build gettext libxml2-utils
  libgtk-4-dev libpango1.0-dev libadwaita-1-dev librsvg2-dev libsqlite3-dev libpng-dev libexif-dev libgdk-pixbuf-2.0-dev
  libjpeg62-turbo-dev libarchive-dev'
# What a bare system lacks to show the window and to read photographs.
setup_run_packages='adwaita-icon-theme fonts-dejavu-core librsvg2-common heif-gdk-pixbuf webp-pixbuf-loader'
# A virtual display and the driver of the real window.
setup_tour_packages='xvfb dbus dbus-daemon at-spi2-core xdotool x11-utils imagemagick openbox
  python3 python3-gi gir1.2-atspi-2.0 poppler-utils'

setup_say () {
  printf '%s\n' "$*" >&2
}

setup_die () {
  setup_say "$*"
  exit 1
}

# Prints those of its arguments that are not installed.
setup_missing () {
  for setup_name in "$@"; do
    setup_status=$(dpkg-query -W -f='${Status}' "$setup_name" 2>/dev/null) || setup_status=none
    [ "$setup_status" = 'install ok installed' ] || printf '%s ' "$setup_name"
  done
}

# Runs its arguments as root.
setup_as_root () {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  elif command -v sudo >/dev/null 2>&1; then
    sudo "$@"
  else
    return 126
  fi
}

setup_apt () {
  setup_as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -o Acquire::Retries=3 \
    -o DPkg::Lock::Timeout=600 "$@" >&2
}

# Installs its arguments where they are missing; three attempts, as mirrors stumble.
setup_install () {
  command -v apt-get >/dev/null 2>&1 || setup_die 'This script installs packages of Debian 12, and there is no
apt-get here. Install the counterparts of these packages, then run meson yourself (DEVELOPERS.md):
'"$*"
  setup_wanted=$(setup_missing "$@")
  [ -n "$setup_wanted" ] || return 0
  if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null 2>&1; then
    setup_die "These packages are missing, and installing them needs root: $setup_wanted
As root, run:  apt-get update && apt-get install --no-install-recommends $setup_wanted
Then start this command again."
  fi
  setup_say "Installing: $setup_wanted"
  for setup_attempt in 1 2 3; do
    # shellcheck disable=SC2086
    if setup_apt update && setup_apt install -y --no-install-recommends $setup_wanted; then
      return 0
    fi
    setup_say "Installing failed (attempt $setup_attempt of 3)."
    sleep $((setup_attempt * 5))
  done
  setup_die 'The packages could not be installed; what apt-get said stands above.'
}

# Called through sudo: runs this script again, with its arguments, as the user who called sudo.
# Returns when there is nobody to step down to.
setup_step_down () {
  if [ "$(id -u)" -ne 0 ] || [ -z "${SUDO_USER:-}" ] || [ "$SUDO_USER" = root ]; then
    return 0
  fi
  setup_home=$(getent passwd "$SUDO_USER" | cut -d: -f6)
  setup_run=/run/user/$(id -u "$SUDO_USER")
  set -- "HOME=$setup_home" "USER=$SUDO_USER" "LOGNAME=$SUDO_USER" sh "$@"
  if [ -d "$setup_run" ]; then
    set -- "XDG_RUNTIME_DIR=$setup_run" "$@"
    [ ! -S "$setup_run/bus" ] || set -- "DBUS_SESSION_BUS_ADDRESS=unix:path=$setup_run/bus" "$@"
    if [ -z "${WAYLAND_DISPLAY:-}" ] && [ -S "$setup_run/wayland-0" ]; then
      set -- WAYLAND_DISPLAY=wayland-0 "$@"
    fi
  fi
  exec runuser -u "$SUDO_USER" -- env -u SUDO_USER -u XDG_DATA_HOME -u XDG_CONFIG_HOME -u XDG_CACHE_HOME \
    -u XDG_STATE_HOME "$@"
}

# Prints where to build: NAME in the tree where that can be written, else in the keeper's cache.
setup_build_dir () {
  if [ -w "$1" ] && { [ ! -e "$1/$2" ] || [ -w "$1/$2" ]; }; then
    printf '%s\n' "$1/$2"
  else
    printf '%s\n' "${XDG_CACHE_HOME:-$HOME/.cache}/mantidary/$2"
  fi
}

# setup_configure TREE BUILD [meson option…]
setup_configure () {
  setup_tree=$1
  setup_build=$2
  shift 2
  if [ -f "$setup_build/build.ninja" ]; then
    meson configure "$setup_build" "$@" >/dev/null
  else
    mkdir -p "$(dirname "$setup_build")"
    meson setup "$setup_build" "$setup_tree" "$@" >&2
  fi
}
