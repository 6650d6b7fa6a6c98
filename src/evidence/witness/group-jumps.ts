/**
 * The common jumps of the ions at the scans of one group. Undefined where too few of its scans have one.
 */
import { placesOf } from './places.ts';
import type { Witnesses } from './run-witnesses.ts';

/** Share of the scans that need a jump for them to be used. */
const USED_SHARE = 0.6;

export interface GroupJumps {
  /** ln jump into each scan; NaN for none. */
  value: Float64Array;
  error: Float64Array;
}

/** `rows` are the rows of the record of the group's scans, in order, `places` where each stands among them. */
export function groupJumps(
  witnesses: Witnesses,
  rows: readonly number[],
  places = placesOf(rows),
): GroupJumps | undefined {
  const value = new Float64Array(rows.length).fill(Number.NaN);
  const error = new Float64Array(rows.length).fill(Number.NaN);
  let known = 0;
  for (const stream of witnesses.streams) {
    for (let i = 0; i < stream.rows.length; i++) {
      const at = places[stream.rows[i]!] ?? -1;
      if (at < 0 || !Number.isFinite(stream.jump[i]!)) continue;
      value[at] = stream.jump[i]!;
      error[at] = stream.jump_error[i]!;
      known++;
    }
  }
  return known >= USED_SHARE * rows.length ? { value, error } : undefined;
}
