/**
 * The truth behind an invented run: when its MS1 scans start, what reaches the instrument, how long each fill lasts and
 * which faults were planted. All ions of a scan share one spray factor; elution moves each compound by itself.
 * Approximation: faults are boxes with edges sharper than a scan; a spray of one's own will not be so tidy.
 */
import { randomStream } from '../core/random.ts';
import { changedPeaks, type InventedIons, inventedIons, ionFlux, type PeakChange } from './invented-ions.ts';

export interface InventedRunOptions {
  /** Whole number; the same seed gives the same file byte for byte. */
  seed: number;
  /** Length of the run [min], default 20. */
  length_min?: number;
  /** From one MS1 scan to the next [s], default 1.5. */
  ms1_interval_s?: number;
  /** Standard deviation of the logarithm of the scan-to-scan factor, default 0.05. */
  scatter?: number;
  /** Elution peaks, default 60; 0 gives an infusion, whose liquid stays the same. */
  peaks?: number;
  /** Longest fill [ms], default 50. */
  max_injection_ms?: number;
  /** 'planted' (default): one sag and three dropouts; 'none': a steady spray. */
  faults?: 'planted' | 'none';
  /**
   * The signal of each MS1 scan from a rehearsed bench, 1 for its best: sets how many scans there are, and takes the place of
   * planted faults and scatter. NaN: no scan was taken.
   */
  spray?: readonly number[];
  /** What befalls the eluting peaks of a rehearsed fault, from when on [s]. */
  peak_change?: PeakChange;
}

export interface PlantedFault {
  kind: 'sag' | 'dropout';
  start_s: number;
  end_s: number;
  /** Lost share of the level, 0..1. */
  depth: number;
}

export interface InventedRunTruth {
  faults: PlantedFault[];
  time_s: number[];
  /** Total ion current of each MS1 scan. */
  level: number[];
  injection_ms: number[];
}

/** Everything the writer needs as well. */
export interface SprayCourse extends InventedRunTruth {
  ions: InventedIons;
  /** Factor common to all ions of each scan. */
  spray: number[];
  /** Slow factor of the chemical background, from the gradient's composition; 1 throughout an infusion. */
  composition: number[];
}

/** Fills stop at this many charges: flux [charges/s] times fill time. */
const TARGET_CHARGES = 1e6;
/** What is counted with no spray at all: electronics and stray ions, in the units of flux. */
const DARK_FLUX = 2e4;
/** Fault lengths and depths [s, share]: one sag, three dropouts. */
const SAG = { shortest_s: 60, longest_s: 90, depth: 0.35 };
const DROPOUT = { shortest_s: 3, longest_s: 12, shallowest: 0.9, deepest: 0.98 };
/** Shares of the run in which each fault begins, so that faults never meet. */
const SAG_SPAN = [0.82, 0.86] as const;
const DROPOUT_SPANS = [
  [0.2, 0.28],
  [0.4, 0.46],
  [0.58, 0.66],
] as const;

export function sprayCourse(options: InventedRunOptions): SprayCourse {
  const { spray: rehearsed } = options;
  const interval_s = options.ms1_interval_s ?? 1.5;
  const length_s = rehearsed ? rehearsed.length * interval_s : (options.length_min ?? 20) * 60;
  const scatter = options.scatter ?? 0.05;
  const longest_ms = options.max_injection_ms ?? 50;
  const peaks = options.peaks ?? 60;
  const ions = changedPeaks(inventedIons(options.seed, length_s, peaks), options.peak_change);
  const faults =
    !rehearsed && (options.faults ?? 'planted') === 'planted' ? plantedFaults(options.seed, length_s) : [];
  const gain = randomStream(options.seed, 'spray factor');
  const fill = randomStream(options.seed, 'fill');
  const clock = randomStream(options.seed, 'clock');

  const course: SprayCourse = {
    faults,
    time_s: [],
    level: [],
    injection_ms: [],
    ions,
    spray: [],
    composition: [],
  };
  const count = Math.max(1, Math.round(length_s / interval_s));
  for (let i = 0; i < count; i++) {
    const time_s = 0.4 + i * interval_s + clock.between(0, 0.04 * interval_s);
    const lost = faults.find((fault) => time_s >= fault.start_s && time_s < fault.end_s)?.depth ?? 0;
    const spray = rehearsed ? rehearsed[i]! : (1 - lost) * gain.factor(scatter);
    if (Number.isNaN(spray)) continue;
    const composition = peaks > 0 ? compositionFactor(time_s / length_s) : 1;
    let flux = DARK_FLUX;
    for (const ion of ions.eluting) flux += spray * ionFlux(ion, time_s);
    for (const ion of ions.background) flux += spray * composition * ion.flux;
    const injection_ms = Math.min(longest_ms, (1000 * TARGET_CHARGES * fill.factor(0.02)) / flux);
    course.time_s.push(time_s);
    course.spray.push(spray);
    course.composition.push(composition);
    course.level.push(flux);
    course.injection_ms.push(injection_ms);
  }
  return course;
}

/** What a reading of the invented run should find. */
export function inventedRunTruth(options: InventedRunOptions): InventedRunTruth {
  const { faults, time_s, level, injection_ms } = sprayCourse(options);
  return { faults, time_s, level, injection_ms };
}

/** Flux with no spray, spread by the writer over stray peaks. */
export const darkFlux = DARK_FLUX;

/** Background rises by half towards three quarters of the run and comes back, as a gradient and its wash make it. */
function compositionFactor(share: number): number {
  return 0.8 + 0.4 * Math.exp(-(((share - 0.75) / 0.3) ** 2));
}

function plantedFaults(seed: number, length_s: number): PlantedFault[] {
  const plan = randomStream(seed, 'faults');
  const faults: PlantedFault[] = DROPOUT_SPANS.map(([early, late]) => {
    const start_s = plan.between(early, late) * length_s;
    const end_s = start_s + plan.between(DROPOUT.shortest_s, DROPOUT.longest_s);
    return { kind: 'dropout', start_s, end_s, depth: plan.between(DROPOUT.shallowest, DROPOUT.deepest) };
  });
  const start_s = plan.between(...SAG_SPAN) * length_s;
  const end_s = start_s + plan.between(SAG.shortest_s, SAG.longest_s);
  faults.push({ kind: 'sag', start_s, end_s, depth: SAG.depth });
  return faults.sort((a, b) => a.start_s - b.start_s);
}
