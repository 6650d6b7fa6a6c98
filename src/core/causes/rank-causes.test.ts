import fc from 'fast-check';
import { expect, it } from 'vitest';
import { groupWeight } from './belief.ts';
import { believe, FAULTS, nextTests, OBSERVABLES, type Observation, rankCauses } from './index.ts';

const CATALOGUE = { faults: FAULTS, observables: OBSERVABLES };
/** Sums of some 1600 probabilities in double precision. */
const ROUNDING = 1e-9;

const seen = (entries: Record<string, string>, from = 'asked'): Observation[] =>
  Object.entries(entries).map(([observable, outcome]) => ({ observable, outcome, from }));
const probabilityOf = (observations: Observation[], id: string) =>
  rankCauses(believe(CATALOGUE, observations)).causes.find(({ fault }) => fault === id)?.probability ?? -1;

it('adds up to one over causes, outside and pairs, whatever is seen', () => {
  const anyObservation = fc.constantFrom(...OBSERVABLES).chain((o) =>
    fc.record({
      observable: fc.constant(o.id),
      outcome: fc.constantFrom(...o.outcomes.map(({ id }) => id)),
      from: fc.constantFrom('asked', 'run-1'),
    }),
  );
  fc.assert(
    fc.property(fc.array(anyObservation, { maxLength: 12 }), (observations) => {
      const ranked = rankCauses(believe(CATALOGUE, observations));
      const sum = ranked.causes.reduce((total, { probability }) => total + probability, 0);
      expect(Math.abs(sum + ranked.outside + ranked.two_faults - 1)).toBeLessThan(ROUNDING);
      for (const { probability } of ranked.causes) expect(probability).toBeGreaterThanOrEqual(0);
    }),
    { seed: 11, numRuns: 40 },
  );
});

it('names the textbook cases first', () => {
  const cases: [string, Record<string, string>][] = [
    ['full-clog', { level: 'none', pressure: 'rising', current: 'none' }],
    ['pump-pulsation', { shape: 'ripple', pressure: 'periodic' }],
    ['voltage-low', { raise: 'better', 'current-form': 'pulses', meniscus: 'rounded', when: 'throughout' }],
    ['offset-drift', { level: 'lower', scatter: 'usual', current: 'usual', nudge: 'rise' }],
    ['column-bleed', { when: 'end', 'odd-ions': 'polymer', scatter: 'usual' }],
    ['acquisition-gap', { shape: 'missing' }],
    ['corona-negative', { polarity: 'negative', 'odd-ions': 'air' }],
    ['leak-after-column', { tissue: 'spot', pressure: 'usual' }],
  ];
  for (const [fault, entries] of cases)
    expect(rankCauses(believe(CATALOGUE, seen(entries))).causes[0]?.fault, fault).toBe(fault);
});

it('counts the same answer from two places once', () => {
  const once = seen({ pressure: 'rising' });
  const twice = [...once, ...seen({ pressure: 'rising' }, 'run-7')];
  expect(probabilityOf(twice, 'full-clog')).toBeCloseTo(probabilityOf(once, 'full-clog'), 12);
});

it('weighs two answers of one measurement as 2/(1 + 0.3), of two measurements as 2', () => {
  expect(groupWeight(CATALOGUE, ['current', 'current-form'], 'current')).toBeCloseTo(1 / 1.3, 12);
  expect(groupWeight(CATALOGUE, ['current', 'pressure'], 'current')).toBe(1);
  // Each trial is a measurement of its own.
  expect(groupWeight(CATALOGUE, ['swap', 'raise'], 'trial')).toBe(1);
  const { why } = rankCauses(believe(CATALOGUE, seen({ current: 'none', 'current-form': 'quiet' })));
  const alone = rankCauses(believe(CATALOGUE, seen({ current: 'none' })));
  const bits = (moved: typeof why) =>
    moved.find(({ observable }) => observable === 'current')!.bits_first_over_rest;
  expect(bits(why)).toBeLessThan(bits(alone.why));
});

it('undecides on contradictory answers and says so', () => {
  const belief = believe(CATALOGUE, [...seen({ swap: 'cured' }, 'ab'), ...seen({ swap: 'same' }, 'cd')]);
  expect(belief.remarks.join(' ')).toContain('contradict');
  expect(rankCauses(belief).remarks.length).toBeGreaterThan(0);
});

it('says what it is without observations, and does not pretend', () => {
  const ranked = rankCauses(believe(CATALOGUE, []));
  expect(ranked.sentence).toContain('Nothing was observed');
  expect(ranked.decided).toBe(false);
  expect(rankCauses(believe(CATALOGUE, seen({ level: 'lower' }))).sentence).toContain('Cannot be decided');
});

it('refuses an unknown question or answer by name', () => {
  expect(() => believe(CATALOGUE, seen({ smell: 'sweet' }))).toThrow(/unknown observable: smell/);
  expect(() => believe(CATALOGUE, seen({ swap: 'maybe' }))).toThrow(
    /unknown answer to swap: maybe; expected one of cured, same/,
  );
  expect(() =>
    believe(CATALOGUE, [{ observable: 'swap', outcome: { cured: Number.NaN }, from: 'asked' }]),
  ).toThrow(/out of range/);
});

it('raises what is outside the catalogue when nothing fits', () => {
  const odd = seen({
    shape: 'missing',
    pressure: 'rising',
    'odd-ions': 'polymer',
    polarity: 'after-switch',
    nudge: 'rise',
  });
  const plain = seen({ level: 'lower' });
  const strange = rankCauses(believe(CATALOGUE, odd));
  expect(strange.outside + strange.two_faults).toBeGreaterThan(0.5);
  const ordinary = rankCauses(believe(CATALOGUE, plain));
  expect(ordinary.outside + ordinary.two_faults).toBeLessThan(0.3);
});

it('advises looking before touching and never repeats a question', () => {
  const belief = believe(CATALOGUE, seen({ level: 'lower', scatter: 'larger' }));
  const tests = nextTests(belief, ['meniscus']);
  expect(tests.length).toBeGreaterThan(5);
  expect(['none', 'knob', 'raise']).toContain(tests[0]?.gate);
  const asked = tests.map(({ observable }) => observable);
  for (const id of ['level', 'scatter', 'meniscus']) expect(asked).not.toContain(id);
  for (let k = 1; k < tests.length; k++)
    expect(tests[k]!.bits_per_minute).toBeLessThanOrEqual(tests[k - 1]!.bits_per_minute);
});

it('expects no more information than the outcomes can carry', () => {
  for (const { bits, observable } of nextTests(believe(CATALOGUE, []))) {
    const outcomes = OBSERVABLES.find(({ id }) => id === observable)!.outcomes.length;
    expect(bits, observable).toBeLessThanOrEqual(Math.log2(outcomes) + ROUNDING);
  }
});
