/** The peaks of a run followed: invented spectra with background and eluting ions, faults and false friends. */
import { describe, expect, test } from 'vitest';
import { jsonFault, madeRecord } from '../../../test/kit/made-record.ts';
import { randomStream } from '../../core/random.ts';
import { runReader } from '../../formats/index.ts';
import { inflate } from '../../formats-node/index.ts';
import { inventedRun, inventedRunTruth } from '../../rehearsal/index.ts';
import { readRun } from '../read-run.ts';
import type { RunReading } from '../run-reading.ts';
import { rateReading } from './rate.ts';
import { runWitnesses, type Witnesses } from './run-witnesses.ts';
import type { SeenSpectrum } from './seen-spectrum.ts';

const STEP_S = 1.5;
const GAIN_SD = 0.06;

interface Factors {
  /** On all ions, and on all that are no background. */
  spray?: (t: number) => number;
  eluting?: (t: number) => number;
  /** Fill of a scan over the usual one; the peaks are ions of a scan and follow it. */
  fill?: (t: number) => number;
  /** No ion stands the whole run; more elute, for longer, and all together scatter a third as much. */
  bare?: boolean;
}

const FILL_MS = 20;

/** 60 background ions and 60 eluting ones, each ion 15 % from scan to scan, all together GAIN_SD. */
function made(seed: number, n: number, factors: Factors = {}): { reading: RunReading; witnesses: Witnesses } {
  const stream = randomStream(seed, 'made spectra');
  const background = Array.from({ length: factors.bare ? 0 : 60 }, (_, i) => ({
    mz: 401.2 + 11.3 * i,
    level: 1e5 * stream.factor(0.7),
  }));
  const eluting = Array.from({ length: factors.bare ? 400 : 60 }, (_, i) => ({
    mz: 405.7 + (factors.bare ? 2.1 : 11.3) * i,
    level: 1e6 * stream.factor(1),
    apex_s: stream.between(0, n * STEP_S),
  }));
  const witnesses = runWitnesses();
  const scans = Array.from({ length: n }, (_, row) => {
    const time_s = row * STEP_S;
    const fill = factors.fill?.(time_s) ?? 1;
    const spray = (factors.spray?.(time_s) ?? 1) * stream.factor(factors.bare ? GAIN_SD / 3 : GAIN_SD) * fill;
    const other = spray * (factors.eluting?.(time_s) ?? 1);
    const peaks = [
      ...background.map((ion) => ({ mz: ion.mz, level: ion.level * spray * stream.factor(0.15) })),
      ...eluting.map((ion) => ({
        mz: ion.mz,
        level:
          ion.level *
          other *
          Math.exp(-0.5 * ((time_s - ion.apex_s) / (factors.bare ? 25 : 8)) ** 2) *
          stream.factor(0.15),
      })),
    ]
      .filter((peak) => peak.level > 1e3)
      .sort((a, b) => a.mz - b.mz);
    const seen: SeenSpectrum = {
      row,
      time_s,
      mz: Float64Array.from(peaks, (peak) => peak.mz * (1 + 1e-6 * stream.normal())),
      intensity: Float64Array.from(peaks, (peak) => peak.level),
      profile: false,
      injection_ms: Number.NaN,
      analyser: 0,
      polarity: 1,
      window_low: 350,
      window_high: 1600,
    };
    witnesses.see(seen);
    const tic = peaks.reduce((sum, peak) => sum + peak.level, 0);
    return { time_s, tic, ...(factors.fill ? { injection_ms: FILL_MS * fill } : {}) };
  });
  const seen = witnesses.finish();
  return { reading: readRun(madeRecord(scans), { witnesses: seen }), witnesses: seen };
}

const between = (t: number, from: number, to: number): boolean => t >= from && t < to;

function alarms(reading: RunReading): string[] {
  return reading.events.filter((event) => event.confidence >= 0.5).map((event) => event.kind);
}

