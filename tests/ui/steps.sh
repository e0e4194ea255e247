# SPDX-License-Identifier: GPL-3.0-or-later
# Steps for tests that drive the real program on a display of its own; sourced.
# What happened is read from the program's own log, never waited for by the clock.
# Wants: $program. Gives: $window, $log, $work.
work=$(mktemp -d) || exit 1
export XDG_DATA_HOME="$work/data" XDG_CONFIG_HOME="$work/config" XDG_CACHE_HOME="$work/cache"
export G_MESSAGES_DEBUG=dewtier
log=$work/log
pid=
n=0
bad=0
settled='state: (settled|unsteady)'

# The tour has been seen, so the sheet comes first.
mkdir -p "$XDG_CONFIG_HOME/dewtier"
printf '[person]\ntour-seen=true\n' > "$XDG_CONFIG_HOME/dewtier/habits"

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
    sed 's/^/# /' "$log" | grep -Ev ' at: | view |legend:' | tail -40
    [ -n "$DEW_SHOTS" ] && import -window root "$DEW_SHOTS/failed-$n.png"
    bad=1
  fi
}

# wait_until [-N] COMMAND ...: until the command succeeds, N tenths of a second at most; what
# fails within the usual minute is broken.
wait_until () {
  left=600
  case $1 in -*) left=${1#-}; shift ;; esac
  until "$@"; do
    left=$((left - 1))
    [ $left -gt 0 ] || return 1
    [ -z "$pid" ] || kill -0 "$pid" 2> /dev/null || return 1
    sleep 0.1
  done
}

# logged FROM PATTERN: whether a line after line FROM of the log matches.
logged () { tail -n +$(($1 + 1)) "$log" | grep -Eq "$2"; }
wait_for () { wait_until logged "$1" "$2"; }

lines () { wc -l < "$log"; }

last () { # last PATTERN: the last match of sed's \1
  sed -n "s/.*$1.*/\\1/p" "$log" | tail -1
}

start () { # start [FILE]
  : > "$log"
  "$program" "$@" >> "$log" 2>&1 &
  pid=$!
  window=$(timeout 30 xdotool search --sync --onlyvisible --name 'Dewtier' | head -1)
  xdotool windowfocus "$window"
}

ended () { ! kill -0 "$pid" 2> /dev/null; }

stop () { # closes the window as a person does, and waits for the program
  # To whoever has the focus: a key sent to a window that is gone before its
  # release stays down, and the next window gets it.
  xdotool key ctrl+q
  wait_until ended
  wait "$pid"
  status=$?
  pid=
  return $status
}

where () { # where NAME: the middle of a thing in the window, "X Y"
  last "at: \\([0-9]* [0-9]*\\) $1"
}

tray () { # tray NAME: the middle of a picture in the tray, "X Y"
  last "tray: \\([0-9]* [0-9]*\\) $1"
}

view () { # view NAME FIELD: 1 x, 2 y, 3 width, 4 height
  last "view $1: \\([0-9 -]*\\)" | cut -d ' ' -f "$2"
}

point () { # point X Y: moves the pointer there
  xdotool mousemove --sync --window "$window" "$1" "$2"
}

press () { # press BUTTON: a click
  xdotool click "$1"
}

grab () { # grab X Y [BUTTON]: presses there
  point "$1" "$2"
  xdotool mousedown "${3:-1}"
}

pull () { # pull X Y DX DY: from X Y, with the button down, as a hand does
  for step in 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20; do
    point $(($1 + $3 * step / 20)) $(($2 + $4 * step / 20))
  done
}

drag () { # drag X Y DX DY [BUTTON]
  grab "$1" "$2" "${5:-1}"
  pull "$1" "$2" "$3" "$4"
  xdotool mouseup "${5:-1}"
}

# nears NAME X Y PX: whether a thing is that near to a place on the sheet.
nears () {
  set -- $(where "$1") "$2" "$3" "$4"
  [ $(($1 - $3)) -le "$5" ] && [ $(($3 - $1)) -le "$5" ] && [ $(($2 - $4)) -le "$5" ] \
    && [ $(($4 - $2)) -le "$5" ]
}

shot () { # shot NAME: a picture, when someone wants to look
  [ -n "$DEW_SHOTS" ] && import -window root "$DEW_SHOTS/$1.png"
  return 0
}

finish () {
  echo "1..$n"
  exit $bad
}
