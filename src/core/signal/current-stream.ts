/**
 * The pass over a trace: samples in, windows with their features out, beside them a slow copy (means and scatter of about 1 ms), the
 * pyramid for drawing, the amplitude distribution and the spectra. Memory is bounded whatever the length: the window is chosen so that the
 * expected length makes at most MOST_WINDOWS of them, the slow copy and the pyramid halve when full. A gap ends a window; one that is less than half full is left out.
 */
import { featureFinder } from './current-features.ts';
import type { Pyramid } from './current-pyramid.ts';
import { pyramidBuilder } from './current-pyramid.ts';
import type { CurrentWindow } from './current-window.ts';

export interface CurrentStreamOptions {
  rate_Hz: number;
  start_s?: number;
  /** Chosen for rate and length where it is not given. */
  window_s?: number | undefined;
  /** For the choice of the window. */
  expected_samples?: number | undefined;
  onWindow?: ((window: CurrentWindow, density: Float64Array) => void) | undefined;
}

/** Spectra on frequency bins that widen by an equal factor. */
export interface Spectrogram {
  /** Middles of the bins [Hz]. */
  frequency_Hz: Float64Array;
  /** Row after row, one for each window: ln of density [units²/Hz]. */
  rows: Float32Array;
}

export interface SlowCopy {
  rate_Hz: number;
  mean: Float32Array;
  /** Standard deviation inside each stretch. */
  scatter: Float32Array;
  /** Time of each stretch [s]: gaps make it uneven. */
  start_s: Float64Array;
}

export interface AmplitudeDistribution {
  low: number;
  high: number;
  counts: Float64Array;
  below: number;
  above: number;
}

export interface CurrentStatistics {
  rate_Hz: number;
  start_s: number;
  end_s: number;
  samples: number;
  missing: number;
  window_s: number;
  windows: CurrentWindow[];
  /** Mean density over all windows, bins of step_Hz. */
  spectrum: { step_Hz: number; density: Float64Array };
  spectrogram: Spectrogram;
  slow: SlowCopy;
  distribution: AmplitudeDistribution;
  pyramid: Pyramid;
  extremes: Extremes;
  gaps: { at_s: number; length_s: number }[];
}

/** How often the two lowest and two highest values stand: a clipped trace stands at its end. */
export interface Extremes {
  min: number;
  max: number;
  at_min: number;
  at_max: number;
  next_min: number;
  next_max: number;
  at_next_min: number;
  at_next_max: number;
  longest_at_min: number;
  longest_at_max: number;
  /** Smallest step between values, where all steps are multiples of it; 0 where none is seen. */
  step: number;
}

export interface CurrentStream {
  push(samples: Float64Array, count: number, voltage?: Float64Array): void;
  gap(length_s: number): void;
  end(): CurrentStatistics;
}

const MOST_WINDOWS = 12000;
const WINDOWS_S = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 60, 120, 300];
const WELL_FILLED = 2000;
const FILLED = 256;
const LEAST_FILLED = 64;
/** A short trace is cut finer, so that something can be seen to change. */
const ENOUGH_WINDOWS = 8;
const LONGEST_WELL_S = 5;
const SLOW_RATE_HZ = 1000;
const SLOW_MOST = 1 << 22;
const SPECTRAL_BINS = 72;
const AMPLITUDE_BINS = 512;

/** Shortest of the usual windows that holds enough samples for a spectrum and keeps the number of windows in bounds. */
export function windowFor(rate_Hz: number, expected_samples = 0): number {
  const length_s = expected_samples / rate_Hz;
  const few = (w: number) => length_s / w <= MOST_WINDOWS;
  const enough = (w: number) => length_s === 0 || length_s / w >= ENOUGH_WINDOWS;
  const well = WINDOWS_S.find((w) => w * rate_Hz >= WELL_FILLED && few(w));
  if (well !== undefined && well <= LONGEST_WELL_S && (well <= WINDOWS_S[0]! || enough(well))) return well;
  const some = WINDOWS_S.find((w) => w * rate_Hz >= FILLED && few(w)) ?? WINDOWS_S.at(-1)!;
  if (enough(some)) return some;
  return Math.min(some, Math.max(length_s / ENOUGH_WINDOWS, LEAST_FILLED / rate_Hz));
}

