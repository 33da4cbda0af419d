#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# test-install.sh BUILD PREFIX LIBEXECDIR: what `meson install` lays down is whole, and the installed
# command line works without the tree.
set -u

build=$1
prefix=$2
libexec=$3
work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT
root=$work/root
there=$root$prefix
id=io.github.mantidary.Mantidary
number=0
failed=0

# result STATUS NAME
result () {
  number=$((number + 1))
  if [ "$1" -eq 0 ]; then
    echo "ok $number - $2"
  else
    echo "not ok $number - $2"
    failed=1
  fi
}

there () {
  [ -s "$there/$1" ]
  result $? "installs $1"
}

cli () {
  env -i PATH=/usr/bin:/bin HOME="$work" LC_ALL=C.UTF-8 MANTIDARY_PROFILES="$there/share/mantidary/profiles" \
    MANTIDARY_DECODE="$there/$libexec/mantidary/mantidary-decode" "$there/bin/mantidary-cli" "$@"
}

meson install -C "$build" --no-rebuild --quiet --destdir "$root" >"$work/log" 2>&1
status=$?
[ "$status" -eq 0 ] || sed 's/^/# /' "$work/log"
result "$status" 'meson install'

there bin/mantidary-cli
[ ! -e "$build/src/app/mantidary" ] || there bin/mantidary
there "$libexec/mantidary/mantidary-decode"
there share/mantidary/profiles/general.profile
there "share/applications/$id.desktop"
there "share/metainfo/$id.metainfo.xml"
there "share/icons/hicolor/scalable/apps/$id.svg"
there share/locale/de/LC_MESSAGES/mantidary.mo

cli new "$work/journal" >/dev/null && cli --journal "$work/journal" add place name=Shelf code=A >/dev/null &&
  [ "$(cli --journal "$work/journal" add animal species=hierodula place=A hatched=2026-01-01)" = 1 ] &&
  cli --journal "$work/journal" --today 2026-02-01 --json forecast 1 | grep -q '"p50": *"2026'
result $? 'the installed command line keeps a journal and forecasts'

cli --journal "$work/journal" photo add 1 "$there/share/icons/hicolor/scalable/apps/$id.svg" 2>"$work/said"
[ $? -eq 1 ] && [ -s "$work/said" ]
result $? 'the installed decoder is asked, and refuses a drawing'

left=$(find "$root" -type f -exec grep -l "$build" {} + 2>/dev/null | grep -v -e /bin/ -e "/$libexec/" || true)
[ -z "$left" ]
result $? 'no installed file of data names the build folder'

echo "1..$number"
exit "$failed"
