/** Each phase of the method judged by itself: its level, its scatter from scan to scan and what was found in it. */
import { median } from '../core/numeric/robust.ts';
import { scanScatter } from '../core/signal/index.ts';
import { type Method, phasesWithin } from './method-phases.ts';
import type { MethodReading, RunEvent } from './run-reading.ts';
import { capital, percentText, timeText } from './words.ts';

/** Fewer scans tell no scatter. */
const LEAST_SCANS = 8;

/** `events` are those of the group that carries the verdict, before anything is left out. */
export function methodJudged(
  method: Method,
  time_s: readonly number[],
  log: ArrayLike<number>,
  events: readonly RunEvent[],
): MethodReading {
  const phases = phasesWithin(method, time_s)
    .filter(({ start_s, end_s }) => end_s > start_s)
    .map((phase) => {
      const at: number[] = [];
      time_s.forEach((time, i) => {
        if (time >= phase.start_s && time <= phase.end_s) at.push(i);
      });
      const own = Float64Array.from(at, (i) => log[i]!);
      return {
        ...phase,
        scans: at.length,
        level_log: own.length > 0 ? median(own) : Number.NaN,
        scatter: scatterOf(
          at.map((i) => time_s[i]!),
          own,
        ),
      };
    });
  const elution = phases.find(({ name }) => name === 'elution') ?? phases[0];
  return {
    from: method.from,
    phases: phases.map(({ name, start_s, end_s, scans, level_log, scatter }) => {
      const level = elution && Number.isFinite(level_log) ? Math.exp(level_log - elution.level_log) : null;
      const inside = events.filter(
        (event) => event.start_s < end_s && start_s < event.end_s && event.confidence >= TOLD,
      );
      const shown = level !== null && Number.isFinite(level) ? level : null;
      return {
        name,
        start_s,
        end_s,
        scans,
        scatter,
        level_over_elution: shown,
        events: inside.length,
        sentence: [
          `${capital(name)}, ${timeText(start_s)} to ${timeText(end_s)}: ${scans} scans`,
          ...(scatter === null ? [] : [`scatter from scan to scan ${percentText(scatter)}`]),
          ...(shown === null || name === 'elution'
            ? []
            : [`middle level ${Number(shown.toPrecision(2))} times that of the elution`]),
          inside.length === 0 ? 'nothing found' : `found: ${inside.map(({ kind }) => kind).join(', ')}`,
        ]
          .join('; ')
          .concat('.'),
      };
    }),
  };
}

/** Events believed at least so much are named in a phase: those that take minutes. */
const TOLD = 0.5;

const COURSE_S = 60;
const COURSE_SCANS = 21;

function scatterOf(time_s: readonly number[], log: Float64Array): number | null {
  return log.length >= LEAST_SCANS ? scanScatter(time_s, log, COURSE_S, COURSE_SCANS).overall : null;
}
