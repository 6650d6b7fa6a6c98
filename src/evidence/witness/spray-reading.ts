/**
 * What the peaks of one group of scans say of the spray: its series with error, falls, bursts, ripples and flicker, what
 * the series could just have shown, and in words what it rests on.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
import { flickerStretches, ripples } from '../../core/signal/index.ts';
import type { DetectionLimits, PeriodReading, RunEvent, RunEventKind, SprayReading } from '../run-reading.ts';
import type { Span } from '../run-trust.ts';
import { durationText, percentText, timeText } from '../words.ts';
import { causeWords } from './cause-words.ts';
import { knownBackground } from './known-background.ts';
import { type SprayFall, sprayFalls } from './spray-falls.ts';
import { halvesCorrelation, type SpraySeries } from './spray-series.ts';
import { stepEvents } from './step-events.ts';

/** Lines that chance shows less often than this in 24 h are told: ripples share the one false alarm a day with falls. */
export const FALSE_PER_24H = 0.1;
/** Halves that agree at least so well license the word common; below the other they deny it. Judgement, between 0 (elution) and 0.7–0.98 (nanoLC with data-dependent scans) measured on real runs. */
const COMMON_R = 0.5;
const NOT_COMMON_R = 0.2;
/** Deeper than this or shorter than the time is a dropout, as for the level alone. */
const SAG_DEEPEST = 0.7;
const SAG_LEAST_S = 8;
const LEAST_AMPLITUDE = 0.02;
const LEAST_RIPPLE_SCANS = 64;
const MOST_IONS_TOLD = 40;

/** In a shorter run eluting ions last as long as background ones: no ripple and no flicker is looked for. */
const LASTING_S = 120;
/** Falls believed less than this are elution and are not told. */
const TOLD = 0.25;

export interface SprayFound {
  reading: SprayReading;
  /** Scans of the group's series are counted; times in seconds. */
  events: RunEvent[];
  limits: DetectionLimits;
}

export interface SprayContext {
  group: number;
  polarity: 'positive' | 'negative' | 'unknown';
  /** Position in the group's series of each scan of the spray series; -1 where it has none. */
  at: Int32Array;
  /** Scans in the group's series. */
  count: number;
  /** Stretches in which ripple and flicker are not looked for: a bare start, a loss at the end. */
  silent: readonly Span[];
}

export function sprayReading(series: SpraySeries, context: SprayContext): SprayFound | null {
  if (!series.has_background && !series.has_course) return null;
  const from = series.has_background ? 'background ions' : 'matched peaks';
  const log = series.has_background ? series.background.log : series.course;
  const error = series.has_background ? series.background.error : wander(series);
  const found = sprayFalls(series);
  const long = series.time_s.at(-1)! - series.time_s[0]! >= LASTING_S;
  const steps = long ? lastingSteps(series, context, found.falls) : [];
  // About its slow course a step is a saw tooth, whose foot looks like a shallow fall.
  const falls = found.falls.filter((fall) => !steps.some((step) => footOf(step, fall, series)));
  const events = falls
    .map((fall) => fallEvent(fall, series, context))
    .filter((event) => event.confidence >= TOLD);
  const rest = quietScans(series, log, falls, context.silent);
  const period = long ? periods(series, rest) : [];
  events.push(...period.map((line) => rippleEvent(line, context.group, rest.steps)));
  if (long) events.push(...flickers(series, rest, context.group));
  events.push(...steps);
  const drift = driftEvent(series, context.group);
  if (drift && !steps.some((step) => explains(step, drift))) events.push(drift);
  const halves = halvesCorrelation(series);
  const gains = series.gain.filter((gain) => !Number.isNaN(gain));
  const errors = series.gain_error.filter((value) => !Number.isNaN(value));
  const common =
    halves === null || gains.length === 0
      ? 'cannot tell'
      : madSigma(gains) < STILL * median(errors)
        ? 'cannot tell'
        : halves >= COMMON_R
          ? 'common'
          : halves < NOT_COMMON_R
            ? 'not common'
            : 'cannot tell';
  const limits = detectionLimits(series, found.limits, rest);
  const reading: SprayReading = {
    from,
    factor: spread(context, log, Math.exp),
    error: spread(context, error, (value) => value),
    gain: spread(context, series.gain, (value) => value),
    gain_error: spread(context, series.gain_error, (value) => value),
    matched: Array.from({ length: context.count }, () => 0),
    gain_sd: gains.length > 2 ? madSigma(gains) : null,
    gain_error_median: errors.length > 0 ? median(errors) : null,
    matched_median: median(series.matched),
    halves_correlation: halves,
    common,
    background: backgroundTold(series, context.polarity),
    periods: period,
    sentences: [],
  };
  context.at.forEach((position, i) => {
    if (position >= 0) reading.matched[position] = series.matched[i]!;
  });
  reading.sentences.push(...sentences(reading, series, limits));
  return { reading, events, limits };
}

