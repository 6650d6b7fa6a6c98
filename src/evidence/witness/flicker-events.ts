/**
 * Stretches of raised scatter of the spray factor as events; the total level is asked whether it scatters too.
 */
import { median } from '../../core/numeric/robust.ts';
import { flickerStretches } from '../../core/signal/index.ts';
import type { RunEvent } from '../run-reading.ts';
import { percentText, timeText } from '../words.ts';
import { causeWords } from './cause-words.ts';
import type { Rest } from './quiet-scans.ts';
import { DOUBTED } from './ripple-events.ts';
import type { SpraySeries } from './spray-series.ts';

export function flickers(series: SpraySeries, rest: Rest, group: number): RunEvent[] {
  const found = flickerStretches(rest.time_s, rest.value, rest.error).map((stretch) => {
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
  return outermost(found);
}

/** Without stretches that lie within a longer one of no lower confidence: they are the same flicker. */
export function outermost<E extends Pick<RunEvent, 'start_s' | 'end_s' | 'confidence'>>(
  events: readonly E[],
): E[] {
  return events.filter(
    (event, i) =>
      !events.some(
        (other, k) =>
          k !== i &&
          other.start_s <= event.start_s &&
          other.end_s >= event.end_s &&
          other.confidence >= event.confidence &&
          (other.end_s - other.start_s > event.end_s - event.start_s || k < i),
      ),
  );
}

/** Level scatter inside a flicker over that outside; from here on it takes part. Judgement. */
const FLICKER_LEVEL = 1.15;

function levelScatter(series: SpraySeries, start_s: number, end_s: number): number {
  // Those inside stand at the front of one array, those outside at its end.
  const off = new Float64Array(series.level_log.length);
  let past = 0;
  let first = off.length;
  for (let i = 1; i < series.level_log.length - 1; i++) {
    const between = (series.level_log[i - 1]! + series.level_log[i + 1]!) / 2;
    const time = series.time_s[i]!;
    const distance = Math.abs(series.level_log[i]! - between);
    if (time >= start_s && time <= end_s) off[past++] = distance;
    else off[--first] = distance;
  }
  const inside = off.subarray(0, past);
  const outside = off.subarray(first);
  return inside.length > 5 && outside.length > 5 ? median(inside) / Math.max(1e-9, median(outside)) : 0;
}
