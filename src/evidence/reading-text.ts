/** A reading as text for a terminal: at most MOST_LINES lines, the verdict first. */
import type { RunReading } from './run-reading.ts';
import { length } from './run-trust.ts';
import { besideText, durationText, percentText, timeMeant, timeText } from './words.ts';

const MOST_LINES = 40;
const MOST_GROUPS = 3;
const MOST_SPRAY = 10;
const MOST_EVENTS = 7;
const MOST_PIECES = 4;
const MOST_WARNINGS = 3;
const MOST_REASONS = 6;

export function readingText(reading: RunReading): string {
  const lines: string[] = [];
  if (reading.invented) lines.push('INVENTED DATA: made by a rehearsal, not a measurement, no evidence.');
  lines.push(reading.verdict.sentence);
  lines.push(
    ...some(reading.verdict.reasons, MOST_REASONS, 'reasons').map((reason) => `  because ${reason}`),
  );
  lines.push(`Spray: ${reading.stability.sentence}`);
  lines.push(`Read: ${reading.format}, ${reading.ms1_count} MS1 scans.`);
  if (reading.broken) {
    lines.push(
      `Broken at byte ${reading.broken.byte}: ${reading.broken.reason}. What stands before it was read.`,
    );
  }
  lines.push(
    ...some(
      reading.groups.map((_, i) => groupLine(reading, i)),
      MOST_GROUPS,
      'groups',
    ),
  );
  lines.push(...some(sprayLines(reading), MOST_SPRAY, 'sentences'));
  if (reading.trustworthy.length > 0) {
    const minutes = reading.trustworthy.map((piece) => `${clock(piece.start_s)}–${clock(piece.end_s)}`);
    lines.push(
      `Trustworthy: ${durationText(length(reading.trustworthy))}, ${percentText(reading.trustworthy_share)} ${timeMeant(reading)} (min:s):`,
    );
    for (const line of some(rows(minutes, 8), MOST_PIECES, 'rows')) lines.push(`  ${line}`);
  }
  if (reading.events.length > 0) {
    lines.push('Events:');
    const ranked = reading.events.map((event) => {
      const group = reading.groups.length > 1 ? `, group ${event.group + 1}` : '';
      return `  ${event.sentence} Confidence ${event.confidence.toFixed(2)}${group}.${causes(event)}${besideText(event)}`;
    });
    lines.push(...some(ranked, MOST_EVENTS, 'events'));
  } else if (reading.verdict.grade !== 'cannot tell') lines.push('Events: none found.');
  if (reading.warnings.length > 0) {
    lines.push(...some(reading.warnings, MOST_WARNINGS, 'warnings').map((warning) => `Warning: ${warning}`));
  }
  lines.push('This file cannot decide:');
  lines.push(...some(reading.undecided, MOST_LINES - lines.length, 'points').map((point) => `  - ${point}`));
  return `${lines.slice(0, MOST_LINES).join('\n')}\n`;
}

function sprayLines(reading: RunReading): string[] {
  const group = reading.groups[reading.main_group];
  const masked = reading.masked.map(
    (span) => `Left out: ${clock(span.start_s)}–${clock(span.end_s)}, ${span.reason}.`,
  );
  return [
    ...(reading.traces?.map(({ sentence }) => sentence) ?? []),
    ...(group?.spray?.sentences ?? []),
    ...(group?.rate?.sentences ?? []),
    ...reading.lacks,
    ...(reading.method?.phases.map(({ sentence }) => sentence) ?? []),
    ...masked,
  ].map((line) => `  ${line}`);
}

/** At most this many cause candidates in a line. */
const MOST_CAUSES = 3;

function causes(event: RunReading['events'][number]): string {
  const list = (event.causes ?? []).slice(0, MOST_CAUSES);
  return list.length > 0 && event.kind !== 'acquisition gap' ? ` Could be: ${list.join(', ')}.` : '';
}

function groupLine(reading: RunReading, index: number): string {
  const group = reading.groups[index]!;
  const parts = [
    `${group.ms1_count} scans, ${timeText(group.start_s)} to ${timeText(group.end_s)}`,
    `every ${group.interval_s.toFixed(2)} s`,
    `level ${group.level_from === 'stated' ? 'as stated' : 'summed from the peaks'}`,
  ];
  if (group.summed_over_stated !== null)
    parts.push(`summed / stated ${Number(group.summed_over_stated.toPrecision(3))}`);
  if (group.scan_scatter !== null) parts.push(`scatter from scan to scan ${percentText(group.scan_scatter)}`);
  if (group.scatter !== null) parts.push(`about the slow course ${percentText(group.scatter)}`);
  if (group.injection_time) {
    const { median_ms, max_ms, clamped_share } = group.injection_time;
    const clamped = clamped_share > 0 ? `, ${percentText(clamped_share)} at the maximum` : '';
    parts.push(
      `fill ${Number(median_ms.toPrecision(3))} ms (max ${Number(max_ms.toPrecision(3))}${clamped})`,
    );
  }
  const main = reading.groups.length > 1 && index === reading.main_group ? ' (carries the verdict)' : '';
  return `  ${group.label}${main}: ${parts.join('; ')}.`;
}

function clock(time_s: number): string {
  const whole = Math.round(time_s);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

function rows(words: readonly string[], wide: number): string[] {
  const result: string[] = [];
  for (let i = 0; i < words.length; i += wide) result.push(words.slice(i, i + wide).join('  '));
  return result;
}

/** At most `most` lines; the last then says how many are left out. */
function some(lines: readonly string[], most: number, what: string): string[] {
  if (lines.length <= most) return [...lines];
  const shown = Math.max(0, most - 1);
  return [...lines.slice(0, shown), `  … and ${lines.length - shown} more ${what}`];
}
