/**
 * A voltage walk on a current trace: for each step of the voltage the current and the regime once it had settled, up and down kept
 * apart. From these: onset, edges of the steady window, hysteresis, the calmest steady step, the staircase of several jets. An edge lies
 * between two steps; nothing finer is told. Voltages come from a logged channel, a step table or typed marks. The first SETTLE of each
 * step is left out (the meter and the wetting follow the voltage late).
 */
import { median, quantile } from '../../core/numeric/robust.ts';
import type { Observation, RegimeSeen } from '../../core/window/index.ts';
import { type Edge, edge, edgeText, sweepsOf } from '../walk.ts';
import type { CurrentReading, RegimeWindow } from './current-reading.ts';
import { currentText, regimeLabel } from './labels.ts';
import { likeliest, REGIMES, type Regime, type RegimeProbabilities } from './regimes.ts';
import { behindResistor } from './resistor.ts';

export interface CurrentStep {
  voltage_V: number;
  from_s: number;
  to_s: number;
  direction: 'up' | 'down' | 'start';
  windows: number;
  /** Median current with the 10 to 90 % range of the windows. */
  level_nA: { value: number; low: number; high: number };
  /** Wander from window to window and inside them, over the level. */
  scatter: number;
  probabilities: RegimeProbabilities;
  regime: Regime;
  frequency_Hz: number | null;
}

export interface CurrentSweep {
  direction: 'up' | 'down';
  steps: CurrentStep[];
  /** Where the spray begins (up) or ends (down). */
  onset: Edge | null;
  lower: Edge | null;
  upper: Edge | null;
  /** The calmest steady step. */
  best: { voltage_V: number; level_nA: number; scatter: number } | null;
  sentences: string[];
}

export interface VoltageWalk {
  voltage_at: 'supply' | 'tip' | 'not stated';
  from: 'logged channel' | 'step table';
  sweeps: CurrentSweep[];
  /** Lower edge going up less the one going down [V], as the range its steps allow. */
  hysteresis_V: { low: number; high: number } | null;
  /** Rows for a plan's calibration. */
  observations: Observation[];
  sentences: string[];
  warnings: string[];
}

export interface VoltageWalkOptions {
  steps?: readonly { time_s: number; voltage_V: number }[] | undefined;
  voltage_at?: VoltageWalk['voltage_at'] | undefined;
  /** A resistor in series with the supply: each step's voltage is what it leaves, V − I R. */
  series_MOhm?: number | undefined;
  /** From the plan, for comparison [V at the tip]. */
  planned?: { onset_V: Range; window_low_V: Range; window_high_V: Range } | undefined;
}

interface Range {
  value: number;
  low: number;
  high: number;
}

const SETTLE = 0.2;
const LEAST_WINDOWS = 2;
/** Voltages that differ by less are one step: supply noise and read-back. */
const SAME_V = 3;
const SAME_SHARE = 0.004;
const MOST_OBSERVATIONS = 50;
const SEVERAL = 1.3;
const NO_SPRAY: readonly Regime[] = ['no spray', 'leak only'];

