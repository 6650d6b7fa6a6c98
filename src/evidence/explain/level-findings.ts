/**
 * Level, its way there and the fill times as answers to the catalogue: against the emitter's earlier runs where there are
 * any, else from losses inside the run. Earlier runs may hold other samples, so no answer is believed fully.
 * Breaks when the method changed between runs. Thresholds are judgement.
 */
import { madSigma, median } from '../../core/numeric/robust.ts';
import { kendall, TREND_LEAST, TREND_TOLD } from '../queue/trend.ts';
import type { RunReading } from '../run-reading.ts';
import { durationText, percentText, timeText } from '../words.ts';
import type { OlderRun, RunContext } from './context.ts';
import { type Finding, finding } from './finding.ts';
import { lossOf, mainGroupOf } from './main-group.ts';

/** Earlier runs needed before a value is called usual. */
export const OLDER_LEAST = 3;
/** A level this share under the usual one is lower, however quiet the emitter was; this share of it is the floor. */
const LOWER = 0.7;
const FLOOR = 0.05;
const HIGHER = 1.5;
/** A change under twice the earlier runs' own scatter is no change. */
const SIGMAS = 2;
/** Belief in a comparison between runs of perhaps unlike samples. */
const COMPARED = 0.75;
const DEEP = 0.95;
/** Fills longer than usual by this factor; share of fills at the maximum that makes a run full; their ragged scatter. */
const LONGER = 1.4;
const AT_MAXIMUM = 0.8;
const RAGGED = 0.35;
const FILLS_LEAST = 20;
/** A fall over the runs of less than this is no trend worth a cause. */
const FELL = 0.2;
const DAYS_2_MS = 2 * 86_400_000;

export function levelFindings(context: RunContext): Finding[] {
  return [level(context), trend(context), fill(context)].filter((one) => one !== undefined);
}

/** ln of this value over the median of the earlier ones, and their scatter; undefined where too few are known. */
export function against(
  now: number | null | undefined,
  older: readonly (number | null)[],
): { ratio: number; sigma: number; runs: number } | undefined {
  const values = older.filter((value) => value !== null && value > 0) as number[];
  if (now === null || now === undefined || values.length < OLDER_LEAST) return undefined;
  const logs = values.map(Math.log);
  return { ratio: now / Math.exp(median(logs)), sigma: madSigma(logs), runs: values.length };
}

function level({ reading, from, older = [] }: RunContext): Finding | undefined {
  const group = mainGroupOf(reading);
  const loss = lossOf(reading);
  if (loss) {
    const none = (loss.depth ?? 1) >= DEEP;
    return finding(
      'level',
      none ? { none: 3, lower: 1 } : 'lower',
      loss.confidence,
      from,
      `${from}: the level is lost from ${timeText(loss.start_s)} on (${percentText(loss.depth ?? 1)} of it).`,
    );
  }
  const now = group && group.series.level.length > 0 ? median(group.series.level) : null;
  const change = against(
    now,
    older.map(({ summary }) => summary.level),
  );
  if (change === undefined) return undefined;
  const { ratio, sigma, runs } = change;
  const words = `${from}: the median level is ${percentText(ratio)} of that of ${runs} earlier runs of this emitter.`;
  const apart = Math.abs(Math.log(Math.max(ratio, 1e-9))) > SIGMAS * sigma;
  if (ratio < FLOOR) return finding('level', 'none', COMPARED, from, words);
  if (ratio < LOWER && apart) return finding('level', 'lower', COMPARED, from, words);
  if (ratio > HIGHER && apart) return finding('level', 'higher', COMPARED, from, words);
  return finding('level', 'usual', COMPARED, from, words);
}

function trend({ reading, from, began, older = [] }: RunContext): Finding | undefined {
  const loss = lossOf(reading);
  if (loss)
    return finding(
      'trend',
      'sudden',
      loss.confidence,
      from,
      `${from}: the fall at ${timeText(loss.start_s)} took no longer than a few scans.`,
    );
  const drift = reading.events.find((event) => event.kind === 'drift' && event.group === reading.main_group);
  const now = mainGroupOf(reading);
  const levels = [
    ...older.map(({ summary }) => summary.level),
    now && now.series.level.length > 0 ? median(now.series.level) : null,
  ];
  const kept = levels.flatMap((value, i) =>
    value !== null && value > 0 ? [[i, Math.log(value)] as const] : [],
  );
  if (kept.length >= TREND_LEAST) {
    const { slope, p } = kendall(
      kept.map(([i]) => i),
      kept.map(([, y]) => y),
    );
    const change = Math.exp(slope * (kept.at(-1)![0] - kept[0]![0])) - 1;
    if (p < TREND_TOLD && change < -FELL) {
      const span = spanOf(older, began);
      return finding(
        'trend',
        span === undefined ? { hours: 1, weeks: 1 } : span > DAYS_2_MS ? 'weeks' : 'hours',
        COMPARED,
        from,
        `The level fell by ${percentText(-change)} over ${kept.length} runs of this emitter${span === undefined ? '' : `, in ${durationText(span / 1000)}`}.`,
      );
    }
  }
  if (drift)
    return finding(
      'trend',
      'hours',
      drift.confidence * COMPARED,
      from,
      `${from}: the background ions drift slowly within the run.`,
    );
  return undefined;
}

function spanOf(older: readonly OlderRun[], began: string | null | undefined): number | undefined {
  const first = older.find((run) => run.began !== null)?.began;
  const last = began ?? [...older].reverse().find((run) => run.began !== null)?.began;
  const span = Date.parse(last ?? '') - Date.parse(first ?? '');
  return Number.isFinite(span) && span >= 0 ? span : undefined;
}

function fill({ reading, from, older = [] }: RunContext): Finding | undefined {
  const group = mainGroupOf(reading);
  const times = group?.injection_time;
  if (!group || !times) return undefined;
  if (times.clamped_share >= AT_MAXIMUM)
    return finding(
      'fill',
      { maximum: 3, longer: 1 },
      COMPARED,
      from,
      `${from}: ${percentText(times.clamped_share)} of the fills stop at the longest time, ${times.max_ms.toFixed(0)} ms.`,
    );
  const ragged = raggedness(group.series.injection_ms);
  if (ragged !== undefined && ragged > RAGGED)
    return finding(
      'fill',
      'irregular',
      COMPARED,
      from,
      `${from}: the fill time jumps by ${percentText(ragged)} from scan to scan.`,
    );
  const change = against(
    times.median_ms,
    older.map(({ summary }) => summary.injection_ms),
  );
  if (change === undefined) return undefined;
  const words = `${from}: the median fill is ${percentText(change.ratio)} of that of ${change.runs} earlier runs.`;
  const longer = change.ratio > LONGER && Math.log(change.ratio) > SIGMAS * change.sigma;
  return finding('fill', longer ? 'longer' : 'usual', COMPARED, from, words);
}

/** Robust scatter of ln fill from scan to scan. */
function raggedness(
  injection_ms: RunReading['groups'][number]['series']['injection_ms'],
): number | undefined {
  const logs = injection_ms.flatMap((fill) => (fill !== null && fill > 0 ? [Math.log(fill)] : []));
  if (logs.length < FILLS_LEAST) return undefined;
  return madSigma(logs.slice(1).map((value, i) => value - logs[i]!)) / Math.SQRT2;
}
