#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs all large-eddy cases and puts the figures into README.md here and the README above.

usage: refresh.py [BUILD_FOLDER]      build, unless named

The tables stand between two comments, 'figures' and 'end of figures'."""
import glob
import os
import re
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.join(HERE, '..', '..')
BLOCK = re.compile(r'(<!-- figures[^\n]*-->\n).*?(<!-- end of figures -->)', re.S)


def put(path, text):
    with open(path) as f:
        old = f.read()
    new, n = BLOCK.subn(lambda m: m.group(1) + '\n' + text + '\n\n' + m.group(2), old)
    if n != 1:
        sys.exit('%s: expected one block of figures, found %d' % (path, n))
    with open(path, 'w') as f:
        f.write(new)


def short(tables):
    """Of each role only its last row, all quantities together."""
    lines = ['| | cases | rows | inside goal | outside must | inside its own band |',
             '|---|---|---|---|---|---|']
    for role, cases, table in re.findall(r'^([\w -]+), (\d+) cases?:\n\n(.*?)(?:\n\n|\Z)', tables,
                                         re.S | re.M):
        cells = [c.strip() for c in table.strip().split('\n')[-1].split('|')[1:-1]]
        lines.append('| %s | %s | %s | %s | %s | %s |' % (role, cases, cells[1], cells[2],
                                                          cells[3], cells[-1]))
    return '\n'.join(lines)


def main(args):
    build = args[0] if args else os.path.join(ROOT, 'build')
    check = os.path.join(build, 'tests', 'reference', 'reference-check')
    cases = sorted(glob.glob(os.path.join(HERE, 'large-eddy', '*.json')))
    # Its exit status tells of rows outside the band, which here is a figure like others.
    done = subprocess.run([check, '--markdown'] + cases, stdout=subprocess.PIPE, text=True)
    if done.returncode not in (0, 1):
        sys.exit('refresh.py: reference-check could not run every case')
    put(os.path.join(HERE, 'README.md'), done.stdout.strip())
    put(os.path.join(ROOT, 'README.md'), short(done.stdout))
    print(done.stdout)


if __name__ == '__main__':
    main(sys.argv[1:])
