/** What the page remembers of the rehearsed bench: the last seconds of the current, the last minutes of scans, the readings. */
import {
  type BenchControls,
  type Reading,
  readingLog,
  type Scan,
  settledLevel,
  TICK_S,
} from '../../rehearsal/index.ts';
import type { BenchFrame } from './rehearse-worker.ts';

export const CURRENT_S = 20;
export const SIGNAL_S = 120;
const TICKS = CURRENT_S / TICK_S;

export interface Memory {
  /** Rings of one entry per tick [A]; the newest stands before `head`. */
  low: Float32Array;
  high: Float32Array;
  mean: Float32Array;
  head: number;
  filled: number;
  scans: Scan[];
  time_s: number;
  frame: BenchFrame | undefined;
  add(frame: BenchFrame, controls: BenchControls): void;
  readings(): Reading[];
  /** Mean expected signal since the last knob was turned and what it did has arrived. */
  level(): number;
  /** Mean and relative spread of the tick means over the last seconds; undefined before that. */
  lately(seconds: number): { mean_A: number; spread: number } | undefined;
}

export function benchMemory(): Memory {
  const log = readingLog();
  const settled = settledLevel();
  const memory: Memory = {
    low: new Float32Array(TICKS),
    high: new Float32Array(TICKS),
    mean: new Float32Array(TICKS),
    head: 0,
    filled: 0,
    scans: [],
    time_s: 0,
    frame: undefined,
    add(frame, controls) {
      const count = frame.ticks.length / 3;
      const means = new Float32Array(count);
      for (let k = 0; k < count; k++) {
        memory.low[memory.head] = frame.ticks[3 * k]!;
        memory.high[memory.head] = frame.ticks[3 * k + 1]!;
        means[k] = frame.ticks[3 * k + 2]!;
        memory.mean[memory.head] = means[k]!;
        memory.head = (memory.head + 1) % TICKS;
      }
      memory.filled = Math.min(TICKS, memory.filled + count);
      memory.time_s = frame.state.time_s;
      memory.scans.push(...frame.scans);
      while (memory.scans.length > 0 && memory.scans[0]!.time_s < memory.time_s - SIGNAL_S - 2)
        memory.scans.shift();
      log.add(controls, means, frame.scans, TICK_S);
      settled.add(controls, frame.state.level, count * TICK_S);
      memory.frame = frame;
    },
    level: settled.mean,
    readings: () => log.readings(),
    lately(seconds) {
      const count = Math.round(seconds / TICK_S);
      if (memory.filled < count) return undefined;
      let [sum, square] = [0, 0];
      for (let k = 1; k <= count; k++) {
        const value = memory.mean[(memory.head - k + TICKS) % TICKS]!;
        sum += value;
        square += value * value;
      }
      const mean_A = sum / count;
      return { mean_A, spread: Math.sqrt(Math.max(0, square / count - mean_A * mean_A)) / Math.abs(mean_A) };
    },
  };
  return memory;
}
