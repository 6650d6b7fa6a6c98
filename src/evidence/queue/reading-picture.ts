/** One run drawn for a report: level over the run, events hatched, minutes to trust as a bar below. */
import type { RunReading } from '../run-reading.ts';
import { type Mark, type Picture, px, roundStep, words } from './picture.ts';

export function readingPicture(reading: RunReading, width: number): Picture {
  const group = reading.groups[reading.main_group];
  const frame = { left: 84, right: 28, top: 34, bottom: 92 };
  const height = 380;
  const inner = { w: width - frame.left - frame.right, h: height - frame.top - frame.bottom };
  const base = 'Total ion current over the run';
  if (!group || group.series.time_s.length < 2) {
    return {
      width,
      height: 60,
      title: `${base}: too few scans`,
      marks: [words(6, 34, 'Too few scans to draw.')],
    };
  }
  const span = group.end_s - group.start_s;
  const high =
    1.06 * Math.max(...columns(group.series.time_s, group.series.level, inner.w).map((c) => c.high), 1e-300);
  const x = (time: number) => frame.left + ((time - group.start_s) / span) * inner.w;
  const y = (level: number) => frame.top + inner.h * (1 - level / high);
  const marks: Mark[] = [
    words(6, 20, `Total ion current (${group.level_from === 'stated' ? 'as stated' : 'summed from peaks'})`),
  ];
  const step = roundStep(high / 4);
  for (let tick = 0; tick <= high; tick += step) {
    marks.push({
      shape: 'path',
      at: { d: `M${frame.left} ${px(y(tick))}h${inner.w}`, class: 'd-dim', 'stroke-opacity': 0.35 },
    });
    marks.push(
      words(frame.left - 8, y(tick) + 5, tick === 0 ? '0' : tick.toExponential(0).replace('e+', 'e'), {
        class: 'd-text-soft',
        'text-anchor': 'end',
      }),
    );
  }
  const minute = roundStep(span / 60 / (inner.w / 110));
  for (let m = Math.ceil(group.start_s / 60 / minute) * minute; m * 60 <= group.end_s; m += minute) {
    marks.push(
      words(x(m * 60), frame.top + inner.h + 20, `${Number(m.toPrecision(4))} min`, {
        class: 'd-text-soft',
        'text-anchor': 'middle',
      }),
    );
  }
  for (const event of reading.events) {
    if (event.group !== reading.main_group) continue;
    const from = Math.max(x(event.start_s), frame.left);
    marks.push({
      shape: 'rect',
      at: {
        x: px(from),
        y: frame.top,
        width: px(Math.max(2, x(event.end_s) - from)),
        height: inner.h,
        fill: 'url(#q-event)',
      },
      tip: event.sentence,
    });
  }
  for (const phase of reading.method?.phases ?? []) {
    if (phase.start_s <= group.start_s) continue;
    marks.push({
      shape: 'path',
      at: {
        d: `M${px(x(phase.start_s))} ${frame.top}v${inner.h}`,
        class: 'd-ink',
        'stroke-dasharray': '2 5',
      },
      tip: phase.sentence,
    });
  }
  let path = '';
  for (const column of columns(group.series.time_s, group.series.level, inner.w)) {
    const at = px(x(group.start_s + (column.at + 0.5) * (span / inner.w)));
    path += `${path === '' ? 'M' : 'L'}${at} ${px(y(column.first))}V${px(y(column.high))}V${px(y(column.low))}`;
  }
  marks.push({ shape: 'path', at: { d: path, class: 'd-trace' } });
  const strip = frame.top + inner.h + 36;
  marks.push(words(6, strip + 18, 'to trust', { class: 'd-text-soft' }));
  for (const kept of reading.trustworthy) {
    const at = {
      x: px(x(kept.start_s)),
      y: strip,
      width: px(Math.max(2, x(kept.end_s) - x(kept.start_s))),
      height: 26,
    };
    marks.push({ shape: 'rect', at: { ...at, fill: 'url(#q-kept)' } });
    marks.push({ shape: 'rect', at: { ...at, class: 'd-ink', 'fill-opacity': 0 } });
  }
  return { width, height, title: `${base}. ${reading.verdict.sentence}`, marks };
}

/** Least, most and first level of each pixel column: no dropout is thinned away. */
function columns(
  time: readonly number[],
  level: readonly number[],
  count: number,
): { at: number; low: number; high: number; first: number }[] {
  const start = time[0]!;
  const span = time.at(-1)! - start;
  const list: { at: number; low: number; high: number; first: number }[] = [];
  for (let i = 0; i < time.length; i++) {
    const at = Math.min(Math.floor(count) - 1, Math.floor(((time[i]! - start) / span) * count));
    const value = level[i]!;
    const last = list.at(-1);
    if (last && last.at === at) {
      last.low = Math.min(last.low, value);
      last.high = Math.max(last.high, value);
    } else list.push({ at, low: value, high: value, first: value });
  }
  return list;
}
