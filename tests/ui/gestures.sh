#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The gestures of the sheet with a real pointer and real keys: a frame round several
# things, moving them together, zoom at the pointer, shifting, lifting a flap, moving
# an opening to another wall, the clipboard, lining up, the menu, the legend and the
# probe, and all of adding and moving by keys alone.
#
# usage: gestures.sh PROGRAM          (speaks TAP)
program=$1
. "$(dirname "$0")/steps.sh"

fields () { # fields NAME: X and Y of a thing as $x and $y
  set -- $(where "$1")
  x=$1
  y=$2
}

distance () { # distance A B: |A - B|
  if [ "$1" -gt "$2" ]; then echo $(($1 - $2)); else echo $(($2 - $1)); fi
}

sits_left () { # whether the flap is drawn in the left wall
  fields 'Low flap'
  [ "$(distance "$x" "$(view front 1)")" -le 4 ]
}

start
wait_for 0 "$settled"
ok $? 'the demo opens'
for name in front plan; do
  [ -n "$(view $name 1)" ]
  ok $? "the $name view is shown"
done
# Every bay is a row: the plan of the floor stands right of the front view, at its foot.
[ "$(view plan 1)" -gt $(($(view front 1) + $(view front 3))) ] \
  && [ "$(view plan 2)" -gt $(($(view front 2) + $(view front 4) / 2)) ]
ok $? 'the plan stands beside its bay'
from=$(lines)
point $(($(view plan 1) + 6)) $(($(view plan 2) + 12)); press 1
wait_for "$from" 'plan: large'
ok $? 'a click on its air enlarges the plan'
wait_for "$from" 'view plan'
shot plan
from=$(lines)
xdotool key Escape
wait_for "$from" 'plan: in its row' && wait_for "$from" 'view plan'
ok $? 'Escape puts it back into its row'

# --- several ---------------------------------------------------------------
fields 'Clay pot 1'; x1=$x; y1=$y
fields 'Clay pot 2'; x2=$x; y2=$y
from=$(lines)
drag $((x1 - 36)) $((y1 - 50)) $((x2 - x1 + 72)) 90
wait_for "$from" 'selected: 2 things'
ok $? 'a frame on the air selects what is in it'
from=$(lines)
drag "$x1" "$y1" 30 0
wait_for "$from" 'commit: Move 2 things'
ok $? 'one of them takes the other along'
wait_for "$from" 'at: .* Clay pot 2'
fields 'Clay pot 1'; moved1=$((x - x1))
fields 'Clay pot 2'; moved2=$((x - x2))
# Both ends of both ways are told in whole px.
[ "$moved1" -gt 15 ] && [ "$(distance "$moved1" "$moved2")" -le 2 ]
ok $? "both went the same way: $moved1 and $moved2 px"
shot several
from=$(lines)
xdotool key ctrl+z
wait_for "$from" 'undo'
ok $? 'that is one step back'

from=$(lines)
fields 'Clay pot 1'; point "$x" "$y"; press 1
wait_for "$from" 'selected: thing'
fields 'Clay pot 2'; point "$x" "$y"
xdotool keydown shift click 1 keyup shift
wait_for "$from" 'selected: 2 things'
ok $? 'Shift and a click add'
from=$(lines)
fields 'Clay pot 1'; point "$x" "$y"
xdotool keydown ctrl click 1 keyup ctrl
wait_for "$from" 'selected: thing'
ok $? 'Control and a click take out'
from=$(lines)
xdotool key ctrl+a
wait_for "$from" 'selected: [0-9]{2} things'
ok $? 'Control+A selects all'
from=$(lines)
xdotool key Escape
wait_for "$from" 'selected: thing 0'
ok $? 'Escape selects nothing'

# --- lining up and spreading --------------------------------------------------
from=$(lines)
fields 'Clay pot 1'; point "$x" "$y"; press 1
fields 'Clay pot 3'; point "$x" "$y"
xdotool keydown shift click 1 keyup shift
wait_for "$from" 'selected: 2 things'
from=$(lines)
xdotool key Menu
wait_for "$from" 'menu'
ok $? 'the menu key opens the menu'
shot menu
from=$(lines)
xdotool key Escape
wait_for "$from" 'menu closed'
from=$(lines)
press 3
wait_for "$from" 'menu$'
ok $? 'so does the right button'
from=$(lines)
xdotool key Escape
wait_for "$from" 'menu closed'

