import { expect, it } from 'vitest';
import { setupFrom } from '../../contract/index.ts';
import { planFor } from '../../core/plan/index.ts';
import { chancesPicture } from './chances-picture.ts';
import { exampleSetup } from './example-setup.ts';

const plan = planFor(setupFrom(exampleSetup));
const STATES = ['below onset', 'pulsating', 'steady cone-jet', 'tilted', 'several jets', 'discharge'];
/** Wider than any letter of the labels. */
const LETTER_PX = 8.5;

it('names every state in the key, inside the picture, at every width', () => {
  for (const width of [260, 320, 480, 900]) {
    const { marks, height } = chancesPicture(plan, width);
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
  const { marks } = chancesPicture(plan, 480);
  const firstWord = marks.findIndex(({ shape }) => shape === 'text');
  const lastBand = marks.findLastIndex(({ shape, tip }) => shape === 'path' && tip !== undefined);
  expect(lastBand).toBeGreaterThan(0);
  expect(firstWord).toBeGreaterThan(lastBand);
});
