// SPDX-License-Identifier: GPL-3.0-or-later
// Writes psychrolib_states.csv: random states of moist air as the independent
// npm library psychrolib computes them. To make the file again:
//
//   mkdir /tmp/freeze && cd /tmp/freeze && npm install psychrolib@1.1.1
//   cp .../tests/moist/freeze-psychrolib.mjs . && node freeze-psychrolib.mjs > psychrolib_states.csv
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
const psychrolib = require('psychrolib');
const { version } = require('psychrolib/package.json');
psychrolib.SetUnitSystem(psychrolib.SI);

// mulberry32: the same states on every run.
let state = 20240607;
function random() {
  state = (state + 0x6d2b79f5) | 0;
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}

console.log(`# Moist air, 3000 random states, computed with npm psychrolib ${version} (see freeze-psychrolib.mjs).`);
console.log('t_C,rh,p_Pa,w_kg_kg,dew_C,wet_C,h_J_kg,v_m3_kg,vpd_Pa');
for (let i = 0; i < 3000; i++) {
  const t = Number((-10 + 55 * random()).toFixed(2));
  const rh = Number((0.01 + 0.99 * random()).toFixed(4));
  const p = Number(psychrolib.GetStandardAtmPressure(4000 * random()).toFixed(0));
  const w = psychrolib.GetHumRatioFromRelHum(t, rh, p);
  const row = [
    t, rh, p,
    w.toPrecision(8),
    psychrolib.GetTDewPointFromRelHum(t, rh).toFixed(4),
    psychrolib.GetTWetBulbFromHumRatio(t, w, p).toFixed(4),
    psychrolib.GetMoistAirEnthalpy(t, w).toFixed(2),
    psychrolib.GetMoistAirVolume(t, w, p).toPrecision(8),
    psychrolib.GetVaporPressureDeficit(t, w, p).toFixed(3),
  ];
  console.log(row.join(','));
}
