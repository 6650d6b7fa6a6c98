/** Faults that written files alone can play: a voltage left wrong, peaks that are broad or trail; and scans that are not taken. */
import { describe, expect, it } from 'vitest';
import { changedPeaks, type ElutingIon, ionFlux, type PeakChange } from '../invented-ions.ts';
import { sprayCourse } from '../spray-course.ts';
import {
  type BenchControls,
  createBench,
  FILE_FAULTS,
  leftVoltage,
  recordRun,
  truthDocument,
  workingVoltage,
} from './index.ts';

const SEEDS = [1, 3, 8];
const TICKS = 12 * 200;
const START: BenchControls = {
  voltage_V: 0,
  flow_nL_min: 300,
  distance_mm: 3,
  offset_mm: 0,
  high_voltage: true,
};

/** Means over ten seconds once the spray stands. */
function held(seed: number, fault: string, voltage_V: number) {
  const bench = createBench({ seed, fault });
  let [level, current, pressure, count, scans] = [0, 0, 0, 0, 0];
  for (let k = 0; k < TICKS; k++) {
    const scan = bench.tick({ ...START, voltage_V });
    if (k < 400) continue;
    current += bench.state.current_A;
    pressure += bench.state.pressure_bar;
    count++;
    if (!scan) continue;
    level += scan.level;
    scans++;
  }
  const { regime, jets } = bench.state;
  return { level: level / scans, current: current / count, pressure: pressure / count, regime, jets };
}

describe('a voltage left wrong', () => {
  it.each(SEEDS)('is below the steady edge or above the second jet, seed %i', (seed) => {
    const voltage = (fault: string) => leftVoltage(createBench({ seed, fault }), START)!;
    const working = workingVoltage(createBench({ seed }), START);
    const sound = held(seed, 'none', working);
    const low = held(seed, 'voltage-low', voltage('voltage-low'));
    const high = held(seed, 'voltage-high', voltage('voltage-high'));
    expect(['bursts', 'pulsating', 'unsteady']).toContain(low.regime);
    expect(low.level).toBeLessThan(0.7 * sound.level);
    expect(low.current).toBeLessThan(0.8 * sound.current);
    expect(high.jets).toBeGreaterThan(1);
    expect(high.current).toBeGreaterThan(1.2 * sound.current);
    // Nothing of the feed changed: the same pump, seed and time.
    for (const { pressure } of [low, high]) expect(pressure / sound.pressure).toBeCloseTo(1, 6);
  });

  it('is no fault of the others, and is told in the truth', () => {
    expect(leftVoltage(createBench({ seed: 1, fault: 'leakage' }), START)).toBeUndefined();
    const { fault } = truthDocument(createBench({ seed: 1, fault: 'voltage-low' }));
    expect(fault!.words.join()).toMatch(/left too low: \d+ % of the way from the onset/);
    expect(FILE_FAULTS.map(({ id }) => id)).toEqual([
      'column-ageing-void',
      'union-dead-volume',
      'voltage-high',
      'voltage-low',
    ]);
  });
});

describe('scans that are not taken', () => {
  it.each([0.333, 1])('leave holes of their own length, %f s to a scan', (scan_s) => {
    const bench = createBench({ seed: 2, fault: 'acquisition-gap', scan_s });
    const at = (value: number) => [{ at_s: 0, value }];
    const courses = {
      voltage_V: at(workingVoltage(bench, START)),
      flow_nL_min: at(300),
      distance_mm: at(3),
      offset_mm: at(0),
    };
    const pieces = recordRun(bench, { courses, trace_s: 0.1, run_s: 90 });
    let step = pieces.next();
    while (!step.done) step = pieces.next();
    const { levels } = step.value;
    expect(levels).toHaveLength(Math.floor(90 / bench.scan_s + 1e-6));
    const { spell } = bench.truth.fault!.effects;
    const missing = levels.map((level, i) => (Number.isNaN(level) ? i : -1)).filter((i) => i >= 0);
    // A scan is lost where its end falls into the gap: one more or less at either end.
    const begins = spell.from_s / bench.scan_s;
    const length = spell.lasts_s / bench.scan_s;
    expect(Math.abs(missing[0]! - begins)).toBeLessThanOrEqual(1);
    const inFirst = missing.filter((i) => i < begins + length + 1).length;
    expect(Math.abs(inFirst - length)).toBeLessThanOrEqual(1);
  });

  it('stand in a run as time without spectra', () => {
    const spray = Array.from({ length: 60 }, (_, i) => (i >= 20 && i < 30 ? Number.NaN : 0.5));
    const { time_s, level } = sprayCourse({ seed: 1, ms1_interval_s: 1, peaks: 0, spray });
    expect(time_s).toHaveLength(50);
    expect(time_s[20]! - time_s[19]!).toBeGreaterThan(10.5);
    expect(level.every(Number.isFinite)).toBe(true);
  });
});

describe('peaks behind a worn column or a void', () => {
  const ion: ElutingIon = { mz: 500, charge: 2, apex_s: 300, sigma_s: 6, flux: 1e7 };
  const changed = (change: Partial<PeakChange>) =>
    changedPeaks({ background: [], eluting: [ion] }, { from_s: 0, width: 1, tail_s: 0, ...change })
      .eluting[0]!;
  /** Amount, mean time and standard deviation, by sums of 0.25 s. */
  const moments = (peak: ElutingIon) => {
    let [sum, first, second] = [0, 0, 0];
    for (let t = 0; t < 900; t += 0.25) {
      const flux = ionFlux(peak, t);
      sum += flux;
      first += flux * t;
      second += flux * t * t;
    }
    const mean = first / sum;
    return { amount: sum, mean, sd: Math.sqrt(second / sum - mean * mean) };
  };
  const sound = moments(ion);
  /** The tail is followed for six time constants in steps of half a width: 0.3 % is cut, and a step late is half of one. */
  const TAIL = 0.05;

  it('keep their amount and are as broad as told', () => {
    const broad = moments(changed({ width: 2.5 }));
    expect(broad.amount / sound.amount).toBeCloseTo(1, 6);
    expect(broad.sd / sound.sd).toBeCloseTo(2.5, 6);
  });

  it('trail by the time constant: later by it, and its square added to the variance', () => {
    const trailing = moments(changed({ tail_s: 20 }));
    expect(Math.abs(trailing.amount / sound.amount - 1)).toBeLessThan(TAIL);
    expect(Math.abs((trailing.mean - sound.mean) / 20 - 1)).toBeLessThan(2 * TAIL);
    expect(Math.abs(trailing.sd / Math.hypot(6, 20) - 1)).toBeLessThan(TAIL);
  });

  it('are as before until the fault sets in', () => {
    expect(changed({ from_s: 301, width: 3, tail_s: 20 })).toEqual(ion);
  });
});