/** A step is none at the edge of a fall as deep, nor at a bare start or a loss at the end. */
function lastingSteps(series: SpraySeries, context: SprayContext, falls: readonly SprayFall[]): RunEvent[] {
  return stepEvents(series, context.group).filter(
    (step) =>
      !context.silent.some((span) => near(step, span.start_s, span.end_s)) &&
      !falls.some((fall) => beside(step, fall, series) && fall.size_log > FOOT_SHARE * sizeOf(step)),
  );
}

function footOf(step: RunEvent, fall: SprayFall, series: SpraySeries): boolean {
  return beside(step, fall, series) && fall.size_log <= FOOT_SHARE * sizeOf(step);
}

function beside(step: RunEvent, fall: SprayFall, series: SpraySeries): boolean {
  return near(step, series.time_s[fall.first]!, series.time_s[fall.past - 1]!);
}

function near(step: RunEvent, start_s: number, end_s: number): boolean {
  return step.start_s < end_s + EDGE_S && start_s - EDGE_S < step.end_s;
}

function sizeOf(step: RunEvent): number {
  return step.depth === null ? FOOT_LEAST_LOG : -Math.log(1 - step.depth);
}

const EDGE_S = 10;
/** Share of a step beyond which a fall beside it is its own. Judgement: the foot of the saw tooth is half the step. */
const FOOT_SHARE = 0.6;
/** Taken for the size of a rise. */
const FOOT_LEAST_LOG = 0.3;
/** A step of at least this share of a drift within its time is what the drift is made of. Judgement. */
const EXPLAINED = 0.6;

function explains(step: RunEvent, drift: RunEvent): boolean {
  return (
    step.depth !== null &&
    drift.depth !== null &&
    step.start_s < drift.end_s + EDGE_S &&
    drift.start_s - EDGE_S < step.end_s &&
    Math.log(1 - step.depth) <= EXPLAINED * Math.log(1 - drift.depth)
  );
}

/** A sum of gains is only known to what it wanders by. */
function wander(series: SpraySeries): Float64Array {
  const wide = madSigma(series.course.filter((value) => !Number.isNaN(value)));
  return series.course.map((value) => (Number.isNaN(value) ? Number.NaN : wide));
}

/** Gains that scatter less than this many of their own errors show nothing that could be common. */
const STILL = 1.3;

function spread(
  context: SprayContext,
  values: Float64Array,
  shown: (value: number) => number,
): (number | null)[] {
  const out: (number | null)[] = Array.from({ length: context.count }, () => null);
  context.at.forEach((position, i) => {
    const value = values[i]!;
    if (position >= 0 && Number.isFinite(value)) out[position] = shown(value);
  });
  return out;
}

function fallEvent(fall: SprayFall, series: SpraySeries, context: SprayContext): RunEvent {
  const { time_s } = series;
  const n = time_s.length;
  const { first, past } = fall;
  const start_s = first > 0 ? (time_s[first - 1]! + time_s[first]!) / 2 : time_s[first]!;
  const end_s = past < n ? (time_s[past - 1]! + time_s[past]!) / 2 : time_s[n - 1]!;
  const depth = fall.sign < 0 ? 1 - Math.exp(-fall.size_log) : null;
  const length_s = end_s - start_s;
  const kind: RunEventKind =
    fall.sign > 0 ? 'burst' : depth! <= SAG_DEEPEST && length_s > SAG_LEAST_S ? 'sag' : 'dropout';
  const common = fall.halves === 'agrees' ? true : fall.halves === 'denies' ? false : undefined;
  const what = fall.from === 'background ions' ? 'the background ions' : 'the peaks found in both scans';
  const does = fall.sign > 0 ? 'rise' : kind === 'sag' ? 'sag' : 'drop';
  const share = fall.sign > 0 ? percentText(Math.exp(fall.size_log) - 1) : percentText(depth!);
  return {
    kind,
    group: context.group,
    start_s,
    end_s,
    depth,
    ...fallBelief(fall, time_s[n - 1]! - time_s[0]! >= LASTING_S),
    causes: causeWords(kind, length_s, common),
    ...(common === undefined ? {} : { common }),
    from: fall.from,
    sentence: `At ${timeText(start_s)} ${what} ${does} for ${durationText(length_s)}: ${share} ${fall.sign > 0 ? 'above' : 'below'} what stands on both sides.`,
  };
}

