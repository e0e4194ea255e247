#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Joins cases without results and what les wrote into complete reference cases. A run whose
balances are open by more than 3 %, that was cut short, or that still drifts is left out, and
why is told.

usage: finish.py CASES_FOLDER OUT_FOLDER SIDE_BY_SIDE RESULT.jsonl...

SIDE_BY_SIDE: how many cases shared the GPU, for the seconds that one took."""
import glob
import json
import os
import sys

from jobs import levels

N_PARTS, N_VALUES = 5, 8
PARTS = ['bay', 'left_front', 'left_back', 'right_front', 'right_back']
HEAT, VAPOUR, AGE = 'kT', 'kW', 'kA'
# Number of the value in the results, its name, and the scalar it belongs to.
BAY_VALUES = [(0, 'mean_speed_m_s', None), (1, 'share_below_0.05_m_s', None),
              (2, 'temperature_rise_over_room_K', HEAT),
              (3, 'humidity_ratio_rise_over_room_kg_kg', VAPOUR), (4, 'mean_age_of_air_s', AGE)]
BLOCK_VALUES = [(0, 'u_m_s', None), (1, 'v_m_s', None), (2, 'w_m_s', None),
                (3, 'speed_m_s', None), (4, 'temperature_rise_over_room_K', HEAT),
                (5, 'humidity_ratio_rise_over_room_kg_kg', VAPOUR),
                (6, 'mean_age_of_air_s', AGE)]
OPEN_AT_MOST = 0.03
DRIFT_AT_MOST = 0.05, 0.01  # of a bay's speed from one half to the whole: share, m/s


def short(value, digits=5):
    return float('%.*g' % (digits, value))


def carried(result, scalar):
    return scalar is None or result[scalar] >= 0


def bay_value(values, b, value, part):
    return values[(b * N_VALUES + value) * N_PARTS + part]


def bays(case, result):
    z = levels(case)
    for b, (low, high) in enumerate(zip(z, z[1:])):
        bay = {'from_z_m': low, 'to_z_m': high}
        for value, key, scalar in BAY_VALUES:
            if not carried(result, scalar):
                continue
            whole = [bay_value(result['bays'], b, value, p) for p in range(N_PARTS)]
            half = bay_value(result['bays_half'], b, value, 0)
            bay[key] = dict(zip(PARTS, map(short, whole)))
            bay[key]['half_window_difference'] = short(half - whole[0])
        yield bay


def opening_flows(result):
    flows = {}
    for name, sums in result['openings'].items():
        variance = max(0, sums[5] - sums[0] ** 2)
        flows[name] = {'net_inflow_m3_s': short(sums[0]), 'inflow_m3_s': short(sums[1]),
                       'fluctuation_m3_s': short(variance ** .5),
                       'half_window_difference': short(result['openings_half'][name][0]
                                                       - sums[0])}
    return flows


def balance(case, result):
    """What leaves through the openings over what is put in: 1 when all has settled."""
    air = case['air']

    def leaves(scalar):
        return sum(o[2 + result[scalar]] for o in result['openings'].values())

    heat_W = sum(h['power_W'] for h in case['heat_sources'])
    heat_W -= sum(v['rate_kg_s'] * air['latent_heat_J_kg'] for v in case['vapour_sources']
                  if v['takes_latent_heat_from_air'])
    held = case.get('walls', {}).get('heat') == 'fixed'
    volume = case['box_m']['x'] * case['box_m']['y'] * case['box_m']['z']
    found = {}
    if carried(result, HEAT) and heat_W and not held:
        found['heat_out_over_source'] = (leaves(HEAT) * air['density_kg_m3']
                                         * air['specific_heat_J_kgK'] / heat_W)
    if carried(result, VAPOUR):
        rate = sum(v['rate_kg_s'] for v in case['vapour_sources'])
        found['vapour_out_over_source'] = leaves(VAPOUR) * air['density_kg_m3'] / rate
    if carried(result, AGE):
        found['outflow_age_over_V_by_Q'] = leaves(AGE) / volume
    return {key: round(value, 3) for key, value in found.items()}


def fill(case, result, side_by_side):
    """The case with its results."""
    case = json.loads(json.dumps(case))
    case['reference'] = {
        'solver': 'large-eddy-solver in this repository', 'cell_m': short(max(result['cell_m'])),
        'cells': result['cells'], 'coarse_spin_up_s': result['coarse_s'],
        'spin_up_s': short(result['spin_s']), 'averaged_over_s': short(result['avg_s']),
        'gpu_seconds': short(result['wall_s'] / side_by_side), 'buoyancy_of_vapour': False}
    case['opening_flows'] = opening_flows(result)
    case['bays'] = list(bays(case, result))
    blocks = {'nx': 7, 'ny': 5, 'nz': 16, 'order': 'x fastest, then y, then z'}
    for value, key, scalar in BLOCK_VALUES:
        if carried(result, scalar):
            blocks[key] = [short(v, 4) for v in result['blocks'][value::N_VALUES]]
    case['block_averages'] = blocks
    if case['openings']:
        case['balance'] = balance(case, result)
    return case


def complaints(case, result, average_s):
    """Why a run is no reference, in words."""
    found = []
    if result['bad']:
        found.append('blew up or was cut short')
    if result.get('coarse_failed'):
        found.append('the coarse spin-up blew up')
    if result['avg_s'] < .75 * average_s:
        found.append('averaged over %.0f s only' % result['avg_s'])
    for key, value in case.get('balance', {}).items():
        if abs(value - 1) > OPEN_AT_MOST:
            found.append('%s is %.3f' % (key, value))
    for bay in case['bays']:
        speed = bay['mean_speed_m_s']
        if abs(speed['half_window_difference']) > max(DRIFT_AT_MOST[0] * speed['bay'],
                                                      DRIFT_AT_MOST[1]):
            found.append('speed drifts')
    return found


def dump(case):
    """JSON with one list of numbers, or one thing, a line."""
    lines = []
    for key, value in case.items():
        if isinstance(value, list) and value:
            inner = ',\n'.join('  ' + json.dumps(item) for item in value)
            lines.append(' "%s": [\n%s\n ]' % (key, inner))
        elif isinstance(value, dict) and key in ('reference', 'opening_flows', 'block_averages'):
            inner = ',\n'.join('  "%s": %s' % (k, json.dumps(v, separators=(',', ':')))
                               for k, v in value.items())
            lines.append(' "%s": {\n%s\n }' % (key, inner))
        else:
            lines.append(' "%s": %s' % (key, json.dumps(value)))
    return '{\n' + ',\n'.join(lines) + '\n}\n'


def main(args):
    if len(args) < 4:
        sys.exit(__doc__)
    folder, out, side_by_side = args[0], args[1], int(args[2])
    cases, filled = {}, set()
    for path in glob.glob(folder + '/*.json'):
        with open(path) as f:
            case = json.load(f)
        cases[case['case']] = case
    os.makedirs(out, exist_ok=True)
    for path in args[3:]:
        with open(path) as f:
            results = [json.loads(line) for line in f]
        longest_s = max((r['avg_s'] for r in results), default=0)
        for result in results:
            name = result['name']
            if name not in cases or 'bays' not in result:
                continue
            case = fill(cases[name], result, side_by_side)
            wrong = complaints(case, result, longest_s)
            if wrong:
                print('%s left out: %s' % (name, '; '.join(wrong)))
                continue
            with open(os.path.join(out, name + '.json'), 'w') as f:
                f.write(dump(case))
            filled.add(name)
    print('%d of %d cases; missing: %s' % (len(filled), len(cases),
                                           ' '.join(sorted(set(cases) - filled)) or 'none'))


if __name__ == '__main__':
    main(sys.argv[1:])
