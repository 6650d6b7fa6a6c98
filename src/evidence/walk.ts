/**
 * A voltage walk recorded as a run: steps of voltage against time, beside the run's level. For each step the level and its
 * scatter once the spray had time to settle; from these the onset and the edges of the steady window, each as the pair of
 * voltages between which it lies. A walk resolves no finer than its steps; up and down are kept apart (the cone lives
 * below the voltage that forms it). Levels between steps are not interpolated.
 * Limits are judgement: sprayed means at least LIT_SHARE of the best step's level; steady means at most STEADY_SCATTER or
 * twice the best step's scatter.
 */
import { madSigma, median, quantile } from '../core/numeric/robust.ts';
import type { RunReading } from './run-reading.ts';
import { percentText } from './words.ts';

export interface WalkStep {
  time_s: number;
  voltage_V: number;
}

export interface StepReading {
  voltage_V: number;
  from_s: number;
  to_s: number;
  direction: 'up' | 'down' | 'start';
  scans: number;
  /** Median level with the 95 % range of the median; null where too few scans. */
  level: { value: number; low: number; high: number } | null;
  /** Scatter from scan to scan with about its 95 % range. */
  scatter: { value: number; low: number; high: number } | null;
  state: 'no spray' | 'unsteady' | 'steady' | 'too few scans';
}

/** Between these two voltages; null on a side the walk did not reach. */
export interface Edge {
  above_V: number | null;
  at_most_V: number | null;
}

export interface WalkSweep {
  direction: 'up' | 'down';
  steps: StepReading[];
  /** Voltage at which the spray begins (up) or ends (down). */
  onset: Edge | null;
  /** Lowest and highest voltage of the steady window. */
  lower: Edge | null;
  upper: Edge | null;
  sentences: string[];
}

export interface WalkReading {
  /** What the voltages are. */
  voltage_at: 'supply' | 'tip' | 'not stated';
  sweeps: WalkSweep[];
  warnings: string[];
}

/** Waited after each step: the longer of this time and this many scans (common practice, no source). */
const SETTLE_S = 5;
const SETTLE_SCANS = 3;
const LEAST_SCANS = 8;
const LIT_SHARE = 0.2;
const STEADY_SCATTER = 0.1;

export function readWalk(
  reading: RunReading,
  steps: readonly WalkStep[],
  voltage_at: WalkReading['voltage_at'] = 'not stated',
): WalkReading {
  const group = reading.groups[reading.main_group];
  const warnings: string[] = [];
  if (!group || steps.length === 0)
    return { voltage_at, sweeps: [], warnings: ['no scans or no steps to read'] };
  const ordered = [...steps].sort((a, b) => a.time_s - b.time_s);
  if (ordered.some((step, i) => i > 0 && step.voltage_V === ordered[i - 1]!.voltage_V)) {
    warnings.push('some steps repeat the voltage before them; they are read as steps of their own');
  }
  const outside = ordered.filter(
    (step) => step.time_s > group.end_s || step.time_s < group.start_s - SETTLE_S,
  );
  if (outside.length > 0) warnings.push(`${outside.length} steps lie outside the run`);
  const read = ordered.map((_, i) => stepReading(group, ordered, i));
  const best = Math.max(0, ...read.map((step) => step.level?.value ?? 0));
  const calm = Math.min(
    Number.POSITIVE_INFINITY,
    ...read.flatMap((step) =>
      step.scatter && step.level && step.level.value >= LIT_SHARE * best ? [step.scatter.value] : [],
    ),
  );
  for (const step of read) step.state = stateOf(step, best, calm);
  return {
    voltage_at,
    sweeps: sweepsOf(read).map((sweep) => judged(sweep.direction, sweep.steps)),
    warnings,
  };
}

function stepReading(
  group: RunReading['groups'][number],
  steps: readonly WalkStep[],
  i: number,
): StepReading {
  const step = steps[i]!;
  const from_s = step.time_s + Math.max(SETTLE_S, SETTLE_SCANS * group.interval_s);
  const to_s = steps[i + 1]?.time_s ?? group.end_s;
  const before = steps[i - 1]?.voltage_V;
  const level = group.series.level.filter((_, k) => {
    const time = group.series.time_s[k]!;
    return time >= from_s && (i + 1 < steps.length ? time < to_s : time <= to_s);
  });
  const base: StepReading = {
    voltage_V: step.voltage_V,
    from_s,
    to_s,
    direction:
      before === undefined || before === step.voltage_V ? 'start' : step.voltage_V > before ? 'up' : 'down',
    scans: level.length,
    level: null,
    scatter: null,
    state: 'too few scans',
  };
  if (level.length < LEAST_SCANS) return base;
  base.level = medianRange(level);
  const log = level.filter((value) => value > 0).map(Math.log);
  if (log.length >= LEAST_SCANS) base.scatter = scatterRange(log);
  return base;
}