/** Judgement throughout. From 0.5 on an event counts as an alarm in the detection study. */
function fallBelief(fall: SprayFall, lasting: boolean): { confidence: number; confidence_basis: string } {
  const background = fall.from === 'background ions';
  let belief = background ? 0.6 : 0.5;
  if (fall.halves === 'agrees') belief += 0.15;
  if (fall.halves === 'denies') belief -= 0.2;
  if (fall.level === 'agrees') belief += 0.1;
  // Elution rules the level, so a peak at that moment is no strong denial.
  if (fall.level === 'denies') belief -= 0.2;
  if (!lasting) belief -= 0.15;
  if (fall.sigmas >= 9) belief += 0.05;
  if (fall.sign > 0) belief -= 0.3;
  const words = [
    `${fall.sigmas.toFixed(1)} times what falls of this length usually measure in this run`,
    fall.halves === 'agrees'
      ? 'low and high m/z changed alike'
      : fall.halves === 'denies'
        ? 'low and high m/z did not change alike'
        : 'low and high m/z do not decide',
    fall.level === 'agrees'
      ? 'the total level followed'
      : fall.level === 'denies'
        ? 'the total level went the other way'
        : 'the total level does not decide',
    ...(background
      ? []
      : ['no background ions stand here, so elution of all peaks together would look the same']),
  ];
  return {
    confidence: Math.round(100 * Math.min(0.95, Math.max(0.05, belief))) / 100,
    confidence_basis: words.join('; '),
  };
}

interface Rest {
  time_s: Float64Array;
  value: Float64Array;
  error: Float64Array;
  /** The values are gains from scan to scan, not levels. */
  steps: boolean;
}

/**
 * Scans outside falls and silent stretches with the series ripple and flicker are looked for in: the background factor,
 * else the gains themselves, because their summed course wanders.
 */
function quietScans(
  series: SpraySeries,
  log: Float64Array,
  falls: readonly SprayFall[],
  silent: readonly Span[],
): Rest {
  const steps = !series.has_background;
  const source = steps ? series.gain : log;
  const errors = steps ? series.gain_error : series.background.error;
  const time_s: number[] = [];
  const value: number[] = [];
  const error: number[] = [];
  // Short shallow falls and bursts may be what a flicker is made of: they stay.
  const gone = falls.filter(
    (fall) => fall.sign < 0 && (fall.size_log > Math.LN2 || fall.past - fall.first >= LONE_SCANS),
  );
  let lost = 0;
  for (const fall of gone) lost += fall.past - fall.first;
  const leave = lost < MOST_LEFT_OUT * log.length;
  let next = 0;
  for (let i = 0; i < log.length; i++) {
    while (next < gone.length && gone[next]!.past < i) next++;
    const fall = gone[next];
    if (leave && fall && i >= fall.first && i <= fall.past) continue;
    const time = series.time_s[i]!;
    if (silent.some((span) => time >= span.start_s && time <= span.end_s)) continue;
    if (!Number.isFinite(source[i]!) || !Number.isFinite(errors[i]!)) continue;
    time_s.push(time);
    value.push(source[i]!);
    error.push(errors[i]!);
  }
  return {
    time_s: Float64Array.from(time_s),
    value: withoutSpacing(Float64Array.from(value), time_s),
    error: Float64Array.from(error),
    steps,
  };
}

/** A fall this long stands alone. Judgement. */
const LONE_SCANS = 8;
/** Falls over more of the run than this are no exceptions: periodic drips are among them. */
const MOST_LEFT_OUT = 0.2;

