import { describe, expect, it } from 'vitest';
import { flat, madeTrace, statisticsOf } from '../../../test/kit/made-traces.ts';
import {
  bandwidthOfNoise,
  bandwidthOfResistor,
  decidability,
  givenBandwidth,
  onePole,
  UNKNOWN_BANDWIDTH,
} from './current-bandwidth.ts';

const PULSATION = { low: 2e4, high: 2.5e5 };
/** The pole is told to a factor 1.5. */
const FACTOR = 1.5;

function noiseOf(options: { noise: number; meter_Hz?: number; seed: number }) {
  const stats = statisticsOf(madeTrace(flat(1e-7), { rate_Hz: 1e5, length_s: 2, ...options }), 1e5);
  const { step_Hz, density } = stats.spectrum;
  const k = Array.from({ length: density.length - 2 }, (_, i) => i + 2);
  return bandwidthOfNoise(
    k.map((i) => i * step_Hz),
    k.map((i) => density[i]!),
  );
}

describe('bandwidth', () => {
  it('of a resistor with its capacitance', () => {
    expect(onePole(4.7e6, 10e-12)).toBeCloseTo(3386, 0);
    expect(bandwidthOfResistor(4.7, 100).value_Hz).toBeCloseTo(338.6, 1);
  });

  it.each([800, 3000, 10_000])('of %d Hz is read off the noise', (meter_Hz) => {
    const found = noiseOf({ noise: 2e-9, meter_Hz, seed: 3 });
    expect(found?.value_Hz).toBeGreaterThan(meter_Hz / FACTOR);
    expect(found?.value_Hz).toBeLessThan(meter_Hz * FACTOR);
  });

  it('is not read off white noise', () => {
    expect(noiseOf({ noise: 2e-9, seed: 4 })).toBeUndefined();
  });
});

describe('what can be decided', () => {
  it('is judged at the lower of bandwidth and half the rate', () => {
    expect(decidability(1e6, givenBandwidth(3e3, 'given'), PULSATION).limit_Hz).toBe(3e3);
    expect(decidability(1e4, givenBandwidth(1e6, 'given'), PULSATION).limit_Hz).toBe(5e3);
    expect(decidability(1e6, givenBandwidth(1e6, 'given'), PULSATION).decides).toBe(true);
  });

  it('never decides with the bandwidth unknown, and says what would', () => {
    const d = decidability(1e8, UNKNOWN_BANDWIDTH, PULSATION);
    expect(d.decides).toBe(false);
    expect(d.limit_Hz).toBeNull();
    expect(d.needs).toEqual({ rate_Hz: 1e6, bandwidth_Hz: 2.5e5 });
    expect(d.sentence).toMatch(/1 MS\/s through a meter of 250 kHz would decide/);
  });
});
