/**
 * Dropouts, sags, a signal lost at the end and acquisition gaps of one group of scans, each with its confidence and
 * what that rests on. The shapes are found by core/signal; here they get their names and a second witness.
 */
import {
  boxes,
  dips,
  endFade,
  endLoss,
  longestSpacing,
  NEIGHBOURHOOD_S,
  type ScanScatter,
} from '../core/signal/index.ts';
import { bareStart } from './bare-start.ts';
import { type FillWitness, fillWitness } from './injection-time.ts';
import { levelLoss } from './level-loss.ts';
import type { LevelSeries } from './run-level.ts';
import type { RunEvent, RunEventKind } from './run-reading.ts';
import type { Span } from './run-trust.ts';
import { causeWords } from './witness/cause-words.ts';
import { durationText, percentText, timeText } from './words.ts';

/** A zero level stands at this share of the median level, so that its logarithm exists. Far below any dropout told. */
const FLOOR_SHARE = 1e-4;
/** Falls up to this depth that last longer than SAG_LEAST_S are sags; deeper or shorter ones are dropouts. */
const SAG_DEEPEST = 0.7;
const SAG_LEAST_S = 10;
/** Shallowest sag, and the longest fall still measured against what stands beside it. Judgement. */
const SAG_SHALLOWEST_LOG = -Math.log(1 - 0.15);
const SAG_LONGEST_S = 600;
/** Taken from the confidence of a loss at the end when the run begins at the same level. Judgement. */
const BARE_START_DOUBT = 0.45;

/** Scans between the edge of a loss and that of a fall that is the same. */
const LOSS_EDGE = 3;

export interface LogLevel {
  log: Float64Array;
  zeros: number;
}

/** Logarithm of the level over its median, with zeros put on a floor. */
export function logLevel(level: readonly number[]): LogLevel {
  const positive = Float64Array.from(level.filter((value) => value > 0)).sort();
  const middle = Math.log(positive[positive.length >> 1] ?? 1);
  let zeros = 0;
  const log = Float64Array.from(level, (value) => {
    if (value > 0) return Math.max(Math.log(value) - middle, Math.log(FLOOR_SHARE));
    zeros++;
    return Math.log(FLOOR_SHARE);
  });
  return { log, zeros };
}

export interface FoundEvents {
  events: RunEvent[];
  /** A start that stands far below what follows: diverted or not yet sprayed. */
  bare_start?: Span & { ends_alike: boolean };
  /** Shallowest sag this series could have shown, as a lost share; 1 when none could be looked for. */
  sag_floor: number;
}

export function levelEvents(
  series: LevelSeries,
  log: Float64Array,
  scatter: ScanScatter,
  group: number,
  max_ms: number | null,
): FoundEvents {
  const { time_s } = series;
  const n = time_s.length;
  const events: RunEvent[] = [];
  const add = (
    kind: RunEventKind,
    first: number,
    past: number,
    fall: { reference: number; inside: number },
  ): void => {
    const depth_log = fall.reference - fall.inside;
    const fill =
      max_ms === null ? 'silent' : fillWitness(series.injection_ms, first, past, depth_log, max_ms);
    const start_s = first > 0 ? (time_s[first - 1]! + time_s[first]!) / 2 : time_s[first]!;
    const end_s = past < n ? (time_s[past - 1]! + time_s[past]!) / 2 : time_s[n - 1]!;
    const depth = 1 - Math.exp(-depth_log);
    const belief = confidence(
      kind,
      past - first,
      depth,
      depth_log / noise(scatter, first),
      fill,
      max_ms !== null,
    );
    const causes = causeWords(kind, end_s - start_s, undefined);
    const sentence = eventSentence(kind, start_s, end_s, depth, past - first);
    events.push({ kind, group, start_s, end_s, depth, ...belief, causes, sentence });
  };

  const lost = endLoss(time_s, log, scatter.overall) ?? endFade(time_s, log);
  const bare = bareStart(time_s, log, scatter.overall, lost?.first ?? n);
  // Falls are looked for in the body of the run: not in a bare start, not in what is lost at the end.
  const from = bare?.past ?? 0;
  const to = lost?.first ?? n;
  const loss = levelLoss(time_s, log, scatter.overall, from, to);
  const deep = dips(time_s.slice(from, to), log.subarray(from, to), scatter.local.subarray(from, to)).map(
    (dip) => ({ ...dip, first: dip.first + from, past: dip.past + from }),
  );
  if (loss) add('level lost', loss.first, loss.past, loss);
  for (const dip of deep) {
    // The edge of the cliff is no fall of its own.
    if (loss && Math.abs(dip.first - loss.first) <= LOSS_EDGE) continue;
    add(kindOf(time_s, dip.first, dip.past, dip), dip.first, dip.past, dip);
  }
  if (lost) {
    add('signal lost at the end', lost.first, n, lost);
    if (bare?.ends_alike) doubtLoss(events[events.length - 1]!, time_s[bare.past]!);
  }

  // Sags are looked for in what the dropouts leave, so that a dropout is no edge.
  const kept: number[] = [];
  let next = from;
  for (const dip of [...deep, { first: to, past: n }]) {
    for (let i = next; i < dip.first; i++) kept.push(i);
    next = dip.past;
  }
  const search = boxes(
    kept.map((i) => time_s[i]!),
    kept.map((i) => log[i]!),
    {
      sigma: scatter.overall,
      least_log: SAG_SHALLOWEST_LOG,
      shortest_s: SAG_LEAST_S,
      longest_s: SAG_LONGEST_S,
      neighbourhood_s: NEIGHBOURHOOD_S,
    },
  );
  for (const box of search.boxes) {
    const first = kept[box.first]!;
    const past = kept[box.past - 1]! + 1;
    if (
      deep.some((dip) => dip.first < past && first < dip.past && dip.past - dip.first > (past - first) / 2)
    ) {
      continue;
    }
    if (loss && Math.abs(first - loss.first) <= LOSS_EDGE) continue;
    add(kindOf(time_s, first, past, box), first, past, box);
  }
  events.sort((a, b) => a.start_s - b.start_s);
  return {
    events,
    sag_floor: 1 - Math.exp(-search.floor_log),
    ...(bare === undefined
      ? {}
      : {
          bare_start: { start_s: time_s[0]!, end_s: time_s[bare.past]!, ends_alike: bare.ends_alike },
        }),
  };
}