/** What follows the time since the scan before is the acquisition's doing, not the spray's: a straight line is taken out. */
function withoutSpacing(value: Float64Array, time_s: readonly number[]): Float64Array {
  const n = value.length;
  if (n < LEAST_RIPPLE_SCANS) return value;
  const gap = Float64Array.from({ length: n }, (_, i) => (i > 0 ? time_s[i]! - time_s[i - 1]! : Number.NaN));
  gap[0] = gap[1]!;
  const usual = median(gap);
  const middle = median(value);
  const sigma = madSigma(value);
  let xx = 0;
  let xy = 0;
  const x = gap.map((g) => Math.max(-1, Math.min(2, g / usual - 1)));
  const mean = x.reduce((sum, v) => sum + v, 0) / n;
  for (let i = 0; i < n; i++) {
    const off = Math.max(-3 * sigma, Math.min(3 * sigma, value[i]! - middle));
    xx += (x[i]! - mean) ** 2;
    xy += (x[i]! - mean) * off;
  }
  // Only where the spacing really varies: else the line is noise.
  if (!(xx > n * 0.01)) return value;
  return value.map((v, i) => v - (xy / xx) * (x[i]! - mean));
}

function periods(series: SpraySeries, rest: Rest): PeriodReading[] {
  if (rest.value.length < LEAST_RIPPLE_SCANS) return [];
  const interval_s = usualInterval(series.time_s);
  return ripples(rest.time_s, rest.value, FALSE_PER_24H)
    .map((line) => {
      // A step from scan to scan holds 2 sin(pi dt / T) of the ripple's amplitude.
      const held = rest.steps ? 2 * Math.sin((Math.PI * interval_s) / line.period_s) : 1;
      return { ...line, amplitude: line.amplitude / Math.max(0.1, Math.abs(held)) };
    })
    .filter((line) => line.amplitude >= LEAST_AMPLITUDE)
    .map((line) => {
      const folded =
        line.aliases_s.length > 0
          ? ` The scans come too evenly to exclude faster ones: ${line.aliases_s
              .slice(0, 3)
              .map((alias) => durationFine(alias))
              .join(', ')} would look the same.`
          : ' The scan times exclude faster ones that would look the same.';
      return {
        ...line,
        amplitude: Math.min(1, line.amplitude),
        sentence: `From ${timeText(line.start_s)} to ${timeText(line.end_s)} all ions ripple by ${percentText(line.amplitude)} up and down every ${durationFine(line.period_s)}.${folded}`,
      };
    });
}

function durationFine(length_s: number): string {
  return length_s < 2 ? `${length_s.toFixed(2)} s` : durationText(length_s);
}

/** Shorter than elution peaks follow each other (they are 5–30 s wide). */
const ELUTION_RHYTHM_S = 12;
/** What elution and composition do to slower ripples is not white: chance has to be that much rarer. Judgement. */
const SLOW_FALSE_PER_24H = 1e-4;

function rippleEvent(line: PeriodReading, group: number, steps: boolean): RunEvent {
  const chance =
    line.false_per_24h < 1e-3
      ? 'chance would not show such a line in a thousand days'
      : `chance shows such a line ${line.false_per_24h.toPrecision(1)} times in 24 h`;
  return {
    kind: 'ripple',
    group,
    start_s: line.start_s,
    end_s: line.end_s,
    depth: null,
    // Without background ions elution gives the gains a slow rhythm of its own.
    confidence: steps
      ? line.period_s < ELUTION_RHYTHM_S && line.false_per_24h < 1e-3
        ? 0.55
        : DOUBTED
      : line.period_s >= ELUTION_RHYTHM_S && line.false_per_24h > SLOW_FALSE_PER_24H
        ? DOUBTED
        : line.false_per_24h < 0.01
          ? 0.8
          : 0.6,
    confidence_basis: steps ? `${chance}; no background ions stand here` : chance,
    causes: causeWords('ripple', line.period_s, true),
    from: steps ? 'matched peaks' : 'background ions',
    period_s: line.period_s,
    sentence: line.sentence,
  };
}

