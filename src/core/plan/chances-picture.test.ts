import { expect, it } from 'vitest';
import { LETTER_PX } from '../chart.ts';
import type { Setup } from '../setup.ts';
import { planFor, windowPicture } from './index.ts';

const setup: Setup = {
  emitter: {
    bore_um: 10,
    rim_um: 20,
    taper_half_angle_deg: 8,
    shank_diameter_um: 360,
    free_length_mm: 10,
    material: 'fused silica',
    inside: 'widens',
    wets: 'rim',
  },
  liquid: {
    acetonitrile_percent: 25,
    methanol_percent: 0,
    propanol_2_percent: 0,
    additive: 'formic acid',
    additive_percent: 0.1,
    temperature_C: 25,
  },
  feed: { kind: 'pumped', flow_nL_min: 300 },
  polarity: 'positive',
  inlet: { distance_mm: 2.5, lateral_offset_mm: 0, angle_deg: 0, bore_mm: 0.5, potential_V: 0 },
  voltage: { contact: 'tip', column: [] },
};
const plan = planFor(setup);
const STATES = ['below onset', 'pulsating', 'steady cone-jet', 'tilted', 'several jets', 'discharge'];

it('names every state in the key, inside the picture, at every width', () => {
  for (const width of [260, 320, 480, 900]) {
    const { marks, height } = windowPicture(plan, width);
    const soft = marks.filter(({ shape, at }) => shape === 'text' && at.class === 'd-text-soft');
    for (const state of STATES) {
      const name = soft.find(({ text }) => text === state);
      if (name === undefined) throw new Error(`no ${state} at ${width}`);
      expect(Number(name.at.x) + state.length * LETTER_PX).toBeLessThan(width + LETTER_PX);
      expect(Number(name.at.y)).toBeLessThan(height);
    }
  }
});

it('draws words after the bands, so that none is covered', () => {
  const { marks } = windowPicture(plan, 480);
  const firstWord = marks.findIndex(({ shape }) => shape === 'text');
  const lastBand = marks.findLastIndex(({ shape, tip }) => shape === 'path' && tip !== undefined);
  expect(lastBand).toBeGreaterThan(0);
  expect(firstWord).toBeGreaterThan(lastBand);
});

it('keeps the label of the best voltage inside, and calls advised only what is', () => {
  for (const width of [260, 900])
    for (const advised_V of [plan.advised_V.value, plan.window.voltage_V.at(-1)! * 0.98]) {
      const moved = { ...plan, advised_V: { ...plan.advised_V, value: advised_V } };
      const label = windowPicture(moved, width).marks.find(({ text }) => text?.startsWith('advised'))!;
      const wide = label.text!.length * LETTER_PX;
      const left = label.at['text-anchor'] === 'end' ? Number(label.at.x) - wide : Number(label.at.x);
      expect(left).toBeGreaterThanOrEqual(0);
      expect(left + wide).toBeLessThanOrEqual(width);
    }
  const withheld = windowPicture({ ...plan, advice_withheld: 'as told' }, 900).marks;
  expect(withheld.some(({ text }) => text?.startsWith('advised'))).toBe(false);
  expect(withheld.some(({ text }) => text?.startsWith('most likely'))).toBe(true);
});
