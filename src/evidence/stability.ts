/** One word for how steady the spray was, with what it means. Thresholds are common practice or judgement. */
import type { RunEvent, RunGroup, StabilityReading } from './run-reading.ts';
import { durationText, percentText } from './words.ts';

/** Events of less confidence are told, but do not decide. */
export const DECIDES = 0.5;
/** TIC RSD above 15 % is to be watched (common practice, no source). */
const STEADY_SCATTER = 0.15;
/** Share of the run lost to events from which on the spray fails, and at which it is no longer steady. Judgement. */
const FAILING_SHARE = 0.25;
const STEADY_SHARE = 0.01;

export const STABILITY_DEFINITION =
  'steady: events of confidence 0.5 or more take at most 1 % of the run, none is a ripple or flicker, and scans scatter by 15 % or less; failing: such events take a quarter of the run or more, or the level is lost; unsettled: all between; cannot tell: too few scans.';

export function stability(
  group: RunGroup | undefined,
  events: readonly RunEvent[],
  tells: boolean,
): StabilityReading {
  const definition = STABILITY_DEFINITION;
  if (!group || !tells) {
    return {
      grade: 'cannot tell',
      definition,
      sentence: 'The run is too short or too thin to judge the spray.',
    };
  }
  const span_s = Math.max(1e-9, group.end_s - group.start_s);
  const spray = events.filter((event) => event.kind !== 'acquisition gap' && event.confidence >= DECIDES);
  const lost_s = covered(spray);
  const share = lost_s / span_s;
  const scatter = group.spray?.gain_sd ? group.spray.gain_sd / Math.SQRT2 : (group.scan_scatter ?? 0);
  const from = group.spray?.gain_sd ? 'all ions together scatter' : 'the level scatters';
  const tell = `${from} by ${percentText(scatter)} from scan to scan`;
  const gone = spray.some((event) => event.kind === 'level lost' || event.kind === 'signal lost at the end');
  if (gone || share >= FAILING_SHARE) {
    const why = gone
      ? 'the level is lost'
      : `events take ${durationText(lost_s)}, ${percentText(share)} of the run`;
    return { grade: 'failing', definition, sentence: `Failing: ${why}; ${tell}.` };
  }
  const waves = spray.some((event) => event.kind === 'ripple' || event.kind === 'flicker');
  if (waves || share > STEADY_SHARE || scatter > STEADY_SCATTER) {
    const why =
      spray.length > 0
        ? `${spray.length} ${spray.length === 1 ? 'event takes' : 'events take'} ${durationText(lost_s)}`
        : 'no event stands out';
    return { grade: 'unsettled', definition, sentence: `Unsettled: ${why}; ${tell}.` };
  }
  return { grade: 'steady', definition, sentence: `Steady: ${tell}.` };
}

function covered(events: readonly RunEvent[]): number {
  let total = 0;
  let until = Number.NEGATIVE_INFINITY;
  for (const event of [...events].sort((a, b) => a.start_s - b.start_s)) {
    const from = Math.max(until, event.start_s);
    if (event.end_s > from) total += event.end_s - from;
    until = Math.max(until, event.end_s);
  }
  return total;
}
