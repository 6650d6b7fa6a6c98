import { expect, it } from 'vitest';
import {
  proofOutcome,
  proofWords,
  type ReadFigures,
  reasonWords,
  type SettleSession,
  workingPoint,
  workingPointTitle,
} from './index.ts';

const before: ReadFigures = {
  file: 'bad.mzML',
  reading_id: 'reading-4',
  from: 'run',
  level: 4e5,
  scatter_percent: 1.7,
  grade: 'repeat',
  spray: 'failing',
};
const good: ReadFigures = {
  ...before,
  file: 'after.mzML',
  level: 5e7,
  scatter_percent: 5,
  grade: 'keep',
  spray: 'steady',
};
const outcome = (from: ReadFigures | undefined, after: ReadFigures) =>
  proofOutcome(from, { after, when: '2031-02-03T04:05:06Z' });

it('speaks for a point only where nothing became worse', () => {
  expect(outcome(before, good)).toBe('better');
  expect(outcome(good, before)).toBe('not better');
  expect(outcome(good, { ...good, level: 7e7 })).toBe('better');
  expect(outcome(good, { ...good, level: 5.2e7 })).toBe('not better');
  expect(outcome(good, { ...good, scatter_percent: 12, level: 7e7 })).toBe('not better');
  expect(outcome(good, { ...good, scatter_percent: 2 })).toBe('better');
  expect(outcome(before, { ...good, level: 1e5 })).toBe('not better');
});

it('does not tell from nothing, from a thin run, or from a run against a current', () => {
  expect(outcome(undefined, good)).toBe('cannot tell');
  expect(outcome({ ...before, grade: 'cannot tell' }, good)).toBe('cannot tell');
  expect(outcome(before, { ...good, from: 'current' })).toBe('cannot tell');
  expect(outcome({ ...before, level: 0 }, good)).toBe('better');
  expect(outcome({ ...before, level: 0 }, { ...before, level: 0 })).toBe('not better');
});

it('says both readings, and that they must be of one method', () => {
  const words = proofWords(before, { after: good, when: '2031-02-03T04:05:06Z' });
  expect(words).toMatch(
    /level 400000 -> 50000000 \(times 125\); scatter 1\.7 % -> 5 %; grade repeat -> keep/,
  );
  expect(words).toMatch(/one method on one instrument/);
  expect(reasonWords({ cause: 'offset-drift', probability: 0.62, before })).toMatch(
    /^Begun because of: lateral offset, drift or a bent emitter, 62 %\. It was seen in bad\.mzML \(reading-4\)/,
  );
});

const session: SettleSession = {
  seed: 1,
  polarity: 'positive',
  start: { voltage_V: 1300, distance_mm: 3, lateral_x_mm: 0, lateral_y_mm: 0, angle_deg: 0 },
  axes: { voltage_V: { low: 1000, high: 1600, step: 10 } },
  reads: 'typed',
  matters: 'level',
  supply_limit_V: 2000,
  emitter: 'tip 7',
  because: { cause: 'offset-drift', before },
  readings: [1300, 1350, 1400].map((voltage_V, k) => ({
    time_s: 60 * (k + 1),
    at: { voltage_V, distance_mm: 3, lateral_x_mm: 0, lateral_y_mm: 0, angle_deg: 0 },
    level: 1e6 + 1e5 * k,
    scatter_percent: 5,
  })),
};
const facts = { session: 'settle-1', date: '2031-02-03T04:05:06Z' };

it('makes a working point with its window, its reason and its proof', () => {
  const point = workingPoint({ ...session, proofs: [{ after: good, when: facts.date }] }, facts);
  expect(point).toMatchObject({ emitter: 'tip 7', instrument: null, session: 'settle-1', readings: 3 });
  expect(point.window).toEqual({ steady_from_V: 1300, steady_to_V: 1400, not_above_V: 1600 });
  expect(point.proof.outcome).toBe('better');
  expect(point.because?.sentence).toMatch(/lateral offset/);
  expect(point.observations.map(({ seen }) => seen)).toEqual(['steady', 'steady', 'steady']);
  expect(workingPointTitle(point)).toMatch(
    /^tip 7: \d+ V, 3 mm to the inlet; steady 1300 to 1400 V(; the search is not done)?; proven better$/,
  );
  expect(workingPointTitle(workingPoint(session, facts))).toMatch(/not proven yet$/);
});

it('hands one row on for a voltage that was read again', () => {
  const again = session.readings.map((reading) => ({ ...reading, at: { ...reading.at, voltage_V: 1300 } }));
  expect(workingPoint({ ...session, readings: again }, facts).observations).toEqual([
    { supply_V: 1300, seen: 'steady' },
  ]);
});

it('makes none of a session without a reading', () => {
  expect(() => workingPoint({ ...session, readings: [] }, facts)).toThrow(/^missing readings/);
});
