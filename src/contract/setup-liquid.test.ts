import { expect, it } from 'vitest';
import { observationsFrom, planRequestFrom, setupFrom } from './index.ts';

const DOCUMENT = {
  emitter: { bore_um: 10, rim_um: 20 },
  liquid: {},
  feed: { kind: 'pumped', flow_nL_min: 300 },
  inlet: { distance_mm: 3 },
};
const GRADIENT = {
  table: [
    { time_min: 0, percent_B: 5 },
    { time_min: 60, percent_B: 40 },
  ],
};

it('runs a gradient that names no organic solvent with that of the liquid', () => {
  const organic = (liquid: object) =>
    setupFrom({ ...DOCUMENT, liquid, gradient: GRADIENT }).gradient?.organic;
  expect(organic({})).toBe('acetonitrile');
  expect(organic({ methanol_percent: 20 })).toBe('methanol');
  expect(organic({ propanol_2_percent: 20, methanol_percent: 10 })).toBe('2-propanol');
});

it('takes an additive without data, and counts it in the whole', () => {
  const liquid = { acetonitrile_percent: 97, other_additives: [{ name: 'dimethyl sulfoxide', percent: 3 }] };
  expect(setupFrom({ ...DOCUMENT, liquid }).liquid.other_additives).toHaveLength(1);
  expect(() => setupFrom({ ...DOCUMENT, liquid: { ...liquid, acetonitrile_percent: 98 } })).toThrow(
    'out of range liquid: 101 % in all; expected at most 100 %',
  );
  expect(() => setupFrom({ ...DOCUMENT, liquid: { other_additives: [{ name: 'x' }] } })).toThrow(
    /missing liquid.other_additives.0/,
  );
});

it('refuses observations in the house grammar, each fault named', () => {
  expect(() => observationsFrom({ observations: [{ seen: 'steady' }] })).toThrow(
    'missing observations.0; expected one of tip_V and supply_V',
  );
  expect(() => observationsFrom({ observations: [{ tip_V: 1, supply_V: 2, seen: 'steady' }] })).toThrow(
    /invalid observations.0/,
  );
  expect(() => observationsFrom({ observations: [{ tip_V: 900, seen: 'glowing' }] })).toThrow(
    /invalid observations.0.seen: "?glowing/,
  );
  expect(() => observationsFrom({ observations: [] })).toThrow(/observations/);
  expect(observationsFrom({ observations: [{ tip_V: 900, seen: 'steady', current_nA: 120 }] })).toHaveLength(
    1,
  );
});

it('takes a set-up alone or with observations as a request', () => {
  expect(planRequestFrom(DOCUMENT).observations).toEqual([]);
  expect(
    planRequestFrom({ setup: DOCUMENT, observations: [{ supply_V: 1500, seen: 'steady' }] }).observations,
  ).toHaveLength(1);
});
