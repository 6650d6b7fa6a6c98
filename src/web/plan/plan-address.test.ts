import { expect, it } from 'vitest';
import { toAddress } from '../address.ts';
import { exampleSetup } from './example-setup.ts';
import { draftIn, draftText, observationsIn, observationsText } from './plan-address.ts';

it('brings the set-up back and leaves the untouched example unwritten', () => {
  expect(draftIn('')).toBe(exampleSetup);
  expect(draftIn('no set-up')).toBe(exampleSetup);
  expect(draftText(exampleSetup)).toBe('');
  const own = { ...exampleSetup, name: 'tip 7' };
  expect(draftIn(draftText(own))).toEqual(own);
});

it('brings back what was seen, and takes what cannot be read for nothing seen', () => {
  const rows = observationsIn(toAddress({ observations: [{ supply_V: 1280, seen: 'steady' }] }));
  expect(rows).toMatchObject([{ supply_V: 1280, seen: 'steady' }]);
  expect(observationsIn(observationsText(rows))).toEqual(rows);
  expect(observationsText([])).toBe('');
  expect(observationsIn('')).toEqual([]);
  expect(observationsIn(toAddress({ observations: [{ seen: 'a comet' }] }))).toEqual([]);
});
