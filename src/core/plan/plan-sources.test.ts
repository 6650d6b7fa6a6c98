import { expect, it } from 'vitest';
import { estimate } from '../estimate.ts';
import { citedNumbers, sourcesText } from './plan-sources.ts';

const CITED = {
  liquid: {
    conductivity_S_m: estimate(1, 0.5, 2, { basis: 'model A', sources: ['Someone 1999', 'judgement'] }),
  },
  onset_V: estimate(900, 800, 1000, { basis: 'model B', sources: ['judgement'], valid: false }),
  curve: [1, 2, 3],
  warnings: ['no number'],
};

it('finds every cited number under its path', () => {
  expect(citedNumbers(CITED).map(({ number }) => number)).toEqual(['liquid.conductivity_S_m', 'onset_V']);
});

it('numbers each source once and marks what is outside its validity', () => {
  const text = sourcesText(CITED);
  expect(text).toContain('liquid.conductivity_S_m: model A [1, 2]');
  expect(text).toContain('onset_V *: model B [2]');
  expect(text.match(/judgement/g)).toHaveLength(1);
});
