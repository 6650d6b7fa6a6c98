/**
 * What a reading is worth, as a logarithm with its own noise: the level, the steadiness (−ln scatter), or both (level over
 * 1 + (scatter/10 %)²). Logarithms make the noise additive; an unsteady reading is worth 0.6 of its level (judgement).
 */
import type { SettleReading, SettleSession } from './session.ts';

export interface Worth {
  y: number;
  sd: number;
  /** No signal to speak of: `y` is a stand-in far below the best. */
  nothing: boolean;
}

/** A scatter from which a reading counts as unsteady (common practice, no source: above 20 % stop). */
export const UNSTEADY_SCATTER_PERCENT = 20;
/** Taken where nobody measured the scatter. */
export const USUAL_NOISE_PERCENT = 8;
const UNSTEADY_SHARE = 0.6;
/** No level is trusted better than this, and none less than that. */
const LEAST_NOISE = 0.02;
const MOST_NOISE = 0.8;
/** The scatter of a scatter from about ten scans. */
const SCATTER_NOISE = 0.25;
const HALVES_AT_PERCENT = 10;
const LEAST_SCATTER_PERCENT = 0.5;

export function isUnsteady(reading: SettleReading): boolean {
  return (reading.seen ?? []).length > 0 || (reading.scatter_percent ?? 0) >= UNSTEADY_SCATTER_PERCENT;
}

export function hasSignal(reading: SettleReading): boolean {
  return reading.level > 0 && !(reading.seen ?? []).includes('no spray');
}

/** The worth of every reading; those without signal stand `NOTHING_BELOW` under the best. */
export function worthsOf(matters: SettleSession['matters'], readings: readonly SettleReading[]): Worth[] {
  const worths = readings.map((reading) => worthOf(matters, reading));
  const best = worths.reduce((most, w) => (w.nothing ? most : Math.max(most, w.y)), Number.NEGATIVE_INFINITY);
  const floor = (Number.isFinite(best) ? best : 0) - NOTHING_BELOW;
  return worths.map((w) => (w.nothing || w.y < floor ? { y: floor, sd: 1, nothing: w.nothing } : w));
}
const NOTHING_BELOW = 9;

function worthOf(matters: SettleSession['matters'], reading: SettleReading): Worth {
  if (!hasSignal(reading)) return { y: 0, sd: 1, nothing: true };
  const scatter = reading.scatter_percent ?? USUAL_NOISE_PERCENT;
  const noise = noiseOf(reading);
  const level = Math.log(reading.level) + (isUnsteady(reading) ? Math.log(UNSTEADY_SHARE) : 0);
  if (matters === 'level') return { y: level, sd: noise, nothing: false };
  const steady = -Math.log(Math.max(LEAST_SCATTER_PERCENT, scatter));
  if (matters === 'scatter') return { y: steady, sd: SCATTER_NOISE, nothing: false };
  const share = (scatter / HALVES_AT_PERCENT) ** 2;
  const byScatter = (2 * share) / (1 + share);
  return {
    y: level - Math.log(1 + share),
    sd: Math.hypot(noise, SCATTER_NOISE * byScatter),
    nothing: false,
  };
}

/** Relative noise of a reading's level, as a share. */
export function noiseOf(reading: SettleReading): number {
  const stated = reading.noise_percent ?? reading.scatter_percent ?? USUAL_NOISE_PERCENT;
  return Math.min(MOST_NOISE, Math.max(LEAST_NOISE, stated / 100));
}
