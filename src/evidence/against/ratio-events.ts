/**
 * What happened to this run, by its ratio to good ones: a step, a slow change that lasts to the end, or a long stretch at
 * another level (lastingChange, twice at most), and short stretches that are lower or higher than what stands beside them (boxFalls, on what is left). A constant
 * ratio is no event. Limits and confidences are judgement, held against real and resampled pairs in
 * docs/reading-runs.md, section 13.
 * When it breaks: a change in a reference is told as one of this run with the other sign; two references or more decide.
 * Steps one way after another pass for one slow change.
 */
import { median } from '../../core/numeric/robust.ts';
import { boxFalls } from '../../core/signal/index.ts';
import { type LastingChange, lastingChange } from '../../core/signal/lasting-change.ts';
import type { RunEvent, RunEventKind } from '../run-reading.ts';
import { causeWords } from '../witness/cause-words.ts';
import { durationText, percentText, timeText } from '../words.ts';
import type { AgainstFrom } from './against-reading.ts';

export interface RatioForEvents {
  start_s: number;
  step_s: number;
  /** ln ratio about its middle for each step; NaN for none. */
  log: Float64Array;
  /** The same by the lower and the upper half of the ions; empty where not known. */
  low: Float64Array;
  high: Float64Array;
  /** The same against each reference by itself. */
  each: readonly Float64Array[];
  from: AgainstFrom;
  /** What the references wander by against each other, as a log; 0 for a single one. */
  spread: number;
  group: number;
}

export interface RatioEvents {
  events: RunEvent[];
  wander: number;
  /** Smallest lasting change that would have been told, as a log. */
  least_log: number;
  /** Whether the ratio is long enough to be looked at. */
  looked: boolean;
}

/** Wandering lasts about so long [s]: the blocks from whose means it is learnt. */
const BLOCK_S = 60;
/** Smallest change told: a fifth, and so many times what the ratio wanders by. */
const LEAST_LOG = -Math.log(1 - 0.2);
const WANDERS = 1.8;
/** A flat pair of runs would show a lasting change this often (before its size is asked for). */
const CHANCE = 1e-3;
const SURE_CHANCE = 1e-5;
const MOST_CHANGES = 2;
/** Of a box, as for falls of a run by itself: sigmas of its own length, least size, longest [s]. */
const BOX = { sigmas: 4.5, least_log: LEAST_LOG, longest_s: 300, beside_s: 120 };
/** A box is sure from here on. Judgement. */
const SURE_SIGMAS = 7;
/** Boxes of fewer steps are the run's own matter: MS1 scans show them better. */
const LEAST_BOX_STEPS = 2;
/** A half of the ions, or a reference, takes part from this share of the size on; below the other it denies. */
const AGREES = 0.5;
const DENIES = 0.25;

export function ratioEvents(ratio: RatioForEvents): RatioEvents {
  const at: number[] = [];
  for (let i = 0; i < ratio.log.length; i++) if (!Number.isNaN(ratio.log[i]!)) at.push(i);
  const block = Math.max(2, Math.round(BLOCK_S / ratio.step_s));
  let rest = Float64Array.from(at, (i) => ratio.log[i]!);
  const events: RunEvent[] = [];
  let wander = Number.NaN;
  let least_log = Number.POSITIVE_INFINITY;
  for (let round = 0; round < MOST_CHANGES; round++) {
    const read = lastingChange(rest, { block });
    if (!read.change) break;
    wander = Math.max(read.wander, ratio.spread);
    least_log = Math.max(LEAST_LOG, WANDERS * wander);
    const { change } = read;
    if (!(change.chance < CHANCE && Math.abs(change.size_log) >= least_log)) break;
    events.push(
      change.shape === 'stretch'
        ? stretchEvent(ratio, at, ofChange(change, wander), wander)
        : lastingEvent(ratio, at, change, wander),
    );
    rest = rest.map((value, k) => value - change.course[k]!);
  }
  const times = at.map((i) => ratio.start_s + (i + 0.5) * ratio.step_s);
  for (const sign of [-1, 1] as const) {
    for (const box of boxFalls(times, rest, { sign, ...BOX }).falls) {
      if (box.past - box.first < LEAST_BOX_STEPS || box.size_log < least_log) continue;
      const { first, past, sigmas } = box;
      const basis = `${sigmas.toFixed(1)} times what the ratio usually does over so long`;
      const stretch = { first, past, size_log: sign * box.size_log, basis, sure: sigmas >= SURE_SIGMAS };
      events.push(stretchEvent(ratio, at, stretch, wander));
    }
  }
  events.sort((a, b) => a.start_s - b.start_s);
  return { events, wander, least_log, looked: Number.isFinite(least_log) };
}

