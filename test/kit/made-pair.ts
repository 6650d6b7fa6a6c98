/** Two or more invented runs of one method with spectra: the same standing and eluting ions, each run its own scatter. */
import { randomStream } from '../../src/core/random.ts';
import { type RunReading, readRun, runWitnesses, type SeenSpectrum } from '../../src/evidence/index.ts';
import { madeRecord } from './made-record.ts';

export interface MadeRun {
  /** Its own scatter. */
  seed: number;
  minutes?: number;
  interval_s?: number;
  /** On all ions, on eluting ones, and on the time at which these come. */
  spray?: (t: number) => number;
  load?: (t: number) => number;
  comes?: (t: number) => number;
  /** Scatter of all ions together from scan to scan; 0.06. */
  scatter?: (t: number) => number;
  /** No ion stands throughout. */
  bare?: boolean;
  /** Another liquid and sample: other ions. */
  other?: boolean;
  polarity?: number;
  window?: [number, number];
  /** Without the peaks: the level alone. */
  unseen?: boolean;
}

const ION_SCATTER = 0.15;
const WIDTH_S = 9;

export function madeRun(made: MadeRun): RunReading {
  const { minutes = 16, interval_s = 2, bare = false, polarity = 1, window = [350, 1600] } = made;
  const span_s = 60 * minutes;
  const method = randomStream(made.other ? 2 : 1, 'method');
  const standing = Array.from({ length: 40 }, (_, i) => ({
    mz: (made.other ? 403.9 : 401.2) + 17.3 * i,
    level: 1e5 * method.factor(0.7),
  }));
  const eluting = Array.from({ length: 500 }, (_, i) => ({
    mz: (made.other ? 371.4 : 375.7) + 2.37 * i,
    level: 8e5 * method.factor(0.8),
    apex_s: method.between(0, span_s),
  })).sort((a, b) => a.mz - b.mz);
  const stream = randomStream(made.seed, 'made pair');
  const witnesses = runWitnesses();
  const scans = Array.from({ length: Math.round(span_s / interval_s) }, (_, row) => {
    const time_s = row * interval_s;
    const spray = (made.spray?.(time_s) ?? 1) * stream.factor(made.scatter?.(time_s) ?? 0.06);
    const load = made.load?.(time_s) ?? 1;
    const at_s = made.comes?.(time_s) ?? time_s;
    const peaks: { mz: number; level: number }[] = [];
    const add = (mz: number, level: number): void => {
      const seen = level * spray * stream.factor(ION_SCATTER);
      if (seen > 2e3) peaks.push({ mz: mz * (1 + 1e-6 * stream.normal()), level: seen });
    };
    if (!bare) for (const ion of standing) add(ion.mz, ion.level);
    for (const ion of eluting)
      if (Math.abs(at_s - ion.apex_s) < 4 * WIDTH_S)
        add(ion.mz, ion.level * load * Math.exp(-0.5 * ((at_s - ion.apex_s) / WIDTH_S) ** 2));
    peaks.sort((a, b) => a.mz - b.mz);
    const seen: SeenSpectrum = {
      row,
      time_s,
      mz: Float64Array.from(peaks, ({ mz }) => mz),
      intensity: Float64Array.from(peaks, ({ level }) => level),
      profile: false,
      injection_ms: Number.NaN,
      analyser: 0,
      polarity,
      window_low: window[0],
      window_high: window[1],
    };
    witnesses.see(seen);
    return {
      time_s,
      tic: peaks.reduce((sum, { level }) => sum + level, 0),
      polarity,
      low: window[0],
      high: window[1],
    };
  });
  return readRun(madeRecord(scans), made.unseen ? {} : { witnesses: witnesses.finish() });
}
