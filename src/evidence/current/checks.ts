/** What is wrong with a recording before anything is read from it: unit, clipping, coarse steps, missing values, gaps, sign. */
import type { CurrentStatistics } from '../../core/signal/index.ts';
import { currentText, shareText } from './labels.ts';
import type { ExpectedCurrent } from './regimes.ts';

const NA = 1e-9;
/** Beyond any spray, and below what a meter at room temperature resolves. */
const TOO_LARGE_A = 1e-4;
const TOO_SMALL_A = 5e-12;
const CLIPPED_SHARE = 1e-4;
const CLIPPED_RUN = 3;
/** Samples at a rail against those one value below. */
const CLIPPED_PILE = 4;

export interface Clipping {
  high: boolean;
  low: boolean;
  share: number;
}

/** The largest typical level of any window, which tells the unit. */
function levelOf(stats: CurrentStatistics): number {
  return Math.max(0, ...stats.windows.map((w) => Math.max(Math.abs(w.mean), Math.abs(w.q99))));
}

/** True where the trace reads negative as a whole: leads reversed, or negative mode. */
export function looksReversed(stats: CurrentStatistics): boolean {
  let sum = 0;
  let up = 0;
  let down = 0;
  for (const w of stats.windows) {
    sum += w.mean * w.samples;
    up = Math.max(up, w.q99);
    down = Math.min(down, w.q01);
  }
  const mean = sum / Math.max(1, stats.samples);
  const skew = stats.windows.reduce((s, w) => s + w.skew, 0);
  const noise = stats.windows.length > 0 ? stats.windows[0]!.white_sd : 0;
  return (
    mean < 0 &&
    (-down > 1.5 * up || (skew < 0 && -stats.extremes.min > 4 * stats.extremes.max)) &&
    -mean > 0.02 * noise
  );
}

export function clippingOf({ extremes: e, samples }: CurrentStatistics): Clipping {
  const span = e.max - e.min;
  const end = (at: number, next: number, run: number) =>
    at >= Math.max(8, CLIPPED_SHARE * samples) &&
    run >= CLIPPED_RUN &&
    at > CLIPPED_PILE * Math.max(1, next) &&
    at < 0.5 * samples &&
    span > 8 * e.step;
  const high = end(e.at_max, e.at_next_max, e.longest_at_max);
  const low = end(e.at_min, e.at_next_min, e.longest_at_min) && e.min !== 0;
  return { high, low, share: ((high ? e.at_max : 0) + (low ? e.at_min : 0)) / Math.max(1, samples) };
}

/** Levels that no spray has, or that are a thousand times beside the expected one: the unit, most likely. */
export function unitWarnings(
  stats: CurrentStatistics,
  expected: ExpectedCurrent | undefined,
  unit: string,
): string[] {
  const warnings: string[] = [];
  const level = levelOf(stats);
  if (level > TOO_LARGE_A)
    warnings.push(
      `The current reads up to ${currentText(level / NA)}: no nanoelectrospray carries so much. Check the unit (read as ${unit}); --unit sets it.`,
    );
  if (expected) {
    const middle = medianLevel(stats);
    const factor = middle / expected.current_A;
    for (const times of [1e3, 1e6, 1e-3, 1e-6])
      if (factor / times > 0.3 && factor / times < 3.3)
        warnings.push(
          `The current is about ${times > 1 ? `${times.toLocaleString('en')} times` : `1/${(1 / times).toLocaleString('en')} of`} what is expected: the unit looks wrong (read as ${unit}); --unit sets it.`,
        );
  }
  return warnings;
}

export function recordingWarnings(
  stats: CurrentStatistics,
  expected: ExpectedCurrent | undefined,
  unit: string,
): string[] {
  const warnings = unitWarnings(stats, expected, unit);
  const level = levelOf(stats);
  if (level < TOO_SMALL_A && level > 0)
    warnings.push(
      `The current stays below ${currentText(level / NA)}: no spray, or another unit than ${unit}; --unit sets it.`,
    );
  const clipping = clippingOf(stats);
  if (clipping.high || clipping.low) {
    const ends = [
      ...(clipping.high ? [`at ${currentText(stats.extremes.max / NA)}`] : []),
      ...(clipping.low ? [`at ${currentText(stats.extremes.min / NA)}`] : []),
    ];
    warnings.push(
      `Clipped ${ends.join(' and ')} (${shareText(clipping.share)} of the samples): peaks, means and charges there are too small; choose a wider range.`,
    );
  }
  const step = stats.extremes.step;
  const quiet = quietest(stats);
  if (step > 0 && step > 0.7 * quiet)
    warnings.push(
      `The recorder's steps of ${currentText(step / NA)} are coarser than the noise: anything smaller is not seen; a narrower range would show it.`,
    );
  if (stats.missing > 0)
    warnings.push(
      `${stats.missing} of ${stats.samples} samples have no number (${shareText(stats.missing / stats.samples)}); each was read as the value before it, windows with more than half missing were left out.`,
    );
  if (stats.gaps.length > 0)
    warnings.push(
      `${stats.gaps.length === 1 ? 'One gap' : `${stats.gaps.length} gaps`} in time; no window reaches across one.`,
    );
  return warnings;
}

function medianLevel(stats: CurrentStatistics): number {
  const levels = stats.windows.map((w) => w.mean).sort((a, b) => a - b);
  return levels[levels.length >> 1] ?? 0;
}

function quietest(stats: CurrentStatistics): number {
  return stats.windows.reduce((least, w) => Math.min(least, w.sd), Number.POSITIVE_INFINITY);
}