/** The run also begins at that level: more likely a valve of the method than a fault. */
function doubtLoss(event: RunEvent, start_s: number): void {
  event.confidence = Math.round(100 * Math.max(0.1, event.confidence - BARE_START_DOUBT)) / 100;
  event.confidence_basis += '; the run begins at the same low level';
  event.sentence += ` The run stands at the same low level until ${timeText(start_s)}, as when a valve of the method diverts the flow.`;
}

function kindOf(
  time_s: readonly number[],
  first: number,
  past: number,
  fall: { reference: number; inside: number },
): RunEventKind {
  const depth = 1 - Math.exp(fall.inside - fall.reference);
  const length_s = time_s[past - 1]! - time_s[first]!;
  return depth <= SAG_DEEPEST && length_s > SAG_LEAST_S ? 'sag' : 'dropout';
}

function noise(scatter: ScanScatter, at: number): number {
  return Math.max(scatter.overall, scatter.local[at] ?? 0, 1e-3);
}

/** Judgement throughout: more scans, a fall far beyond the scatter and a fill that answers raise belief. */
function confidence(
  kind: RunEventKind,
  scans: number,
  depth: number,
  depth_sigmas: number,
  fill: FillWitness,
  fillsGiven: boolean,
): { confidence: number; confidence_basis: string } {
  let belief = kind === 'sag' ? 0.5 : scans >= 3 ? 0.7 : scans === 2 ? 0.6 : 0.45;
  if (depth >= 0.8 || depth_sigmas >= 8) belief += 0.1;
  if (fill === 'agrees') belief += 0.15;
  if (fill === 'denies') belief -= 0.25;
  const witness =
    fill === 'agrees'
      ? 'the fill lengthened as it does when fewer ions arrive'
      : fill === 'denies'
        ? 'the fill did not lengthen, which speaks against fewer ions arriving'
        : fillsGiven
          ? 'the fill times do not decide'
          : 'no fill times in the file: the level alone';
  const size = `${scans} ${scans === 1 ? 'scan' : 'scans'}, ${Math.min(depth_sigmas, 99).toFixed(0)} times the scan-to-scan scatter`;
  return { confidence: Math.round(belief * 100) / 100, confidence_basis: `${size}; ${witness}` };
}

function eventSentence(
  kind: RunEventKind,
  start_s: number,
  end_s: number,
  depth: number,
  scans: number,
): string {
  const when = timeText(start_s);
  const share = percentText(depth);
  if (kind === 'signal lost at the end') {
    return `From ${when} on ${share} of the level is gone and does not come back (${scans} ${scans === 1 ? 'scan' : 'scans'}).`;
  }
  if (kind === 'level lost') {
    return `At ${when} the level falls by ${share} and stays there for ${durationText(end_s - start_s)}, ${scans} scans.`;
  }
  const name = kind === 'sag' ? 'sags' : 'drops out';
  return `At ${when} the level ${name} for ${durationText(end_s - start_s)}: ${share} below what stands on both sides.`;
}

/** Where a group has no scans for long: [end of the last scan before, first scan after]. */
export function holes(time_s: readonly number[], interval_s: number): { start_s: number; end_s: number }[] {
  const longest = longestSpacing(interval_s);
  const found: { start_s: number; end_s: number }[] = [];
  for (let i = 1; i < time_s.length; i++) {
    if (time_s[i]! - time_s[i - 1]! > longest) found.push({ start_s: time_s[i - 1]!, end_s: time_s[i]! });
  }
  return found;
}

export function gapEvent(hole: { start_s: number; end_s: number }, group: number): RunEvent {
  return {
    kind: 'acquisition gap',
    group,
    start_s: hole.start_s,
    end_s: hole.end_s,
    depth: null,
    confidence: 0.95,
    confidence_basis: 'no MS1 scan of any kind stands in this time; fragment scans are not looked at',
    causes: causeWords('acquisition gap', 0, undefined),
    sentence: `From ${timeText(hole.start_s)} no MS1 scan was taken for ${durationText(hole.end_s - hole.start_s)}: a gap of the acquisition, which says nothing about the spray.`,
  };
}
