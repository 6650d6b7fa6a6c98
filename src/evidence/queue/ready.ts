/**
 * Can the queue be started? Read from the last five to ten minutes of a run at start conditions.
 * `look first`: something is wrong that waiting does not mend. `wait`: the spray still settles, or there is too little to
 * judge. `start`: neither. The limits are those of READY_RULES, common practice without a source.
 * Breaks when the minutes read hold elution: read it on start conditions, with nothing injected. It says nothing of other
 * compositions of the gradient.
 */
import { median } from '../../core/numeric/robust.ts';
import { scanScatter } from '../../core/signal/index.ts';
import type { RunEventKind, RunReading } from '../run-reading.ts';
import { durationText, percentText } from '../words.ts';
import { kendall } from './trend.ts';

export type ReadyState = 'start' | 'wait' | 'look first';

export interface Readiness {
  state: ReadyState;
  sentence: string;
  reasons: string[];
  /** The three states as they are defined here. */
  definitions: Record<ReadyState, string>;
  from_s: number;
  to_s: number;
  scans: number;
  /** Scatter from scan to scan over these minutes; null where too few scans. */
  scatter: number | null;
  /** Change of the level over these minutes along its median slope, as a share; null where too few scans. */
  drift: number | null;
  clamped_share: number | null;
}

export const READY_RULES = {
  window_s: 600,
  least_s: 300,
  least_scans: 60,
  /** TIC RSD below 10 % acceptable, 10 to 20 % watch, above 20 % stop. */
  scatter_start: 0.1,
  scatter_stop: 0.2,
  /** A level that still moves so much in the window has not settled; one that falls so far is lost. Judgement. */
  drift_wait: 0.1,
  fall_look: 0.4,
  /** From this share of fills at the maximum on it is worth a word. Judgement. */
  clamped_told: 0.5,
  /** Dropouts of more than half of the level. */
  dropout_depth: 0.5,
  /** Events less believed than this make no alarm in a run either. */
  believed: 0.5,
} as const;

/**
 * Events that say something of the last minutes, weightiest first; the first four come before any number. A drift over the
 * whole run says less of them than their own change, and a gap is the instrument's.
 */
const ORDER: readonly RunEventKind[] = [
  'signal lost at the end',
  'level lost',
  'dropout',
  'sag',
  'step',
  'flicker',
  'ripple',
  'burst',
];
const WEIGHTY = 4;

const definitions: Record<ReadyState, string> = {
  start: `the last ${READY_RULES.least_s / 60} to ${READY_RULES.window_s / 60} min scatter by less than ${percentText(READY_RULES.scatter_start)} from scan to scan, drift by less than ${percentText(READY_RULES.drift_wait)}, and hold no event`,
  wait: `less than ${READY_RULES.least_s / 60} min or ${READY_RULES.least_scans} scans to judge, or a scatter of ${percentText(READY_RULES.scatter_start)} to ${percentText(READY_RULES.scatter_stop)}, a shallow dropout, an event hardly believed, or a level that still drifts`,
  'look first': `a loss, a dropout of more than half, a sag, step, ripple, flicker or burst, no ions in most scans, a level that falls by more than ${percentText(READY_RULES.fall_look)}, or a scatter above ${percentText(READY_RULES.scatter_stop)}`,
};

