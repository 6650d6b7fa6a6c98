/**
 * A run held against a good one, for the study of detection: the cases written into it, the reference made from a surrogate
 * of its own level, and the published metrics with the same knowledge.
 */
import { randomStream } from '../../src/core/random.ts';
import { type AgainstReading, readAgainst } from '../../src/evidence/against/index.ts';
import type { RunEvent, RunReading } from '../../src/evidence/index.ts';
import { CASES, type Case, isRipple } from './cases.ts';
import { written } from './faults.ts';
import { type MemoryRun, spanOf } from './memory-run.ts';

/** Cases of CASES that last: the rest is the business of one run alone. */
const TAKEN = [
  'sag 30 % 60 s',
  'sag 60 % 60 s',
  'growing scatter, last third, to 25 %',
  'slow clog, -60 % over the last half',
  'step -30 %',
  'step -50 %',
  'friend: valley 60 % 60 s',
  'friend: column bleed',
  'friend: composition change 60 s',
  'friend: fill-control jitter 30 %, the level a rate',
  'friend: fill-control jitter 30 %, the level counts',
];

const LOAD = 2;
const STRETCH = 1.01;

/** Twice the sample: all that does not stand in most scans. */
const load: Case = {
  name: 'friend: twice the load of sample',
  length_s: 0,
  kinds: [],
  friend: true,
  writing: () => ({ factor: (_t, _mz, background) => (background ? 1 : LOAD) }),
};

/** Nothing is written: the scan times are stretched. */
const shift: Case = {
  ...load,
  name: 'friend: all comes 1 % later',
  writing: () => ({ factor: () => 1 }),
};

export const AGAINST_CASES: readonly Case[] = [
  ...CASES.filter((one) => !isRipple(one) && TAKEN.includes(one.name)),
  load,
  shift,
];

export function isShift(one: Case): boolean {
  return one === shift;
}

/** The run with its scan times stretched about its start. */
export function later(run: MemoryRun): MemoryRun {
  const t0 = run.record.time_s[0]!;
  const moved = (t: number): number => t0 + STRETCH * (t - t0);
  const record = { ...run.record, time_s: run.record.time_s.map(moved) };
  const spectra = run.spectra.map((seen) => ({ ...seen, time_s: moved(seen.time_s) }));
  return { ...run, record, spectra, span_s: spanOf(record) };
}

/** From scan to scan, as the factor of the 16 min run scatters. */
const TWIN_SCATTER = 0.055;

/** The run once more: each scan by a factor of its own, counting noise drawn anew. */
export function twin(run: MemoryRun, seed: number): MemoryRun {
  const stream = randomStream(seed, `twin of ${run.name}`);
  const drawn = new Map<number, number>();
  const factor = (t: number): number => {
    const known = drawn.get(t) ?? stream.factor(TWIN_SCATTER);
    drawn.set(t, known);
    return known;
  };
  return written(run, { factor }, seed);
}

/** A good run that is known by its level alone. */
export function levelOnly(reading: RunReading, level?: ArrayLike<number>): RunReading {
  return {
    ...reading,
    events: [],
    groups: reading.groups.map((group, i) => {
      const { ions: _, ...rest } = group;
      if (i !== reading.main_group || !level) return { ...rest, spray: null };
      return { ...rest, spray: null, series: { ...group.series, level: Array.from(level) } };
    }),
  };
}

export function againstOne(reading: RunReading, reference: RunReading): AgainstReading {
  return readAgainst(reading, [{ name: 'the good run', reading: reference }]);
}

export function alarmsOf(against: AgainstReading, least: number): RunEvent[] {
  return against.events.filter(({ confidence }) => confidence >= least);
}
