#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Turns cases (JSON) into the text of jobs that les reads, costly ones first.

usage: jobs.py OUT.txt CELL_M AVERAGE_S CASE.json...

The spin-up on 20 mm cells follows from what the air needs: 100 s when sealed, six times
volume over flow with a given flow, 700 s when buoyant, 900 s with a fan besides, 1500 s when
evaporation cools it."""
import json
import sys

COARSE_M = 0.02


def covered(shelf, size):
    """x0, x1, y0, y1 of the plan that a shelf covers."""
    if 'rect_m' in shelf:
        return list(shelf['rect_m'])
    gap = {side: shelf.get('gap_%s_m' % side, shelf.get('gaps_m', {}).get(side, 0))
           for side in ('left', 'right', 'front', 'back')}
    if 'gap_side' in shelf:
        gap[shelf['gap_side']] = shelf['gap_width_m']
    return [gap['left'], size[0] - gap['right'], gap['front'], size[1] - gap['back']]


def levels(case):
    """Heights that part the bays, floor and roof included."""
    if case.get('bays'):
        return [case['bays'][0]['from_z_m']] + [bay['to_z_m'] for bay in case['bays']]
    return [0] + [shelf['z_m'] for shelf in case['shelves']] + [case['box_m']['z']]


def numbers(values):
    return ' '.join('%g' % v for v in values)


def enclosure(case):
    """The lines of a job that state the enclosure."""
    size = [case['box_m'][a] for a in 'xyz']
    air = case['air']
    lines = ['case %s' % case['case'],
             'box %.9g %.9g %.9g' % tuple(size),
             'air ' + numbers(air[key] for key in (
                 'kinematic_viscosity_m2_s', 'thermal_expansion_1_K', 'gravity_m_s2',
                 'density_kg_m3', 'specific_heat_J_kgK', 'latent_heat_J_kg'))]
    if case.get('walls', {}).get('heat') == 'fixed':
        rise = case['walls']['temperature_C'] - case['room']['temperature_C']
        lines += ['wall %d %g' % (face, rise) for face in range(6)]
    for s in case['shelves']:
        lines.append('shelf %s %g %g %g %s' % (s['kind'], s['z_m'], s['thickness_m'],
                                               s.get('loss_coefficient', 0),
                                               numbers(covered(s, size))))
    for o in case['openings']:
        if o.get('discharge_coefficient', 1) != 1:
            sys.exit('%s: openings here have a discharge coefficient of 1' % case['case'])
        driven = 'flow %.9g' % o['inflow_m3_s'] if 'inflow_m3_s' in o else 'room 0'
        lines.append('opening %s %s %s %s' % (o['name'].replace(' ', '_'), o['face'],
                                              numbers(o['rect_m']), driven))
    for f in case['fans']:
        lines.append('fan %s %s %.9g' % (numbers(f['box_m']), numbers(f['direction']),
                                         f['thrust_N']))
    for s in case['heat_sources']:
        lines.append('heat %s %.9g' % (numbers(s['box_m']), s['power_W']))
    for s in case['vapour_sources']:
        lines.append('vapour %s %.9g %d' % (numbers(s['box_m']), s['rate_kg_s'],
                                            s['takes_latent_heat_from_air']))
    for s in case['foliage']:
        lines.append('foliage %s %.9g' % (numbers(s['box_m']),
                                          s['drag_coefficient'] * s['leaf_area_density_1_m']))
    z = levels(case)
    return lines + ['bay %g %g' % pair for pair in zip(z, z[1:])]


def coarse_spin_up_s(case):
    volume = case['box_m']['x'] * case['box_m']['y'] * case['box_m']['z']
    flow = sum(abs(o.get('inflow_m3_s', 0)) for o in case['openings'])
    if not case['openings']:
        return 100
    if flow > 0:
        return min(1200, max(250, 6 * volume / flow))
    if any(v['takes_latent_heat_from_air'] for v in case['vapour_sources']):
        return 1500
    return 900 if case['fans'] else 700


def job(case, cell_m, average_s):
    """Estimated GPU-seconds, and the text."""
    volume = case['box_m']['x'] * case['box_m']['y'] * case['box_m']['z']
    coarse_s = coarse_spin_up_s(case)
    # A free vent that a fan works against settles slowly on the fine grid too.
    slow = case['fans'] and case['openings'] and not any(
        'inflow_m3_s' in o for o in case['openings'])
    spin_s = 200 if slow else 50 if case['fans'] else 80
    cost_s = (volume / .5 * (45 if case['fans'] else 12) * (spin_s + average_s) / 150
              * (.01 / cell_m) ** 4 + coarse_s / 1500 * 30)
    lines = enclosure(case) + ['grid %.9g %g %g %g %g' % (cell_m, COARSE_M, coarse_s, spin_s,
                                                          average_s),
                               'est %.3g' % cost_s, 'tag %gmm' % round(cell_m * 1e3, 1)]
    return cost_s, '\n'.join(lines) + '\n'


def main(args):
    if len(args) < 4:
        sys.exit(__doc__)
    made = []
    for path in args[3:]:
        with open(path) as f:
            made.append(job(json.load(f), float(args[1]), float(args[2])))
    made.sort(key=lambda j: -j[0])
    with open(args[0], 'w') as f:
        f.write(''.join(text for _, text in made))
    print('%d jobs, about %.0f GPU-seconds' % (len(made), sum(cost for cost, _ in made)))


if __name__ == '__main__':
    main(sys.argv[1:])