# --- the clipboard ----------------------------------------------------------------
from=$(lines)
fields 'Clay pot 1'; point "$x" "$y"; press 1
wait_for "$from" 'selected: thing'
xdotool key ctrl+c
wait_for "$from" 'copied: 1'
ok $? 'Control+C copies'
xdotool key ctrl+v
wait_for "$from" 'commit: Paste'
ok $? 'Control+V puts another one beside it'
from=$(lines)
xdotool key ctrl+d
wait_for "$from" 'commit: Duplicate'
ok $? 'Control+D does both at once'
from=$(lines)
xdotool key ctrl+x
wait_for "$from" 'commit: Cut'
ok $? 'Control+X takes it off'
from=$(lines)
xdotool key ctrl+z ctrl+z ctrl+z
wait_for "$from" 'undo'

# --- a closer look ------------------------------------------------------------------
fields 'Slow fan'; fan_x=$x; fan_y=$y
point "$fan_x" "$fan_y"
from=$(lines)
xdotool keydown ctrl click 4 click 4 click 4 click 4 keyup ctrl
wait_for "$from" 'zoom: 1.7'
ok $? 'Control and the wheel zoom'
wait_until logged "$from" 'at: .* Slow fan' && wait_until nears 'Slow fan' "$fan_x" "$fan_y" 3
ok $? "what is under the pointer stays there: $fan_x $fan_y, then $(where 'Slow fan')"
shot zoomed
from=$(lines)
drag "$fan_x" $((fan_y - 100)) 40 60 2
wait_for "$from" 'zoom: '
wait_until nears 'Slow fan' $((fan_x + 40)) $((fan_y + 60)) 3
ok $? 'the middle button shifts the sheet'
from=$(lines)
fields 'Slow fan'; point "$x" "$y"
press 5
wait_for "$from" 'zoom: '
ok $? 'the wheel alone goes down the sheet'
from=$(lines)
xdotool key ctrl+0
wait_for "$from" 'zoom: 1.00'
wait_until nears 'Slow fan' "$fan_x" "$fan_y" 0
ok $? 'Control+0 shows all of it again'
from=$(lines)
xdotool key ctrl+plus
wait_for "$from" 'zoom: 1.25'
ok $? 'so do Control and plus come closer'
xdotool key ctrl+minus
wait_for "$from" 'zoom: 1.00'
ok $? 'and Control and minus go back'

# --- openings ---------------------------------------------------------------------------
from=$(lines)
fields 'Low flap'; point "$x" "$y"; press 1
wait_for "$from" 'selected: thing'
wait_for "$from" 'lift: '
lift=$(last 'lift: \([0-9]* [0-9]*\)')
from=$(lines)
drag ${lift} 0 14
wait_for "$from" 'commit: Lift Low flap'
ok $? 'a flap is lifted and lowered by its free edge'
shot lifted
from=$(lines)
xdotool key plus
wait_for "$from" 'commit: Open or close Low flap'
ok $? 'plus opens it a little'
xdotool key ctrl+z ctrl+z
from=$(lines)
fields 'Low flap'
drag "$x" "$y" $(($(view front 1) - 12 - x)) -120
wait_for "$from" 'commit: Move Low flap'
wait_until sits_left
ok $? 'dragged over the left edge it sits in the left wall'
shot left-wall
from=$(lines)
xdotool key ctrl+z
wait_for "$from" 'undo'

# --- colours, and the air under the pointer -------------------------------------------------
from=$(lines)
point $(last 'legend: \([0-9]* [0-9]*\)'); press 1
wait_for "$from" 'scale of colours: fixed'
ok $? 'a click on the legend fixes the scale'
press 1
wait_for "$from" 'scale of colours: fitted'
ok $? 'another fits it again'
from=$(lines)
fields 'Slow fan'
point $((x + 70)) $((y - 60))
wait_for "$from" 'probe'
ok $? 'a pointer at rest asks what the air is like'
shot probe

# --- from the tray ----------------------------------------------------------------------------
from=$(lines)
in_tray=$(tray Fan)
drag $in_tray $(($(view front 1) - ${in_tray% *} + 130)) $(($(view front 2) - ${in_tray#* } + 300))
wait_for "$from" 'commit: Add Fan'
ok $? 'a fan is dragged in from the tray'
from=$(lines)
xdotool key Delete
wait_for "$from" 'commit: Remove Fan'
ok $? 'Delete takes it off again'

stop
ok $? 'the program ends well'
finish
