/** What the trace draws of one group: its span, its level scale with ticks, and where the pen lifts. */
import type { RunReading } from '../../evidence/run-reading.ts';
import type { Span } from '../decimate.ts';
import { niceAbove } from '../nice.ts';
import { figure } from '../words.ts';

export type LevelMode = 'linear' | 'log';

export interface LevelScale {
  mode: LevelMode;
  /** Levels as drawn: themselves, or their decadic logarithm (zeros stand at the floor). */
  drawn: Float64Array;
  words: string;
}

export interface Tick {
  at: number;
  label: string;
}

/** Zeros on a logarithmic scale are drawn this far below the least positive level: half a decade. */
const FLOOR_BELOW = 0.5;

export function wholeSpan(reading: RunReading, group: number): Span {
  const g = reading.groups[group];
  if (!g) return { from: 0, to: 1 };
  return g.end_s > g.start_s
    ? { from: g.start_s, to: g.end_s }
    : { from: g.start_s - 0.5, to: g.start_s + 0.5 };
}

export function levelScale(reading: RunReading, group: number, mode: LevelMode): LevelScale {
  const g = reading.groups[group];
  const level = g?.series.level ?? [];
  const words = `Total ion current (${g?.level_from === 'summed' ? 'summed from peaks' : 'as stated'})`;
  const drawn = new Float64Array(level.length);
  if (mode === 'linear') {
    for (let i = 0; i < level.length; i++) drawn[i] = level[i] ?? Number.NaN;
    return { mode, drawn, words };
  }
  let least = Number.POSITIVE_INFINITY;
  for (const v of level) if (v > 0 && v < least) least = v;
  const floor = (Number.isFinite(least) ? Math.log10(least) : 0) - FLOOR_BELOW;
  for (let i = 0; i < level.length; i++) {
    const v = level[i] ?? Number.NaN;
    drawn[i] = v > 0 ? Math.log10(v) : Number.isNaN(v) ? Number.NaN : floor;
  }
  return { mode, drawn, words: `${words}, logarithmic` };
}

/** A padded range for what is drawn; linear levels start at zero. */
export function levelRange(mode: LevelMode, low: number, high: number): [number, number] {
  if (!Number.isFinite(low) || !Number.isFinite(high)) return [0, 1];
  if (mode === 'linear') return [Math.min(0, low), high > 0 ? high * 1.06 : 1];
  const pad = Math.max(0.05, 0.06 * (high - low));
  return [low - pad, high + pad];
}

/** At most about `count` round ticks in [low, high]. */
export function levelTicks(mode: LevelMode, low: number, high: number, count: number): Tick[] {
  const step = niceAbove((high - low) / count);
  const whole = mode === 'log' ? Math.max(1, Math.round(step)) : step;
  const ticks: Tick[] = [];
  if (mode === 'log' && high - low < 1.5) {
    // Less than two decades: label 1, 2, 5 within each.
    for (let d = Math.floor(low); d <= high; d++)
      for (const lead of [1, 2, 5]) {
        const at = d + Math.log10(lead);
        if (at >= low && at <= high) ticks.push({ at, label: figure(10 ** at, 1) });
      }
    return ticks;
  }
  for (let at = Math.ceil(low / whole) * whole; at <= high + 1e-9 * whole; at += whole) {
    ticks.push({
      at,
      label: mode === 'log' ? figure(10 ** at, 1) : figure(Math.abs(at) < 1e-9 * whole ? 0 : at, 2),
    });
  }
  return ticks;
}

/** Round minutes in a span of seconds. */
export function timeTicks(span: Span, count: number): Tick[] {
  const step = niceAbove((span.to - span.from) / 60 / count);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks: Tick[] = [];
  for (let m = Math.ceil(span.from / 60 / step) * step; m * 60 <= span.to + 1e-9; m += step) {
    ticks.push({ at: m * 60, label: m.toFixed(decimals) });
  }
  return ticks;
}

/** Middles of the acquisition gaps of a group, where no line may run. */
export function penLifts(reading: RunReading, group: number): number[] {
  return reading.events
    .filter((event) => event.kind === 'acquisition gap' && event.group === group)
    .map((event) => (event.start_s + event.end_s) / 2)
    .sort((a, b) => a - b);
}