function flickers(series: SpraySeries, rest: Rest, group: number): RunEvent[] {
  return flickerStretches(rest.time_s, rest.value, rest.error).map((stretch) => {
    const start_s = rest.time_s[stretch.first]!;
    const end_s = rest.time_s[stretch.past - 1]!;
    const times = stretch.scatter / stretch.usual;
    const level = levelScatter(series, start_s, end_s);
    const agrees = level > FLICKER_LEVEL && !rest.steps;
    return {
      kind: 'flicker' as const,
      group,
      start_s,
      end_s,
      depth: null,
      confidence: agrees ? 0.65 : DOUBTED,
      confidence_basis: `${times.toFixed(1)} times the usual scatter of this run; ${rest.steps ? 'no background ions stand here' : agrees ? 'the total level scatters more too' : 'the total level does not scatter more'}`,
      causes: causeWords('flicker', end_s - start_s, rest.steps ? undefined : true),
      from: rest.steps ? ('matched peaks' as const) : ('background ions' as const),
      sentence: `From ${timeText(start_s)} to ${timeText(end_s)} the spray factor scatters by ${percentText(stretch.scatter)}, ${times.toFixed(1)} times as much as usual.`,
    };
  });
}

/** Told, but no alarm. Judgement. */
const DOUBTED = 0.4;
/** Fall of the lasting background ions between blocks and the end that is told. The one long steady run at hand moves by 0.05, a short one by 0.26. */
const DRIFT_LOG = 0.35;
const DEEP_DRIFT_LOG = 0.45;
const LEAST_BLOCKS = 4;

/** The ions that last sink from some block to the end, low and high m/z alike, and the total level with them. */
function driftEvent(series: SpraySeries, group: number): RunEvent | undefined {
  const { slow } = series.background;
  if (slow.length < LEAST_BLOCKS) return undefined;
  const last = slow.at(-1)!;
  let top = slow[0]!;
  for (const block of slow) if (block.log > top.log) top = block;
  const size = top.log - last.log;
  if (!(size >= DRIFT_LOG)) return undefined;
  const halves = Math.min(top.low - last.low, top.high - last.high) >= HALF_SHARE * size;
  const level = levelNear(series, top.time_s) - levelNear(series, last.time_s) >= HALF_SHARE * size;
  // The level may rise by elution meanwhile: a deep common fall stands without it.
  const sure = halves && (level || size >= DEEP_DRIFT_LOG);
  return {
    kind: 'drift',
    group,
    start_s: top.time_s,
    end_s: last.time_s,
    depth: 1 - Math.exp(-size),
    confidence: sure ? 0.5 : 0.3,
    confidence_basis: `${halves ? 'low and high m/z sink alike' : 'low and high m/z do not sink alike'}; ${level ? 'the total level sinks too' : 'the total level does not'}; a gradient can do the same`,
    causes: causeWords('drift', last.time_s - top.time_s, halves ? true : undefined),
    common: halves,
    from: 'background ions',
    sentence: `From ${timeText(top.time_s)} to ${timeText(last.time_s)} the ions that last the whole run sink by ${percentText(1 - Math.exp(-size))}.`,
  };
}

const HALF_SHARE = 0.5;
const LEVEL_NEAR_S = 60;

function levelNear(series: SpraySeries, time_s: number): number {
  const near = series.level_log.filter((_, i) => Math.abs(series.time_s[i]! - time_s) <= LEVEL_NEAR_S);
  return median(near);
}

/** Level scatter inside a flicker over that outside; from here on it takes part. Judgement. */
const FLICKER_LEVEL = 1.15;

function levelScatter(series: SpraySeries, start_s: number, end_s: number): number {
  const inside: number[] = [];
  const outside: number[] = [];
  for (let i = 1; i < series.level_log.length - 1; i++) {
    const between = (series.level_log[i - 1]! + series.level_log[i + 1]!) / 2;
    const time = series.time_s[i]!;
    (time >= start_s && time <= end_s ? inside : outside).push(Math.abs(series.level_log[i]! - between));
  }
  return inside.length > 5 && outside.length > 5 ? median(inside) / Math.max(1e-9, median(outside)) : 0;
}

function usualInterval(time_s: Float64Array): number {
  return median(Float64Array.from({ length: time_s.length - 1 }, (_, i) => time_s[i + 1]! - time_s[i]!));
}

