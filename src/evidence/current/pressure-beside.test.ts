import { expect, it } from 'vitest';
import type { BesideCurrent } from '../../core/signal/index.ts';
import { pressureOf, pressureText } from './pressure-beside.ts';

const beside = (change: Partial<BesideCurrent>): BesideCurrent => ({
  mean: 90e5,
  low: 86e5,
  high: 94e5,
  correlation: 0.9,
  delay_s: 0.5,
  swings: 8,
  ...change,
});
const said = (change: Partial<BesideCurrent>, rhythm = true) =>
  pressureText(pressureOf(beside(change))!, rhythm);

it('points to the pump where both move together', () => {
  expect(said({})).toBe(
    'Pressure 90 bar (86 to 94); the current moves with it: look at the pump and the feed first.',
  );
  expect(pressureOf(beside({}))!.moves_with).toBe(true);
});

it('points away from it where the pressure stands still or goes its own way', () => {
  expect(said({ low: 89.9e5, high: 90.1e5 })).toMatch(/the rhythm of the current is not in it/);
  expect(said({ correlation: 0.2 })).toMatch(/bubbles or a wet face rather than the pump/);
  expect(said({ correlation: 0.2 }, false)).toBe('Pressure 90 bar (86 to 94).');
});

it('says no more than the level of a few swings or a short trace', () => {
  expect(said({ swings: 2 })).toBe('Pressure 90 bar (86 to 94).');
  expect(pressureOf(beside({ correlation: null }))!.moves_with).toBeNull();
  expect(pressureOf(undefined)).toBeNull();
});
