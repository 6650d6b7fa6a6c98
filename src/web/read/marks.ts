/** Events and trustworthy intervals as shapes and words in pixels; the page and the exported picture draw the same. */
import type { RunEvent, RunEventKind, RunReading } from '../../evidence/run-reading.ts';
import type { Span } from '../decimate.ts';
import { minutes } from '../words.ts';

export interface EventMark {
  x1: number;
  x2: number;
  /** SVG path of the event's own shape, standing on the plot's upper edge. */
  glyph: string;
  filled: boolean;
  /** Absent where a neighbour's label leaves no room. */
  label?: string;
}

export interface TrustMark {
  x1: number;
  x2: number;
  label?: string;
}

/** Width of one character of the labels, a little generous [px]. */
const CHARACTER_PX = 8;
/** An interval narrower than this is still drawn so wide, or it would vanish [px]. */
const LEAST_PX = 2;

export function eventName(event: RunEvent, index: number): string {
  return `${index + 1} ${event.kind}`;
}

export function eventMarks(reading: RunReading, group: number, span: Span, width: number): EventMark[] {
  const x = scaleX(span, width);
  const marks: EventMark[] = [];
  let taken = Number.NEGATIVE_INFINITY;
  reading.events
    .filter((event) => event.group === group)
    .forEach((event, i) => {
      if (event.end_s < span.from || event.start_s > span.to) return;
      const x1 = Math.max(0, x(event.start_s));
      const x2 = Math.max(Math.min(width, x(event.end_s)), x1 + LEAST_PX);
      const middle = (x1 + x2) / 2;
      const mark: EventMark = { x1, x2, glyph: glyph(event.kind, middle), filled: event.kind === 'dropout' };
      for (const label of [eventName(event, i), String(i + 1)]) {
        const half = (label.length * CHARACTER_PX) / 2;
        const left = Math.min(Math.max(middle - half, 0), width - 2 * half);
        if (left < taken) continue;
        mark.label = label;
        taken = left + 2 * half + CHARACTER_PX;
        break;
      }
      marks.push(mark);
    });
  return marks;
}

export function trustMarks(reading: RunReading, group: number, span: Span, width: number): TrustMark[] {
  if (group !== reading.main_group) return [];
  const x = scaleX(span, width);
  return reading.trustworthy
    .filter((t) => t.end_s >= span.from && t.start_s <= span.to)
    .map((t) => {
      const x1 = Math.max(0, x(t.start_s));
      const x2 = Math.max(Math.min(width, x(t.end_s)), x1 + LEAST_PX);
      const mark: TrustMark = { x1, x2 };
      const long = `trust ${minutes(t.start_s)} to ${minutes(t.end_s)} min`;
      for (const label of [long, 'trust']) {
        if (label.length * CHARACTER_PX + 8 > x2 - x1) continue;
        mark.label = label;
        break;
      }
      return mark;
    });
}

export function markLabelX(mark: EventMark, width: number): number {
  const half = ((mark.label?.length ?? 0) * CHARACTER_PX) / 2;
  return Math.min(Math.max((mark.x1 + mark.x2) / 2, half), width - half);
}

export function scaleX(span: Span, width: number): (seconds: number) => number {
  return (seconds) => ((seconds - span.from) / (span.to - span.from)) * width;
}

/**
 * Legible without colour. Dropout: a filled wedge. Sag: a hanging arc. Gap: two bars. Lost at the end: a cross. Level lost: a
 * stair down. Ripple: a wave. Flicker: a jagged line. Drift: a slope. Step: one tread. Burst: a
 * peak.
 */
function glyph(kind: RunEventKind, x: number): string {
  const m = (value: number) => (x + value).toFixed(1);
  switch (kind) {
    case 'dropout':
      return `M${m(-7)} 2L${m(7)} 2L${m(0)} 15Z`;
    case 'sag':
      return `M${m(-10)} 3Q${m(0)} 22 ${m(10)} 3`;
    case 'acquisition gap':
      return `M${m(-3)} 2V15M${m(3)} 2V15`;
    case 'signal lost at the end':
      return `M${m(-6)} 3L${m(6)} 15M${m(6)} 3L${m(-6)} 15`;
    case 'level lost':
      return `M${m(-9)} 3H${m(0)}V15H${m(9)}`;
    case 'ripple':
      return `M${m(-10)} 9Q${m(-5)} -3 ${m(0)} 9T${m(10)} 9`;
    case 'flicker':
      return `M${m(-10)} 12L${m(-6)} 4L${m(-2)} 14L${m(2)} 4L${m(6)} 14L${m(10)} 5`;
    case 'drift':
      return `M${m(-10)} 5L${m(10)} 13`;
    case 'step':
      return `M${m(-9)} 5H${m(0)}V11H${m(9)}`;
    case 'burst':
      return `M${m(-7)} 15L${m(7)} 15L${m(0)} 2Z`;
  }
}
