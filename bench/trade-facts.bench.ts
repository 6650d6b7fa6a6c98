/**
 * What is told of a bench (common practice, no source) beside the plan: the probability of each fact under the plan's own priors,
 * and whether a small set of assumptions makes it hold. No prior is tuned to any of it; a fact that stays unlikely stays so.
 * A sharp emitter of 20 µm bore with water, acetonitrile and formic acid at nanoflow.
 */

import { jetDiameter } from '../src/core/jet/index.ts';
import { conditionOf } from '../src/core/plan/condition.ts';
import type { Setup } from '../src/core/setup.ts';
import {
  priorBelief,
  stateOf,
  tipOnset,
  unitOnset,
  type WindowDraws,
  windowDraws,
} from '../src/core/window/index.ts';

const BASE: Setup = {
  emitter: {
    bore_um: 20,
    rim_um: 22,
    taper_half_angle_deg: 8,
    shank_diameter_um: 360,
    free_length_mm: 10,
    material: 'fused silica',
    inside: 'widens',
    wets: 'rim',
  },
  liquid: {
    acetonitrile_percent: 30,
    methanol_percent: 0,
    propanol_2_percent: 0,
    additive: 'formic acid',
    additive_percent: 0.1,
    temperature_C: 25,
  },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 3, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'tip', column: [] },
};
const STEADY_V = 2500;
const THREE_V = 3500;

const belief = priorBelief();
const write = (line: string) => process.stdout.write(`${line}\n`);
const percent = (share: number) => `${Math.round(100 * share)} %`;

function share(draws: WindowDraws, holds: (i: number) => boolean): number {
  let count = 0;
  for (let i = 0; i < draws.count; i++) count += Number(holds(i));
  return count / draws.count;
}

function facts(name: string, setup: Setup, scale = 1): void {
  const condition = conditionOf(setup);
  const draws = windowDraws(belief, condition);
  for (const key of [
    'onset_V',
    'steady_from_V',
    'tilt_from_V',
    'several_from_V',
    'discharge_from_V',
  ] as const)
    draws[key] = draws[key].map((v) => v * scale);
  const is = (i: number, V: number) => stateOf(draws, i, V);
  const median = Float64Array.from(draws.onset_V).sort()[draws.count >> 1]!;
  write(`${name}: onset about ${Math.round(median)} V at the tip`);
  write(`  ${STEADY_V} V sprays steadily: ${percent(share(draws, (i) => is(i, STEADY_V) === 'steady'))}`);
  write(
    `  several jets at ${THREE_V} V and steady at ${STEADY_V} V: ${percent(share(draws, (i) => is(i, STEADY_V) === 'steady' && is(i, THREE_V) === 'several_jets'))}`,
  );
  write(
    `  a voltage too low drips or pulsates below it: ${percent(share(draws, (i) => is(i, 0.97 * draws.steady_from_V[i]!) !== 'steady'))}`,
  );
  write(
    `  the jet tilts before it splits: ${percent(share(draws, (i) => draws.tilt_from_V[i]! < draws.several_from_V[i]!))}`,
  );
  write(
    `  the jet is thinner than 1 µm: ${jetDiameter(condition.jetLiquid, (condition.flow_nL_min.value * 1e-12) / 60) < 1e-6 ? 'yes' : 'no'}, ${(jetDiameter(condition.jetLiquid, (condition.flow_nL_min.value * 1e-12) / 60) * 1e9).toFixed(0)} nm`,
  );
  write(
    `  at ${STEADY_V} V the cone forms anew after a stop of the flow: ${percent(share(draws, (i) => draws.steady_from_V[i]! <= STEADY_V && STEADY_V < draws.tilt_from_V[i]!))} (it needs the forming edge, not only the standing one)`,
  );
}

facts('as stated (sharp rim, 3 mm)', BASE);
facts('the supply is read, 600 V lost in the liquid column', BASE, STEADY_V / (STEADY_V - 600));
facts('flooded to a 360 µm shank', { ...BASE, emitter: { ...BASE.emitter, wets: 'shank' } });
facts('wall 80 µm, contact line on the inner edge', {
  ...BASE,
  emitter: { ...BASE.emitter, rim_um: 80, wets: 'bore' },
});
facts('wall 80 µm, wetted to its rim, water-rich (5 % acetonitrile)', {
  ...BASE,
  emitter: { ...BASE.emitter, rim_um: 80 },
  liquid: { ...BASE.liquid, acetonitrile_percent: 5 },
});

write('Wetted radius at which the onset stands at 2500/1.2 V (outside place, solved with its own taper):');
for (const rim_um of [22, 40, 60, 80, 120, 180, 250, 360]) {
  const { tip, jetLiquid } = conditionOf({ ...BASE, emitter: { ...BASE.emitter, rim_um } });
  const onset = unitOnset(tipOnset(tip.geometry), tip.radius, 0) * Math.sqrt(jetLiquid.surfaceTension);
  write(`  rim ${rim_um} µm: onset ${Math.round(onset)} V, 1.2 times ${Math.round(1.2 * onset)} V`);
}