export function currentStream(options: CurrentStreamOptions): CurrentStream {
  const { rate_Hz, onWindow } = options;
  const window_s = options.window_s ?? windowFor(rate_Hz, options.expected_samples);
  const length = Math.max(16, Math.round(window_s * rate_Hz));
  const finder = featureFinder(rate_Hz, length);
  const pyramid = pyramidBuilder();
  const buffer = new Float64Array(length);
  const windows: CurrentWindow[] = [];
  const rows: Float32Array[] = [];
  const total = new Float64Array(finder.density.length);
  const bands = bandsOf(finder.density.length, finder.step_Hz);
  const slow = slowCopy(rate_Hz);
  const extremes = extremesOf();
  let distribution: AmplitudeDistribution | undefined;
  let filled = 0;
  let time = options.start_s ?? 0;
  let windowStart = time;
  let samples = 0;
  let missing = 0;
  let volts = 0;
  let voltSamples = 0;
  const gaps: CurrentStatistics['gaps'] = [];

  function close(): void {
    const count = filled;
    filled = 0;
    const voltage = voltSamples > 0 ? volts / voltSamples : null;
    volts = 0;
    voltSamples = 0;
    if (count < length / 2 && windows.length > 0) return;
    if (count < 16) return;
    let numbers = 0;
    for (let k = 0; k < count; k++) if (!Number.isNaN(buffer[k]!)) numbers++;
    if (numbers < count / 2) return;
    distribution ??= distributionOf(buffer, count);
    tally(distribution, buffer, count);
    const window = finder.find(buffer, count, windowStart, voltage);
    windows.push(window);
    onWindow?.(window, finder.density);
    for (let k = 0; k < total.length; k++) total[k]! += finder.density[k]!;
    rows.push(bands.row(finder.density));
  }

  return {
    push(from, count, voltage) {
      pyramid.push(from, count);
      extremes.push(from, count);
      slow.push(from, count, time);
      let at = 0;
      while (at < count) {
        if (filled === 0) windowStart = time + at / rate_Hz;
        const part = Math.min(count - at, length - filled);
        buffer.set(from.subarray(at, at + part), filled);
        if (voltage)
          for (let k = at; k < at + part; k++) {
            const v = voltage[k]!;
            if (!Number.isNaN(v)) {
              volts += v;
              voltSamples++;
            }
          }
        filled += part;
        at += part;
        if (filled === length) close();
      }
      for (let k = 0; k < count; k++) if (Number.isNaN(from[k]!)) missing++;
      samples += count;
      time += count / rate_Hz;
    },
    gap(length_s) {
      if (filled > 0) close();
      slow.gap();
      gaps.push({ at_s: time, length_s });
      time += length_s;
    },
    end() {
      if (filled > 0) close();
      const spectrogram = new Float32Array(rows.length * bands.frequency_Hz.length);
      rows.forEach((row, k) => {
        spectrogram.set(row, k * bands.frequency_Hz.length);
      });
      for (let k = 0; k < total.length; k++) total[k]! /= Math.max(1, windows.length);
      return {
        rate_Hz,
        start_s: options.start_s ?? 0,
        end_s: time,
        samples,
        missing,
        window_s: length / rate_Hz,
        windows,
        spectrum: { step_Hz: finder.step_Hz, density: total },
        spectrogram: { frequency_Hz: bands.frequency_Hz, rows: spectrogram },
        slow: slow.end(),
        distribution: distribution ?? {
          low: 0,
          high: 0,
          counts: new Float64Array(AMPLITUDE_BINS),
          below: 0,
          above: 0,
        },
        pyramid: pyramid.end(),
        extremes: extremes.end(),
        gaps,
      };
    },
  };
}

function bandsOf(
  bins: number,
  step_Hz: number,
): { frequency_Hz: Float64Array; row(density: Float64Array): Float32Array } {
  const edges = [1];
  const factor = Math.max(1.0001, (bins - 1) ** (1 / SPECTRAL_BINS));
  let edge = 1;
  while (edges.at(-1)! < bins) {
    edge *= factor;
    edges.push(Math.min(bins, Math.max(edges.at(-1)! + 1, Math.round(edge))));
  }
  const frequency_Hz = Float64Array.from(
    { length: edges.length - 1 },
    (_, k) => ((edges[k]! + edges[k + 1]! - 1) / 2) * step_Hz,
  );
  return {
    frequency_Hz,
    row(density) {
      const row = new Float32Array(frequency_Hz.length);
      for (let b = 0; b < row.length; b++) {
        let sum = 0;
        for (let k = edges[b]!; k < edges[b + 1]!; k++) sum += density[k]!;
        row[b] = Math.log(Math.max(1e-300, sum / (edges[b + 1]! - edges[b]!)));
      }
      return row;
    },
  };
}

/** Twice the range of the first window, and from zero. */
function distributionOf(samples: Float64Array, count: number): AmplitudeDistribution {
  let low = 0;
  let high = 0;
  for (let k = 0; k < count; k++) {
    const x = samples[k]!;
    if (x < low) low = x;
    if (x > high) high = x;
  }
  const span = high - low || 1;
  return {
    low: low - 0.5 * span,
    high: high + span,
    counts: new Float64Array(AMPLITUDE_BINS),
    below: 0,
    above: 0,
  };
}

function tally(d: AmplitudeDistribution, samples: Float64Array, count: number): void {
  const scale = AMPLITUDE_BINS / (d.high - d.low);
  for (let k = 0; k < count; k++) {
    const at = (samples[k]! - d.low) * scale;
    if (at < 0) d.below++;
    else if (at >= AMPLITUDE_BINS) d.above++;
    else if (!Number.isNaN(at)) d.counts[at | 0]!++;
  }
}

