/**
 * Readings that a person takes on the rehearsed bench: each setting held for a while is one, whoever looks. The first moments of
 * a setting are left out, since what was turned has to arrive.
 */

import { type BenchControls, TURNED } from './controls.ts';
import type { Scan } from './scan-tally.ts';

export interface Reading {
  controls: BenchControls;
  /** Time at this setting [s]. */
  held_s: number;
  current_nA: number;
  /** Standard deviation of the mean current of 5 ms, relative to the mean. */
  current_spread: number;
  /** Mean of the scans begun at this setting; undefined before the first. */
  level: number | undefined;
  /** Relative standard deviation over them; undefined below three. */
  level_scatter: number | undefined;
}

export interface ReadingLog {
  /** `means` are the mean currents [A] of the ticks since the last call, at these controls. */
  add(controls: BenchControls, means: ArrayLike<number>, scans: readonly Scan[], tick_s: number): void;
  /** Finished ones, and the running one once it counts. */
  readings(): Reading[];
}

/** A setting held so long is a reading [s]. */
export const READING_S = 2;
const SETTLES_S = 0.5;

export function readingLog(): ReadingLog {
  const finished: Reading[] = [];
  let at: BenchControls | undefined;
  let time_s = 0;
  let from_s = 0;
  let sum = 0;
  let square = 0;
  let count = 0;
  let levels: number[] = [];

  const running = (): Reading | undefined => {
    if (at === undefined || time_s - from_s < READING_S) return undefined;
    const mean = sum / Math.max(1, count);
    const level = average(levels);
    return {
      controls: at,
      held_s: time_s - from_s,
      current_nA: mean * 1e9,
      current_spread: Math.sqrt(Math.max(0, square / Math.max(1, count) - mean * mean)) / Math.abs(mean),
      level,
      level_scatter:
        level === undefined || levels.length < 3
          ? undefined
          : Math.sqrt(levels.reduce((s, v) => s + (v - level) ** 2, 0) / (levels.length - 1)) / level,
    };
  };

  return {
    add(controls, means, scans, tick_s) {
      if (at === undefined || changed(at, controls)) {
        const done = running();
        if (done) finished.push(done);
        at = { ...controls };
        from_s = time_s;
        sum = square = count = 0;
        levels = [];
      }
      for (let i = 0; i < means.length; i++) {
        time_s += tick_s;
        if (time_s - from_s < SETTLES_S) continue;
        sum += means[i]!;
        square += means[i]! * means[i]!;
        count++;
      }
      for (const scan of scans) if (scan.time_s >= from_s) levels.push(scan.level);
    },
    readings() {
      const now = running();
      return now ? [...finished, now] : [...finished];
    },
  };
}

export interface SettledLevel {
  add(controls: BenchControls, level: number, time_s: number): void;
  mean(): number;
}

/** Mean of the expected signal since the controls changed last, without the first moments. */
export function settledLevel(): SettledLevel {
  let at: BenchControls | undefined;
  let [held_s, sum, weight, latest] = [0, 0, 0, 0];
  return {
    add(controls, level, time_s) {
      if (at === undefined || changed(at, controls)) {
        at = { ...controls };
        held_s = sum = weight = 0;
      }
      held_s += time_s;
      latest = level;
      if (held_s < SETTLES_S) return;
      sum += level * time_s;
      weight += time_s;
    },
    mean: () => (weight > 0 ? sum / weight : latest),
  };
}

function changed(a: BenchControls, b: BenchControls): boolean {
  return a.high_voltage !== b.high_voltage || TURNED.some((name) => a[name] !== b[name]);
}

function average(values: readonly number[]): number | undefined {
  return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
}
