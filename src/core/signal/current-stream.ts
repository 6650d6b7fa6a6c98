/**
 * The pass over a trace: samples in, windows with their features out, beside them a slow copy (means and scatter of about 1 ms), the
 * pyramid for drawing, the amplitude distribution and the spectra. Memory is bounded whatever the length: the window is chosen so that the
 * expected length makes at most MOST_WINDOWS of them, the slow copy and the pyramid halve when full. A gap ends a window; one that is less than half full is left out.
 */
import type { BesideCurrent } from './beside-current.ts';
import { bandsOf, type Spectrogram } from './current-bands.ts';
import {
  type AmplitudeDistribution,
  distributionOf,
  noDistribution,
  tallyAmplitudes,
} from './current-distribution.ts';
import { type Extremes, extremesFinder } from './current-extremes.ts';
import { featureFinder } from './current-features.ts';
import type { Pyramid } from './current-pyramid.ts';
import { pyramidBuilder } from './current-pyramid.ts';
import { type SlowCopy, slowCopyBuilder } from './current-slow-copy.ts';
import type { CurrentWindow } from './current-window.ts';

export interface CurrentStreamOptions {
  rate_Hz: number;
  start_s?: number;
  /** Chosen for rate and length where it is not given. */
  window_s?: number | undefined;
  /** For the choice of the window. */
  expected_samples?: number | undefined;
  /** Of the same samples in other windows: what does not hang on the windows is taken from there. */
  earlier?: Pick<CurrentStatistics, 'slow' | 'pyramid'> | undefined;
  onWindow?: ((window: CurrentWindow, density: Float64Array) => void) | undefined;
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
  /** A pressure recorded beside the current [Pa]. */
  pressure?: BesideCurrent | undefined;
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
  const { rate_Hz, onWindow, earlier } = options;
  const window_s = options.window_s ?? windowFor(rate_Hz, options.expected_samples);
  const length = Math.max(16, Math.round(window_s * rate_Hz));
  const finder = featureFinder(rate_Hz, length);
  const pyramid = pyramidBuilder();
  const buffer = new Float64Array(length);
  const windows: CurrentWindow[] = [];
  const rows: Float32Array[] = [];
  const total = new Float64Array(finder.density.length);
  const bands = bandsOf(finder.density.length, finder.step_Hz);
  const slow = slowCopyBuilder(rate_Hz);
  const extremes = extremesFinder();
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
    tallyAmplitudes(distribution, buffer, count);
    const window = finder.find(buffer, count, windowStart, voltage);
    windows.push(window);
    onWindow?.(window, finder.density);
    for (let k = 0; k < total.length; k++) total[k]! += finder.density[k]!;
    rows.push(bands.row(finder.density));
  }

  return {
    push(from, count, voltage) {
      extremes.push(from, count);
      if (!earlier) {
        pyramid.push(from, count);
        slow.push(from, count, time);
      }
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
        slow: earlier?.slow ?? slow.end(),
        distribution: distribution ?? noDistribution(),
        pyramid: earlier?.pyramid ?? pyramid.end(),
        extremes: extremes.end(),
        gaps,
      };
    },
  };
}
