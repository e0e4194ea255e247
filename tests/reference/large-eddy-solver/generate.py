#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Random enclosures as a grower would build them, in the form of the reference cases but
without results. All geometry lies on multiples of 20 mm, so that grids of 20 and 10 mm fit.

usage: generate.py NUMBER COUNT FOLDER      COUNT cases of ten kinds in turn
       generate.py --special NUMBER FOLDER  extractors, and free fans standing at a low opening

The same number gives the same cases: they are r<NUMBER>-* and s<NUMBER>-* in ../large-eddy."""
import json
import math
import os
import random
import sys

STEP_M = 0.02
LARGEST_M3 = 0.62
WIRE_M = 0.02  # thickness of a wire shelf
AIR = {'density_kg_m3': 1.2, 'specific_heat_J_kgK': 1005, 'kinematic_viscosity_m2_s': 1.5e-05,
       'thermal_expansion_1_K': 0.0033996, 'gravity_m_s2': 9.81, 'latent_heat_J_kg': 2450000.0}
TO_ROOM = 'no contraction'
KINDS = ['sealed-fan', 'fan-vents', 'stack', 'through', 'fan-through', 'fan-vents-wet',
         'stack-three', 'sealed-two-fans', 'through-wet', 'stack-board']
OPPOSITE = {'front': 'back', 'back': 'front', 'left': 'right', 'right': 'left'}


def snap(value):
    """The nearest multiple of the step."""
    return round(round(value / STEP_M) * STEP_M, 6)


def digits(value, n):
    return float('%.*g' % (n, value))


class Columns:
    """Latin hypercube: for each named quantity one stratified, shuffled column over the cases."""

    def __init__(self, rng, n):
        self.rng, self.n, self.columns = rng, n, {}

    def __call__(self, name, i, low, high):
        if name not in self.columns:
            order = list(range(self.n))
            self.rng.shuffle(order)
            self.columns[name] = order
        return low + (high - low) * (self.columns[name][i] + self.rng.random()) / self.n

    def pick(self, name, i, options):
        return options[min(len(options) - 1, int(self(name, i, 0, len(options))))]


class Builder:
    """One case on the way. Every draw of the generator is in a fixed order: changing it
    changes all cases that have been made."""

    def __init__(self, rng, columns, i):
        self.rng, self.columns, self.i = rng, columns, i
        self.kind = KINDS[i % len(KINDS)]
        self.fans, self.heat, self.vapour, self.foliage, self.openings = [], [], [], [], []
        self.choose_box()
        self.choose_shelves()

    def column(self, name, low, high):
        return self.columns(name, self.i, low, high)

    def choose_box(self):
        x, y = snap(self.column('x', .42, 1.14)), snap(self.column('y', .36, .6))
        z = snap(self.column('z', .56, 1.86))
        while x * y * z > LARGEST_M3:
            x, z = snap(x * .94), snap(z * .96)
        self.size = x, y, z

    def choose_shelves(self):
        z = self.size[2]
        most = max(1, min(4, int(z / .24) - 1))
        n = min(most, self.columns.pick('n', self.i, [1, 2, 2, 3, 3, 4]))
        levels = [snap(z * (k + 1) / (n + 1) + self.rng.uniform(-.03, .03)) for k in range(n)]
        boards = (self.kind == 'stack-board'
                  or self.columns.pick('board', self.i, [0, 0, 1]) == 1)
        mixed = self.columns.pick('mixed', self.i, [0, 0, 0, 1]) == 1
        self.shelves = [self.board(level) if boards != (mixed and k % 2 == 1) else self.wire(level)
                        for k, level in enumerate(levels)]
        self.edges = [0] + levels + [z]
        self.top = n

    def board(self, z):
        side = self.rng.choice(['front', 'back', 'left', 'right'])
        width = self.rng.choice([.04, .04, .06, .08])
        shelf = {'z_m': z, 'kind': 'solid', 'thickness_m': 0, 'gap_side': side,
                 'gap_width_m': width, 'gap_%s_m' % side: width}
        if self.rng.random() < .35:
            shelf['gap_%s_m' % OPPOSITE[side]] = width
        return shelf

    def wire(self, z):
        return {'z_m': z, 'kind': 'porous', 'thickness_m': WIRE_M,
                'loss_coefficient': self.rng.choice([.5, 1, 1, 2, 4])}

    def bay(self, b):
        """From the upper side of the shelf below to the shelf above."""
        return self.edges[b] + (WIRE_M if b else 0), self.edges[b + 1]

    # --- things ---

    def add_fan(self, b, diameter, m3_h):
        """A free fan in bay b, near the wall behind it, sometimes oblique."""
        rng = self.rng
        z0, z1 = self.bay(b)
        axis = rng.choice([0, 0, 0, 1, 2]) if z1 - z0 > .28 else rng.choice([0, 0, 1])
        if axis != 2:
            diameter = min(diameter, snap(z1 - z0 - .08 - .01))
        size = [diameter] * 3
        size[axis] = .04
        sign = rng.choice([1, -1])
        low = []
        for a, (l0, l1) in enumerate(((0, self.size[0]), (0, self.size[1]), (z0, z1))):
            room = l1 - l0 - size[a]
            if a == axis:
                at = l0 + min(.06, room / 2) + rng.random() * .25 * max(0, room - .2)
                if sign < 0:
                    at = l1 - size[a] - (at - l0)
            else:
                at = l0 + .02 + rng.random() * max(0, room - .04)
            low.append(min(max(snap(at), snap(l0) + (STEP_M if a < 2 else 0)),
                           snap(l1 - size[a])))
        direction = [0, 0, 0]
        direction[axis] = sign
        if rng.random() < .3:
            across = (axis + rng.choice([1, 2])) % 3
            direction[across] = rng.choice([-.5, .5])
        flow = m3_h / 3600
        area = math.pi * diameter * diameter / 4
        box = [round(v, 6) for a in range(3) for v in (low[a], low[a] + size[a])]
        self.fans.append({'box_m': box, 'direction': direction,
                          'thrust_N': digits(AIR['density_kg_m3'] * flow * flow / area, 5),
                          'diameter_m': diameter, 'free_delivery_m3_s': digits(flow, 5)})

    def add_opening(self, name, face, b, high, width, height, flow=None):
        """In bay b, near its upper or lower end; of a given flow, or free."""
        along = self.size[1] if face in ('left', 'right') else self.size[0]
        w = snap(min(width, along - .08))
        a0 = snap(self.rng.uniform(.02, along - w - .02))
        z0, z1 = self.edges[b], self.edges[b + 1]
        h = snap(min(height, z1 - z0 - .06))
        c0 = snap(z1 - .04 - h) if high else snap(z0 + .02 + (WIRE_M if b else 0))
        opening = {'name': name, 'face': face,
                   'rect_m': [a0, round(a0 + w, 6), c0, round(c0 + h, 6)]}
        if flow is None:
            opening['to_room'] = TO_ROOM
        else:
            opening['inflow_m3_s'] = digits(flow, 5)
        self.openings.append(opening)

    def add_heat(self, watts, high, b):
        """A lamp under the ceiling of bay b, or a mat on its floor."""
        x, y, _ = self.size
        z0, z1 = self.bay(b)
        w, d = snap(x * .6), snap(y * .4)
        x0 = snap(self.rng.uniform(.04, x - w - .04))
        y0 = snap(self.rng.uniform(.04, y - d - .04))
        z = snap(z1 - .1) if high else snap(z0 + .02)
        self.heat.append({'box_m': [x0, round(x0 + w, 6), y0, round(y0 + d, 6), z,
                                    round(z + .04, 6)], 'power_W': digits(watts, 3)})

    def add_pot(self, g_h, b, latent):
        x, y, _ = self.size
        z0, _ = self.bay(b)
        x0, y0 = snap(self.rng.uniform(.06, x - .18)), snap(self.rng.uniform(.04, y - .16))
        self.vapour.append({'box_m': [x0, round(x0 + .12, 6), y0, round(y0 + .12, 6), snap(z0),
                                      snap(z0 + .1)],
                            'rate_kg_s': digits(g_h / 3.6e6, 5),
                            'takes_latent_heat_from_air': latent})

    def add_pots(self, latent):
        """One or two, anywhere; `latent` is asked for each."""
        for _ in range(self.rng.choice([1, 2])):
            rate, b = self.column('gh', 5, 22), self.rng.randrange(self.top + 1)
            self.add_pot(rate, b, latent())

    def add_foliage(self):
        x, y, _ = self.size
        for k in range(self.top):
            if self.rng.random() >= .35:
                continue
            z0, z1 = self.bay(k + 1)
            h = snap(min(self.rng.uniform(.08, .24), z1 - z0 - .08))
            m = snap(self.rng.uniform(.04, .1))
            if h >= .06:
                self.foliage.append({'box_m': [m, round(x - m, 6), .04, round(y - .04, 6),
                                               snap(z0), round(snap(z0) + h, 6)],
                                     'leaf_area_density_1_m': round(self.rng.uniform(1, 6), 1),
                                     'drag_coefficient': .2})

    # --- the whole ---

    def furnish(self):
        rng, n = self.rng, self.top
        faces = ['left', 'right', 'front', 'back']
        rng.shuffle(faces)
        diameter = self.columns.pick('d', self.i, [.08, .12, .12, .16])
        span = {.08: (20, 36), .12: (28, 80), .16: (60, 115)}[diameter]
        m3_h = self.column('fan', *span)
        fan_bay = self.columns.pick('fanbay', self.i, list(range(n + 1)))
        watts = self.column('watts', 5, 60)
        lamp = self.columns.pick('lamp', self.i, [True, False])
        if self.kind.startswith('sealed'):
            self.add_fan(fan_bay, diameter, m3_h)
            if 'two' in self.kind:
                other = (fan_bay + 1 + rng.randrange(n)) % (n + 1) if n else 0
                self.add_fan(other, .08, self.column('fan2', 20, 34))
        elif self.kind.startswith('fan-vents'):
            self.add_fan(fan_bay, diameter, m3_h)
            self.add_opening('low', faces[0], 0, False, rng.uniform(.16, .4), .08)
            self.add_opening('high', faces[1], n, True, rng.uniform(.16, .4), .08)
            if 'wet' in self.kind:
                self.add_pots(lambda: True)
            else:
                self.add_heat(watts * .7, lamp, n if lamp else 0)
        elif self.kind.startswith('stack'):
            self.furnish_stack(faces, watts, lamp)
        else:
            self.furnish_through(faces, fan_bay, diameter, m3_h, watts, lamp)
        self.add_foliage()

    def furnish_stack(self, faces, watts, lamp):
        rng, n = self.rng, self.top
        self.add_opening('low', faces[0], 0, False, rng.uniform(.2, .5),
                         rng.choice([.06, .08, .1]))
        self.add_opening('high', faces[1], n, True, rng.uniform(.2, .5),
                         rng.choice([.06, .08, .1]))
        if 'three' in self.kind:
            self.add_opening('middle', faces[2], max(0, n // 2), True, rng.uniform(.16, .4), .06)
        # Between adiabatic walls a lamp above the outlet would heat its layer on for an hour.
        if not lamp or n == 0:
            self.add_heat(max(watts, 10), False, 0)
        else:
            self.add_heat(watts * .6, True, rng.randrange(n))
        if rng.random() < .5:
            rate = self.column('gh', 5, 22)
            self.add_pot(rate, rng.randrange(n + 1), False)

    def furnish_through(self, faces, fan_bay, diameter, m3_h, watts, lamp):
        rng, n = self.rng, self.top
        flow = self.column('flow', .002, .014)
        up = rng.random() < .6
        into, out_of = (0, n) if up else (n, 0)
        width = rng.choice([.08, .12, .16])
        self.add_opening('inlet', faces[0], into, not up, width, rng.choice([.08, .12]), flow)
        self.add_opening('outlet', faces[1], out_of, up, rng.uniform(.2, .45), .08)
        if rng.random() < .4:
            self.add_opening('outlet2', faces[2], rng.randrange(n + 1), True, .2, .06)
        if self.kind.startswith('fan'):
            self.add_fan(fan_bay, diameter, m3_h)
            self.add_heat(watts * .5, lamp, n if lamp else 0)
            return
        if 'wet' in self.kind:
            self.add_pots(lambda: rng.random() < .6)
        if rng.random() < .5:
            self.add_heat(watts * .4, lamp, n if lamp else 0)

    def case(self):
        x, y, z = self.size
        return {'case': 'random-%02d-%s' % (self.i + 1, self.kind),
                'box_m': {'x': x, 'y': y, 'z': z},
                'axes': 'x left to right, y front to back, z up',
                'room': {'temperature_C': 21.0}, 'air': AIR,
                'walls': {'heat': 'adiabatic', 'vapour': 'impermeable'},
                'shelves': self.shelves, 'openings': self.openings, 'fans': self.fans,
                'heat_sources': self.heat, 'vapour_sources': self.vapour,
                'foliage': self.foliage}


def generate(number, count):
    """`count` random cases."""
    rng = random.Random(number)
    columns = Columns(rng, count)
    cases = []
    for i in range(count):
        builder = Builder(rng, columns, i)
        builder.furnish()
        cases.append(builder.case())
    return cases


# --- two layouts that growers build most ---

def make_extractor(case):
    """The inlet becomes free, the outlet a duct that draws the same flow."""
    inlet = next(o for o in case['openings'] if 'inflow_m3_s' in o)
    outlet = next(o for o in case['openings'] if o['name'] == 'outlet')
    flow = inlet.pop('inflow_m3_s')
    inlet['to_room'] = TO_ROOM
    del outlet['to_room']
    outlet['inflow_m3_s'], outlet['name'] = -flow, 'extractor'
    case['case'] = case['case'].replace('through', 'extract')


def make_fan_at_flap(case):
    """The fan moves in front of the low opening and blows inward."""
    low = next(o for o in case['openings'] if o['name'] == 'low')
    length = case['box_m']['x'], case['box_m']['y']
    axis = 0 if low['face'] in ('left', 'right') else 1
    high = low['face'] in ('right', 'back')
    side = min(.12, snap(case['shelves'][0]['z_m'] - .06))
    thick, off = .04, .06
    corner, size = [0, 0, .02], [side] * 3
    middle = snap((low['rect_m'][0] + low['rect_m'][1]) / 2 - side / 2)
    corner[1 - axis] = max(.02, min(middle, snap(length[1 - axis] - side - .02)))
    corner[axis] = snap(length[axis] - off - thick) if high else off
    size[axis] = thick
    fan = case['fans'][0]
    flow = min(fan['free_delivery_m3_s'], .02)
    fan['box_m'] = [round(v, 6) for a in range(3) for v in (corner[a], corner[a] + size[a])]
    fan['direction'] = [0, 0, 0]
    fan['direction'][axis] = -1 if high else 1
    fan['diameter_m'] = side
    fan['free_delivery_m3_s'] = digits(flow, 5)
    fan['thrust_N'] = digits(1.2 * flow * flow / (3.14159265 * side * side / 4), 5)
    case['fans'] = [fan]
    case['case'] = case['case'].replace('fan-vents', 'fan-at-flap')


def generate_special(number):
    """Up to eight of each layout, those that are well posed."""
    pool = generate(number, 40)
    extractors = [c for c in pool if '-through' in c['case']][:8]
    flaps = [c for c in pool if 'fan-vents' in c['case']][:8]
    for case in extractors:
        make_extractor(case)
    for case in flaps:
        make_fan_at_flap(case)
    good = [c for c in extractors + flaps if not complaints(c)]
    for n, case in enumerate(good, 1):
        case['case'] = 'special-%02d-%s' % (n, case['case'].split('-', 2)[2])
    return good


# --- checks ---

def complaints(case):
    """What makes a case ill posed, in words."""
    found = []
    size = [case['box_m'][a] for a in 'xyz']
    levels = [s['z_m'] for s in case['shelves']]
    for key in ('fans', 'heat_sources', 'vapour_sources', 'foliage'):
        for thing in case[key]:
            box = thing['box_m']
            for a in range(3):
                low, high = box[2 * a], box[2 * a + 1]
                if low < -1e-9 or high > size[a] + 1e-9 or high - low < .019:
                    found.append('%s outside or thin %s' % (key, box))
            if key != 'foliage' and any(box[4] < z - 1e-9 and box[5] > z + 1e-9 for z in levels):
                found.append('%s across a shelf %s' % (key, box))
            if any(abs(v / STEP_M - round(v / STEP_M)) > 1e-6 for v in box):
                found.append('%s off the lattice %s' % (key, box))
    for opening in case['openings']:
        r = opening['rect_m']
        along = size[1] if opening['face'] in ('left', 'right') else size[0]
        if (r[0] < 0 or r[1] > along + 1e-9 or r[2] < 0 or r[3] > size[2] + 1e-9
                or r[1] - r[0] < .05 or r[3] - r[2] < .039):
            found.append('opening %s' % r)
        if any(r[2] < z - 1e-9 and r[3] > z + 1e-9 for z in levels):
            found.append('opening across a shelf')
    if not case['openings'] and (case['heat_sources'] or case['vapour_sources']):
        found.append('sealed with sources')
    if min(b - a for a, b in zip([0] + levels, levels + [size[2]])) < .18:
        found.append('bay too low')
    return found


def main(args):
    special = args[:1] == ['--special']
    if len(args) != 3:
        sys.exit(__doc__)
    folder = args[2]
    prefix, cases = (('s' + args[1], generate_special(int(args[1]))) if special
                     else ('r' + args[0], generate(int(args[0]), int(args[1]))))
    os.makedirs(folder, exist_ok=True)
    for case in cases:
        for complaint in complaints(case):
            print(case['case'], complaint, file=sys.stderr)
        case['case'] = prefix + '-' + case['case'].split('-', 1)[1]
        with open(os.path.join(folder, case['case'] + '.json'), 'w') as f:
            json.dump(case, f, indent=1)
        print(case['case'])


if __name__ == '__main__':
    main(sys.argv[1:])