describe('what is followed', () => {
  test('the gain of neighbouring scans, its scatter and that low and high m/z agree', () => {
    const { reading } = made(1, 300);
    const spray = reading.groups[0]!.spray!;
    expect(spray.from).toBe('background ions');
    // Difference of two scans' factors; 300 of them are known to 8 % at two standard errors of a MAD.
    expect(Math.abs(spray.gain_sd! / (GAIN_SD * Math.SQRT2) - 1)).toBeLessThan(0.25);
    expect(spray.common).toBe('common');
    expect(spray.background.length).toBeGreaterThanOrEqual(40);
    // 60 ions of 1e5 to 1e6 beside two or three that elute at 1e6: about half of the level, and no part above the whole.
    const shares = spray.background.reduce((sum, ion) => sum + ion.share, 0);
    expect(shares).toBeGreaterThan(0.3);
    expect(shares).toBeLessThan(1);
    expect(reading.peaks_read).toBe(true);
    expect(reading.stability.grade).toBe('steady');
    expect(jsonFault(reading)).toBeUndefined();
  });

  test('without the peaks the reading stands as before and says what it lacks', () => {
    const reading = readRun(madeRecord(Array.from({ length: 60 }, (_, i) => ({ time_s: 2 * i, tic: 1e6 }))));
    expect(reading.peaks_read).toBe(false);
    expect(reading.lacks).toHaveLength(1);
    expect(reading.groups[0]!.spray).toBeNull();
  });
});

describe('faults and false friends (small seeded version of the detection bench)', () => {
  test('sags of 30 % for 15 s are found, valleys of elution of the same shape are not', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const fault = (t: number): number => (between(t, 250, 265) ? 0.7 : 1);
      expect(alarms(made(seed, 320, { spray: fault }).reading)).toContain('sag');
      expect(alarms(made(seed, 320, { eluting: fault }).reading)).toEqual([]);
      expect(alarms(made(seed, 320).reading)).toEqual([]);
    }
  });

  test('a ripple of 10 % with its period; flicker between 0.65 and 1.3 of the level', () => {
    const wave = (t: number): number =>
      between(t, 100, 400) ? 1 + 0.1 * Math.sin((2 * Math.PI * t) / 11) : 1;
    const ripple = made(3, 320, { spray: wave }).reading.events.find((event) => event.kind === 'ripple');
    expect(Math.abs(ripple!.period_s! / 11 - 1)).toBeLessThan(0.03);
    const stream = randomStream(6, 'flicker');
    const flicker = (t: number): number => (between(t, 200, 260) ? (stream.unit() < 0.5 ? 0.65 : 1.3) : 1);
    expect(made(4, 320, { spray: flicker }).reading.events.map((event) => event.kind)).toContain('flicker');
  });

  test('one fall to a half for 9 s is no flicker around it', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const { reading } = made(seed, 320, { spray: (t) => (between(t, 250, 259) ? 0.5 : 1) });
      expect(reading.events.map((event) => event.kind)).not.toContain('flicker');
      expect(reading.events.some((event) => event.start_s < 259 && event.end_s > 250)).toBe(true);
      expect(reading.trustworthy_share).toBeGreaterThan(0.9);
    }
  });

  test('a lasting fall of 30 % is a step and takes no minutes; a drift of the same size is no step', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const { reading } = made(seed, 520, { spray: (t) => (t < 390 ? 1 : 0.7) });
      const steps = reading.events.filter((event) => event.kind === 'step');
      expect(steps).toHaveLength(1);
      expect(Math.abs(steps[0]!.start_s - 390)).toBeLessThan(4 * STEP_S);
      expect(Math.abs(steps[0]!.depth! - 0.3)).toBeLessThan(0.08);
      expect(steps[0]!.common).toBe(true);
      expect(steps[0]!.confidence).toBeGreaterThanOrEqual(0.5);
      expect(reading.events.filter((event) => event.kind === 'drift')).toEqual([]);
      expect(reading.trustworthy_share).toBeGreaterThan(0.98);
      const slow = made(seed, 520, { spray: (t) => Math.exp((-0.36 * t) / 780) }).reading;
      expect(slow.events.filter((event) => event.kind === 'step')).toEqual([]);
    }
  });

  test('without background ions a step is told by the one moment at which all ions jump, a fall that comes back is none', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const { reading } = made(seed, 520, { bare: true, spray: (t) => (t < 390 ? 1 : 0.5) });
      expect(reading.groups[0]!.spray!.from).toBe('matched peaks');
      const steps = reading.events.filter((event) => event.kind === 'step');
      expect(steps).toHaveLength(1);
      expect(Math.abs(steps[0]!.start_s - 390)).toBeLessThan(4 * STEP_S);
      expect(Math.abs(steps[0]!.depth! - 0.5)).toBeLessThan(0.15);
      expect(steps[0]!.confidence).toBeGreaterThanOrEqual(0.5);
      const sag = (t: number): number => (between(t, 390, 450) ? 0.5 : 1);
      const kinds = made(seed, 520, { bare: true, spray: sag }).reading.events.map((event) => event.kind);
      expect(kinds).not.toContain('step');
      expect(made(seed, 520, { bare: true }).reading.events.map((event) => event.kind)).not.toContain('step');
    }
  });

  test('where peaks count the ions of a scan, a fill control that jitters is no fault, and a sag still is one', () => {
    for (let seed = 1; seed <= 3; seed++) {
      const jitter = randomStream(seed, 'fill jitter');
      // Fills that follow a made elution slowly, and for a minute their own chance.
      const fill = (t: number): number =>
        (1 + 0.8 * Math.sin(t / 50)) ** 2 * 0.4 + 0.3 + (between(t, 200, 260) ? 0.4 * jitter.unit() : 0);
      const sag = (t: number): number => (between(t, 320, 350) ? 0.6 : 1);
      const quiet = made(seed, 320, { fill }).reading;
      expect(quiet.groups[0]!.rate!.says).toBe('counts per scan');
      expect(alarms(quiet)).toEqual([]);
      expect(alarms(made(seed, 320, { fill, spray: sag }).reading)).toContain('sag');
    }
  });

  test('a masked stretch takes no part', () => {
    const sag = (t: number): number => (between(t, 250, 280) ? 0.5 : 1);
    const scans = Array.from({ length: 320 }, (_, i) => ({ time_s: i * STEP_S, tic: 1e6 * sag(i * STEP_S) }));
    const mask = [{ start_s: 240, end_s: 290 }];
    const reading = readRun(madeRecord(scans), { mask });
    expect(reading.events).toEqual([]);
    expect(reading.masked).toEqual([{ ...mask[0], reason: 'asked for' }]);
    expect(reading.trustworthy.every((piece) => piece.end_s < 242 || piece.start_s > 288)).toBe(true);
  });
});

