/** The rehearsed bench in a thread of its own. Each call advances it by a piece of time and brings back what was seen meanwhile. */
import { expose, transfer } from 'comlink';
import {
  type Bench,
  type BenchControls,
  type BenchState,
  type BestPoint,
  bestPoint,
  createBench,
  METERS,
  type MeniscusPicture,
  type MeterName,
  meniscusPicture,
  type Scan,
  type TruthDocument,
  truthDocument,
} from '../../rehearsal/index.ts';
import { CYCLE_S, ZOOM_SAMPLES } from './desk-constants.ts';

export interface BenchFrame {
  state: BenchState;
  picture: MeniscusPicture;
  /** Lowest, highest and mean current of each new tick [A], one after the other. */
  ticks: Float32Array;
  /** The last samples one by one [A]. */
  zoom: Float32Array;
  scans: Scan[];
}

export interface BenchStart {
  /** As it is, and as its box says. */
  rim_um: number;
  stated_rim_um: number;
  bore_um: number;
  taper_deg: number;
  rate_Hz: number;
}

let bench: Bench | undefined;
let samples = new Float32Array(0);

const desk = {
  begin(seed: number, fault: string, meter: MeterName): BenchStart {
    bench = createBench({ seed, fault, meter: METERS[meter] });
    samples = new Float32Array(bench.samplesPerTick);
    const { emitter } = bench.truth.setup;
    return {
      rim_um: bench.truth.rimRadius * 2e6,
      stated_rim_um: emitter.rim_um,
      bore_um: emitter.bore_um,
      taper_deg: emitter.taper_half_angle_deg,
      rate_Hz: bench.meter.rate_Hz,
    };
  },

  /** `phase` undefined: the slowed pulsation runs with the bench's own time. */
  advance(controls: BenchControls, ticks: number, phase?: number): BenchFrame | undefined {
    if (bench === undefined) return undefined;
    const stats = new Float32Array(3 * ticks);
    const scans: Scan[] = [];
    const zoom = new Float32Array(ZOOM_SAMPLES);
    for (let k = 0; k < ticks; k++) {
      const scan = bench.tick(controls, samples);
      if (scan) scans.push(scan);
      let [low, high, sum] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
      for (let i = 0; i < samples.length; i++) {
        const value = samples[i]!;
        if (value < low) low = value;
        if (value > high) high = value;
        sum += value;
      }
      stats.set([low, high, sum / samples.length], 3 * k);
      keepLast(samples);
    }
    zoom.set(last);
    const { state } = bench;
    const picture = meniscusPicture(state, bench.tip.shapes, phase ?? (state.time_s / CYCLE_S) % 1);
    return transfer({ state: { ...state }, picture, ticks: stats, zoom, scans }, [stats.buffer, zoom.buffer]);
  },

  truth(controls: BenchControls): { truth: TruthDocument; best: BestPoint; state: BenchState } | undefined {
    return (
      bench && { truth: truthDocument(bench), best: bestPoint(bench, controls), state: { ...bench.state } }
    );
  },
};
export type RehearseDesk = typeof desk;

const last = new Float32Array(ZOOM_SAMPLES);
function keepLast(fresh: Float32Array): void {
  if (fresh.length >= ZOOM_SAMPLES) last.set(fresh.subarray(fresh.length - ZOOM_SAMPLES));
  else {
    last.copyWithin(0, fresh.length);
    last.set(fresh, ZOOM_SAMPLES - fresh.length);
  }
}

expose(desk);
