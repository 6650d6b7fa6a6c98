/**
 * Scatter, form of the losses, their period and their place in the run as answers to the catalogue. Scans come about once
 * a second: what is faster is never denied, and no regime is named. Thresholds and beliefs are judgement.
 */
import { median } from '../../core/numeric/robust.ts';
import type { RunEvent, RunGroup } from '../run-reading.ts';
import { durationText, percentText, timeText } from '../words.ts';
import type { RunContext } from './context.ts';
import { fallForm } from './edges.ts';
import { type Finding, finding } from './finding.ts';
import { against } from './level-findings.ts';
import { decidingEvents, mainGroupOf } from './main-group.ts';

/** Scan-to-scan scatter: up to the first nothing is wrong, from the others on it is likely and sure (common practice). */
const QUIET = 0.08;
const WATCH = 0.15;
const RAGGED = 0.25;
/** Scatter that counts as more than usual beside earlier runs. */
const MORE = 1.5;
const SIGMAS = 2;
/** Single scans are spikes; falls shorter than this are told by their edges. */
const SPIKE_SCANS = 2;
/** Intervals that vary less than this repeat. */
const REGULAR = 0.3;
const REPEATS_LEAST = 4;
/** Ends of the run, and the share of it that events take when it is bad throughout. */
const END_SHARE = 0.15;
const THROUGHOUT_SHARE = 0.3;
const ONSET_S = 600;
const ONSET_SHARE = 0.2;
/** Beliefs. */
const ABSENT = 0.7;
const COMPARED = 0.8;
const PLACED = 0.7;

export function variationFindings(context: RunContext): Finding[] {
  const group = mainGroupOf(context.reading);
  if (!group || context.reading.verdict.grade === 'cannot tell') return [];
  return [
    scatter(context, group),
    shape(context, group),
    period(context, group),
    when(context, group),
  ].filter((one) => one !== undefined);
}

function scatter({ reading, from, older = [] }: RunContext, group: RunGroup): Finding | undefined {
  const flicker = longest(
    decidingEvents(reading).filter(({ kind }) => kind === 'flicker' || kind === 'ripple'),
  );
  if (flicker)
    return finding(
      'scatter',
      'larger',
      flicker.confidence,
      from,
      `${from}: ${flicker.kind === 'ripple' ? 'a ripple' : 'raised scatter'} from ${timeText(flicker.start_s)} to ${timeText(flicker.end_s)}.`,
    );
  const own = group.spray?.gain_sd ? group.spray.gain_sd / Math.SQRT2 : group.scan_scatter;
  if (own === null) return undefined;
  const change = against(
    group.scan_scatter,
    older.map(({ summary }) => summary.scan_scatter),
  );
  if (change !== undefined) {
    const more = change.ratio > MORE && Math.log(change.ratio) > SIGMAS * change.sigma;
    return finding(
      'scatter',
      more ? 'larger' : 'usual',
      COMPARED,
      from,
      `${from}: the scatter from scan to scan is ${percentText(change.ratio)} of that of ${change.runs} earlier runs.`,
    );
  }
  const words = `${from}: ${group.spray?.gain_sd ? 'all ions together scatter' : 'the level scatters'} by ${percentText(own)} from scan to scan, without an earlier run to compare.`;
  if (own <= QUIET) return finding('scatter', 'usual', 0.6, from, words);
  if (own < WATCH) return undefined;
  return finding('scatter', 'larger', own < RAGGED ? 0.5 : 0.75, from, words);
}

function shape({ reading, from }: RunContext, group: RunGroup): Finding | undefined {
  const events = decidingEvents(reading);
  if (events.length === 0)
    return finding('shape', 'none', ABSENT, from, `${from}: no event of the level stands out.`);
  const weights: Record<string, number> = {};
  let all = 0;
  let sure = 0;
  for (const event of events) {
    const length = event.end_s - event.start_s;
    for (const [outcome, share] of Object.entries(shapeOf(event, group)))
      weights[outcome] = (weights[outcome] ?? 0) + share * length * event.confidence;
    all += length;
    sure += length * event.confidence;
  }
  if (!(sure > 0)) return undefined;
  const main = longest(events)!;
  const many = events.length === 1 ? '' : `, the longest of ${events.length} events`;
  return finding('shape', weights, sure / all, from, `${from}: ${shapeWords(main, group)}${many}.`);
}

function shapeOf(event: RunEvent, group: RunGroup): Record<string, number> {
  switch (event.kind) {
    case 'acquisition gap':
      return { missing: 1 };
    case 'ripple':
      return { ripple: 3, sawtooth: 1 };
    case 'flicker':
      return { wander: 1, spikes: 1, sawtooth: 1 };
    case 'drift':
      return { wander: 1, none: 1 };
    case 'step':
    case 'level lost':
    case 'signal lost at the end':
      return { step: 1 };
    case 'burst':
      return { spikes: 2, overshoot: 1, wander: 1 };
    case 'dropout':
    case 'sag': {
      const form = fallForm(group, event);
      if (form === undefined) return { square: 1, wander: 1 };
      if (form.overshoot && form.sharp_start) return { overshoot: 3, square: 1 };
      if (form.scans <= SPIKE_SCANS) return { spikes: 1, square: 1 };
      if (form.sharp_start && form.sharp_end) return { square: 4, overshoot: 1 };
      if (form.sharp_start !== form.sharp_end) return { sawtooth: 2, wander: 1, square: 1 };
      return { wander: 3, sawtooth: 1 };
    }
  }
}