export function readVoltageWalk(reading: CurrentReading, options: VoltageWalkOptions = {}): VoltageWalk {
  const voltage_at = options.voltage_at ?? 'not stated';
  const warnings: string[] = [];
  const spans = options.steps ? spansOfTable(options.steps, reading) : spansOfChannel(reading.windows);
  const from = options.steps ? 'step table' : 'logged channel';
  const steps: CurrentStep[] = [];
  let short = 0;
  let set: number | undefined;
  for (const span of spans) {
    const begin = span.from_s + SETTLE * (span.to_s - span.from_s);
    const inside = reading.windows.filter((w) => w.start_s >= begin - 1e-9 && w.end_s <= span.to_s + 1e-6);
    if (inside.length < Math.min(LEAST_WINDOWS, from === 'logged channel' ? 1 : LEAST_WINDOWS)) {
      short++;
      continue;
    }
    const before = set;
    set = span.voltage_V;
    const direction =
      before === undefined || same(before, span.voltage_V)
        ? 'start'
        : span.voltage_V > before
          ? 'up'
          : 'down';
    steps.push(stepOf(inside, span, direction, options.series_MOhm));
  }
  if (short > 0)
    warnings.push(
      `${short} steps are shorter than two windows (${Number((2 * reading.window_s).toPrecision(2))} s) and were left out; --window makes windows shorter.`,
    );
  if (steps.length < 3) warnings.push('Fewer than three steps: no walk can be read.');
  const sweeps =
    steps.length < 2 ? [] : sweepsOf(steps).map((sweep) => judged(sweep.direction, sweep.steps, reading));
  const hysteresis_V = hysteresisOf(sweeps);
  const walk: VoltageWalk = {
    voltage_at,
    from,
    sweeps,
    hysteresis_V,
    observations: observationsOf(sweeps, voltage_at),
    sentences: sweeps.flatMap((sweep) => sweep.sentences),
    warnings,
  };
  if (hysteresis_V)
    walk.sentences.push(
      `Hysteresis: the steady window begins ${Math.round(hysteresis_V.low)} to ${Math.round(hysteresis_V.high)} V lower going down than going up: approach from above to stand lower.`,
    );
  if (options.planned) walk.sentences.push(...against(options.planned, sweeps, voltage_at));
  if (!reading.decidability.decides && sweeps.some((s) => s.best))
    walk.sentences.push(`'Steady' here means ${regimeLabel('steady', reading.decidability)}.`);
  return walk;
}

interface Span {
  from_s: number;
  to_s: number;
  voltage_V: number;
}

function spansOfTable(
  steps: readonly { time_s: number; voltage_V: number }[],
  reading: CurrentReading,
): Span[] {
  const ordered = [...steps].sort((a, b) => a.time_s - b.time_s);
  return ordered.map((step, i) => ({
    from_s: step.time_s,
    to_s: ordered[i + 1]?.time_s ?? reading.end_s,
    voltage_V: step.voltage_V,
  }));
}

function spansOfChannel(windows: readonly RegimeWindow[]): Span[] {
  const spans: Span[] = [];
  let inside: number[] = [];
  for (const w of windows) {
    if (w.voltage_V === null) continue;
    const voltage = Math.abs(w.voltage_V);
    const open = spans.at(-1);
    if (open && same(open.voltage_V, voltage)) {
      inside.push(voltage);
      open.to_s = w.end_s;
      open.voltage_V = median(inside);
    } else {
      inside = [voltage];
      spans.push({ from_s: w.start_s, to_s: w.end_s, voltage_V: voltage });
    }
  }
  // A window that holds the change itself reads a voltage in between: it is no step.
  return spans.filter((span, i) => {
    const a = spans[i - 1];
    const b = spans[i + 1];
    const long = (s: Span) => s.to_s - s.from_s;
    return !(
      a &&
      b &&
      long(span) < 0.3 * Math.min(long(a), long(b)) &&
      between(span.voltage_V, a.voltage_V, b.voltage_V)
    );
  });
}

function between(x: number, a: number, b: number): boolean {
  return x > Math.min(a, b) && x < Math.max(a, b);
}

function same(a: number, b: number): boolean {
  return Math.abs(a - b) <= Math.max(SAME_V, SAME_SHARE * a);
}

function stepOf(
  windows: readonly RegimeWindow[],
  span: Span,
  direction: CurrentStep['direction'],
  series_MOhm = 0,
): CurrentStep {
  const levels = windows.map((w) => w.level_nA);
  const value = median(levels);
  const probabilities = Object.fromEntries(
    REGIMES.map((name) => [name, windows.reduce((s, w) => s + w.probabilities[name], 0) / windows.length]),
  ) as RegimeProbabilities;
  const changes = levels.slice(1).map((x, i) => Math.abs(x - levels[i]!));
  const wander = changes.length > 0 ? median(changes) : 0;
  const inside = median(windows.map((w) => w.scatter_nA));
  const frequencies = windows.flatMap((w) => w.frequency_Hz ?? []);
  return {
    voltage_V: Math.round(behindResistor(span.voltage_V, value, series_MOhm)),
    from_s: windows[0]!.start_s,
    to_s: windows.at(-1)!.end_s,
    direction,
    windows: windows.length,
    level_nA: { value, low: quantile(levels, 0.1), high: quantile(levels, 0.9) },
    scatter: Math.hypot(wander, inside) / Math.max(Math.abs(value), 0.1),
    probabilities,
    regime: likeliest(probabilities),
    frequency_Hz: frequencies.length > windows.length / 2 ? median(frequencies) : null,
  };
}

