#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Drives the real program with a real pointer on a display of its own: drag the
# fan of the demo to another shelf, see the forecast change, undo, redo, close,
# open again. What happened is read from the program's own log.
#
# usage: drive.sh PROGRAM          (speaks TAP)
program=$1
. "$(dirname "$0")/steps.sh"

fan () { where 'Slow fan'; }

start
wait_for 0 "$settled"
ok $? 'the demo opens and its forecast settles'
air_before=$(last 'lowest bay: \([0-9.]*\)')
at_first=$(fan)
[ -n "$at_first" ]
ok $? 'the fan is on the sheet'

# The gap between two shelves is a good fifth of the sheet; 140 px lead out of the
# lowest bay into the next.
from=$(lines)
grab "${at_first% *}" "${at_first#* }"
pull "${at_first% *}" "${at_first#* }" 60 -140
# Not let go before it is seen to follow: a busy machine is through with the pull in no time.
wait_for "$from" 'state: following'
ok $? 'the forecast follows while the fan is dragged'
xdotool mouseup 1
wait_for "$from" 'commit: Move Slow fan'
ok $? 'letting go is one step'
wait_for "$from" 'saved'
ok $? 'the step is saved at once'
wait_for "$from" "$settled"
ok $? 'the forecast settles after the drag'
air_after=$(last 'lowest bay: \([0-9.]*\)')
[ -n "$air_before" ] && [ "$air_before" != "$air_after" ]
ok $? "the table changed: $air_before, then $air_after m/s in the lowest bay"
at_moved=$(fan)
[ "$at_first" != "$at_moved" ]
ok $? "the fan is elsewhere: $at_first, then $at_moved"

from=$(lines)
xdotool key ctrl+z
wait_for "$from" 'undo' && wait_for "$from" "$settled"
[ "$(fan)" = "$at_first" ]
ok $? 'undo puts the fan back'
from=$(lines)
xdotool key ctrl+shift+z
wait_for "$from" 'redo' && wait_for "$from" "$settled"
[ "$(fan)" = "$at_moved" ]
ok $? 'redo moves it again'

# Escape in the middle of a drag leaves everything as it was.
from=$(lines)
point ${at_moved}
xdotool mousedown 1
for step in 1 2 3 4 5 6; do
  point $((${at_moved% *} + 10 * step)) "${at_moved#* }"
done
wait_for "$from" 'state: following'
xdotool key Escape
xdotool mouseup 1
wait_for "$from" "$settled"
[ "$(fan)" = "$at_moved" ] && ! tail -n +$((from + 1)) "$log" | grep -q 'commit:'
ok $? 'Escape ends a drag without effect'

# A thing from the tray.
from=$(lines)
in_tray=$(tray Fan)
drag $in_tray $((${at_first% *} - ${in_tray% *} + 150)) $((${at_first#* } - ${in_tray#* } - 20))
wait_for "$from" 'commit: Add Fan'
ok $? 'a fan is dragged in from the tray'
from=$(lines)
xdotool key Delete
wait_for "$from" 'commit: Remove Fan'
ok $? 'Delete takes it off again'

stop
ok $? 'the program ends well'
start
wait_for 0 "$settled"
[ "$(fan)" = "$at_moved" ]
ok $? 'opened again, the fan is where it was left'
from=$(lines)
xdotool key ctrl+z
wait_for "$from" 'undo'
ok $? 'steps can still be undone after closing'
stop
ok $? 'the program ends well again'
finish
