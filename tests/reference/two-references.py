#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares two simulations of the same enclosures: cases of the same name in two folders.

usage: two-references.py FOLDER BETTER_FOLDER

For each quantity: rows (bays and their quarters), median ratio, and how many rows differ by
more than the 'must' band that reference-check allows a forecast (compare.h)."""
import glob
import json
import os
import statistics
import sys

# Share of the better value, and floor.
BANDS = {'mean_speed_m_s': (.30, .04), 'share_below_0.05_m_s': (0, .30),
         'mean_age_of_air_s': (.20, 0), 'temperature_rise_over_room_K': (.20, .6),
         'humidity_ratio_rise_over_room_kg_kg': (.20, 0)}
QUARTER = 1.5
PARTS = ['bay', 'left_front', 'left_back', 'right_front', 'right_back']


def load(path):
    with open(path) as f:
        return json.load(f)


def rows(case, better, quantity):
    """Pairs of values with the width of the band."""
    share, floor = BANDS[quantity]
    largest = max((abs(bay[quantity]['bay']) for bay in better['bays'] if quantity in bay),
                  default=0)
    for mine, theirs in zip(case['bays'], better['bays']):
        for part in PARTS if quantity in mine and quantity in theirs else []:
            a, b = mine[quantity][part], theirs[quantity][part]
            scale = largest if quantity.startswith('humidity') else abs(b)
            yield a, b, max(share * scale, floor) * (1 if part == 'bay' else QUARTER)


def main(args):
    if len(args) != 2:
        sys.exit(__doc__)
    pairs = []
    for path in sorted(glob.glob(os.path.join(args[0], '*.json'))):
        other = os.path.join(args[1], os.path.basename(path))
        if os.path.exists(other):
            pairs.append((load(path), load(other)))
    print('%d cases in both' % len(pairs))
    for quantity in BANDS:
        found = [row for pair in pairs for row in rows(*pair, quantity)]
        ratios = [a / b for a, b, _ in found if b]
        if found:
            print('%-36s %4d rows, median ratio %.2f, %d beyond the band' % (
                quantity, len(found), statistics.median(ratios),
                sum(abs(a - b) > width for a, b, width in found)))


if __name__ == '__main__':
    main(sys.argv[1:])
