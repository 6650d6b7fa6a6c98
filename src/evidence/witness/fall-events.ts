/**
 * Falls and bursts of the spray factor as events: kind, place, depth, and how far each is believed.
 * Confidence is judgement throughout: whether low and high m/z took part, whether the level did, how far it stands out.
 */
import type { RunEvent, RunEventKind } from '../run-reading.ts';
import { durationText, percentText, timeText } from '../words.ts';
import { causeWords } from './cause-words.ts';
import type { SprayFall } from './spray-falls.ts';
import type { SpraySeries } from './spray-series.ts';

/** Deeper than this or shorter than the time is a dropout, as for the level alone. */
const SAG_DEEPEST = 0.7;
const SAG_LEAST_S = 8;
/** In a shorter run eluting ions last as long as background ones: falls are believed less, no ripple and no flicker is looked for. */
export const LASTING_S = 120;

export function fallEvent(fall: SprayFall, series: SpraySeries, group: number): RunEvent {
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
    group: group,
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

/** A background fall that stands out less is not believed against the total level: chance shows some a day where scatter is wide. Judgement. */
const PLAIN_SIGMAS = 5.2;

/**
 * Falls of less than a fifth that stand out less than this, or against the total level, and falls of a scan or two of less
 * than half against it: they cost little, and a real run shows some a day of which none can tell what they were. Judgement,
 * set on three runs of one instrument, in two of which most alarms were copies of three such places.
 */
const FAINT = { size_log: -Math.log(1 - 0.2), sigmas: 6.5, scans: 2, short_log: Math.LN2 };

function faint(fall: SprayFall): boolean {
  const against = fall.level === 'denies';
  if (fall.size_log < FAINT.size_log) return against || fall.sigmas < FAINT.sigmas;
  return against && fall.past - fall.first <= FAINT.scans && fall.size_log < FAINT.short_log;
}

/** Judgement throughout. From 0.5 on an event counts as an alarm in the detection study. */
function fallBelief(fall: SprayFall, lasting: boolean): { confidence: number; confidence_basis: string } {
  const background = fall.from === 'background ions';
  let belief = background ? 0.6 : 0.5;
  if (fall.halves === 'agrees') belief += 0.15;
  if (fall.halves === 'denies') belief -= 0.2;
  if (fall.level === 'agrees') belief += 0.1;
  // Elution rules the level, so a peak at that moment is no strong denial.
  if (fall.level === 'denies') belief -= fall.sigmas < PLAIN_SIGMAS ? 0.3 : 0.2;
  if (fall.ions === 'denies') belief -= 0.45;
  if (background && faint(fall)) belief -= 0.3;
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
    ...(fall.ions === 'denies' ? ['the ions moved by unlike amounts, as where the composition changes'] : []),
    ...(background
      ? []
      : ['no background ions stand here, so elution of all peaks together would look the same']),
  ];
  return {
    confidence: Math.round(100 * Math.min(0.95, Math.max(0.05, belief))) / 100,
    confidence_basis: words.join('; '),
  };
}
