#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The first run to the first forecast of one's own, with keys alone, on a display
# with a window manager: the tour, a four-shelf film greenhouse with flap, fan,
# humidifier and six pots; then what the window remembers. What happened is read
# from the program's own log and from the file.
#
# usage: begin.sh PROGRAM          (speaks TAP)
program=$1
. "$(dirname "$0")/steps.sh"

# A new user: no habits, a home of his own.
rm -f "$XDG_CONFIG_HOME/dewtier/habits"
export HOME="$work/home"
mkdir -p "$HOME"
printf 'XDG_DOCUMENTS_DIR="$HOME/Papers"\n' > "$XDG_CONFIG_HOME/user-dirs.dirs"

openbox > /dev/null 2>&1 &
manager=$!
trap 'kill $manager; clean_up' EXIT

add () { # add N NAME: by the Edit menu, the Nth row of its Add
  from=$(lines)
  xdotool key alt+e Return $(yes Down | head -n "$1") Return
  wait_for "$from" "commit: Add $2"
  ok $? "$2 is added by keys"
}

began=$(date +%s)
start
wait_for 0 'page: tour'
ok $? 'the first run begins with the tour'
from=$(lines)
xdotool key Escape
wait_for "$from" 'page: sheet'
ok $? 'Escape leaves the tour'
wait_for 0 "$settled"
ok $? 'behind it the demo is forecast'

from=$(lines)
xdotool key ctrl+n
wait_for "$from" 'page: new'
ok $? 'Ctrl+N asks what kind of enclosure'
from=$(lines)
xdotool key Return
wait_for "$from" 'created: '
ok $? 'Enter draws the first kind'
wait_for "$from" "$settled"
ok $? 'and it is forecast'
document=$(last 'created: \(.*dewtier\)')
[ -f "$document" ] && [ "$(dirname "$document")" = "$HOME/Papers" ]
ok $? "the document is in the folder of documents: $document"

# Numbers of rows: the order of the kinds, which is that of the file's schema too.
add 2 Opening
add 3 Fan
add 4 Humidifier
for pot in 1 2 3 4 5 6; do
  add 5 'Wet pot'
done
# The last step's answer: settled after its commit.
from=$(grep -n 'commit: Add Wet pot 6' "$log" | cut -d : -f 1)
wait_for "$from" "$settled"
ok $? 'the finished enclosure is forecast'
took=$(($(date +%s) - began))
[ $took -lt 300 ]
ok $? "from nothing to the forecast in $took s, keys only, less than five minutes"

width () { xdotool getwindowgeometry --shell "$window" | sed -n 's/^WIDTH=//p'; }
is_wide () { [ "$(width)" -eq "$1" ]; }

own=$(width)
from=$(lines)
xdotool key F11
wait_for "$from" 'hint: Full screen'
ok $? 'F11 fills the screen'
# The program knows its size once it has laid its drawing out anew, some time after the display.
from=$(lines)
xdotool key F11
wait_until is_wide "$own" && wait_for "$from" ' view '
ok $? 'and leaves it'

# Another size, then away and back.
from=$(lines)
xdotool windowsize --sync "$window" 1180 720
wait_for "$from" ' view '
ok $? 'another size lays the drawing out anew'
wait_until is_wide 1180
stop
ok $? 'the program ends well'
"$program" convert "$document" "$work/made.json" > /dev/null \
  && [ "$(grep -c '"type" *: *"wet_pot"' "$work/made.json")" -eq 6 ] \
  && [ "$(grep -c '"type" *: *"shelf"' "$work/made.json")" -eq 4 ] \
  && grep -q '"type" *: *"fan"' "$work/made.json" \
  && grep -q '"type" *: *"humidifier"' "$work/made.json"
ok $? 'all of it is in the file: four shelves, fan, humidifier, six pots'
"$program" forecast "$document" > /dev/null
ok $? 'and the file can be forecast'

start
wait_for 0 "$settled"
xdotool getwindowname "$window" | grep -q 'Film greenhouse'
ok $? 'the next start goes on with the same enclosure, without the tour'
! grep -q 'page: tour' "$log"
ok $? 'the tour is for the first run'
grep -q '^width=11[78]' "$XDG_CONFIG_HOME/dewtier/habits"
ok $? "the window's size is remembered: $(grep width "$XDG_CONFIG_HOME/dewtier/habits")"

# The same file once more: the program that runs shows it, no second one.
before=$(xdotool search --onlyvisible --name 'Dewtier' | wc -l)
"$program" "$document"
[ $? -eq 0 ] && [ "$(xdotool search --onlyvisible --name 'Dewtier' | wc -l)" -eq "$before" ]
ok $? 'a file that is open is shown, not opened twice'

# A wrong file from outside gets a window that says so, with a way on.
echo 'Water on Sunday.' > "$work/note.txt"
from=$(lines)
"$program" "$work/note.txt"
wait_for "$from" 'trouble: .note.txt. cannot be opened'
ok $? 'a wrong file is told in the window'
wait_for "$from" 'page: start'
ok $? 'over the start page'
[ "$(cat "$work/note.txt")" = 'Water on Sunday.' ]
ok $? 'and is left as it was'
stop
ok $? 'the program ends well again'
finish
