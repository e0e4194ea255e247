#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds with warnings as errors and runs all tests,
# those of the ui on a display in memory. Arguments go to 'meson test', for
# instance a suite: sh tests/run.sh --suite moist
#
# The last line is 'N passed, N failed'. It counts single test points; a
# program that dies, hangs or says nothing counts as one failure.
set -u

CDPATH= cd -- "$(dirname -- "$0")/.." || exit 1

. app/packages.sh

stop ()
{
  say "$1"
  echo "0 passed, 1 failed"
  exit 1
}

install_missing $packages_to_run $packages_to_test || stop "Some packages are missing."
configure_build -Dwerror=true || stop "The build folder could not be set up."
ninja -C build || stop "The program does not build."

rm -f build/meson-logs/testlog.json
meson test -C build --no-rebuild --print-errorlogs "$@"
status=$?

[ -f build/meson-logs/testlog.json ] || stop "The tests left no log."
python3 tests/count.py build/meson-logs/testlog.json "$status"
