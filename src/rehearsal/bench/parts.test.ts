/** Pulsation against the published scaling, the meter against the exact pole, files against their readers. */
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../core/random.ts';
import { currentMaker, type Drive } from './current-maker.ts';
import {
  courseAt,
  courseOf,
  METERS,
  pcmBytes,
  rawSidecarText,
  traceCsvHead,
  traceCsvRows,
  wavHead,
} from './index.ts';
import { meterStep } from './meter.ts';
import { chargeShare, meniscusFrequency, pulsation } from './pulsation.ts';
import { ringRadius_mm } from './source.ts';

/** Worked numbers are given to three figures. */
const THREE_FIGURES = 3e-3;

describe('pulsation', () => {
  it('has the published shares of the Rayleigh charge and the worked frequencies', () => {
    expect(chargeShare(65e-6)).toBeCloseTo(0.57, 10);
    expect(chargeShare(50e-6)).toBeCloseTo(0.74, 10);
    expect(Math.abs(meniscusFrequency(0.0349, 910, 65e-6) / 4370 - 1)).toBeLessThan(THREE_FIGURES);
    expect(Math.abs(meniscusFrequency(0.0349, 910, 50e-6) / 5300 - 1)).toBeLessThan(THREE_FIGURES);
  });

  it('goes as R^-3/2 where the share does not change', () => {
    const slope =
      Math.log(meniscusFrequency(0.04, 950, 20e-6) / meniscusFrequency(0.04, 950, 5e-6)) / Math.log(4);
    expect(slope).toBeCloseTo(-1.5, 10);
  });

  it('is choked in proportion below the minimum flow, and never carries more than 0.8 of the law', () => {
    const liquid = { surfaceTension: 0.04, density: 950, conductivity: 0.03, permittivity: 65 };
    const minimum = 6e-13;
    const at = (flow: number, depth: number) => pulsation(liquid, 10e-6, flow, minimum, depth);
    expect(at(minimum / 3, 1).frequency_Hz / at(minimum, 1).frequency_Hz).toBeCloseTo(1 / 3, 10);
    expect(at(5e-12, 1).frequency_Hz).toBe(at(minimum, 1).frequency_Hz);
    for (const depth of [0, 0.3, 0.7, 1]) {
      const { frequency_Hz, charge_C } = at(5e-12, depth);
      const share = (frequency_Hz * charge_C) / (2.4 * Math.sqrt(0.04 * 0.03 * 5e-12));
      expect(share).toBeGreaterThan(0);
      expect(share).toBeLessThanOrEqual(0.8 + 1e-12);
    }
  });
});

describe('the meter', () => {
  const quiet = { ...METERS.wide, noise_A: 0, fullScale_A: 2e-6 };
  const still: Drive = { steady_A: 0, pulses: undefined, charges: [], mains_A: 0, carrier_C: 0 };

  it('answers a step with its one pole', () => {
    const meter = { ...quiet, bandwidth_Hz: 10_000, rate_Hz: 1_000_000 };
    const out = new Float32Array(100);
    currentMaker(meter, randomStream(1, 'step')).fill(out, { ...still, steady_A: 1e-6 });
    for (const i of [4, 15, 60]) {
      const exact = 1e-6 * (1 - Math.exp((-2 * Math.PI * 10_000 * (i + 1)) / 1e6));
      expect(Math.abs(out[i]! - exact)).toBeLessThan(meterStep(meter));
    }
  });

  it.each([
    ['resolved', 1_000_000, 400_000],
    ['averaged by a slow meter', 10_000, 1_000],
  ])('keeps the charge of a pulse train, %s', (_, rate_Hz, bandwidth_Hz) => {
    const meter = { ...quiet, rate_Hz, bandwidth_Hz };
    const out = new Float32Array(rate_Hz / 2);
    const pulses = { frequency_Hz: 40_000, charge_C: 2e-12, jitter: 0.05, burst: undefined };
    const charge = currentMaker(meter, randomStream(1, 'train')).fill(out, { ...still, pulses });
    const mean = out.reduce((sum, value) => sum + value, 0) / out.length;
    // 20 000 pulses with 5 % jitter: 0.05 %, and what the pole still holds at the end.
    expect(Math.abs(charge / 0.5 / 8e-8 - 1)).toBeLessThan(2e-3);
    expect(Math.abs(mean / (charge / 0.5) - 1)).toBeLessThan(2e-3);
  });

  it('passes the noise it states, and the shot noise of its bandwidth', () => {
    const meter = { ...METERS.wide, noise_A: 3e-9 };
    const sd = (drive: Drive, noise_A: number) => {
      const out = new Float32Array(200_000);
      const maker = currentMaker({ ...meter, noise_A }, randomStream(2, 'noise'));
      maker.fill(new Float32Array(1000), drive);
      maker.fill(out, drive);
      const mean = out.reduce((sum, value) => sum + value, 0) / out.length;
      return Math.sqrt(out.reduce((sum, value) => sum + (value - mean) ** 2, 0) / out.length);
    };
    // 200 000 samples, correlated over about one: 0.3 %.
    expect(Math.abs(sd(still, 3e-9) / 3e-9 - 1)).toBeLessThan(0.01);
    const shot = Math.sqrt(2 * 2e-15 * 1.25e-7 * 400_000 * (Math.PI / 2));
    expect(Math.abs(sd({ ...still, steady_A: 1.25e-7, carrier_C: 2e-15 }, 0) / shot - 1)).toBeLessThan(0.01);
  });

  it('clips at its full scale and steps by its bits', () => {
    const meter = METERS.resistor;
    const out = new Float32Array(2000);
    currentMaker(meter, randomStream(1, 'clip')).fill(out, { ...still, steady_A: 5e-6 });
    const most = meter.fullScale_A - meterStep(meter);
    expect(Math.abs(out.at(-1)! / most - 1)).toBeLessThan(1e-6);
    for (const value of out)
      expect(Math.abs(value / meterStep(meter) - Math.round(value / meterStep(meter)))).toBeLessThan(1e-3);
  });

  it('lets single charges flow over their own time', () => {
    const out = new Float32Array(5000);
    const charges = [{ charge_C: 4e-10, length_s: 1e-3 }];
    const maker = currentMaker(quiet, randomStream(1, 'drop'));
    const first = maker.fill(out, { ...still, charges });
    const second = maker.fill(new Float32Array(5000), still);
    expect(Math.max(...out)).toBeCloseTo(4e-7, 9);
    expect((first + second) / 4e-10).toBeCloseTo(1, 6);
  });
});