function lastingEvent(
  ratio: RatioForEvents,
  at: readonly number[],
  change: LastingChange,
  wander: number,
): RunEvent {
  const first = at[change.at]!;
  const start_s = ratio.start_s + first * ratio.step_s;
  const end_s = ratio.start_s + (at.at(-1)! + 1) * ratio.step_s;
  const kind: RunEventKind = change.shape === 'step' ? 'step' : 'drift';
  const falls = change.size_log < 0;
  const length = Math.max(1, Math.round((change.shape === 'step' ? 1 : 0.5) * (at.length - change.at)));
  const sizeOf = (values: Float64Array): number => {
    const after = known(values, at.slice(-length));
    const before = known(values, at.slice(0, change.at));
    return after.length > 0 && before.length > 0 ? median(after) - median(before) : Number.NaN;
  };
  const whole = sizeOf(ratio.log);
  const belief = witnesses(ratio, (values) => sizeOf(values) / whole);
  if (change.chance < SURE_CHANCE) belief.value += 0.15;
  const blocks = Math.max(1, BLOCK_S / ratio.step_s);
  const half = 2 * wander * Math.sqrt(blocks / change.at + blocks / (at.length - change.at));
  const when = timeText(start_s);
  const size = sizeWords(change.size_log, half);
  return {
    kind,
    group: ratio.group,
    start_s,
    end_s,
    depth: falls ? 1 - Math.exp(change.size_log) : null,
    confidence: rounded(belief.value),
    confidence_basis: [
      `a flat pair would show as much ${chanceWords(change.chance)}`,
      `${(Math.abs(change.size_log) / wander).toFixed(1)} times what the ratio wanders by`,
      ...belief.words,
    ].join('; '),
    causes: causes(kind, end_s - start_s, ratio.from, belief.common),
    ...(belief.common === undefined ? {} : { common: belief.common }),
    sentence:
      change.shape === 'step'
        ? `From ${when} on this run stays ${size} ${falls ? 'below' : 'above'} where it stood against the good runs before.`
        : `From ${when} on this run slowly ${falls ? 'falls behind' : 'rises above'} the good runs, by ${size} at the end.`,
  };
}

interface Stretch {
  first: number;
  past: number;
  size_log: number;
  basis: string;
  sure: boolean;
}

function ofChange({ at, past, size_log, chance }: LastingChange, wander: number): Stretch {
  const basis = `a flat pair would show as much ${chanceWords(chance)}; ${(Math.abs(size_log) / wander).toFixed(1)} times what the ratio wanders by`;
  return { first: at, past, size_log, basis, sure: chance < SURE_CHANCE };
}

/** Confidence that a stretch far beyond chance adds. Judgement. */
const SURE_ADDS = 0.1;

function stretchEvent(
  ratio: RatioForEvents,
  at: readonly number[],
  { first, past, size_log, basis, sure }: Stretch,
  wander: number,
): RunEvent {
  const start_s = ratio.start_s + at[first]! * ratio.step_s;
  const end_s = ratio.start_s + (at[past - 1]! + 1) * ratio.step_s;
  const inside = at.slice(first, past);
  const length = Math.max(past - first, 3);
  const beside = [...at.slice(Math.max(0, first - length), first), ...at.slice(past, past + length)];
  const sizeOf = (values: Float64Array): number => {
    const low = known(values, inside);
    const out = known(values, beside);
    return low.length > 0 && out.length > 0 ? median(low) - median(out) : Number.NaN;
  };
  const whole = sizeOf(ratio.log);
  const belief = witnesses(ratio, (values) => sizeOf(values) / whole);
  if (sure) belief.value += SURE_ADDS;
  const falls = size_log < 0;
  const kind: RunEventKind = falls ? 'sag' : 'burst';
  const half = (2 * wander * Math.sqrt(BLOCK_S / ratio.step_s)) / Math.sqrt(past - first);
  return {
    kind,
    group: ratio.group,
    start_s,
    end_s,
    depth: falls ? 1 - Math.exp(size_log) : null,
    confidence: rounded(belief.value),
    confidence_basis: [basis, ...belief.words].join('; '),
    causes: causes(kind, end_s - start_s, ratio.from, belief.common),
    ...(belief.common === undefined ? {} : { common: belief.common }),
    sentence: `At ${timeText(start_s)} this run stands ${sizeWords(size_log, half)} ${falls ? 'below' : 'above'} its usual ratio to the good runs for ${durationText(end_s - start_s)}.`,
  };
}

interface Belief {
  value: number;
  words: string[];
  common?: boolean;
}

/** `shareOf`: which share of the size another series shows. */
function witnesses(ratio: RatioForEvents, shareOf: (values: Float64Array) => number): Belief {
  const belief: Belief = { value: 0.4, words: [] };
  if (ratio.from === 'level') belief.words.push('the level alone, which the sample moves too');
  else {
    const least = Math.min(shareOf(ratio.low), shareOf(ratio.high));
    if (least >= AGREES) {
      belief.value += 0.15;
      belief.common = true;
      belief.words.push('ions of low and high m/z moved alike');
    } else if (least < DENIES) {
      belief.value -= 0.2;
      belief.common = false;
      belief.words.push('ions of low and high m/z did not move alike');
    } else belief.words.push('ions of low and high m/z do not decide');
  }
  if (ratio.each.length > 1) {
    const least = Math.min(...ratio.each.map(shareOf));
    if (least >= AGREES) {
      belief.value += 0.1;
      belief.words.push(`against each of ${ratio.each.length} good runs`);
    } else if (least < DENIES) {
      belief.value -= 0.2;
      belief.words.push('not against every good run');
    }
  }
  return belief;
}

function causes(
  kind: RunEventKind,
  length_s: number,
  from: AgainstFrom,
  common: boolean | undefined,
): string[] {
  const sample = from === 'standing ions' ? [] : ['another load of sample there'];
  return [...causeWords(kind, length_s, from === 'standing ions' ? common : undefined), ...sample];
}

function sizeWords(size_log: number, half: number): string {
  const share = (log: number): string => percentText(Math.abs(Math.exp(log) - 1));
  const near = Math.sign(size_log) * Math.max(0, Math.abs(size_log) - half);
  const far = size_log + Math.sign(size_log) * half;
  return `${share(size_log)} (${share(near)} to ${share(far)})`;
}

export function chanceWords(chance: number): string {
  if (chance < 1e-4) return 'less than once in 10,000 pairs';
  return `once in ${Number((1 / chance).toPrecision(1))} pairs`;
}

function known(values: Float64Array, at: readonly number[]): number[] {
  return at.map((i) => values[i] ?? Number.NaN).filter((value) => !Number.isNaN(value));
}

function rounded(belief: number): number {
  return Math.round(100 * Math.max(0.1, Math.min(0.9, belief))) / 100;
}
