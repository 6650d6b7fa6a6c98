/**
 * Single charges from nothing: drops. Most windows of a dripping trace hold none, a fast meter makes each a spike of some samples,
 * a slow one a small hump: they are looked for on the slow copy (mean of a piece, or scatter inside it) and among the highest
 * samples, wherever the level between them is next to nothing. Approximation: drops closer than a piece count as
 * one. Breaks for drops whose charge drowns in the noise of a piece: nothing is said then.
 */
import { quantile } from '../../core/numeric/robust.ts';
import type { CurrentStatistics } from '../../core/signal/index.ts';
import type { SlowLevel } from './slow-level.ts';

export interface DropTrain {
  from_s: number;
  to_s: number;
  drops: number;
  rate_Hz: number;
}

/** A piece stands out by so many of its own noise, and by this [A]. */
const CLEAR = 5.5;
const CLEAR_SCATTER = 9;
const CLEAR_SAMPLE = 5.8;
const LEAST_A = 0.15e-9;
/** The scatter of fewer samples is too uncertain, and what is left of it where mains made most of it. */
const MOST_HUM = 0.5;
const TELLING_SAMPLES = 8;
/** Between drops hardly more flows than a leak [A], or than this share of the spikes' own height. */
const BASE_A = 6e-9;
/** Longest drop, most of them in a second, fewest that make a train. */
const LONGEST_S = 0.03;
const MOST_PER_S = 60;
const LEAST_DROPS = 4;
const NEXT_INTERVALS = 5;
const LONGEST_NEXT_S = 10;
const BEYOND_INTERVALS = 1.2;
const BLOCK_S = 4;

export function dropTrains(level: SlowLevel, stats: CurrentStatistics): DropTrain[] {
  return [...trainsOf(spikesOf(level)), ...trainsOf(highest(stats))];
}

function trainsOf(spikes: readonly number[]): DropTrain[] {
  const trains: DropTrain[] = [];
  let from = 0;
  for (let k = 1; k <= spikes.length; k++) {
    const count = k - from;
    const interval =
      count > 1 ? (spikes[k - 1]! - spikes[from]!) / (count - 1) : LONGEST_NEXT_S / NEXT_INTERVALS;
    const reach = Math.min(LONGEST_NEXT_S, NEXT_INTERVALS * interval);
    if (k < spikes.length && spikes[k]! - spikes[k - 1]! < reach) continue;
    if (count >= LEAST_DROPS && 1 / interval < MOST_PER_S)
      trains.push({
        from_s: spikes[from]! - BEYOND_INTERVALS * interval,
        to_s: spikes[k - 1]! + BEYOND_INTERVALS * interval,
        drops: count,
        rate_Hz: 1 / interval,
      });
    from = k;
  }
  return trains;
}

/** Times of the spikes; each block of some seconds has its own base. */
function spikesOf(level: SlowLevel): number[] {
  const { mean, scatter, rate_Hz, start_s } = level;
  const times: number[] = [];
  const block = Math.max(64, Math.round(BLOCK_S * rate_Hz));
  // A quantile of stepped values is half a step off.
  const stepped = level.step / Math.sqrt(level.samples);
  const floor = Math.max(0.6 * stepped, 1e-16);
  const tellsScatter = level.samples >= TELLING_SAMPLES;
  let began = -1;
  for (let from = 0; from < mean.length; from += block) {
    const to = Math.min(mean.length, from + block);
    const means = mean.subarray(from, to);
    const base = quantile(means, 0.4);
    const noise = Math.max((base - quantile(means, 0.08) + 0.5 * stepped) / 1.15, 0.3 * level.noise, floor);
    const inside = scatter.subarray(from, to);
    const usual = quantile(inside, 0.4);
    const spread = Math.max((usual - quantile(inside, 0.08)) / 1.15, 0.02 * usual, 0.15 * level.step, 1e-16);
    if (Math.abs(base) > BASE_A) {
      began = -1;
      continue;
    }
    for (let k = from; k < to; k++) {
      const out =
        mean[k]! - base > Math.max(CLEAR * noise, LEAST_A) ||
        (tellsScatter &&
          level.hum < MOST_HUM * usual &&
          mean[k]! > base &&
          scatter[k]! - usual > Math.max(CLEAR_SCATTER * spread, 1.2 * usual, LEAST_A));
      if (out) {
        if (began < 0) began = k;
        continue;
      }
      if (began >= 0 && k - began <= LONGEST_S * rate_Hz) times.push(start_s[began]!);
      began = -1;
    }
  }
  return times;
}

/** Times where the highest sample of a stretch of the pyramid stands clear: spikes shorter than a piece through a fast meter. */
function highest({ pyramid, windows, rate_Hz, start_s, gaps, extremes }: CurrentStatistics): number[] {
  const times: number[] = [];
  const { finest, high } = pyramid;
  if (gaps.length > 0 || finest > LONGEST_S * rate_Hz) return times;
  const most = Math.ceil((LONGEST_S * rate_Hz) / finest);
  let k = 0;
  let run = 0;
  for (const w of windows) {
    const clear = Math.max(
      CLEAR_SAMPLE *
        Math.max((w.q50 - w.q05 + 0.5 * extremes.step) / 1.645, w.robust_sd, 0.6 * extremes.step),
      LEAST_A,
    );
    const past = Math.floor(((w.start_s - start_s) * rate_Hz + w.samples) / finest);
    for (; k < past && k < high.length; k++) {
      if (Math.abs(w.q50) < BASE_A && high[k]! - w.q50 > clear) run++;
      else {
        if (run > 0 && run <= most) times.push(start_s + ((k - run) * finest) / rate_Hz);
        run = 0;
      }
    }
  }
  return times;
}
