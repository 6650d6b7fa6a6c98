/** Where the windows of a trace end: each begins where it says and holds so many samples at the rate of the trace. */
import type { CurrentWindow } from '../../core/signal/index.ts';
import { firstPast } from '../within-times.ts';

export function windowEnd({ start_s, samples }: CurrentWindow, rate_Hz: number): number {
  return start_s + samples / rate_Hz;
}

/** Number of the window that holds a moment, of the next one where it falls between two; the number of windows after the last. */
export function windowAt(windows: readonly CurrentWindow[], rate_Hz: number, at_s: number): number {
  return firstPast(windows, (w) => at_s < windowEnd(w, rate_Hz));
}
