#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Whether the command line does all its work on a machine without a display and without the
# toolkit of the window.
#
# usage: bare.sh PROGRAM INSTALLED          (speaks TAP; INSTALLED: where the window would be)
program=$1
installed=$2
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
unset DISPLAY WAYLAND_DISPLAY
n=0
bad=0

ok () { # ok RESULT WORDS
  n=$((n + 1))
  if [ "$1" -eq 0 ]; then
    echo "ok $n - $2"
  else
    echo "not ok $n - $2"
    sed 's/^/# /' "$work/said"
    bad=1
  fi
}

answers () { # answers WORD ...: the command ends well and says nothing amiss
  "$program" "$@" > "$work/answer" 2> "$work/said" && [ ! -s "$work/said" ]
  ok $? "dewtier $1 works without a display"
}

ldd "$program" > "$work/said"
! grep -Eq 'lib(gtk|gdk|gsk|wayland)' "$work/said"
ok $? 'no library of the window is loaded'

cat > "$work/jar.json" << 'END'
{ "format": "dewtier enclosure", "version": 1, "name": "Jar", "outer_m": [0.3, 0.3, 0.4],
  "variants": [ { "id": 1, "name": "A", "things": [] } ] }
END
quick='--members 0'
answers demo "$work/demo.dewtier"
answers forecast "$work/demo.dewtier" --grid draft $quick
answers sheet "$work/demo.dewtier" "$work/demo.pdf" --bare
answers advise fan "$work/jar.json" --candidates 4 --members 0
answers assign "$work/demo.dewtier" --draft $quick
answers compare "$work/demo.dewtier" --draft $quick
answers readings list "$work/demo.dewtier"
answers readings night
answers journal "$work/demo.dewtier"
answers check "$work/demo.dewtier"
answers convert "$work/demo.dewtier" "$work/demo.json"
answers labels "$work/demo.dewtier" "$work/labels.pdf"
answers thumbnail "$work/demo.dewtier" "$work/thumbnail" 64
answers suits "$work/demo.dewtier" --draft
answers shelves "$work/demo.dewtier"
answers plants Dracula
answers wish "$work/demo.dewtier" '2 Dracula'
answers kind "$work/demo.dewtier" 'One of ours' rh_min=0.7
answers calibrate --help
answers day "$work/demo.dewtier"
# The two march for many seconds; a day has shown that marching works.
answers year --help
answers mishap --help
answers rescue "$work/demo.dewtier" "$work/rescued.dewtier"
answers self-check
answers catalogue
answers cautions
answers --help
answers --version
for command in $("$program" --help | sed -n 's/^  dewtier \([a-z][a-z-]*\) .*/\1/p'); do
  grep -q "^answers $command" "$0"
  ok $? "$command is among the commands tried here"
done

"$program" > "$work/answer" 2> "$work/said"
[ $? -eq 1 ] && grep -q '^dewtier: there is no display for the window' "$work/said"
ok $? 'the window says that it has no display'

# Alone in a folder: only the installed window could be found.
cp "$program" "$work/dewtier"
"$work/dewtier" "$work/demo.dewtier" > "$work/answer" 2> "$work/said"
[ $? -eq 1 ] && grep -q "^dewtier: $installed: " "$work/said" || [ -x "$installed" ]
ok $? 'a window that is missing is told by its name'
[ "$(wc -l < "$work/said")" -eq 1 ]
ok $? 'in one line'

# Beside the program, whatever the folder, and with the words it was given.
printf '#!/bin/sh\necho "window: $*"\n' > "$work/dewtier-window"
chmod +x "$work/dewtier-window"
[ "$("$work/dewtier" one.dewtier "two two.dewtier")" = 'window: one.dewtier two two.dewtier' ]
ok $? 'the window beside the program gets the files'
(cd / && PATH="$work:$PATH" && [ "$(dewtier)" = 'window: ' ])
ok $? 'also when the program is found by the path'

echo "1..$n"
exit $bad
