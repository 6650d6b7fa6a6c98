/**
 * The spray factor from ions that are always there: each ion against its own slow course, the middle over the ions in
 * each scan. A spray fault takes all of them along; elution, bleed and a change of composition do not, or not alike.
 * The slow course is taken out, so the factor says nothing of changes slower than COURSE_S.
 * An ion that is missing in a scan counts as lower than any value, so that a loss does not hide itself; where most are
 * missing there is no value.
 */
import { median } from '../../core/numeric/robust.ts';
import { madSigmaInPlace } from '../../core/signal/index.ts';
import { blockLevels, courseWindows, residuals } from './ion-courses.ts';
import { combined } from './ion-mean.ts';
import type { TrackBlock } from './ion-tracks.ts';
import { drawn, LEAST_IONS, slowCourse } from './slow-course.ts';

export { LEAST_IONS } from './slow-course.ts';

/** Scatter every ion has besides its own, so that one strong ion does not outvote the rest. */
const COMMON_FLOOR = 0.1;

export interface BackgroundSeries {
  /** ln factor about the slow course, for each scan of the stream; NaN for none. */
  log: Float64Array;
  error: Float64Array;
  /** The same from the lower and the upper half of the ions by m/z. */
  low: Float64Array;
  high: Float64Array;
  ions: BackgroundIon[];
  /** Slow course common to the ions that last: ln level of each block about their middle, and the block's middle time. */
  slow: { time_s: number; log: number; low: number; high: number }[];
  /** The slow course that was taken out, as far as the lasting ions share it, at each scan; NaN for none. */
  course: Float64Array;
  /** Middle number of ions. */
  count: number;
}

export interface BackgroundIon {
  mz: number;
  presence: number;
  /** ln intensity in the middle of the run. */
  log: number;
  scatter: number;
  blocks: number;
}

export function backgroundSeries(blocks: readonly TrackBlock[], time_s: ArrayLike<number>): BackgroundSeries {
  const n = time_s.length;
  const out = {
    log: new Float64Array(n).fill(Number.NaN),
    error: new Float64Array(n).fill(Number.NaN),
    low: new Float64Array(n).fill(Number.NaN),
    high: new Float64Array(n).fill(Number.NaN),
  };
  const levels = blocks.map(blockLevels);
  const courses = courseWindows(blocks, time_s);
  const tally = new Map<number, { mz: number; seen: number; of: number; logs: number[]; sigmas: number[] }>();
  const counts: number[] = [];
  blocks.forEach((block, b) => {
    const ids = block.ids.length;
    counts.push(ids);
    const residual = residuals(blocks, levels, courses, b);
    const sigma = ionSigmas(residual, block.scans, ids);
    for (let c = 0; c < ids; c++) {
      const entry = tally.get(block.ids[c]!) ?? { mz: block.mz[c]!, seen: 0, of: 0, logs: [], sigmas: [] };
      entry.seen += levels[b]!.seen[c]!;
      entry.of += block.scans;
      entry.logs.push(levels[b]!.middle[c]!);
      entry.sigmas.push(sigma[c]!);
      tally.set(block.ids[c]!, entry);
    }
    if (ids < LEAST_IONS) return;
    const half = ids >> 1;
    for (let s = 0; s < block.scans; s++) {
      const row = residual.subarray(s * ids, (s + 1) * ids);
      const whole = combined(row, sigma, 0, ids);
      const i = block.first + s;
      out.log[i] = whole.value;
      out.error[i] = whole.error;
      out.low[i] = combined(row, sigma, 0, half).value;
      out.high[i] = combined(row, sigma, half, ids).value;
    }
  });
  const slow = slowCourse(blocks, levels, courses);
  const ions = [...tally.values()].map((entry) => ({
    mz: entry.mz,
    presence: entry.seen / Math.max(1, n),
    log: median(entry.logs),
    scatter: median(entry.sigmas),
    blocks: entry.logs.length,
  }));
  return {
    ...out,
    ions,
    slow: slow.map(({ at, log, low, high }) => ({ time_s: courses[at]!.centre_s, log, low, high })),
    course: drawn(blocks, slow, n),
    count: counts.length > 0 ? median(counts) : 0,
  };
}

function ionSigmas(residual: Float32Array, scans: number, ids: number): Float64Array {
  const sigma = new Float64Array(ids);
  const values = new Float64Array(scans);
  for (let c = 0; c < ids; c++) {
    let count = 0;
    for (let s = 0; s < scans; s++) {
      const value = residual[s * ids + c]!;
      if (!Number.isNaN(value)) values[count++] = value;
    }
    sigma[c] = Math.hypot(count > 2 ? madSigmaInPlace(values, count) : 1, COMMON_FLOOR);
  }
  return sigma;
}
