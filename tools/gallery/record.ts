/** A traced stretch of the rehearsed bench, brought to its place on the voltage axis first. The same seed through two meters. */
import {
  type Bench,
  type BenchControls,
  createBench,
  METERS,
  type Meter,
} from '../../src/rehearsal/index.ts';
import type { GalleryCase } from './cases.ts';

/** An emitter with wide stretches of pulsation, jet and tilt. */
export const SEED = 24;
/** Bench time before the trace: flow and contact line have settled [s], and the voltage is set to where they stand. */
const BEFORE_S = 12;
/** The meter is on for so long before it counts [s]. */
const METER_S = 0.05;
const TICKS_PER_S = 200;

export interface Recorded {
  samples: Float32Array;
  meter: Meter;
}

export function record(one: GalleryCase, meter: Meter): Recorded {
  const bench = createBench({ seed: SEED, fault: one.fault, meter });
  const controls: BenchControls = {
    voltage_V: 0,
    flow_nL_min: one.flow_nL_min,
    distance_mm: 3,
    offset_mm: bench.truth.centre_mm,
    high_voltage: true,
  };
  const scrap = new Float32Array(bench.samplesPerTick);
  for (let k = 0; k < BEFORE_S * TICKS_PER_S; k++) {
    // Set four times a second, as a hand would: the onset wanders with the wetting.
    if (k % 50 === 0) controls.voltage_V = voltageAt(one, bench, 0);
    bench.tick(controls, k >= (BEFORE_S - METER_S) * TICKS_PER_S ? scrap : undefined);
  }
  const count = Math.round(one.seconds * TICKS_PER_S);
  const samples = new Float32Array(count * bench.samplesPerTick);
  const voltage_V = voltageAt(one, bench, 0);
  for (let k = 0; k < count; k++) {
    controls.voltage_V = k < count / 2 ? voltage_V : voltageAt(one, bench, 1);
    const from = k * bench.samplesPerTick;
    bench.tick(controls, samples.subarray(from, from + bench.samplesPerTick));
  }
  return { samples, meter };
}

export const SLOW = METERS.resistor;

/** `half` 1: the second half of the trace. */
function voltageAt({ voltage }: GalleryCase, { truth, state, tip }: Bench, half: 0 | 1): number {
  const { surfaceTension } = truth.liquid;
  const onset = state.onset_V || tip.onset(truth.contactRadius, 3e-3, surfaceTension);
  return ratioOf() * onset;

  function ratioOf(): number {
    if ('depth' in voltage) return 1 + voltage.depth * (truth.steadyFrom - 1);
    switch (voltage.ratio) {
      case 'drips':
        return 0.9;
      case 'working':
        return truth.bestRatio;
      case 'tilted':
        return 0.5 * (truth.tiltFrom + truth.severalFrom);
      case 'second jet':
        return truth.severalFrom * (half === 0 ? 0.985 : 1.015);
    }
  }
}
