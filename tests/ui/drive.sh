#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Drives the real program with a real pointer on a display of its own: drag the
# fan of the demo to another shelf, see the forecast change, undo, redo, close,
# open again. What happened is read from the program's own log.
#
# usage: drive.sh PROGRAM          (speaks TAP)
program=$1
work=$(mktemp -d) || exit 1
export XDG_DATA_HOME="$work/data" XDG_CONFIG_HOME="$work/config" XDG_CACHE_HOME="$work/cache"
export G_MESSAGES_DEBUG=dewtier
# The tour of the first run is for people.
mkdir -p "$XDG_CONFIG_HOME/dewtier"
printf '[person]\ntour-seen=true\n' > "$XDG_CONFIG_HOME/dewtier/habits"
log=$work/log
pid=
n=0
bad=0

clean_up () {
  [ -n "$pid" ] && kill "$pid" 2> /dev/null
  rm -rf "$work"
}
trap clean_up EXIT

ok () { # ok RESULT WORDS
  n=$((n + 1))
  if [ "$1" -eq 0 ]; then
    echo "ok $n - $2"
  else
    echo "not ok $n - $2"
    sed 's/^/# /' "$log" | tail -40
    bad=1
  fi
}

# wait_for FROM PATTERN: until a line after line FROM of the log matches.
wait_for () {
  i=0
  while [ $i -lt 600 ]; do
    tail -n +$(($1 + 1)) "$log" | grep -Eq "$2" && return 0
    kill -0 "$pid" 2> /dev/null || return 1
    sleep 0.1
    i=$((i + 1))
  done
  return 1
}

lines () { wc -l < "$log"; }

last () { # last PATTERN: the last match of sed's \1
  sed -n "s/.*$1.*/\\1/p" "$log" | tail -1
}

start () {
  : > "$log"
  "$program" >> "$log" 2>&1 &
  pid=$!
  window=$(timeout 30 xdotool search --sync --onlyvisible --name 'Dewtier' | head -1)
  xdotool windowfocus "$window"
}

fan () { # where the demo's fan is in the window: "X Y"
  last 'at: \([0-9]* [0-9]*\) Slow fan'
}

drag () { # drag X Y DX DY
  xdotool mousemove --window "$window" "$1" "$2" sleep 0.2 mousedown 1 sleep 0.1
  for step in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
    xdotool mousemove --window "$window" $(($1 + $3 * step / 20)) $(($2 + $4 * step / 20)) \
      sleep 0.03
  done
  xdotool sleep 0.2 mouseup 1
}

stop () { # closes the window as a person does, and waits for the program
  # To whoever has the focus: a key sent to a window that is gone before its
  # release stays down, and the next window gets it.
  xdotool key ctrl+q
  i=0
  while kill -0 "$pid" 2> /dev/null && [ $i -lt 100 ]; do
    sleep 0.1
    i=$((i + 1))
  done
  wait "$pid"
  status=$?
  pid=
  return $status
}

settled='state: (settled|unsteady)'

start
wait_for 0 "$settled"
ok $? 'the demo opens and its forecast settles'
air_before=$(last 'lowest bay: \([0-9.]*\)')
at_first=$(fan)
[ -n "$at_first" ]
ok $? 'the fan is on the sheet'

# The gap between two shelves is a quarter of the sheet; 190 px lead out of the
# lowest bay into the next.
from=$(lines)
drag "${at_first% *}" "${at_first#* }" 60 -190
wait_for "$from" 'state: following'
ok $? 'the forecast follows while the fan is dragged'
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
xdotool mousemove --window "$window" ${at_moved} sleep 0.2 mousedown 1 sleep 0.1
for step in 1 2 3 4 5 6; do
  xdotool mousemove --window "$window" $((${at_moved% *} + 10 * step)) "${at_moved#* }" sleep 0.03
done
xdotool key Escape
xdotool mouseup 1
wait_for "$from" "$settled"
[ "$(fan)" = "$at_moved" ] && ! tail -n +$((from + 1)) "$log" | grep -q 'commit:'
ok $? 'Escape ends a drag without effect'

# A thing from the tray: the third row is another fan.
from=$(lines)
drag 60 180 $((${at_first% *} - 60 + 150)) $((${at_first#* } - 180 - 20))
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
echo "1..$n"
exit $bad
