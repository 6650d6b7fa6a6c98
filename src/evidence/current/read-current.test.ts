import { describe, expect, it } from 'vitest';
import {
  type Bare,
  bursts,
  discharge,
  dripping,
  flat,
  hopping,
  type MadeTrace,
  madeTrace,
  pulsating,
  statisticsOf,
  step,
  unsteady,
} from '../../../test/kit/made-traces.ts';
import { givenBandwidth } from '../../core/signal/index.ts';
import { looksReversed } from './checks.ts';
import { currentCsv, currentReadingText } from './current-out.ts';
import { type ReadCurrentOptions, readCurrent } from './read-current.ts';
import { REGIMES, type Regime } from './regimes.ts';

const NA = 1e-9;
/** One window in twenty may fall to a neighbouring regime. */
const SHARE_RIGHT = 0.95;

function read(bare: Bare, trace: Partial<MadeTrace> = {}, options: ReadCurrentOptions = {}) {
  const made = { rate_Hz: 5e4, length_s: 3, seed: 11, ...trace };
  return readCurrent(statisticsOf(madeTrace(bare, made), made.rate_Hz), options);
}

describe('regimes of made traces', () => {
  it.each<[Regime, string, Bare, Partial<MadeTrace>]>([
    ['no spray', 'noise alone', flat(0), {}],
    ['leak only', '3 nA', flat(3 * NA), {}],
    ['steady', '120 nA with a drift', flat(120 * NA, 0.05), {}],
    ['dripping', 'six drops in a second', dripping(6, 2 * NA), {}],
    ['pulsating', '400 Hz', pulsating(400, 60 * NA), {}],
    ['pulsating', '8 kHz, jittered', pulsating(8000, 60 * NA, 0.3, 0.15), {}],
    ['pulsating', 'a line at 12 kHz through a 2 kHz meter', pulsating(12_000, 60 * NA), { meter_Hz: 2000 }],
    ['intermittent bursts', 'trains of 5 kHz', bursts(40, 5000, 40 * NA), {}],
    ['unsteady jet', 'wander of 10 %', unsteady(100 * NA, 0.1), {}],
    ['several jets', 'hops between one and two', hopping(80 * NA, 1, 0.05), {}],
    ['discharge', 'spikes on a raised level', discharge(500 * NA, 300, 1000 * NA), {}],
    ['discharge', 'microamperes', discharge(4000 * NA, 20, 300 * NA), {}],
    [
      'pick-up',
      'mains on a steady spray',
      flat(100 * NA),
      { mains: { frequency_Hz: 50, amplitude: 20 * NA } },
    ],
  ])('%s: %s', (regime, _, bare, trace) => {
    const reading = read(bare, trace, { bandwidth: givenBandwidth(trace.meter_Hz ?? 25_000, 'given') });
    expect(reading.windows.length).toBeGreaterThan(10);
    const right = reading.windows.filter((w) => w.regime === regime).length;
    expect(right / reading.windows.length).toBeGreaterThanOrEqual(SHARE_RIGHT);
    for (const w of reading.windows) {
      const sum = REGIMES.reduce((s, name) => s + w.probabilities[name], 0);
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  it('tells frequency and charge of a pulsation', () => {
    const [stretch] = read(pulsating(400, 60 * NA)).timeline;
    expect(stretch!.frequency_Hz).toBeGreaterThan(390);
    expect(stretch!.frequency_Hz).toBeLessThan(410);
    // 60 nA / 400 Hz.
    expect(stretch!.charge_pC).toBeGreaterThan(140);
    expect(stretch!.charge_pC).toBeLessThan(160);
  });
});

describe("'steady'", () => {
  it('is never stated while the bandwidth is unknown', () => {
    const reading = read(flat(120 * NA), { rate_Hz: 2e6, length_s: 0.4 });
    expect(reading.bandwidth.from).toBe('unknown');
    const said = [...reading.sentences, ...reading.timeline.map((s) => s.label)].join(' ');
    expect(said).toMatch(/steady below 1 MHz at most; faster pulsation not excluded/);
    expect(said).not.toMatch(/steady cone-jet/);
    expect(said).toMatch(/would decide/);
  });

  it('ends at the meter, whatever the rate; a meter and rate beyond the pulsation decide', () => {
    const slow = read(
      flat(120 * NA),
      { rate_Hz: 1e6, length_s: 0.4 },
      { bandwidth: givenBandwidth(3386, 'given') },
    );
    expect(slow.timeline[0]!.label).toBe('steady below 3.39 kHz; faster pulsation not excluded');
    const fast = read(
      flat(120 * NA),
      { rate_Hz: 1e6, length_s: 0.4 },
      { bandwidth: givenBandwidth(4e5, 'given') },
    );
    expect(fast.timeline[0]!.label).toBe('steady cone-jet');
    expect(fast.decidability.decides).toBe(true);
  });

  it('is not stated for a pulsation that the trace can show, however irregular or noisy', () => {
    let windows = 0;
    for (const [k, [f, duty, jitter, noise]] of [
      [70, 0.5, 0.1, 1],
      [300, 0.1, 0.3, 1],
      [2500, 0.55, 0.3, 0.5],
      [9000, 0.3, 0.2, 2],
      [18_000, 0.5, 0.05, 2],
    ].entries() as ArrayIterator<[number, [number, number, number, number]]>) {
      const reading = read(pulsating(f, 30 * NA, duty, jitter), { seed: k, noise: noise * NA });
      windows += reading.windows.length;
      expect(reading.windows.filter((w) => w.regime === 'steady').length).toBe(0);
    }
    expect(windows).toBeGreaterThan(100);
  });
});

describe('what is wrong with a recording is said', () => {
  const warningsOf = (samples: Float64Array, options: ReadCurrentOptions = {}) =>
    readCurrent(statisticsOf(samples, 5e4), options).warnings.join('\n');
  const base = (bare: Bare = flat(100 * NA)) => madeTrace(bare, { rate_Hz: 5e4, length_s: 2, seed: 3 });

  it('nothing where nothing is wrong', () => {
    expect(warningsOf(base())).toBe('');
    expect(warningsOf(base(pulsating(3000, 60 * NA)))).toBe('');
    expect(warningsOf(base(dripping(5, 2 * NA)))).toBe('');
  });

  it('a wrong unit', () => {
    expect(warningsOf(base().map((x) => x * 1e6))).toMatch(
      /no nanoelectrospray carries so much. Check the unit/,
    );
    expect(warningsOf(base().map((x) => x * 1e-6))).toMatch(/another unit/);
    const expected = { current_A: 120 * NA, low_A: 60 * NA, high_A: 240 * NA, calibrated: false };
    expect(
      warningsOf(
        base().map((x) => x * 1e3),
        { expected },
      ),
    ).toMatch(/the unit looks wrong/);
  });

  it('clipping, with its window among the events', () => {
    const x = base(pulsating(500, 60 * NA)).map((v) => Math.min(v, 150 * NA));
    expect(warningsOf(x)).toMatch(/Clipped at 150 nA/);
    expect(readCurrent(statisticsOf(x, 5e4)).events.some((e) => e.kind === 'clipped')).toBe(true);
  });

  it('12-bit steps coarser than the noise', () => {
    const q = 2 * NA;
    expect(warningsOf(base().map((x) => Math.round(x / q) * q))).toMatch(/steps of 2 nA are coarser/);
  });

  it('missing values and gaps', () => {
    const x = base();
    x.fill(Number.NaN, 500, 900);
    expect(warningsOf(x)).toMatch(/400 of 100000 samples have no number/);
  });

  it('reversed polarity', () => {
    const turned = base().map((x) => -x);
    expect(looksReversed(statisticsOf(turned, 5e4))).toBe(true);
    expect(
      looksReversed(
        statisticsOf(
          base(dripping(5, 2 * NA)).map((x) => -x),
          5e4,
        ),
      ),
    ).toBe(true);
    for (const bare of [flat(100 * NA), flat(0), dripping(5, 2 * NA), pulsating(900, 50 * NA)])
      expect(looksReversed(statisticsOf(base(bare), 5e4))).toBe(false);
    expect(warningsOf(base(), { turned: true })).toMatch(/its sign was turned/);
  });
});

describe('steps and the plan', () => {
  const expected = { current_A: 100 * NA, low_A: 83 * NA, high_A: 120 * NA, calibrated: true };

  it('a sharp step by the square root of two is a second jet', () => {
    const reading = read(step(100 * NA, Math.SQRT2), {}, { expected });
    const up = reading.events.find((e) => e.kind === 'step up')!;
    expect(up.start_s).toBeCloseTo(1.5, 2);
    expect(up.sentence).toMatch(/a jet was born/);
    expect(reading.timeline.at(-1)!.regime).toBe('several jets');
    expect(reading.timeline.at(-1)!.jets).toBe(2);
  });

  it('1.4 times: a second jet; twice with a creeping rise and current without flow: a leak', () => {
    const jet = read(step(100 * NA, Math.SQRT2, 0.2), {}, { expected }).comparison!;
    expect(jet.meanings[0]!.cause).toBe('second jet');
    const creeping: Bare = (_, x) => {
      for (let k = 0; k < x.length; k++)
        x[k] = 100 * NA * (1 + Math.min(1, Math.max(0, (3 * k) / x.length - 0.5)));
    };
    const leak = read(creeping, {}, { expected, flow_off_nA: 90 }).comparison!;
    expect(leak.ratio).toBeGreaterThan(1.8);
    expect(leak.meanings[0]!.cause).toBe('leak');
  });

  it('before a steady reading the band of a factor 2 names nothing', () => {
    const reading = read(
      flat(150 * NA),
      {},
      { expected: { current_A: 100 * NA, low_A: 50 * NA, high_A: 200 * NA, calibrated: false } },
    );
    expect(reading.comparison!.inside).toBe(true);
    expect(reading.comparison!.sentence).toMatch(/names no regime by itself/);
    const same = read(flat(150 * NA));
    expect(reading.windows[3]!.probabilities).toEqual(same.windows[3]!.probabilities);
  });
});

it('a pump is named as a slow rhythm', () => {
  const pumped: Bare = (_, x, rate) => {
    for (let k = 0; k < x.length; k++)
      x[k] = 100 * NA * (1 + 0.06 * Math.sin((2 * Math.PI * 1.25 * k) / rate));
  };
  const reading = read(pumped, { rate_Hz: 2000, length_s: 40 });
  expect(reading.rhythm!.frequency_Hz).toBeGreaterThan(1.2);
  expect(reading.rhythm!.frequency_Hz).toBeLessThan(1.3);
  expect(reading.sentences.join(' ')).toMatch(/pump, bubbles or a wet face/);
});

it('text and table hold the same windows', () => {
  const reading = read(pulsating(400, 60 * NA));
  expect(currentReadingText(reading)).toMatch(/pulsating \(\d+ %\): mean 60/);
  const rows = currentCsv(reading).trim().split('\r\n');
  expect(rows.length).toBe(reading.windows.length + 1);
  expect(rows[1]!.split(',').length).toBe(rows[0]!.split(',').length);
});

it('a trace of a few samples says so', () => {
  const reading = readCurrent(statisticsOf(new Float64Array(8), 100));
  expect(reading.windows.length).toBe(0);
  expect(reading.sentences[0]).toMatch(/nothing can be said/);
});

describe('a step inside a window', () => {
  it('is one event, no spike, and the level of its stretch is that of one side', () => {
    const reading = read(
      step(150 * NA, Math.SQRT2, 0.37),
      {},
      {
        expected: { current_A: 150 * NA, low_A: 125 * NA, high_A: 180 * NA, calibrated: true },
      },
    );
    const kinds = reading.events.map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'step up')).toHaveLength(1);
    expect(kinds).not.toContain('spike');
    expect(kinds).not.toContain('dropout');
    for (const { end_nA } of reading.timeline) {
      const off = Math.min(Math.abs(end_nA / 150 - 1), Math.abs(end_nA / 212.13 - 1));
      // Shot and meter noise of a window's mean are far below a percent.
      expect(off).toBeLessThan(0.01);
    }
  });
});
