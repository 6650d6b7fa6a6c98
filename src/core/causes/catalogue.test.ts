import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { FAULTS } from './faults/index.ts';
import { outcomesUnder } from './likelihood.ts';
import { OBSERVABLES } from './observables.ts';
import { OBSERVABLE_GROUPS, SAFETY_GATES } from './types.ts';

/** Two faults are separated by a question when their outcome frequencies overlap by less than half. Judgement. */
const LEAST_DISTANCE = 0.5;
/** A fault with fewer questions could not be told from the rest. Judgement. */
const LEAST_SIGNS = 8;
const ROUNDING = 1e-9;

const observable = (id: string) => {
  const found = OBSERVABLES.find((o) => o.id === id);
  if (found === undefined) throw new Error(`no observable ${id}`);
  return found;
};
const fault = (id: string) => {
  const found = FAULTS.find((f) => f.id === id);
  if (found === undefined) throw new Error(`no fault ${id}`);
  return found;
};

it('lists every file of the folder once, under its own name', () => {
  const files = readdirSync(new URL('./faults/', import.meta.url)).filter((name) => name !== 'index.ts');
  expect(FAULTS.map(({ id }) => `${id}.ts`).sort()).toEqual(files.sort());
  expect(FAULTS.length).toBeGreaterThanOrEqual(56);
});

it('has whole observables: outcomes once each, frequencies that add to 1, a known group and gate', () => {
  expect(new Set(OBSERVABLES.map(({ id }) => id)).size).toBe(OBSERVABLES.length);
  for (const o of OBSERVABLES) {
    expect(new Set(o.outcomes.map(({ id }) => id)).size, o.id).toBe(o.outcomes.length);
    expect(o.untouched.length, o.id).toBe(o.outcomes.length);
    expect(Math.abs(o.untouched.reduce((sum, p) => sum + p, 0) - 1), o.id).toBeLessThan(ROUNDING);
    expect(OBSERVABLE_GROUPS).toContain(o.group);
    expect(SAFETY_GATES).toContain(o.gate);
    expect(o.minutes, o.id).toBeGreaterThan(0);
    if (o.outcomes.length === 2)
      expect(
        o.outcomes.map(({ id }) => id),
        o.id,
      ).toContain(o.yes);
  }
});

it('has whole faults: signs that name known outcomes, three actions, numbers, sources, a look-alike', () => {
  for (const f of FAULTS) {
    expect(Object.keys(f.signs).length, f.id).toBeGreaterThanOrEqual(LEAST_SIGNS);
    for (const [id, weights] of Object.entries(f.signs)) {
      const known = observable(id).outcomes.map((outcome) => outcome.id);
      for (const [outcome, weight] of Object.entries(weights)) {
        expect(known, `${f.id} ${id}`).toContain(outcome);
        expect(weight).toBeGreaterThan(0);
      }
    }
    expect(f.actions.length, f.id).toBe(3);
    expect(f.lookAlikes.length, f.id).toBeGreaterThan(0);
    expect(f.numbers.length, f.id).toBeGreaterThan(10);
    expect(f.sources.length, f.id).toBeGreaterThan(0);
    expect(f.prior, f.id).toBeGreaterThan(0);
  }
});

it('separates every pair of look-alikes by the test it names', () => {
  for (const f of FAULTS)
    for (const { fault: other, separatedBy } of f.lookAlikes) {
      const [a, b] = [f, fault(other)].map((one) => outcomesUnder(one, observable(separatedBy)));
      const distance = a!.reduce((sum, p, k) => sum + Math.abs(p - b![k]!), 0) / 2;
      expect(distance, `${f.id} and ${other} by ${separatedBy}`).toBeGreaterThan(LEAST_DISTANCE);
    }
});

it('puts no hand near the tip and opens no fitting without its gate', () => {
  const touching = /replace|wipe with|rinse|dip |cut |seat|disconnect|clean the|move the contact/i;
  for (const f of FAULTS)
    for (const { gate, words } of f.actions) {
      expect(words, f.id).not.toMatch(/defeat|bypass|override/i);
      if (gate === 'none' || gate === 'knob')
        expect(touching.test(words) && !/never/i.test(words), `${f.id}: ${words}`).toBe(false);
      if (
        /\b(up|higher|more voltage)\b/i.test(words) &&
        /voltage|flow|pressure|V\b/.test(words) &&
        gate === 'none'
      )
        expect.fail(`${f.id} raises without a gate: ${words}`);
    }
});
