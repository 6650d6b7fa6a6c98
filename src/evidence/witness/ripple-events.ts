/**
 * Ripples of the spray factor as periods with their aliases, and as events.
 */
import { ripples, usualSpacing } from '../../core/signal/index.ts';
import type { PeriodReading, RunEvent } from '../run-reading.ts';
import { durationText, percentText, timeText } from '../words.ts';
import { causeWords } from './cause-words.ts';
import { LEAST_RIPPLE_SCANS, type Rest } from './quiet-scans.ts';
import type { SpraySeries } from './spray-series.ts';

/** Lines that chance shows less often than this in 24 h are told: ripples share the one false alarm a day with falls. */
export const FALSE_PER_24H = 0.4;
const LEAST_AMPLITUDE = 0.02;
/** Told, but no alarm. Judgement. */
export const DOUBTED = 0.4;

export function periods(series: SpraySeries, rest: Rest): PeriodReading[] {
  if (rest.value.length < LEAST_RIPPLE_SCANS) return [];
  const interval_s = usualSpacing(series.time_s);
  return ripples(rest.time_s, rest.value, FALSE_PER_24H, { filtered: rest.steps })
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

export function durationFine(length_s: number): string {
  return length_s < 2 ? `${length_s.toFixed(2)} s` : durationText(length_s);
}

/** Shorter than elution peaks follow each other (they are 5–30 s wide). */
const ELUTION_RHYTHM_S = 12;
/** What elution and composition do to slower ripples is not white: chance has to be that much rarer. Judgement. */
const SLOW_FALSE_PER_24H = 1e-2;
const ELUTION_WIDE_S = 20;
const WIDE_FALSE_PER_24H = 1e-4;

export function rippleEvent(line: PeriodReading, group: number, steps: boolean): RunEvent {
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
      : line.false_per_24h > believedTimes(line.period_s)
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

function believedTimes(period_s: number): number {
  if (period_s >= ELUTION_WIDE_S) return WIDE_FALSE_PER_24H;
  return period_s >= ELUTION_RHYTHM_S ? SLOW_FALSE_PER_24H : FALSE_PER_24H;
}