function shapeWords(event: RunEvent, group: RunGroup): string {
  const at = `at ${timeText(event.start_s)} for ${durationText(event.end_s - event.start_s)}`;
  const form = event.kind === 'dropout' || event.kind === 'sag' ? fallForm(group, event) : undefined;
  if (form === undefined) return `${event.kind} ${at}`;
  const edges = form.sharp_start
    ? form.sharp_end
      ? 'sharp at both edges'
      : 'sharp at its start, slow at its end'
    : form.sharp_end
      ? 'slow at its start, sharp at its end'
      : 'slow at both edges';
  return `${event.kind} ${at}, ${edges}${form.overshoot ? ', with an overshoot after it' : ''}`;
}

function period({ reading, from }: RunContext, group: RunGroup): Finding | undefined {
  const events = decidingEvents(reading);
  const ripple = longest(events.filter(({ period_s }) => period_s !== undefined));
  if (ripple?.period_s !== undefined) {
    const found = (group.spray?.periods ?? []).find(({ period_s }) => period_s === ripple.period_s);
    const weights: Record<string, number> = { [periodClass(ripple.period_s)]: 2 };
    for (const alias of found?.aliases_s ?? [])
      weights[periodClass(alias)] = (weights[periodClass(alias)] ?? 0) + 1;
    const folded = found && found.aliases_s.length > 0 ? ', or a faster swing folded by the scans' : '';
    return finding(
      'period',
      weights,
      ripple.confidence,
      from,
      `${from}: a ripple every ${durationText(ripple.period_s)}${folded}.`,
    );
  }
  const falls = events.filter(({ kind }) => kind === 'dropout' || kind === 'sag');
  const gaps = falls.slice(1).map((event, i) => event.start_s - falls[i]!.start_s);
  if (gaps.length >= REPEATS_LEAST - 1) {
    const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
    const sd = Math.sqrt(gaps.reduce((sum, gap) => sum + (gap - mean) ** 2, 0) / (gaps.length - 1));
    if (sd < REGULAR * mean)
      return finding(
        'period',
        periodClass(median(gaps)),
        PLACED,
        from,
        `${from}: ${falls.length} falls come about every ${durationText(median(gaps))}.`,
      );
  }
  if (!reading.peaks_read || group.limits?.ripple == null) return undefined;
  return finding(
    'period',
    { none: 4, subsecond: 1 },
    ABSENT,
    from,
    `${from}: no ripple of ${percentText(group.limits.ripple)} or more; faster than the scans cannot be seen.`,
  );
}

function periodClass(period_s: number): string {
  return period_s < 1 ? 'subsecond' : period_s < 30 ? 'seconds' : 'minutes';
}

function when({ reading, from }: RunContext, group: RunGroup): Finding | undefined {
  const events = decidingEvents(reading).filter(({ kind }) => kind !== 'drift');
  if (events.length === 0) return undefined;
  const span = Math.max(1e-9, group.end_s - group.start_s);
  const place = (event: RunEvent) => ((event.start_s + event.end_s) / 2 - group.start_s) / span;
  const taken = events.reduce((sum, event) => sum + event.end_s - event.start_s, 0) / span;
  const count = events.length === 1 ? 'the one event' : `all ${events.length} events`;
  if (events.every((event) => event.end_s < group.start_s + Math.min(ONSET_S, ONSET_SHARE * span)))
    return finding(
      'when',
      { start: 5, onset: 3, fixed: 2 },
      PLACED,
      from,
      `${from}: ${count} in the first minutes; other runs tell whether always there.`,
    );
  if (events.every((event) => place(event) > 1 - END_SHARE))
    return finding(
      'when',
      { end: 6, fixed: 3, random: 1 },
      PLACED,
      from,
      `${from}: ${count} near the end of the run; other runs tell whether always there.`,
    );
  if (taken > THROUGHOUT_SHARE)
    return finding(
      'when',
      { throughout: 4, random: 1 },
      PLACED,
      from,
      `${from}: events take ${percentText(taken)} of the run.`,
    );
  return finding(
    'when',
    { random: 3, fixed: 1 },
    PLACED,
    from,
    `${from}: events at ${events
      .slice(0, 4)
      .map((event) => timeText(event.start_s))
      .join(', ')}${events.length > 4 ? ' …' : ''}; one run cannot tell random from always the same minute.`,
  );
}

function longest(events: readonly RunEvent[]): RunEvent | undefined {
  return events.reduce<RunEvent | undefined>(
    (best, event) =>
      best === undefined || event.end_s - event.start_s > best.end_s - best.start_s ? event : best,
    undefined,
  );
}
