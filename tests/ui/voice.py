# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads the running program through the accessibility bus, as a screen reader does.

usage: voice.py WINDOW LOG COUNT
COUNT is the number of the last test that was said; the new count goes into the
file `count` beside the log. Screen coordinates are never asked for: they are wrong in
GTK 4.8, and the question alone logs a warning.
"""
import re
import subprocess
import sys
import time

import pyatspi

WINDOW, LOG, COUNT = sys.argv[1], sys.argv[2], int(sys.argv[3])
PATIENCE_S = 60.0
number = COUNT
bad = False


def ok(result, words):
    global number, bad
    number += 1
    print('%s %d - %s' % ('ok' if result else 'not ok', number, words), flush=True)
    bad = bad or not result


def key(*names):
    subprocess.run(['xdotool', 'key', *names], check=True)


def application():
    for app in pyatspi.Registry.getDesktop(0):
        if app is not None and app.name == 'dewtier':
            return app
    return None


def walk(node, depth=0):
    """Every node below `node`, itself first. Nodes may vanish while one walks."""
    yield node
    if depth > 40:
        return
    try:
        children = [node.getChildAtIndex(i) for i in range(node.childCount)]
    except Exception:
        return
    for child in children:
        if child is not None:
            yield from walk(child, depth + 1)


def until(condition, patience_s=PATIENCE_S):
    end = time.monotonic() + patience_s
    while time.monotonic() < end:
        try:
            found = condition()
        except Exception:  # a node that was just removed
            found = None
        if found:
            return found
        time.sleep(0.1)
    return None


def sheet():
    for node in walk(application()):
        if node.name == 'Drawing of the enclosure':
            return node
    return None


def item(name):
    for node in sheet():
        if node is not None and node.name == name:
            return node
    return None


def has(node, state):
    return node.getState().contains(state)


def act(node, action):
    actions = node.queryAction()
    for i in range(actions.nActions):
        if actions.getName(i).endswith(action):
            return actions.doAction(i)
    return False


def log_says(pattern, start):
    with open(LOG) as log:
        log.seek(start)
        return re.search(pattern, log.read())


def log_end():
    with open(LOG) as log:
        return log.seek(0, 2)


def focused():
    for node in walk(application()):
        if has(node, pyatspi.STATE_FOCUSED):
            return node
    return None


def check_names():
    """Whatever can have the keyboard has a name that a person would give it."""
    nameless = []
    for node in walk(application()):
        try:
            if not has(node, pyatspi.STATE_FOCUSABLE):
                continue
            name, role = node.name, node.getRoleName()
        except Exception:
            continue
        if not name or re.match(r'(Gtk|Dew)[A-Z]', name):
            above = []
            parent = node.parent
            while parent is not None and parent.getRole() != pyatspi.ROLE_APPLICATION:
                above.append(parent.name or parent.getRoleName())
                parent = parent.parent
            nameless.append('%s (%s) in %s' % (name, role, ' < '.join(above[:4])))
    for one in nameless:
        print('# without a name: ' + one)
    ok(not nameless, 'everything that takes the keyboard has a name')


def check_sheet():
    drawing = sheet()
    ok(drawing is not None and drawing.getRole() == pyatspi.ROLE_LIST,
       'the drawing is a list')
    ok(re.search(r'70\.0 cm wide, 50\.0 cm deep, 160\.0 cm high\. \d+ things', drawing.description),
       'it says how large the enclosure is and how much is in it')
    children = [child for child in drawing if child is not None]
    items = [child for child in children if child.getRole() == pyatspi.ROLE_LIST_ITEM]
    names = [child.name for child in items]
    for name in ('Slow fan', 'Small mister', 'Clay pot 1', 'Low flap', 'Lower shelf',
                 'Pitcher plant, large', 'Middle hygrometer'):
        ok(name in names, '%s is in it' % name)
    ok(all(child.description for child in items), 'every item says more than its name')
    floor = [name for name in names if name.startswith('Floor')]
    ok(bool(floor), 'the bays are in it: %s' % ', '.join(floor))
    findings = [name for name in names if name.startswith('Finding 1')]
    ok(bool(findings), 'so are the findings: %s' % ', '.join(findings))
    # Reading order: from the top down.
    ok(names.index('Clay pot 3') < names.index('Clay pot 1') < names.index('Slow fan'),
       'items come from the top down')


def check_values():
    fan = until(lambda: (lambda one: one if 'Air there' in one.description else None)
                (item('Slow fan')))
    ok(fan is not None, 'the fan says what the air is like there')
    words = fan.description if fan is not None else ''
    print('# ' + words)
    ok(re.search(r'\d+ cm from the left', words), 'and where it is')
    ok(re.search(r'12\.0 cm across', words), 'and how large: 12 cm, as in the demo')
    ok(re.search(r'Blows to the right', words), 'and which way it blows')
    ok(re.search(r'\d+\s%(\s±\s\d+)?\shumid', words), 'with its humidity')
    flap = item('Low flap').description
    ok(re.search(r'100 % open', flap), 'the flap says how far it is open')
    # The bands come a little after the forecast.
    pot = until(lambda: re.search(r'±', item('Clay pot 1').description))
    ok(pot is not None, 'numbers come with their band')
    bay = [node for node in sheet() if node is not None and node.name.startswith('Floor')]
    ok(bool(bay) and re.search(r'Verdict: ', bay[0].description), 'a bay has its verdict')


def check_actions():
    fan = item('Slow fan')
    names = [fan.queryAction().getName(i) for i in range(fan.queryAction().nActions)]
    for wanted in ('move-left', 'move-up', 'turn-left', 'more', 'less', 'delete', 'edit',
                   'toggle'):
        ok(any(name.endswith('item.' + wanted) or name.endswith(wanted) for name in names),
           'the fan can be asked to %s' % wanted)
    before = fan.description
    start = log_end()
    ok(act(fan, 'move-right'), 'the fan is moved from outside')
    ok(until(lambda: log_says('commit: Move Slow fan', start)), 'that is a step of the document')
    ok(until(lambda: item('Slow fan').description != before), 'its words say the new place')
    start = log_end()
    ok(act(item('Low flap'), 'less'), 'the flap is closed a little from outside')
    ok(until(lambda: '90 % open' in item('Low flap').description), 'its words say 90 % open')
    start = log_end()
    act(item('Clay pot 1'), 'toggle')
    act(item('Clay pot 2'), 'toggle')
    ok(until(lambda: has(item('Clay pot 1'), pyatspi.STATE_SELECTED)
             and has(item('Clay pot 2'), pyatspi.STATE_SELECTED)),
       'two things are selected, and say so')
    act(item('Clay pot 1'), 'toggle')
    ok(until(lambda: not has(item('Clay pot 1'), pyatspi.STATE_SELECTED)),
       'one of them is taken out again')
    key('ctrl+z', 'ctrl+z')


def tab_to(condition, keys='Tab', most=80):
    """Presses Tab until what has the keyboard fits, and says what was passed."""
    passed = []
    for _ in range(most):
        before = focused()
        key(keys)
        # At the end of a row the focus may stay where it is.
        node = until(lambda: (lambda now: now if now is not None and now != before else None)
                     (focused()), 1.0)
        if node is None:
            continue
        passed.append(node.name)
        if condition(node):
            return node, passed
    return None, passed


def check_keys():
    """From the tray to a pot on its shelf by keys alone."""
    node, passed = tab_to(lambda one: one.name == 'Wet pot')
    ok(node is not None, 'Tab comes to the tray')
    start = log_end()
    key('Return')
    ok(until(lambda: log_says('commit: Add Wet pot', start)), 'Return puts a pot on the sheet')
    node = until(lambda: (lambda one: one if one is not None and one.name.startswith('Wet pot')
                          and one.getRole() == pyatspi.ROLE_LIST_ITEM else None)(focused()))
    ok(node is not None, 'the pot has the keyboard')
    before = node.description if node is not None else ''
    start = log_end()
    key('Right', 'Right', 'Up')
    ok(until(lambda: log_says('commit: Move Wet pot', start)), 'arrows move it')
    ok(until(lambda: focused().description != before), 'and it says where it is now')
    start = log_end()
    node, passed = tab_to(lambda one: log_says(r'selected: thing [1-9]', start))
    ok(node is not None, 'Tab goes on to the next thing, past %d' % (len(passed) - 1))
    start = log_end()
    key('space')
    ok(until(lambda: log_says('selected: thing 0', start)), 'the space bar takes it out')
    key('space')
    start = log_end()
    tab_to(lambda one: one.getRole() == pyatspi.ROLE_LIST_ITEM
           and re.match('(Clay|Middle|Tongue|Nodding|Jewel|Moss|Filmy|Lower)', one.name),
           'ctrl+Tab')
    key('space')
    ok(until(lambda: log_says('selected: 2 things', start)),
       'Control and Tab walk on, the space bar adds')
    start = log_end()
    key('ctrl+z')
    node, passed = tab_to(lambda one: one.name.startswith('Finding'))
    ok(node is not None, 'Tab comes to a finding')
    node, passed = tab_to(lambda one: one.getRole() != pyatspi.ROLE_LIST_ITEM)
    ok(node is not None, 'and leaves the sheet again, to %s' % (node.name if node else ''))


def main():
    ok(until(application) is not None, 'the program is on the accessibility bus')
    ok(until(sheet) is not None, 'the drawing is there')
    check_names()
    check_sheet()
    check_values()
    check_actions()
    check_keys()
    with open(LOG.rsplit('/', 1)[0] + '/count', 'w') as count:
        count.write(str(number))
    return 1 if bad else 0


sys.exit(main())