function judged(direction: 'up' | 'down', steps: CurrentStep[], reading: CurrentReading): CurrentSweep {
  const known = [...steps].sort((a, b) => a.voltage_V - b.voltage_V);
  const lit = known.findIndex((s) => !NO_SPRAY.includes(s.regime));
  const onset = lit < 0 ? null : edge(known[lit - 1], known[lit]);
  const window = longestSteady(known);
  const lower = window ? edge(known[window.first - 1], known[window.first]) : null;
  const upper = window ? edge(known[window.past - 1], known[window.past]) : null;
  const steady = window ? known.slice(window.first, window.past) : [];
  const calm = steady.length > 0 ? bestOf(steady) : undefined;
  if (window && calm) for (const step of known.slice(window.past)) severalAbove(step, calm.level_nA.value);
  const name = direction === 'up' ? 'Going up' : 'Going down';
  const sentences: string[] = [];
  if (onset === null) sentences.push(`${name}: no step sprayed.`);
  else sentences.push(`${name}: the spray ${direction === 'up' ? 'begins' : 'ends'} ${edgeText(onset)}.`);
  if (!window || !calm) sentences.push(`${name}: no step was steady.`);
  else {
    const word = reading.decidability.decides ? 'steady' : 'steady as far as seen';
    sentences.push(
      `${name}: ${word} from ${edgeText(lower!)} to ${edgeText(upper!)}; calmest at ${calm.voltage_V} V (${currentText(calm.level_nA.value)}, scatter ${Number((100 * calm.scatter).toPrecision(2))} %).`,
    );
    const past = known[window.past];
    if (past)
      sentences.push(
        `${name}: above it ${regimeLabel(past.regime, reading.decidability)} at ${past.voltage_V} V${staircase(calm, known.slice(window.past))}.`,
      );
  }
  return {
    direction,
    steps,
    onset,
    lower,
    upper,
    best: calm ? { voltage_V: calm.voltage_V, level_nA: calm.level_nA.value, scatter: calm.scatter } : null,
    sentences,
  };
}

/** The calmest; among steps within a fifth of its scatter the one nearest the middle of the window. */
function bestOf(steady: readonly CurrentStep[]): CurrentStep {
  const least = Math.min(...steady.map((s) => s.scatter));
  const middle = (steady[0]!.voltage_V + steady.at(-1)!.voltage_V) / 2;
  return steady
    .filter((s) => s.scatter <= 1.2 * least + 1e-4)
    .reduce((a, b) => (Math.abs(b.voltage_V - middle) < Math.abs(a.voltage_V - middle) ? b : a));
}

/** One jet gains 5 to 20 % along its window: a calm current above it that is larger by more is that of several. */
function severalAbove(step: CurrentStep, single_nA: number): void {
  if (step.regime !== 'steady' || step.level_nA.value < SEVERAL * single_nA) return;
  const part = 0.85 * step.probabilities.steady;
  step.probabilities = {
    ...step.probabilities,
    steady: step.probabilities.steady - part,
    'several jets': step.probabilities['several jets'] + part,
  };
  step.regime = likeliest(step.probabilities);
}

/** Currents above the window as multiples of the single jet's: 1.41, 1.73, 2 are two, three, four jets. */
function staircase(single: CurrentStep, above: readonly CurrentStep[]): string {
  const ratios = above.map((s) => Number((s.level_nA.value / single.level_nA.value).toPrecision(3)));
  return ratios.length === 0
    ? ''
    : `; currents there are ${ratios.join(', ')} times that of the calmest step (1.41, 1.73 and 2 would be two, three and four jets)`;
}