test('fill times: a rate has slope -1, counts per scan slope 0, and still fills decide nothing', () => {
  const stream = randomStream(9, 'fills');
  const flux = Array.from({ length: 200 }, () => stream.factor(0.5));
  const fills = flux.map((f) => (20 / f) * stream.factor(0.03));
  const rate = rateReading(
    flux.map((f) => 1e6 * f * stream.factor(0.05)),
    fills,
  )!;
  expect(rate.says).toBe('a rate');
  expect(Math.abs(rate.slope + 1)).toBeLessThan(0.05);
  expect(rate.fill_scatter).toBeLessThan(rate.level_scatter / 3);
  expect(
    rateReading(
      flux.map((f, i) => 1e6 * f * fills[i]! * stream.factor(0.05)),
      fills,
    )!.says,
  ).toBe('counts per scan');
  expect(
    rateReading(
      flux.map((f) => 1e6 * f),
      flux.map(() => 20 * stream.factor(0.02)),
    )!.says,
  ).toBe('cannot tell');
});

test('through the bytes of a file: an invented run with its planted faults', () => {
  const witnesses = runWitnesses();
  let seen = 0;
  const options = {
    inflate,
    onMs1: (spectrum: SeenSpectrum) => {
      seen++;
      witnesses.see(spectrum);
    },
  };
  const reader = runReader(options);
  const encoder = new TextEncoder();
  for (const piece of inventedRun({ seed: 7 })) reader.push(encoder.encode(piece));
  const record = reader.end();
  expect(seen).toBe(record.ms1_count);
  const reading = readRun(record, { witnesses: witnesses.finish() });
  expect(reading.groups[0]!.spray?.from).toBe('background ions');
  for (const fault of inventedRunTruth({ seed: 7 }).faults) {
    const hit = reading.events.find(
      (event) => event.start_s < fault.end_s && event.end_s > fault.start_s && event.confidence >= 0.5,
    );
    expect(hit, `${fault.kind} at ${fault.start_s}`).toBeDefined();
  }
});
