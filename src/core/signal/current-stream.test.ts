import { describe, expect, it } from 'vitest';
import {
  bursts,
  discharge,
  dripping,
  flat,
  hopping,
  madeTrace,
  pulsating,
  statisticsOf,
} from '../../../test/kit/made-traces.ts';
import { currentStream, windowFor } from './current-stream.ts';

const RATE = 1e5;
const trace = (bare: Parameters<typeof madeTrace>[0], more = {}) =>
  madeTrace(bare, { rate_Hz: RATE, length_s: 1, seed: 5, ...more });
const windowsOf = (x: Float64Array) => statisticsOf(x, RATE).windows;

/** Sums of the same doubles in another order. */
const ROUNDING = 1e-9;

describe('features', () => {
  it('moments agree with the plain sums', () => {
    const x = trace(flat(1e-7, 0.2), { noise: 3e-9 });
    const [w] = statisticsOf(x, RATE, 1).windows;
    const mean = x.reduce((a, b) => a + b, 0) / x.length;
    const sd = Math.sqrt(x.reduce((s, v) => s + (v - mean) ** 2, 0) / (x.length - 1));
    expect(Math.abs(w!.mean / mean - 1)).toBeLessThan(ROUNDING);
    expect(Math.abs(w!.sd / sd - 1)).toBeLessThan(ROUNDING);
  });

  it('pulses: their rate, line and charge', () => {
    const w = windowsOf(trace(pulsating(2000, 6e-8)))[4]!;
    expect(w.pulses!.rate_Hz).toBeGreaterThan(1960);
    expect(w.pulses!.rate_Hz).toBeLessThan(2040);
    expect(w.comb!.frequency_Hz).toBeGreaterThan(1950);
    expect(w.comb!.frequency_Hz).toBeLessThan(2050);
    // 60 nA / 2 kHz = 30 pC, less what stands below the 1 % quantile.
    expect(w.pulses!.area * 1e12).toBeGreaterThan(25);
    expect(w.pulses!.area * 1e12).toBeLessThan(31);
  });

  it('mains is fitted by its amplitude and told from 60 Hz', () => {
    const w = windowsOf(trace(flat(1e-7), { mains: { frequency_Hz: 60, amplitude: 7e-9 } }))[3]!;
    expect(w.mains!.base_Hz).toBe(60);
    expect(w.mains!.amplitude * 1e9).toBeCloseTo(7, 0);
    expect(w.comb).toBeNull();
  });

  it('bursts, hops and spikes leave their marks; noise leaves none', () => {
    expect(windowsOf(trace(bursts(50, 5000, 4e-8)))[4]!.bursts!.contrast).toBeGreaterThan(10);
    expect(windowsOf(trace(hopping(8e-8, 1, 0.02)))[4]!.levels!.high).toBeCloseTo(8e-8 * Math.SQRT2, 9);
    expect(windowsOf(trace(discharge(5e-7, 300, 1e-6)))[4]!.skew).toBeGreaterThan(3);
    expect(windowsOf(trace(dripping(20, 1e-9)))[4]!.pulses!.count).toBeGreaterThanOrEqual(1);
    for (const w of windowsOf(trace(flat(1e-7)))) {
      expect(w.pulses).toBeNull();
      expect(w.bursts).toBeNull();
      expect(w.levels).toBeNull();
      expect(w.comb).toBeNull();
    }
  });
});

describe('the pass', () => {
  it('is the same however the samples arrive', () => {
    const x = trace(pulsating(3000, 5e-8));
    const whole = statisticsOf(x, RATE);
    const stream = currentStream({ rate_Hz: RATE, expected_samples: x.length });
    for (let at = 0; at < x.length; at += 1013)
      stream.push(x.subarray(at, at + 1013), Math.min(1013, x.length - at));
    const cut = stream.end();
    expect(cut.windows.length).toBe(whole.windows.length);
    expect(cut.windows.map((w) => w.q75)).toEqual(whole.windows.map((w) => w.q75));
    expect([...cut.spectrum.density]).toEqual([...whole.spectrum.density]);
    expect(cut.slow.mean.length).toBe(whole.slow.mean.length);
  });

  it('no window reaches across a gap, missing samples are told', () => {
    const x = trace(flat(1e-7));
    x.fill(Number.NaN, 200, 400);
    const stream = currentStream({ rate_Hz: RATE, window_s: 0.1 });
    stream.push(x.subarray(0, 47_000), 47_000);
    stream.gap(0.5);
    stream.push(x.subarray(47_000), 53_000);
    const s = stream.end();
    expect(s.missing).toBe(200);
    expect(s.windows[0]!.missing).toBeCloseTo(0.02, 6);
    expect(s.gaps).toEqual([{ at_s: expect.closeTo(0.47, 9), length_s: 0.5 }]);
    for (const w of s.windows) {
      const end = w.start_s + w.samples / RATE;
      expect(end <= 0.47 + 1e-9 || w.start_s >= 0.97 - 1e-9).toBe(true);
    }
    expect(s.end_s).toBeCloseTo(1.5, 9);
  });

  it('knows the step of a coarse converter and the pile at a rail', () => {
    const step = 2e-9;
    const x = trace(flat(1e-7), { noise: 4e-9 }).map((v) => Math.min(1.04e-7, Math.round(v / step) * step));
    const { extremes } = statisticsOf(x, RATE);
    expect(extremes.step).toBeCloseTo(step, 15);
    expect(extremes.at_max).toBe(x.filter((v) => v === extremes.max).length);
    expect(extremes.at_next_max).toBe(x.filter((v) => Math.abs(v - 1.02e-7) < 1e-15).length);
  });

  it('chooses windows that hold a spectrum and stay few', () => {
    expect(windowFor(1e5)).toBe(0.1);
    expect(1.1e9 / 1e5 / windowFor(1e5, 1.1e9)).toBeLessThan(12_001);
    expect(windowFor(10) * 10).toBeGreaterThanOrEqual(256);
  });

  it('takes from an earlier pass what does not hang on the windows, and finds the same windows', () => {
    const x = trace(pulsating(2000, 6e-8), { noise: 1e-9 });
    const pass = (earlier?: ReturnType<typeof statisticsOf>) => {
      const stream = currentStream({ rate_Hz: RATE, window_s: 0.2, earlier });
      stream.push(x, x.length);
      return stream.end();
    };
    const whole = pass();
    const again = pass(statisticsOf(x, RATE, 0.5));
    expect(again).toEqual({ ...whole, pyramid: again.pyramid });
    expect(again.pyramid.view(0, x.length, 40)).toEqual(whole.pyramid.view(0, x.length, 40));
  });
});