/** Order statistics that hold the median in 95 of 100 samples, by the normal approximation. */
function medianRange(values: readonly number[]): { value: number; low: number; high: number } {
  const half = 0.98 / Math.sqrt(values.length);
  return {
    value: median(values),
    low: quantile(values, Math.max(0, 0.5 - half)),
    high: quantile(values, Math.min(1, 0.5 + half)),
  };
}

/** From the differences of neighbours; the MAD of n values is known to about 1.17 / sqrt(2 n) of itself (normal sample). */
function scatterRange(log: readonly number[]): { value: number; low: number; high: number } {
  const jumps = Float64Array.from({ length: log.length - 1 }, (_, i) => log[i + 1]! - log[i]!);
  const value = madSigma(jumps) / Math.SQRT2;
  // Differences that share a scan carry less: sqrt(3/2) more error than as many independent ones.
  const error = (1.96 * 1.17 * Math.sqrt(1.5)) / Math.sqrt(2 * jumps.length);
  return { value, low: value * Math.exp(-error), high: value * Math.exp(error) };
}

function stateOf(step: StepReading, best: number, calm: number): StepReading['state'] {
  if (step.level === null) return 'too few scans';
  if (step.level.value < LIT_SHARE * best || step.scatter === null) return 'no spray';
  return step.scatter.value <= Math.max(STEADY_SCATTER, 2 * calm) ? 'steady' : 'unsteady';
}

/** Runs of steps in one direction; the first step of a sweep is the last of the one before. */
export function sweepsOf<T extends { direction: StepReading['direction'] }>(
  steps: readonly T[],
): { direction: 'up' | 'down'; steps: T[] }[] {
  const sweeps: { direction: 'up' | 'down'; steps: T[] }[] = [];
  let current: (typeof sweeps)[number] | undefined;
  steps.forEach((step, i) => {
    if (step.direction === 'start' && i > 0 && current) {
      current.steps.push(step);
      return;
    }
    if (step.direction === 'start') return;
    if (!current || current.direction !== step.direction) {
      current = { direction: step.direction, steps: i > 0 ? [steps[i - 1]!] : [] };
      sweeps.push(current);
    }
    current.steps.push(step);
  });
  if (sweeps.length === 0 && steps.length > 0) sweeps.push({ direction: 'up', steps: [...steps] });
  return sweeps;
}

function judged(direction: 'up' | 'down', steps: StepReading[]): WalkSweep {
  // Judged by rising voltage in either direction.
  const known = steps
    .filter((step) => step.state !== 'too few scans')
    .sort((a, b) => a.voltage_V - b.voltage_V);
  const lit = known.findIndex((step) => step.state !== 'no spray');
  const onset = lit < 0 ? null : edge(known[lit - 1], known[lit]);
  const window = longestSteady(known);
  const lower = window ? edge(known[window.first - 1], known[window.first]) : null;
  const upper = window ? edge(known[window.past - 1], known[window.past]) : null;
  const sentences: string[] = [];
  const name = direction === 'up' ? 'Going up' : 'Going down';
  if (onset === null) sentences.push(`${name}: no step sprayed.`);
  else sentences.push(`${name}: the spray ${direction === 'up' ? 'begins' : 'ends'} ${edgeText(onset)}.`);
  if (window === undefined) sentences.push(`${name}: no step was steady.`);
  else {
    const calm = known
      .slice(window.first, window.past)
      .reduce((a, b) => (b.scatter!.value < a.scatter!.value ? b : a));
    sentences.push(
      `${name}: steady from ${edgeText(lower!)} to ${edgeText(upper!)}; least scatter ${percentText(calm.scatter!.value)} at ${calm.voltage_V} V.`,
    );
  }
  return { direction, steps, onset, lower, upper, sentences };
}

function longestSteady(steps: readonly StepReading[]): { first: number; past: number } | undefined {
  let best: { first: number; past: number } | undefined;
  for (let i = 0; i < steps.length; i++) {
    if (steps[i]!.state !== 'steady') continue;
    const first = i;
    while (i + 1 < steps.length && steps[i + 1]!.state === 'steady') i++;
    if (!best || i + 1 - first > best.past - best.first) best = { first, past: i + 1 };
  }
  return best;
}

export function edge(
  outside: { voltage_V: number } | undefined,
  inside: { voltage_V: number } | undefined,
): Edge {
  return { above_V: outside?.voltage_V ?? null, at_most_V: inside?.voltage_V ?? null };
}

export function edgeText({ above_V, at_most_V }: Edge): string {
  if (above_V === null && at_most_V === null) return 'somewhere the walk did not reach';
  if (above_V === null) return `at or below ${at_most_V} V (the walk went no lower)`;
  if (at_most_V === null) return `${above_V} V or above (the walk went no higher)`;
  return `between ${above_V} and ${at_most_V} V`;
}