/** ln of the false alarms in 24 h allowed, over the trials in them: what a line has to overcome. */
const RIPPLE_EXCESS = 17;
/** Scans of the longest window in which ripples are looked for. */
const RIPPLE_SCANS = 384;

function detectionLimits(
  series: SpraySeries,
  falls: readonly { length_s: number; size_log: number; scans: number }[],
  rest: Rest,
): DetectionLimits {
  const at = (length_s: number): number | null => {
    const entry = falls.filter((limit) => limit.length_s <= length_s * 1.01).at(-1);
    const next = falls.find((limit) => limit.length_s > length_s * 1.01);
    // The longest box looked for stands for longer ones only a little longer.
    if (!entry || (!next && entry.length_s < length_s / 1.5)) return null;
    return 1 - Math.exp(-entry.size_log * SEEN_MARGIN);
  };
  const n = Math.min(RIPPLE_SCANS, rest.value.length);
  const sigma = rest.value.length >= LEAST_RIPPLE_SCANS ? madSigma(rest.value) : Number.NaN;
  // Half of all lines of amplitude A stand out when n A^2 / (4 sigma^2) equals the excess; nine in ten a third above.
  const ripple = Number.isNaN(sigma) ? null : 1.3 * sigma * Math.sqrt((4 * RIPPLE_EXCESS) / n);
  const sag_10s = at(10);
  const sag_60s = at(60);
  const single = falls.find((limit) => limit.scans === 1);
  const dropout = single ? 1 - Math.exp(-single.size_log * SEEN_MARGIN) : null;
  const ion = series.has_background ? 'background ions' : 'matched peaks';
  const tell = (value: number | null): string => (value === null ? 'none could be seen' : percentText(value));
  return {
    sag_10s,
    sag_60s,
    dropout_one_scan: dropout,
    ripple,
    sentence: `This run could just show (by its ${ion}): a sag of ${tell(sag_10s)} for 10 s, of ${tell(sag_60s)} for 60 s, one scan lower by ${tell(dropout)}, a ripple of ${tell(ripple)} over ${n} scans.`,
  };
}

/** A fall exactly at the threshold is seen half of the time; a fifth more makes it nine in ten. */
const SEEN_MARGIN = 1.2;

function backgroundTold(series: SpraySeries, polarity: SprayContext['polarity']): SprayReading['background'] {
  const total = median(series.level_log);
  return [...series.background.ions]
    .filter((ion) => ion.presence >= TOLD_PRESENCE)
    .sort((a, b) => b.log - a.log)
    .slice(0, MOST_IONS_TOLD)
    .map((ion) => {
      const known = knownBackground(ion.mz, polarity);
      return {
        mz: Math.round(ion.mz * 1e4) / 1e4,
        presence: Math.min(1, ion.presence),
        share: Math.exp(ion.log - total),
        scatter: ion.scatter,
        ...(known === undefined ? {} : { known }),
      };
    });
}

const TOLD_PRESENCE = 0.6;

function sentences(reading: SprayReading, series: SpraySeries, limits: DetectionLimits): string[] {
  const list: string[] = [];
  const ions = reading.background.length;
  list.push(
    reading.from === 'background ions'
      ? `The spray factor rests on ${ions} ions that stand in most scans.`
      : 'Too few ions stand in most scans: the spray factor rests on peaks matched between neighbouring scans, and falls of more than a minute are out of its reach. Decides: a background ion or a reference ion added to the liquid.',
  );
  if (reading.gain_sd !== null && reading.gain_error_median !== null) {
    const r = reading.halves_correlation;
    list.push(
      `From scan to scan all peaks together change by ${percentText(reading.gain_sd)} (error of one change ${percentText(reading.gain_error_median)}, ${Math.round(reading.matched_median)} peaks matched)${
        r === null
          ? '.'
          : reading.common === 'common'
            ? `; low and high m/z agree (r ${r.toFixed(2)}): the change is common.`
            : reading.common === 'not common'
              ? `; low and high m/z do not agree (r ${r.toFixed(2)}): it may be elution, not the spray.`
              : `; whether it is common is not decided (r ${r.toFixed(2)}).`
      }`,
    );
  } else if (!series.has_course)
    list.push('Too few peaks match between neighbouring scans to follow their gain.');
  list.push(limits.sentence);
  return list;
}