function longestSteady(steps: readonly CurrentStep[]): { first: number; past: number } | undefined {
  let best: { first: number; past: number } | undefined;
  for (let i = 0; i < steps.length; i++) {
    if (steps[i]!.regime !== 'steady') continue;
    const first = i;
    // A slow rise of the current with the voltage is one jet; a larger jump is another state.
    while (
      i + 1 < steps.length &&
      steps[i + 1]!.regime === 'steady' &&
      steps[i + 1]!.level_nA.value < SEVERAL * steps[i]!.level_nA.value
    )
      i++;
    if (!best || i + 1 - first > best.past - best.first) best = { first, past: i + 1 };
  }
  return best;
}

function hysteresisOf(sweeps: readonly CurrentSweep[]): VoltageWalk['hysteresis_V'] {
  const up = sweeps.find((s) => s.direction === 'up')?.lower;
  const down = sweeps.find((s) => s.direction === 'down')?.lower;
  if (up?.at_most_V == null || down?.at_most_V == null || up.above_V === null || down.above_V === null)
    return null;
  return { low: Math.max(0, up.above_V - down.at_most_V), high: up.at_most_V - down.above_V };
}

const SEEN: Partial<Record<Regime, RegimeSeen>> = {
  'no spray': 'no spray',
  'leak only': 'no spray',
  dripping: 'dripping',
  pulsating: 'pulsating',
  'intermittent bursts': 'pulsating',
  steady: 'steady',
  'unsteady jet': 'tilted',
  'several jets': 'several jets',
  discharge: 'discharge',
};

/** The steps that say most: both sides of every edge, and the calmest one with its current. */
function observationsOf(
  sweeps: readonly CurrentSweep[],
  voltage_at: VoltageWalk['voltage_at'],
): Observation[] {
  const rows: Observation[] = [];
  for (const sweep of sweeps) {
    const steps = [...sweep.steps].sort((a, b) => a.voltage_V - b.voltage_V);
    steps.forEach((step, i) => {
      const edgeHere = steps[i - 1]?.regime !== step.regime || steps[i + 1]?.regime !== step.regime;
      const best = sweep.best?.voltage_V === step.voltage_V && step.regime === 'steady';
      const seen = SEEN[step.regime];
      if (seen === undefined || !(edgeHere || best)) return;
      const volts = Math.round(step.voltage_V);
      const row: Observation = voltage_at === 'tip' ? { tip_V: volts, seen } : { supply_V: volts, seen };
      row.direction = sweep.direction;
      if (best) row.current_nA = Number(step.level_nA.value.toPrecision(4));
      const held = rows.find(
        (r) =>
          r.tip_V === row.tip_V &&
          r.supply_V === row.supply_V &&
          r.seen === row.seen &&
          r.direction === row.direction,
      );
      if (!held && rows.length < MOST_OBSERVATIONS) rows.push(row);
    });
  }
  return rows;
}

function against(
  planned: NonNullable<VoltageWalkOptions['planned']>,
  sweeps: readonly CurrentSweep[],
  voltage_at: VoltageWalk['voltage_at'],
): string[] {
  const sweep = sweeps.find((s) => s.direction === 'up') ?? sweeps[0];
  if (!sweep) return [];
  const where =
    voltage_at === 'tip'
      ? ''
      : ' (the walk is at the supply, the plan at the tip: the liquid column takes its share)';
  const one = (name: string, found: Edge | null, plan: Range) => {
    if (found?.at_most_V == null) return [];
    const at = found.above_V === null ? found.at_most_V : (found.above_V + found.at_most_V) / 2;
    const inside = at >= plan.low && at <= plan.high;
    return [
      `${name}: read ${edgeText(found)}, planned ${Math.round(plan.value)} V (${Math.round(plan.low)} to ${Math.round(plan.high)}): ${inside ? 'agrees' : 'does not agree'}${where}.`,
    ];
  };
  return [
    ...one('Onset', sweep.onset, planned.onset_V),
    ...one('Steady from', sweep.lower, planned.window_low_V),
  ];
}