export function readiness(reading: RunReading): Readiness {
  const group = reading.groups[reading.main_group];
  const series = group?.series;
  const to_s = group?.end_s ?? 0;
  const from_s = Math.max(group?.start_s ?? 0, to_s - READY_RULES.window_s);
  const rows = (series?.time_s ?? []).flatMap((time, i) => (time >= from_s ? [i] : []));
  const time = rows.map((i) => series!.time_s[i]!);
  const level = rows.map((i) => series!.level[i]!);
  const span = to_s - from_s;
  const look: string[] = [];
  const wait: string[] = [];
  const fine: string[] = [];

  const enough = rows.length >= READY_RULES.least_scans && span >= READY_RULES.least_s;
  if (!enough) {
    wait.push(
      `only ${durationText(span)} with ${rows.length} scans to judge; ${READY_RULES.least_s / 60} min and ${READY_RULES.least_scans} scans are needed`,
    );
  }
  const positive = level.flatMap((value, i) => (value > 0 ? [i] : []));
  const silent = rows.length > 0 && positive.length < rows.length / 2;
  if (silent) look.push('most scans hold no ions');
  const log = positive.map((i) => Math.log(level[i]!));
  let scatter: number | null = null;
  let drift: number | null = null;
  if (log.length >= READY_RULES.least_scans / 2) {
    const at = positive.map((i) => time[i]!);
    scatter = scanScatter(at, Float64Array.from(log), span, log.length).overall;
    drift = driftOf(at, log);
    const words = `the level scatters by ${percentText(scatter)} from scan to scan`;
    if (scatter > READY_RULES.scatter_stop) look.push(words);
    else if (scatter > READY_RULES.scatter_start) wait.push(words);
    else fine.push(words);
    const moved = `the level ${drift < 0 ? 'falls' : 'rises'} by ${percentText(Math.abs(drift))} in ${durationText(span)}`;
    if (drift < -READY_RULES.fall_look) look.push(moved);
    else if (Math.abs(drift) > READY_RULES.drift_wait) wait.push(`${moved}: not settled`);
    else fine.push(moved);
  }
  const events = reading.events
    .filter(({ group, end_s }) => group === reading.main_group && end_s >= from_s)
    .filter(({ kind, start_s }) => ORDER.includes(kind) && (kind !== 'step' || start_s >= from_s))
    .sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind) || b.confidence - a.confidence);
  const worst: string[] = [];
  for (const { kind, depth, confidence, sentence } of events) {
    const shallow = kind === 'dropout' && (depth ?? 1) < READY_RULES.dropout_depth;
    const told = lowered(sentence);
    if (confidence < READY_RULES.believed) wait.push(`${told}, hardly believed: read again in some minutes`);
    else if (shallow) wait.push(told);
    else (ORDER.indexOf(kind) < WEIGHTY ? worst : look).push(told);
  }
  look.splice(silent ? 1 : 0, 0, ...worst);
  const fills = rows
    .map((i) => series!.injection_ms[i])
    .filter((fill) => fill !== null && fill !== undefined);
  let clamped_share: number | null = null;
  if (fills.length > 0 && group?.injection_time) {
    const { max_ms, clamped_share: overall } = group.injection_time;
    // The longest fill is the instrument's maximum only where many stop there.
    clamped_share = overall > 0 ? fills.filter((fill) => fill >= 0.99 * max_ms).length / fills.length : 0;
    if (clamped_share > READY_RULES.clamped_told) {
      fine.push(
        `${percentText(clamped_share)} of the fills stop at their maximum: usual with nothing injected, and a weak spray looks the same; compare with the same minutes of a good day`,
      );
    }
  }
  const state: ReadyState = look.length > 0 ? 'look first' : wait.length > 0 ? 'wait' : 'start';
  const span_words = `the last ${durationText(span)}`;
  const sentence = {
    start: `Start: ${span_words} are steady.`,
    wait: `Wait: ${wait[0] ?? ''}.`,
    'look first': `Look first: ${look[0] ?? ''}.`,
  }[state];
  return {
    state,
    sentence,
    reasons: [...look, ...wait, ...fine],
    definitions,
    from_s,
    to_s,
    scans: rows.length,
    scatter,
    drift,
    clamped_share,
  };
}

export function readyText(ready: Readiness): string {
  const lines = [
    ready.sentence,
    ...ready.reasons.map((reason) => `  ${reason}`),
    'What the words mean here:',
  ];
  for (const [state, meaning] of Object.entries(ready.definitions)) lines.push(`  ${state}: ${meaning}`);
  lines.push(
    'Read it at start conditions with nothing injected; it says nothing of other compositions of the gradient.',
    'Before touching anything at the tip: voltage off, wait, ground the tip, and keep to the rules of your lab.',
  );
  return `${lines.join('\n')}\n`;
}

/** Medians of BINS equal stretches carry the slope, so that its cost does not grow with the scans. */
const BINS = 20;

function driftOf(time_s: readonly number[], log: readonly number[]): number {
  const bins = Math.min(BINS, log.length);
  const t: number[] = [];
  const y: number[] = [];
  for (let k = 0; k < bins; k++) {
    const first = Math.floor((k * log.length) / bins);
    const past = Math.floor(((k + 1) * log.length) / bins);
    t.push(median(time_s.slice(first, past)));
    y.push(median(log.slice(first, past)));
  }
  const { slope } = kendall(t, y);
  return Math.exp(slope * (time_s.at(-1)! - time_s[0]!)) - 1;
}

function lowered(sentence: string): string {
  return `${sentence.charAt(0).toLowerCase()}${sentence.slice(1).replace(/\.$/, '')}`;
}
