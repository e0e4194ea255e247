#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Puts the whole tree into the layout of .clang-format, with Debian 12's formatter.
#
#   sh tests/format.sh            changes what is not in it
#   sh tests/format.sh --check    prints TAP, changes nothing
set -u

CDPATH= cd -- "$(dirname -- "$0")/.." || exit 1

formatter=$(command -v clang-format-14 || command -v clang-format) || {
  echo "Bail out! clang-format is missing: apt-get install clang-format"
  exit 1
}
sources=$(find app core ui tests -name '*.[ch]' | sort)

if [ "${1:-}" != --check ]; then
  exec "$formatter" -i $sources
fi

echo 1..1
if wrong=$("$formatter" --dry-run --Werror $sources 2>&1); then
  echo "ok 1 - the layout is that of .clang-format"
else
  echo "not ok 1 - the layout is that of .clang-format (sh tests/format.sh mends it)"
  printf '%s\n' "$wrong" | grep 'error:' | sed 's/^/# /' | head -20
fi