describe('courses', () => {
  it('are read, and held until the next', () => {
    const course = courseOf('voltage_V', '0:800, 10:1200');
    expect([0, 9.9, 10, 99].map((t) => courseAt(course, t))).toEqual([800, 800, 1200, 1200]);
    expect(courseAt(courseOf('offset_mm', '-0.5'), 3)).toBe(-0.5);
  });

  it.each(['', 'a', '0:800,5', '5:1,5:2', '1:9000'])('refuse %j', (text) => {
    expect(() => courseOf('voltage_V', text)).toThrow(/voltage_V/);
  });
});

describe('the ring of best offsets', () => {
  it('is the axis at low flow and grows with it', () => {
    expect(ringRadius_mm(50)).toBe(0);
    expect(ringRadius_mm(300)).toBeCloseTo(0.5, 12);
    expect(ringRadius_mm(550)).toBeGreaterThan(0.6);
    expect(ringRadius_mm(2000)).toBe(1);
  });
});

describe('files', () => {
  const meter = METERS.usual;
  const samples = Float32Array.from([0, 1e-7, -2e-7]);
  const controls = { voltage_V: 1200, flow_nL_min: 300, distance_mm: 3, offset_mm: 0, high_voltage: true };

  it('write CSV with units in the heading and the mark before it', () => {
    const text = traceCsvHead(4, meter) + traceCsvRows(samples, 5, meter, controls, 90);
    expect(text).toBe(
      '# invented data: made by steadycone rehearse, seed 4; not a measurement\n' +
        '# meter: 20000 Hz, 100000 samples/s, 16 bits\ntime_s,current_nA,voltage_V,pressure_bar\n' +
        '0.00005,0.000,1200,90.00\n0.00006,100.000,1200,90.00\n0.00007,-200.000,1200,90.00\n',
    );
  });

  it('write WAV whose sizes agree, with the mark inside', () => {
    const head = wavHead(4, meter, samples.length);
    const view = new DataView(head.buffer);
    expect(new TextDecoder().decode(head.subarray(0, 4))).toBe('RIFF');
    expect(view.getUint32(4, true)).toBe(head.length + 2 * samples.length - 8);
    expect(view.getUint32(head.length - 4, true)).toBe(2 * samples.length);
    expect(new TextDecoder().decode(head)).toContain('invented data: made by steadycone rehearse, seed 4');
  });

  it('write raw samples that the sidecar turns back into amperes', () => {
    const bytes = pcmBytes(samples, meter);
    const { channels, invented } = JSON.parse(rawSidecarText(4, meter));
    const view = new DataView(bytes.buffer);
    expect(invented).toBe(true);
    for (const [i, sample] of samples.entries()) {
      const read = view.getInt16(2 * i, true) * channels[0].scale;
      expect(Math.abs(read - sample)).toBeLessThan(channels[0].scale);
    }
  });
});
