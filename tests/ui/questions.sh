#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# A grower's questions, asked of the demo with keys alone: where should the fan blow, do I
# need the humidifier and how many pots, can I keep cool growers here and where does the weak
# one go, shall I cut, which lamp. Each is answered by two actions: the Ask
# menu and a row of it; the third one takes the answer.
#
# usage: questions.sh PROGRAM          (speaks TAP)
# DEW_SHOTS=FOLDER keeps pictures, DEW_SIZE='1024 640' sizes the window before.
program=$1
. "$(dirname "$0")/steps.sh"

ask () { # ask ROW TITLE SHOT: the menu, a row of it; then the answer
  from=$(lines)
  xdotool key alt+a $(yes Down | head -n "$1") Return
  wait_for "$from" "advice: $2: asked"
  ok $? "asked, without another click: $3"
  # A search may take its minutes on a machine that does other things too.
  wait_until -3000 logged "$from" "advice: $2: done"
  ok $? "answered: $3"
  shot "$3"
}

look () { # look TITLE SHOT: Tab on to an answer, which is then on the sheet
  from=$(lines)
  tabs=0
  # It is looked at a moment after it has the keyboard.
  until wait_until -4 logged "$from" "advice: $1: look at"; do
    xdotool key Tab
    tabs=$((tabs + 1))
    [ $tabs -lt 40 ] || break
  done
  [ $tabs -lt 40 ]
  ok $? "an answer that has the keyboard is on the sheet: $2"
  shot "$2"
}

take () { # take STEP: Enter takes it, Ctrl+Z takes it back
  from=$(lines)
  xdotool key Return
  wait_for "$from" "commit: $1"
  ok $? "taken as one step: $1"
  from=$(lines)
  xdotool key ctrl+z
  wait_for "$from" 'undo' && wait_for "$from" "$settled"
  ok $? "and taken back: $1"
}

start
if [ -n "$DEW_SIZE" ]; then
  xdotool windowsize --sync "$window" ${DEW_SIZE}
fi
wait_for 0 "$settled"
ok $? 'the demo opens and its forecast settles'

ask 0 'Where should the fan blow\?' fan
look 'Where should the fan blow\?' fan-look
take 'Move fan as advised'
ask 1 'How much water does it take\?' moisture
ask 2 'Which plant stands where\?' plants
look 'Which plant stands where\?' plants-look
take 'Stand plants as advised'
ask 3 'Cut the cover\?' cut
look 'Cut the cover\?' cut-look

ask 4 'What else would grow here\?' suits
ask 5 'How high the shelves\?' heights
look 'How high the shelves\?' heights-look
take 'Hang shelves as advised'
ask 6 'Which lamp, how high, how long\?' light

from=$(lines)
xdotool key alt+a Down Down Down Down Down Down Down Return
wait_for "$from" 'page: compare'
ok $? 'variants stand side by side'
wait_until -3000 logged "$from" 'compared'
ok $? 'and are compared'
shot compare
from=$(lines)
xdotool key Escape
wait_for "$from" 'page: sheet'
ok $? 'Escape leads back to the sheet'
stop
ok $? 'the program ends well'
finish
