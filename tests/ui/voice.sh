#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The program as a screen reader meets it: starts it on a display and an accessibility
# bus of its own, and lets voice.py read and act there.
#
# usage: voice.sh PROGRAM          (speaks TAP)
if [ "$2" != inside ]; then
  # The bus starts programs that talk on its output, which must not be mine.
  exec 3>&1
  exec xvfb-run -a -s '-screen 0 1440x900x24 -noreset' dbus-run-session -- \
    sh "$0" "$1" inside > /dev/null
fi
exec >&3 3>&-
program=$1
here=$(dirname "$0")
. "$here/steps.sh"
unset GTK_A11Y
export NO_AT_BRIDGE=0

start
wait_for 0 "$settled"
ok $? 'the demo opens and its forecast settles'
# The distribution's own Python has the bindings; one from elsewhere may not.
/usr/bin/python3 "$here/voice.py" "$window" "$log" "$n" || bad=1
n=$(cat "$work/count" 2> /dev/null || echo "$n")
stop
ok $? 'the program ends well'
finish
