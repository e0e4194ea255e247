#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the solver to exact and published flows.

usage: validate.py --jobs OUT.txt [NAME...]   writes the jobs (all, or those that begin so)
       validate.py RESULT.jsonl               prints the table of README.md

tgv2, tgv3 and the smallest cavities run on a processor in a minute; the others want a GPU.
After any change of the solver run tgv3: it sees what all laminar flows miss."""
import bisect
import csv
import json
import math
import os
import sys

PUBLISHED = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', '..', 'published')
ACROSS_Y = 2  # bit of the walls that are planes of symmetry in two dimensions
TALL_M = .076, .52, 2.18  # Betts & Bokhari 2000: width, depth, height
TALL_C = 15.1, 34.7
TALL_HEIGHTS = .05, .1, .3, .4, .5, .6, .7, .9, .95
JET_X = .4, .6, .8, 1.0, 1.2, 1.4
JET_MIDDLE = .4


# --- jobs ---

def vortex(name, n, dimensions, until_s, nu):
    """Taylor-Green: two dimensions of 2 pi, or one octant in three of pi."""
    side = 2 * math.pi if dimensions == 2 else math.pi
    depth = side / n if dimensions == 2 else side
    return name, ['box %.15g %.15g %.15g' % (side, depth, side), 'air %g 0 0 1 1005 2.45e6' % nu,
                  'grid %.9g 0 0 %g 0' % (side / n, until_s), 'slip 7', 'cv 0', 'noise 0',
                  'init tgv%d' % dimensions, 'dtmax 0.1']


def lid(n):
    return 'lid400_%d' % n, [
        'box 1 %.9g 1' % (1 / n), 'air 0.0025 0 0 1 1005 2.45e6', 'grid %.9g 0 0 60 5' % (1 / n),
        'slip %d' % ACROSS_Y, 'lid 1', 'cv 0', 'noise 0', 'line 2 0.5 0.001', 'line 0 0.001 0.5']


def cavity(rayleigh, n):
    """In units of side, temperature difference and buoyant speed: g beta dT = 1."""
    k = 1 / math.sqrt(rayleigh * .71)
    return 'cav%.0e_%d' % (rayleigh, n), [
        'box 1 %.9g 1' % (1 / n), 'air %.9g 1 1 1 1005 2.45e6' % (.71 * k),
        'grid %.9g 0 0 250 20' % (1 / n), 'slip %d' % ACROSS_Y, 'wall 0 0.5', 'wall 1 -0.5',
        'cv 0', 'noise 0', 'line 2 0.5 0.001', 'line 0 0.001 0.5',
        'line 2 %.9g 0.001' % (.5 / n)]


def jet(side_mm, cell_m, coarse_m):
    """A square inlet of 2 m/s that blows along a box with an open end."""
    low, high = JET_MIDDLE - side_mm / 2e3, JET_MIDDLE + side_mm / 2e3
    lines = ['line 0 %g %g' % (JET_MIDDLE, JET_MIDDLE)]
    lines += ['line 1 %g %g' % (x, JET_MIDDLE) for x in JET_X]
    return 'jet%d_%g' % (side_mm, cell_m * 1e3), [
        'box 1.6 0.8 0.8', 'air 1.5e-5 0 0 1.2 1005 2.45e6',
        'opening inlet left %g %g %g %g flow %g' % (low, high, low, high,
                                                    2 * (high - low) ** 2),
        'opening outlet right 0 0.8 0 0.8 room 0', 'age 0',
        'grid %g %g 20 15 40' % (cell_m, coarse_m)] + lines


def tall_cavity():
    rise = (TALL_C[1] - TALL_C[0]) / 2
    return 'betts', [
        'box %g %g %g' % TALL_M, 'air 1.5e-5 0.0033567 9.81 1.2 1005 2.45e6',
        'cells 0.002 0.01 0.01', 'wall 0 %g' % -rise, 'wall 1 %g' % rise,
        'grid 0.01 0 0 100 150'] + ['line 0 %g %.9g' % (TALL_M[1] / 2, TALL_M[2] * y)
                                    for y in TALL_HEIGHTS]


def all_jobs():
    return [vortex('tgv2_32', 32, 2, 5, .01), vortex('tgv2_64', 64, 2, 5, .01),
            vortex('tgv3_32', 32, 3, 5, 1e-12), vortex('tgv3_64', 64, 3, 10, 1e-12),
            lid(64), lid(128), cavity(1e5, 64), cavity(1e5, 128), cavity(1e6, 64),
            cavity(1e6, 128), tall_cavity(), jet(80, .01, .02), jet(80, .02, 0),
            jet(40, .01, .02)]


def write_jobs(path, names):
    with open(path, 'w') as f:
        for name, lines in all_jobs():
            if not names or any(name.startswith(n) for n in names):
                f.write('\n'.join(['case ' + name] + lines) + '\n')


# --- comparisons ---

def table(name):
    with open(os.path.join(PUBLISHED, name)) as f:
        return list(csv.DictReader(line for line in f if not line.startswith('#')))


def between(x, xs, ys):
    """Linear in a table that rises in xs."""
    i = min(max(bisect.bisect(xs, x), 1), len(xs) - 1)
    return ys[i - 1] + (x - xs[i - 1]) / (xs[i] - xs[i - 1]) * (ys[i] - ys[i - 1])


def profile(result, axis, at=None):
    for line in result['lines']:
        if line['axis'] == axis and (at is None or all(abs(a - b) < 1e-6
                                                       for a, b in zip(line['at'], at))):
            return line
    return None


def rms(values):
    return math.sqrt(sum(v * v for v in values) / len(values))


def tell_vortex(name, result):
    exact = .25 * math.exp(-.04 * result['t']) if name.startswith('tgv2') else .125
    return 'energy after %.2f s: %+.1e of what is exact' % (result['t'],
                                                            result['energy'] / exact - 1)


def tell_lid(_, result):
    up, along = profile(result, 2), profile(result, 0)
    errors = {'u': [], 'v': []}
    for row in table('ghia1982_u_table1.csv'):
        errors['u'].append(between(float(row['y']), [0] + up['s'] + [1], [0] + up['u'] + [1])
                           - float(row['Re400']))
    for row in table('ghia1982_v_table2.csv'):
        if abs(float(row['x']) - .9063) > 1e-3:  # a known misprint
            errors['v'].append(between(float(row['x']), [0] + along['s'] + [1],
                                       [0] + along['w'] + [0]) - float(row['Re400']))
    return ', '.join('%s at most %.4f off' % (k, max(map(abs, v))) for k, v in errors.items())


def tell_cavity(name, result):
    rayleigh, n = float(name[3:8]), int(name.split('_')[1])
    k = 1 / math.sqrt(rayleigh * .71)
    row = next(r for r in table('devahldavis1983_table5.csv') if float(r['Ra']) == rayleigh)
    wall = profile(result, 2, (.5 / n, .001))['q0']
    found = {'Nu_hot': sum((.5 - t) * 2 * n for t in wall) / n,
             'u_max': max(profile(result, 2, (.5, .001))['u']) / k,
             'w_max': max(profile(result, 0)['w']) / k}
    return ', '.join('%s %.2f (%+.1f %%)' % (key, v, 100 * (v / float(row[key]) - 1))
                     for key, v in found.items())


def half_width(line, centre):
    """Mean distance at which the velocity is half that of the centre line."""
    widths = []
    for sign in (1, -1):
        side = sorted((sign * (s - JET_MIDDLE), u) for s, u in zip(line['s'], line['u'])
                      if sign * (s - JET_MIDDLE) > 0)
        for (r0, u0), (r1, u1) in zip(side, side[1:]):
            if u0 >= centre / 2 > u1:
                widths.append(r0 + (u0 - centre / 2) / (u0 - u1) * (r1 - r0))
                break
    return sum(widths) / len(widths)


def slope(points):
    n = len(points)
    mx, my = sum(p[0] for p in points) / n, sum(p[1] for p in points) / n
    return sum((x - mx) * (y - my) for x, y in points) / sum((x - mx) ** 2 for x, _ in points)


def tell_jet(name, result):
    side = float(name[3:5]) / 1e3
    across = side * math.sqrt(4 / math.pi)  # of the circle of the same area
    first = 12 if side < .05 else 8
    centre = profile(result, 0)
    decay = [(s / across, result_u) for s, result_u in
             ((s, 2 / u) for s, u in zip(centre['s'], centre['u']))
             if s / across > first and s < 1.35]
    widths = [(x, half_width(profile(result, 1, (x, JET_MIDDLE)),
                             between(x, centre['s'], centre['u']))) for x in JET_X[1:5]]
    core = next(s for s, u in zip(centre['s'], centre['u']) if u < .9 * 2) / across
    return 'decay B %.1f (5.8 to 6.1), spreading %.3f (0.094 to 0.10), core to x/De %.1f' % (
        1 / slope(decay), slope(widths), core)


def tell_tall(_, result):
    told = []
    middle_C = sum(TALL_C) / 2
    for label, name, column, key, offset, ends, scale in (
            ('T', 'betts_bokhari2000_T.csv', 'T_C', 'q0', middle_C, TALL_C, 19.6),
            ('V', 'betts_bokhari2000_V.csv', 'V_m_s', 'w', 0, (0, 0), .15)):
        errors = []
        for row in table(name):
            line = profile(result, 0, (TALL_M[1] / 2, TALL_M[2] * float(row['y_over_H'])))
            if line is None or row['use'] != '1':
                continue
            xs = [0] + line['s'] + [TALL_M[0]]
            ys = [ends[0]] + [v + offset for v in line[key]] + [ends[1]]
            errors.append(between(float(row['x_mm']) / 1e3, xs, ys) - float(row[column]))
        told.append('%s rms %.3f (%.1f %% of %g)' % (label, rms(errors),
                                                     100 * rms(errors) / scale, scale))
    return ', '.join(told)


TELL = {'tgv': tell_vortex, 'lid': tell_lid, 'cav': tell_cavity, 'jet': tell_jet,
        'bet': tell_tall}


def main(args):
    if args[:1] == ['--jobs'] and len(args) > 1:
        write_jobs(args[1], args[2:])
    elif len(args) == 1:
        with open(args[0]) as f:
            for line in f:
                result = json.loads(line)
                name = result['name']
                told = 'blew up' if result['bad'] else TELL[name[:3]](name, result)
                print('%-12s %s' % (name, told))
    else:
        sys.exit(__doc__)


if __name__ == '__main__':
    main(sys.argv[1:])
