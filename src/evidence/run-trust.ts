/**
 * The minutes that can be used: the span of the main group less its events (with one MS1 interval on each side), less
 * acquisition gaps, less stretches where the level scatters too much from scan to scan.
 */
import type { ScanScatter } from '../core/signal/index.ts';
import type { RunEvent } from './run-reading.ts';

/** Scatter above which an infusion would be stopped (TIC RSD > 20 %: common practice, no source). */
export const SCATTER_STOP = 0.2;
/**
 * Stretches are judged over this time, at least so many scans; their scatter is then known to about 30 % (two standard
 * errors of 80 scans), so that in a run that is steady on the whole a stretch has to exceed the limit by that much.
 */
export const STRETCH_S = 120;
export const STRETCH_SCANS = 41;
const STRETCH_ALLOWANCE = 1.3;
/** Left-over pieces shorter than this hold no whole nanoLC peak (5–30 s). */
const SHORTEST_PIECE_S = 10;

export interface Span {
  start_s: number;
  end_s: number;
}

export interface Trust {
  trustworthy: Span[];
  share: number;
  /** Share of the span lost to scatter alone. */
  scattered_share: number;
}

export function trust(
  time_s: readonly number[],
  interval_s: number,
  events: readonly RunEvent[],
  gaps: readonly Span[],
  scatter: ScanScatter,
  bare_start?: Span,
): Trust {
  const first = time_s[0];
  const last = time_s[time_s.length - 1];
  if (first === undefined || last === undefined || !(last > first)) {
    return { trustworthy: [], share: 0, scattered_share: 0 };
  }
  const whole = [{ start_s: first, end_s: last }];
  const spanned = less(whole, gaps);
  const scattered = scatteredSpans(time_s, scatter);
  const faults = events
    .filter((event) => event.kind !== 'acquisition gap')
    .map((event) => ({ start_s: event.start_s - interval_s, end_s: event.end_s + interval_s }));
  const kept = less(less(spanned, bare_start ? [...faults, bare_start] : faults), scattered);
  const trustworthy = kept.filter((piece) => piece.end_s - piece.start_s >= SHORTEST_PIECE_S);
  const total = length(spanned);
  return {
    trustworthy,
    share: total > 0 ? length(trustworthy) / total : 0,
    scattered_share: total > 0 ? 1 - length(less(spanned, scattered)) / total : 0,
  };
}

function scatteredSpans(time_s: readonly number[], scatter: ScanScatter): Span[] {
  const { local, overall } = scatter;
  const limit = overall > SCATTER_STOP ? SCATTER_STOP : STRETCH_ALLOWANCE * SCATTER_STOP;
  const spans: Span[] = [];
  for (let i = 0; i < time_s.length; i++) {
    if (!(local[i]! > limit)) continue;
    const start = i;
    while (i + 1 < time_s.length && local[i + 1]! > limit) i++;
    spans.push({
      start_s: start > 0 ? (time_s[start - 1]! + time_s[start]!) / 2 : time_s[start]!,
      end_s: i + 1 < time_s.length ? (time_s[i]! + time_s[i + 1]!) / 2 : time_s[i]!,
    });
  }
  return spans;
}

/** `spans` without what `holes` cover; both may be in any order. */
export function less(spans: readonly Span[], holes: readonly Span[]): Span[] {
  const sorted = [...holes].sort((a, b) => a.start_s - b.start_s);
  const left: Span[] = [];
  for (const span of [...spans].sort((a, b) => a.start_s - b.start_s)) {
    let { start_s } = span;
    for (const hole of sorted) {
      if (hole.end_s <= start_s) continue;
      if (hole.start_s >= span.end_s) break;
      if (hole.start_s > start_s) left.push({ start_s, end_s: hole.start_s });
      start_s = hole.end_s;
    }
    if (start_s < span.end_s) left.push({ start_s, end_s: span.end_s });
  }
  return left;
}

export function length(spans: readonly Span[]): number {
  return spans.reduce((sum, span) => sum + (span.end_s - span.start_s), 0);
}
