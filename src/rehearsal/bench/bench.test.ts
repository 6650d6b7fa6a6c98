/** The rehearsed bench against its own truth, the laws it claims and the readers of its files. */
import { describe, expect, it } from 'vitest';
import { NL_MIN } from '../../core/units.ts';
import { type Bench, type BenchControls, createBench, METERS } from './index.ts';
import { truthDocument } from './truth-document.ts';
import { bestPoint, workingVoltage } from './working-point.ts';

const SEED = 3;
/** Ticks of 5 ms in a second. */
const SECOND = 200;

function controlsFor(bench: Bench, over: Partial<BenchControls> = {}): BenchControls {
  return {
    voltage_V: truthDocument(bench).best_V,
    flow_nL_min: 300,
    distance_mm: 3,
    offset_mm: bench.truth.centre_mm + 0.5,
    high_voltage: true,
    ...over,
  };
}

function held(bench: Bench, controls: BenchControls, seconds: number) {
  const samples = new Float32Array(bench.samplesPerTick);
  const all: number[] = [];
  const levels: number[] = [];
  const regimes = new Map<string, number>();
  for (let k = 0; k < seconds * SECOND; k++) {
    const scan = bench.tick(controls, samples);
    for (const sample of samples) all.push(sample);
    if (scan) levels.push(scan.level);
    regimes.set(bench.state.regime, (regimes.get(bench.state.regime) ?? 0) + 1);
  }
  const mean = all.reduce((sum, value) => sum + value, 0) / all.length;
  return { mean, all, levels, regimes };
}

const slow = { ...METERS.usual, rate_Hz: 10_000, bandwidth_Hz: 2_000 };

describe('the rehearsed bench', () => {
  it('is the same for the same seed, and another for another', () => {
    const once = (seed: number) => {
      const bench = createBench({ seed, meter: slow, fault: 'random' });
      return held(bench, controlsFor(bench), 0.5).all;
    };
    expect(once(SEED)).toEqual(once(SEED));
    expect(once(SEED)).not.toEqual(once(SEED + 1));
  });

  it('walks through its regimes upward, and keeps the jet below the edge on the way down', () => {
    const bench = createBench({ seed: SEED, meter: slow });
    const { onset_V, steady_from_V, several_jets_from_V } = truthDocument(bench);
    // The flow settles and the face is wetted by what drips: the onset of the moment is the bench's own.
    held(bench, controlsFor(bench, { voltage_V: 0.8 * onset_V }), 3);
    expect(bench.state.regime).toBe('dripping');
    const seen: string[] = [];
    for (const ratio of [1.012, 1.03, (several_jets_from_V / onset_V) * 1.02]) {
      const volts = ratio * bench.state.onset_V;
      held(bench, controlsFor(bench, { voltage_V: volts }), 1);
      seen.push(bench.state.regime);
    }
    expect(seen[0]).toMatch(/bursts|pulsating|dripping/);
    expect(seen[1]).toMatch(/pulsating|unsteady/);
    expect(seen[2]).toBe('several jets');
    const between = 0.5 * (1 + bench.truth.returnShare) * (steady_from_V / onset_V);
    held(bench, controlsFor(bench, { voltage_V: between * bench.state.onset_V }), 1);
    expect(bench.state.regime).toBe('cone-jet');
  });

  it('carries in a steady jet the current its truth says, and √2 of it in two', () => {
    const bench = createBench({ seed: SEED, meter: slow });
    held(
      bench,
      controlsFor(bench, { voltage_V: bench.truth.steadyFrom * 1.01 * truthDocument(bench).onset_V }),
      9,
    );
    const one = held(bench, controlsFor(bench), 2);
    const { truth } = bench;
    const law =
      truth.currentFactor * Math.sqrt(truth.liquid.surfaceTension * truth.liquid.conductivity * 300 * NL_MIN);
    expect(bench.state.regime).toBe('cone-jet');
    // The current rises by 0.4 of the voltage's excess over the steady edge, and drifts by under two percent.
    expect(one.mean / law).toBeGreaterThan(0.98);
    expect(one.mean / law).toBeLessThan(1.14);
    const just = truth.severalFrom * 1.02;
    held(bench, controlsFor(bench, { voltage_V: just * bench.state.onset_V }), 1);
    const two = held(bench, controlsFor(bench, { voltage_V: just * bench.state.onset_V }), 2);
    expect(bench.state.jets).toBe(2);
    const rise = 1 + 0.4 * (just / truth.steadyFrom - 1);
    expect(two.mean / (law * Math.SQRT2 * rise)).toBeGreaterThan(0.97);
    expect(two.mean / (law * Math.SQRT2 * rise)).toBeLessThan(1.03);
  });

  it('pulsates at the rate it states, seen through a fast meter', () => {
    const bench = createBench({ seed: SEED, meter: METERS.wide });
    const onset = truthDocument(bench).onset_V;
    held(bench, controlsFor(bench, { voltage_V: 1.03 * onset }), 2);
    const volts = 1.03 * bench.state.onset_V;
    held(bench, controlsFor(bench, { voltage_V: volts }), 0.2);
    expect(bench.state.regime).toBe('pulsating');
    const { all } = held(bench, controlsFor(bench, { voltage_V: volts }), 0.05);
    const { pulsation } = bench.state;
    expect(pulsation!.frequency_Hz).toBeGreaterThan(20e3);
    // Peaks: rises through half of the largest value.
    const half = Math.max(...all) / 3;
    let rises = 0;
    for (let i = 1; i < all.length; i++) if (all[i - 1]! < half && all[i]! >= half) rises++;
    // The wobble of the voltage moves the rate by a few percent.
    expect(rises / 0.05 / pulsation!.frequency_Hz).toBeGreaterThan(0.9);
    expect(rises / 0.05 / pulsation!.frequency_Hz).toBeLessThan(1.1);
  });

  it('gives the best signal at the best point', () => {
    const bench = createBench({ seed: SEED, meter: slow });
    const best = bestPoint(bench, controlsFor(bench));
    const at = controlsFor(bench, {
      voltage_V: best.voltage_V,
      offset_mm: best.offset_mm,
      distance_mm: best.distance_mm,
    });
    held(bench, at, 10);
    expect(bench.state.level / best.level).toBeGreaterThan(0.95);
    expect(bench.state.level / best.level).toBeLessThanOrEqual(1);
    for (const worse of [{ offset_mm: best.offset_mm + 0.8 }, { distance_mm: 7 }]) {
      held(bench, { ...at, ...worse }, 1);
      expect(bench.state.level / best.level).toBeLessThan(0.7);
    }
  });

  it('holds its working voltage at the set-up’s distance', () => {
    const bench = createBench({ seed: 5, meter: slow });
    const volts = workingVoltage(bench, controlsFor(bench));
    const { regimes } = held(bench, controlsFor(bench, { voltage_V: volts }), 8);
    expect(regimes.get('cone-jet')!).toBeGreaterThan(2 * SECOND);
  });
});

describe('faults', () => {
  it('set in when told', () => {
    const bench = createBench({ seed: SEED, meter: slow, fault: 'full-clog', faultFrom_s: 6 });
    held(bench, controlsFor(bench), 5);
    expect(bench.state.flow_nL_min).toBeGreaterThan(250);
    held(bench, controlsFor(bench), 9);
    expect(bench.state.regime).toBe('no spray');
  });

  it('an unknown one is refused with the list', () => {
    expect(() => createBench({ seed: 1, fault: 'gremlin' })).toThrow(/unknown fault: gremlin; expected none/);
  });
});
