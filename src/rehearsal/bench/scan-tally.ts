/** One value for each scan: the mean signal over its length, times the scatter of what the spray did meanwhile. */
import type { RandomStream } from '../../core/random.ts';

export interface Scan {
  time_s: number;
  /** 1: the best of this emitter at 300 nL/min. */
  level: number;
}

/** Counted with no spray at all, as a share of the best signal. */
export const DARK_LEVEL = 4e-4;

export function scanTally(scan_s: number, random: RandomStream) {
  let [sum, scatter, ticks] = [0, 0, 0];
  /** `time_s` is the end of the tick. */
  return (level: number, sd: number, time_s: number, dt: number): Scan | undefined => {
    sum += level;
    scatter += sd;
    ticks++;
    if (ticks * dt < scan_s - dt / 2) return undefined;
    const scan = {
      time_s: time_s - ticks * dt,
      level: (sum / ticks) * random.factor(scatter / ticks) + DARK_LEVEL,
    };
    sum = scatter = ticks = 0;
    return scan;
  };
}
