#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds, and opens the program on the demo.
#
#   sh app/run.sh               the window, or the demo's forecast without a display
#   sh app/run.sh ARGUMENT ...  the program with these arguments
set -eu

# Relative file names among the arguments are the caller's.
from=$(pwd)
CDPATH= cd -- "$(dirname -- "$0")/.."
root=$(pwd)

. app/packages.sh

install_missing $packages_to_run
configure_build
ninja -C build app/dewtier app/dewtier-window >&2
program=$root/build/app/dewtier

if [ $# -gt 0 ]; then
  cd -- "$from"
  exec "$program" "$@"
fi

if [ -n "${WAYLAND_DISPLAY:-}${DISPLAY:-}" ]; then
  exec "$program"
fi

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT INT TERM
"$program" demo "$folder/demo.dewtier" >/dev/null
"$program" forecast "$folder/demo.dewtier"
echo
echo "No display was found, so this is the demo's forecast as text."
echo "For the window run the same command in a desktop session, over 'ssh -X', or"
echo "with DISPLAY or WAYLAND_DISPLAY set. All that works as text: $program --help"
