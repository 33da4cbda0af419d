#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Finds the files with strings (POTFILES.in), gathers the strings and merges them into every language of
# LINGUAS. No line numbers and a fixed order, so that two branches do not collide.
#
#   sh po/update.sh            update po/LANG.po
#   sh po/update.sh --check    fail when an update would change anything
set -eu

top=$(cd "$(dirname "$0")/.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT HUP INT TERM
cd "$top"

if [ "${1:-}" != --check ]; then
  {
    grep '^#' po/POTFILES.in
    python3 tests/words/check-po.py list .
  } > "$work/potfiles"
  cp "$work/potfiles" po/POTFILES.in
fi
grep -v '^#' po/POTFILES.in > "$work/all"
grep '\.c$' "$work/all" > "$work/c" || true
grep '\.ui$' "$work/all" > "$work/ui" || true
grep -v -e '\.c$' -e '\.ui$' "$work/all" > "$work/rest" || true
common="--from-code=UTF-8 --add-comments=Translators: --no-location --sort-output
  --package-name=mantidary --copyright-holder=Mantidary --no-wrap"

: > "$work/all.pot"
parts=
if [ -s "$work/c" ]; then
  # shellcheck disable=SC2086
  xgettext $common --language=C --files-from="$work/c" --output="$work/c.pot" \
    --keyword=_ --keyword=N_ --keyword=C_:1c,2 --keyword=NC_:1c,2 --keyword=Q_:1g \
    --keyword=g_dngettext:2,3 --keyword=ngettext:1,2 --keyword=g_dpgettext2:2c,3 \
    --keyword=T_:2c,3 --keyword=TN_:2c,3,4 --keyword=TERM:1c,2 --keyword=SAY:2c,3 \
    --flag=T_:3:pass-c-format --flag=TN_:3:pass-c-format --flag=TN_:4:pass-c-format \
    --flag=C_:2:pass-c-format --flag=g_strdup_printf:1:c-format --flag=g_set_error:4:c-format
  parts="$parts $work/c.pot"
fi
if [ -s "$work/ui" ]; then
  # shellcheck disable=SC2086
  xgettext $common --language=Glade --files-from="$work/ui" --output="$work/ui.pot"
  parts="$parts $work/ui.pot"
fi
if [ -s "$work/rest" ]; then
  # shellcheck disable=SC2086
  xgettext $common --files-from="$work/rest" --output="$work/rest.pot"
  parts="$parts $work/rest.pot"
fi
# shellcheck disable=SC2086
msgcat --no-location --sort-output --no-wrap --use-first --output="$work/all.pot" $parts

status=0
for lang in $(grep -v '^#' po/LINGUAS); do
  po=po/$lang.po
  if [ ! -f "$po" ]; then
    msginit --no-translator --no-wrap --locale="$lang" --input="$work/all.pot" --output="$po"
  fi
  msgmerge --quiet --no-fuzzy-matching --no-location --sort-output --no-wrap \
    --output="$work/$lang.po" "$po" "$work/all.pot"
  msgattrib --no-obsolete --no-location --sort-output --no-wrap \
    --output="$work/$lang.dated" "$work/$lang.po"
  # A date in the file would collide between any two branches.
  grep -v '^"POT-Creation-Date' "$work/$lang.dated" > "$work/$lang.clean"
  if [ "${1:-}" = --check ]; then
    if ! cmp -s "$po" "$work/$lang.clean"; then
      echo "$po is not up to date: run sh po/update.sh" >&2
      status=1
    fi
  else
    cp "$work/$lang.clean" "$po"
  fi
done
exit $status
