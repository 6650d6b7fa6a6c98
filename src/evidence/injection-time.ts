/**
 * Fill time of a trapping instrument as a second witness: fill control holds the number of ions, so the fill lengthens
 * as the flux falls, until it stops at its maximum. It tells that fewer ions really arrived; it does not tell whether
 * the spray or the chromatography sent fewer.
 */
import { median } from '../core/numeric/robust.ts';
import type { RunGroup } from './run-reading.ts';

/** Fills this close to the longest one count as stopped at the maximum. */
const CLAMP_TOLERANCE = 0.01;
/** Only when this share of the fills is there is the longest one taken for the instrument's maximum. */
const CLAMP_SHARE = 0.05;
/** Share of the level's fall (in logs) the fill has to answer to count as agreeing, and below which it denies. Judgement. */
const AGREES = 0.4;
const DENIES = 0.1;

export function injectionSummary(injection_ms: readonly (number | null)[]): RunGroup['injection_time'] {
  const fills = injection_ms.filter((fill) => fill !== null);
  if (fills.length === 0) return null;
  let max_ms = 0;
  for (const fill of fills) max_ms = Math.max(max_ms, fill);
  const clamped = fills.filter((fill) => fill >= max_ms * (1 - CLAMP_TOLERANCE)).length / fills.length;
  return { median_ms: median(fills), max_ms, clamped_share: clamped > CLAMP_SHARE ? clamped : 0 };
}

export type FillWitness = 'agrees' | 'denies' | 'silent';

/** What the fills say of a fall of `depth_log` over samples [first, past), compared with as many on both sides. */
export function fillWitness(
  injection_ms: readonly (number | null)[],
  first: number,
  past: number,
  depth_log: number,
  max_ms: number,
): FillWitness {
  const reach = Math.max(5, past - first);
  const inside = injection_ms.slice(first, past).filter((fill) => fill !== null);
  const beside = [
    ...injection_ms.slice(Math.max(0, first - reach), first),
    ...injection_ms.slice(past, past + reach),
  ].filter((fill) => fill !== null);
  if (inside.length === 0 || beside.length < 3) return 'silent';
  const before = median(beside);
  if (before >= max_ms * (1 - CLAMP_TOLERANCE)) return 'silent';
  const longer = Math.log(median(inside) / before);
  const room = Math.log(max_ms / before);
  if (longer >= AGREES * Math.min(depth_log, room)) return 'agrees';
  return longer < DENIES * Math.min(depth_log, room) ? 'denies' : 'silent';
}