function slowCopy(rate_Hz: number) {
  let size = Math.max(1, Math.round(rate_Hz / SLOW_RATE_HZ));
  let mean = new Float32Array(4096);
  let scatter = new Float32Array(4096);
  let start = new Float64Array(4096);
  let pieces = 0;
  let inside = 0;
  let sum = 0;
  let squares = 0;
  let begun = 0;

  function close(): void {
    if (pieces === mean.length) {
      if (pieces >= SLOW_MOST) halve();
      else {
        mean = wider(mean);
        scatter = wider(scatter);
        const times = new Float64Array(start.length * 2);
        times.set(start);
        start = times;
      }
    }
    const m = sum / inside;
    mean[pieces] = m;
    scatter[pieces] = Math.sqrt(Math.max(0, squares / inside - m * m));
    start[pieces] = begun;
    pieces++;
    inside = 0;
    sum = 0;
    squares = 0;
  }

  function halve(): void {
    for (let k = 0; k < pieces / 2; k++) {
      const a = mean[2 * k]!;
      const b = mean[2 * k + 1]!;
      scatter[k] = Math.sqrt((scatter[2 * k]! ** 2 + scatter[2 * k + 1]! ** 2) / 2 + ((a - b) / 2) ** 2);
      mean[k] = (a + b) / 2;
      start[k] = start[2 * k]!;
    }
    pieces /= 2;
    size *= 2;
  }

  return {
    push(samples: Float64Array, count: number, time: number): void {
      for (let k = 0; k < count; k++) {
        const x = samples[k]!;
        if (inside === 0) begun = time + k / rate_Hz;
        if (Number.isNaN(x)) continue;
        sum += x;
        squares += x * x;
        inside++;
        if (inside >= size) close();
      }
    },
    gap(): void {
      if (inside > 0) close();
    },
    end(): SlowCopy {
      if (inside > size / 2) close();
      return {
        rate_Hz: rate_Hz / size,
        mean: mean.slice(0, pieces),
        scatter: scatter.slice(0, pieces),
        start_s: start.slice(0, pieces),
      };
    },
  };
}

function wider(a: Float32Array): Float32Array<ArrayBuffer> {
  const b = new Float32Array(a.length * 2);
  b.set(a);
  return b;
}

const STEP_SAMPLES = 20000;

function extremesOf() {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  let next_min = Number.POSITIVE_INFINITY;
  let next_max = Number.NEGATIVE_INFINITY;
  let [at_min, at_max, at_next_min, at_next_max] = [0, 0, 0, 0];
  let [run_min, run_max, longest_at_min, longest_at_max] = [0, 0, 0, 0];
  const first: number[] = [];
  return {
    push(samples: Float64Array, count: number): void {
      for (let k = 0; k < count && first.length < STEP_SAMPLES; k++)
        if (!Number.isNaN(samples[k]!)) first.push(samples[k]!);
      for (let k = 0; k < count; k++) {
        const x = samples[k]!;
        if (x >= next_max) {
          if (x > max) {
            next_max = max;
            at_next_max = at_max;
            max = x;
            at_max = 1;
            run_max = 1;
            longest_at_max = 1;
          } else if (x === max) {
            at_max++;
            run_max++;
            if (run_max > longest_at_max) longest_at_max = run_max;
          } else {
            at_next_max = x === next_max ? at_next_max + 1 : 1;
            next_max = x;
            run_max = 0;
          }
        } else run_max = 0;
        if (x <= next_min) {
          if (x < min) {
            next_min = min;
            at_next_min = at_min;
            min = x;
            at_min = 1;
            run_min = 1;
            longest_at_min = 1;
          } else if (x === min) {
            at_min++;
            run_min++;
            if (run_min > longest_at_min) longest_at_min = run_min;
          } else {
            at_next_min = x === next_min ? at_next_min + 1 : 1;
            next_min = x;
            run_min = 0;
          }
        } else run_min = 0;
      }
    },
    end(): Extremes {
      return {
        min,
        max,
        at_min,
        at_max,
        next_min,
        next_max,
        at_next_min,
        at_next_max,
        longest_at_min,
        longest_at_max,
        step: stepOf(first),
      };
    },
  };
}

/** Smallest difference of neighbours of which all are multiples to a twentieth; 0 where they are not. */
function stepOf(values: readonly number[]): number {
  let step = Number.POSITIVE_INFINITY;
  const size = values.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  for (let k = 1; k < values.length; k++) {
    const d = Math.abs(values[k]! - values[k - 1]!);
    if (d > 1e-9 * size && d < step) step = d;
  }
  if (!Number.isFinite(step)) return 0;
  for (let k = 1; k < values.length; k++) {
    const parts = Math.abs(values[k]! - values[k - 1]!) / step;
    if (parts < 1000 && Math.abs(parts - Math.round(parts)) > 0.05) return 0;
  }
  return step;
}
