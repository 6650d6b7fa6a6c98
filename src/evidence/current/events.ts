/** Single things in a trace that a person would want to look at, in order of time; each kind is listed at most MOST times. */
import type { CurrentStatistics, CurrentWindow } from '../../core/signal/index.ts';
import { timeText } from '../words.ts';
import { clippingOf } from './checks.ts';
import type { CurrentEvent, RegimeStretch } from './current-reading.ts';
import { currentText } from './labels.ts';
import { squareRootStep } from './regimes.ts';
import { type LevelStep, stepsIn } from './steps.ts';
import { windowEnd } from './window-ends.ts';

const NA = 1e-9;
export const MOST_EVENTS = 60;
/** A spike or dropout stands this far from the middle of a calm window, in its own scatter and as a share of the level. */
const FAR_SCATTERS = 12;
const FAR_SHARE = 0.25;

export function eventsOf(
  stats: CurrentStatistics,
  steps: readonly LevelStep[],
  timeline: readonly RegimeStretch[],
  gaps: readonly { at_s: number; length_s: number }[],
): CurrentEvent[] {
  const events: CurrentEvent[] = [];
  const tally = new Map<string, number>();
  const add = (event: CurrentEvent) => {
    const seen = (tally.get(event.kind) ?? 0) + 1;
    tally.set(event.kind, seen);
    if (seen <= MOST_EVENTS) events.push(event);
  };
  for (const step of steps) add(stepEvent(step));
  const clipped = clippingOf(stats);
  for (const w of stats.windows) {
    const end_s = windowEnd(w, stats.rate_Hz);
    const calm = timeline.some(
      (s) =>
        (s.regime === 'steady' || s.regime === 'several jets') &&
        w.start_s >= s.start_s - 1e-9 &&
        w.start_s < s.end_s,
    );
    // The first part of a new level is no spike of the old one.
    if (calm && !stepsIn(steps, w.start_s, end_s)) for (const event of outliers(w, end_s)) add(event);
    const railed =
      (clipped.high && w.max === stats.extremes.max && w.at_max > 3) ||
      (clipped.low && w.min === stats.extremes.min && w.at_min > 3);
    if (railed)
      add({
        kind: 'clipped',
        start_s: w.start_s,
        end_s,
        before_nA: null,
        after_nA: null,
        sentence: 'The recorder was at its limit here.',
      });
    if (w.missing > 0.01)
      add({
        kind: 'missing values',
        start_s: w.start_s,
        end_s,
        before_nA: null,
        after_nA: null,
        sentence: `${Math.round(100 * w.missing)} % of this window has no number.`,
      });
  }
  for (const gap of gaps)
    add({
      kind: 'gap',
      start_s: gap.at_s,
      end_s: gap.at_s + gap.length_s,
      before_nA: null,
      after_nA: null,
      sentence: `No samples for ${gap.length_s < 0.1 ? `${Number((1000 * gap.length_s).toPrecision(2))} ms` : timeText(gap.length_s)}.`,
    });
  for (const [i, stretch] of timeline.entries()) {
    const before = timeline[i - 1];
    if (!before || before.regime === stretch.regime) continue;
    add({
      kind: 'change of regime',
      start_s: before.end_s,
      end_s: stretch.start_s,
      before_nA: before.level_nA,
      after_nA: stretch.level_nA,
      sentence: `From ${before.label} to ${stretch.label}.`,
    });
  }
  return events.sort((a, b) => a.start_s - b.start_s);
}

function stepEvent(step: LevelStep): CurrentEvent {
  const ratio = step.after_A / step.before_A;
  const up = ratio > 1;
  const size = Number((up ? ratio : 1 / ratio).toPrecision(3));
  const jet = step.sharp && squareRootStep(up ? ratio : 1 / ratio);
  const meaning = step.voltage_moved
    ? 'The voltage moved with it.'
    : jet
      ? `Sharp and near the square root of a ratio of whole numbers: a jet was ${up ? 'born' : 'lost'}.`
      : step.sharp
        ? 'Sharp, but by no square root: a change of the spray or of the contact.'
        : 'It creeps: a leak, wetting or the flow, not a new jet.';
  const noise = step.noisier > 4 && up ? ' Noise came with it: think of a discharge.' : '';
  return {
    kind: step.sharp ? (up ? 'step up' : 'step down') : up ? 'creep up' : 'creep down',
    start_s: step.at_s,
    end_s: step.at_s + step.rise_s,
    before_nA: step.before_A / NA,
    after_nA: step.after_A / NA,
    sentence: `${currentText(step.before_A / NA)} to ${currentText(step.after_A / NA)} (${up ? `${size} times` : `down to 1/${size}`}). ${meaning}${noise}`,
  };
}

function outliers(w: CurrentWindow, end_s: number): CurrentEvent[] {
  const far = Math.max(FAR_SCATTERS * w.robust_sd, FAR_SHARE * Math.abs(w.q50));
  const at = { start_s: w.start_s, end_s, before_nA: w.q50 / NA };
  const events: CurrentEvent[] = [];
  if (w.max - w.q50 > far)
    events.push({
      ...at,
      kind: 'spike',
      after_nA: w.max / NA,
      sentence: `A spike up to ${currentText(w.max / NA)} in a calm stretch.`,
    });
  if (w.q50 - w.min > far)
    events.push({
      ...at,
      kind: 'dropout',
      after_nA: w.min / NA,
      sentence: `A dropout down to ${currentText(w.min / NA)} in a calm stretch.`,
    });
  return events;
}
