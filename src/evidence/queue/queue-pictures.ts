/** The queue drawn: one night as one bar of the clock with its kept minutes, and the early-warning charts. */
import { percentText } from '../words.ts';
import type { WarningChart } from './early-warning.ts';
import { fileAxis, levelLine } from './file-axis.ts';
import type { Night } from './nights.ts';
import { type Mark, type Picture, px, roundStep, words } from './picture.ts';
import type { QueueReport } from './report-types.ts';
import type { Trend } from './trend.ts';

const LEAST_PX = 1.5;

/** `hours` after noon; each run an outlined bar, its kept minutes hatched, a bad run crossed out. */
export function nightPicture(
  night: Night,
  width: number,
  hours: { from_h: number; to_h: number } = { from_h: 0, to_h: 24 },
): Picture {
  const { from_h, to_h } = hours;
  const left = 14;
  const inner = width - 2 * left;
  const x = (hour: number) => left + ((hour - from_h) / (to_h - from_h)) * inner;
  const top = 10;
  const tall = 40;
  const marks: Mark[] = [];
  const every = TICKS_H.find((step) => (step / (to_h - from_h)) * inner >= TICK_PX) ?? 6;
  for (let hour = Math.ceil(from_h / every) * every; hour <= to_h; hour += every) {
    marks.push({ shape: 'path', at: { d: `M${px(x(hour))} ${top + tall}v6`, class: 'd-dim' } });
    const anchor = hour === from_h ? 'start' : hour === to_h ? 'end' : 'middle';
    marks.push(
      words(x(hour), top + tall + 22, clockHour(hour), {
        class: 'd-text-soft',
        'text-anchor': anchor,
      }),
    );
  }
  marks.push({ shape: 'path', at: { d: `M${left} ${top + tall}H${px(width - left)}`, class: 'd-dim' } });
  for (const run of night.runs) {
    const from = x(run.from_h);
    const to = Math.max(x(run.to_h), from + LEAST_PX);
    for (const kept of run.kept_h) {
      marks.push({
        shape: 'rect',
        at: {
          x: px(x(kept.from_h)),
          y: top + 2,
          width: px(Math.max(x(kept.to_h) - x(kept.from_h), LEAST_PX)),
          height: tall - 2,
          fill: 'url(#q-kept)',
        },
      });
    }
    marks.push({
      shape: 'rect',
      at: { x: px(from), y: top, width: px(to - from), height: tall, class: 'd-ink', 'fill-opacity': 0 },
      tip: `${run.name}: ${run.words}`,
    });
    if (run.bad) {
      marks.push({
        shape: 'path',
        at: {
          d: `M${px(from)} ${top}L${px(to)} ${top + tall}M${px(to)} ${top}L${px(from)} ${top + tall}`,
          class: 'd-event',
        },
      });
    }
  }
  return {
    width,
    height: top + tall + 30,
    title: `${night.name}, from ${clockHour(from_h)} to ${clockHour(to_h)}: runs as bars, minutes to keep hatched, bad runs crossed out`,
    marks,
  };
}

/** Steps between the hours told, and the room one takes [px]. */
const TICKS_H = [1, 2, 3, 6];
const TICK_PX = 66;

/** Hours after noon as the clock shows them. */
function clockHour(hour: number): string {
  return `${String((hour + 12) % 24).padStart(2, '0')}:00`;
}

interface Line {
  title: string;
  values: readonly (number | null)[];
  text: (value: number) => string;
  limit?: number;
  /** Index that is ringed and named. */
  ring?: number | null;
  ringWords?: string;
  fromZero: boolean;
}

/** One early-warning chart: the running mean over the files, with its limit. */
export function warningPicture(chart: WarningChart, report: QueueReport, width: number): Picture {
  const alarm = chart.alarm;
  return linePicture(
    {
      title: `Early warning by ${chart.quantity}: running mean in spreads of the first ${chart.baseline.length} files`,
      values: chart.e,
      text: (value) => value.toFixed(1),
      limit: chart.limit,
      ring: alarm,
      ringWords: alarm === null ? '' : report.files[alarm]!.name,
      fromZero: true,
    },
    width,
  );
}

export function trendPicture(trend: Trend, report: QueueReport, width: number): Picture {
  const share = trend.unit === '%';
  const bad = report.first_bad;
  return linePicture(
    {
      title: `${trend.quantity}${trend.unit === 'ms' ? ' [ms]' : ''} over the files`,
      values: trend.values,
      text: share ? percentText : shortNumber,
      ring: bad !== null && trend.values[bad] != null ? bad : null,
      ringWords: bad === null ? '' : `${report.files[bad]!.name}, the first bad file`,
      fromZero: share,
    },
    width,
  );
}

function linePicture(line: Line, width: number): Picture {
  const count = line.values.length;
  const told = line.values.filter((value) => value !== null);
  const low = Math.min(
    line.fromZero ? 0 : Number.POSITIVE_INFINITY,
    ...told,
    line.limit ?? Number.POSITIVE_INFINITY,
  );
  const high = Math.max(
    ...told,
    line.limit ?? Number.NEGATIVE_INFINITY,
    line.fromZero ? 0 : Number.NEGATIVE_INFINITY,
  );
  const named = line.ring == null ? '' : `; ringed: ${line.ringWords}`;
  const heading = lines(`${line.title}${named}`, Math.floor((width - 12) / CHARACTER_PX));
  const frame = { left: 66, right: 20, top: 22 + 18 * heading.length, bottom: 34 };
  const height = 170 + 18 * heading.length;
  const inner = { w: width - frame.left - frame.right, h: height - frame.top - frame.bottom };
  const marks: Mark[] = heading.map((text, i) => words(6, 20 + 18 * i, text));
  if (told.length === 0) {
    marks.push(words(frame.left, 80, 'No file gives this yet.', { class: 'd-text-soft' }));
    return { width, height: 110, title: `${line.title}: no file gives this yet`, marks };
  }
  const pad = high > low ? 0.08 * (high - low) : Math.max(1e-12, 0.1 * Math.abs(high));
  const range = { low: line.fromZero && low === 0 ? 0 : low - pad, high: high + pad };
  const { x, marks: numbers } = fileAxis(count, frame.left, inner.w, height - 10);
  const y = (value: number) => frame.top + inner.h * (1 - (value - range.low) / (range.high - range.low));
  const step = roundStep((range.high - range.low) / 4);
  for (let tick = Math.ceil(range.low / step) * step; tick <= range.high; tick += step) {
    const name = line.text(Math.abs(tick) < step / 1e6 ? 0 : tick);
    marks.push(...levelLine(y(tick), name, frame.left, inner.w));
  }
  marks.push(...numbers);
  let path = '';
  let pen = 'M';
  line.values.forEach((value, i) => {
    if (value === null) return;
    path += `${pen}${px(x(i))} ${px(y(value))}`;
    pen = 'L';
  });
  marks.push({ shape: 'path', at: { d: path, class: 'd-trace' } });
  if (count <= MOST_DOTS) {
    line.values.forEach((value, i) => {
      if (value !== null)
        marks.push({ shape: 'circle', at: { cx: px(x(i)), cy: px(y(value)), r: 2.6, class: 'd-trace' } });
    });
  }
  if (line.limit !== undefined) {
    marks.push({
      shape: 'path',
      at: { d: `M${frame.left} ${px(y(line.limit))}h${px(inner.w)}`, class: 'd-composed' },
    });
    marks.push(words(frame.left + 6, y(line.limit) - 6, `limit ${line.limit.toFixed(2)}`));
  }
  const ring = line.ring ?? null;
  const ringed = ring === null ? null : (line.values[ring] ?? null);
  if (ring !== null && ringed !== null) {
    marks.push({ shape: 'circle', at: { cx: px(x(ring)), cy: px(y(ringed)), r: 8, class: 'd-event' } });
  }
  return { width, height, title: line.title, marks };
}

/** Width of a letter of a heading, a little generous [px]. */
const CHARACTER_PX = 7.6;

/** A heading in as many lines as its room asks for. */
function lines(text: string, letters: number): string[] {
  const list: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > letters) {
      list.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...list, line];
}

function shortNumber(value: number): string {
  const size = Math.abs(value);
  if (size !== 0 && (size >= 1e5 || size < 1e-3))
    return value.toExponential(1).replace('e+', 'e').replace('.0e', 'e');
  return String(Number(value.toPrecision(3)));
}

/** Beyond so many files dots would touch. */
const MOST_DOTS = 120;
